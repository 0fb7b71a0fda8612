//! A few letters computed from the geometry of a piece, the same for both of a left and right
//! pair: to compare what is printed on two sheets at a glance.
//!
//! Every number is counted in steps, signs and turns are taken both as they are and mirrored, and
//! the smaller of the two sums is shown. Turns count from the first bend's outside, or else from
//! the first heel, so that the zero line does not matter. Two pieces with the same letters are
//! very likely the same or mirrored (one in a million others has them by chance); a joint that is
//! described another way has other letters.

use crate::joint::{Main, Shape};
use crate::piece::{End, Piece, Side};
use crate::units::{Angle, Length};

/// Lengths count in these, mm: about a hundredth, but never a whole number of halves of anything
/// that is typed, so that rounding noise does not tip a count over.
const LENGTH_STEP: f64 = 0.014_142_135_6;
/// Sines, cosines and angles count in these: about a hundredth of a degree.
const ANGLE_STEP: f64 = 0.000_173_205_08;

/// Letters and digits that are not taken for each other, in writing or over a noisy shop.
const LETTERS: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";

/// Letters shown.
const SHOWN: u32 = 4;

impl Piece {
    /// Four letters and digits that tell this piece, and its mirror image, from others. Grip stock,
    /// zero line and marks have no part in them.
    #[must_use]
    pub fn check_sum(&self) -> String {
        let sums = [1.0, -1.0].map(|hand| self.sum(hand));
        let mut rest = sums[0].min(sums[1]);
        let mut text = String::new();
        for _ in 0..SHOWN {
            let letter = LETTERS[(rest % 32) as usize];
            text.push(char::from(letter));
            rest /= 32;
        }
        text
    }

    fn sum(&self, hand: f64) -> u64 {
        let first = self
            .line()
            .natural_zero()
            .or_else(|| self.heel(Side::A))
            .or_else(|| self.heel(Side::B))
            .unwrap_or(Angle::ZERO);
        let mut sum = Sum::new(hand);
        sum.length(self.tube().outside());
        sum.length(self.tube().wall());
        for side in Side::BOTH {
            sum.end(self.end(side));
            sum.turn(self.heel(side).map_or(Angle::ZERO, |heel| heel - first));
        }
        for straight in self.line().straights() {
            sum.length(straight);
        }
        for bend in self.line().bends() {
            sum.length(bend.clr());
            sum.angle(bend.angle());
            sum.turn(bend.outside() - first);
        }
        sum.folded()
    }
}

/// The running sum: FNV-1a over 64 bits (Fowler, Noll and Vo; constants from memory).
struct Sum {
    hash: u64,
    /// 1 for the piece as it is, −1 for its mirror image.
    hand: f64,
}

impl Sum {
    const fn new(hand: f64) -> Self {
        Self {
            hash: 0xcbf2_9ce4_8422_2325,
            hand,
        }
    }

    fn count(&mut self, count: i64) {
        for byte in count.to_le_bytes() {
            self.hash ^= u64::from(byte);
            self.hash = self.hash.wrapping_mul(0x0000_0100_0000_01b3);
        }
    }

    fn number(&mut self, number: f64, step: f64) {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "saturates, and typed lengths are far inside"
        )]
        self.count((number / step).round() as i64);
    }

    fn length(&mut self, length: Length) {
        self.number(length.mm(), LENGTH_STEP);
    }

    /// A length that changes its sign in the mirror.
    fn offset(&mut self, offset: Length) {
        self.number(self.hand * offset.mm(), LENGTH_STEP);
    }

    fn angle(&mut self, angle: Angle) {
        self.number(angle.rad(), ANGLE_STEP);
    }

    /// A turn, which changes its sign in the mirror. Sine and cosine do not jump at a full turn.
    fn turn(&mut self, turn: Angle) {
        let (sin, cos) = turn.rad().sin_cos();
        self.number(cos, ANGLE_STEP);
        self.number(self.hand * sin, ANGLE_STEP);
    }

    fn end(&mut self, end: &End) {
        match end {
            End::Square => self.count(1),
            End::AsItIs => self.count(2),
            End::Coped(template) => {
                self.count(3 + template.cope().method() as i64);
                self.length(template.cope().gap());
                for main in template.cope().joint().mains() {
                    self.main(main);
                }
            }
        }
    }

    fn main(&mut self, main: &Main) {
        match main.shape() {
            Shape::Round { radius } => {
                self.count(1);
                self.length(*radius);
            }
            Shape::Plate => self.count(2),
            Shape::Mitre { radius } => {
                self.count(3);
                self.length(*radius);
            }
            Shape::Rectangular(section) => {
                self.count(4);
                self.length(section.width());
                self.length(section.height());
                self.length(section.corner());
                self.turn(section.roll());
            }
            Shape::Bent { radius, bend } => {
                self.count(5);
                self.length(*radius);
                self.length(bend.clr());
                self.angle(bend.angle());
                self.length(bend.station());
                self.turn(bend.facing());
            }
        }
        self.angle(main.angle());
        self.offset(main.offset());
        self.turn(main.turn());
        self.length(main.shift());
    }

    /// All bits mixed into the low ones.
    const fn folded(&self) -> u64 {
        let mut hash = self.hash;
        hash ^= hash >> 33;
        hash = hash.wrapping_mul(0xff51_afd7_ed55_8ccd);
        hash ^ (hash >> 33)
    }
}
