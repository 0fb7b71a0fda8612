//! Pipe sizes: what a nominal size and schedule measure.

use super::Published;
use crate::units::Length;

/// Where the pipe table comes from.
///
/// Millimetre columns as published in the `fluids` library (its module on piping, after ASME
/// B36.10M-2004); inch outside diameters as in an engineering handbook's table of ASTM A53 pipe
/// (engineeringtoolbox.com, "ANSI steel pipes"). Inch walls of schedules 40 and 80 for 1/8 to 3/8
/// and 2 to 4 were read there too; the other inch walls are from memory and agree with the
/// millimetre column within its rounding.
pub const PIPE_SOURCE: &str = "ASME B36.10M: outside diameters and walls of schedules 10, 40, 80 and 160. Some inch walls \
     are from memory, checked against the millimetre column.";

/// The wall of one schedule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PipeWall {
    /// Schedule number: `40`.
    pub schedule: &'static str,
    /// Wall thickness.
    pub wall: Published,
}

impl PipeWall {
    const fn new(schedule: &'static str, inches: f64, mm: f64) -> Self {
        Self {
            schedule,
            wall: Published::new(inches, mm),
        }
    }
}

/// One nominal pipe size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PipeSize {
    /// Nominal pipe size in inches, which is no dimension of the pipe: `1-1/2`.
    pub nps: &'static str,
    /// Outside diameter, the same for every schedule.
    pub outside: Published,
    /// The schedules listed, thinnest first.
    pub walls: &'static [PipeWall],
}

/// How far a measured or typed diameter may be from a pipe's to be taken for it. Under half the
/// 0.2 mm that part the closest sizes of the two pipe series (42.2 and 42.4 mm).
pub const PIPE_MATCH: Length = Length::from_mm(0.09);

/// The pipe size of this outside diameter, in either column, within [`PIPE_MATCH`].
#[must_use]
pub fn pipe_at(outside: Length) -> Option<&'static PipeSize> {
    PIPES.iter().find(|pipe| {
        [pipe.outside.inch, pipe.outside.metric]
            .into_iter()
            .any(|listed| (listed - outside).abs() <= PIPE_MATCH)
    })
}

