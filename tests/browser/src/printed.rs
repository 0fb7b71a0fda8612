//! A printed sheet of the page, read the way it is used: turned until its words stand upright.

use crate::pdf::{Page, Point, distance};

/// Pens of the sheet, mm. The cut line has a width that nothing else has.
const CUT_PEN: f64 = 0.35;
const MARK_PEN: f64 = 0.25;
const THIN_PEN: f64 = 0.18;
/// The drawn length of a registration cross, mm.
const CROSS: f64 = 6.0;
/// Lines that should touch may be this far apart, mm: what Chromium rounds away.
const TOUCH: f64 = 0.01;

/// A printed sheet.
pub struct Sheet<'pdf> {
    page: &'pdf Page,
    /// Whether it is read with the sheet's left edge at the bottom.
    turned: bool,
}

/// A check ruler as it lies on the sheet.
#[derive(Debug, Clone)]
pub struct Ruler {
    /// Whether it measures along the sheet's long edges.
    pub along: bool,
    /// Places of its graduations, mm from the first.
    pub ticks: Vec<f64>,
}

/// Which tile of a larger strip a sheet shows, counted from one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tile {
    /// From the left.
    pub column: usize,
    /// From the top.
    pub row: usize,
}

impl<'pdf> Sheet<'pdf> {
    /// Takes a sheet in hand.
    ///
    /// # Panics
    /// When it does not say what it must be printed at, which is what it is turned by.
    #[must_use]
    pub fn new(page: &'pdf Page) -> Self {
        let head = page
            .texts
            .iter()
            .find(|text| text.words.contains("print at 100 %"));
        let head = head.expect("every sheet names its paper and 100 %");
        let turned = (head.turned_deg - 90.0).abs() < 0.1;
        assert!(
            turned || head.turned_deg.abs() < 0.1,
            "the sheet's head is turned by {}°",
            head.turned_deg
        );
        Self { page, turned }
    }

    /// Whether the drawing lies sideways on the sheet.
    #[must_use]
    pub const fn is_turned(&self) -> bool {
        self.turned
    }

    /// Everything the sheet says, line after line.
    #[must_use]
    pub fn words(&self) -> String {
        let lines: Vec<&str> = self
            .page
            .texts
            .iter()
            .map(|text| text.words.as_str())
            .collect();
        lines.join(" ")
    }

    /// The lines drawn with the pen of the cut line.
    #[must_use]
    pub fn cut_lines(&self) -> Vec<Vec<Point>> {
        self.lines(CUT_PEN)
    }

    /// Height of the mark line on the sheet, if it is on it.
    #[must_use]
    pub fn mark_line(&self) -> Option<f64> {
        // The cut line repeated on the tab has the same pen, but is nowhere level for long.
        let level = |line: &&Vec<Point>| {
            line.len() == 2
                && (line[0][1] - line[1][1]).abs() < TOUCH
                && distance(line[0], line[1]) > 5.0
        };
        let lines = self.lines(MARK_PEN);
        lines
            .iter()
            .filter(level)
            .map(|line| line[0][1])
            .max_by(f64::total_cmp)
    }

