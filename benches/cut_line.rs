//! How long a cut line takes, from two tubes to points on paper.
#![allow(missing_docs)]

use std::hint::black_box;

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Joint, RoundTube};
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

criterion_group!(benches, cut_line);
criterion_main!(benches);
