//! The unit a job is worked in: what a bare number means and how lengths are written.

use super::Length;

/// The finest division of the inch on the tape in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Denominator {
    /// 1/16 in.
    Sixteenth,
    /// 1/32 in.
    ThirtySecond,
    /// 1/64 in.
    SixtyFourth,
}

impl Denominator {
    /// Every division, coarsest first.
    pub const ALL: [Self; 3] = [Self::Sixteenth, Self::ThirtySecond, Self::SixtyFourth];

    /// Parts to the inch: 16, 32 or 64.
    #[must_use]
    pub const fn parts(self) -> u32 {
        match self {
            Self::Sixteenth => 16,
            Self::ThirtySecond => 32,
            Self::SixtyFourth => 64,
        }
    }
}

/// What a bare number means and how lengths are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Millimetres, written to 0.01 mm.
    Millimetre,
    /// Decimal inches, written to 0.001 in.
    Inch,
    /// Inches in tape fractions, the remainder written to 0.001 in.
    Fraction(Denominator),
}

impl Unit {
    /// Every unit, in the order offered.
    pub const ALL: [Self; 5] = [
        Self::Millimetre,
        Self::Inch,
        Self::Fraction(Denominator::Sixteenth),
        Self::Fraction(Denominator::ThirtySecond),
        Self::Fraction(Denominator::SixtyFourth),
    ];

    /// The short name that links and files use: `mm`, `in`, `in/16`, `in/32`, `in/64`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Inch => "in",
            Self::Fraction(Denominator::Sixteenth) => "in/16",
            Self::Fraction(Denominator::ThirtySecond) => "in/32",
            Self::Fraction(Denominator::SixtyFourth) => "in/64",
        }
    }

    /// The unit of a code, whatever the case of its letters; `None` for any other text.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|unit| unit.code().eq_ignore_ascii_case(code))
    }

    /// The unit in plain words, for a list to choose from.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Millimetre => "Millimetres",
            Self::Inch => "Decimal inches",
            Self::Fraction(Denominator::Sixteenth) => "Inches, to 1/16",
            Self::Fraction(Denominator::ThirtySecond) => "Inches, to 1/32",
            Self::Fraction(Denominator::SixtyFourth) => "Inches, to 1/64",
        }
    }

    /// Whether a bare number is in inches.
    #[must_use]
    pub const fn is_inch(self) -> bool {
        !matches!(self, Self::Millimetre)
    }

    /// The smallest difference that written lengths show: 0.01 mm or 0.001 in. A written length
    /// is within half of it of the true one.
    #[must_use]
    pub const fn shown_step(self) -> Length {
        match self {
            Self::Millimetre => Length::from_mm(0.01),
            Self::Inch | Self::Fraction(_) => Length::from_inches(0.001),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn codes_lead_back_to_their_unit() {
        let codes: Vec<&str> = Unit::ALL.into_iter().map(Unit::code).collect();
        assert_eq!(codes, ["mm", "in", "in/16", "in/32", "in/64"]);
        for unit in Unit::ALL {
            assert_eq!(Unit::from_code(unit.code()), Some(unit));
            assert_eq!(Unit::from_code(&unit.code().to_uppercase()), Some(unit));
        }
        for wrong in ["", " mm", "inch", "in/8", "in/128", "μm"] {
            assert_eq!(Unit::from_code(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn fraction_labels_name_their_division() {
        for parts in Denominator::ALL {
            let label = Unit::Fraction(parts).label();
            assert!(label.ends_with(&format!("1/{}", parts.parts())), "{label}");
        }
    }
}
