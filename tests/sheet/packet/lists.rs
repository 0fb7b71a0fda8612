//! Contents, run list and cut list: all of the job is on them, and their sums are right.

use copewright::job::shop::{Cut, CutNotes, Saw, Setting, run_list};
use copewright::piece::Side;
use copewright::sheet::packet::{PacketError, Parts, lay_out_job};
use copewright::units::write_decimal;

use super::jobs::{self, Job, NONE};
use crate::common::*;
use crate::pages::{assert_apart, assert_within};

/// Boxes to tick: outlined squares of 3.4 mm.
fn boxes(page: &Drawing) -> usize {
    let square = |item: &&Item| match item {
        Item::Stroke {
            layer: Layer::Frame,
            points,
            closed: true,
            filled: false,
            ..
        } => points.len() == 4 && ((points[1].x - points[0].x).abs() - 3.4).abs() < 1e-9,
        _ => false,
    };
    page.items.iter().filter(square).count()
}

fn jobs() -> Vec<Job> {
    let mut many = jobs::random(7, 4, (42.4, 2.6));
    // More of one cut than a line of boxes takes, and more than a sheet.
    for (cut, count) in many.cuts.iter_mut().zip([30, 999, 2000]) {
        cut.count = count;
    }
    many.run = run_list(&many.cuts).unwrap();
    vec![
        jobs::trolley(),
        jobs::in_inches(),
        jobs::random(1, 30, (42.4, 2.6)),
        many,
    ]
}

#[test]
fn the_run_list_has_a_box_for_every_cut() {
    for job in jobs() {
        let parts = Parts {
            run_list: true,
            ..NONE
        };
        let packet = job.print(Paper::A4, &printer(), parts).unwrap();
        let wanted: usize = job.cuts.iter().map(|cut| cut.count).sum();
        assert_eq!(packet.pages.iter().map(boxes).sum::<usize>(), wanted);
        let all: String = packet.pages.iter().map(|page| words(page) + " ").collect();
        for cut in &job.cuts {
            let name = format!("{}, {}", cut.piece, cut.end.name());
            assert!(all.contains(&name), "{name} not in {all}");
        }
        let set_ups = all.matches("set-up ").count();
        assert!(set_ups >= job.run.set_ups, "{set_ups}");
        assert!(all.contains(&format!("{wanted} cuts: {} set-ups", job.run.set_ups)));
        if job.run.saved() > 0 {
            let saved = format!(
                "instead of {} in piece order: {} saved",
                job.run.set_ups_in_piece_order,
                job.run.saved()
            );
            assert!(all.contains(&saved), "{all}");
        }
    }
}

#[test]
fn masses_on_the_cut_list_add_up() {
    for job in jobs() {
        let parts = Parts {
            cut_list: true,
            ..NONE
        };
        let packet = job.print(Paper::Letter, &printer(), parts).unwrap();
        let all: String = packet.pages.iter().map(|page| words(page) + " ").collect();
        // The mass of a metre, π (D − t) t ρ, times all lengths.
        let sum: f64 = job
            .blanks
            .iter()
            .map(|blank| blank.length.mm() / 1000.0 * blank.count as f64 * job.kg_per_metre)
            .sum();
        let kg = format!("{} kg", write_decimal(sum, 2));
        assert!(all.matches(&kg).count() >= 2, "{kg} not twice in {all}");
        for blank in &job.blanks {
            let one = blank.length.mm() / 1000.0 * job.kg_per_metre;
            assert!(all.contains(&format!("{} kg", write_decimal(one, 2))));
            assert!(all.contains(&write_length(blank.length, job.unit)));
        }
        if job.unit.is_inch() {
            // 1 lb = 0.45359237 kg, the international avoirdupois pound of 1959.
            let lb = format!("{} lb", write_decimal(sum / 0.453_592_37, 2));
            assert!(all.contains(&lb), "{lb} not in {all}");
        } else {
            assert!(!all.contains(" lb"));
        }
        assert!(all.contains("Proven: no way of cutting takes less"));
    }
}

