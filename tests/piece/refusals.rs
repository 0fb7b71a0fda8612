//! What is refused, in words with a number that helps.

use copewright::cope::{Cope, CutMethod};
use copewright::joint::Joint;
use copewright::piece::{
    Between, CentreLine, Clamps, Clash, End, Piece, PieceError, Side, TubeBend, Wrap,
};
use copewright::units::{Angle, Length, Unit};
use proptest::prelude::*;

use crate::{brace, coped, deg, handle, mm, round, same, tube, usual};

fn square() -> [End; 2] {
    [End::Square, End::Square]
}

fn straight(length: Length) -> Result<Piece, PieceError> {
    let ends = [
        coped(Side::A, round(48.3, 45.0, 0.0), 0.0),
        coped(Side::B, round(48.3, 45.0, 0.0), 180.0),
    ];
    let line = CentreLine::straight(length);
    Piece::new(usual(), ends, line, Between::Centres, [mm(0.0); 2])
}

#[test]
fn cuts_that_meet_say_by_how_much() {
    let Err(PieceError::Body { short_by, .. }) = straight(mm(40.0)) else {
        panic!("taken");
    };
    // That much longer it just holds together, to within the lines' tolerance.
    assert!(straight(mm(40.0) + short_by + mm(0.03)).is_ok());
    assert!(straight(mm(40.0) + short_by - mm(0.03)).is_err());
    // Heels on opposite sides: the cuts lean the same way, so the deepest points do not meet and
    // the body may be shorter than both depths together.
    let depth = straight(mm(500.0)).unwrap().end(Side::A).centre_to_short();
    assert!(mm(40.0) + short_by < depth * 2.0 - mm(10.0));
    let Err(error) = straight(mm(40.0)) else {
        panic!("taken");
    };
    let said = error.sentence(Unit::Millimetre);
    assert!(
        said.contains("nothing is left") && said.contains("longer by"),
        "{said}"
    );
}

#[test]
fn the_shortest_body_is_found_between_the_deepest_points() {
    // Lopsided ends turned against each other in many ways, walked round in fine steps.
    for (heel, offset) in [(180.0, 0.0), (100.0, 7.0), (-130.0, -6.0), (30.0, 9.0)] {
        let ends = [
            coped(Side::A, round(48.3, 45.0, 3.0), 20.0),
            coped(Side::B, round(48.3, 38.0, offset), heel),
        ];
        let line = CentreLine::straight(mm(200.0));
        let piece = Piece::new(usual(), ends, line, Between::Centres, [mm(0.0); 2]).unwrap();
        let templates = Side::BOTH.map(|side| piece.end(side).template().unwrap());
        let least = (0..36_000)
            .map(|step| {
                let turn = deg(f64::from(step) / 100.0);
                let cut = |side: Side| {
                    let template = templates[side.index()];
                    let own = side.own_turn(turn) - template.heel_turn();
                    template.cope().at(own).height()
                };
                mm(200.0) - cut(Side::A) - cut(Side::B)
            })
            .reduce(Length::min)
            .unwrap();
        // But for a millimetre that must be left.
        let room = piece.room(0).unwrap() + mm(1.0);
        assert!((room - least).abs() < mm(0.03), "{room:?} {least:?}");
    }
}

#[test]
fn marks_that_pass_each_other_are_said() {
    let piece = straight(mm(110.0)).unwrap();
    let found = piece.clashes(&Clamps::default());
    let between = piece.marks(mm(0.0)).finished.between.exact;
    assert!(
        matches!(found[..], [Clash::Marks { by }] if same(by, -between)),
        "{found:?} {between:?}"
    );
    assert!(found[0].sentence(Unit::Millimetre).contains("overlap"));
    assert!(
        straight(mm(500.0))
            .unwrap()
            .clashes(&Clamps::default())
            .is_empty()
    );
}

