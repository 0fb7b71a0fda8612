//! Paper sizes and the thickness of a sheet.

use crate::units::Length;

/// Where the paper sizes come from.
///
/// ISO 216 table of the A series; North American sizes in inches, Letter and Tabloid being ANSI A
/// and B (ANSI/ASME Y14.1).
pub const PAPER_SOURCE: &str =
    "A4 and A3: ISO 216. Letter, Legal and Tabloid: North American sizes, ANSI A and B.";

/// Thickness of ordinary printer paper, 80 g/m².
///
/// It enters the developed width: the printed side lies one sheet above the tube. Source:
/// [`SHEET_THICKNESS_SOURCE`].
pub const SHEET_THICKNESS: Length = Length::from_mm(0.1);

/// Where the thickness comes from: hypertextbook.com, "Thickness of a piece of paper", 2001.
pub const SHEET_THICKNESS_SOURCE: &str = "500 sheets of 75 g/m² measured 51.5 mm, or 0.103 mm a sheet; 0.1 mm for 80 g/m² is common \
     practice, no source.";

/// A paper size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Paper {
    /// 210 × 297 mm.
    A4,
    /// 297 × 420 mm.
    A3,
    /// 8 1/2 × 11 in.
    Letter,
    /// 8 1/2 × 14 in.
    Legal,
    /// 11 × 17 in.
    Tabloid,
}

impl Paper {
    /// Every size, in the order offered.
    pub const ALL: [Self; 5] = [Self::A4, Self::A3, Self::Letter, Self::Legal, Self::Tabloid];

    /// Width and height of the sheet held upright.
    #[must_use]
    pub const fn size(self) -> (Length, Length) {
        match self {
            Self::A4 => (Length::from_mm(210.0), Length::from_mm(297.0)),
            Self::A3 => (Length::from_mm(297.0), Length::from_mm(420.0)),
            Self::Letter => (Length::from_inches(8.5), Length::from_inches(11.0)),
            Self::Legal => (Length::from_inches(8.5), Length::from_inches(14.0)),
            Self::Tabloid => (Length::from_inches(11.0), Length::from_inches(17.0)),
        }
    }

    /// The short name that links and files use.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::A3 => "A3",
            Self::Letter => "Letter",
            Self::Legal => "Legal",
            Self::Tabloid => "Tabloid",
        }
    }

    /// The size of a code, whatever the case of its letters; `None` for any other text.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|paper| paper.code().eq_ignore_ascii_case(code))
    }

    /// What the size is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.code()
    }

    /// Name and dimensions, for a list to choose from.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::A4 => "A4, 210 × 297 mm",
            Self::A3 => "A3, 297 × 420 mm",
            Self::Letter => "Letter, 8 1/2 × 11 in",
            Self::Legal => "Legal, 8 1/2 × 14 in",
            Self::Tabloid => "Tabloid, 11 × 17 in",
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::units::{Unit, read_length};

    fn mm(paper: Paper) -> (f64, f64) {
        let (width, height) = paper.size();
        (width.mm(), height.mm())
    }

    #[test]
    fn a_sizes_follow_the_rule_of_iso_216() {
        // ISO 216: the sides are as 1 to √2, A0 has one square metre, each next size is half of
        // the one before, and lengths are rounded to whole millimetres.
        let side = |n: f64| 1000.0 * 2.0_f64.powf(-0.25 - n / 2.0);
        for (paper, number) in [(Paper::A4, 4.0), (Paper::A3, 3.0)] {
            let (width, height) = mm(paper);
            assert!((width - side(number)).abs() < 0.5, "{width}");
            assert!((height - side(number - 1.0)).abs() < 0.5, "{height}");
        }
        assert_eq!(mm(Paper::A4).1.to_bits(), mm(Paper::A3).0.to_bits());
    }

    #[test]
    fn american_sizes_are_the_published_millimetres() {
        // Letter 215.9 × 279.4 mm: ANSI/ASME Y14.1; Legal is three inches longer; Tabloid is two
        // Letters side by side.
        let close = |(w, h): (f64, f64), (x, y): (f64, f64)| {
            assert!((w - x).abs() < 1e-9 && (h - y).abs() < 1e-9, "{w} {h}");
        };
        close(mm(Paper::Letter), (215.9, 279.4));
        close(mm(Paper::Legal), (215.9, 355.6));
        close(mm(Paper::Tabloid), (279.4, 431.8));
        assert!((mm(Paper::Tabloid).1 - 2.0 * mm(Paper::Letter).0).abs() < 1e-9);
    }

    #[test]
    fn codes_lead_back_to_their_paper() {
        for paper in Paper::ALL {
            assert_eq!(Paper::from_code(paper.code()), Some(paper));
            assert_eq!(Paper::from_code(&paper.code().to_lowercase()), Some(paper));
            assert!(paper.label().starts_with(paper.name()));
        }
        assert_eq!(Paper::from_code("A5"), None);
        assert_eq!(Paper::from_code(""), None);
    }

    #[test]
    fn labels_state_the_size_they_name() {
        for paper in Paper::ALL {
            let (_, size) = paper.label().split_once(", ").unwrap();
            let (width, rest) = size.split_once(" × ").unwrap();
            let (height, unit) = rest.split_once(' ').unwrap();
            let read = |text: &str| read_length(text, Unit::from_code(unit).unwrap()).unwrap();
            let (w, h) = paper.size();
            assert!((read(width) - w).abs().mm() < 1e-9, "{}", paper.label());
            assert!((read(height) - h).abs().mm() < 1e-9, "{}", paper.label());
        }
    }

    #[test]
    fn a_sheet_is_as_thick_as_a_ream_divided() {
        // hypertextbook.com, "Thickness of a piece of paper": 500 sheets, 51.5 mm, 75 g/m².
        assert!((SHEET_THICKNESS.mm() - 51.5 / 500.0).abs() < 0.005);
    }
}
