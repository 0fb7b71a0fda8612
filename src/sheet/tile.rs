//! A figure larger than the sheet, cut into tiles that overlap and register.

use crate::sheet::area::Area;
use crate::sheet::drawing::{Drawing, Item, Layer, Pen, Point};
use crate::sheet::placer::Joins;
use crate::sheet::strip::Strip;
use crate::sheet::words;
use crate::units::limited;

/// What neighbouring tiles both show, mm.
pub const OVERLAP: f64 = 12.0;
/// Half the length of a registration cross, mm.
const CROSS: f64 = 3.0;
/// Least distance of its centre from a line, mm.
pub const AWAY: f64 = CROSS + 2.5;
/// Radius of its circle, mm.
const CIRCLE: f64 = 1.6;

/// How a figure is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grid {
    pub columns: u32,
    pub rows: u32,
    width: f64,
    height: f64,
    window: (f64, f64),
}

impl Grid {
    /// The grid that shows a figure through windows of a size. The first column and the first row
    /// are the narrow ones, so that the first sheet has room for words.
    pub fn new((width, height): (f64, f64), window: (f64, f64)) -> Self {
        Self {
            columns: count(width, window.0),
            rows: count(height, window.1),
            width,
            height,
            window,
        }
    }

    /// Number of tiles.
    pub const fn tiles(&self) -> u64 {
        self.columns as u64 * self.rows as u64
    }

    /// What a tile shows of the figure.
    pub fn tile(&self, column: u32, row: u32) -> Area {
        let (x0, x1) = stretch(column, self.columns, self.width, self.window.0);
        let (y0, y1) = stretch(row, self.rows, self.height, self.window.1);
        Area::new(x0, y0, x1, y1)
    }

    /// Where tiles join, and the crosses they share, clear of the strip's lines.
    pub fn joins(&self, strip: &Strip) -> Joins {
        self.joins_clear_of(&|x, y| {
            let (_, cut) = strip.cut_between(x, x);
            if (y - cut).abs() < AWAY {
                cut + AWAY
            } else if (y - strip.mark).abs() < AWAY {
                strip.mark - AWAY
            } else {
                y
            }
        })
    }

    /// Where tiles join, and the crosses they share; `moved` moves a cross at x, y away from lines,
    /// to another y.
    pub fn joins_clear_of(&self, moved: &dyn Fn(f64, f64) -> f64) -> Joins {
        let middles = |count: u32, length: f64, window: f64| -> Vec<f64> {
            (1..count)
                .map(|i| stretch(i, count, length, window).0 + OVERLAP / 2.0)
                .collect()
        };
        let xs = middles(self.columns, self.width, self.window.0);
        let ys = middles(self.rows, self.height, self.window.1);
        let mut crosses = Vec::new();
        let along_x = between(&xs, self.width);
        let along_y = between(&ys, self.height);
        let mut add = |x: f64, y: f64| {
            crosses.push(Area::new(x, y, x, y).grown(CROSS + 0.5));
        };
        for x in &xs {
            for y in &along_y {
                add(*x, moved(*x, *y));
            }
        }
        for y in &ys {
            for x in &along_x {
                add(*x, *y);
            }
        }
        Joins {
            xs,
            ys,
            crosses,
            kept: Vec::new(),
        }
    }
}

/// What the i-th of `count` windows shows of a length; the first takes what is left over.
fn stretch(i: u32, count: u32, length: f64, window: f64) -> (f64, f64) {
    let step = window - OVERLAP;
    let to = length - f64::from(count - 1 - i) * step;
    let from = if i == 0 { 0.0 } else { to - window };
    (from, to)
}

/// How many windows it takes.
fn count(length: f64, window: f64) -> u32 {
    if length <= window {
        return 1;
    }
    let step = window - OVERLAP;
    let windows = limited(((length - OVERLAP) / step).ceil(), 1.0, 1e6);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped just above"
    )]
    let windows = windows as u32;
    windows
}

/// Two places along every stretch between joins, clear of its ends.
fn between(joins: &[f64], length: f64) -> Vec<f64> {
    let inset = OVERLAP / 2.0 + CROSS + 1.0;
    let mut edges = vec![0.0];
    edges.extend(joins);
    edges.push(length);
    let ends = edges.len() - 1;
    edges
        .windows(2)
        .enumerate()
        .flat_map(|(i, pair)| {
            let (from, to) = match pair {
                [from, to] => (*from, *to),
                _ => (0.0, length),
            };
            // At the edges of the figure a cross only needs room for itself.
            let first = if i == 0 { CROSS + 1.0 } else { inset };
            let last = if i + 1 == ends { CROSS + 1.0 } else { inset };
            if to - from < first + last + 2.0 * CROSS {
                vec![f64::midpoint(from, to)]
            } else {
                vec![from + first, to - last]
            }
        })
        .collect()
}