#[test]
fn shortening_by_too_much_names_what_works() {
    let piece = handle();
    let room = piece.room(1).unwrap();
    assert!(same(room, mm(180.0)));
    let Err(error) = piece.stretched(1, mm(-200.0)) else {
        panic!("taken");
    };
    assert_eq!(
        error.sentence(Unit::Millimetre),
        "Straight 2 cannot be shortened by 200 mm. 180 mm is the most that leaves something to cut."
    );
    assert!(piece.stretched(1, -room).is_ok());
    let Err(error) = brace().stretched(0, mm(-700.0)) else {
        panic!("taken");
    };
    assert!(
        error
            .sentence(Unit::Millimetre)
            .starts_with("The piece cannot be shortened by 700 mm.")
    );
    assert_eq!(
        piece.stretched(3, mm(1.0)),
        Err(PieceError::NoStraight {
            number: 3,
            count: 3
        })
    );
    for no_number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e7] {
        assert!(piece.stretched(0, mm(no_number)).is_err(), "{no_number}");
    }
    // A straight that is too short already can be made longer but no shorter.
    let ends = [coped(Side::A, round(48.3, 60.0, 0.0), 0.0), End::Square];
    let bend = TubeBend::new(mm(100.0), deg(90.0), deg(0.0)).unwrap();
    let line = CentreLine::straight(mm(5.0)).bent(bend, mm(200.0));
    let tight = Piece::new(usual(), ends, line, Between::LongPoints, [mm(0.0); 2]).unwrap();
    assert!(tight.room(0).unwrap() < mm(0.0));
    assert!(tight.stretched(0, mm(1.0)).is_ok());
    let Err(error) = tight.stretched(0, mm(-1.0)) else {
        panic!("taken");
    };
    assert!(
        error
            .sentence(Unit::Millimetre)
            .contains("nothing to spare")
    );
}

#[test]
fn straights_that_end_before_they_begin_are_refused() {
    let bend = TubeBend::new(mm(100.0), deg(90.0), deg(0.0)).unwrap();
    let line = CentreLine::straight(mm(100.0))
        .bent(bend, mm(-3.0))
        .bent(bend, mm(100.0));
    let Err(error) = Piece::new(usual(), square(), line, Between::Centres, [mm(0.0); 2]) else {
        panic!("taken");
    };
    assert_eq!(
        error,
        PieceError::Straight {
            number: 1,
            short_by: mm(3.0)
        }
    );
    assert_eq!(
        error.sentence(Unit::Millimetre),
        "Straight 2 ends 3 mm before it begins. Make it longer by at least that."
    );
}

#[test]
fn bends_out_of_range_are_refused() {
    assert!(TubeBend::new(mm(0.0), deg(90.0), deg(0.0)).is_err());
    for angle in [0.0, -10.0, 180.1, f64::NAN] {
        let refused = TubeBend::new(mm(100.0), deg(angle), deg(0.0));
        assert!(
            matches!(refused, Err(PieceError::BendAngle { .. })),
            "{refused:?}"
        );
    }
    assert!(TubeBend::new(mm(100.0), deg(90.0), deg(f64::INFINITY)).is_err());
    let tight = TubeBend::new(mm(21.0), deg(90.0), deg(0.0)).unwrap();
    let line = CentreLine::straight(mm(100.0)).bent(tight, mm(100.0));
    let Err(error) = Piece::new(usual(), square(), line, Between::Centres, [mm(0.0); 2]) else {
        panic!("taken");
    };
    assert_eq!(
        error.sentence(Unit::Millimetre),
        "Bend 1 has a centre-line radius of 21 mm, tighter than the tube itself. It must be over \
         21.2 mm, the tube’s radius."
    );
}

#[test]
fn lengths_grips_and_ends_that_cannot_be_are_refused() {
    let make = |length: f64, grip: f64, ends: [End; 2]| {
        let line = CentreLine::straight(mm(length));
        Piece::new(usual(), ends, line, Between::Centres, [mm(grip), mm(0.0)])
    };
    for length in [f64::NAN, f64::INFINITY, 1e9] {
        let refused = make(length, 0.0, square());
        assert!(
            matches!(refused, Err(PieceError::Length { .. })),
            "{refused:?}"
        );
    }
    assert!(matches!(
        make(-5.0, 0.0, square()),
        Err(PieceError::Body { .. })
    ));
    for grip in [-1.0, f64::NAN, 1e9] {
        let refused = make(500.0, grip, square());
        assert!(
            matches!(refused, Err(PieceError::Grip { side: Side::A, .. })),
            "{refused:?}"
        );
    }
    // An end of another tube, or of another wall.
    for (outside, wall, said) in [
        (33.7, 2.6, "a tube of 33.7 mm"),
        (42.4, 3.2, "another wall"),
    ] {
        let joint = Joint::new(tube(outside, wall), round(48.3, 60.0, 0.0)).unwrap();
        let cope = Cope::new(&joint, CutMethod::Saw, mm(0.0)).unwrap();
        let wrap = Wrap::computed(mm(outside), mm(0.1));
        let end = End::coped(Side::B, cope, wrap, deg(0.0), mm(10.0));
        let Err(error) = make(500.0, 0.0, [End::Square, end]) else {
            panic!("taken");
        };
        let sentence = error.sentence(Unit::Millimetre);
        assert!(
            sentence.starts_with("End B") && sentence.contains(said),
            "{sentence}"
        );
    }
}

