//! What is read, what is refused and in which words, and that reading agrees with writing.
#![allow(clippy::unwrap_used, clippy::panic)]

use super::*;
use crate::units::{Denominator, Problem};

const SIXTEENTHS: Unit = Unit::Fraction(Denominator::Sixteenth);

/// Reads in sixteenths and returns inches.
fn inches(text: &str) -> f64 {
    match read_length(text, SIXTEENTHS) {
        Ok(length) => length.inches(),
        Err(error) => panic!("{error}"),
    }
}

/// Reads in millimetres and returns them.
fn mm(text: &str) -> f64 {
    match read_length(text, Unit::Millimetre) {
        Ok(length) => length.mm(),
        Err(error) => panic!("{error}"),
    }
}

fn degrees(text: &str) -> f64 {
    match read_angle(text) {
        Ok(angle) => angle.deg(),
        Err(error) => panic!("{error}"),
    }
}

fn close(is: f64, should: f64, text: &str) {
    assert!((is - should).abs() < 1e-9, "{text}: {is}, not {should}");
}

#[test]
fn inches_are_read_as_a_tape_is_read() {
    for text in [
        "10 5/8",
        "10-5/8",
        "10 5/8\"",
        "10-5/8\"",
        "10 5/8 in",
        "10 5/8in.",
        "10 5/8 INCHES",
        "10 5/8″",
        "10 5/8”",
        "10 5/8''",
        "10 5/8′′",
        "10 5/8 ''",
        "10⅝",
        "10 ⅝",
        "10-⅝\"",
        "10 5⁄8",
        "10 5 / 8",
        "  10   5/8   ",
        "\u{a0}10\u{a0}5/8\u{202f}",
        "\u{feff}10 5/8",
        "10‑5/8",
        "10–5/8",
        "10.625",
        "10,625",
        "10.625 in",
        "+10 5/8",
        "85/8",
        "26.9875 cm",
        "269.875 mm",
        "0.269875 m",
        "10 10/16",
    ] {
        close(inches(text), 10.625, text);
    }
    for (text, should) in [
        (".095", 0.095),
        (",095", 0.095),
        ("1/2", 0.5),
        ("½", 0.5),
        ("½\"", 0.5),
        ("5.", 5.0),
        ("0", 0.0),
        ("007", 7.0),
        ("1.25 in", 1.25),
        ("1 1/3", 4.0 / 3.0),
    ] {
        close(inches(text), should, text);
    }
}

#[test]
fn feet_take_inches_behind_them() {
    for text in [
        "2' 3 1/2\"",
        "2'3 1/2\"",
        "2' 3-1/2\"",
        "2'-3 1/2\"",
        "2' - 3 1/2\"",
        "2’ 3½”",
        "2′3½″",
        "2 ft 3 1/2 in",
        "2ft3.5in",
        "2 feet 3 1/2 inches",
        "2 FT. 3 1/2 IN.",
        "2' 3.5",
        "2' 3 1/2''",
        "27 1/2",
    ] {
        close(inches(text), 27.5, text);
    }
    close(inches("2 ft"), 24.0, "2 ft");
    close(inches("2 1/2 ft"), 30.0, "2 1/2 ft");
    close(inches("2' ½\""), 24.5, "2' ½\"");
    close(inches("-2' 3\""), -27.0, "-2' 3\"");
}

#[test]
fn a_bare_number_takes_the_unit_of_the_job_and_any_other_keeps_its_own() {
    close(mm("31,75 mm"), 31.75, "31,75 mm");
    close(mm("31.75"), 31.75, "31.75");
    close(mm("3 cm"), 30.0, "3 cm");
    close(mm("1.2 m"), 1200.0, "1.2 m");
    close(mm("1,234 m"), 1234.0, "1,234 m");
    close(mm("1.25 in"), 31.75, "1.25 in");
    close(mm("1 1/4\""), 31.75, "1 1/4\"");
    close(mm("1'"), 304.8, "1'");
    close(mm("48 1/2"), 48.5, "48 1/2");
    close(mm("48 MM"), 48.0, "48 MM");
    for unit in Unit::ALL {
        let length = read_length("2", unit).unwrap();
        let should = if unit.is_inch() { 50.8 } else { 2.0 };
        close(length.mm(), should, unit.code());
        close(read_length("2 mm", unit).unwrap().mm(), 2.0, "2 mm");
    }
    // Not even rounding comes between what is typed and what is kept.
    assert_eq!(mm("31,75 mm").to_bits(), 31.75_f64.to_bits());
}

