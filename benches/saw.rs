//! How long the plan of an end takes: a saw that is deep enough, and one for which the least
//! straight cut is looked for.
#![allow(missing_docs)]

use std::hint::black_box;

use copewright::cope::saw::{Blank, PreCutter, reach};
use copewright::job::saw::{PRE_CUT_CLEARANCE, plan_end, read_tools};
use copewright::job::{AtHand, SawTyped, open_form, read};
use copewright::piece::Side;
use copewright::units::{Length, write_fixed};
use criterion::{Criterion, criterion_group, criterion_main};

fn plans(c: &mut Criterion) {
    let form = open_form("v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=50&cut=saw").form;
    let Ok(draft) = read(&form.end(Side::A)) else {
        return;
    };
    let cope = draft.template.cope();
    let blank = Blank::square(cope, Length::ZERO);
    c.bench_function("reach of a saw", |b| {
        b.iter(|| reach(black_box(cope.joint()), Length::from_mm(48.3), &blank));
    });
    c.bench_function("pre-cut of most bulk", |b| {
        b.iter(|| PreCutter::new(black_box(cope), PRE_CUT_CLEARANCE).most_bulk(&blank));
    });
    // Just too shallow for the square blank, so that straight cuts are looked for.
    let Some(needs) = reach(cope.joint(), Length::from_mm(48.3), &blank) else {
        return;
    };
    let shallow = write_fixed(needs.cup().mm() - 0.5, 3);
    for (name, depth) in [("deep saw", "90"), ("shallow saw", shallow.as_str())] {
        let saw = SawTyped {
            diameter: String::from("48.3"),
            depth: String::from(depth),
            ..SawTyped::default()
        };
        let at_hand = AtHand {
            saws: vec![saw],
            ..AtHand::default()
        };
        c.bench_function(&format!("plan of an end, {name}"), |b| {
            b.iter(|| {
                let (tools, _) = read_tools(black_box(&at_hand), draft.unit);
                let template = &draft.template;
                plan_end(
                    template,
                    Side::A,
                    None,
                    draft.unit,
                    &tools,
                    PRE_CUT_CLEARANCE,
                )
            });
        });
    }
}

criterion_group!(benches, plans);
criterion_main!(benches);
