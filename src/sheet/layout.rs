//! Which way the sheets are used, what goes where, and the finished pages.

use crate::job::Orientation;
use crate::sheet::area::Area;
use crate::sheet::blocks::{self, Part, Placed};
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::facts::{self, Facts};
use crate::sheet::figure::{Figure, head};
use crate::sheet::page::{Frame, GUTTER};
use crate::sheet::placer::Joins;
use crate::sheet::strip::{Strip, TAB, TAB_SHORT};
use crate::sheet::tile::{self, Grid};
use crate::sheet::{Order, Packet, SHEETS_MAX, SheetError};
use crate::units::write_fixed;

/// Height of the line above a tile that says which one it is, mm.
const TILE_HEAD: f64 = 6.0;

/// Smallest side of a window that a figure or a tile is shown through, mm.
const WINDOW_LEAST: f64 = 40.0;

/// The figure in its sizes, from generous to tight.
struct Figures {
    /// With dimension lines.
    roomy: Figure,
    /// Without.
    close: Figure,
    /// With a short tab too.
    closest: Figure,
}

impl Figures {
    fn new(order: &Order) -> Self {
        let line = order.template.line();
        let captions = facts::captions(order);
        let figure = |tab, dimensioned| {
            Figure::new(order.template, &line, captions.clone(), tab, dimensioned)
        };
        Self {
            roomy: figure(TAB, true),
            close: figure(TAB, false),
            closest: figure(TAB_SHORT, false),
        }
    }
}

/// One way of laying out an order.
struct Plan {
    frame: Frame,
    figure: Figure,
    /// Where the figure, or a tile of it, goes.
    window: Area,
    grid: Grid,
    /// Tiles that show nothing of the strip, columns and rows.
    skipped: Vec<(u32, u32)>,
    /// The blocks on the first sheet that shows the strip; none when they need a sheet of their own.
    placed: Option<Vec<Placed>>,
    /// Whether the card's corners are on paper.
    card: bool,
}

impl Plan {
    const fn sheets(&self) -> u64 {
        self.tiles() + if self.placed.is_some() { 0 } else { 1 }
    }

    const fn tiles(&self) -> u64 {
        self.grid.tiles() - self.skipped.len() as u64
    }

    const fn is_tiled(&self) -> bool {
        self.grid.tiles() > 1
    }

    /// The figure whole, or in tiles, in one of the frame's windows.
    fn new(frame: &Frame, figure: &Figure, window: Area, facts: &Facts) -> Self {
        let size = (figure.width, figure.height);
        let mut window = window;
        let mut grid = Grid::new(size, (window.width(), window.height()));
        if grid.tiles() > 1 {
            window.y0 += TILE_HEAD;
            grid = Grid::new(size, (window.width(), window.height()));
        }
        let shown = grid.tile(0, 0);
        let skipped = skipped(&grid, &figure.strip);
        let inner = frame.inner();
        let bottom = window.y0 + shown.height();
        let right = (window.x0 + shown.width() + GUTTER * 1.5).max(inner.x0);
        let mut rooms = Vec::new();
        if !skipped.contains(&(0, 0)) {
            rooms.push(Area::new(inner.x0, bottom + GUTTER, inner.x1, inner.y1));
            rooms.push(Area::new(right, window.y0, inner.x1, bottom));
            // To the right of the strip and on past it, down to the foot.
            rooms.push(Area::new(right, window.y0, inner.x1, inner.y1));
        }
        rooms.retain(|room| room.width() > 0.0 && room.height() > 0.0);
        let first = rooms.get(..1).unwrap_or_default();
        let placed =
            blocks::share(facts, first, true).or_else(|| blocks::share(facts, &rooms, true));
        let bare = || blocks::share(facts, &rooms, false);
        let placed = placed.or_else(bare);
        let card = placed
            .as_ref()
            .is_none_or(|placed| placed.iter().any(|(part, _)| *part == Part::Card));
        // A strip that shares its sheet with nothing at its side stands in the middle.
        let alone = placed
            .as_ref()
            .is_none_or(|placed| placed.iter().all(|(_, area)| area.y0 >= bottom));
        if alone && grid.tiles() == 1 {
            let spare = window.width() - figure.width;
            window.x0 += spare / 2.0;
        }
        Self {
            frame: frame.clone(),
            figure: figure.clone(),
            window,
            grid,
            skipped,
            placed,
            card,
        }
    }

