//! A paper strip wrapped round a branch and the branch set on its mains, in space.
//!
//! Worked out on its own, from the tubes and the way paper is wrapped, not from any formula of a
//! cut line: where the strip says to cut, how far is the metal from the mains, and can the branch
//! come down there at all?

use std::f64::consts::TAU;

use crate::pdf::Point;
use crate::solid::{Placed, Shape};
use crate::vector::{Vector, cross, scaled, sum};

/// Steps through the wall when the whole of it is looked at; what lies between them is below
/// 0.001 mm for walls up to 20 mm.
const THROUGH_WALL: u32 = 64;
/// Longest distance between places that are looked at along the cut, mm of paper.
const STEP: f64 = 0.2;
/// Shortest distance between places that are looked at along the branch above the cut, mm.
const UPWARDS: f64 = 0.25;
/// How much of the branch above the cut must be clear of the mains, mm.
const BODY_LENGTH: f64 = 600.0;
/// Walls looked at on their whole length above the cut; few of the places through the wall.
const BODY_WALL: usize = 8;
/// A stroke of the cut line that goes this little round is a step, where the cut jumps, mm.
const UPRIGHT: f64 = 0.005;
/// A shorter stroke is none, mm.
const STEP_LEAST: f64 = 0.1;

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

/// The branch and its mains and how they stand, lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// Outside diameter of the branch.
    pub branch: f64,
    /// Its wall.
    pub wall: f64,
    /// What it sits on.
    pub mains: Vec<Main>,
    /// Turn of the heel from the zero line, degrees.
    pub heel: f64,
    /// What should touch.
    pub seat: Seat,
    /// How far from the mains it should stay.
    pub gap: f64,
}

/// A main and how it lies to the branch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Main {
    /// What it is.
    pub shape: Shape,
    /// Included angle, degrees.
    pub angle: f64,
    /// Distance of the axes, never negative.
    pub offset: f64,
    /// The turn, in degrees from the zero line, towards which the main's axis lies.
    pub towards: f64,
    /// Turn about the branch from where its acute side is the joint's heel, degrees.
    pub about: f64,
    /// How far it is moved along the branch, into the body.
    pub shift: f64,
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
    /// The largest gap or interference anywhere, mm. At a step the metal stands off the mains, so
    /// there only interference counts.
    pub worst: f64,
    /// What part of the turn the cut line covers, 0 to 1.
    pub covered: f64,
    /// How many steps it has.
    pub steps: usize,
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

    /// Wraps the strip round the branch, puts the branch on its mains and looks all along the cut.
    #[must_use]
    pub fn fit(&self, joint: &Joint) -> Fit {
        let stand = Stand::new(joint);
        let mut worst = 0.0_f64;
        let mut jumps = 0;
        for line in &self.cut {
            for ends in line.windows(2) {
                let (from, to) = (ends[0], ends[1]);
                let is_step =
                    (to[0] - from[0]).abs() < UPRIGHT && (to[1] - from[1]).abs() > STEP_LEAST;
                jumps += usize::from(is_step);
                let steps = ((to[0] - from[0]).hypot(to[1] - from[1]) / STEP).ceil();
                let mut part = 0.0;
                while part <= steps {
                    let t = part / steps.max(1.0);
                    let at = [0, 1].map(|i| from[i] + (to[i] - from[i]) * t);
                    let miss = self.miss(&stand, at);
                    let miss = if is_step { miss.min(0.0) } else { miss };
                    worst = worst.max(miss.abs());
                    part += 1.0;
                }
            }
        }
        Fit {
            worst,
            covered: self.covered(),
            steps: jumps,
        }
    }

    /// Gap (positive) or interference (negative) at a place of the cut, or worse interference
    /// further up the branch.
    fn miss(&self, stand: &Stand, [x, y]: Point) -> f64 {
        let turn = (self.zero - x) / self.width() * TAU;
        // The cut is at the top of the strip and the tube's body below its mark line, so what is
        // higher on paper is nearer to the far side of the joint.
        let along = self.mark_to_centre - (self.mark - y);
        let joint = stand.joint;
        let outside = joint.branch / 2.0;
        let bore = outside - joint.wall;
        let radii: Vec<f64> = match joint.seat {
            Seat::Outside => vec![outside],
            Seat::Bore => vec![bore],
            Seat::Wall => (0..=THROUGH_WALL)
                .map(|i| bore + joint.wall * f64::from(i) / f64::from(THROUGH_WALL))
                .collect(),
        };
        let gap_at = |along: f64, radius: &f64| stand.gap_at(*radius, turn, along) - joint.gap;
        let gaps = radii.iter().map(|radius| gap_at(along, radius));
        let at_cut = gaps.fold(f64::INFINITY, f64::min);
        let above = radii.iter().step_by(BODY_WALL).map(|radius| {
            let (mut least, mut up) = (f64::INFINITY, 0.0);
            while up < BODY_LENGTH {
                let gap = gap_at(along + up, radius);
                least = least.min(gap);
                // Nothing can be nearer than the surface is.
                up += gap.max(UPWARDS);
            }
            least
        });
        let above = above.fold(f64::INFINITY, f64::min);
        if above < 0.0 {
            above.min(at_cut)
        } else {
            at_cut
        }
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

/// A joint standing in space.
struct Stand<'joint> {
    joint: &'joint Joint,
    mains: Vec<Placed>,
}

