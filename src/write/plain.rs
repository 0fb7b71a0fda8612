//! Letters that a format has no room for, spelt with those of ASCII.

/// Stands for a letter nobody here can spell.
pub const LOST: &str = "?";

/// The letters from U+00C0 to U+017F without their accents (Unicode, canonical decomposition);
/// what is more than a letter with an accent is spelt in [`plain`].
const LATIN: &str = "AAAAAA?CEEEEIIII?NOOOOO??UUUUY??aaaaaa?ceeeeiiii?nooooo??uuuuy?y\
     AaAaAaCcCcCcCcDd??EeEeEeEeEeGgGgGgGgHh??IiIiIiIiI???JjKk?LlLlLl????\
     NnNnNn???OoOoOo??RrRrRrSsSsSsSsTtTt??UuUuUuUuUuUuWwYyYZzZzZz?";

/// A letter in ASCII: itself, its bare letter, a sign spelt out, nothing for what is not seen;
/// [`LOST`] for all others.
pub fn plain(letter: char) -> &'static str {
    match letter {
        ' '..='~' => {
            const ASCII: &str = " !\"#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ\
                 [\\]^_`abcdefghijklmnopqrstuvwxyz{|}~";
            part(ASCII, u32::from(letter) - u32::from(' '))
        }
        '\t'
        | '\n'
        | '\r'
        | '\u{a0}'
        | '\u{2000}'..='\u{200a}'
        | '\u{202f}'
        | '\u{205f}'
        | '\u{3000}' => " ",
        // Control letters, combining accents, marks without width and of reading direction.
        '\0'..='\u{1f}'
        | '\u{7f}'..='\u{9f}'
        | '\u{ad}'
        | '\u{300}'..='\u{36f}'
        | '\u{200b}'..='\u{200f}'
        | '\u{2028}'..='\u{202e}'
        | '\u{2060}'..='\u{2064}'
        | '\u{2066}'..='\u{206f}'
        | '\u{fe00}'..='\u{fe0f}'
        | '\u{feff}' => "",
        '−' | '‐' | '\u{2011}' | '‒' | '–' | '—' | '―' => "-",
        '±' => "+/-",
        '∓' => "-/+",
        '×' => "x",
        '÷' | '⁄' | '∕' => "/",
        '·' | '•' | '∙' | '⋅' => "-",
        '≤' => "<=",
        '≥' => ">=",
        '≠' => "!=",
        '≈' | '∼' => "~",
        '→' => "->",
        '←' => "<-",
        '↔' => "<->",
        '√' => "sqrt ",
        '°' | 'º' | '˚' => " deg",
        '′' | '‘' | '’' | '‚' | '‛' | '´' | 'ʼ' => "'",
        '″' | '“' | '”' | '„' | '‟' | '«' | '»' => "\"",
        '‹' => "<",
        '›' => ">",
        '…' => "...",
        '½' => " 1/2",
        '¼' => " 1/4",
        '¾' => " 3/4",
        '⅛' => " 1/8",
        '⅜' => " 3/8",
        '⅝' => " 5/8",
        '⅞' => " 7/8",
        '⅓' => " 1/3",
        '⅔' => " 2/3",
        '⅕' => " 1/5",
        '⅖' => " 2/5",
        '⅗' => " 3/5",
        '⅘' => " 4/5",
        '⅙' => " 1/6",
        '⅚' => " 5/6",
        '¹' => "1",
        '²' => "2",
        '³' => "3",
        '⌀' | '∅' | 'Ø' => "O",
        'ø' => "o",
        'µ' | 'μ' => "u",
        'π' => "pi",
        'α' => "alpha",
        'β' => "beta",
        'θ' => "theta",
        'φ' | 'ϕ' => "phi",
        '€' => "EUR",
        '£' => "GBP",
        '©' => "(c)",
        '®' => "(R)",
        '™' => "(TM)",
        'Æ' => "AE",
        'æ' => "ae",
        'Œ' => "OE",
        'œ' => "oe",
        'ß' => "ss",
        'ẞ' => "SS",
        'Ð' | 'Đ' => "D",
        'ð' | 'đ' => "d",
        'Þ' => "Th",
        'þ' => "th",
        'Ħ' => "H",
        'ħ' => "h",
        'ı' => "i",
        'Ĳ' => "IJ",
        'ĳ' => "ij",
        'ĸ' => "k",
        'Ŀ' | 'Ł' => "L",
        'ŀ' | 'ł' => "l",
        'ŉ' => "'n",
        'Ŋ' => "N",
        'ŋ' => "n",
        'Ŧ' => "T",
        'ŧ' => "t",
        'ſ' => "s",
        'Ș' => "S",
        'ș' => "s",
        'Ț' => "T",
        'ț' => "t",
        '\u{c0}'..='\u{17f}' => part(LATIN, u32::from(letter) - 0xc0),
        _ => LOST,
    }
}

/// One letter of a text of ASCII.
fn part(text: &'static str, at: u32) -> &'static str {
    let at = at as usize;
    text.get(at..=at).unwrap_or(LOST)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain_text(text: &str) -> String {
        text.chars().map(plain).collect()
    }

    #[test]
    fn ascii_stays_and_accents_go() {
        let ascii: String = (' '..='~').collect();
        assert_eq!(plain_text(&ascii), ascii);
        assert_eq!(
            plain_text("Łódź, Ærø, Straße, Ÿ, ž, e\u{301}"),
            "Lodz, AEro, Strasse, Y, z, e"
        );
        assert_eq!(plain_text("a\u{0}b\u{202e}c"), "abc");
        assert_eq!(plain_text("10 5⁄8″ − 0.004 ≤ 3"), "10 5/8\" - 0.004 <= 3");
        assert_eq!(plain_text("横"), LOST);
    }

    #[test]
    fn every_latin_letter_is_spelt() {
        for letter in '\u{c0}'..='\u{17f}' {
            assert_ne!(plain(letter), LOST, "{letter}");
        }
        assert_eq!(LATIN.len(), 0x180 - 0xc0);
    }
}
