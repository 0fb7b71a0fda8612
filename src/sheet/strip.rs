//! The paper strip of a template: where its lines run, in a frame of its own.
//!
//! The figure's origin is its upper left corner. The printed side faces out, the cut is at the
//! top and the tube's body at the bottom, so turns grow to the left: the zero line is the right
//! edge, 360° the left one, and the overlap tab lies left of that, to be tucked under.

use crate::piece::{PaperPoint, PaperRun, Station, Template};
use crate::sheet::area::Area;
use crate::sheet::drawing::{Drawing, Layer, Pen, Point};
use crate::units::{Length, sort_by_number};

/// The usual overlap tab, mm.
pub const TAB: f64 = 12.0;
/// The narrowest tab that still takes a strip of tape, mm: used where it saves a sheet.
pub const TAB_SHORT: f64 = 8.0;
/// Narrowest overlap tab, mm.
const TAB_MIN: f64 = 3.0;
/// Width of the tab as a part of the developed width, between the two.
const TAB_PART: f64 = 0.2;
/// Strips narrower than this have their words beside them, mm.
const NARROW: f64 = 60.0;
/// White kept between a line and the words that break it, mm.
const BREAK: f64 = 0.7;

/// A run of the cut line on the figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    pub beside: bool,
    /// From the right leftwards.
    pub points: Vec<Point>,
}

/// The strip on its figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Left end of the tab.
    pub tab_end: f64,
    /// 360°.
    pub left: f64,
    /// 0°.
    pub right: f64,
    /// The mark line.
    pub mark: f64,
    /// Highest point of the cut, the long point.
    pub top: f64,
    /// The cut line once round.
    pub runs: Vec<Run>,
    /// The beginning of the cut line again, on the tab.
    pub repeated: Vec<Run>,
    /// The line of a straight cut before the saw.
    pub pre_cut: Vec<Vec<Point>>,
    /// All of it once more as one line, from the right leftwards.
    line: Vec<Point>,
    width: f64,
}

impl Strip {
    /// Whether there is too little room on the strip for words.
    pub fn is_narrow(template: &Template) -> bool {
        template.wrap().width().mm() < NARROW
    }

    /// Lays the strip with the upper left corner of its tab (at the long point's level) at `at`;
    /// `line` is the template's line; the tab is `tab` wide, or less on a tube too thin for that.
    pub fn new(template: &Template, line: &[PaperRun], tab: f64, at: Point) -> Self {
        let width = template.wrap().width().mm();
        let tab = tab.min((width * TAB_PART).max(TAB_MIN));
        let mut strip = Self {
            tab_end: at.x,
            left: at.x + tab,
            right: at.x + tab + width,
            mark: at.y + template.mark_to_long().mm(),
            top: at.y,
            runs: Vec::new(),
            repeated: Vec::new(),
            pre_cut: Vec::new(),
            line: Vec::new(),
            width,
        };
        for run in line {
            strip.runs.push(Run {
                beside: run.beside,
                points: run.points.iter().map(|p| strip.point(*p)).collect(),
            });
            let again = beginning(&run.points, tab);
            if again.len() > 1 {
                strip.repeated.push(Run {
                    beside: run.beside,
                    points: again
                        .into_iter()
                        .map(|p| {
                            strip.point(PaperPoint {
                                around: p.around + template.wrap().width(),
                                ..p
                            })
                        })
                        .collect(),
                });
            }
        }
        let pre_cut = template.pre_cut().iter();
        strip.pre_cut = pre_cut
            .map(|run| run.points.iter().map(|p| strip.point(*p)).collect())
            .collect();
        let all = strip.runs.iter().chain(&strip.repeated);
        strip.line = all.flat_map(|run| run.points.iter().copied()).collect();
        strip
    }

    /// Where a point of the template lies.
    pub fn point(&self, point: PaperPoint) -> Point {
        Point::new(
            self.right - point.around.mm(),
            self.mark - point.above_mark.mm(),
        )
    }

    /// Where a station lies.
    pub fn station(&self, station: &Station) -> Point {
        self.point(station.point)
    }

    /// The four quarter lines and the end: turn and place on the mark line.
    pub fn quarters(&self) -> [(u32, f64); 5] {
        [0, 90, 180, 270, 360].map(|deg| {
            let part = f64::from(deg) / 360.0;
            let x = match deg {
                0 => self.right,
                360 => self.left,
                _ => self.right - self.width * part,
            };
            (deg, x)
        })
    }

