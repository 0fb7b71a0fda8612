//! Bends against published formulas, tables and worked examples, and the ways to give them.

use copewright::piece::{
    Between, CentreLine, Clamps, Clash, End, Piece, PieceError, Side, TubeBend,
};
use copewright::units::{Length, Unit};
use proptest::prelude::*;

use crate::{coped, deg, handle, mm, round, same, usual};

fn inches(inches: f64) -> Length {
    Length::from_inches(inches)
}

fn bend(clr: Length, angle: f64, outside: f64) -> TubeBend {
    TubeBend::new(clr, deg(angle), deg(outside)).unwrap()
}

#[test]
fn arc_length_is_that_of_the_bender_s_rule() {
    // L = CLR × degrees × .01745 (pertneer.net, "Tube bending"; .01745 is π / 180 to four
    // figures, so within 2e-4 of the length).
    for (clr, degrees) in [(6.0, 90.0), (6.0, 45.0), (4.5, 30.0), (2.0, 180.0)] {
        let rule = clr * degrees * 0.01745;
        let arc = bend(inches(clr), degrees, 0.0).arc().inches();
        assert!((arc / rule - 1.0).abs() < 2.0e-4, "{arc} {rule}");
    }
}

#[test]
fn tangent_length_is_that_of_the_k_chart() {
    // K = tan(angle / 2) for every degree, to be multiplied by the radius: FAA AC 43.13-1B,
    // Table 4-7 (landseaskyspace.com, "AC 43.13-1B p. 4-15"). The table cuts figures off instead
    // of rounding; its last one may be one too small.
    for (degrees, k, last) in [
        (10.0, 0.0874, 1.5e-4),
        (15.0, 0.1316, 1.5e-4),
        (22.0, 0.1943, 1.5e-4),
        (30.0, 0.2679, 1.5e-4),
        (36.0, 0.3249, 1.5e-4),
        (45.0, 0.4142, 1.5e-4),
        (60.0, 0.5773, 1.5e-4),
        (72.0, 0.7265, 1.5e-4),
        (90.0, 1.000, 1.5e-4),
        (105.0, 1.303, 1e-3),
        (120.0, 1.732, 1e-3),
        (135.0, 2.414, 1e-3),
        (150.0, 3.732, 1e-3),
        (160.0, 5.671, 1e-3),
    ] {
        let tangent = bend(mm(100.0), degrees, 0.0).tangent().unwrap().mm() / 100.0;
        assert!((tangent - k).abs() < last, "{degrees}: {tangent} {k}");
    }
}

#[test]
fn offsets_rise_as_far_as_the_multiplier_says() {
    // Two equal bends the opposite way round: the distance between bends is the rise times 1 / sin
    // (multipliers of ask.com, "45 Degree Offset Formula": 10° 5.76, 22½° 2.6, 30° 2.00, 45°
    // 1.414, 60° 1.15). The distance is that between the vertices.
    for (degrees, multiplier) in [
        (10.0, 5.76),
        (22.5, 2.6),
        (30.0, 2.0),
        (45.0, 1.414),
        (60.0, 1.15),
    ] {
        let rise = inches(10.0);
        let between = rise * multiplier;
        let clr = inches(4.0);
        let line = CentreLine::from_legs(
            inches(20.0),
            &[
                (bend(clr, degrees, 180.0), between),
                (bend(clr, degrees, 0.0), inches(20.0)),
            ],
        )
        .unwrap();
        let end = line.frame_at(line.developed());
        // The first bend has its outside away from the zero line, and so rises towards it.
        let rises = end.origin[0] / rise.mm();
        assert!((rises - 1.0).abs() < 0.006, "{degrees}: {rises}");
        // It goes on as it came, and the zero line has come back to its side.
        assert!(end.z[2] > 1.0 - 1e-12 && end.x[0] > 1.0 - 1e-12);
        assert!(end.origin[1].abs() < 1e-9);
    }
}

#[test]
fn bends_in_plan_and_elevation_compound() {
    // A pipe that turns 9° in plan and 12° in elevation turns by about 15° in all, cos = cos 12°
    // cos 9° (Math Forum, question 54110: "approximately 15 degrees or more").
    let line = CentreLine::straight(mm(100.0))
        .bent(bend(mm(50.0), 9.0, 0.0), mm(100.0))
        .bent(bend(mm(50.0), 12.0, 90.0), mm(100.0));
    let along = line.frame_at(line.developed()).z;
    let whole = along[2].acos().to_degrees();
    assert!((whole - 14.96).abs() < 0.005, "{whole}");
}

