//! Usual diameters and walls of round tube, inch and metric.

use crate::units::Length;

/// A list of sizes that belong together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Series {
    /// What the sizes are, in a few words.
    pub name: &'static str,
    /// Where the list comes from, in words the page can show.
    pub source: &'static str,
    /// The sizes, ascending.
    pub sizes: &'static [Length],
}

const fn inches<const N: usize>(sizes: [f64; N]) -> [Length; N] {
    let mut lengths = [Length::ZERO; N];
    let mut i = 0;
    while i < N {
        lengths[i] = Length::from_inches(sizes[i]);
        i += 1;
    }
    lengths
}

const fn millimetres<const N: usize>(sizes: [f64; N]) -> [Length; N] {
    let mut lengths = [Length::ZERO; N];
    let mut i = 0;
    while i < N {
        lengths[i] = Length::from_mm(sizes[i]);
        i += 1;
    }
    lengths
}

/// Outside diameters of inch tube usually kept in stock. From memory.
pub const INCH_TUBES: Series = Series {
    name: "inch tube",
    source: "Outside diameters of inch round tube usually in stock (ASTM A513, A500 and 4130), from memory.",
    sizes: &inches([
        0.5, 0.625, 0.75, 0.875, 1.0, 1.125, 1.25, 1.375, 1.5, 1.625, 1.75, 2.0, 2.25, 2.5, 2.75,
        3.0, 3.5, 4.0,
    ]),
};

/// Walls of inch tube usually kept in stock. From memory; most are BWG sizes.
pub const INCH_WALLS: Series = Series {
    name: "inch tube wall",
    source: "Walls of inch round tube usually in stock (ASTM A513, A500 and 4130), from memory.",
    sizes: &inches([
        0.035, 0.049, 0.065, 0.083, 0.095, 0.120, 0.134, 0.188, 0.250,
    ]),
};

/// Preferred outside diameters of EN 10305-1. From memory.
pub const METRIC_TUBES: Series = Series {
    name: "precision tube, EN 10305-1",
    source: "EN 10305-1, preferred outside diameters, from memory.",
    sizes: &millimetres([
        10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 22.0, 25.0, 28.0, 30.0, 32.0, 35.0, 38.0, 40.0,
        42.0, 45.0, 50.0, 55.0, 60.0, 65.0, 70.0, 75.0, 80.0,
    ]),
};

/// Walls of EN 10305-1 tube usually kept in stock. From memory.
pub const METRIC_WALLS: Series = Series {
    name: "precision tube wall, EN 10305-1",
    source: "EN 10305-1, walls usually in stock, from memory.",
    sizes: &millimetres([
        1.0, 1.2, 1.5, 1.8, 2.0, 2.2, 2.5, 2.8, 3.0, 3.5, 4.0, 4.5, 5.0, 6.0,
    ]),
};

/// Outside diameters of ISO 4200, series 1. From memory; six of them are confirmed by the masses
/// published for EN 10255.
pub const PIPE_SERIES: Series = Series {
    name: "tube, ISO 4200 series 1",
    source: "ISO 4200, series 1 outside diameters, from memory.",
    sizes: &millimetres([
        10.2, 13.5, 17.2, 21.3, 26.9, 33.7, 42.4, 48.3, 60.3, 76.1, 88.9, 114.3, 139.7, 168.3,
        219.1,
    ]),
};

/// Walls of EN 10255 tube, medium and heavy series together.
///
/// As a stockist's table quotes the standard (tuspipe.com, "EN 10255"); the standard itself was
/// not at hand.
pub const PIPE_SERIES_WALLS: Series = Series {
    name: "tube wall, EN 10255",
    source: "EN 10255, walls of the medium and heavy series up to 2 in, as a stockist's table quotes them.",
    sizes: &millimetres([2.3, 2.6, 2.9, 3.2, 3.6, 4.0, 4.5]),
};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::GAUGES;

    #[test]
    fn sizes_ascend_without_repeats() {
        for series in [
            INCH_TUBES,
            INCH_WALLS,
            METRIC_TUBES,
            METRIC_WALLS,
            PIPE_SERIES,
            PIPE_SERIES_WALLS,
        ] {
            for pair in series.sizes.windows(2) {
                assert!(pair[0] < pair[1], "{}: {:?}", series.name, pair);
            }
        }
    }

    #[test]
    fn the_iso_series_and_the_walls_weigh_what_en_10255_lists() {
        // kg/m, medium and heavy, as a stockist's table quotes EN 10255 (tuspipe.com); nominal
        // outside diameter, wall, mass; steel 7.85 g/cm3. Within 1 %, since the listed masses
        // are not all of the nominal diameter.
        for (outside, wall, mass) in [
            (21.3, 2.6, 1.21),
            (21.3, 3.2, 1.44),
            (26.9, 2.6, 1.56),
            (26.9, 3.2, 1.87),
            (33.7, 3.2, 2.41),
            (33.7, 4.0, 2.94),
            (42.4, 3.2, 3.10),
            (42.4, 4.0, 3.80),
            (48.3, 3.2, 3.57),
            (48.3, 4.0, 4.38),
            (60.3, 3.6, 5.03),
            (60.3, 4.5, 6.19),
        ] {
            assert!(PIPE_SERIES.sizes.contains(&Length::from_mm(outside)));
            assert!(PIPE_SERIES_WALLS.sizes.contains(&Length::from_mm(wall)));
            let is = std::f64::consts::PI * 7.85e-3 * (outside - wall) * wall;
            assert!((is / mass - 1.0).abs() < 0.01, "{outside} × {wall}: {is}");
        }
    }

    #[test]
    fn thin_inch_walls_are_gauges() {
        // All but 3/16 and 1/4 in, which no tube gauge has: 0.188 and 0.250.
        for wall in INCH_WALLS.sizes.iter().filter(|wall| wall.inches() < 0.18) {
            assert!(
                GAUGES.iter().any(|gauge| gauge.wall.inch == *wall),
                "{}",
                wall.inches()
            );
        }
    }
}
