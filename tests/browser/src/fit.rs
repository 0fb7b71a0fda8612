//! A paper strip wrapped round a branch and the branch set on its main, in space.
//!
//! Worked out on its own, from the tubes and the way paper is wrapped, not from any formula of a
//! cut line: where the strip says to cut, how far is the metal from the main?

use std::f64::consts::TAU;

use crate::pdf::Point;

/// Steps through the wall when the whole of it is looked at; what lies between them is below
/// 0.001 mm for walls up to 20 mm.
const THROUGH_WALL: u32 = 64;
/// Longest distance between places that are looked at along the cut, mm of paper.
const STEP: f64 = 0.2;

/// What of the cut end should touch the main.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seat {
    /// The outside edge (a hole saw follows the main).
    Outside,
    /// The bore edge (bevelled outside afterwards).
    Bore,
    /// Whatever part of the wall comes first (cut square to the wall).
    Wall,
}

/// The two tubes and how they stand, lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joint {
    /// Outside diameter of the branch.
    pub branch: f64,
    /// Its wall.
    pub wall: f64,
    /// Outside diameter of the main.
    pub main: f64,
    /// Included angle, degrees.
    pub angle: f64,
    /// Distance of the axes, never negative.
    pub offset: f64,
    /// The turn, in degrees from the zero line, towards which the main's axis lies.
    pub towards: f64,
    /// Turn of the heel from the zero line, degrees.
    pub heel: f64,
    /// What should touch.
    pub seat: Seat,
    /// How far from the main it should stay.
    pub gap: f64,
}

/// A strip as cut out: where its lines are on paper, x to the right and y down.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// The cut line.
    pub cut: Vec<Vec<Point>>,
    /// The 0° edge.
    pub zero: f64,
    /// The 360° line, which meets the 0° edge when the strip is wrapped.
    pub once_round: f64,
    /// The mark line.
    pub mark: f64,
    /// Distance from the mark line to the joint centre along the tube.
    pub mark_to_centre: f64,
}

/// How a strip fits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// The largest gap or interference anywhere, mm.
    pub worst: f64,
    /// What part of the turn the cut line covers, 0 to 1.
    pub covered: f64,
}

impl Strip {
    /// One turn on paper.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.zero - self.once_round
    }

    /// The strip printed the wrong way round: left and right exchanged, the names of the lines
    /// where they were.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let middle = self.zero + self.once_round;
        let mirrored = |line: &Vec<Point>| line.iter().map(|&[x, y]| [middle - x, y]).collect();
        Self {
            cut: self.cut.iter().map(mirrored).collect(),
            ..self.clone()
        }
    }

    /// Wraps the strip round the branch, puts the branch on the main and looks all along the cut.
    #[must_use]
    pub fn fit(&self, joint: &Joint) -> Fit {
        let mut worst = 0.0_f64;
        for line in &self.cut {
            for ends in line.windows(2) {
                let (from, to) = (ends[0], ends[1]);
                let steps = ((to[0] - from[0]).hypot(to[1] - from[1]) / STEP).ceil();
                let mut part = 0.0;
                while part <= steps {
                    let t = part / steps.max(1.0);
                    let at = [0, 1].map(|i| from[i] + (to[i] - from[i]) * t);
                    worst = worst.max(self.miss(joint, at).abs());
                    part += 1.0;
                }
            }
        }
        Fit {
            worst,
            covered: self.covered(),
        }
    }

    /// Gap (positive) or interference (negative) at a place of the cut.
    fn miss(&self, joint: &Joint, [x, y]: Point) -> f64 {
        let turn = (self.zero - x) / self.width() * TAU;
        // The cut is at the top of the strip and the tube's body below its mark line, so what is
        // higher on paper is nearer to the far side of the joint.
        let along = self.mark_to_centre - (self.mark - y);
        let gap_at = |radius: f64| joint.gap_at(radius, turn, along);
        let outside = joint.branch / 2.0;
        let bore = outside - joint.wall;
        let distance = match joint.seat {
            Seat::Outside => gap_at(outside),
            Seat::Bore => gap_at(bore),
            Seat::Wall => (0..=THROUGH_WALL)
                .map(|i| bore + joint.wall * f64::from(i) / f64::from(THROUGH_WALL))
                .map(gap_at)
                .fold(f64::INFINITY, f64::min),
        };
        distance - joint.gap
    }

    fn covered(&self) -> f64 {
        let mut reaches: Vec<[f64; 2]> = self
            .cut
            .iter()
            .map(|line| {
                let xs = || line.iter().map(|point| point[0]);
                let (low, high) = (self.once_round, self.zero);
                [
                    xs().fold(high, f64::min).max(low),
                    xs().fold(low, f64::max).min(high),
                ]
            })
            .collect();
        reaches.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let (mut sum, mut seen) = (0.0, f64::NEG_INFINITY);
        for [from, to] in reaches {
            sum += (to - from.max(seen)).max(0.0);
            seen = seen.max(to);
        }
        sum / self.width()
    }
}

