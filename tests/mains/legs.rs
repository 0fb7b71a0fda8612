//! Legs of a bent main that run up along the branch: refused where the two lie in each other, and
//! nowhere else.

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, JointError, Main, RoundTube, Surface};
use copewright::units::{Length, Unit};

use crate::{deg, mm};

/// Sizes in millimetres, angles in degrees.
#[derive(Debug, Clone, Copy)]
struct Typed {
    branch: f64,
    main: f64,
    clr: f64,
    bend: f64,
    station: f64,
    facing: f64,
    angle: f64,
    offset: f64,
}

impl Typed {
    fn main(&self) -> Main {
        let bend = Bend::new(
            mm(self.clr),
            deg(self.bend),
            mm(self.station),
            deg(self.facing),
        );
        Main::bent(
            mm(self.main),
            bend.unwrap(),
            deg(self.angle),
            mm(self.offset),
        )
        .unwrap()
    }

    fn joint(&self) -> Result<Joint, JointError> {
        let tube = RoundTube::new(mm(self.branch), mm(2.6)).unwrap();
        Joint::new(tube, self.main())
    }

    fn reach(&self) -> f64 {
        (self.branch + self.main) / 2.0
    }

    /// The nearest that a leg which goes up the branch comes to its axis, and the angle between
    /// them (degrees), from places along the centre line.
    fn nearest_leg(&self) -> Option<(f64, f64)> {
        let main = self.main();
        let Surface::Bent(tube) = main.surface() else {
            panic!("not bent");
        };
        let half = self.clr * self.bend.to_radians() / 2.0;
        let ends = [half - self.station, -half - self.station];
        let ways = ends.map(|end| {
            let way = if end > ends[0].min(ends[1]) {
                1.0
            } else {
                -1.0
            };
            let place = |along: f64| main.in_branch_frame(tube.centre_line(end + way * along).0);
            let (a, b) = (place(0.0), place(1000.0));
            let aside = (b[0] - a[0]).hypot(b[1] - a[1]);
            let between = aside.atan2(b[2] - a[2]).to_degrees();
            let nearest = (0..8_000)
                .map(|step| place(f64::from(step) * 0.5))
                .map(|[x, y, _]| x.hypot(y))
                .fold(f64::INFINITY, f64::min);
            (between < 5.0).then_some((nearest, between))
        });
        ways.into_iter()
            .flatten()
            .reduce(|a, b| if a.0 < b.0 { a } else { b })
    }
}

/// What a refusal says would do, typed in.
fn remedies(typed: Typed) -> Vec<Typed> {
    let refusal = typed.joint().unwrap_err();
    let JointError::LegAlongBranch {
        between,
        bend,
        station,
    } = refusal
    else {
        panic!("{refusal:?}");
    };
    let sentence = refusal.sentence(Unit::Millimetre);
    let mut found = Vec::new();
    if let Some(bend) = bend {
        let bend = (bend.deg() * 10.0).round() / 10.0;
        assert!(sentence.contains(&format!("{bend}°")), "{sentence}");
        found.push(Typed { bend, ..typed });
    }
    if let Some(station) = station {
        let station = (station.mm() * 10.0).round() / 10.0;
        let said = format!("{} mm", station.abs());
        assert!(sentence.contains(&said), "{sentence} {said}");
        found.push(Typed { station, ..typed });
    }
    assert!(between < deg(5.0));
    found
}

/// A leg straight up the branch, aside by 0.29 CLR: the branch's axis leaves the arc at 45° and
/// the arc's other quarter ends parallel to it.
const SWALLOWED: Typed = Typed {
    branch: 21.3,
    main: 60.3,
    clr: 62.0,
    bend: 90.0,
    station: 0.0,
    facing: 0.0,
    angle: 45.0,
    offset: 0.0,
};

#[test]
fn a_branch_that_begins_inside_a_leg_is_refused_with_what_would_do() {
    // Every generator starts inside: the leg's wall is never met from outside.
    let (aside, _) = SWALLOWED.nearest_leg().unwrap();
    assert!(aside + SWALLOWED.branch / 2.0 < SWALLOWED.main / 2.0);
    let partly = Typed {
        branch: 60.3,
        ..SWALLOWED
    };
    // On the straight part before the bend, with the other leg up along the branch.
    let other_leg = Typed {
        branch: 60.3,
        clr: 31.0,
        angle: 90.0,
        station: -27.0,
        ..SWALLOWED
    };
    let mirrored = Typed {
        station: 27.0,
        ..other_leg
    };
    let nearly = Typed {
        bend: 93.0,
        facing: 4.0,
        ..SWALLOWED
    };
    for typed in [SWALLOWED, partly, other_leg, mirrored, nearly] {
        let remedies = remedies(typed);
        assert!(!remedies.is_empty(), "{typed:?}");
        for remedy in remedies {
            let joint = remedy.joint();
            let joint = joint.unwrap_or_else(|refusal| panic!("{remedy:?} {refusal:?}"));
            for method in CutMethod::ALL {
                let cope = Cope::new(&joint, method, Length::ZERO).unwrap();
                let highest = cope.short_point().height.mm();
                // No generator meets a leg higher than one at 5° to it would.
                assert!(highest.is_finite() && highest < 23.0 * remedy.reach() + 200.0);
            }
        }
    }
}

#[test]
fn a_root_gap_that_reaches_a_leg_along_the_branch_is_refused() {
    // 130 · 0.2929 = 38.076 mm aside, and the two radii add up to 38.05 mm.
    let close = Typed {
        branch: 33.7,
        main: 42.4,
        clr: 130.0,
        ..SWALLOWED
    };
    let joint = close.joint().unwrap();
    assert!(Cope::new(&joint, CutMethod::Saw, mm(0.02)).is_ok());
    assert!(matches!(
        Cope::new(&joint, CutMethod::Saw, mm(0.03)),
        Err(JointError::LegAlongBranch { .. })
    ));
}

#[test]
fn a_usual_joint_on_an_arc_is_refused_only_where_a_leg_lies_in_the_branch() {
    let (mut taken, mut refused) = (0, 0);
    for station in (-80..=80).step_by(8) {
        for angle in (30..=60).step_by(3) {
            for facing in [0.0, 90.0, 180.0] {
                let typed = Typed {
                    branch: 33.7,
                    main: 42.4,
                    clr: 130.0,
                    bend: 90.0,
                    station: f64::from(station),
                    facing,
                    angle: f64::from(angle),
                    offset: 0.0,
                };
                let meets = typed
                    .nearest_leg()
                    .is_some_and(|(aside, _)| aside < typed.reach());
                match typed.joint() {
                    Ok(joint) => {
                        assert!(!meets, "{typed:?} taken");
                        assert!(Cope::new(&joint, CutMethod::Saw, Length::ZERO).is_ok());
                        taken += 1;
                    }
                    Err(refusal) => {
                        assert!(meets, "{typed:?} refused: {refusal:?}");
                        refused += 1;
                    }
                }
            }
        }
    }
    assert!(
        taken > 650 && refused > 5,
        "{taken} taken, {refused} refused"
    );
}