#[test]
fn a_sign_goes_with_the_whole_number() {
    for text in [
        "-10 5/8",
        "−10 5/8",
        "–10 5/8",
        "- 10 5/8",
        "-10-5/8",
        "−10⅝\"",
    ] {
        close(inches(text), -10.625, text);
    }
    for text in ["-0", "−0.0", "-0 in"] {
        assert_eq!(inches(text).to_bits(), 0.0_f64.to_bits(), "{text}");
    }
}

#[test]
fn the_remainder_beside_a_fraction_is_read_back() {
    for (text, should) in [
        ("10 5/8 − 0.004", 10.621),
        ("10 5/8 - 0.004", 10.621),
        ("10 5/8 − 0.004 in", 10.621),
        ("10 5/8\" + .004\"", 10.629),
        ("10 5/8 + 0,004", 10.629),
        ("0 + 0.004 in", 0.004),
        ("0 − 0.004 in", -0.004),
        ("−10 5/8 − 0.004 in", -10.629),
        ("−10 5/8 + 0.004 in", -10.621),
        ("2' 3 5/8 − 0.004 in", 27.621),
    ] {
        close(inches(text), should, text);
    }
    close(
        mm("10 5/8 − 0.004 in"),
        10.621 * 25.4,
        "in a job in millimetres",
    );
}

#[test]
fn angles_are_read_in_degrees() {
    for text in [
        "22 1/2",
        "22-1/2",
        "22½°",
        "22.5",
        "22,5°",
        "22.5 deg",
        "22.5 Degrees",
        "22.5º",
        "22° 30'",
        "22°30′",
        "22 deg 30'",
    ] {
        close(degrees(text), 22.5, text);
    }
    for (text, should) in [
        ("60", 60.0),
        ("60°", 60.0),
        ("60 deg.", 60.0),
        ("60,5", 60.5),
        ("-30", -30.0),
        ("−30° 30'", -30.5),
        ("+45", 45.0),
        ("60° 30' 15\"", 60.0 + 30.0 / 60.0 + 15.0 / 3600.0),
        ("60° 30’ 15.5”", 60.0 + 30.0 / 60.0 + 15.5 / 3600.0),
        ("60° 15''", 60.0 + 15.0 / 3600.0),
        ("360", 360.0),
    ] {
        close(degrees(text), should, text);
    }
}

