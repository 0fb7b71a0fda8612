//! One quantity as typed: a whole number, a decimal, a fraction or a mixed number.

use super::error::{Fault, Problem};
use super::scan::{Mark, Number, Placed, Token};

/// A number read, without sign or unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Quantity {
    pub value: f64,
    /// Index of its first character.
    pub at: usize,
    /// Digits alone.
    pub whole: bool,
    /// Where a comma stands that could as well set off thousands.
    pub doubtful_comma: Option<usize>,
}

/// The tokens of a text and how far they have been read.
#[derive(Debug)]
pub(super) struct Cursor<'a> {
    tokens: &'a [Placed],
    next: usize,
}

impl<'a> Cursor<'a> {
    pub(super) const fn new(tokens: &'a [Placed]) -> Self {
        Self { tokens, next: 0 }
    }

    /// The token `ahead` places past the next one.
    fn peek(&self, ahead: usize) -> Option<Placed> {
        self.tokens.get(self.next + ahead).copied()
    }

    /// The next token, left in place.
    pub(super) fn upcoming(&self) -> Option<Placed> {
        self.peek(0)
    }

    /// Takes a plus or minus: its place, and whether it is a minus.
    pub(super) fn take_sign(&mut self) -> Option<(usize, bool)> {
        let placed = self.upcoming()?;
        let minus = match placed.token {
            Token::Plus => false,
            Token::Minus => true,
            _ => return None,
        };
        self.next += 1;
        Some((placed.at, minus))
    }

    /// Takes a unit mark and its place.
    pub(super) fn take_mark(&mut self) -> Option<(usize, Mark)> {
        let placed = self.upcoming()?;
        let Token::Mark(mark) = placed.token else {
            return None;
        };
        self.next += 1;
        Some((placed.at, mark))
    }

    /// Takes a plain number that does not begin a fraction, and its place.
    pub(super) fn take_plain_number(&mut self) -> Option<(usize, Number)> {
        let placed = self.upcoming()?;
        let Token::Number(number) = placed.token else {
            return None;
        };
        if let Some(after) = self.peek(1)
            && matches!(after.token, Token::Slash | Token::Vulgar(_))
        {
            return None;
        }
        self.next += 1;
        Some((placed.at, number))
    }

    /// Nothing may follow.
    pub(super) fn finish(&self) -> Result<(), Fault> {
        let Some(Placed { token, at, .. }) = self.upcoming() else {
            return Ok(());
        };
        Err(Fault::new(
            at,
            match token {
                Token::Number(_) | Token::Vulgar(_) => Problem::SecondNumber,
                Token::Slash => Problem::Character('/'),
                Token::Plus | Token::Minus => Problem::Sum,
                Token::Mark(_) => Problem::SecondUnit,
            },
        ))
    }

    /// Takes `7`, `.5`, `5/8`, `½`, `10 5/8`, `10-5/8` or `10½`.
    pub(super) fn take_quantity(&mut self) -> Result<Quantity, Fault> {
        let Some(Placed { token, at, .. }) = self.upcoming() else {
            // Only a sign or a unit can come before; the caller has made sure of one token.
            let last = self.tokens.last().map_or(0, |placed| placed.at);
            return Err(Fault::new(last, Problem::EndsAfterSign));
        };
        let quantity = |value, whole, doubtful_comma| Quantity {
            value,
            at,
            whole,
            doubtful_comma,
        };
        match token {
            Token::Number(number) => {
                let begins_fraction = self
                    .peek(1)
                    .is_some_and(|placed| placed.token == Token::Slash);
                if begins_fraction {
                    return Ok(quantity(self.take_fraction()?, false, None));
                }
                self.next += 1;
                match self.take_fraction_behind(number)? {
                    Some(fraction) => Ok(quantity(number.value + fraction, false, None)),
                    None => Ok(quantity(number.value, number.whole, number.doubtful_comma)),
                }
            }
            Token::Vulgar(_) => Ok(quantity(self.take_fraction()?, false, None)),
            _ => Err(Fault::new(at, Problem::NoNumber)),
        }
    }

    /// Takes the fraction of a mixed number whose whole part was just taken.
    fn take_fraction_behind(&mut self, whole: Number) -> Result<Option<f64>, Fault> {
        // A hyphen joins only where it touches both sides: `10-5/8`, but not `10 - 5/8`.
        let hyphen = match (self.peek(0), self.peek(1)) {
            (Some(dash), Some(after)) => {
                dash.token == Token::Minus && !dash.spaced && !after.spaced
            }
            _ => false,
        };
        let ahead = usize::from(hyphen);
        let begins_fraction = match self.peek(ahead).map(|placed| placed.token) {
            Some(Token::Vulgar(_)) => true,
            Some(Token::Number(_)) => self
                .peek(ahead + 1)
                .is_some_and(|placed| placed.token == Token::Slash),
            _ => false,
        };
        let (true, Some(first)) = (begins_fraction, self.peek(ahead)) else {
            return Ok(None);
        };
        if !whole.whole {
            return Err(Fault::new(first.at, Problem::DecimalInFraction));
        }
        self.next += ahead;
        let fraction = self.take_fraction()?;
        if fraction < 1.0 {
            Ok(Some(fraction))
        } else {
            Err(Fault::new(first.at, Problem::FractionNotUnderOne))
        }
    }

    /// Takes `½`, or a number, a slash and a number.
    fn take_fraction(&mut self) -> Result<f64, Fault> {
        let value = match self.upcoming().map(|placed| placed.token) {
            Some(Token::Vulgar(value)) => {
                self.next += 1;
                value
            }
            _ => self.take_slashed()?,
        };
        match self.upcoming() {
            Some(placed) if placed.token == Token::Slash => {
                Err(Fault::new(placed.at, Problem::SecondSlash))
            }
            _ => Ok(value),
        }
    }

    /// Takes a number, a slash and a number; the first two are known to be there.
    fn take_slashed(&mut self) -> Result<f64, Fault> {
        let (top, slash, bottom) = (self.peek(0), self.peek(1), self.peek(2));
        let slash_at = slash.map_or(0, |placed| placed.at);
        let Some(bottom) = bottom else {
            return Err(Fault::new(slash_at, Problem::EndsAfterSlash));
        };
        match (top.map(|placed| (placed.at, placed.token)), bottom.token) {
            (Some((at, Token::Number(top))), Token::Number(below)) => {
                if !top.whole {
                    return Err(Fault::new(at, Problem::DecimalInFraction));
                }
                if !below.whole {
                    return Err(Fault::new(bottom.at, Problem::DecimalInFraction));
                }
                if below.value <= 0.0 {
                    return Err(Fault::new(bottom.at, Problem::ZeroBelowSlash));
                }
                self.next += 3;
                Ok(top.value / below.value)
            }
            _ => Err(Fault::new(slash_at, Problem::NothingBelowSlash)),
        }
    }
}