    /// The plan with the fewest sheets for one way of using the paper.
    fn best(order: &Order, facts: &Facts, figures: &Figures, turned: bool) -> Self {
        let frame = Frame::new(order.paper, order.printer, turned);
        let mut best: Option<Self> = None;
        for figure in [&figures.roomy, &figures.close, &figures.closest] {
            for window in [frame.upper(), frame.inner()] {
                if window.width().min(window.height()) < WINDOW_LEAST {
                    continue;
                }
                let plan = Self::new(&frame, figure, window, facts);
                // Dimension lines round a figure are not for cutting into tiles.
                if plan.is_tiled() && std::ptr::eq(figure, &figures.roomy) {
                    continue;
                }
                if plan.sheets() == 1 && plan.card {
                    return plan;
                }
                if best.as_ref().is_none_or(|best| plan.beats(best)) {
                    best = Some(plan);
                }
            }
        }
        best.unwrap_or_else(|| Self::new(&frame, &figures.close, frame.inner(), facts))
    }

    /// Fewer sheets; of as many, fewer to tape together; of as many again, the card on them.
    fn beats(&self, other: &Self) -> bool {
        let rank = |plan: &Self| (plan.sheets(), plan.tiles(), !plan.card);
        rank(self) < rank(other)
    }
}

/// Lays out a packet of sheets.
pub fn lay_out(order: &Order) -> Result<Packet, SheetError> {
    let facts = facts::facts(order);
    let figures = Figures::new(order);
    let plan = |turned: bool| Plan::best(order, &facts, &figures, turned);
    let (chosen, why) = match order.printer.orientation() {
        Orientation::Upright => (plan(false), None),
        Orientation::Sideways => (plan(true), None),
        Orientation::Auto => {
            let upright = plan(false);
            if upright.sheets() == 1 {
                return Ok(draw(order, &facts, &upright, None));
            }
            let sideways = plan(true);
            let why = if sideways.sheets() < upright.sheets() {
                Some(format!(
                    "Turned on the sheet: {} instead of {}.",
                    sheets(sideways.sheets()),
                    sheets(upright.sheets())
                ))
            } else if sideways.sheets() == upright.sheets() && sideways.tiles() < upright.tiles() {
                Some(format!(
                    "Turned on the sheet: the template is on {} instead of {}.",
                    sheets(sideways.tiles()),
                    sheets(upright.tiles())
                ))
            } else {
                None
            };
            (if why.is_some() { sideways } else { upright }, why)
        }
    };
    if chosen.sheets() > SHEETS_MAX {
        return Err(SheetError::TooManySheets {
            sheets: chosen.sheets(),
            paper: order.paper,
        });
    }
    Ok(draw(order, &facts, &chosen, why))
}

/// Tiles wholly above the cut line, where no paper of the strip is.
fn skipped(grid: &Grid, strip: &Strip) -> Vec<(u32, u32)> {
    if grid.rows == 1 {
        return Vec::new();
    }
    let mut skipped = Vec::new();
    for column in 0..grid.columns {
        for row in 0..grid.rows {
            let tile = grid.tile(column, row);
            if tile.y1 < strip.cut_between(tile.x0, tile.x1).0 {
                skipped.push((column, row));
            }
        }
    }
    skipped
}

fn sheets(count: u64) -> String {
    if count == 1 {
        "1 sheet".to_owned()
    } else {
        format!("{count} sheets")
    }
}