/// Every refusal is a sentence with what to do, and shows no debris of a number.
#[test]
fn every_refusal_is_a_sentence() {
    let of_joint = copewright::joint::check_angle(deg(1.0)).unwrap_err();
    let all = [
        PieceError::from(of_joint),
        PieceError::Length { is: mm(1e9) },
        PieceError::Turn { is: deg(f64::NAN) },
        PieceError::Grip {
            side: Side::A,
            is: mm(-1.0),
        },
        PieceError::Grip {
            side: Side::B,
            is: mm(1e9),
        },
        PieceError::BendRadius { is: mm(0.0) },
        PieceError::BendAngle { is: deg(200.0) },
        PieceError::NoStraight {
            number: 4,
            count: 2,
        },
        PieceError::Checks { count: 0 },
        PieceError::Checks { count: 1 },
    ];
    for error in all {
        for unit in Unit::ALL {
            let said = error.sentence(unit);
            assert!(said.ends_with('.') && said.len() > 30, "{said}");
            assert!(!said.contains("NaN") && !said.contains("inf"), "{said}");
        }
    }
}

/// Numbers that nobody should type, and some that one might.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -500.0..2000.0_f64,
        1 => any::<f64>(),
        1 => prop::sample::select(vec![0.0, -0.0, 1e-300, 1e300, f64::NAN, f64::INFINITY]),
    ]
}

proptest! {
    #[test]
    fn whatever_is_typed_makes_a_piece_or_a_sentence(
        numbers in prop::collection::vec(any_number(), 12),
        bends in 0..3_usize,
        coped_ends in any::<bool>(),
        between in prop::sample::select(vec![Between::Centres, Between::LongPoints, Between::Blank]),
    ) {
        let mut next = numbers.into_iter();
        let mut next = || next.next().unwrap();
        let ends = if coped_ends {
            let heels = [next(), next()];
            [
                coped(Side::A, round(48.3, 60.0, 4.0), heels[0]),
                coped(Side::B, round(48.3, 45.0, 0.0), heels[1]),
            ]
        } else {
            square()
        };
        let mut line = CentreLine::straight(mm(next()));
        for _ in 0..bends {
            let bend = TubeBend::new(mm(next()), Angle::from_deg(next() / 10.0), deg(50.0));
            let straight = mm(next());
            match bend {
                Ok(bend) => line = line.bent(bend, straight),
                Err(error) => prop_assert!(error.sentence(Unit::Millimetre).ends_with('.')),
            }
        }
        let grip = if bends < 2 { next() } else { 0.0 };
        match Piece::new(usual(), ends, line, between, [mm(grip), mm(0.0)]) {
            Err(error) => {
                let said = error.sentence(Unit::Millimetre);
                prop_assert!(said.ends_with('.') && !said.contains("NaN"), "{said}");
            }
            Ok(piece) => {
                let marks = piece.marks(mm(0.5));
                for set in [marks.blank, marks.finished] {
                    prop_assert!(same(set.sum().exact, set.length.exact), "{set:?}");
                    prop_assert!(set.length.exact.is_finite() && set.length.on_tape.is_finite());
                }
                for clash in piece.clashes(&Clamps { coping: mm(50.0), bending: mm(100.0) }) {
                    prop_assert!(clash.sentence(Unit::Millimetre).ends_with('.'));
                }
                let density = copewright::stock::Density::STEEL;
                prop_assert!(piece.mass_kg(density).is_finite());
                prop_assert_eq!(piece.mirrored().unwrap().check_sum(), piece.check_sum());
                let (at, by) = (bends.min(piece.line().straight_count() - 1), mm(next()));
                if let Err(error) = piece.stretched(at, by) {
                    prop_assert!(error.sentence(Unit::Millimetre).ends_with('.'));
                }
            }
        }
    }
}
