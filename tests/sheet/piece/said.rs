//! What the sheet says: numbers of the kernel, what clashes, what to do and to mind.

use super::*;

/// All texts of a packet, and the one that follows a caption.
fn after<'a>(all: &'a [String], caption: &str) -> &'a str {
    let at = all.iter().position(|text| text == caption);
    &all[at.unwrap_or_else(|| panic!("{caption:?} is nowhere")) + 1]
}

#[test]
fn every_number_is_the_kernels() {
    for (label, made) in made() {
        let piece = made.piece();
        for unit in UNITS {
            let marks = piece.marks(tape_division(unit));
            let packet = sheet_of(&piece, label, unit, Paper::A3, &printer());
            let all: Vec<String> = packet
                .pages
                .iter()
                .flat_map(texts)
                .map(str::to_owned)
                .collect();
            let lengths = piece.lengths();
            let coped = Side::BOTH.map(|side| piece.end(side).template().is_some());
            let mut expected = vec![
                (
                    if piece.is_bent() {
                        "Joint centres apart along tube"
                    } else {
                        "Between joint centres"
                    },
                    write_length(lengths.centres, unit),
                ),
                (
                    "Overall, long point to long point",
                    write_length(lengths.overall, unit),
                ),
                ("Blank, cut to", shown(marks.blank.length, unit)),
                ("Check letters of left and right", piece.check_sum()),
            ];
            let names = [
                [
                    "Mark A from the long point at A",
                    "Mark A to far end",
                    "Mark A from the blank's end at A",
                    "Grip stock to cut off at A",
                ],
                [
                    "Mark B from the long point at B",
                    "Mark B to far end",
                    "Mark B from the blank's end at B",
                    "Grip stock to cut off at B",
                ],
            ];
            for side in Side::BOTH {
                let at = side.index();
                let [own, far, blank, off] = names[at];
                if coped[at] {
                    expected.push((own, shown(marks.finished.own[at], unit)));
                    expected.push((far, shown(marks.finished.far[at], unit)));
                }
                if made.grips[at] > 0.0 {
                    expected.push((off, shown(marks.cut_off[at], unit)));
                    if coped[at] {
                        expected.push((blank, shown(marks.blank.own[at], unit)));
                    }
                }
            }
            if coped == [true, true] {
                expected.push(("Mark to mark", shown(marks.finished.between, unit)));
            }
            if piece.is_bent() {
                let apart = write_length(piece.centres_apart(), unit);
                expected.push(("Joint centres apart in space", apart));
            }
            for (caption, value) in &expected {
                assert_eq!(after(&all, caption), value, "{label}: {caption}");
            }
            for (number, bend) in marks.bends.iter().enumerate() {
                let row = [
                    (number + 1).to_string(),
                    shown(bend.from_blank, unit),
                    shown(bend.from_mark, unit),
                    shown(bend.from_last, unit),
                    write_angle(bend.angle),
                    write_length(bend.clr, unit),
                    shown(bend.arc, unit),
                    write_angle(bend.outside),
                ];
                let found = all.windows(8).any(|texts| texts == row.as_slice());
                assert!(found, "{row:?} is no row of {all:?}");
            }
            if coped == [true, true] {
                let said = all.join(" ");
                let turn = write_angle(piece.turn_between().unwrap());
                let turn = format!("{turn}, sighted along the tube from end A, clockwise");
                assert!(said.contains(&turn), "{turn} not in {said}");
                let [a, b] = marks.finished.far.map(|far| write_bare(far.on_tape, unit));
                let between = marks.finished.between.on_tape;
                let sign = if between < Length::ZERO { "+" } else { "−" };
                let sum = format!(
                    "{a} + {b} {sign} {} = {} {}",
                    write_bare(between.abs(), unit),
                    write_bare(marks.finished.length.on_tape, unit),
                    if unit.is_inch() { "in" } else { "mm" }
                );
                assert!(said.contains(&sum), "{sum} not in {said}");
            }
        }
    }
}