/// Adds what a tile shows of a figure to a page, the tile's upper left corner at `at`.
pub fn show(page: &mut Drawing, figure: &Drawing, tile: &Area, at: Point, joins: &Joins) {
    let place = |p: Point| Point::new(p.x - tile.x0 + at.x, p.y - tile.y0 + at.y);
    for item in &figure.items {
        match item {
            Item::Stroke {
                layer,
                pen,
                points,
                closed,
                filled,
            } => {
                if *filled {
                    if tile.holds(&Area::around(points)) {
                        page.fill(*layer, points.iter().copied().map(place));
                    }
                    continue;
                }
                let round = closed.then(|| points.first().copied()).flatten();
                let path: Vec<Point> = points.iter().copied().chain(round).collect();
                for part in clip(&path, tile) {
                    page.line(*layer, *pen, part.into_iter().map(place));
                }
            }
            Item::Text { at: hung, .. } => {
                let room = words::item_area(item);
                if in_cell(&room, tile, joins) {
                    let mut text = item.clone();
                    if let Item::Text { at: moved, .. } = &mut text {
                        *moved = place(*hung);
                    }
                    page.items.push(text);
                }
            }
        }
    }
}

/// Whether words belong to a tile: wholly on it, and on its side of the joins.
fn in_cell(room: &Area, tile: &Area, joins: &Joins) -> bool {
    let elsewhere = |lines: &[f64], from: f64, to: f64, middle: f64| {
        lines.iter().any(|line| {
            let (first, last) = (*line - from <= OVERLAP, to - *line <= OVERLAP);
            from < *line && *line < to && ((first && middle < *line) || (last && middle >= *line))
        })
    };
    let centre = room.centre();
    tile.holds(room)
        && !elsewhere(&joins.xs, tile.x0, tile.x1, centre.x)
        && !elsewhere(&joins.ys, tile.y0, tile.y1, centre.y)
}

/// Draws join lines and registration crosses in figure coordinates.
pub fn draw_joins(figure: &mut Drawing, joins: &Joins) {
    let (width, height) = (figure.width, figure.height);
    let pen = Pen {
        width: Pen::HAIR.width,
        ..Pen::QUARTER
    };
    for x in &joins.xs {
        let ends = [Point::new(*x, 0.0), Point::new(*x, height)];
        figure.line(Layer::Check, pen, ends);
    }
    for y in &joins.ys {
        let ends = [Point::new(0.0, *y), Point::new(width, *y)];
        figure.line(Layer::Check, pen, ends);
    }
    for cross in &joins.crosses {
        let Point { x, y } = cross.centre();
        for (dx, dy) in [(CROSS, 0.0), (0.0, CROSS)] {
            let ends = [Point::new(x - dx, y - dy), Point::new(x + dx, y + dy)];
            figure.line(Layer::Check, Pen::THIN, ends);
        }
        let circle = (0..24).map(|i| {
            let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 24.0).sin_cos();
            Point::new(x + CIRCLE * cos, y + CIRCLE * sin)
        });
        figure.outline(Layer::Check, Pen::HAIR, circle);
    }
}

/// The parts of a path inside an area. Ends made by clipping lie exactly on its edge.
pub fn clip(path: &[Point], area: &Area) -> Vec<Vec<Point>> {
    let mut parts: Vec<Vec<Point>> = Vec::new();
    let mut open = false;
    for pair in path.windows(2) {
        let &[a, b] = pair else { continue };
        let Some((from, to)) = inside(a, b, area) else {
            open = false;
            continue;
        };
        match parts.last_mut() {
            Some(part) if open && from == a => part.push(to),
            _ => parts.push(vec![from, to]),
        }
        open = to == b;
    }
    parts
}

/// Whether a tile shows any stroke of a figure.
pub fn is_used(figure: &Drawing, tile: &Area) -> bool {
    figure.items.iter().any(|item| match item {
        Item::Stroke { points, .. } => points.windows(2).any(|pair| match pair {
            [a, b] => crosses(*a, *b, tile),
            _ => false,
        }),
        Item::Text { .. } => false,
    })
}

/// Whether a segment passes through an area.
pub fn crosses(a: Point, b: Point, area: &Area) -> bool {
    inside(a, b, area).is_some()
}

/// The part of a segment inside an area (Y.-D. Liang and B. A. Barsky, "A New Concept and Method
/// for Line Clipping", ACM Transactions on Graphics 3 (1984)).
fn inside(a: Point, b: Point, area: &Area) -> Option<(Point, Point)> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let (mut from, mut to) = (a, b);
    for (p, q, edge, level) in [
        (-dx, a.x - area.x0, area.x0, false),
        (dx, area.x1 - a.x, area.x1, false),
        (-dy, a.y - area.y0, area.y0, true),
        (dy, area.y1 - a.y, area.y1, true),
    ] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
            continue;
        }
        let t = q / p;
        let on_edge = if level {
            Point::new(a.x + dx * t, edge)
        } else {
            Point::new(edge, a.y + dy * t)
        };
        if p < 0.0 && t > enter {
            (enter, from) = (t, on_edge);
        } else if p > 0.0 && t < leave {
            (leave, to) = (t, on_edge);
        }
        if enter > leave {
            return None;
        }
    }
    (enter < leave).then_some((from, to))
}
