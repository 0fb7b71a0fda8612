//! Reading agrees with writing, and no text whatever gets past or breaks the reader.

use proptest::prelude::*;

use super::*;
use crate::units::{Denominator, write_angle, write_bare, write_length};

/// What float arithmetic may add to a rounding, mm.
const FLOAT_SLACK: f64 = 1e-9;

fn unit() -> impl Strategy<Value = Unit> {
    prop::sample::select(Unit::ALL.to_vec())
}

/// Plain lengths, and lengths a hair beside a tape mark or halfway between two.
fn any_length() -> impl Strategy<Value = Length> {
    prop_oneof![
        (-5000.0..=5000.0).prop_map(Length::from_mm),
        (-2.0..=2.0).prop_map(Length::from_mm),
        (-25_000..=25_000, -1e-3..=1e-3)
            .prop_map(|(parts, beside)| { Length::from_inches(f64::from(parts) / 128.0 + beside) }),
        (-500_000..=500_000).prop_map(|hundredths| Length::from_mm(f64::from(hundredths) / 100.0)),
    ]
}

/// Texts made of the pieces that lengths are made of, in any order.
fn pieces() -> impl Strategy<Value = String> {
    let piece = prop::sample::select(vec![
        "0", "1", "5", "8", "10", "16", "99999", ".", ",", "/", "⁄", " ", "\u{a0}", "-", "−", "+",
        "'", "\"", "″", "½", "⅞", "mm", "cm", "m", "in", "ft", "°", "deg", "e", "x", "\n",
        "\u{202e}",
    ]);
    prop::collection::vec(piece, 0..10).prop_map(|pieces| pieces.concat())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn a_written_length_reads_back_within_what_is_shown(length in any_length(), unit in unit(), other in unit()) {
        let slack = unit.shown_step().mm() / 2.0 + FLOAT_SLACK;
        for (text, job) in [
            (write_length(length, unit), other),
            (write_length(length, unit), unit),
            (write_bare(length, unit), unit),
        ] {
            let back = read_length(&text, job).map_err(|error| TestCaseError::fail(error.to_string()))?;
            prop_assert!((back - length).abs().mm() <= slack, "{text}: {} mm for {} mm", back.mm(), length.mm());
            prop_assert!(!text.starts_with("−0 ") && text != "−0" && !text.contains("-"), "{text}");
        }
    }

    #[test]
    fn a_written_angle_reads_back_within_what_is_shown(deg in -360.0..=360.0_f64) {
        let text = write_angle(Angle::from_deg(deg));
        let back = read_angle(&text).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert!((back.deg() - deg).abs() <= 0.005 + FLOAT_SLACK, "{text}");
    }

    #[test]
    fn every_fraction_of_the_tape_is_read_exactly(whole in 0_u32..200, top in 0_u32..64, negative: bool) {
        let inches = f64::from(whole) + f64::from(top) / 64.0;
        let sign = if negative { "-" } else { "" };
        let length = Length::from_inches(if negative { -inches } else { inches });
        for text in [format!("{sign}{whole} {top}/64"), format!("{sign}{whole}-{top}/64\"")] {
            prop_assert_eq!(read_length(&text, Unit::Fraction(Denominator::Sixteenth)), Ok(length + Length::ZERO));
        }
    }

    #[test]
    fn any_text_gives_a_length_within_the_limit_or_a_sentence(
        text in prop_oneof![pieces(), any::<String>()],
        unit in unit(),
    ) {
        match read_length(&text, unit) {
            Ok(length) => prop_assert!(length.abs() <= LENGTH_LIMIT, "{text}"),
            Err(error) => {
                let sentence = error.to_string();
                prop_assert!(error.at <= text.chars().count());
                prop_assert!(read_length(error.example, unit).is_ok(), "{sentence}");
                prop_assert!(sentence.ends_with(error.example), "{sentence}");
                prop_assert!(!sentence.contains(char::is_control), "{sentence:?}");
            }
        }
        match read_angle(&text) {
            Ok(angle) => prop_assert!(angle.abs() <= ANGLE_LIMIT, "{text}"),
            Err(error) => prop_assert!(read_angle(error.example).is_ok(), "{error}"),
        }
    }
}
