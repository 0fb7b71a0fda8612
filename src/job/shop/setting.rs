//! What a cut needs set on the machine, when two settings are the same, and what a change takes.

use crate::piece::Side;
use crate::units::{Angle, Length};

/// Angles within the same tick count as one setting; no scale on a notching machine shows less
/// (common practice, no source).
pub const ANGLE_TICK: Angle = Angle::from_deg(0.05);
/// Offsets within the same tick count as one setting.
pub const OFFSET_TICK: Length = Length::from_mm(0.1);

/// What cuts an end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Saw {
    /// A hole saw of this diameter.
    Hole(Length),
    /// A saw that cuts straight.
    Straight,
    /// An angle grinder, along the template.
    Grinder,
}

/// Where the dials of the machine stand for a cut; `None` for a dial that the cut does not use.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Setting {
    /// Angle off square.
    pub off_square: Option<Angle>,
    /// Offset between the axes; its sign says to which side, see [`saw_side`].
    pub offset: Option<Length>,
    /// Turn of the tube in the clamp.
    pub turn: Option<Angle>,
    /// The end of the tube that goes in first.
    pub first: Option<Side>,
}

/// On which side of the tube an offset puts the saw, seen from behind the saw with the tube's body
/// upwards; `None` without an offset.
///
/// A positive offset puts the saw on the branch's +y side, which is on the left seen along the feed
/// (sin θ, 0, cos θ) with the body upwards.
#[must_use]
pub fn saw_side(offset: Length) -> Option<&'static str> {
    if offset > Length::ZERO {
        Some("left")
    } else if offset < Length::ZERO {
        Some("right")
    } else {
        None
    }
}

/// What is changed from one set-up to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dial {
    /// The saw.
    Saw,
    /// The angle off square.
    OffSquare,
    /// The offset.
    Offset,
    /// The turn in the clamp.
    Turn,
    /// Which end goes in first.
    First,
}

impl Dial {
    /// Every dial of a setting, without the saw.
    const OF_SETTING: [Self; 4] = [Self::OffSquare, Self::Offset, Self::Turn, Self::First];

    /// The dial in words, to stand after “the”.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Saw => "saw",
            Self::OffSquare => "angle off square",
            Self::Offset => "offset",
            Self::Turn => "turn in the clamp",
            Self::First => "end that goes in first",
        }
    }
}

/// What the changes between two set-ups take, in no unit: only sums are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Another saw.
    pub saw: u32,
    /// Another angle off square.
    pub off_square: u32,
    /// Another offset.
    pub offset: u32,
    /// Another turn in the clamp.
    pub turn: u32,
    /// The other end first.
    pub first: u32,
}

/// What the changes take: an angle is swung, clamped and checked, an offset is wound, a tube is
/// only held another way. Common practice, no source.
///
/// A saw counts for more than three times all dials together. That makes it certain that cutting
/// saw by saw takes no more effort than any other order: bringing the second run of a saw to the
/// end of its first saves a saw change at least, and adds at most three times all dials.
pub const EFFORT: Effort = Effort {
    saw: 24,
    off_square: 3,
    offset: 2,
    turn: 1,
    first: 1,
};

impl Effort {
    /// What changing one dial takes.
    #[must_use]
    pub const fn of(&self, dial: Dial) -> u32 {
        match dial {
            Dial::Saw => self.saw,
            Dial::OffSquare => self.off_square,
            Dial::Offset => self.offset,
            Dial::Turn => self.turn,
            Dial::First => self.first,
        }
    }
}

/// Where a dial stands that is not used.
const UNUSED: i32 = i32::MIN;
/// A turn in ticks.
const TURN: i32 = 7200;

/// A saw and a setting in whole ticks, so that being the same is a matter of yes or no.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Key {
    saw: i32,
    dials: [i32; 4],
}

impl Key {
    /// The saw and setting in ticks, or the dial that is no number or far out of reach.
    pub fn new(saw: Saw, setting: &Setting) -> Result<Self, Dial> {
        let saw = match saw {
            Saw::Hole(diameter) => tick(Some(diameter / OFFSET_TICK)).filter(|ticks| *ticks > 0),
            Saw::Straight => Some(-1),
            Saw::Grinder => Some(-2),
        };
        let angle = |angle: Option<Angle>| tick(angle.map(|angle| angle / ANGLE_TICK));
        let turn = angle(setting.turn).map(|turn| match turn {
            UNUSED => UNUSED,
            turn => turn.rem_euclid(TURN),
        });
        Ok(Self {
            saw: saw.ok_or(Dial::Saw)?,
            dials: [
                angle(setting.off_square).ok_or(Dial::OffSquare)?,
                tick(setting.offset.map(|offset| offset / OFFSET_TICK)).ok_or(Dial::Offset)?,
                turn.ok_or(Dial::Turn)?,
                match setting.first {
                    None => UNUSED,
                    Some(Side::A) => 0,
                    Some(Side::B) => 1,
                },
            ],
        })
    }