fn draw(order: &Order, facts: &Facts, plan: &Plan, why: Option<String>) -> Packet {
    let letterhead = facts::letterhead(order);
    let joins = if plan.is_tiled() {
        plan.grid.joins(&plan.figure.strip)
    } else {
        Joins::default()
    };
    let mut figure = plan.figure.draw(&joins);
    tile::draw_joins(&mut figure, &joins);
    let total = plan.sheets();
    let mut pages = Vec::new();
    let blank = |pages: &[Drawing]| {
        let which = format!("sheet {} of {total}", pages.len() + 1);
        plan.frame.blank(&letterhead, &which)
    };
    if plan.placed.is_none() {
        let mut page = blank(&pages);
        cover(&mut page, plan, facts);
        pages.push(plan.frame.finish(page));
    }
    for row in 0..plan.grid.rows {
        for column in 0..plan.grid.columns {
            if plan.skipped.contains(&(column, row)) {
                continue;
            }
            let mut page = blank(&pages);
            let shown = plan.grid.tile(column, row);
            let at = Point::new(plan.window.x0, plan.window.y0);
            tile::show(&mut page, &figure, &shown, at, &joins);
            if plan.is_tiled() {
                tile_head(&mut page, plan, column, row);
            }
            if column == 0 && row == 0 {
                for placed in plan.placed.iter().flatten() {
                    blocks::draw(&mut page, facts, placed);
                }
            }
            pages.push(plan.frame.finish(page));
        }
    }
    let mut notes = Vec::new();
    notes.extend(why);
    if plan.is_tiled() {
        notes.push(format!(
            "The template is larger than {}: {} to tape together, {} across and {} down, \
             crosses on crosses.",
            order.paper.name(),
            sheets(plan.tiles()),
            plan.grid.columns,
            plan.grid.rows
        ));
    }
    if !plan.card {
        notes.push("No room for the bank-card corners beside this strip: use the rulers.".into());
    }
    if order.printer.is_corrected() {
        notes.push(format!(
            "Corrected for this printer: across × {}, along × {}.",
            write_fixed(order.printer.across(), 4),
            write_fixed(order.printer.along(), 4)
        ));
    }
    Packet {
        pages,
        turned: plan.frame.turned(),
        columns: plan.grid.columns,
        rows: plan.grid.rows,
        corrected: order.printer.is_corrected(),
        notes,
    }
}

/// A sheet of words, when the strip leaves no room for them.
fn cover(page: &mut Drawing, plan: &Plan, facts: &Facts) {
    let room = plan.frame.inner();
    if let Some(placed) =
        blocks::share(facts, &[room], true).or_else(|| blocks::share(facts, &[room], false))
    {
        // On a sheet of their own the blocks hang from the top.
        let top = placed
            .iter()
            .map(|(_, area)| area.y0)
            .fold(f64::INFINITY, f64::min);
        let up = top - room.y0;
        for (part, area) in placed {
            let area = Area::new(area.x0, area.y0 - up, area.x1, area.y1 - up);
            blocks::draw(page, facts, &(part, area));
        }
    }
}

/// Which tile it is and where its neighbours lie.
fn tile_head(page: &mut Drawing, plan: &Plan, column: u32, row: u32) {
    const SIZE: f64 = 2.8;
    let window = plan.window;
    let y = window.y0 - TILE_HEAD + 3.0;
    let middle = y - SIZE * 0.3;
    let (columns, rows) = (plan.grid.columns, plan.grid.rows);
    let shown = plan.grid.tile(column, row);
    let (left, right) = (
        window.x0,
        window.x0 + shown.width().max(150.0_f64.min(window.width())),
    );
    let mut name = format!(
        "column {} of {columns}, row {} of {rows}",
        column + 1,
        row + 1
    );
    match (row > 0, row + 1 < rows) {
        (true, true) => name += &format!("; row {row} above, row {} below", row + 2),
        (true, false) => name += &format!("; row {row} above"),
        (false, true) => name += &format!("; row {} below", row + 2),
        (false, false) => {}
    }
    let at = Point::new(f64::midpoint(left, right), y);
    page.bold_text(at, SIZE, Anchor::Middle, name);
    let mut arrow = |from: f64, to: f64| {
        let (tail, tip) = (Point::new(from, middle), Point::new(to, middle));
        page.line(Layer::Note, Pen::THIN, [tail, tip]);
        head(page, Layer::Note, tail, tip);
    };
    if column > 0 {
        arrow(left + 7.0, left);
    }
    if column + 1 < columns {
        arrow(right - 7.0, right);
    }
    if column > 0 {
        let text = format!("column {column}");
        page.text(Point::new(left + 8.5, y), SIZE, Anchor::Start, text);
    }
    if column + 1 < columns {
        let text = format!("column {}", column + 2);
        let at = Point::new(right - 8.5, y);
        page.text(at, SIZE, Anchor::End, text);
    }
}