    /// Places from the left of the upright lines with long and short dashes: the zero line and
    /// where it comes round again.
    #[must_use]
    pub fn zero_lines(&self) -> Vec<f64> {
        let lines = self.page.dashed_lines();
        let ends = lines.iter().filter_map(|line| {
            let (from, to) = (self.read(line.start()), self.read(line.end()));
            let longest = line.pattern_mm().into_iter().step_by(2).fold(0.0, f64::max);
            let zero = longest > 4.0 && (from[0] - to[0]).abs() < TOUCH;
            zero.then_some(from[0])
        });
        let mut places: Vec<f64> = ends.collect();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < TOUCH);
        places
    }

    /// Places from the top of the level lines with long and short dashes: the zero line of the paper
    /// for the main.
    #[must_use]
    pub fn level_zero_lines(&self) -> Vec<f64> {
        let lines = self.page.dashed_lines();
        let levels = lines.iter().filter_map(|line| {
            let (from, to) = (self.read(line.start()), self.read(line.end()));
            let longest = line.pattern_mm().into_iter().step_by(2).fold(0.0, f64::max);
            (longest > 4.0 && (from[1] - to[1]).abs() < TOUCH).then_some(from[1])
        });
        levels.collect()
    }

    /// Turns that stand alone, such as `90°`, with where their words begin.
    #[must_use]
    pub fn turns(&self) -> Vec<(Point, f64)> {
        let turns = self.page.texts.iter().filter_map(|text| {
            let degrees = text.words.strip_suffix('°')?.parse().ok()?;
            Some((self.read(text.at), degrees))
        });
        turns.collect()
    }

    /// Middles of the registration crosses.
    #[must_use]
    pub fn crosses(&self) -> Vec<Point> {
        let lines = self.lines(THIN_PEN);
        let bars: Vec<&Vec<Point>> = lines
            .iter()
            .filter(|line| line.len() == 2 && (distance(line[0], line[1]) - CROSS).abs() < TOUCH)
            .collect();
        let middle = |bar: &[Point]| [0, 1].map(|i| f64::midpoint(bar[0][i], bar[1][i]));
        let is_level = |bar: &[Point]| (bar[0][1] - bar[1][1]).abs() < TOUCH;
        bars.iter()
            .filter(|bar| is_level(bar))
            .map(|bar| middle(bar))
            .filter(|&at| {
                bars.iter()
                    .any(|bar| !is_level(bar) && distance(middle(bar), at) < TOUCH)
            })
            .collect()
    }

    /// Which tile it is, when the strip takes several sheets.
    #[must_use]
    pub fn tile(&self) -> Option<Tile> {
        // "column 2 of 4, row 1 of 1; row 2 below"
        let name = self.page.texts.iter().find_map(|text| {
            let words = text.words.strip_prefix("column ")?;
            words.contains(" of ").then_some(words)
        })?;
        let mut numbers = name
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|number| number.parse().ok());
        let column = numbers.next()?;
        let row = numbers.nth(1)?;
        Some(Tile { column, row })
    }

    /// What stands under a caption of the table of facts.
    #[must_use]
    pub fn fact(&self, caption: &str) -> Option<String> {
        let texts: Vec<(Point, f64, &str)> = self
            .page
            .texts
            .iter()
            .map(|text| (self.read(text.at), text.size_mm, text.words.as_str()))
            .collect();
        let &(mut above, small, _) = texts.iter().find(|(_, _, words)| *words == caption)?;
        // A value is set larger than its caption, each line closely under the one before.
        let mut value = Vec::new();
        while let Some(&(at, _, words)) = texts.iter().find(|(at, size, _)| {
            *size > small + 0.5
                && (at[0] - above[0]).abs() < 0.1
                && (2.0..5.0).contains(&(at[1] - above[1]))
        }) {
            value.push(words);
            above = at;
        }
        (!value.is_empty()).then(|| value.join(" "))
    }

    /// The length under a caption, in mm.
    ///
    /// # Panics
    /// When it is not there.
    #[track_caller]
    #[must_use]
    pub fn length(&self, caption: &str) -> f64 {
        let fact = self
            .fact(caption)
            .unwrap_or_else(|| panic!("the sheet says nothing of \"{caption}\""));
        length_mm(&fact).unwrap_or_else(|| panic!("{caption}: \"{fact}\" is no length"))
    }

    /// The check rulers, in no order.
    #[must_use]
    pub fn rulers(&self) -> Vec<Ruler> {
        let strokes: Vec<[Point; 2]> = self
            .page
            .strokes
            .iter()
            .filter_map(|stroke| stroke.points.as_slice().try_into().ok())
            .collect();
        let mut rulers = Vec::new();
        for axis in [0, 1] {
            let parallel = |line: &[Point; 2], axis: usize| {
                (line[0][1 - axis] - line[1][1 - axis]).abs() < TOUCH
            };
            let base_lines = strokes.iter().filter(|line| {
                parallel(line, axis) && (90.0..115.0).contains(&distance(line[0], line[1]))
            });
            for base in base_lines {
                let on_base = |end: &Point| {
                    let reach = [base[0][axis], base[1][axis]];
                    let (from, to) = (reach[0].min(reach[1]), reach[0].max(reach[1]));
                    (end[1 - axis] - base[0][1 - axis]).abs() < TOUCH
                        && (from - TOUCH..=to + TOUCH).contains(&end[axis])
                };
                let mut ticks: Vec<f64> = strokes
                    .iter()
                    .filter(|line| parallel(line, 1 - axis) && line.iter().any(on_base))
                    .map(|line| line[0][axis])
                    .collect();
                ticks.sort_by(f64::total_cmp);
                // Frames and dimension lines have no graduations.
                if let (Some(&first), true) = (ticks.first(), ticks.len() > 60) {
                    ticks.iter_mut().for_each(|tick| *tick -= first);
                    rulers.push(Ruler {
                        along: axis == 1,
                        ticks,
                    });
                }
            }
        }
        rulers
    }

    /// The open lines of a pen (width in mm), as the sheet is read.
    #[must_use]
    pub fn lines_of_pen(&self, pen: f64) -> Vec<Vec<Point>> {
        self.lines(pen)
    }

    /// The open lines of a pen, as the sheet is read.
    fn lines(&self, pen: f64) -> Vec<Vec<Point>> {
        self.page
            .strokes_of_width(pen)
            .filter(|stroke| !stroke.closed)
            .map(|stroke| stroke.points.iter().map(|&p| self.read(p)).collect())
            .collect()
    }

    /// A place on the paper, as the sheet is read.
    fn read(&self, [x, y]: Point) -> Point {
        if self.turned {
            [y, self.page.width_mm - x]
        } else {
            [x, y]
        }
    }
}

