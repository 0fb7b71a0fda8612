//! Forms at random that can be read, typed in every style.

use copewright::job::{
    BendField, EndKind, Field, MainField, MainKind, Measured, PieceField, PieceForm,
};
use copewright::piece::Side;
use copewright::units::{Denominator, Unit, write_decimal};
use proptest::prelude::*;

/// A length of so many millimetres, more or less, as somebody types it.
fn typed_length(mm: f64, style: u8, unit: Unit) -> String {
    let sixteenths = (mm.abs() / 25.4 * 16.0).round();
    let (whole, rest) = ((sixteenths / 16.0).floor(), sixteenths % 16.0);
    let sign = if mm < 0.0 { "-" } else { "" };
    let bare_inch = if unit.is_inch() { "" } else { " in" };
    match style % 6 {
        0 => format!("{} mm", write_decimal(mm, 2)),
        1 => format!("{sign}{whole} {rest}/16{bare_inch}"),
        2 => format!("{} in", write_decimal(mm / 25.4, 3)),
        3 => format!("{} cm", write_decimal(mm / 10.0, 2).replace('.', ",")),
        4 => format!("{sign}{whole}-{rest}/16\""),
        _ if unit.is_inch() => write_decimal(mm / 25.4, 4),
        _ => write_decimal(mm, 1),
    }
}

fn typed_angle(deg: f64, style: u8) -> String {
    let text = write_decimal(deg, 1);
    match style % 4 {
        0 => text,
        1 => format!("{text}°"),
        2 => text.replace('.', ","),
        _ => text.replace('-', "−"),
    }
}

/// Numbers of one main: kind, angle, offset, about, shift, roll or facing, station, styles.
type Seat = (usize, f64, f64, f64, f64, f64, f64, u8);

fn seat() -> impl Strategy<Value = Seat> {
    (
        0..5_usize,
        35.0..88.0_f64,
        -9.0..9.0_f64,
        -300.0..300.0_f64,
        -8.0..4.0_f64,
        -170.0..170.0_f64,
        -60.0..60.0_f64,
        any::<u8>(),
    )
}

/// A form with two ends on mains of every kind, straight or bent.
pub fn any_form() -> impl Strategy<Value = PieceForm> {
    let seats = prop::collection::vec(seat(), 4);
    let counts = [1..3_usize, 1..3_usize];
    let turns = [-200.0..200.0_f64, -200.0..200.0_f64];
    let bends = prop::collection::vec((20.0..150.0_f64, -300.0..300.0_f64, any::<u8>()), 0..3);
    let rest = (
        any::<[bool; 2]>(),
        0..3_usize,
        0..5_usize,
        0..6_usize,
        any::<u8>(),
    );
    (seats, counts, turns, bends, rest).prop_map(
        |(seats, counts, turns, bends, ([vertices, landing], measured, unit, square, style))| {
            let unit = [
                Unit::Millimetre,
                Unit::Inch,
                Unit::Fraction(Denominator::Sixteenth),
                Unit::Fraction(Denominator::ThirtySecond),
                Unit::Fraction(Denominator::SixtyFourth),
            ][unit];
            let mut form = PieceForm::usual(unit)
                .as_whole(true)
                .with_measured(Measured::ALL[measured])
                .to_vertices(vertices)
                .with_bends(bends.len())
                .with_text(PieceField::Length, typed_length(1143.0, style, unit))
                .with_text(PieceField::Count, "2")
                .with_text(PieceField::Grip(Side::A), typed_length(38.1, style, unit));
            if square == 0 {
                form = form.with_kind(Side::B, EndKind::Square);
            }
            if square == 1 {
                form = form.with_kind(Side::A, EndKind::AsItIs);
            }
            for (bend, (angle, outside, style)) in bends.into_iter().enumerate() {
                let at = |field| PieceField::Bend(bend, field);
                form = form
                    .with_text(at(BendField::Angle), typed_angle(angle, style))
                    .with_text(at(BendField::Radius), typed_length(127.0, style, unit))
                    .with_text(at(BendField::Outside), typed_angle(outside, style / 4))
                    .with_text(
                        at(BendField::Straight),
                        typed_length(1016.0, style / 2, unit),
                    );
            }
            let mut seats = seats.into_iter();
            for side in Side::BOTH {
                let mut end = form.end(side).with_mains(counts[side.index()]);
                end.landing = landing;
                for main in 0..counts[side.index()] {
                    let (kind, angle, offset, about, shift, turned, station, style) =
                        seats.next().unwrap();
                    let at = |field| Field::OfMain(main, field);
                    end = end
                        .with_kind(main, MainKind::ALL[kind])
                        .with_text(at(MainField::Diameter), typed_length(60.3, 0, unit))
                        .with_text(at(MainField::Width), typed_length(70.0, 0, unit))
                        .with_text(at(MainField::Height), typed_length(50.0, 0, unit))
                        .with_text(at(MainField::Wall), typed_length(4.0, 0, unit))
                        .with_text(at(MainField::Angle), typed_angle(angle, style))
                        .with_text(at(MainField::Offset), typed_length(offset, style, unit))
                        .with_text(at(MainField::Roll), typed_angle(turned, style / 5))
                        .with_text(at(MainField::Facing), typed_angle(turned, style / 7))
                        .with_text(
                            at(MainField::Station),
                            typed_length(station, style / 9, unit),
                        )
                        .with_text(at(MainField::BendRadius), typed_length(250.0, 0, unit));
                    // The first main makes the frame and has no place in it.
                    if main > 0 {
                        let shift = typed_length(shift, style / 2, unit);
                        end = end
                            .with_text(at(MainField::About), typed_angle(about, style / 3))
                            .with_text(at(MainField::Shift), shift);
                    }
                }
                let turn = typed_angle(turns[side.index()], style);
                form = form.with_end(side, end.with_text(Field::Turn, turn));
            }
            form
        },
    )
}

/// What cannot be made proves nothing about what can.
#[test]
fn most_forms_can_be_made() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let mut problems = Vec::new();
    for _ in 0..100 {
        let form = any_form().new_tree(&mut runner).unwrap().current();
        problems.extend(crate::made(&form).err());
    }
    assert!(problems.len() < 30, "{}: {problems:#?}", problems.len());
}