type Vector = [f64; 3];

impl Joint {
    /// Distance from the main's surface of a point of the branch's metal: `radius` from its axis,
    /// `turn` radians round from the zero line, `along` from the joint centre into the body.
    fn gap_at(&self, radius: f64, turn: f64, along: f64) -> f64 {
        const BODY: Vector = [0.0, 0.0, 1.0];
        const HEEL: Vector = [1.0, 0.0, 0.0];
        // Someone looks at the tube from outside, straight at the line of turn `t`, with the cut
        // up. Their right hand points along forward × up; paper with its print to them grows to
        // the other side, and so do turns.
        let up = scaled(BODY, -1.0);
        let forward = scaled(HEEL, -1.0);
        let leftwards = scaled(cross(forward, up), -1.0);
        let outwards = |turn: f64| {
            let from_heel = turn - self.heel.to_radians();
            sum(
                scaled(HEEL, from_heel.cos()),
                scaled(leftwards, from_heel.sin()),
            )
        };
        let point = sum(scaled(outwards(turn), radius), scaled(BODY, along));
        // The main leans towards the body on the heel's side: there the angle is the acute one.
        let (sin, cos) = self.angle.to_radians().sin_cos();
        let main = sum(scaled(HEEL, sin), scaled(BODY, cos));
        let through = scaled(outwards(self.towards.to_radians()), self.offset);
        let from_main = sum(point, scaled(through, -1.0));
        let aside = sum(from_main, scaled(main, -dot(from_main, main)));
        let distance = dot(aside, aside).sqrt();
        // The far side of the main is as near to its surface, but no branch ends there.
        if dot(aside, BODY) < -0.05 * distance {
            return f64::INFINITY;
        }
        distance - self.main / 2.0
    }
}

fn sum(a: Vector, b: Vector) -> Vector {
    [0, 1, 2].map(|i| a[i] + b[i])
}

fn scaled(a: Vector, by: f64) -> Vector {
    a.map(|x| x * by)
}

fn dot(a: Vector, b: Vector) -> f64 {
    (0..3).map(|i| a[i] * b[i]).sum()
}

fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOINT: Joint = Joint {
        branch: 40.0,
        wall: 3.0,
        main: 60.0,
        angle: 90.0,
        offset: 6.0,
        towards: 90.0,
        heel: 0.0,
        seat: Seat::Outside,
        gap: 0.0,
    };

    /// A square tee drawn by hand: over a main whose axis is `offset` towards the 90° line, the
    /// outside edge at turn t stands sqrt(R² − (r sin t − offset)²) from the joint centre
    /// (right-angled triangle in the plane square to the main).
    fn tee(joint: &Joint) -> Strip {
        let (r, big) = (joint.branch / 2.0, joint.main / 2.0);
        let width = TAU * r;
        let place = |i: u32| {
            let part = f64::from(i) / 2000.0;
            let side = r * (part * TAU).sin() - joint.offset;
            let from_centre = (big * big - side * side).sqrt();
            [200.0 - part * width, 100.0 - (50.0 - from_centre)]
        };
        Strip {
            cut: vec![(0..=2000).map(place).collect()],
            zero: 200.0,
            once_round: 200.0 - width,
            mark: 100.0,
            mark_to_centre: 50.0,
        }
    }

    #[test]
    fn true_strip_fits_and_covers_the_turn() {
        let fit = tee(&JOINT).fit(&JOINT);
        assert!(fit.worst < 1e-4, "{fit:?}");
        assert!((fit.covered - 1.0).abs() < 1e-12);
    }

    #[test]
    fn wrong_strips_do_not_fit() {
        let strip = tee(&JOINT);
        let wrong = |strip: &Strip, joint: &Joint| strip.fit(joint).worst;
        assert!(wrong(&strip.mirrored(), &JOINT) > 1.0);
        let moved = Strip {
            mark_to_centre: 50.1,
            ..strip.clone()
        };
        assert!(wrong(&moved, &JOINT) > 0.09);
        for joint in [
            Joint {
                towards: 270.0,
                ..JOINT
            },
            Joint {
                heel: 180.0,
                towards: 270.0,
                angle: 80.0,
                ..JOINT
            },
            Joint { gap: 0.1, ..JOINT },
            Joint {
                seat: Seat::Bore,
                ..JOINT
            },
            Joint {
                seat: Seat::Wall,
                ..JOINT
            },
        ] {
            assert!(wrong(&strip, &joint) > 0.09, "{joint:?}");
        }
        let mut torn = strip;
        torn.cut[0].truncate(1500);
        assert!((torn.fit(&JOINT).covered - 0.75).abs() < 0.001);
    }
}
