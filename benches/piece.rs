//! How long a whole piece takes once its ends are computed: lengths, marks, checks, pair.
#![allow(missing_docs)]

use std::hint::black_box;

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Joint, RoundTube};
use copewright::piece::{
    Between, CentreLine, Clamps, End, Piece, PieceError, Side, TubeBend, Wrap, likeness,
};
use copewright::stock::Density;
use copewright::units::{Angle, Length};
use criterion::{Criterion, criterion_group, criterion_main};

fn ends(tube: RoundTube) -> Result<[End; 2], PieceError> {
    let (mm, deg) = (Length::from_mm, Angle::from_deg);
    let wrap = Wrap::computed(tube.outside(), mm(0.1));
    let end = |side, angle, offset, heel| {
        let joint = Joint::round(tube, mm(48.3), deg(angle), mm(offset))?;
        let cope = Cope::new(&joint, CutMethod::Square, mm(0.0))?;
        Ok::<_, PieceError>(End::coped(side, cope, wrap, deg(heel), mm(10.0)))
    };
    Ok([
        end(Side::A, 60.0, 3.0, 20.0)?,
        end(Side::B, 45.0, -4.0, 110.0)?,
    ])
}

fn line(length: f64, bends: u32) -> Result<CentreLine, PieceError> {
    let (mm, deg) = (Length::from_mm, Angle::from_deg);
    let mut line = CentreLine::straight(mm(length));
    for number in 0..bends {
        let bend = TubeBend::new(mm(150.0), deg(60.0), deg(40.0 * f64::from(number)))?;
        line = line.bent(bend, mm(length));
    }
    Ok(line)
}

fn pieces(c: &mut Criterion) {
    let mm = Length::from_mm;
    let Ok(tube) = RoundTube::new(mm(42.4), mm(2.6)) else {
        return;
    };
    let Ok(ends) = ends(tube) else { return };
    for (name, length, bends) in [
        ("straight", 600.0, 0),
        ("short", 85.0, 0),
        ("bent", 250.0, 3),
    ] {
        let Ok(line) = line(length, bends) else {
            continue;
        };
        let make = || {
            let (ends, line) = (black_box(&ends).clone(), line.clone());
            Piece::new(tube, ends, line, Between::Centres, [mm(20.0), mm(0.0)])
        };
        let Ok(piece) = make() else { continue };
        let mut group = c.benchmark_group(format!("piece, {name}"));
        group.bench_function("made", |b| b.iter(make));
        group.bench_function("marks and checks", |b| {
            b.iter(|| {
                let piece = black_box(&piece);
                (piece.marks(mm(0.5)), piece.clashes(&Clamps::default()))
            });
        });
        group.bench_function("stretched", |b| {
            b.iter(|| black_box(&piece).stretched(0, mm(5.0)));
        });
        group.bench_function("mass", |b| {
            b.iter(|| black_box(&piece).mass_kg(Density::STEEL));
        });
        group.bench_function("mirrored and compared", |b| {
            b.iter(|| {
                let other = black_box(&piece).mirrored().ok()?;
                let templates = [&piece, &other].map(|piece| piece.end(Side::A).template());
                let [Some(own), Some(other_template)] = templates else {
                    return None;
                };
                Some((likeness(own, other_template), other.check_sum()))
            });
        });
        group.finish();
    }
}

criterion_group!(benches, pieces);
criterion_main!(benches);