#[test]
fn what_the_tape_shows_and_its_error_make_up_the_length() {
    for (label, made) in made() {
        let piece = made.piece();
        for unit in [Unit::Fraction(Denominator::Sixteenth), Unit::Inch] {
            let marks = piece.marks(tape_division(unit));
            for reading in [marks.blank.length, marks.finished.between] {
                let packet = sheet_of(&piece, label, unit, Paper::A3, &printer());
                let text = shown(reading, unit);
                if reading.exact > Length::ZERO && unit != Unit::Inch {
                    let read = read_length(&text, unit).unwrap();
                    assert!((read - reading.exact).abs() <= unit.shown_step() * 0.5001);
                }
                let marked = Side::BOTH.map(|side| piece.end(side).template().is_some());
                let all: String = packet.pages.iter().map(words).collect();
                assert!(
                    all.contains(&text) || marked != [true, true],
                    "{label}: {text}"
                );
            }
        }
    }
}

#[test]
fn what_clashes_is_said_first() {
    let made = made();
    let half_turn = made
        .iter()
        .find(|(label, _)| *label == "Half turn")
        .unwrap();
    let piece = half_turn.1.piece();
    let clamps = Clamps {
        coping: mm(60.0),
        bending: mm(80.0),
    };
    let clashes = piece.clashes(&clamps);
    assert!(!clashes.is_empty());
    let unit = Unit::Millimetre;
    let packet = sheet_of(&piece, "Half turn", unit, Paper::A4, &printer());
    let sentences: Vec<String> = clashes.iter().map(|clash| clash.sentence(unit)).collect();
    assert_eq!(packet.notes, sentences);
    let all = words(&packet.pages[0]);
    let drawing = all.find("Scale ").unwrap();
    for sentence in sentences {
        assert!(all.find(&sentence).unwrap() < drawing, "{sentence}");
    }
    assert!(
        packet
            .pages
            .iter()
            .any(|page| words(page).contains("Cope first"))
    );
}

#[test]
fn the_sheet_says_what_to_do_and_to_mind() {
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let all: String = packet.pages.iter().map(words).collect::<Vec<_>>().join(" ");
        for needed in [
            "At the bench",
            "zero line",
            "Geometry only.",
            "Fresh edges",
            "toxic fume",
            "14 May 2026",
            "Make 4",
            "end A",
            "end B",
        ] {
            assert!(all.contains(needed), "{label}: {needed:?} is not in {all}");
        }
        assert_eq!(all.contains("Bender:"), piece.is_bent());
        let coped = Side::BOTH
            .iter()
            .any(|side| piece.end(*side).template().is_some());
        assert_eq!(all.contains("Wrap each template"), coped);
        let kg = piece.mass_kg(Density::STEEL);
        let said = |kg: f64| {
            let places = if kg >= 100.0 {
                1
            } else if kg >= 1.0 {
                2
            } else {
                3
            };
            format!("{} kg", copewright::units::write_decimal(kg, places))
        };
        assert!(
            all.contains(&said(kg)) && all.contains(&said(kg * 4.0)),
            "{label}"
        );
    }
}

#[test]
fn left_and_right_show_the_same_letters_and_lengths() {
    for (label, made) in made() {
        let piece = made.piece();
        let other = piece.mirrored().unwrap();
        let of = |piece: &Piece| {
            let packet = sheet_of(piece, label, Unit::Millimetre, Paper::A3, &printer());
            let all = packet.pages.iter().flat_map(texts).map(str::to_owned);
            all.collect::<Vec<String>>()
        };
        let (own, other) = (of(&piece), of(&other));
        for caption in [
            "Check letters of left and right",
            "Overall, long point to long point",
            "Blank, cut to",
        ] {
            assert_eq!(after(&own, caption), after(&other, caption), "{label}");
        }
    }
}
