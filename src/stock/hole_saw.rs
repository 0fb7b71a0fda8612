//! Hole saws: the usual diameters, and the one that comes nearest to a main.

use crate::units::Length;

/// Where the hole saws up to 2-5/8 in come from.
pub const HOLE_SAW_SOURCE: &str = "The common series of bi-metal hole saws in sixteenths of an inch, and speeds for mild steel \
     with cutting oil and clamped work at about 90 ft/min: common practice, no source.";

/// Where the larger hole saws come from.
pub const LARGE_HOLE_SAW_SOURCE: &str = "Usual sizes, from memory; look at the saws you can get.";

/// One size of hole saw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoleSaw {
    /// Diameter over the teeth, a whole number of sixteenths of an inch.
    pub diameter: Length,
    /// The diameter as stamped on metric lists, rounded to a whole millimetre.
    pub listed_mm: u32,
    /// Turns per minute in mild steel, where the series has them; about half that in stainless.
    pub mild_steel_rpm: Option<u32>,
}

impl HoleSaw {
    const fn new(sixteenths: u32, listed_mm: u32, mild_steel_rpm: Option<u32>) -> Self {
        Self {
            diameter: Length::from_inches(sixteenths as f64 / 16.0),
            listed_mm,
            mild_steel_rpm,
        }
    }
}

/// How far a saw's diameter may be from the main's to count as a match: 1/32 in, half the step
/// between neighbouring saws. Common practice, no source; the gap it leaves is computed elsewhere.
pub const HOLE_SAW_MATCH: Length = Length::from_inches(1.0 / 32.0);

/// How far a saw may be from that wanted diameter: [`HOLE_SAW_MATCH`], and below 1 in a 32nd of
/// the diameter.
///
/// Our own judgement. A saw larger by d leaves up to d / 2 at the sides of equal tubes at a right
/// angle (its circle touches in the middle, and at a quarter turn lies d / 2 farther out). A 64th of the
/// diameter is less than a third of a wall of a twentieth of it, so it does not grow with
/// smaller tubes into a gap as wide as their wall.
#[must_use]
pub fn hole_saw_match(wanted: Length) -> Length {
    HOLE_SAW_MATCH.min(wanted / 32.0)
}

/// Every hole saw listed, smallest first. Sources: [`HOLE_SAW_SOURCE`] up to 2-5/8 in, above that
/// [`LARGE_HOLE_SAW_SOURCE`].
#[must_use]
pub fn hole_saws() -> &'static [HoleSaw] {
    &HOLE_SAWS
}

/// The hole saw nearest in diameter to a main of this outside diameter, if one is within
/// [`hole_saw_match`]; of two equally near, the smaller.
#[must_use]
pub fn nearest_hole_saw(main: Length) -> Option<&'static HoleSaw> {
    let apart = |saw: &HoleSaw| (saw.diameter - main).abs();
    HOLE_SAWS
        .iter()
        .filter(|saw| apart(saw) <= hole_saw_match(main))
        .min_by(|a, b| apart(a).mm().total_cmp(&apart(b).mm()))
}

static HOLE_SAWS: [HoleSaw; 38] = [
    HoleSaw::new(9, 14, Some(580)),  // 9/16
    HoleSaw::new(10, 16, Some(550)), // 5/8
    HoleSaw::new(11, 17, Some(500)), // 11/16
    HoleSaw::new(12, 19, Some(460)), // 3/4
    HoleSaw::new(13, 21, Some(425)), // 13/16
    HoleSaw::new(14, 22, Some(390)), // 7/8
    HoleSaw::new(16, 25, Some(350)), // 1
    HoleSaw::new(17, 27, Some(325)), // 1-1/16
    HoleSaw::new(18, 29, Some(300)), // 1-1/8
    HoleSaw::new(19, 30, Some(285)), // 1-3/16
    HoleSaw::new(20, 32, Some(275)), // 1-1/4
    HoleSaw::new(21, 33, Some(260)), // 1-5/16
    HoleSaw::new(22, 35, Some(250)), // 1-3/8
    HoleSaw::new(23, 37, Some(240)), // 1-7/16
    HoleSaw::new(24, 38, Some(230)), // 1-1/2
    HoleSaw::new(25, 40, Some(220)), // 1-9/16
    HoleSaw::new(26, 41, Some(210)), // 1-5/8
    HoleSaw::new(27, 43, Some(205)), // 1-11/16
    HoleSaw::new(28, 44, Some(195)), // 1-3/4
    HoleSaw::new(29, 46, Some(190)), // 1-13/16
    HoleSaw::new(30, 48, Some(180)), // 1-7/8
    HoleSaw::new(32, 51, Some(170)), // 2
    HoleSaw::new(33, 52, Some(165)), // 2-1/16
    HoleSaw::new(34, 54, Some(160)), // 2-1/8
    HoleSaw::new(36, 57, Some(150)), // 2-1/4
    HoleSaw::new(37, 59, Some(145)), // 2-5/16
    HoleSaw::new(38, 60, Some(140)), // 2-3/8
    HoleSaw::new(40, 64, Some(135)), // 2-1/2
    HoleSaw::new(41, 65, Some(130)), // 2-9/16
    HoleSaw::new(42, 67, Some(130)), // 2-5/8
    HoleSaw::new(44, 70, None),      // 2-3/4
    HoleSaw::new(48, 76, None),      // 3
    HoleSaw::new(52, 83, None),      // 3-1/4
    HoleSaw::new(56, 89, None),      // 3-1/2
    HoleSaw::new(64, 102, None),     // 4
    HoleSaw::new(72, 114, None),     // 4-1/2
    HoleSaw::new(80, 127, None),     // 5
    HoleSaw::new(96, 152, None),     // 6
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn listed_millimetres_are_the_rounded_inches() {
        for saw in hole_saws() {
            let apart = (saw.diameter.mm() - f64::from(saw.listed_mm)).abs();
            assert!(apart <= 0.5, "{}: {apart}", saw.listed_mm);
        }
        for pair in hole_saws().windows(2) {
            assert!(pair[0].diameter < pair[1].diameter);
        }
    }

    #[test]
    fn speeds_are_those_of_one_cutting_speed() {
        // rpm = 12 v / (pi D) with v about 90 ft/min, then rounded.
        for saw in hole_saws() {
            let Some(rpm) = saw.mild_steel_rpm else {
                continue;
            };
            let exact = 12.0 * 90.0 / (std::f64::consts::PI * saw.diameter.inches());
            let off = (f64::from(rpm) - exact).abs() / exact;
            assert!(off < 0.06, "{} mm: {rpm} rpm, {exact}", saw.listed_mm);
        }
    }

    #[test]
    fn a_main_finds_the_saw_that_matches_it() {
        let found = |mm| nearest_hole_saw(Length::from_mm(mm)).map(|saw| saw.listed_mm);
        assert_eq!(found(38.1), Some(38));
        assert_eq!(found(44.45), Some(44));
        // 1-1/2 pipe is 0.63 mm over a 1-7/8 saw.
        assert_eq!(found(48.3), Some(48));
        assert_eq!(found(60.3), Some(60));
        // Nothing in the list within 1/32 in.
        assert_eq!(found(49.2), None);
        // 3/8 pipe has an 11/16 saw; 1/4 pipe is 0.6 mm off the smallest, 0.3 mm too much at its
        // size.
        assert_eq!(found(17.2), Some(17));
        assert_eq!(found(13.7), None);
        assert_eq!(found(10.0), None);
        assert_eq!(found(219.1), None);
        assert_eq!(found(f64::NAN), None);
    }
}