impl<'joint> Stand<'joint> {
    fn new(joint: &'joint Joint) -> Self {
        let place = |main: &Main| {
            let towards = joint.outwards(main.towards.to_radians());
            let through = sum(scaled(towards, main.offset), scaled(BODY, main.shift));
            // The main leans towards the body on its acute side.
            let lean = joint.outwards((joint.heel + main.about).to_radians());
            Placed::new(main.shape, through, BODY, lean, main.angle)
        };
        Self {
            joint,
            mains: joint.mains.iter().map(place).collect(),
        }
    }

    /// Distance from the nearest main's surface of a point of the branch's metal: `radius` from
    /// its axis, `turn` radians round from the zero line, `along` from the joint centre into the
    /// body.
    fn gap_at(&self, radius: f64, turn: f64, along: f64) -> f64 {
        let outwards = self.joint.outwards(turn);
        let point = sum(scaled(outwards, radius), scaled(BODY, along));
        let gaps = self.mains.iter().map(|main| main.distance(point));
        gaps.fold(f64::INFINITY, f64::min)
    }
}

/// Where the branch's body is.
const BODY: Vector = [0.0, 0.0, 1.0];
/// Where the heel is.
const HEEL: Vector = [1.0, 0.0, 0.0];

impl Joint {
    /// The direction from the branch's axis to a line along it, `turn` radians round from the zero
    /// line.
    fn outwards(&self, turn: f64) -> Vector {
        // Someone looks at the tube from outside, straight at the line of turn `t`, with the cut
        // up. Their right hand points along forward × up; paper with its print to them grows to
        // the other side, and so do turns.
        let up = scaled(BODY, -1.0);
        let forward = scaled(HEEL, -1.0);
        let leftwards = scaled(cross(forward, up), -1.0);
        let from_heel = turn - self.heel.to_radians();
        sum(
            scaled(HEEL, from_heel.cos()),
            scaled(leftwards, from_heel.sin()),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MAIN: Main = Main {
        shape: Shape::Round(60.0),
        angle: 90.0,
        offset: 6.0,
        towards: 90.0,
        about: 0.0,
        shift: 0.0,
    };

    fn on(mains: &[Main]) -> Joint {
        Joint {
            branch: 40.0,
            wall: 3.0,
            mains: mains.to_vec(),
            heel: 0.0,
            seat: Seat::Outside,
            gap: 0.0,
        }
    }

    /// A square tee drawn by hand: over a main whose axis is `offset` towards the 90° line, the
    /// outside edge at turn t stands sqrt(R² − (r sin t − offset)²) from the joint centre
    /// (right-angled triangle in the plane square to the main).
    fn tee() -> Strip {
        drawn(|turn| {
            let side = 20.0 * turn.sin() - MAIN.offset;
            (900.0 - side * side).sqrt()
        })
    }

    /// A strip whose outside edge stands that far from the joint centre.
    fn drawn(from_centre: impl Fn(f64) -> f64) -> Strip {
        let width = TAU * 20.0;
        let place = |i: u32| {
            let part = f64::from(i) / 2000.0;
            let above_mark = 50.0 - from_centre(part * TAU);
            [200.0 - part * width, 100.0 - above_mark]
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
        let fit = tee().fit(&on(&[MAIN]));
        assert!(fit.worst < 1e-4, "{fit:?}");
        assert!((fit.covered - 1.0).abs() < 1e-12);
    }

    #[test]
    fn wrong_strips_do_not_fit() {
        let strip = tee();
        let right = on(&[MAIN]);
        let wrong = |strip: &Strip, joint: &Joint| strip.fit(joint).worst;
        assert!(wrong(&strip.mirrored(), &right) > 1.0);
        let moved = Strip {
            mark_to_centre: 50.1,
            ..strip.clone()
        };
        assert!(wrong(&moved, &right) > 0.09);
        let across = Main {
            towards: 270.0,
            ..MAIN
        };
        let leaning = Main {
            angle: 80.0,
            ..across
        };
        for joint in [
            on(&[across]),
            Joint {
                heel: 180.0,
                ..on(&[leaning])
            },
            Joint {
                gap: 0.1,
                ..right.clone()
            },
            Joint {
                seat: Seat::Bore,
                ..right.clone()
            },
            Joint {
                seat: Seat::Wall,
                ..right.clone()
            },
        ] {
            assert!(wrong(&strip, &joint) > 0.09, "{joint:?}");
        }
        let mut torn = strip;
        torn.cut[0].truncate(1500);
        assert!((torn.fit(&right).covered - 0.75).abs() < 0.001);
    }

    #[test]
    fn far_side_of_a_main_is_no_seat() {
        let far = drawn(|turn| {
            let side = 20.0 * turn.sin() - MAIN.offset;
            -(900.0 - side * side).sqrt()
        });
        assert!(far.fit(&on(&[MAIN])).worst > 20.0);
    }

    #[test]
    fn plates_lean_towards_the_body_at_the_heel() {
        // A plate at 45° rises to the heel as far as the generator stands out to it.
        let plate = Main {
            shape: Shape::Plate,
            angle: 45.0,
            offset: 0.0,
            ..MAIN
        };
        let strip = drawn(|turn| 20.0 * turn.cos());
        assert!(strip.fit(&on(&[plate])).worst < 1e-4);
        let turned = Main {
            about: 90.0,
            ..plate
        };
        assert!(strip.fit(&on(&[turned])).worst > 10.0);
        let strip = drawn(|turn| 20.0 * turn.sin());
        assert!(strip.fit(&on(&[turned])).worst < 1e-4);
        let on_the_zero_line = Joint {
            heel: -90.0,
            ..on(&[turned])
        };
        let strip = drawn(|turn| 20.0 * turn.cos() + 3.0);
        assert!((strip.fit(&on_the_zero_line).worst - 3.0 * 0.5_f64.sqrt()).abs() < 1e-3);
    }

    /// A level plate below, and a square tube along the zero line that stands 20 high on one half
    /// of it; the cut steps down where the tube's side is, at turns 0 and 180°.
    #[test]
    fn steps_may_stand_off_but_not_interfere() {
        let plate = Main {
            shape: Shape::Plate,
            offset: 0.0,
            ..MAIN
        };
        let tube = Main {
            shape: Shape::Rectangular {
                width: 60.0,
                height: 40.0,
                corner: 0.0,
                roll: 0.0,
            },
            offset: 30.0,
            ..MAIN
        };
        let joint = on(&[plate, tube]);
        let strip = drawn(|turn| {
            if turn.sin() > 1e-6 || turn == 0.0 {
                20.0
            } else {
                0.0
            }
        });
        let stepped = |at: f64| {
            let mut strip = strip.clone();
            let x = strip.zero - at / TAU * strip.width();
            let (before, after) = strip.cut[0].split_at(1001);
            let before = before.iter().filter(|point| point[0] > x + 1e-9);
            let after = after.iter().filter(|point| point[0] < x - 1e-9);
            let step = [[x, 70.0], [x, 50.0]];
            let line = before.chain(&step).chain(after).copied().collect();
            strip.cut = vec![line];
            strip.fit(&joint).worst
        };
        assert!(stepped(TAU / 2.0) < 1e-4, "{}", stepped(TAU / 2.0));
        assert!(stepped(TAU / 2.0 - 0.02) > 0.3);
        // Without the tube the step would hang in the air, and nothing would seat before it.
        assert!(strip.fit(&on(&[plate])).worst > 19.0);
    }
}
