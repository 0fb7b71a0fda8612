//! Labels of pieces that are made of other pieces: numbers and sides in plain words.

/// A label for a copy: the next number behind it that is free. No label stays none.
pub(super) fn next(label: &str, taken: impl Fn(&str) -> bool) -> String {
    if label.is_empty() {
        return String::new();
    }
    let stem = label.trim_end_matches(|c: char| c.is_ascii_digit());
    // `tube 42.4` and `A2` have no number of a copy.
    let (stem, from) = match label[stem.len()..].parse::<u32>() {
        Ok(number) if stem.ends_with(' ') && number < 1000 => (stem.trim_end(), number + 1),
        _ => (label, 2),
    };
    let numbered = |number: u32| format!("{stem} {number}");
    let free = (from..).map(numbered).find(|label| !taken(label));
    free.unwrap_or_default()
}

/// Words for the sides of a pair, each in the ways it is written. `L` and `R` count as the last
/// word only.
const SIDES: [[&str; 2]; 9] = [
    ["left", "right"],
    ["Left", "Right"],
    ["LEFT", "RIGHT"],
    ["left-hand", "right-hand"],
    ["lefthand", "righthand"],
    ["LH", "RH"],
    ["lh", "rh"],
    ["L", "R"],
    ["l", "r"],
];

/// The label as it is, with its side, and that of its partner: `brace` gives `brace, left` and
/// `brace, right`, and `left brace` gives itself and `right brace`.
pub(super) fn pair(label: &str) -> [String; 2] {
    // Pieces of the label between what is no letter, the last one first.
    let mut words: Vec<(usize, &str)> = Vec::new();
    for part in label.split(|c: char| !(c.is_alphanumeric() || c == '-')) {
        let at = part.as_ptr() as usize - label.as_ptr() as usize;
        words.push((at, part));
    }
    let last = words.iter().rposition(|(_, word)| !word.is_empty());
    for (number, (at, word)) in words.iter().enumerate().rev() {
        let swapped = SIDES.iter().find_map(|[left, right]| {
            let short = left.len() == 1;
            if short && Some(number) != last {
                None
            } else if word == left {
                Some(*right)
            } else if word == right {
                Some(*left)
            } else {
                None
            }
        });
        if let Some(swapped) = swapped {
            let (before, behind) = (&label[..*at], &label[at + word.len()..]);
            return [label.to_owned(), format!("{before}{swapped}{behind}")];
        }
    }
    ["left", "right"].map(|side| format!("{label}, {side}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_has_the_next_free_number() {
        let taken = |label: &str| ["brace 2", "brace 3"].contains(&label);
        assert_eq!(next("brace", taken), "brace 4");
        assert_eq!(next("brace 2", taken), "brace 4");
        assert_eq!(next("brace 9", taken), "brace 10");
        assert_eq!(next("A2", taken), "A2 2");
        assert_eq!(next("tube 42.4", taken), "tube 42.4 2");
        assert_eq!(next("", taken), "");
    }

    #[test]
    fn sides_are_told_in_plain_words() {
        let pair = |label| pair(label).join(" | ");
        assert_eq!(pair("brace"), "brace, left | brace, right");
        assert_eq!(pair("brace, left"), "brace, left | brace, right");
        assert_eq!(pair("brace, right"), "brace, right | brace, left");
        assert_eq!(pair("Left brace 2"), "Left brace 2 | Right brace 2");
        assert_eq!(pair("strut L"), "strut L | strut R");
        assert_eq!(pair("L bracket"), "L bracket, left | L bracket, right");
        assert_eq!(pair("upright"), "upright, left | upright, right");
        assert_eq!(
            pair("Strebe ü (left)"),
            "Strebe ü (left) | Strebe ü (right)"
        );
    }
}
