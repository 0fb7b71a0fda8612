//! Time of laying out sheets and of writing them as SVG.
#![allow(clippy::unwrap_used, missing_docs)]

use std::hint::black_box;

use copewright::cope::{Cope, CutMethod};
use copewright::job::Printer;
use copewright::joint::{Joint, RoundTube};
use copewright::piece::{Template, Wrap};
use copewright::sheet::{Order, lay_out};
use copewright::stock::Paper;
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

fn sheet(c: &mut Criterion) {
    let printer = Printer::new("bench");
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
