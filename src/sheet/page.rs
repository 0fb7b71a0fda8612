//! One sheet of paper: its printable frame, header, rulers and foot, turning and correction.
//!
//! Everything is placed in a reading frame with its origin at the sheet's upper left as it is
//! read; [`Frame::finish`] turns the frame into the upright page box and corrects it for the
//! printer. Page boxes are always upright and half a millimetre lower than the sheet: browsers
//! add a blank page to anything taller.

use crate::job::{Printer, Ruler};
use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Item, Layer, Pen, Point};
use crate::sheet::ruler::{self, Lie};
use crate::sheet::words;
use crate::stock::Paper;
use crate::units::{Angle, write_fixed};

/// Distance of the rulers from the edges of the sheet, mm.
const RULER_INSET: f64 = 10.0;
/// What a page box is lower than its sheet, mm: a box of the full height makes some print engines
/// add blank sheets.
pub const BOX_BELOW_SHEET: f64 = 0.5;
/// White between blocks, mm.
pub const GUTTER: f64 = 4.0;
/// Height of the header, mm.
const HEADER: f64 = 12.5;
/// Font size of the words at the foot, mm.
const FOOT_SIZE: f64 = 2.5;
/// Widest the words at the foot run, mm.
const FOOT_WIDEST: f64 = 110.0;
/// Distance from the rulers to whatever stands beside them, mm.
const RULER_CLEAR: f64 = 3.0;

/// What every sheet of a packet has at its head and foot.
#[derive(Debug, Clone, PartialEq)]
pub struct Letterhead {
    /// The label, or a stand-in.
    pub title: String,
    /// The joint in one line.
    pub subtitle: String,
    /// As given; may be empty.
    pub date: String,
}

/// The reading frame of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    paper: Paper,
    turned: bool,
    across: f64,
    along: f64,
    /// Printable area.
    area: Area,
    /// Where the rulers' outer edges meet: left and bottom.
    corner: Point,
    foot: Vec<(String, bool)>,
    /// Upper edge of rulers and words at the foot.
    foot_top: f64,
}

impl Frame {
    /// The frame of a sheet, upright or turned a quarter.
    pub fn new(paper: Paper, printer: &Printer, turned: bool) -> Self {
        let (across, along) = (printer.across(), printer.along());
        let (width, height) = paper.size();
        let margin = printer.margin().mm();
        // Corrected lengths are multiplied afterwards, so limits are divided here.
        let sides =
            |length: f64, factor: f64, inset: f64| (inset / factor, (length - inset) / factor);
        let (x0, x1) = sides(width.mm(), across, margin);
        let (y0, y1) = sides(height.mm(), along, margin);
        let inset = RULER_INSET.max(margin);
        let (ruler_x0, _) = sides(width.mm(), across, inset);
        let (ruler_y0, ruler_y1) = sides(height.mm(), along, inset);
        // Turned, the frame's left edge is the sheet's top and its bottom the sheet's left edge.
        let (area, corner) = if turned {
            let flip = width.mm() / across;
            (
                Area::new(y0, flip - x1, y1, flip - x0),
                Point::new(ruler_y0, flip - ruler_x0),
            )
        } else {
            (Area::new(x0, y0, x1, y1), Point::new(ruler_x0, ruler_y1))
        };
        let room = area.x1 - (corner.x + ruler::LENGTH + GUTTER);
        let foot = foot_words(printer, room.min(FOOT_WIDEST));
        let foot_height = words::height(foot.len(), FOOT_SIZE).max(ruler::THICKNESS);
        let foot_top = corner.y - foot_height;
        Self {
            paper,
            turned,
            across,
            along,
            area,
            corner,
            foot,
            foot_top,
        }
    }

    /// Whether the drawing is turned on the sheet.
    pub const fn turned(&self) -> bool {
        self.turned
    }

    /// Everything under the header and above the upright ruler, over the full width.
    pub fn upper(&self) -> Area {
        let bottom = self.ruler_zero().y - ruler::LENGTH - RULER_CLEAR;
        Area::new(self.area.x0, self.top(), self.area.x1, bottom)
    }

    /// Everything under the header, above the foot and to the right of the upright ruler.
    pub fn inner(&self) -> Area {
        Area::new(
            self.corner.x + ruler::THICKNESS + RULER_CLEAR,
            self.top(),
            self.area.x1,
            self.foot_top - RULER_CLEAR,
        )
    }

    fn top(&self) -> f64 {
        self.area.y0 + HEADER + RULER_CLEAR
    }

    /// Zero of the upright ruler: it stands above the level one.
    fn ruler_zero(&self) -> Point {
        Point::new(
            self.corner.x,
            self.corner.y - ruler::THICKNESS - RULER_CLEAR,
        )
    }

