//! A link as a square code that a telephone's camera reads off the paper (ISO/IEC 18004).

use qrcodegen::{QrCode, QrCodeEcc};

use crate::sheet::drawing::{Drawing, Layer, Point};

/// White all round the code, modules (ISO/IEC 18004, 6.3.8).
const QUIET: usize = 4;
/// Fewest and most modules along a side without the white: versions 1 and 40.
const SIDES: std::ops::RangeInclusive<usize> = 21..=177;

/// A code: dark and light modules in a square.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Code {
    side: usize,
    /// Row by row from the upper left, true where dark.
    dark: Vec<bool>,
}

impl Code {
    /// Usual side of a module, mm. A camera at arm's length needs a code about a tenth as wide as
    /// it is far away; that and half a millimetre as the least are common practice, no source.
    pub const MODULE: f64 = 0.6;
    /// Smallest side of a module worth printing, mm.
    pub const MODULE_LEAST: f64 = 0.5;

    /// The smallest code of a text that can be read with a seventh of it spoilt (level M), or more
    /// where the same size has room for it; `None` for a text longer than any code holds, about
    /// 2300 letters.
    #[must_use]
    pub fn new(text: &str) -> Option<Self> {
        let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
        let dark = (0..code.size()).flat_map(|y| (0..code.size()).map(move |x| (x, y)));
        Some(Self {
            side: usize::try_from(code.size()).ok()?,
            dark: dark.map(|(x, y)| code.get_module(x, y)).collect(),
        })
    }

    /// Modules along a side, without the white around them.
    #[must_use]
    pub const fn side_modules(&self) -> usize {
        self.side
    }

    /// Whether a module is dark, counted from the upper left.
    #[must_use]
    pub fn is_dark(&self, column: usize, row: usize) -> bool {
        column < self.side && self.dark.get(row * self.side + column) == Some(&true)
    }

    /// Side of the printed code with its white, mm, for modules of a size in mm.
    #[must_use]
    pub fn width(&self, module: f64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "at most 185")]
        let modules = (self.side + 2 * QUIET) as f64;
        modules * module
    }

    /// Side of a module, mm, with which the code and its white fit into `room` mm: the usual one,
    /// or a smaller one. `None` when it would be too small to be read: the text is too long for
    /// the room.
    #[must_use]
    pub fn module_in(&self, room: f64) -> Option<f64> {
        let module = (room / self.width(1.0)).min(Self::MODULE);
        (module >= Self::MODULE_LEAST).then_some(module)
    }

    /// Adds the code to a page as filled areas. `at` is the upper left corner of its white, and
    /// `module` the side of a module in mm.
    pub fn draw(&self, page: &mut Drawing, at: Point, module: f64) {
        let place = |column: usize, row: usize| {
            #[expect(clippy::cast_precision_loss, reason = "at most 185")]
            let [x, y] = [column, row].map(|modules| (modules + QUIET) as f64 * module);
            Point::new(at.x + x, at.y + y)
        };
        for row in 0..self.side {
            let mut column = 0;
            while column < self.side {
                let from = column;
                while self.is_dark(column, row) {
                    column += 1;
                }
                if column > from && !self.is_part_of_one_above(from, column, row) {
                    let mut below = row + 1;
                    while self.is_run(from, column, below) {
                        below += 1;
                    }
                    page.fill(
                        Layer::Note,
                        [
                            place(from, row),
                            place(column, row),
                            place(column, below),
                            place(from, below),
                        ],
                    );
                }
                column += 1;
            }
        }
    }

    /// Whether exactly these columns of a row are one dark run.
    fn is_run(&self, from: usize, to: usize, row: usize) -> bool {
        let open = |column: usize| !self.is_dark(column, row);
        row < self.side
            && (from == 0 || open(from - 1))
            && open(to)
            && (from..to).all(|column| self.is_dark(column, row))
    }

    /// Whether the row above has the same run, whose area then reaches down here.
    fn is_part_of_one_above(&self, from: usize, to: usize, row: usize) -> bool {
        row.checked_sub(1)
            .is_some_and(|above| self.is_run(from, to, above))
    }

    /// The modules as text: four to a hexadecimal digit, row by row, the last digit filled up with
    /// light ones. [`Code::from_hex`] makes the code of it without knowing how codes are made.
    #[must_use]
    pub fn to_hex(&self) -> String {
        self.dark
            .chunks(4)
            .map(|four| {
                let digit = (0..4).fold(0, |digit, i| {
                    2 * digit + u32::from(four.get(i) == Some(&true))
                });
                char::from_digit(digit, 16).unwrap_or('0')
            })
            .collect()
    }

    /// The code of what [`Code::to_hex`] wrote; `None` for any other text.
    #[must_use]
    pub fn from_hex(hex: &str) -> Option<Self> {
        let digits = hex.len();
        let side = SIDES
            .step_by(4)
            .find(|side| (side * side).div_ceil(4) == digits)?;
        let mut dark = Vec::with_capacity(4 * digits);
        for letter in hex.chars() {
            let digit = letter.to_digit(16)?;
            dark.extend((0..4).rev().map(|bit| digit >> bit & 1 == 1));
        }
        if dark.drain(side * side..).any(|spare| spare) {
            return None;
        }
        Some(Self { side, dark })
    }
}