#[test]
fn a_piece_with_two_bends_develops_as_worked_by_hand() {
    // From the published rules alone (arc: CLR × degrees × π / 180; tangent: CLR × K): a U of
    // 90° bends on 6 in CLR, legs to the vertices 20, 30 and 20 in, open ends.
    // Tangents 6 in, so straights 14, 18 and 14 in; arcs 9.4248 in; 64.8496 in of tube, which
    // starts to bend at 14 and again at 41.4248 in.
    let line = CentreLine::from_legs(
        inches(20.0),
        &[
            (bend(inches(6.0), 90.0, 0.0), inches(30.0)),
            (bend(inches(6.0), 90.0, 0.0), inches(20.0)),
        ],
    )
    .unwrap();
    let near = |is: Length, inches: f64| assert!((is.inches() - inches).abs() < 1e-4, "{inches}");
    for (is, should) in line.straights().into_iter().zip([14.0, 18.0, 14.0]) {
        near(is, should);
    }
    near(line.developed(), 64.8496);
    let ends = [End::AsItIs, End::Square];
    let piece = Piece::new(usual(), ends, line, Between::Blank, [Length::ZERO; 2]).unwrap();
    let marks = piece.marks(Length::ZERO);
    near(marks.bends[0].from_blank.exact, 14.0);
    near(marks.bends[1].from_blank.exact, 41.4248);
    near(marks.bends[1].from_last.exact, 18.0);
    near(marks.bends[0].arc.exact, 9.4248);
    // The legs of a U stand 30 in apart and end side by side.
    near(piece.centres_apart(), 30.0);
}

#[test]
fn a_half_turn_has_no_vertex_and_says_so() {
    for degrees in [180.0, 180.0 - 1e-10] {
        let half_turn = bend(mm(100.0), degrees, 0.0);
        assert_eq!(half_turn.tangent(), None);
        let refused = CentreLine::from_legs(mm(500.0), &[(half_turn, mm(500.0))]);
        let Err(error @ PieceError::NoVertex { bend: 0 }) = refused else {
            panic!("{refused:?}");
        };
        assert_eq!(
            error.sentence(Unit::Millimetre),
            "Bend 1 is a half turn: its straights run side by side and never meet, so nothing can \
             be measured to where they would. Measure to the tangent points instead."
        );
        // By tangent points it is a bend as any other.
        let line = CentreLine::straight(mm(200.0)).bent(half_turn, mm(200.0));
        assert!(line.legs().is_err());
        let end = line.frame_at(line.developed()).origin;
        assert!(
            (end[0] + 200.0).abs() < 1e-6 && end[2].abs() < 1e-6,
            "{end:?}"
        );
    }
}

#[test]
fn a_leg_shorter_than_its_tangents_says_what_is_missing() {
    // Tangents of 100 mm each: 150 mm between vertices lack 50.
    let more = [
        (bend(mm(100.0), 90.0, 0.0), mm(150.0)),
        (bend(mm(100.0), 90.0, 0.0), mm(300.0)),
    ];
    let Err(error) = CentreLine::from_legs(mm(300.0), &more) else {
        panic!("taken");
    };
    assert_eq!(
        error.sentence(Unit::Millimetre),
        "Leg 2 is 150 mm, but its bends take 200 mm of it: 50 mm is missing. Make it longer, or \
         bend on a smaller radius."
    );
    // With 200 mm the two bends follow each other.
    let more = [(more[0].0, mm(200.0)), more[1]];
    let line = CentreLine::from_legs(mm(300.0), &more).unwrap();
    assert!(same(line.straights()[1], mm(0.0)));
}

#[test]
fn the_natural_zero_line_is_the_outside_of_the_first_bend() {
    let piece = handle().zeroed_at(deg(40.0));
    assert!((piece.line().natural_zero().unwrap().deg() - 320.0).abs() < 1e-9);
    let natural = piece.zeroed_at(piece.line().natural_zero().unwrap());
    let outsides: Vec<f64> = natural.line().bends().map(|b| b.outside().deg()).collect();
    assert!((outsides[0] - 0.0).abs() < 1e-9 || (outsides[0] - 360.0).abs() < 1e-9);
    assert!((outsides[1] - 30.0).abs() < 1e-9);
    assert!((natural.heel(Side::B).unwrap().deg() - 200.0).abs() < 1e-9);
    assert!((natural.turn_between().unwrap().deg() - 175.0).abs() < 1e-9);
    // Of a straight piece there is none.
    assert_eq!(crate::brace().line().natural_zero(), None);
}

