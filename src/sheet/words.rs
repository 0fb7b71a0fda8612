//! Fitting words: widths on the safe side, wrapping, and the room a line of text takes.
//!
//! The reader's font is unknown, so widths are those of the widest of the usual screen faces.
//! No geometry depends on them; they only keep words apart.

use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Item, Point};

/// Height above the baseline, as a part of the font size.
const ASCENT: f64 = 0.85;
/// Depth below the baseline.
const DESCENT: f64 = 0.25;
/// Distance from baseline to baseline.
pub const LEADING: f64 = 1.28;
/// No line of ordinary words is narrower than this per letter.
const EVEN: f64 = 0.6;
/// How much wider strong letters are.
const STRONG: f64 = 1.1;

/// Width of one letter as a part of the font size.
fn letter(letter: char) -> f64 {
    match letter {
        'i' | 'j' | 'l' | 'I' | '.' | ',' | ':' | ';' | '!' | '|' | '\'' | ' ' => 0.4,
        'f' | 't' | 'r' | '(' | ')' | '[' | ']' | '-' | '/' | '°' | '·' | '“' | '”' | '’' => {
            0.5
        }
        'm' | 'M' | 'W' | '%' | '@' => 1.0,
        'w' | '×' | '−' | '+' | '=' | '<' | '>' | '~' | '&' | '#' => 0.86,
        'A'..='Z' => 0.79,
        ' '..='~' => 0.65,
        '\u{1f000}'.. => 1.5,
        _ => 1.0,
    }
}

/// Running width of a line, letters of size 1.
#[derive(Debug, Clone, Copy, Default)]
struct Run {
    sum: f64,
    letters: f64,
}

impl Run {
    fn of(text: &str) -> Self {
        text.chars().fold(Self::default(), |run, c| Self {
            sum: run.sum + letter(c),
            letters: run.letters + 1.0,
        })
    }

    /// Two runs with a blank between them, if there is a first.
    fn then(self, next: Self) -> Self {
        if self.letters > 0.0 {
            Self {
                sum: self.sum + letter(' ') + next.sum,
                letters: self.letters + 1.0 + next.letters,
            }
        } else {
            next
        }
    }

    fn width(self, size: f64, bold: bool) -> f64 {
        self.sum.max(self.letters * EVEN) * size * if bold { STRONG } else { 1.0 }
    }
}

/// Width of a line of text set at `size`, mm, on the safe side.
pub fn width(text: &str, size: f64, bold: bool) -> f64 {
    Run::of(text).width(size, bold)
}

/// Height of a block of `lines` lines, mm.
pub fn height(lines: usize, size: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a block has few lines")]
    let lines = lines as f64;
    if lines > 0.0 {
        size * (LEADING * (lines - 1.0) + ASCENT + DESCENT)
    } else {
        0.0
    }
}

/// First baseline below the top of a block.
pub fn first_baseline(size: f64) -> f64 {
    ASCENT * size
}

/// One line of words without control letters: what a writer can put in any format.
pub fn clean(text: &str) -> String {
    let plain: String = text
        .chars()
        .map(|c| if is_plain(c) { c } else { ' ' })
        .collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Neither a control letter nor one that turns the reading direction of its neighbours.
fn is_plain(c: char) -> bool {
    !c.is_control()
        && !matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
            | '\u{feff}' | '\u{fff0}'..='\u{ffff}')
}

