//! A named printer: its margin, which way its sheets are used, and how far off it prints.

use serde::{Deserialize, Serialize};

use crate::units::{Length, Unit, write_fixed, write_length};

/// Margin that every printer looked at keeps clear (4 to 6.7 mm in printer manuals), with room
/// to spare.
const MARGIN_DEFAULT: Length = Length::from_mm(10.0);
/// Smallest margin taken: colour laser manuals give 4 mm on all edges.
const MARGIN_MIN: Length = Length::from_mm(4.0);
/// Largest margin taken: beyond it the check rulers no longer fit on a Letter sheet.
const MARGIN_MAX: Length = Length::from_mm(25.0);
/// A ruler further off than this part of its length was rescaled by a setting, not by the
/// printer's mechanics.
const PLAUSIBLE: f64 = 0.1;

/// A measurement this near to the other ruler's length (as a part of it) was taken on that one.
const OTHER: f64 = 0.004;

/// Which way the drawing lies on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Orientation {
    /// Whichever takes fewer sheets; upright when both take as many.
    #[default]
    Auto,
    /// Upright: the short edge at the top.
    Upright,
    /// Turned a quarter: the long edge at the top.
    Sideways,
}

/// Which of the printed rulers was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ruler {
    /// The one of 100 mm.
    Millimetres,
    /// The one of 4 inches.
    Inches,
}

impl Ruler {
    /// Both rulers.
    pub const ALL: [Self; 2] = [Self::Millimetres, Self::Inches];

    /// What it measures on a true print.
    #[must_use]
    pub const fn length(self) -> Length {
        match self {
            Self::Millimetres => Length::from_mm(100.0),
            Self::Inches => Length::from_inches(4.0),
        }
    }

    /// Its length in words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Millimetres => "100 mm",
            Self::Inches => "4 in",
        }
    }
}

/// A printer setting that cannot be right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PrinterError {
    /// A margin outside 4 to 25 mm.
    Margin {
        /// What was asked for.
        is: Length,
    },
    /// A measurement that is the other ruler's true length.
    OtherRuler {
        /// What it measured.
        is: Length,
        /// The ruler that it fits.
        fits: Ruler,
    },
    /// A measured ruler that says that the page was rescaled.
    Rescaled {
        /// What it measured.
        is: Length,
        /// Which ruler.
        ruler: Ruler,
    },
}

impl PrinterError {
    /// The refusal in words, lengths in the job's unit.
    #[must_use]
    pub fn sentence(&self, unit: Unit) -> String {
        match *self {
            Self::Margin { is } => format!(
                "A printer margin of {} cannot be used. Type {} to {}; {} suits nearly every \
                 printer.",
                write_length(is, unit),
                write_length(MARGIN_MIN, unit),
                write_length(MARGIN_MAX, unit),
                write_length(MARGIN_DEFAULT, unit)
            ),
            Self::OtherRuler { is, fits } => format!(
                "{} is what the {} ruler measures on a true print. Choose that ruler, or measure \
                 the other one.",
                write_length(is, unit),
                fits.name()
            ),
            Self::Rescaled { is, ruler } if is.is_finite() && is > Length::ZERO => {
                let off = (is / ruler.length() - 1.0) * 100.0;
                format!(
                    "You measured {} for the {} ruler: that is {} % too {}. No printer is that \
                     far off by itself; it is rescaling the page. Set it to 100 % (actual size, \
                     no “fit to page”), check that the paper is the one named on the sheet, and \
                     print again.",
                    write_length(is, unit),
                    ruler.name(),
                    write_fixed(off.abs(), 1),
                    if off < 0.0 { "short" } else { "long" }
                )
            }
            Self::Rescaled { ruler, .. } => format!(
                "Type what the {} ruler measures on paper, for example {}.",
                ruler.name(),
                write_length(ruler.length(), unit)
            ),
        }
    }
}

/// A printer as kept between visits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Kept", into = "Kept")]
pub struct Printer {
    name: String,
    margin: Length,
    orientation: Orientation,
    across: f64,
    along: f64,
}

impl Default for Printer {
    fn default() -> Self {
        Self {
            name: String::new(),
            margin: MARGIN_DEFAULT,
            orientation: Orientation::Auto,
            across: 1.0,
            along: 1.0,
        }
    }
}