/// A handle whose first straight is that long between the long point and the bend.
fn with_first(straight: f64) -> Piece {
    let ends = [coped(Side::A, round(48.3, 60.0, 0.0), 0.0), End::Square];
    let line = CentreLine::straight(mm(straight)).bent(bend(mm(120.0), 90.0, 0.0), mm(400.0));
    Piece::new(usual(), ends, line, Between::LongPoints, [mm(0.0); 2]).unwrap()
}

#[test]
fn what_reaches_a_bend_is_caught_with_the_missing_distance() {
    let end = with_first(200.0).end(Side::A).clone();
    let depth = (end.centre_to_short() - end.centre_to_long()).mm();
    let mark = end.long_to_mark().mm();
    assert!(depth > 20.0 && mark > depth);
    let none = Clamps::default();

    assert!(with_first(mark).clashes(&none).is_empty());
    let clash = with_first(mark - 3.0).clashes(&none);
    assert!(
        matches!(clash[..], [Clash::Mark { side: Side::A, bend: 0, missing }] if (missing.mm() - 3.0).abs() < 1e-9),
        "{clash:?}"
    );
    assert_eq!(
        clash[0].sentence(Unit::Millimetre),
        "The mark line of end A lies 3 mm beyond the beginning of bend 1. Mark, wrap and draw the \
         cut before bending, or lengthen the straight there by that much."
    );
    let clash = with_first(depth - 2.5).clashes(&none);
    assert!(
        matches!(clash[..], [Clash::Cut { side: Side::A, bend: 0, missing }] if (missing.mm() - 2.5).abs() < 1e-9),
        "{clash:?}"
    );
    assert_eq!(
        clash[0].sentence(Unit::Millimetre),
        "The cut of end A reaches 2.5 mm into bend 1, where its line is not that of a straight \
         tube. Lengthen the straight there by 2.5 mm or more."
    );
    // A clamp of 60 mm behind the short point wants that much more.
    let clamps = Clamps {
        coping: mm(60.0),
        bending: mm(0.0),
    };
    assert!(with_first(depth + 60.0).clashes(&clamps).is_empty());
    let clash = with_first(depth + 52.0).clashes(&clamps);
    assert!(
        matches!(clash[..], [Clash::Coping { side: Side::A, bend: 0, missing }] if (missing.mm() - 8.0).abs() < 1e-9),
        "{clash:?}"
    );
    // End B is not coped: nothing to clamp there.
    let clamps = Clamps {
        coping: mm(500.0),
        bending: mm(0.0),
    };
    assert_eq!(with_first(300.0).clashes(&clamps).len(), 1);
}

#[test]
fn what_reaches_the_last_bend_is_caught_at_end_b() {
    let with_last = |straight: f64| {
        let ends = [End::AsItIs, coped(Side::B, round(48.3, 50.0, 6.0), 33.0)];
        let turn = |outside| bend(mm(120.0), 40.0, outside);
        let line = CentreLine::straight(mm(500.0))
            .bent(turn(0.0), mm(300.0))
            .bent(turn(70.0), mm(straight));
        Piece::new(usual(), ends, line, Between::LongPoints, [mm(0.0); 2]).unwrap()
    };
    let end = with_last(400.0).end(Side::B).clone();
    let depth = (end.centre_to_short() - end.centre_to_long()).mm();
    let clamps = Clamps {
        coping: mm(35.0),
        bending: mm(0.0),
    };
    assert!(with_last(depth + 35.0).clashes(&clamps).is_empty());
    let clash = with_last(depth - 4.0).clashes(&clamps);
    let [
        Clash::Cut {
            side: Side::B,
            bend: 1,
            missing,
        },
        Clash::Coping {
            side: Side::B,
            bend: 1,
            missing: to_hold,
        },
    ] = clash[..]
    else {
        panic!("{clash:?}");
    };
    assert!(same(missing, mm(4.0)) && same(to_hold, mm(39.0)));
    assert!(same(with_last(depth - 4.0).room(2).unwrap(), mm(-4.0)));
    assert!(
        clash[1]
            .sentence(Unit::Millimetre)
            .contains("39 mm of straight is missing")
    );
}

