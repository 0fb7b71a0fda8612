//! Whether the machine's clamp finds straight tube, and the rest of the tube its room.

use crate::job::PieceDraft;
use crate::piece::{Clamps, Clash, Side};
use crate::units::Length;

use super::tools::Machine;

/// What the machine finds of the tube, clamped next behind the short point.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Room {
    /// The bend that the clamp would hold on, counted from 0, and the straight that is missing.
    pub bend: Option<(usize, Length)>,
    /// What the tube is too short by for the clamp, with the other end not yet cut.
    pub short: Option<Length>,
    /// What the clamp would hold of the other end's cut if that were made first.
    pub on_other_cut: Option<Length>,
    /// What stands behind the clamp, along the tube.
    pub behind: Option<Length>,
    /// What there is too much of it.
    pub too_long: Option<Length>,
}

/// Lengths that differ by less are the same.
const NOTHING: Length = Length::from_mm(1e-6);

impl Room {
    /// For an end of a piece.
    #[must_use]
    pub fn of(piece: &PieceDraft, side: Side, machine: &Machine) -> Self {
        let mut room = Self::default();
        if machine.clamp.is_none() && machine.behind.is_none() {
            return room;
        }
        let clamp = machine.clamp.unwrap_or_default();
        let own = &piece.piece;
        let cut = |side: Side| own.end(side).centre_to_short() - own.end(side).centre_to_long();
        let overall = own.lengths().overall;
        // From the short point to the far end of the blank, and to the other short point.
        let whole = overall - cut(side) + own.grip(side.other());
        let between = overall - cut(side) - cut(side.other());
        let over = |length: Length| (length > NOTHING).then_some(length);
        if own.is_bent() {
            let clamps = Clamps {
                coping: clamp,
                bending: Length::ZERO,
            };
            room.bend = own
                .clashes(&clamps)
                .into_iter()
                .find_map(|clash| match clash {
                    Clash::Coping {
                        side: at,
                        bend,
                        missing,
                    } if at == side => Some((bend, missing)),
                    _ => None,
                });
        } else {
            room.short = over(clamp - whole);
            room.on_other_cut = over(clamp - between).filter(|_| room.short.is_none());
        }
        let behind = (whole - clamp).max(Length::ZERO);
        room.behind = Some(behind);
        room.too_long = machine.behind.and_then(|most| over(behind - most));
        room
    }
}
