//! How long it takes to predict a fit, and to say what went wrong. One fit is asked for at every
//! keystroke and is to stay below 5 ms.
#![allow(missing_docs)]

use std::hint::black_box;

use copewright::cope::fit::{Fit, Seen, Slip, SlipKind, Usual, access, diagnose, sensitivity};
use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, JointError, Main, RectangularSection, RoundTube};
use copewright::units::{Angle, Length};
use criterion::{Criterion, criterion_group, criterion_main};

fn cope(main: Main, method: CutMethod) -> Result<Cope, JointError> {
    let tube = RoundTube::new(Length::from_mm(42.4), Length::from_mm(2.6))?;
    Cope::new(&Joint::new(tube, main)?, method, Length::ZERO)
}

/// Makes a main.
type Make<'a> = &'a dyn Fn() -> Result<Main, JointError>;

fn fits(c: &mut Criterion) {
    let (mm, deg) = (Length::from_mm, Angle::from_deg);
    let round = || Main::round(mm(48.3), deg(60.0), mm(2.0));
    let rectangular = || {
        let section = RectangularSection::new(mm(60.0), mm(40.0), mm(6.0), deg(0.0))?;
        Main::rectangular(section, deg(60.0), mm(0.0))
    };
    let bent = || {
        let bend = Bend::new(mm(150.0), deg(90.0), mm(20.0), deg(30.0))?;
        Main::bent(mm(60.3), bend, deg(60.0), mm(0.0))
    };
    let slip = Slip {
        angle: deg(0.5),
        offset: mm(0.3),
        ..Slip::NONE
    };
    let cases: [(&str, Make); 3] = [
        ("round", &round),
        ("rectangular", &rectangular),
        ("bent", &bent),
    ];
    let mut group = c.benchmark_group("one fit");
    for (name, main) in cases {
        for method in [CutMethod::Saw, CutMethod::Square] {
            let Ok(cope) = main().and_then(|main| cope(main, method)) else {
                continue;
            };
            group.bench_function(format!("{name}, {method:?}"), |b| {
                b.iter(|| Fit::new(black_box(&cope), &slip, Angle::ZERO));
            });
        }
    }
    group.finish();
    let Ok(cope) = round().and_then(|main| cope(main, CutMethod::Saw)) else {
        return;
    };
    c.bench_function("what each slip costs, round", |b| {
        b.iter(|| sensitivity(black_box(&cope), &Usual::default(), 0, Angle::ZERO));
    });
    c.bench_function("access all round", |b| b.iter(|| access(black_box(&cope))));
    let seen = Seen {
        heel: mm(0.0),
        plus: mm(0.9),
        toe: mm(0.1),
        minus: mm(0.8),
    };
    c.bench_function("found wrong, round", |b| {
        b.iter(|| diagnose(black_box(&cope), &seen, 0, None, Angle::ZERO));
    });
    let Ok(off) = Fit::new(&cope, &SlipKind::Angle.slip(0, 0.02), Angle::ZERO) else {
        return;
    };
    c.bench_function("what to grind", |b| {
        b.iter(|| black_box(&off).grind(mm(0.5)))
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20).warm_up_time(std::time::Duration::from_millis(500)).measurement_time(std::time::Duration::from_secs(2));
    targets = fits
}
criterion_main!(benches);
