//! Ink and paper as the page has them, for a picture that style sheets cannot reach.

use web_sys::{Element, window};

/// Two colours, red, green and blue from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inks {
    /// Of lines and shade.
    pub ink: [f32; 3],
    /// Of the ground.
    pub paper: [f32; 3],
}

/// Media query of a dark page.
pub const DARK: &str = "(prefers-color-scheme: dark)";

impl Inks {
    /// The text colour and the background of an element, as the browser has worked them out.
    pub fn of(element: &Element) -> Self {
        let fallback = Self::preferred();
        let Some(style) = window()
            .and_then(|window| window.get_computed_style(element).ok())
            .flatten()
        else {
            return fallback;
        };
        let read = |name: &str| parse(&style.get_property_value(name).ok()?);
        match (read("color"), read("background-color")) {
            (Some(ink), Some(paper)) => Self { ink, paper },
            _ => fallback,
        }
    }

    /// Black on white or the reverse, as the reader prefers.
    fn preferred() -> Self {
        let dark = window()
            .and_then(|window| window.match_media(DARK).ok())
            .flatten()
            .is_some_and(|query| query.matches());
        let (black, white) = ([0.08; 3], [0.95; 3]);
        if dark {
            Self {
                ink: white,
                paper: black,
            }
        } else {
            Self {
                ink: black,
                paper: white,
            }
        }
    }

    /// Whether the ink is the lighter of the two.
    pub fn light_on_dark(self) -> bool {
        let sum = |colour: [f32; 3]| colour.iter().sum::<f32>();
        sum(self.ink) > sum(self.paper)
    }
}

/// Reads a computed colour, `rgb(…)`, `rgba(…)` or `color(srgb …)`; `None` for other notations
/// and for a colour one can see through.
fn parse(text: &str) -> Option<[f32; 3]> {
    let (name, rest) = text.trim().split_once('(')?;
    let (numbers, scale) = match name {
        "rgb" | "rgba" => (rest, 255.0),
        "color" => (rest.trim_start().strip_prefix("srgb ")?, 1.0),
        _ => return None,
    };
    let mut numbers = numbers
        .trim_end_matches(')')
        .split([',', ' ', '/'])
        .filter(|part| !part.is_empty())
        // The browser reads numbers anyway; Rust's reader brings 10 kB of powers of five.
        .map(|part| js_sys::Number::parse_float(part) as f32)
        .map(|number| number.is_finite().then_some(number));
    let mut next = || numbers.next().flatten();
    let colour = [next()? / scale, next()? / scale, next()? / scale];
    (next().unwrap_or(1.0) > 0.5).then_some(colour)
}
