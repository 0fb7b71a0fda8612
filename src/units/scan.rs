//! Cuts typed text into numbers, signs, slashes and unit marks, each with its place.

use super::decimal::read_digits;
use super::error::{Fault, Problem};

/// What the text is meant to be: it decides which words and marks are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Reading {
    /// `'` is feet and `"` inches.
    Length,
    /// `'` is minutes and `"` seconds of arc.
    Angle,
}

/// A unit as a word or a mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Foot,
    Degree,
    Minute,
    Second,
}

/// A plain number, without sign.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Number {
    pub value: f64,
    /// Digits alone, so that it may stand in a fraction.
    pub whole: bool,
    /// Where a comma stands that could as well set off thousands, as in `1,234`.
    pub doubtful_comma: Option<usize>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Token {
    Number(Number),
    /// A fraction that is one character, as a value: `½`.
    Vulgar(f64),
    Slash,
    Plus,
    Minus,
    Mark(Mark),
}

/// A token and where it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Placed {
    pub token: Token,
    /// Index of its first character, from 0.
    pub at: usize,
    /// Whether a space comes before it.
    pub spaced: bool,
}

/// Characters taken; a length written out in full needs far fewer.
pub(super) const LONGEST_TEXT: usize = 60;

/// Fractions that have a character of their own (The Unicode Standard, blocks Latin-1 Supplement
/// and Number Forms).
const VULGAR: [(char, f64, f64); 15] = [
    ('½', 1.0, 2.0),
    ('⅓', 1.0, 3.0),
    ('⅔', 2.0, 3.0),
    ('¼', 1.0, 4.0),
    ('¾', 3.0, 4.0),
    ('⅕', 1.0, 5.0),
    ('⅖', 2.0, 5.0),
    ('⅗', 3.0, 5.0),
    ('⅘', 4.0, 5.0),
    ('⅙', 1.0, 6.0),
    ('⅚', 5.0, 6.0),
    ('⅛', 1.0, 8.0),
    ('⅜', 3.0, 8.0),
    ('⅝', 5.0, 8.0),
    ('⅞', 7.0, 8.0),
];

/// Cuts `text` into tokens.
///
/// # Errors
/// The first character, word or number that cannot be part of any length or angle.
pub(super) fn scan(text: &str, reading: Reading) -> Result<Vec<Placed>, Fault> {
    let chars: Vec<char> = text.chars().take(LONGEST_TEXT + 1).collect();
    if chars.len() > LONGEST_TEXT {
        return Err(Fault::new(LONGEST_TEXT, Problem::TooLong));
    }
    let mut tokens = Vec::new();
    let mut spaced = false;
    let mut at = 0;
    while let Some(&c) = chars.get(at) {
        if is_blank(c) {
            spaced = true;
            at += 1;
            continue;
        }
        let (token, end) = token(&chars, at, reading)?;
        tokens.push(Placed { token, at, spaced });
        spaced = false;
        at = end;
    }
    Ok(tokens)
}

/// The token that starts at `at`, and the index after it.
fn token(chars: &[char], at: usize, reading: Reading) -> Result<(Token, usize), Fault> {
    let c = chars[at];
    let next = chars.get(at + 1).copied();
    let one = |token| Ok((token, at + 1));
    match c {
        '0'..='9' | '.' | ',' => number(chars, at),
        '/' | '\u{2044}' | '\u{2215}' => one(Token::Slash),
        '+' => one(Token::Plus),
        // Hyphens, dashes and the true minus: keyboards and word processors swap them freely.
        '-' | '\u{2010}'..='\u{2014}' | '\u{2212}' => one(Token::Minus),
        '"' | '\u{201C}'..='\u{201F}' | '\u{2033}' | '\u{02BA}' => one(double_tick(reading)),
        c if is_tick(c) && next.is_some_and(is_tick) => Ok((double_tick(reading), at + 2)),
        c if is_tick(c) => one(Token::Mark(match reading {
            Reading::Length => Mark::Foot,
            Reading::Angle => Mark::Minute,
        })),
        // The masculine ordinal and the ring above are typed for a degree sign.
        '°' | 'º' | '˚' if reading == Reading::Angle => one(Token::Mark(Mark::Degree)),
        c if c.is_alphabetic() => word(chars, at, reading),
        c => match VULGAR.iter().find(|(vulgar, ..)| *vulgar == c) {
            Some((_, top, bottom)) => one(Token::Vulgar(top / bottom)),
            None => Err(Fault::new(at, Problem::Character(c))),
        },
    }
}

