//! Sums that must hold whatever the piece is.

use copewright::piece::{
    Between, CentreLine, End, Marks, Piece, Reading, Side, TubeBend, tape_division,
};
use copewright::units::{Length, Unit, nearest_fraction};
use proptest::prelude::*;

use crate::{brace, coped, deg, handle, mm, round, same, usual};

fn any_end(side: Side) -> impl Strategy<Value = End> {
    prop_oneof![
        4 => (20.0..90.0_f64, -25.0..25.0_f64, -360.0..360.0_f64, 30.0..90.0_f64).prop_map(
            move |(angle, offset, heel, main)| coped(side, round(main, angle, offset), heel)
        ),
        1 => Just(End::Square),
        1 => Just(End::AsItIs),
    ]
}

prop_compose! {
    fn any_piece()(
        a in any_end(Side::A),
        b in any_end(Side::B),
        first in 400.0..3000.0_f64,
        more in prop::collection::vec(
            (40.0..300.0_f64, 1.0..180.0_f64, 0.0..360.0_f64, 20.0..500.0_f64),
            0..4,
        ),
        grips in [prop_oneof![Just(0.0), 0.0..120.0_f64], prop_oneof![Just(0.0), 0.0..120.0_f64]],
    ) -> Piece {
        let mut line = CentreLine::straight(mm(first));
        let count = more.len();
        for (number, (clr, angle, outside, straight)) in more.into_iter().enumerate() {
            let last = if number + 1 == count { 400.0 } else { 0.0 };
            let bend = TubeBend::new(mm(clr), deg(angle), deg(outside)).unwrap();
            line = line.bent(bend, mm(straight + last));
        }
        Piece::new(usual(), [a, b], line, Between::Centres, grips.map(mm)).unwrap()
    }
}

fn any_division() -> impl Strategy<Value = Length> {
    prop::sample::select(Unit::ALL.map(tape_division).to_vec())
}

