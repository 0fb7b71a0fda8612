//! How long a cut line takes, from two tubes to points on paper.
#![allow(missing_docs)]

use std::hint::black_box;

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, JointError, Main, RectangularSection, RoundTube};
use copewright::units::{Angle, Length};
use criterion::{Criterion, criterion_group, criterion_main};

fn cut_line(c: &mut Criterion) {
    let cases = [
        ("usual 60 deg", 38.1, 1.65, 44.45, 60.0, 0.0),
        ("offset 45 deg", 38.1, 1.65, 44.45, 45.0, 2.0),
        ("equal 90 deg", 44.45, 1.65, 44.45, 90.0, 0.0),
        ("flush side 60 deg", 38.1, 1.65, 44.45, 60.0, 3.175),
        ("wider than main", 60.0, 3.0, 48.0, 70.0, 4.0),
    ];
    for method in CutMethod::ALL {
        let mut group = c.benchmark_group(format!("cut line, {method:?}"));
        for (name, branch, wall, main, angle, offset) in cases {
            let mm = Length::from_mm;
            let joint = RoundTube::new(mm(branch), mm(wall))
                .and_then(|tube| Joint::round(tube, mm(main), Angle::from_deg(angle), mm(offset)));
            let Ok(joint) = joint else { continue };
            group.bench_function(name, |b| {
                b.iter(|| {
                    let cope = Cope::new(black_box(&joint), method, Length::ZERO);
                    cope.map(|cope| cope.line(Angle::ZERO, mm(120.0), mm(0.01)))
                });
            });
        }
        group.finish();
    }
}

/// A branch of 42.4 × 2.6 mm on every other kind of main.
fn other_mains(c: &mut Criterion) {
    let (mm, deg) = (Length::from_mm, Angle::from_deg);
    let square = |roll| {
        RectangularSection::new(mm(50.0), mm(50.0), mm(6.0), deg(roll))
            .and_then(|section| Main::rectangular(section, deg(60.0), mm(3.0)))
    };
    let bent = |diameter, facing, offset| {
        Bend::new(mm(150.0), deg(90.0), mm(20.0), deg(facing))
            .and_then(|bend| Main::bent(mm(diameter), bend, deg(60.0), mm(offset)))
    };
    let six = || {
        Ok::<_, JointError>(vec![
            Main::round(mm(48.3), deg(60.0), mm(3.0))?,
            Main::round(mm(33.7), deg(45.0), mm(0.0))?
                .turned(deg(160.0))
                .shifted(mm(6.0)),
            Main::plate(deg(50.0))?.turned(deg(95.0)),
            square(30.0)?.turned(deg(250.0)).shifted(mm(-14.0)),
            Main::round(mm(42.4), deg(70.0), mm(4.0))?.turned(deg(300.0)),
            Main::mitre(mm(42.4), deg(120.0))?.turned(deg(20.0)),
        ])
    };
    let cases = [
        ("plate", Main::plate(deg(60.0)).map(|main| vec![main])),
        (
            "mitre",
            Main::mitre(mm(42.4), deg(90.0)).map(|main| vec![main]),
        ),
        ("square tube, flat", square(0.0).map(|main| vec![main])),
        (
            "square tube, corner up",
            square(45.0).map(|main| vec![main]),
        ),
        (
            "bent, outside",
            bent(48.3, 180.0, 0.0).map(|main| vec![main]),
        ),
        (
            "bent, from the side",
            bent(48.3, 90.0, 3.0).map(|main| vec![main]),
        ),
        (
            "bent, equal tubes",
            bent(42.4, 180.0, 0.0).map(|main| vec![main]),
        ),
        (
            "bent, hanging past",
            bent(33.7, 140.0, 12.0).map(|main| vec![main]),
        ),
        ("six mains", six()),
    ];
    for method in CutMethod::ALL {
        let mut group = c.benchmark_group(format!("other mains, {method:?}"));
        for (name, mains) in &cases {
            let Ok(mains) = mains else { continue };
            let joint = RoundTube::new(mm(42.4), mm(2.6)).and_then(|tube| {
                let first = Joint::new(tube, mains[0].clone())?;
                mains[1..]
                    .iter()
                    .try_fold(first, |joint, main| joint.and(main.clone()))
            });
            let Ok(joint) = joint else { continue };
            group.bench_function(*name, |b| {
                b.iter(|| {
                    let cope = Cope::new(black_box(&joint), method, Length::ZERO);
                    cope.map(|cope| cope.line(Angle::ZERO, mm(133.5), mm(0.01)))
                });
            });
        }
        group.finish();
    }
}

criterion_group!(benches, cut_line, other_mains);
criterion_main!(benches);