    /// An empty sheet with header, rulers and foot; `which` says which sheet it is.
    pub fn blank(&self, head: &Letterhead, which: &str) -> Drawing {
        let mut page = Drawing::new(self.area.x1, self.area.y1);
        self.header(&mut page, head, which);
        let (level, upright) = if self.turned {
            ("along the sheet", "across the sheet")
        } else {
            ("across the sheet", "along the sheet")
        };
        ruler::draw(&mut page, self.corner, Lie::Level, level);
        ruler::draw(&mut page, self.ruler_zero(), Lie::Upright, upright);
        let x = self.corner.x + ruler::LENGTH + GUTTER;
        let mut y = self.foot_top + words::first_baseline(FOOT_SIZE);
        for (line, bold) in &self.foot {
            let at = Point::new(x, y);
            page.turned_text(at, FOOT_SIZE, Anchor::Start, Angle::ZERO, *bold, line);
            y += FOOT_SIZE * words::LEADING;
        }
        page
    }

    fn header(&self, page: &mut Drawing, head: &Letterhead, which: &str) {
        const SIDE: f64 = 3.0;
        let area = self.area;
        let paper = format!("{}, print at 100 %", self.paper.name());
        let side = if head.date.is_empty() {
            which.to_owned()
        } else {
            format!("{which} · {}", head.date)
        };
        let side = words::wrap_at_most(&side, SIDE, false, area.width() / 2.0, 1)
            .pop()
            .unwrap_or_default();
        let (first, second) = (area.y0 + 4.6, area.y0 + 10.4);
        page.bold_text(Point::new(area.x1, first), SIDE, Anchor::End, paper.clone());
        page.text(Point::new(area.x1, second), SIDE, Anchor::End, side.clone());
        let room = area.width() - words::width(&paper, SIDE, true) - GUTTER;
        // A long label is set smaller before it is cut short; the facts give it whole.
        let size = [5.0, 4.0, 3.2]
            .into_iter()
            .find(|size| words::width(&head.title, *size, true) <= room)
            .unwrap_or(3.2);
        let title = words::wrap_at_most(&head.title, size, true, room, 1).pop();
        let at = Point::new(area.x0, first);
        page.bold_text(at, size, Anchor::Start, title.unwrap_or_default());
        let room = area.width() - words::width(&side, SIDE, false) - GUTTER;
        let subtitle = words::wrap_at_most(&head.subtitle, SIDE, false, room, 1).pop();
        let at = Point::new(area.x0, second);
        page.text(at, SIDE, Anchor::Start, subtitle.unwrap_or_default());
        let y = area.y0 + HEADER;
        let rule = [Point::new(area.x0, y), Point::new(area.x1, y)];
        page.line(Layer::Frame, Pen::THIN, rule);
    }

    /// The page box: the reading frame turned and corrected.
    pub fn finish(&self, reading: Drawing) -> Drawing {
        let (width, height) = self.paper.size();
        let flip = width.mm() / self.across;
        let (turned, across, along) = (self.turned, self.across, self.along);
        let place = |p: Point| {
            let upright = if turned {
                Point::new(flip - p.y, p.x)
            } else {
                p
            };
            Point::new(upright.x * across, upright.y * along)
        };
        let lettering = across.min(along).min(1.0);
        let mut page = reading;
        page.width = width.mm();
        page.height = height.mm() - BOX_BELOW_SHEET;
        for item in &mut page.items {
            match item {
                Item::Stroke { points, .. } => {
                    for point in points {
                        *point = place(*point);
                    }
                }
                Item::Text { at, turn, size, .. } => {
                    *at = place(*at);
                    *size *= lettering;
                    if turned {
                        *turn = *turn + Angle::QUARTER;
                    }
                }
            }
        }
        page
    }
}

/// The sentences at the foot of every sheet, wrapped.
fn foot_words(printer: &Printer, room: f64) -> Vec<(String, bool)> {
    let wrapped = |text: &str, bold: bool| {
        words::wrap(text, FOOT_SIZE, bold, room)
            .into_iter()
            .map(move |line| (line, bold))
    };
    let mut lines: Vec<_> = wrapped("Measure before cutting, across and along.", true).collect();
    let check = format!(
        "The rulers must measure {} and {}. If they do not, set the printer to 100 % (actual \
         size, no “fit”) and print again; or type what they measure into the page.",
        Ruler::Millimetres.name(),
        Ruler::Inches.name()
    );
    lines.extend(wrapped(&check, false));
    if printer.is_corrected() {
        let name = words::clean(printer.name());
        let name: String = name.chars().take(40).collect();
        let by = if name.is_empty() {
            "this printer".to_owned()
        } else {
            name
        };
        let text = format!(
            "Corrected for {by}: across × {}, along × {}.",
            write_fixed(printer.across(), 4),
            write_fixed(printer.along(), 4)
        );
        lines.extend(wrapped(&text, true));
    }
    lines
}