/// Digits with at most one decimal mark, point or comma.
fn number(chars: &[char], at: usize) -> Result<(Token, usize), Fault> {
    let end = chars[at..]
        .iter()
        .position(|c| !matches!(c, '0'..='9' | '.' | ','))
        .map_or(chars.len(), |length| at + length);
    let run = &chars[at..end];
    let marks: Vec<usize> = (0..run.len())
        .filter(|&i| !run[i].is_ascii_digit())
        .collect();
    if marks.len() == run.len() {
        return Err(Fault::new(at, Problem::LoneDecimalMark));
    }
    if let [first, .., last] = marks[..] {
        let problem = if run[first] == run[last] {
            Problem::SecondDecimalMark
        } else {
            Problem::CommaAndPoint
        };
        return Err(Fault::new(at + last, problem));
    }
    let doubtful_comma = marks.first().copied().filter(|&mark| {
        run[mark] == ',' && (1..=3).contains(&mark) && run[0] != '0' && run.len() - mark == 4
    });
    let digits = run.iter().map(|&c| if c == ',' { '.' } else { c });
    // Digits and at most one point are always a number; were that ever wrong, the mark is to blame.
    let value = read_digits(digits).ok_or(Fault::new(at, Problem::LoneDecimalMark))?;
    let number = Number {
        value,
        whole: marks.is_empty(),
        doubtful_comma: doubtful_comma.map(|mark| at + mark),
    };
    Ok((Token::Number(number), end))
}

/// A run of letters, which must be a unit; one full stop after it belongs to it (`in.`).
fn word(chars: &[char], at: usize, reading: Reading) -> Result<(Token, usize), Fault> {
    let mut end = chars[at..]
        .iter()
        .position(|c| !c.is_alphabetic())
        .map_or(chars.len(), |length| at + length);
    let word: String = chars[at..end].iter().collect();
    // Units are ASCII; the tables of other scripts' capitals weigh 25 kB.
    let mark = match (reading, word.to_ascii_lowercase().as_str()) {
        (Reading::Length, "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters") => {
            Mark::Millimetre
        }
        (Reading::Length, "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters") => {
            Mark::Centimetre
        }
        (Reading::Length, "m" | "metre" | "metres" | "meter" | "meters") => Mark::Metre,
        (Reading::Length, "in" | "inch" | "inches") => Mark::Inch,
        (Reading::Length, "ft" | "foot" | "feet") => Mark::Foot,
        (Reading::Angle, "deg" | "degree" | "degrees") => Mark::Degree,
        (Reading::Length, _) => return Err(Fault::new(at, Problem::LengthWord(word))),
        (Reading::Angle, _) => return Err(Fault::new(at, Problem::AngleWord(word))),
    };
    let digit_after = chars.get(end + 1).is_some_and(char::is_ascii_digit);
    if chars.get(end) == Some(&'.') && !digit_after {
        end += 1;
    }
    Ok((Token::Mark(mark), end))
}

fn double_tick(reading: Reading) -> Token {
    Token::Mark(match reading {
        Reading::Length => Mark::Inch,
        Reading::Angle => Mark::Second,
    })
}

/// Apostrophe, typographic single quotes, prime, modifier prime, grave and acute.
fn is_tick(c: char) -> bool {
    matches!(
        c,
        '\'' | '\u{2018}'..='\u{201B}' | '\u{2032}' | '\u{02B9}' | '`' | '\u{00B4}'
    )
}

/// White space, and the invisible characters that pasted text brings along.
fn is_blank(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{200B}'..='\u{200F}' | '\u{2060}' | '\u{FEFF}')
}