#[test]
fn the_bender_s_clamp_counts_grip_stock_at_end_a() {
    let piece = handle();
    let straights = piece.straights(Between::LongPoints);
    let clamps = Clamps {
        coping: mm(0.0),
        bending: straights[0] + mm(40.0),
    };
    // 40 mm of grip stock make up for it at the first bend; the second has none.
    let found = piece.clashes(&clamps);
    assert!(
        matches!(found[..], [Clash::Bending { bend: 1, missing }] if same(missing, clamps.bending - straights[1])),
        "{found:?}"
    );
    assert!(
        found[0]
            .sentence(Unit::Millimetre)
            .contains("between bend 1 and bend 2")
    );
    let clamps = Clamps {
        bending: clamps.bending + mm(7.0),
        ..clamps
    };
    let found = piece.clashes(&clamps);
    assert_eq!(found.len(), 2);
    assert_eq!(
        found[0].sentence(Unit::Millimetre),
        "The bender has 7 mm too little straight to hold before bend 1. Leave that much more grip \
         stock at end A and cut it off afterwards."
    );
}

proptest! {
    #[test]
    fn legs_and_straights_lead_back_to_each_other(
        first in 0.0..2000.0_f64,
        more in prop::collection::vec(
            (0.0..2000.0_f64, 10.0..500.0_f64, 0.1..175.0_f64, -400.0..400.0_f64),
            0..6,
        ),
    ) {
        let mut line = CentreLine::straight(mm(first));
        for (straight, clr, angle, outside) in more {
            line = line.bent(bend(mm(clr), angle, outside), mm(straight));
        }
        let legs = line.legs().unwrap();
        let behind: Vec<_> = line.bends().copied().zip(legs[1..].iter().copied()).collect();
        let back = CentreLine::from_legs(legs[0], &behind).unwrap();
        for (own, back) in line.straights().into_iter().zip(back.straights()) {
            prop_assert!((own - back).abs() < mm(1e-8), "{own:?} {back:?}");
        }
        // The vertices are where the legs say: on both straights of a bend, a leg apart.
        let spans = line.spans();
        let vertices: Vec<[f64; 3]> = spans
            .iter()
            .zip(line.bends())
            .map(|(span, bend)| {
                let tangent = bend.tangent().unwrap().mm();
                let ahead = line.frame_at(span.start).place([0.0, 0.0, tangent]);
                let back = line.frame_at(span.end).place([0.0, 0.0, -tangent]);
                for (ahead, back) in ahead.into_iter().zip(back) {
                    assert!((ahead - back).abs() < 1e-6 * (1.0 + tangent), "{ahead} {back}");
                }
                ahead
            })
            .collect();
        for (pair, leg) in vertices.windows(2).zip(&legs[1..]) {
            let [x, y, z] = [0, 1, 2].map(|axis| pair[1][axis] - pair[0][axis]);
            prop_assert!((x.hypot(y).hypot(z) - leg.mm()).abs() < 1e-6 * (1.0 + leg.mm()));
        }
    }

    #[test]
    fn frames_stay_square_and_move_at_the_speed_of_the_tube(
        first in 0.0..500.0_f64,
        more in prop::collection::vec(
            (0.0..500.0_f64, 30.0..300.0_f64, 0.1..180.0_f64, 0.0..360.0_f64),
            0..5,
        ),
        part in -0.1..1.1_f64,
    ) {
        let mut line = CentreLine::straight(mm(first));
        for (straight, clr, angle, outside) in more {
            line = line.bent(bend(mm(clr), angle, outside), mm(straight));
        }
        let along = line.developed() * part;
        let frame = line.frame_at(along);
        let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        for (a, b, is) in [
            (frame.x, frame.x, 1.0),
            (frame.y, frame.y, 1.0),
            (frame.z, frame.z, 1.0),
            (frame.x, frame.y, 0.0),
            (frame.y, frame.z, 0.0),
            (frame.z, frame.x, 0.0),
        ] {
            prop_assert!((dot(a, b) - is).abs() < 1e-9);
        }
        let step = 1e-4;
        let next = line.frame_at(along + mm(step));
        let way = [0, 1, 2].map(|axis| (next.origin[axis] - frame.origin[axis]) / step);
        prop_assert!((dot(way, frame.z) - 1.0).abs() < 1e-4, "{way:?} {frame:?}");
        // No twist: x does not turn about z.
        let turn = [0, 1, 2].map(|axis| (next.x[axis] - frame.x[axis]) / step);
        prop_assert!(dot(turn, frame.y).abs() < 1e-6, "{turn:?}");
    }
}