#[test]
fn refusals_of_a_length_are_sentences_with_a_place_and_an_example() {
    for (text, sentence) in [
        ("", "nothing is typed yet; type a length, such as 10 5/8"),
        ("   ", "nothing is typed yet; type a length, such as 10 5/8"),
        (
            "10 5/",
            "“10 5/” stops after the slash at character 5; write a fraction whole, such as 10 5/8",
        ),
        (
            "10-5/",
            "“10-5/” stops after the slash at character 5; write a fraction whole, such as 10 5/8",
        ),
        (
            "5/ in",
            "“5/ in” has no number behind the slash at character 2; write a fraction whole, such as 10 5/8",
        ),
        (
            "/8",
            "“/8” has no number before character 1; start with a number, such as 10 5/8",
        ),
        (
            "1/2/3",
            "“1/2/3” has a second slash at character 4; write one fraction, such as 10 5/8",
        ),
        (
            "½/2",
            "“½/2” has a second slash at character 2; write one fraction, such as 10 5/8",
        ),
        (
            "10 5/0",
            "“10 5/0” divides by zero at character 6; put a number above zero there, such as 10 5/8",
        ),
        (
            "5.5 1/2",
            "“5.5 1/2” mixes decimals and a fraction at character 5; use one or the other, such as 10 5/8",
        ),
        (
            "5.5½",
            "“5.5½” mixes decimals and a fraction at character 4; use one or the other, such as 10 5/8",
        ),
        (
            "1.5/2",
            "“1.5/2” mixes decimals and a fraction at character 1; use one or the other, such as 10 5/8",
        ),
        (
            "1/2.5",
            "“1/2.5” mixes decimals and a fraction at character 3; use one or the other, such as 10 5/8",
        ),
        (
            "10 11/8",
            "“10 11/8” has a fraction of one or more behind the whole number at character 4; the fraction must be under one, such as 10 5/8",
        ),
        (
            "1,234.5",
            "“1,234.5” has both a comma and a point, the second at character 6, so it is unclear which sets off the decimals; keep only that one, such as 10 5/8",
        ),
        (
            "1.234,5 mm",
            "“1.234,5 mm” has both a comma and a point, the second at character 6, so it is unclear which sets off the decimals; keep only that one, such as 10 5/8",
        ),
        (
            "1,234 mm",
            "“1,234 mm” has a comma at character 2 that could set off thousands or decimals; write the number without it, such as 1234",
        ),
        (
            "1.2.3",
            "“1.2.3” has a second decimal mark at character 4; keep one, such as 10 5/8",
        ),
        (
            ".",
            "“.” has a decimal mark without digits at character 1; put digits beside it, such as 10 5/8",
        ),
        (
            "-",
            "“-” stops after the sign at character 1; put a number behind it, such as 10 5/8",
        ),
        (
            "10 5/8 −",
            "“10 5/8 −” stops after the sign at character 8; put a number behind it, such as 10 5/8",
        ),
        (
            "--5",
            "“--5” has no number before character 2; start with a number, such as 10 5/8",
        ),
        (
            "in",
            "“in” has no number before character 1; start with a number, such as 10 5/8",
        ),
        (
            "10 5",
            "“10 5” has a second number at character 4; write one number, such as 10 5/8",
        ),
        (
            "1 234 mm",
            "“1 234 mm” has a second number at character 3; write one number, such as 10 5/8",
        ),
        (
            "10 - 5/8",
            "“10 - 5/8” looks like a sum at character 4; type the result, such as 10 5/8",
        ),
        (
            "10 + 2",
            "“10 + 2” looks like a sum at character 4; type the result, such as 10 5/8",
        ),
        (
            "48.3 mm - 0.01",
            "“48.3 mm - 0.01” looks like a sum at character 9; type the result, such as 10 5/8",
        ),
        (
            "5 in in",
            "“5 in in” has a unit that does not fit at character 6; use one unit, such as 10 5/8",
        ),
        (
            "2 ft 3 mm",
            "“2 ft 3 mm” has a unit that does not fit at character 8; use one unit, such as 10 5/8",
        ),
        (
            "2' 3'",
            "“2' 3'” has a unit that does not fit at character 5; use one unit, such as 10 5/8",
        ),
        (
            "2' in",
            "“2' in” has a unit that does not fit at character 4; use one unit, such as 10 5/8",
        ),
        (
            "2.5' 3\"",
            "“2.5' 3\"” has a part of a foot followed by inches at character 6; use whole feet, such as 2' 3 1/2\"",
        ),
        (
            "2' 12\"",
            "“2' 12\"” has twelve inches or more behind the feet at character 4; carry them into the feet, such as 2' 3 1/2\"",
        ),
        (
            "10 furlongs",
            "“10 furlongs” has “furlongs” at character 4, which is no unit of length here; use mm, cm, m, in or ft, such as 10 5/8 in",
        ),
        (
            "10 # 5",
            "“10 # 5” has “#” at character 4, which does not belong there; leave it out, such as 10 5/8",
        ),
        (
            "5 in / 8",
            "“5 in / 8” has “/” at character 6, which does not belong there; leave it out, such as 10 5/8",
        ),
        (
            "10\u{202e}5",
            "“10 5” has a hidden character at character 3; type it again by hand, such as 10 5/8",
        ),
        (
            "99999999",
            "“99999999” is over 100 m (about 328 ft) from character 1 on; check the number and its unit, such as 10 5/8",
        ),
    ] {
        let error = read_length(text, SIXTEENTHS).unwrap_err();
        assert_eq!(error.to_string(), sentence);
    }
}

