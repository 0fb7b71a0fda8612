//! The cut line as a table, for marking by hand when no printer is near.

use crate::cope::Meeting;
use crate::piece::Template;
use crate::units::{Angle, Length};

/// One line of the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ordinate {
    /// Turn from the zero line.
    pub turn: Angle,
    /// Distance from the zero line on the developed width.
    pub around: Length,
    /// Height of the cut from the joint centre; `None` where the branch passes beside the main.
    pub from_centre: Option<Length>,
    /// Height of the cut above the mark line; `None` where the branch passes beside the main.
    pub from_mark: Option<Length>,
}

/// The table at `divisions` equal parts of a turn, starting on the zero line. The line after the
/// last would be the first again.
#[must_use]
pub fn ordinates(template: &Template, divisions: u32) -> Vec<Ordinate> {
    (0..divisions)
        .map(|part| {
            let turn = Angle::FULL * (f64::from(part) / f64::from(divisions));
            let station = template.station(turn);
            let meeting = template.cope().at(turn - template.heel_turn());
            let seated = match meeting {
                Meeting::Seated(height) => Some(height),
                Meeting::Beside(_) => None,
            };
            Ordinate {
                turn,
                around: template.wrap().around(turn),
                from_centre: seated,
                from_mark: seated.map(|_| station.point.above_mark),
            }
        })
        .collect()
}