fn adds_up(marks: &Marks) -> Result<(), TestCaseError> {
    for set in [&marks.blank, &marks.finished] {
        prop_assert!(same(set.sum().exact, set.length.exact));
        prop_assert!(same(set.sum().on_tape, set.length.on_tape));
        for side in 0..2 {
            let parts = set.own[side].exact + set.far[side].exact;
            prop_assert!(same(parts, set.length.exact));
            let parts = set.own[side].on_tape + set.far[side].on_tape;
            prop_assert!(same(parts, set.length.on_tape));
        }
        let parts = set.own[0].exact + set.between.exact + set.own[1].exact;
        prop_assert!(same(parts, set.length.exact));
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn lengths_follow_from_the_joint_centres(piece in any_piece()) {
        let lengths = piece.lengths();
        let long = Side::BOTH.map(|side| piece.end(side).centre_to_long());
        // L = C − min s_A − min s_B.
        prop_assert!(same(lengths.overall, lengths.centres - long[0] - long[1]));
        let grips = piece.grip(Side::A) + piece.grip(Side::B);
        prop_assert!(same(lengths.blank, lengths.overall + grips));
        // Typed in any way it is the same piece.
        for between in [Between::Centres, Between::LongPoints, Between::Blank] {
            let straights = piece.straights(between);
            let mut line = CentreLine::straight(straights[0]);
            for (bend, straight) in piece.line().bends().zip(&straights[1..]) {
                line = line.bent(*bend, *straight);
            }
            let total = match between {
                Between::Centres => lengths.centres,
                Between::LongPoints => lengths.overall,
                Between::Blank => lengths.blank,
            };
            prop_assert!(same(line.developed(), total));
            let ends = Side::BOTH.map(|side| piece.end(side).clone());
            let grips = Side::BOTH.map(|side| piece.grip(side));
            let again = Piece::new(usual(), ends, line, between, grips).unwrap();
            for (own, again) in piece.line().straights().into_iter().zip(again.line().straights()) {
                prop_assert!(same(own, again), "{between:?}: {own:?} {again:?}");
            }
        }
    }

    #[test]
    fn marks_add_up_rounded_or_not(piece in any_piece(), division in any_division()) {
        let marks = piece.marks(division);
        adds_up(&marks)?;
        adds_up(&piece.marks(mm(0.0)))?;
        let lengths = piece.lengths();
        prop_assert!(same(marks.blank.length.exact, lengths.blank));
        prop_assert!(same(marks.finished.length.exact, lengths.overall));
        for side in Side::BOTH {
            let number = side.index();
            // Grip stock comes before the long point and is cut off afterwards.
            let beyond = marks.blank.own[number].exact - marks.finished.own[number].exact;
            prop_assert!(same(beyond, piece.grip(side)));
            prop_assert!(same(marks.cut_off[number].exact, piece.grip(side)));
            prop_assert!(same(marks.finished.own[number].exact, piece.end(side).long_to_mark()));
        }
        // Marks lie where they do whatever is cut off.
        prop_assert!(same(marks.blank.between.exact, marks.finished.between.exact));
        for set in [&marks.blank, &marks.finished] {
            let laid_off = [set.length, set.own[0], set.own[1]];
            for reading in laid_off {
                prop_assert!(reading.error().abs() <= division * 0.5 + mm(1e-9));
            }
            for reading in [set.far[0], set.far[1], set.between] {
                prop_assert!(reading.error().abs() <= division * 1.5 + mm(1e-9));
                prop_assert!(same(reading.exact + reading.error(), reading.on_tape));
            }
        }
    }

    #[test]
    fn bends_lie_between_the_ends_one_after_the_other(piece in any_piece()) {
        let marks = piece.marks(mm(0.0));
        let mut from = piece.grip(Side::A);
        for bend in &marks.bends {
            prop_assert!(same(bend.from_blank.exact, from + bend.from_last.exact));
            prop_assert!(same(bend.from_blank.exact, bend.from_long.exact + piece.grip(Side::A)));
            prop_assert!(same(
                bend.from_blank.exact,
                bend.from_mark.exact + marks.blank.own[0].exact
            ));
            prop_assert!(same(bend.arc.exact, bend.clr * bend.angle.rad()));
            from = bend.from_blank.exact + bend.arc.exact;
        }
        let last = *piece.straights(Between::Blank).last().unwrap();
        let last = if marks.bends.is_empty() { last - from } else { last };
        prop_assert!(same(from + last, marks.blank.length.exact));
    }

    #[test]
    fn stretching_adds_the_same_to_everything_beyond(
        piece in any_piece(),
        at in 0..4_usize,
        by in -150.0..500.0_f64,
    ) {
        let straight = at.min(piece.line().straight_count() - 1);
        let room = piece.room(straight).unwrap();
        let by = mm(by).max(-room);
        let stretch = piece.stretched(straight, by).unwrap();
        prop_assert_eq!(&stretch.before, &piece);
        let (before, after) = (piece.marks(mm(0.0)), stretch.after.marks(mm(0.0)));
        adds_up(&after)?;
        for (was, is) in [(&before.blank, &after.blank), (&before.finished, &after.finished)] {
            for (was, is) in [
                (was.length, is.length),
                (was.far[0], is.far[0]),
                (was.far[1], is.far[1]),
                (was.between, is.between),
            ] {
                prop_assert!(same(is.exact, was.exact + by));
            }
            for side in 0..2 {
                prop_assert!(same(is.own[side].exact, was.own[side].exact));
            }
        }
        for (bend, (was, is)) in before.bends.iter().zip(&after.bends).enumerate() {
            let moved = if bend >= straight { by } else { Length::ZERO };
            prop_assert!(same(is.from_blank.exact, was.from_blank.exact + moved));
            prop_assert!(same(is.arc.exact, was.arc.exact));
        }
        let straights = piece.line().straights();
        for (number, (was, is)) in straights.into_iter().zip(stretch.after.line().straights()).enumerate() {
            let longer = if number == straight { by } else { Length::ZERO };
            prop_assert!(same(is, was + longer));
        }
        // And back again.
        let back = stretch.after.stretched(straight, -by).unwrap().after;
        prop_assert!(same(back.lengths().blank, piece.lengths().blank));
        // All that there is can be taken, and no more.
        prop_assert!(piece.stretched(straight, -room).is_ok());
        prop_assert!(piece.stretched(straight, -room - mm(0.01)).is_err());
    }

    #[test]
    fn the_zero_line_moves_no_mark_and_turns_nothing_against_another(
        piece in any_piece(),
        by in -400.0..400.0_f64,
    ) {
        let turned = piece.zeroed_at(deg(by));
        prop_assert_eq!(turned.marks(mm(0.0)).blank, piece.marks(mm(0.0)).blank);
        prop_assert_eq!(turned.lengths(), piece.lengths());
        let apart = |a: copewright::units::Angle, b: copewright::units::Angle| (a - b).rad().sin().abs();
        if let (Some(was), Some(is)) = (piece.turn_between(), turned.turn_between()) {
            prop_assert!(apart(was, is) < 1e-9);
        }
        for side in Side::BOTH {
            if let (Some(was), Some(is)) = (piece.heel(side), turned.heel(side)) {
                prop_assert!(apart(was, is + deg(by)) < 1e-9);
            }
        }
        prop_assert!((turned.centres_apart() - piece.centres_apart()).abs() < mm(1e-6));
    }
}

#[test]
fn a_tape_in_inches_reads_the_fraction_that_is_written() {
    let marks = brace().marks(tape_division(Unit::from_code("in/16").unwrap()));
    let exact = marks.finished.length.exact;
    let mark = nearest_fraction(exact, copewright::units::Denominator::Sixteenth).unwrap();
    assert!(same(marks.finished.length.on_tape, mark.length()));
    assert!(same(marks.finished.length.error(), -mark.remainder));
    let plain = Reading::nearest(mm(10.26), mm(0.0));
    assert_eq!((plain.on_tape, plain.error()), (mm(10.26), mm(0.0)));
}

#[test]
fn a_worked_brace_has_the_numbers_of_its_formulas() {
    // 42.4 on 48.3 mm at 60°, no offset, cut by a saw: s = (r cos φ cos θ + √(R² − r² sin² φ)) /
    // sin θ has its least value between the sides and the toe; here found by walking.
    let s = |angle: f64, offset: f64| {
        let (sin, cos) = angle.to_radians().sin_cos();
        (0..3_600_000)
            .map(|step| {
                let phi = f64::from(step) * std::f64::consts::TAU / 3.6e6;
                let side: f64 = 21.2 * phi.sin() - offset;
                (21.2 * phi.cos() * cos + (24.15_f64.powi(2) - side * side).sqrt()) / sin
            })
            .fold(f64::INFINITY, f64::min)
    };
    let piece = brace();
    let long = [s(60.0, 0.0), f64::NAN];
    assert!((piece.end(Side::A).centre_to_long().mm() - long[0]).abs() < 1e-6);
    let lengths = piece.lengths();
    assert_eq!(lengths.centres, mm(600.0));
    let b = piece.end(Side::B).centre_to_long().mm();
    assert!((lengths.overall.mm() - (600.0 - long[0] - b)).abs() < 1e-6);
    // Marks 50 and 80 mm in leave so much between.
    let [own_a, own_b] = Side::BOTH.map(|side| piece.end(side).long_to_mark().mm());
    assert!(own_a % 10.0 == 0.0 && own_b % 10.0 == 0.0);
    let marks = piece.marks(mm(0.5)).finished;
    assert!((marks.between.exact.mm() - (lengths.overall.mm() - own_a - own_b)).abs() < 1e-9);
    // With whole own distances every distance is rounded by the same.
    for reading in [marks.far[0], marks.far[1], marks.between] {
        assert!(same(reading.error(), marks.length.error()));
    }
    assert!(handle().is_bent() && !piece.is_bent());
}
