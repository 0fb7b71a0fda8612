//! Everything has its room: nothing outside, nothing over anything else, as few pages as can be.

use super::drawn::{assert_dimensions, upright};
use super::*;

#[test]
fn nothing_is_outside_and_nothing_over_anything_else() {
    let ways = [
        Orientation::Auto,
        Orientation::Upright,
        Orientation::Sideways,
    ];
    for (label, made) in made() {
        let piece = made.piece();
        for unit in UNITS {
            for paper in [Paper::A4, Paper::Letter] {
                for way in ways {
                    let printer = printer().with_orientation(way);
                    let packet = sheet_of(&piece, label, unit, paper, &printer);
                    assert_good(&packet, 5.0);
                    assert_eq!(packet.turned, way == Orientation::Sideways);
                }
            }
        }
    }
}

#[test]
fn wide_margins_and_corrected_printers_are_kept_to() {
    for (across, along) in [(91.0, 109.0), (109.0, 91.0)] {
        for way in [Orientation::Upright, Orientation::Sideways] {
            let printer = printer()
                .with_margin(mm(25.0))
                .unwrap()
                .with_orientation(way)
                .measured(Ruler::Millimetres, mm(across), mm(along))
                .unwrap();
            for (label, made) in made() {
                let unit = Unit::Fraction(Denominator::Sixteenth);
                let packet = sheet_of(&made.piece(), label, unit, Paper::Letter, &printer);
                for page in &packet.pages {
                    assert_within(page, 25.0);
                }
                assert!(packet.corrected);
            }
        }
    }
}

#[test]
fn pieces_of_every_kind_find_room_for_their_words() {
    // Knuth's multiplicative hash (The Art of Computer Programming 3, 6.4) scatters the sizes.
    let mut state = 1_u32;
    let mut pick = |low: f64, high: f64| {
        state = state.wrapping_add(1);
        let part = f64::from(state.wrapping_mul(2_654_435_761) >> 8) / f64::from(1_u32 << 24);
        low + (high - low) * part
    };
    for round in 0..200_usize {
        let outside = 8.0 * 37.5_f64.powf(pick(0.0, 1.0));
        let tube = RoundTube::new(mm(outside), mm(outside * pick(0.04, 0.2))).unwrap();
        let ends = Side::BOTH.map(|side| {
            if pick(0.0, 1.0) < 0.2 {
                return End::Square;
            }
            let main = outside * pick(1.0, 2.5);
            let offset = pick(-0.2, 0.2) * (main - outside);
            let main = Main::round(mm(main), deg(pick(20.0, 90.0)), mm(offset)).unwrap();
            let cope = Cope::new(&Joint::new(tube, main).unwrap(), CutMethod::Square, mm(0.0));
            let wrap = Wrap::computed(mm(outside), mm(0.1));
            End::coped(side, cope.unwrap(), wrap, deg(pick(0.0, 360.0)), mm(5.0))
        });
        let straight = |pick: &mut dyn FnMut(f64, f64) -> f64| mm(outside * pick(6.0, 30.0));
        let mut line = CentreLine::straight(straight(&mut pick));
        for _ in 0..round % 5 {
            let clr = mm(outside * pick(1.5, 5.0));
            let bend = TubeBend::new(clr, deg(pick(5.0, 180.0)), deg(pick(0.0, 360.0))).unwrap();
            line = line.bent(bend, straight(&mut pick));
        }
        let grips = [0.0, 1.0].map(|_| mm((outside * pick(-3.0, 3.0)).max(0.0)));
        let piece = Piece::new(tube, ends, line, Between::LongPoints, grips).unwrap();
        let unit = UNITS[round % 4];
        let paper = [Paper::A4, Paper::Letter, Paper::A3][round % 3];
        let packet = sheet_of(&piece, "Brace", unit, paper, &printer());
        assert_good(&packet, 5.0);
        let packet = sheet_of(&piece, "Brace", unit, paper, &upright());
        assert_dimensions(&piece, unit, &packet.pages[0]);
    }
}

#[test]
fn a_piece_of_many_bends_goes_on_to_more_sheets() {
    let tube = RoundTube::new(mm(12.0), mm(1.0)).unwrap();
    let mut line = CentreLine::straight(mm(100.0));
    for bend in 0..60_u32 {
        let outside = deg(f64::from(bend) * 47.0);
        let bend = TubeBend::new(mm(40.0), deg(90.0), outside).unwrap();
        line = line.bent(bend, mm(70.0));
    }
    let ends = [End::AsItIs, End::AsItIs];
    let piece = Piece::new(tube, ends, line, Between::Centres, [mm(0.0); 2]).unwrap();
    for way in [Orientation::Upright, Orientation::Sideways] {
        let printer = printer().with_orientation(way);
        let packet = sheet_of(&piece, "Coil", Unit::Millimetre, Paper::A4, &printer);
        assert!(packet.pages.len() > 1);
        for page in &packet.pages {
            assert_within(page, 5.0);
            assert_apart(page);
            assert_clear_of_lines(page);
        }
        // 59 of them have too little straight before them for the bender, and every one is said.
        let all: String = packet.pages.iter().map(words).collect();
        assert_eq!(all.matches("Mind:").count(), packet.notes.len());
        assert_eq!(packet.notes.len(), 59);
        let heads = all.matches("centre-line").count();
        let with_rows = packet
            .pages
            .iter()
            .filter(|page| words(page).contains("centre-line"));
        assert_eq!(heads, with_rows.count());
    }
}

#[test]
fn straight_pieces_take_one_page() {
    for (label, made) in made() {
        if made.more.is_empty() && label.len() < 40 {
            for paper in [Paper::A4, Paper::Letter] {
                let packet = sheet_of(&made.piece(), label, Unit::Millimetre, paper, &printer());
                assert_eq!(packet.pages.len(), 1, "{label}");
            }
        }
    }
}
