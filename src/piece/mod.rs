//! A whole piece: where each cut line goes on the tube, its lengths, bends and marks, and what
//! follows when it is stretched, mirrored or made again.
//!
//! # Turns of a piece
//! All turns of a piece (heels, outsides of bends) count from one **zero line** scribed along the
//! whole tube, and grow clockwise for someone who sights along the tube from end A to end B. The
//! template of end A counts the same way; the template of end B, which is read facing end B, runs
//! against it, so that both can be laid on the tube as they are printed.

mod centre_line;
mod check_sum;
mod clash;
mod end;
mod error;
mod landing;
mod marks;
mod ordinates;
mod pair;
mod placing;
mod remake;
mod rim;
mod sleeve;
mod stretch;
mod template;
mod whole;
mod wrap;

pub use centre_line::{BendSpan, CentreLine, TubeBend};
pub use clash::{Clamps, Clash};
pub use end::{End, Side};
pub use error::PieceError;
pub use landing::{LANDING_MARGIN, Landing, LandingMark, LandingPoint, LandingRun, NoLanding};
pub use marks::{BendMark, MarkSet, Marks, Reading, tape_division};
pub use ordinates::{Ordinate, ordinates};
pub use pair::{Likeness, likeness};
pub use placing::Frame;
pub use remake::{Checks, Off, Remake, Saved};
pub use sleeve::{Sleeve, SleeveError, SleeveSizes};
pub use stretch::Stretch;
pub use template::{LINE_TOLERANCE, PaperPoint, PaperRun, Station, Template};
pub use whole::{Between, Lengths, Piece, kg_per_metre};
pub use wrap::{GIRTH_DOUBT, GIRTH_LIMIT, THICKNESS_MAX, Wrap};