    /// What to set: the middle of the ticks.
    pub fn setting(&self) -> Setting {
        let used = |dial: usize| {
            let ticks = self.dials[dial];
            (ticks != UNUSED).then(|| f64::from(ticks))
        };
        Setting {
            off_square: used(0).map(|ticks| ANGLE_TICK * ticks),
            offset: used(1).map(|ticks| OFFSET_TICK * ticks),
            turn: used(2).map(|ticks| ANGLE_TICK * ticks),
            first: used(3).map(|b| if b > 0.0 { Side::B } else { Side::A }),
        }
    }

    /// Where a dial stands, as a number to sort by.
    pub fn number(&self, dial: usize) -> f64 {
        f64::from(self.dials[dial])
    }

    pub const fn same_saw(&self, other: &Self) -> bool {
        self.saw == other.saw
    }

    /// What is changed from one to the next.
    pub fn changes(&self, next: &Self) -> Vec<Dial> {
        let saw = (!self.same_saw(next)).then_some(Dial::Saw);
        let dials = (0..4).filter(|dial| self.dials[*dial] != next.dials[*dial]);
        let dials = dials.map(|dial| Dial::OF_SETTING[dial]);
        saw.into_iter().chain(dials).collect()
    }

    /// What is to be set when nothing is yet.
    pub fn all(&self) -> Vec<Dial> {
        let none = Self {
            saw: UNUSED,
            dials: [UNUSED; 4],
        };
        none.changes(self)
    }

    /// What the changes from one to the next take. A dial that comes into use or goes out of it
    /// counts as changed.
    pub fn effort(&self, next: &Self) -> u32 {
        let mut sum = if self.same_saw(next) { 0 } else { EFFORT.saw };
        for (dial, of) in Dial::OF_SETTING.into_iter().enumerate() {
            if self.dials[dial] != next.dials[dial] {
                sum += EFFORT.of(of);
            }
        }
        sum
    }
}

/// A number of ticks rounded to a whole one, [`UNUSED`] for none; `None` where that cannot be.
fn tick(ticks: Option<f64>) -> Option<i32> {
    const MOST: f64 = 1e9;
    let Some(ticks) = ticks else {
        return Some(UNUSED);
    };
    (ticks.abs() <= MOST).then(|| ticks.round() as i32)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn turned(deg: f64) -> Key {
        let turn = Some(Angle::from_deg(deg));
        let setting = Setting {
            turn,
            ..Setting::default()
        };
        Key::new(Saw::Grinder, &setting).unwrap()
    }

    #[test]
    fn a_full_turn_is_none() {
        assert_eq!(turned(0.0), turned(360.0));
        assert_eq!(turned(-0.01), turned(359.99));
        assert_eq!(turned(-90.0), turned(270.0));
        assert_ne!(turned(0.0), turned(0.05));
        let none = Key::new(Saw::Grinder, &Setting::default()).unwrap();
        assert_ne!(turned(0.0), none);
        assert_eq!(none.setting(), Setting::default());
    }

    #[test]
    fn what_is_set_is_within_half_a_tick() {
        let setting = Setting {
            off_square: Some(Angle::from_deg(29.98)),
            offset: Some(Length::from_mm(-5.04)),
            turn: Some(Angle::from_deg(-135.02)),
            first: Some(Side::B),
        };
        let set = Key::new(Saw::Straight, &setting).unwrap().setting();
        assert!((set.off_square.unwrap().deg() - 30.0).abs() < 1e-9);
        assert!((set.offset.unwrap().mm() + 5.0).abs() < 1e-9);
        assert!((set.turn.unwrap().deg() - 225.0).abs() < 1e-9);
        assert_eq!(set.first, Some(Side::B));
    }

    #[test]
    fn a_saw_outweighs_all_dials_three_times() {
        let efforts = Dial::OF_SETTING.map(|dial| EFFORT.of(dial));
        assert!(EFFORT.of(Dial::Saw) >= 3 * efforts.iter().sum::<u32>());
        assert!(efforts.is_sorted_by(|one, next| one >= next && *next > 0));
    }
}
