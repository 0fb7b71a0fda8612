//! Left and right.

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, Main, RectangularSection};
use copewright::piece::{
    Between, CentreLine, End, Likeness, Piece, Side, Template, Wrap, likeness,
};
use copewright::units::{Angle, Length};
use proptest::prelude::*;

use crate::{brace, coped, deg, handle, mm, round, same, usual};

/// Mains of every kind, with something of every sign to be mirrored.
fn mains() -> Vec<Main> {
    let section = RectangularSection::new(mm(60.0), mm(40.0), mm(4.0), deg(20.0)).unwrap();
    let bend = Bend::new(mm(150.0), deg(80.0), mm(30.0), deg(35.0)).unwrap();
    vec![
        round(48.3, 60.0, 7.0),
        Main::plate(deg(50.0)).unwrap(),
        Main::mitre(mm(42.4), deg(100.0)).unwrap(),
        Main::rectangular(section, deg(65.0), mm(-5.0)).unwrap(),
        Main::bent(mm(48.3), bend, deg(70.0), mm(4.0)).unwrap(),
    ]
}

fn joints() -> Vec<Joint> {
    let mut joints: Vec<Joint> = mains()
        .into_iter()
        .map(|main| Joint::new(usual(), main).unwrap())
        .collect();
    let second = round(33.7, 55.0, -3.0).turned(deg(110.0)).shifted(mm(-6.0));
    let third = mains()[3].clone().turned(deg(250.0));
    let several = Joint::new(usual(), mains()[0].clone()).unwrap();
    joints.push(several.and(second).unwrap().and(third).unwrap());
    joints
}

#[test]
fn a_mirrored_cut_has_the_height_of_minus_the_turn() {
    for joint in joints() {
        for method in CutMethod::ALL {
            let own = Cope::new(&joint, method, mm(0.8)).unwrap();
            let other = own.mirrored().unwrap();
            for step in 0..720 {
                let turn = deg(f64::from(step) / 2.0 + 0.171);
                let (own, other) = (own.at(turn), other.at(-turn));
                assert!(
                    (own.height() - other.height()).abs() < mm(1e-7),
                    "{joint:?} {method:?} at {}: {own:?} {other:?}",
                    turn.deg()
                );
            }
        }
    }
}

/// Where a piece has its walls in space: the cut of both ends at many turns.
fn outline(piece: &Piece) -> Vec<[f64; 3]> {
    let radius = piece.tube().outside_radius();
    Side::BOTH
        .into_iter()
        .flat_map(|side| {
            let frame = piece.end_frame(side);
            let template = piece.end(side).template().unwrap().clone();
            (0..360).map(move |step| {
                let turn = deg(f64::from(step));
                let [x, y, _] = {
                    let (sin, cos) = turn.rad().sin_cos();
                    [radius.mm() * cos, radius.mm() * sin, 0.0]
                };
                frame.place([x, y, template.cope().at(turn).height().mm()])
            })
        })
        .collect()
}

#[test]
fn a_mirrored_piece_is_the_mirror_image_in_space() {
    for piece in [brace(), handle()] {
        let other = piece.mirrored().unwrap();
        // The mirror holds the tube's axis at end A and the zero line: y changes its sign, and so
        // do turns from the heel.
        let image: Vec<[f64; 3]> = outline(&piece)
            .into_iter()
            .map(|[x, y, z]| [x, -y, z])
            .collect();
        let own = outline(&other);
        for (number, image) in image.iter().enumerate() {
            let (side, step) = (number / 360, number % 360);
            let own = own[side * 360 + (360 - step) % 360];
            for axis in 0..3 {
                assert!((own[axis] - image[axis]).abs() < 1e-6, "{own:?} {image:?}");
            }
        }
        assert_eq!(other.lengths(), piece.lengths());
        assert_eq!(other.marks(mm(0.5)).blank, piece.marks(mm(0.5)).blank);
        let back = other.mirrored().unwrap();
        assert!((back.heel(Side::B).unwrap() - piece.heel(Side::B).unwrap()).abs() < deg(1e-9));
    }
}

fn template(main: Main, heel: f64) -> Template {
    let End::Coped(template) = coped(Side::A, main, heel) else {
        panic!("coped");
    };
    *template
}

#[test]
fn templates_that_serve_both_are_told() {
    let with_partner = |main: Main, heel: f64| {
        let own = template(main, heel);
        likeness(&own, &own.mirrored().unwrap())
    };
    // Without an offset a cut is its own mirror image about the heel.
    assert_eq!(with_partner(round(48.3, 60.0, 0.0), 0.0), Likeness::Same);
    assert_eq!(with_partner(round(48.3, 60.0, 0.0), 180.0), Likeness::Same);
    // Away from the zero line the strip is the same and its zero line is not: heel at 30° here
    // and at −30° there.
    let Likeness::Turned(by) = with_partner(round(48.3, 60.0, 0.0), 30.0) else {
        panic!("not found");
    };
    assert!((by.deg() - 300.0).abs() < 1e-6, "{}", by.deg());
    // With an offset at an angle left and right differ.
    assert_eq!(
        with_partner(round(48.3, 60.0, 5.0), 0.0),
        Likeness::Different
    );
    // Square to the main they are the same again, end for end.
    let Likeness::Turned(by) = with_partner(round(48.3, 90.0, 5.0), 0.0) else {
        panic!("not found");
    };
    assert!((by.deg() - 180.0).abs() < 1e-6, "{}", by.deg());
    // An offset in the other sense is the partner itself.
    let (left, right) = (
        template(round(48.3, 60.0, 5.0), 40.0),
        template(round(48.3, 60.0, -5.0), -40.0),
    );
    assert_eq!(likeness(&left.mirrored().unwrap(), &right), Likeness::Same);
    // Another depth of mark is another strip.
    let cope = left.cope().clone();
    let deeper = Template::new(cope, *left.wrap(), deg(40.0), mm(100.0));
    assert_eq!(likeness(&left, &deeper), Likeness::Different);
}