impl Ruler {
    /// First to last graduation, mm.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        self.ticks.last().copied().unwrap_or_default()
    }
}

/// A printed length in mm, up to the first comma: `31.76 mm`, `1.25 in`, `1 5/16 − 0.014 in`,
/// `3"`.
#[must_use]
pub fn length_mm(text: &str) -> Option<f64> {
    let text = text.split(',').next()?.trim();
    let (number, unit) = [("mm", 1.0), ("in", 25.4), ("\"", 25.4)]
        .into_iter()
        .find_map(|(mark, unit)| Some((text.strip_suffix(mark)?, unit)))?;
    let (mut sum, mut sign) = (0.0, 1.0);
    let mut is_negative = false;
    for (place, word) in number.split_whitespace().enumerate() {
        let word = match (place, word) {
            (_, "+") => continue,
            (1.., "−") => {
                sign = -1.0;
                continue;
            }
            (0, word) => {
                is_negative = word.starts_with('−');
                word.trim_start_matches('−')
            }
            (_, word) => word,
        };
        let value = match word.split_once('/') {
            Some((top, bottom)) => top.parse::<f64>().ok()? / bottom.parse::<f64>().ok()?,
            None => word.parse().ok()?,
        };
        sum += sign * value;
    }
    Some(unit * if is_negative { -sum } else { sum })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn printed_lengths_are_read() {
        for (text, mm) in [
            ("31.76 mm", 31.76),
            ("528.1 mm, computed", 528.1),
            ("−12.5 mm", -12.5),
            ("1.25 in", 31.75),
            ("3\"", 76.2),
            ("1 5/16 − 0.014 in", (1.3125 - 0.014) * 25.4),
            ("2 3/4 + 0.013 in, as measured", 2.763 * 25.4),
            ("5/8\"", 15.875),
        ] {
            let read = length_mm(text).unwrap();
            assert!((read - mm).abs() < 1e-9, "{text}: {read}");
        }
        assert_eq!(length_mm("on the zero line"), None);
    }
}
