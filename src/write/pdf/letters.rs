//! Text in the one alphabet that the standard faces have: `WinAnsiEncoding`.

use crate::write::plain::{LOST, plain};

/// Letters of the bytes 0x80 to 0x9F, as ISO 32000-1, annex D.2 has them; a blank where it has
/// none. All others are those of Latin 1.
const UPPER: &str = "€ ‚ƒ„…†‡ˆ‰Š‹Œ Ž  ‘’“”•–—˜™š›œ žŸ";

/// A text in the alphabet. What is not in it is spelt with letters that are.
pub fn encode(text: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(text.len());
    for letter in text.chars() {
        match byte(letter) {
            Some(byte) => bytes.push(byte),
            None => bytes.extend_from_slice(plain(letter).as_bytes()),
        }
    }
    bytes
}

/// Whether nothing but a question mark is left of a letter.
pub fn is_lost(letter: char) -> bool {
    byte(letter).is_none() && plain(letter) == LOST
}

fn byte(letter: char) -> Option<u8> {
    match letter {
        ' '..='~' | '\u{a1}'..='\u{ac}' | '\u{ae}'..='\u{ff}' => u8::try_from(letter).ok(),
        // The diameter sign is in no Latin alphabet, and a stroked O is what drawings have instead.
        '⌀' | '∅' => Some(0xd8),
        'μ' => Some(0xb5),
        _ => UPPER
            .chars()
            .position(|known| known == letter && known != ' ')
            .and_then(|at| u8::try_from(0x80 + at).ok()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_the_alphabet_keep_their_bytes() {
        // Windows code page 1252 as Unicode publishes it (mappings, cp1252).
        assert_eq!(
            encode("€…†‰Š“”–—™žŸ"),
            b"\x80\x85\x86\x89\x8a\x93\x94\x96\x97\x99\x9e\x9f"
        );
        assert_eq!(encode("°±×½é"), b"\xb0\xb1\xd7\xbd\xe9");
        assert_eq!(UPPER.chars().count(), 32);
    }

    #[test]
    fn other_letters_are_spelt_so_that_they_can_be_read() {
        assert_eq!(encode("10 5/8″ − 0.004"), b"10 5/8\" - 0.004");
        assert_eq!(encode("≤ ⌀ ł\u{202f}→"), b"<= \xd8 l ->");
        assert!(is_lost('横') && !is_lost('?') && !is_lost('−') && !is_lost('ł'));
    }
}