    /// Highest and lowest place of the cut line, tab included, between two x.
    pub fn cut_between(&self, x0: f64, x1: f64) -> (f64, f64) {
        let line = &self.line;
        let (Some(first), Some(last)) = (line.first(), line.last()) else {
            return (self.top, self.top);
        };
        // The ends of the line may be a rounding away from the edges of the strip.
        let clamp = |x: f64| x.max(last.x).min(first.x);
        let (x0, x1) = (clamp(x0), clamp(x1));
        // The line goes leftwards: from the last point not left of x1 to the first not right of x0.
        let from = line.partition_point(|p| p.x > x1);
        let to = line.partition_point(|p| p.x >= x0);
        let ends = [self.cut_at(x0, to), self.cut_at(x1, from)];
        let inside = line.get(from..to).unwrap_or_default();
        inside
            .iter()
            .map(|p| p.y)
            .chain(ends)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |reach, y| {
                (reach.0.min(y), reach.1.max(y))
            })
    }

    /// The cut line at x, on the chord that ends at point `end`.
    fn cut_at(&self, x: f64, end: usize) -> f64 {
        let end = end.clamp(1, self.line.len().max(2) - 1);
        match self.line.get(end - 1..=end) {
            Some(&[a, b]) if a.x > b.x => a.y + (b.y - a.y) * ((a.x - x) / (a.x - b.x)),
            Some(&[a, _]) => a.y,
            _ => self.top,
        }
    }

    /// Draws all lines of the strip; quarter lines are broken at the words in `words`.
    pub fn draw(&self, figure: &mut Drawing, words: &[Area]) {
        for (deg, x) in self.quarters() {
            let (_, cut) = self.cut_between(x, x);
            if deg == 0 || deg == 360 {
                let ends = [Point::new(x, cut), Point::new(x, self.mark)];
                figure.line(Layer::Zero, Pen::AXIS, ends);
                continue;
            }
            for (from, to) in unbroken(x, cut, self.mark, words) {
                let ends = [Point::new(x, from), Point::new(x, to)];
                figure.line(Layer::Quarter, Pen::QUARTER, ends);
            }
        }
        let (_, tab_cut) = self.cut_between(self.tab_end, self.tab_end);
        figure.line(
            Layer::Edge,
            Pen::THIN,
            [
                Point::new(self.tab_end, tab_cut),
                Point::new(self.tab_end, self.mark),
            ],
        );
        for run in &self.pre_cut {
            for part in clear_of(run, words) {
                figure.line(Layer::PreCut, Pen::PRE_CUT, part);
            }
        }
        for run in &self.repeated {
            let pen = if run.beside { Pen::TRIM } else { Pen::MARK };
            figure.line(Layer::Tab, pen, run.points.iter().copied());
        }
        figure.line(
            Layer::Mark,
            Pen::MARK,
            [
                Point::new(self.right, self.mark),
                Point::new(self.tab_end, self.mark),
            ],
        );
        for run in &self.runs {
            let (layer, pen) = if run.beside {
                (Layer::Trim, Pen::TRIM)
            } else {
                (Layer::Cut, Pen::CUT)
            };
            figure.line(layer, pen, run.points.iter().copied());
        }
    }
}

/// The points up to `reach` round, the last one cut exactly there.
fn beginning(points: &[PaperPoint], reach: f64) -> Vec<PaperPoint> {
    let mut kept: Vec<PaperPoint> = Vec::new();
    for &point in points {
        if point.around.mm() <= reach {
            kept.push(point);
            continue;
        }
        if let Some(&last) = kept.last() {
            let part = (reach - last.around.mm()) / (point.around - last.around).mm();
            kept.push(PaperPoint {
                around: Length::from_mm(reach),
                above_mark: last.above_mark + (point.above_mark - last.above_mark) * part,
            });
        }
        break;
    }
    kept
}

/// The parts of a line that no words stand on.
fn clear_of(line: &[Point], words: &[Area]) -> Vec<Vec<Point>> {
    /// Steps in which it is looked at, mm.
    const STEP: f64 = 0.5;
    let free = |p: &Point| {
        !words.iter().any(|area| {
            let (x, y) = (p.x, p.y);
            area.x0 - BREAK < x && x < area.x1 + BREAK && area.y0 - BREAK < y && y < area.y1 + BREAK
        })
    };
    let mut parts = Vec::new();
    let mut part: Vec<Point> = Vec::new();
    let mut end = |part: &mut Vec<Point>| {
        let whole = std::mem::take(part);
        if whole.len() > 1 {
            parts.push(whole);
        }
    };
    for pair in line.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let steps = ((b.x - a.x).hypot(b.y - a.y) / STEP).ceil().max(1.0);
        let mut step = 0.0;
        while step <= steps {
            let at = step / steps;
            let point = Point::new(a.x + (b.x - a.x) * at, a.y + (b.y - a.y) * at);
            if !free(&point) {
                end(&mut part);
            } else if part.last() != Some(&point) {
                part.push(point);
            }
            step += 1.0;
        }
    }
    end(&mut part);
    parts
}

/// The parts of a vertical line that no words stand on.
fn unbroken(x: f64, from: f64, to: f64, words: &[Area]) -> Vec<(f64, f64)> {
    let mut breaks: Vec<(f64, f64)> = words
        .iter()
        .filter(|area| area.x0 - BREAK < x && x < area.x1 + BREAK)
        .map(|area| (area.y0 - BREAK, area.y1 + BREAK))
        .collect();
    sort_by_number(&mut breaks, |(top, _)| *top);
    let mut parts = Vec::new();
    let mut start = from;
    for (top, bottom) in breaks {
        if top > start {
            parts.push((start, top.min(to)));
        }
        start = start.max(bottom);
    }
    if to > start {
        parts.push((start, to));
    }
    parts
}
