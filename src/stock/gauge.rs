//! Tube gauge numbers and the walls they stand for.

use super::Published;

/// Where the gauge table comes from.
///
/// Holtzapffel's table of the Birmingham or Stubs iron wire gauge, as reprinted in "Building
/// Construction" (chestofbooks.com, "New Imperial Standard Wire Gauge") and, the same figures, at
/// engineeringtoolbox.com, "BWG wire gage".
pub const GAUGE_SOURCE: &str = "Birmingham (Stubs) wire gauge, BWG, as used for tube walls; not the sheet or the Imperial \
     standard gauge (Holtzapffel's table).";

/// One gauge number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gauge {
    /// Number, BWG.
    pub number: u32,
    /// Wall thickness.
    pub wall: Published,
}

impl Gauge {
    const fn new(number: u32, inches: f64, mm: f64) -> Self {
        Self {
            number,
            wall: Published::new(inches, mm),
        }
    }
}

/// BWG 7 to 22, thickest first. Source: [`GAUGE_SOURCE`].
pub static GAUGES: [Gauge; 16] = [
    Gauge::new(7, 0.180, 4.572),
    Gauge::new(8, 0.165, 4.191),
    Gauge::new(9, 0.148, 3.759),
    Gauge::new(10, 0.134, 3.404),
    Gauge::new(11, 0.120, 3.048),
    Gauge::new(12, 0.109, 2.769),
    Gauge::new(13, 0.095, 2.413),
    Gauge::new(14, 0.083, 2.108),
    Gauge::new(15, 0.072, 1.829),
    Gauge::new(16, 0.065, 1.651),
    Gauge::new(17, 0.058, 1.473),
    Gauge::new(18, 0.049, 1.245),
    Gauge::new(19, 0.042, 1.067),
    Gauge::new(20, 0.035, 0.889),
    Gauge::new(21, 0.032, 0.813),
    Gauge::new(22, 0.028, 0.711),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_higher_gauge_is_a_thinner_wall() {
        for pair in GAUGES.windows(2) {
            assert_eq!(pair[1].number, pair[0].number + 1);
            assert!(pair[1].wall.inch < pair[0].wall.inch, "{}", pair[1].number);
            assert!(
                pair[1].wall.metric < pair[0].wall.metric,
                "{}",
                pair[1].number
            );
        }
    }

    #[test]
    fn the_columns_agree_to_a_thousandth_of_a_millimetre() {
        for gauge in &GAUGES {
            let apart = (gauge.wall.inch - gauge.wall.metric).abs().mm();
            assert!(apart <= 0.000_501, "{}: {apart}", gauge.number);
        }
    }

    #[test]
    fn it_is_not_the_imperial_standard_gauge() {
        // Imperial standard wire gauge, inches, from the same page as Holtzapffel's table.
        for (number, inches) in [
            (10, 0.128),
            (12, 0.104),
            (14, 0.080),
            (16, 0.064),
            (18, 0.048),
        ] {
            let found = GAUGES.iter().find(|gauge| gauge.number == number);
            // Each BWG is a little thicker, by 0.001 to 0.006 in.
            let thicker = found.map(|gauge| gauge.wall.inch.inches() - inches);
            assert!(
                thicker.is_some_and(|by| by > 0.0005 && by < 0.0065),
                "{number}: {thicker:?}"
            );
        }
    }
}
