//! Time of laying out everything that one print makes of a job of 200 pieces.
#![allow(clippy::unwrap_used, missing_docs)]

use std::hint::black_box;

use copewright::job::shop::{
    Blank, Cut, CutNotes, Loss, Saw, Setting, StockBar, cut_list, run_list,
};
use copewright::job::{Draft, PieceDraft, Printer, open_form, read, read_piece};
use copewright::piece::{Clamps, Side};
use copewright::sheet::packet::{JobOrder, Parts, PieceToPrint, TubeCutList, lay_out_job};
use copewright::stock::{Density, Paper};
use copewright::units::{Length, Unit};
use criterion::{Criterion, criterion_group, criterion_main};

/// Numbers that look random and are the same every time.
fn shuffled(number: u32, of: u32) -> u32 {
    let mixed = (number + 1).wrapping_mul(2_654_435_761);
    let mixed = (mixed ^ mixed >> 15).wrapping_mul(2_246_822_519);
    ((mixed ^ mixed >> 13) >> 12) % of
}

fn piece(number: u32) -> (PieceDraft, [Draft; 2]) {
    let pick = |salt: u32, of: u32| shuffled(number * 16 + salt, of);
    let angle = |salt| [90.0, 75.0, 60.0, 45.0, 37.5][pick(salt, 5) as usize];
    let fragment = format!(
        "v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle={}&offset={}&cut=saw&gap=0&turn={}\
         &paper=A4&piece=yes&a=coped&b=coped&measured=centres&count=2&length={}&b-main=60.3\
         &b-angle={}&b-offset=0&b-cut=saw&b-gap=0&b-turn={}",
        angle(1),
        pick(2, 6),
        pick(3, 24) * 15,
        400 + pick(4, 900),
        angle(5),
        pick(6, 24) * 15
    );
    let form = open_form(&fragment).form;
    let ends = Side::BOTH.map(|side| read(&form.end(side)).unwrap());
    let draft = read_piece(&form, [Some(&ends[0]), Some(&ends[1])]).unwrap();
    (draft, ends)
}

fn packet(c: &mut Criterion) {
    let made: Vec<_> = (0..200).map(piece).collect();
    let printer = Printer::new("bench");
    let mut cuts = Vec::new();
    let mut blanks = Vec::new();
    let mut pieces = Vec::new();
    for (at, (draft, ends)) in made.iter().enumerate() {
        for (side, end) in Side::BOTH.into_iter().zip(ends) {
            let joint = end.template.cope().joint();
            cuts.push(Cut {
                piece: String::from("Strut"),
                end: side,
                saw: Saw::Hole(Length::from_mm(48.0)),
                setting: Setting {
                    off_square: Some(joint.off_square()),
                    offset: Some(joint.main().offset()),
                    ..Setting::default()
                },
                count: 2,
                notes: CutNotes::default(),
            });
        }
        blanks.push(Blank {
            name: String::from("Strut"),
            length: draft.marks.blank.length.on_tape,
            count: 2,
        });
        pieces.push(PieceToPrint {
            number: at + 1,
            label: "Strut",
            count: 2,
            done: false,
            draft: Some(draft),
            ends: [Some(&ends[0]), Some(&ends[1])],
            link: "",
            saws: [&[], &[]],
        });
    }
    let stock = [StockBar {
        length: Length::from_mm(6000.0),
        available: None,
    }];
    let loss = Loss {
        kerf: Length::from_mm(3.0),
        trim: Length::from_mm(10.0),
    };
    let list = cut_list(&blanks, &stock, loss).unwrap();
    let run = run_list(&cuts).unwrap();
    let cut_lists = [TubeCutList {
        tube: "42.4 × 2.6 mm",
        kg_per_metre: 2.55,
        blanks: &blanks,
        stock: &stock,
        loss,
        list: &list,
    }];
    let pieces_only = Parts {
        piece_sheets: false,
        ..Parts::USUAL
    };
    for (name, parts) in [
        ("200 pieces, all parts", Parts::USUAL),
        ("200 pieces, without piece sheets", pieces_only),
    ] {
        let order = JobOrder {
            title: "Launching trolley",
            pieces: &pieces,
            pairs: &[],
            unit: Unit::Millimetre,
            density: Some(Density::STEEL),
            clamps: Clamps::default(),
            paper: Paper::A4,
            printer: &printer,
            date: "14 May 2026",
            link: "",
            run_list: Some((&cuts, &run)),
            cut_lists: &cut_lists,
            parts,
        };
        let sheets = lay_out_job(&order, &mut |_, _| true).unwrap().pages.len();
        println!("{name}: {sheets} sheets");
        c.bench_function(&format!("packet, {name}"), |b| {
            b.iter(|| lay_out_job(black_box(&order), &mut |_, _| true).unwrap());
        });
    }
}

criterion_group!(benches, packet);
criterion_main!(benches);
