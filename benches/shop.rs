//! Time of planning 500 pieces: from which bars they come, and in what order they are run.
#![allow(clippy::unwrap_used, missing_docs)]

use std::hint::black_box;

use copewright::job::shop::{
    Blank, Cut, CutNotes, Loss, Saw, Setting, StockBar, cut_list, run_list,
};
use copewright::piece::Side;
use copewright::units::{Angle, Length};
use criterion::{Criterion, criterion_group, criterion_main};

/// Numbers that look random and are the same every time.
fn shuffled(number: u32) -> f64 {
    let mixed = (number + 1).wrapping_mul(2_654_435_761);
    let mixed = (mixed ^ mixed >> 15).wrapping_mul(2_246_822_519);
    f64::from((mixed ^ mixed >> 13) >> 12) / f64::from(1 << 20)
}

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn shop(c: &mut Criterion) {
    let loss = Loss {
        kerf: mm(3.0),
        trim: mm(10.0),
    };
    let bar = |length, available| StockBar {
        length: mm(length),
        available,
    };
    let one = vec![bar(6000.0, None)];
    let three = vec![bar(6000.0, None), bar(4500.0, Some(20)), bar(3000.0, None)];
    let different = |pieces: u32, longest: f64| -> Vec<Blank> {
        (0..pieces)
            .map(|number| Blank {
                name: String::new(),
                length: mm(80.0 + longest * shuffled(number)),
                count: 1,
            })
            .collect()
    };
    let alike: Vec<Blank> = (0..25)
        .map(|number| Blank {
            name: String::new(),
            length: mm((80.0 + 2400.0 * shuffled(number)).round()),
            count: 20,
        })
        .collect();
    for (name, blanks, stock) in [
        (
            "500 different pieces, one stock",
            different(500, 2400.0),
            &one,
        ),
        (
            "500 different pieces, three stocks",
            different(500, 2400.0),
            &three,
        ),
        ("500 long pieces, one stock", different(500, 5500.0), &one),
        ("25 lengths of 20 pieces, one stock", alike, &one),
        ("30 pieces, one stock", different(30, 2400.0), &one),
        ("5000 pieces, three stocks", different(5000, 2400.0), &three),
    ] {
        let list = cut_list(&blanks, stock, loss).unwrap();
        println!(
            "{name}: bought {} m, at least {} m, proven {}",
            list.bought.mm() / 1000.0,
            list.least.mm() / 1000.0,
            list.proven
        );
        c.bench_function(&format!("cut list, {name}"), |b| {
            b.iter(|| cut_list(black_box(&blanks), stock, loss).unwrap());
        });
    }
    for (name, stock) in [("one stock", &one), ("three stocks", &three)] {
        let (mut proven, mut gap) = (0, 0.0);
        for job in 0..200_u32 {
            let pick = |salt: u32, of: f64| of * shuffled(1000 * job + salt);
            let blanks: Vec<Blank> = (0..5 + pick(999, 20.0) as u32)
                .map(|number| Blank {
                    name: String::new(),
                    length: mm((200.0 + pick(2 * number, 2600.0)).round()),
                    count: 1 + pick(2 * number + 1, 20.0) as usize,
                })
                .collect();
            let list = cut_list(&blanks, stock, loss).unwrap();
            proven += usize::from(list.proven);
            gap += (list.bought - list.least) / list.least;
        }
        println!(
            "200 jobs of 5 to 24 lengths, 1 to 20 each, {name}: {proven} proven best, on average \
             {:.3} % above the bound",
            gap / 2.0
        );
    }
    for (name, saws, angles, offsets) in [
        ("8 saws of 10 settings", 8, 5, 2),
        ("3 saws of many settings", 3, 40, 10),
    ] {
        let cuts: Vec<Cut> = (0..1000_u32)
            .map(|number| {
                let pick =
                    |salt: u32, of: u32| (shuffled(number * 8 + salt) * f64::from(of)).floor();
                Cut {
                    piece: String::new(),
                    end: if number.is_multiple_of(2) {
                        Side::A
                    } else {
                        Side::B
                    },
                    saw: Saw::Hole(mm(20.0 + pick(1, saws))),
                    setting: Setting {
                        off_square: Some(Angle::from_deg(pick(2, angles))),
                        offset: Some(mm(pick(3, offsets))),
                        ..Setting::default()
                    },
                    count: 1,
                    notes: CutNotes::default(),
                }
            })
            .collect();
        let list = run_list(&cuts).unwrap();
        println!(
            "{name}: {} set-ups, {} saved, effort {} against {}, proven {}",
            list.set_ups,
            list.saved(),
            list.effort,
            list.effort_in_piece_order,
            list.proven
        );
        c.bench_function(&format!("run list, 500 pieces, {name}"), |b| {
            b.iter(|| run_list(black_box(&cuts)).unwrap());
        });
    }
}

criterion_group!(benches, shop);
criterion_main!(benches);