#[test]
fn bars_are_drawn_to_scale_with_all_their_pieces() {
    let job = jobs::trolley();
    let parts = Parts {
        cut_list: true,
        ..NONE
    };
    let packet = job.print(Paper::A4, &printer(), parts).unwrap();
    let drawn: Vec<f64> = strokes(&packet.pages[0], Layer::Tube)
        .iter()
        .filter(|(pen, _)| *pen == Pen::THIN)
        .map(|(_, points)| points[1].x - points[0].x)
        .collect();
    let bar = &job.list.bars[0];
    assert_eq!((job.list.bars.len(), bar.count), (1, 1));
    let lengths: Vec<f64> = bar
        .cuts
        .iter()
        .flat_map(|cut| vec![job.blanks[cut.blank].length.mm(); cut.count])
        .collect();
    assert_eq!(drawn.len(), lengths.len());
    for (drawn, length) in drawn.iter().zip(&lengths) {
        let ratio = drawn / length * lengths[0];
        let first = strokes(&packet.pages[0], Layer::Tube)
            .iter()
            .find(|(pen, _)| *pen == Pen::THIN)
            .map_or(0.0, |(_, points)| points[1].x - points[0].x);
        assert!((ratio - first).abs() < 1e-9, "{ratio} {first}");
    }
}

#[test]
fn the_contents_name_every_piece_and_its_sheets() {
    for job in jobs() {
        let packet = job.print(Paper::A4, &printer(), Parts::USUAL).unwrap();
        let total = packet.pages.len();
        for (at, page) in packet.pages.iter().enumerate() {
            let number = format!("packet {} of {total}", at + 1);
            assert!(
                words(page).contains(&number),
                "{number} not in {}",
                words(page)
            );
        }
        let contents: String = packet
            .pages
            .iter()
            .filter(|page| words(page).contains("contents"))
            .map(|page| words(page) + " ")
            .collect();
        for (at, piece) in job.pieces.iter().enumerate() {
            assert!(contents.contains(&piece.label), "{}", piece.label);
            if piece.draft.is_none() {
                continue;
            }
            // Its own sheet is the one that the contents say.
            let title = format!("{} · {}", at + 1, piece.label);
            let page = packet
                .pages
                .iter()
                .position(|page| texts(page).contains(&title.as_str()))
                .unwrap();
            assert!(contents.contains(&format!(" {}", page + 1)));
        }
        assert!(contents.contains("A bank card fits"));
        assert!(contents.contains("Geometry only."));
        assert!(contents.contains("Left out: tables."));
    }
}

#[test]
fn what_is_left_out_is_said() {
    let parts = Parts {
        contents: true,
        ..NONE
    };
    let packet = jobs::trolley().print(Paper::A4, &printer(), parts).unwrap();
    assert_eq!(packet.pages.len(), 1);
    let all = words(&packet.pages[0]);
    for left in ["cut list", "run list", "piece sheets"] {
        assert!(all.contains(left), "{left} not in {all}");
    }
}

#[test]
fn a_done_piece_is_only_listed() {
    let mut job = jobs::trolley();
    let before = job.print(Paper::A4, &printer(), Parts::USUAL).unwrap();
    job.pieces[1].done = true;
    let packet = job.print(Paper::A4, &printer(), Parts::USUAL).unwrap();
    assert!(packet.pages.len() < before.pages.len());
    let named = packet
        .pages
        .iter()
        .filter(|page| words(page).contains("2 · Left brace"))
        .count();
    assert_eq!(named, 0);
    assert!(words(&packet.pages[0]).contains("done, not"));
}

#[test]
fn a_packet_of_nothing_is_refused() {
    let nothing = jobs::trolley().print(Paper::A4, &printer(), NONE);
    assert_eq!(nothing, Err(PacketError::Nothing));
    assert!(PacketError::Nothing.sentence().contains("Choose"));
}

#[test]
fn the_work_can_be_stopped_after_every_step() {
    let job = jobs::trolley();
    let printer = printer();
    job.with((Paper::A4, &printer), Parts::USUAL, |order| {
        let mut told = Vec::new();
        let packet = lay_out_job(order, &mut |done, of| {
            told.push((done, of));
            true
        });
        assert!(packet.is_ok());
        assert!(
            told.windows(2).all(|pair| pair[0].0 <= pair[1].0),
            "{told:?}"
        );
        assert!(told.iter().all(|(done, of)| done <= of), "{told:?}");
        for stop in 0..told.len() {
            let mut steps = 0;
            let packet = lay_out_job(order, &mut |_, _| {
                steps += 1;
                steps <= stop
            });
            assert_eq!(packet, Err(PacketError::Cancelled));
            assert_eq!(steps, stop + 1, "it went on");
        }
    });
}

#[test]
fn lists_stay_within_the_margin_and_words_apart() {
    let parts = Parts {
        contents: true,
        cut_list: true,
        run_list: true,
        ..NONE
    };
    for job in jobs() {
        for (paper, way, margin) in [
            (Paper::A4, Orientation::Upright, 10.0),
            (Paper::Letter, Orientation::Sideways, 25.0),
            (Paper::Tabloid, Orientation::Upright, 4.0),
        ] {
            let printer = printer()
                .with_margin(mm(margin))
                .unwrap()
                .with_orientation(way)
                .measured(Ruler::Millimetres, mm(99.0), mm(101.0))
                .unwrap();
            let packet = job.print(paper, &printer, parts).unwrap();
            for page in &packet.pages {
                assert_within(page, margin);
                assert_apart(page);
            }
        }
    }
}

