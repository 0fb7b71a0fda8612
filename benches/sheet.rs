//! Time of laying out sheets and of writing them as SVG.
#![allow(clippy::unwrap_used, missing_docs)]

use std::hint::black_box;

use copewright::cope::{Cope, CutMethod};
use copewright::job::Printer;
use copewright::joint::{Joint, RoundTube};
use copewright::piece::{
    Between, CentreLine, Clamps, End, Piece, Side, Template, TubeBend, Wrap, tape_division,
};
use copewright::sheet::{Order, PieceOrder, lay_out, lay_out_piece};
use copewright::stock::{Density, Paper};
use copewright::units::{Angle, Length, Unit};
use copewright::write::{Ink, SvgName, svg_inline};
use criterion::{Criterion, criterion_group, criterion_main};

fn template(branch: f64, wall: f64, main: f64) -> Template {
    let mm = Length::from_mm;
    let tube = RoundTube::new(mm(branch), mm(wall)).unwrap();
    let joint = Joint::round(tube, mm(main), Angle::from_deg(60.0), mm(5.0)).unwrap();
    let cope = Cope::new(&joint, CutMethod::Square, Length::ZERO).unwrap();
    let wrap = Wrap::computed(mm(branch), mm(0.1));
    Template::new(cope, wrap, Angle::ZERO, mm(10.0))
}

/// A handle with two bends, coped at both ends.
fn handle() -> Piece {
    let mm = Length::from_mm;
    let ends = Side::BOTH.map(|side| {
        let cope = template(42.4, 2.6, 48.3).cope().clone();
        let wrap = Wrap::computed(mm(42.4), mm(0.1));
        End::coped(side, cope, wrap, Angle::from_deg(25.0), mm(10.0))
    });
    let tube = RoundTube::new(mm(42.4), mm(2.6)).unwrap();
    let bend = |angle, outside| {
        TubeBend::new(mm(125.0), Angle::from_deg(angle), Angle::from_deg(outside)).unwrap()
    };
    let line = CentreLine::straight(mm(250.0))
        .bent(bend(90.0, 0.0), mm(180.0))
        .bent(bend(60.0, 30.0), mm(300.0));
    Piece::new(tube, ends, line, Between::Centres, [mm(40.0), mm(0.0)]).unwrap()
}

fn sheet(c: &mut Criterion) {
    let printer = Printer::new("bench");
    let piece = handle();
    let order = PieceOrder {
        piece: &piece,
        label: "Handle",
        count: 2,
        density: Some(Density::STEEL),
        unit: Unit::Millimetre,
        division: tape_division(Unit::Millimetre),
        clamps: Clamps::default(),
        link: "",
        date: "14 May 2026",
        paper: Paper::A4,
        printer: &printer,
    };
    c.bench_function("layout, piece with two bends", |b| {
        b.iter(|| lay_out_piece(black_box(&order)));
    });
    for (name, template) in [
        ("one sheet", template(42.4, 2.6, 48.3)),
        ("tiled", template(219.1, 6.3, 273.0)),
    ] {
        let order = Order {
            template: &template,
            unit: Unit::Millimetre,
            label: "Drawbar to axle beam",
            link: "https://copewright.example/#v=1&branch=42.4&wall=2.6&main=48.3&angle=60",
            date: "14 May 2026",
            paper: Paper::A4,
            printer: &printer,
            saw: &[],
        };
        c.bench_function(&format!("layout, {name}"), |b| {
            b.iter(|| lay_out(black_box(&order)).unwrap());
        });
        let packet = lay_out(&order).unwrap();
        c.bench_function(&format!("SVG, {name}"), |b| {
            b.iter(|| {
                packet
                    .pages
                    .iter()
                    .map(|page| svg_inline(page, Ink::Black, SvgName::Hidden).unwrap().len())
                    .sum::<usize>()
            });
        });
    }
}

criterion_group!(benches, sheet);
criterion_main!(benches);