#[test]
fn check_sums_agree_for_a_pair_and_for_no_slip() {
    for piece in [brace(), handle()] {
        let sum = piece.check_sum();
        assert_eq!(sum.len(), 4);
        let other = piece.mirrored().unwrap();
        assert_eq!(other.check_sum(), sum);
        // The zero line, grip stock and the paper have no part in it.
        assert_eq!(piece.zeroed_at(deg(77.7)).check_sum(), sum);
        let longer = piece.stretched(0, mm(0.05)).unwrap().after;
        assert_ne!(longer.check_sum(), sum);
    }
    // (End A of the brace is its own mirror image: that one would be the same piece.)
    let (piece, other) = (handle(), handle().mirrored().unwrap());
    // A heel mirrored by hand and the other forgotten is another piece.
    let half = Piece::new(
        *piece.tube(),
        [other.end(Side::A).clone(), piece.end(Side::B).clone()],
        piece.line().clone(),
        Between::Centres,
        [mm(0.0); 2],
    )
    .unwrap();
    assert_ne!(half.check_sum(), piece.check_sum());
    // Typed by hand as the other side: offsets and turns with the other sign.
    let ends = [
        coped(Side::A, round(48.3, 60.0, 0.0), 0.0),
        coped(Side::B, round(48.3, 45.0, -5.0), -90.0),
    ];
    let line = CentreLine::straight(mm(600.0));
    let typed = Piece::new(usual(), ends, line, Between::Centres, [mm(15.0); 2]).unwrap();
    assert_eq!(typed.check_sum(), brace().check_sum());
}

/// Any piece on round and rectangular mains, straight or bent.
fn any_piece() -> impl Strategy<Value = Piece> {
    let end = (
        30.0..90.0_f64,
        -8.0..8.0_f64,
        -360.0..360.0_f64,
        -180.0..180.0_f64,
        any::<bool>(),
    );
    let bends = prop::collection::vec(
        (
            60.0..300.0_f64,
            5.0..180.0_f64,
            -360.0..360.0_f64,
            50.0..400.0_f64,
        ),
        0..4,
    );
    ([end.clone(), end], bends, 300.0..900.0_f64).prop_map(|(ends, bends, first)| {
        let mut sides = Side::BOTH.into_iter();
        let ends = ends.map(|(angle, offset, heel, roll, round_main)| {
            let main = if round_main {
                round(48.3, angle, offset)
            } else {
                let section =
                    RectangularSection::new(mm(60.0), mm(40.0), mm(4.0), deg(roll)).unwrap();
                Main::rectangular(section, deg(angle), mm(offset)).unwrap()
            };
            coped(sides.next().unwrap(), main, heel)
        });
        let mut line = CentreLine::straight(mm(first));
        let count = bends.len();
        for (number, (clr, angle, outside, straight)) in bends.into_iter().enumerate() {
            let bend = copewright::piece::TubeBend::new(mm(clr), deg(angle), deg(outside)).unwrap();
            let last = if number + 1 == count { 250.0 } else { 0.0 };
            line = line.bent(bend, mm(straight + last));
        }
        Piece::new(usual(), ends, line, Between::Centres, [mm(0.0); 2]).unwrap()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_pair_agrees(piece in any_piece(), zero in -360.0..360.0_f64) {
        let other = piece.mirrored().unwrap();
        prop_assert_eq!(other.check_sum(), piece.check_sum());
        prop_assert_eq!(other.mirrored().unwrap().check_sum(), piece.check_sum());
        prop_assert_eq!(other.zeroed_at(deg(zero)).check_sum(), piece.check_sum());
        let apart = other.lengths().overall - piece.lengths().overall;
        // Long points are found to well within this from either side.
        prop_assert!(apart.abs() < mm(1e-5), "{:?}", apart);
        for side in Side::BOTH {
            let own = piece.heel(side).unwrap() + other.heel(side).unwrap();
            prop_assert!(own.rad().sin().abs() < 1e-9);
            prop_assert!(same(other.end(side).long_to_mark(), piece.end(side).long_to_mark()));
        }
    }
}

#[test]
fn wraps_and_turns_survive_the_mirror() {
    let own = template(round(48.3, 60.0, 5.0), 40.0);
    let other = own.mirrored().unwrap();
    assert_eq!(other.wrap(), own.wrap());
    assert_eq!(own.wrap(), &Wrap::computed(mm(42.4), mm(0.1)));
    assert!((other.heel_turn().deg() - 320.0).abs() < 1e-9);
    assert_eq!(other.mark_to_long(), own.mark_to_long());
    let width: Length = own.wrap().width();
    // On paper the strokes are mirrored about the zero line.
    for step in 1..48 {
        let turn = Angle::FULL * (f64::from(step) / 48.0);
        let (left, right) = (own.station(turn).point, other.station(-turn).point);
        assert!((left.above_mark - right.above_mark).abs() < mm(1e-7));
        assert!(same(left.around + right.around, width));
    }
}