/// NPS 1/8 to 8. Source: [`PIPE_SOURCE`].
#[expect(clippy::approx_constant, reason = "a wall of 0.318 in is no 1/π")]
pub static PIPES: [PipeSize; 16] = [
    PipeSize {
        nps: "1/8",
        outside: Published::new(0.405, 10.3),
        walls: &[
            PipeWall::new("10", 0.049, 1.24),
            PipeWall::new("40", 0.068, 1.73),
            PipeWall::new("80", 0.095, 2.41),
        ],
    },
    PipeSize {
        nps: "1/4",
        outside: Published::new(0.540, 13.7),
        walls: &[
            PipeWall::new("10", 0.065, 1.65),
            PipeWall::new("40", 0.088, 2.24),
            PipeWall::new("80", 0.119, 3.02),
        ],
    },
    PipeSize {
        nps: "3/8",
        outside: Published::new(0.675, 17.1),
        walls: &[
            PipeWall::new("10", 0.065, 1.65),
            PipeWall::new("40", 0.091, 2.31),
            PipeWall::new("80", 0.126, 3.20),
        ],
    },
    PipeSize {
        nps: "1/2",
        outside: Published::new(0.840, 21.3),
        walls: &[
            PipeWall::new("10", 0.083, 2.11),
            PipeWall::new("40", 0.109, 2.77),
            PipeWall::new("80", 0.147, 3.73),
            PipeWall::new("160", 0.188, 4.78),
        ],
    },
    PipeSize {
        nps: "3/4",
        outside: Published::new(1.050, 26.7),
        walls: &[
            PipeWall::new("10", 0.083, 2.11),
            PipeWall::new("40", 0.113, 2.87),
            PipeWall::new("80", 0.154, 3.91),
            PipeWall::new("160", 0.219, 5.56),
        ],
    },
    PipeSize {
        nps: "1",
        outside: Published::new(1.315, 33.4),
        walls: &[
            PipeWall::new("10", 0.109, 2.77),
            PipeWall::new("40", 0.133, 3.38),
            PipeWall::new("80", 0.179, 4.55),
            PipeWall::new("160", 0.250, 6.35),
        ],
    },
    PipeSize {
        nps: "1-1/4",
        outside: Published::new(1.660, 42.2),
        walls: &[
            PipeWall::new("10", 0.109, 2.77),
            PipeWall::new("40", 0.140, 3.56),
            PipeWall::new("80", 0.191, 4.85),
            PipeWall::new("160", 0.250, 6.35),
        ],
    },
    PipeSize {
        nps: "1-1/2",
        outside: Published::new(1.900, 48.3),
        walls: &[
            PipeWall::new("10", 0.109, 2.77),
            PipeWall::new("40", 0.145, 3.68),
            PipeWall::new("80", 0.200, 5.08),
            PipeWall::new("160", 0.281, 7.14),
        ],
    },
    PipeSize {
        nps: "2",
        outside: Published::new(2.375, 60.3),
        walls: &[
            PipeWall::new("10", 0.109, 2.77),
            PipeWall::new("40", 0.154, 3.91),
            PipeWall::new("80", 0.218, 5.54),
            PipeWall::new("160", 0.344, 8.74),
        ],
    },
    PipeSize {
        nps: "2-1/2",
        outside: Published::new(2.875, 73.0),
        walls: &[
            PipeWall::new("10", 0.120, 3.05),
            PipeWall::new("40", 0.203, 5.16),
            PipeWall::new("80", 0.276, 7.01),
            PipeWall::new("160", 0.375, 9.53),
        ],
    },
    PipeSize {
        nps: "3",
        outside: Published::new(3.500, 88.9),
        walls: &[
            PipeWall::new("10", 0.120, 3.05),
            PipeWall::new("40", 0.216, 5.49),
            PipeWall::new("80", 0.300, 7.62),
            PipeWall::new("160", 0.438, 11.13),
        ],
    },
    PipeSize {
        nps: "3-1/2",
        outside: Published::new(4.000, 101.6),
        walls: &[
            PipeWall::new("10", 0.120, 3.05),
            PipeWall::new("40", 0.226, 5.74),
            PipeWall::new("80", 0.318, 8.08),
        ],
    },
    PipeSize {
        nps: "4",
        outside: Published::new(4.500, 114.3),
        walls: &[
            PipeWall::new("10", 0.120, 3.05),
            PipeWall::new("40", 0.237, 6.02),
            PipeWall::new("80", 0.337, 8.56),
            PipeWall::new("160", 0.531, 13.49),
        ],
    },
    PipeSize {
        nps: "5",
        outside: Published::new(5.563, 141.3),
        walls: &[
            PipeWall::new("10", 0.134, 3.40),
            PipeWall::new("40", 0.258, 6.55),
            PipeWall::new("80", 0.375, 9.53),
            PipeWall::new("160", 0.625, 15.88),
        ],
    },
    PipeSize {
        nps: "6",
        outside: Published::new(6.625, 168.3),
        walls: &[
            PipeWall::new("10", 0.134, 3.40),
            PipeWall::new("40", 0.280, 7.11),
            PipeWall::new("80", 0.432, 10.97),
            PipeWall::new("160", 0.719, 18.26),
        ],
    },
    PipeSize {
        nps: "8",
        outside: Published::new(8.625, 219.1),
        walls: &[
            PipeWall::new("10", 0.148, 3.76),
            PipeWall::new("40", 0.322, 8.18),
            PipeWall::new("80", 0.500, 12.70),
            PipeWall::new("160", 0.906, 23.01),
        ],
    },
];

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn pipe(nps: &str) -> &'static PipeSize {
        PIPES.iter().find(|pipe| pipe.nps == nps).unwrap()
    }

    fn wall(nps: &str, schedule: &str) -> Published {
        let walls = pipe(nps).walls;
        walls
            .iter()
            .find(|wall| wall.schedule == schedule)
            .unwrap()
            .wall
    }

    #[test]
    fn the_two_columns_agree_within_their_rounding() {
        for pipe in &PIPES {
            // Outside diameters are published to 0.1 mm, walls to 0.01 mm and 0.001 in.
            let apart = (pipe.outside.inch - pipe.outside.metric).abs().mm();
            assert!(apart <= 0.051, "{}: {apart}", pipe.nps);
            for wall in pipe.walls {
                let apart = (wall.wall.inch - wall.wall.metric).abs().mm();
                assert!(
                    apart <= 0.005 + 0.0127,
                    "{} {}: {apart}",
                    pipe.nps,
                    wall.schedule
                );
            }
        }
    }

    #[test]
    fn every_pipe_has_a_bore_and_grows_with_size_and_schedule() {
        for pipe in &PIPES {
            for pair in pipe.walls.windows(2) {
                assert!(pair[0].wall.inch < pair[1].wall.inch, "{}", pipe.nps);
                assert!(pair[0].wall.metric < pair[1].wall.metric, "{}", pipe.nps);
            }
            for wall in pipe.walls {
                assert!(wall.wall.metric < pipe.outside.metric / 2.0, "{}", pipe.nps);
                assert!(wall.wall.inch < pipe.outside.inch / 2.0, "{}", pipe.nps);
            }
        }
        for pair in PIPES.windows(2) {
            assert!(pair[0].outside.metric < pair[1].outside.metric);
            assert!(pair[0].outside.inch < pair[1].outside.inch);
        }
    }

    #[test]
    fn outside_diameters_are_the_published_ones() {
        // "A 2-inch pipe has an outside diameter of 2.375 in": Wikipedia, Nominal Pipe Size.
        assert!((pipe("2").outside.inch.inches() - 2.375).abs() < 1e-12);
        // Outside diameter 4.50 in of 4 in pipe, circumference 14.125 in on a chart to 1/8 in:
        // "Layout for Metals", Open Oregon, chapter 3.
        let round = pipe("4").outside.inch.inches() * std::f64::consts::PI;
        assert!((round - 14.125).abs() <= 1.0 / 16.0, "{round}");
    }

    #[test]
    fn the_millimetre_columns_weigh_what_the_pipe_lists_say() {
        // kg/m of schedule 40, as printed in lists of ASTM A53 plain-end pipe; steel 7.85 g/cm3.
        let listed = [
            ("1/8", 0.37),
            ("1/4", 0.63),
            ("3/8", 0.84),
            ("1/2", 1.27),
            ("3/4", 1.69),
            ("1", 2.50),
            ("1-1/4", 3.39),
            ("1-1/2", 4.05),
            ("2", 5.44),
            ("2-1/2", 8.63),
            ("3", 11.29),
            ("3-1/2", 13.57),
            ("4", 16.07),
            ("5", 21.77),
            ("6", 28.26),
        ];
        let mass = |nps: &str, schedule: &str| {
            let wall = wall(nps, schedule).metric.mm();
            std::f64::consts::PI * 7.85e-3 * (pipe(nps).outside.metric.mm() - wall) * wall
        };
        for (nps, kg) in listed {
            let is = mass(nps, "40");
            assert!((is - kg).abs() <= 0.0065, "{nps}: {is} kg/m, listed {kg}");
        }
        // Heavier schedules from the same lists.
        for (nps, schedule, kg) in [("2", "80", 7.48), ("2", "160", 11.11), ("3", "80", 15.27)] {
            let is = mass(nps, schedule);
            assert!((is - kg).abs() <= 0.0065, "{nps}: {is} kg/m, listed {kg}");
        }
    }

    #[test]
    fn the_inch_columns_weigh_what_the_pipe_tables_say() {
        // lb/ft of schedule 40: engineeringtoolbox.com, "ANSI steel pipes" (ASTM A53); formula
        // 10.68 (D - t) t: piping-designer.com, weight of pipe and tubing.
        let listed = [
            ("1/8", 0.24),
            ("1/4", 0.42),
            ("3/8", 0.57),
            ("1/2", 0.85),
            ("3/4", 1.13),
            ("1", 1.68),
            ("1-1/4", 2.27),
            ("1-1/2", 2.72),
            ("2", 3.65),
            ("2-1/2", 5.79),
            ("3", 7.58),
            ("3-1/2", 9.11),
            ("4", 10.79),
            ("5", 14.61),
            ("6", 18.97),
            ("8", 28.55),
        ];
        for (nps, pounds) in listed {
            let wall = wall(nps, "40").inch.inches();
            let is = 10.68 * (pipe(nps).outside.inch.inches() - wall) * wall;
            // Rounded to 0.01, and the factor to four figures.
            assert!(
                (is - pounds).abs() <= 0.006 + pounds * 1e-3,
                "{nps}: {is} lb/ft, listed {pounds}"
            );
        }
    }

    #[test]
    fn a_diameter_finds_its_pipe_in_either_column() {
        let nps = |mm| pipe_at(Length::from_mm(mm)).map(|pipe| pipe.nps);
        assert_eq!(nps(48.3), Some("1-1/2"));
        assert_eq!(nps(48.26), Some("1-1/2"));
        assert_eq!(nps(42.2), Some("1-1/4"));
        // 42.4 mm is the metric series, not NPS; 40.64 mm is a known misprint of 1-1/4.
        assert_eq!(nps(42.4), None);
        assert_eq!(nps(40.64), None);
        assert_eq!(nps(f64::NAN), None);
    }
}