impl Printer {
    /// A printer that prints true, with the usual margin.
    #[must_use]
    pub fn new(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            ..Self::default()
        }
    }

    /// The same settings under another name.
    #[must_use]
    pub fn with_name(self, name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            ..self
        }
    }

    /// With another margin.
    ///
    /// # Errors
    /// A margin outside 4 to 25 mm.
    pub fn with_margin(self, margin: Length) -> Result<Self, PrinterError> {
        if !(MARGIN_MIN..=MARGIN_MAX).contains(&margin) {
            return Err(PrinterError::Margin { is: margin });
        }
        Ok(Self { margin, ..self })
    }

    /// With the drawing another way on the sheet.
    #[must_use]
    pub fn with_orientation(self, orientation: Orientation) -> Self {
        Self {
            orientation,
            ..self
        }
    }

    /// Corrected by what a ruler measured, across and along the sheet, on a print made with the
    /// correction this printer already has. On an uncorrected printer the correction is
    /// nominal / measured; on a corrected one it is refined by that.
    ///
    /// # Errors
    /// A measurement more than 10 % off, and a correction that would add up to more than that.
    pub fn measured(
        self,
        ruler: Ruler,
        across: Length,
        along: Length,
    ) -> Result<Self, PrinterError> {
        Ok(Self {
            across: self.across * correction(ruler, across, self.across)?,
            along: self.along * correction(ruler, along, self.along)?,
            ..self
        })
    }

    /// Without any correction.
    #[must_use]
    pub fn uncorrected(self) -> Self {
        Self {
            across: 1.0,
            along: 1.0,
            ..self
        }
    }

    /// Name given by the user; may be empty.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Width of the border that stays clear.
    #[must_use]
    pub const fn margin(&self) -> Length {
        self.margin
    }

    /// Which way the drawing lies.
    #[must_use]
    pub const fn orientation(&self) -> Orientation {
        self.orientation
    }

    /// What lengths across (along the short edge of the sheet) are multiplied by; 1 prints true.
    #[must_use]
    pub const fn across(&self) -> f64 {
        self.across
    }

    /// What lengths along (the long edge of the sheet) are multiplied by; 1 prints true.
    #[must_use]
    pub const fn along(&self) -> f64 {
        self.along
    }

    /// Whether prints are corrected at all.
    #[must_use]
    pub fn is_corrected(&self) -> bool {
        (self.across - 1.0).abs() > f64::EPSILON || (self.along - 1.0).abs() > f64::EPSILON
    }

    /// What a ruler measures on an uncorrected print of this printer, across and along.
    #[must_use]
    pub fn uncorrected_ruler(&self, ruler: Ruler) -> (Length, Length) {
        (ruler.length() / self.across, ruler.length() / self.along)
    }
}

/// Nominal over measured, if the total with the correction so far stays plausible.
fn correction(ruler: Ruler, measured: Length, so_far: f64) -> Result<f64, PrinterError> {
    let near = |of: Ruler| (measured / of.length() - 1.0).abs();
    if let Some(fits) = Ruler::ALL
        .into_iter()
        .find(|of| *of != ruler && near(*of) < OTHER)
    {
        return Err(PrinterError::OtherRuler { is: measured, fits });
    }
    let factor = ruler.length() / measured;
    let plausible = |measured: Length| {
        let ratio = measured / ruler.length();
        (1.0 - PLAUSIBLE..=1.0 + PLAUSIBLE).contains(&ratio)
    };
    if !plausible(measured) || !plausible(ruler.length() / (factor * so_far)) {
        return Err(PrinterError::Rescaled {
            is: measured,
            ruler,
        });
    }
    Ok(factor)
}

/// The form kept in a store: plain numbers, checked when read back.
#[derive(Serialize, Deserialize)]
struct Kept {
    name: String,
    margin_mm: f64,
    #[serde(default)]
    orientation: Orientation,
    #[serde(default = "one")]
    across: f64,
    #[serde(default = "one")]
    along: f64,
}

const fn one() -> f64 {
    1.0
}

impl TryFrom<Kept> for Printer {
    type Error = String;

    fn try_from(kept: Kept) -> Result<Self, String> {
        let ruler = Ruler::Millimetres;
        let printer = Self::new(kept.name)
            .with_orientation(kept.orientation)
            .with_margin(Length::from_mm(kept.margin_mm))
            .map_err(|error| error.sentence(Unit::Millimetre))?;
        for factor in [kept.across, kept.along] {
            correction(ruler, ruler.length() / factor, 1.0)
                .map_err(|error| error.sentence(Unit::Millimetre))?;
        }
        Ok(Self {
            across: kept.across,
            along: kept.along,
            ..printer
        })
    }
}

impl From<Printer> for Kept {
    fn from(printer: Printer) -> Self {
        Self {
            name: printer.name,
            margin_mm: printer.margin.mm(),
            orientation: printer.orientation,
            across: printer.across,
            along: printer.along,
        }
    }
}