#[test]
fn refusals_of_an_angle_are_sentences_too() {
    for (text, sentence) in [
        ("", "nothing is typed yet; type an angle, such as 37.5"),
        (
            "60 rad",
            "“60 rad” has “rad” at character 4, which is no unit of angle here; type degrees, such as 37.5°",
        ),
        (
            "22 1/",
            "“22 1/” stops after the slash at character 5; write a fraction whole, such as 22 1/2",
        ),
        (
            "30'",
            "“30'” has minutes or seconds at character 3 without degrees before them; start with degrees, such as 60° 30'",
        ),
        (
            "60° 75'",
            "“60° 75'” has sixty or more at character 5; minutes and seconds stay under sixty, such as 60° 30'",
        ),
        (
            "60.5° 30'",
            "“60.5° 30'” has a part of a degree or minute followed by more at character 7; use whole ones, such as 60° 30'",
        ),
        (
            "60° 30",
            "“60° 30” has a second number at character 5; write one number, such as 37.5",
        ),
        (
            "60° 30\" 15'",
            "“60° 30\" 15'” has a unit that does not fit at character 11; use one unit, such as 37.5",
        ),
        (
            "90 - 30",
            "“90 - 30” looks like a sum at character 4; type the result, such as 37.5",
        ),
        (
            "36001",
            "“36001” is over 3600° from character 1 on; type an angle within one turn, such as 37.5",
        ),
    ] {
        assert_eq!(read_angle(text).unwrap_err().to_string(), sentence);
    }
}

#[test]
fn the_example_suits_the_unit_of_the_job() {
    let example = |text, unit| read_length(text, unit).unwrap_err().example;
    assert_eq!(example("x", Unit::Millimetre), "48.3 mm");
    assert_eq!(example("#", Unit::Millimetre), "48.3");
    assert_eq!(example("10 5/", Unit::Millimetre), "10 5/8 in");
    assert_eq!(example("#", Unit::Inch), "10.625");
    assert_eq!(example("10 5/", Unit::Inch), "10 5/8");
    assert_eq!(example("#", SIXTEENTHS), "10 5/8");
}

#[test]
fn numbers_of_programming_languages_are_not_lengths() {
    for text in [
        "inf", "-inf", "nan", "NaN", "infinity", "1e3", "1E-3", "0x10", "1_000", "1f64", "٣", "３",
        "²", "10^2", "(5)", "5*2", "5m m", "1;2", "=5", "5%",
    ] {
        for unit in Unit::ALL {
            let Err(error) = read_length(text, unit) else {
                panic!("{text} was read")
            };
            assert!(error.to_string().contains(&format!("“{text}”")), "{error}");
        }
        assert!(read_angle(text).is_err(), "{text}");
    }
}

#[test]
fn numbers_beyond_every_tube_are_refused_without_overflow() {
    let nines = "9".repeat(59);
    for text in [
        nines.clone(),
        format!("-{nines}"),
        format!("{nines} m"),
        format!("{nines}/1"),
        format!("1'{nines}"),
        "100000.001 mm".to_owned(),
        "328 ft 2 in".to_owned(),
    ] {
        assert!(read_length(&text, Unit::Millimetre).is_err(), "{text}");
    }
    assert!(read_angle(&nines).is_err());
    close(mm("100000"), 100_000.0, "the limit itself");
    close(mm("328 ft 1 in"), 3937.0 * 25.4, "just under the limit");
    let endless = "9".repeat(100_000);
    let error = read_length(&endless, Unit::Inch).unwrap_err();
    assert_eq!(error.problem, Problem::TooLong);
    assert!(error.to_string().chars().count() < 160, "{error}");
}