/// A saw's heading stands with its first set-up, wherever on a sheet it comes.
#[test]
fn no_saw_is_named_at_the_foot_of_a_sheet_alone() {
    let mut job = jobs::random(7, 4, (42.4, 2.6));
    let first = job.cuts[0].clone();
    let setting = first.setting;
    for count in 1..40 {
        job.cuts = [(60.3, count), (48.3, 3)]
            .into_iter()
            .flat_map(|(saw, set_ups)| (0..set_ups).map(move |turn| (saw, turn)))
            .map(|(saw, turn)| Cut {
                saw: Saw::Hole(mm(saw)),
                setting: Setting {
                    turn: Some(Angle::from_deg(f64::from(turn))),
                    ..setting
                },
                count: 1,
                ..first.clone()
            })
            .collect();
        job.run = run_list(&job.cuts).unwrap();
        let parts = Parts {
            run_list: true,
            ..NONE
        };
        let packet = job.print(Paper::A4, &printer(), parts).unwrap();
        for page in &packet.pages {
            let lowest = |word: &str| {
                let texts = page.items.iter().filter_map(|item| match item {
                    Item::Text { at, text, .. } if text.starts_with(word) => Some(at.y),
                    _ => None,
                });
                texts.fold(f64::NEG_INFINITY, f64::max)
            };
            let (saw, set_up) = (lowest("Hole saw"), lowest("set-up"));
            assert!(saw < set_up, "{count} set-ups: {saw} mm, {set_up} mm");
        }
    }
}

/// Offsets have a side and no sign, numbers are those of the cuts themselves, and the saw at hand
/// has its own name.
#[test]
fn the_run_list_says_what_the_plan_says() {
    let mut job = jobs::in_inches();
    let inch = Length::from_inches;
    let cut = |place: usize, off: f64, offset: f64, turn: f64| Cut {
        piece: format!("Brace {place}"),
        end: Side::B,
        saw: Saw::Hole(inch(1.985)),
        setting: Setting {
            off_square: Some(Angle::from_deg(off)),
            offset: Some(inch(offset)),
            turn: Some(Angle::from_deg(turn)),
            first: Some(Side::B),
        },
        count: 2,
        notes: CutNotes {
            saw: String::from("deep one"),
            rpm: Some(172.3),
            bites: (place == 1).then_some(2),
            pre_cut: (place == 1).then_some(Angle::from_deg(51.0)),
        },
    };
    job.cuts = vec![
        cut(1, 41.8103, -0.375, 288.4349),
        // The same set-up, then the same angle at another turn.
        cut(2, 41.815, -0.375, 288.44),
        cut(3, 41.82, -0.375, 19.4712),
        cut(4, 41.82, 0.375, 19.4712),
        cut(5, 41.82, 0.0, 19.4712),
    ];
    job.run = run_list(&job.cuts).unwrap();
    assert_eq!(job.run.set_ups, 4);
    for paper in [Paper::A4, Paper::Letter] {
        let parts = Parts {
            run_list: true,
            ..NONE
        };
        let packet = job.print(paper, &printer(), parts).unwrap();
        packet.pages.iter().for_each(assert_apart);
        let said: String = packet.pages.iter().map(|page| words(page) + " ").collect();
        for part in [
            String::from("Hole saw 2 − 0.015 in, “deep one”"),
            String::from("10 cuts in 4 set-ups, about 170 turns a minute"),
            String::from("3/8\" right"),
            String::from("3/8\" left"),
            String::from("offset none"),
            String::from("288.43°"),
            String::from("19.47°"),
            String::from("end at the saw B"),
            String::from("Brace 1, end B: 2 cuts, pre-cut first 51°, 2 bites"),
            String::from("seen from behind the saw with the tube’s body upwards"),
        ] {
            assert!(said.contains(&part), "“{part}” not in {said}");
        }
        for part in ["−3", "goes in first", "288.45", "19.45"] {
            assert!(!said.contains(part), "“{part}” in {said}");
        }
        // A dial that stays shows the same number all along: here that of the first cut run.
        let angles: Vec<&str> = ["41.81°", "41.82°"]
            .into_iter()
            .filter(|angle| said.contains(angle))
            .collect();
        assert_eq!(angles.len(), 1, "{said}");
        assert_eq!(said.matches(angles[0]).count(), 4, "{said}");
    }
}