/// Breaks words into lines no wider than `room`; a word wider than that is broken itself.
pub fn wrap(text: &str, size: f64, bold: bool, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    let mut run = Run::default();
    // A sum that is wider than the room goes on at one of its signs.
    let words = glued(text, belongs).flat_map(|word| {
        let parts: fn(&str, &str) -> bool = if Run::of(word).width(size, bold) <= room {
            belongs
        } else {
            is_one_figure
        };
        glued(word, parts)
    });
    for word in words {
        let next = Run::of(word);
        let longer = run.then(next);
        if longer.width(size, bold) <= room {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
            run = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        let mut parts = break_word(word, size, bold, room);
        line = parts.pop().unwrap_or_default();
        run = Run::of(&line);
        lines.append(&mut parts);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// The words of a text, with those kept together that `belongs` says.
fn glued(text: &str, belongs: fn(&str, &str) -> bool) -> impl Iterator<Item = &str> {
    let mut rest = text;
    std::iter::from_fn(move || {
        rest = rest.trim_start_matches(' ');
        if rest.is_empty() {
            return None;
        }
        let mut end = rest.find(' ').unwrap_or(rest.len());
        while end < rest.len() {
            let after = &rest[end + 1..];
            let next = &after[..after.find(' ').unwrap_or(after.len())];
            if !belongs(&rest[..end], next) {
                break;
            }
            end += 1 + next.len();
        }
        let word = &rest[..end];
        rest = &rest[end..];
        Some(word)
    })
}

/// Whether a word stays with what is before it: a figure keeps its fraction, its remainder and its
/// unit.
fn belongs(before: &str, word: &str) -> bool {
    is_one_figure(before, word) || (matches!(word, "−" | "+") && ends_in_figure(before))
}

/// Whether a word is of the same figure as what is before it: its fraction, its unit, or the number
/// behind its sign.
fn is_one_figure(before: &str, word: &str) -> bool {
    let bare = word.trim_end_matches([',', ';', '.', ':', '"']);
    let follows = matches!(bare, "mm" | "in" | "kg" | "lb" | "%" | "line")
        || (bare.contains('/') && bare.chars().all(|c| c.is_ascii_digit() || c == '/'));
    (follows && ends_in_figure(before)) || before.ends_with(['−', '+'])
}

fn ends_in_figure(text: &str) -> bool {
    text.ends_with(|c: char| c.is_ascii_digit() || c == '°')
}

/// Breaks one word, a link for instance, into lines no wider than `room`.
pub fn break_word(word: &str, size: f64, bold: bool, room: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    let mut run = Run::default();
    for c in word.chars() {
        let longer = Run {
            sum: run.sum + letter(c),
            letters: run.letters + 1.0,
        };
        if longer.width(size, bold) > room && !line.is_empty() {
            lines.push(std::mem::take(&mut line));
            run = Run {
                sum: letter(c),
                letters: 1.0,
            };
        } else {
            run = longer;
        }
        line.push(c);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// At most `most` lines of words; what does not fit ends in an ellipsis.
pub fn wrap_at_most(text: &str, size: f64, bold: bool, room: f64, most: usize) -> Vec<String> {
    let mut lines = wrap(text, size, bold, room);
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            while !last.is_empty() && width(&format!("{last}…"), size, bold) > room {
                last.pop();
            }
            last.push('…');
        }
    }
    lines
}

/// The room a line of text takes on the page.
pub fn text_area(
    at: Point,
    size: f64,
    anchor: Anchor,
    turn_rad: f64,
    bold: bool,
    text: &str,
) -> Area {
    let width = width(text, size, bold);
    let start = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -width / 2.0,
        Anchor::End => -width,
    };
    let (sin, cos) = turn_rad.sin_cos();
    let corner = |along: f64, down: f64| {
        Point::new(
            at.x + along * cos - down * sin,
            at.y + along * sin + down * cos,
        )
    };
    let (top, bottom) = (-ASCENT * size, DESCENT * size);
    Area::around(&[
        corner(start, top),
        corner(start + width, top),
        corner(start, bottom),
        corner(start + width, bottom),
    ])
}

/// The room an item takes; a stroke with its width.
pub fn item_area(item: &Item) -> Area {
    match item {
        Item::Stroke { pen, points, .. } => Area::around(points).grown(pen.width / 2.0),
        Item::Text {
            at,
            size,
            anchor,
            turn,
            bold,
            text,
        } => text_area(*at, *size, *anchor, turn.rad(), *bold, text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_keep_to_their_room_and_lose_no_word() {
        let text = "Lay the 0° edge on the zero line, 10 5/8 − 0.004 in from the end of the tube.";
        for room in [12.0, 25.0, 60.0] {
            let lines = wrap(text, 2.5, false, room);
            assert!(
                lines.iter().all(|line| width(line, 2.5, false) <= room),
                "{lines:?}"
            );
            assert_eq!(lines.concat().replace(' ', ""), text.replace(' ', ""));
        }
        assert!(
            wrap(text, 2.5, false, 60.0)
                .concat()
                .contains("10 5/8 − 0.004 in")
        );
    }

    #[test]
    fn a_sum_too_wide_goes_on_at_a_sign_and_keeps_its_fractions() {
        let sum = "22 15/16 + 23 15/16 − 21 7/16 = 25 7/16 in";
        let lines = wrap(sum, 3.3, false, 48.0);
        assert_eq!(lines, ["22 15/16 + 23 15/16", "− 21 7/16 = 25 7/16 in"]);
    }

    #[test]
    fn what_does_not_fit_ends_in_an_ellipsis_within_its_room() {
        let lines = wrap_at_most("one two three four five six seven", 3.0, true, 20.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines.iter().all(|line| width(line, 3.0, true) <= 20.0));
        assert!(lines.concat().ends_with('…'));
    }

    #[test]
    fn control_letters_and_reading_direction_do_not_get_in() {
        assert_eq!(clean(" a\u{0}b\n\tc\u{202e}d\u{feff} "), "a b c d");
    }
}
