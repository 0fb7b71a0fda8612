//! What a page can do beyond one joint, handed to the bench by the page that can.

use crate::app::bench::OnList;
use crate::app::packet::Wanted;
use crate::job::{Draft, PieceDraft, PieceForm, PieceProblem};
use crate::sheet::Packet;

/// Reads a whole piece from its form and its two ends.
pub type ReadPiece = fn(&PieceForm, [Option<&Draft>; 2]) -> Result<PieceDraft, Vec<PieceProblem>>;

/// What the page has done with a link.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// It is left to the bench.
    Not,
    /// It is open.
    Opened,
    /// It is to stay in the address for the page that is on its way.
    Awaited,
}

/// What the page can do beyond one joint. Functions, so that a page without them does not hold
/// them.
#[derive(Clone, Copy, Default)]
pub struct Means {
    /// Reads whole pieces.
    pub read_piece: Option<ReadPiece>,
    /// Lays the sheet of a whole piece out, which goes before its templates.
    pub piece_sheet: Option<fn(&PieceDraft, &Wanted) -> Packet>,
    /// Puts a form that has changed on its job's list.
    pub put_on_list: Option<fn(&OnList, &PieceForm) -> OnList>,
    /// Takes a link that was put in the address of the open page.
    pub take_link: Option<fn(&str) -> Taken>,
    /// The keys of a link for what the job of the piece has at hand.
    pub hand_in_link: Option<fn(&OnList) -> String>,
    /// Draws codes on the sheets that open the piece again.
    pub codes: Option<fn(&mut Packet, &Wanted)>,
    /// Names the one piece whose form is another than it was, where that is not the one on the
    /// bench.
    pub changed_elsewhere: Option<fn(&OnList, &OnList) -> Option<u32>>,
}

impl Means {
    /// Whether the page has jobs, and what goes with them.
    pub const fn has_jobs(&self) -> bool {
        self.put_on_list.is_some()
    }
}
