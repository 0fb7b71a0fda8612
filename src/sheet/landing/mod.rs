//! Sheets with the template for a main: where the branch lands on it.

mod facts;
mod figure;
pub mod room;

use crate::job::Orientation;
use crate::piece::Landing;
use crate::sheet::area::Area;
use crate::sheet::arrange;
use crate::sheet::blocks::{self, BETWEEN, Lettering, Part, Placed};
use crate::sheet::drawing::{Anchor, Drawing, Point};
use crate::sheet::facts::{Facts, letterhead};
use crate::sheet::landing::figure::{Captions, Figure};
use crate::sheet::page::{Frame, GUTTER, Letterhead};
use crate::sheet::placer::Joins;
use crate::sheet::tile::{self, AWAY, Grid};
use crate::sheet::{Order, Packet, SHEETS_MAX, SheetError};

/// Height of the line above a tile that says which one it is, mm.
const TILE_HEAD: f64 = 5.0;
/// Size of its words, mm.
const TILE_SIZE: f64 = 2.8;

/// One way of using the paper.
struct Plan {
    frame: Frame,
    window: Area,
    grid: Grid,
    /// Words on the sheet of the figure; on a sheet of their own when it leaves no room.
    beside: Option<Vec<Placed>>,
    /// Tiles with nothing on them, columns and rows.
    empty: Vec<(u32, u32)>,
}

impl Plan {
    fn new(order: &Order, figure: &Figure, facts: &Facts, turned: bool) -> Self {
        let frame = Frame::new(order.paper, order.printer, turned);
        let mut window = frame.inner();
        let size = (figure.width, figure.height);
        let mut grid = Grid::new(size, (window.width(), window.height()));
        if grid.tiles() > 1 {
            window.y0 += TILE_HEAD;
            grid = Grid::new(size, (window.width(), window.height()));
        }
        let shown = grid.tile(0, 0);
        let (right, bottom) = (window.x0 + shown.width(), window.y0 + shown.height());
        let rooms = [
            Area::new(window.x0, bottom + GUTTER, window.x1, window.y1),
            Area::new(right + GUTTER, window.y0, window.x1, window.y1),
        ];
        let open = |room: &Area| room.width() > 0.0 && room.height() > 0.0;
        let rooms: Vec<Area> = rooms.into_iter().filter(open).collect();
        let beside = arrange::share(Lettering::usual(facts), &rooms, false);
        let mut plan = Self {
            frame,
            window,
            grid,
            beside,
            empty: Vec::new(),
        };
        // The words are on the first tile, and too many are refused before they are looked at.
        if plan.grid.tiles() > 1 && plan.grid.tiles() <= 4 * SHEETS_MAX {
            let drawn = figure.draw();
            for row in 0..plan.grid.rows {
                for column in 0..plan.grid.columns {
                    let tile = plan.grid.tile(column, row);
                    if (column, row) != (0, 0) && !tile::is_used(&drawn, &tile) {
                        plan.empty.push((column, row));
                    }
                }
            }
        }
        plan
    }

    const fn sheets(&self) -> u64 {
        self.tiles() + self.beside.is_none() as u64
    }

    const fn tiles(&self) -> u64 {
        self.grid.tiles() - self.empty.len() as u64
    }
}

/// The template for a main on as many sheets as it takes.
///
/// # Errors
/// More than [`SHEETS_MAX`] sheets.
pub fn pages(order: &Order, landing: &Landing) -> Result<Packet, SheetError> {
    let facts = facts::facts(order, landing);
    let head = head(order, landing);
    let figures =
        [true, false].map(|named| Figure::new(landing, captions(order, landing, &head), named));
    let ways: &[bool] = match order.printer.orientation() {
        Orientation::Upright => &[false],
        Orientation::Sideways => &[true],
        Orientation::Auto => &[false, true],
    };
    let mut best: Option<(Plan, &Figure)> = None;
    for turned in ways {
        for figure in &figures {
            let plan = Plan::new(order, figure, &facts, *turned);
            let rank = |plan: &Plan| (plan.sheets(), plan.tiles());
            if best
                .as_ref()
                .is_none_or(|(best, _)| rank(&plan) < rank(best))
            {
                best = Some((plan, figure));
            }
        }
    }
    match best {
        Some((plan, figure)) if plan.sheets() <= SHEETS_MAX => {
            Ok(draw(order, &plan, figure, &facts, &head))
        }
        best => Err(SheetError::TooManySheets {
            sheets: best.map_or(0, |(plan, _)| plan.sheets()),
            paper: order.paper,
        }),
    }
}

/// The figure in one piece, without a page.
pub fn whole(order: &Order, landing: &Landing) -> Drawing {
    let captions = captions(order, landing, &head(order, landing));
    Figure::new(landing, captions, true).draw()
}

fn captions(order: &Order, landing: &Landing, head: &Letterhead) -> Captions {
    Captions {
        name: head.title.clone(),
        mark: facts::mark(order, landing),
        centre: facts::centre(order, landing),
    }
}

fn head(order: &Order, landing: &Landing) -> Letterhead {
    let head = letterhead(order);
    let which = if order.template.cope().joint().mains().count() > 1 {
        format!("template for main {}", landing.number() + 1)
    } else {
        String::from("template for the main")
    };
    let title = if order.label.trim().is_empty() {
        let mut letters = which.chars();
        let first = letters.next().map(|first| first.to_ascii_uppercase());
        first.into_iter().chain(letters).collect()
    } else {
        format!("{}: {which}", head.title)
    };
    Letterhead { title, ..head }
}

fn draw(order: &Order, plan: &Plan, figure: &Figure, facts: &Facts, head: &Letterhead) -> Packet {
    let tiled = plan.grid.tiles() > 1;
    let joins = if tiled {
        let moved = |x: f64, y: f64| figure.clear_of_lines(x, y, AWAY);
        plan.grid.joins_clear_of(&moved)
    } else {
        Joins::default()
    };
    let mut drawn = figure.draw();
    tile::draw_joins(&mut drawn, &joins);
    let total = plan.sheets();
    let mut pages: Vec<Drawing> = Vec::new();
    let blank = |pages: &[Drawing]| {
        let which = format!("main, sheet {} of {total}", pages.len() + 1);
        plan.frame.blank(head, &which)
    };
    let text = Lettering::usual(facts);
    if plan.beside.is_none() {
        let mut page = blank(&pages);
        for placed in on_own_sheet(text, &plan.frame.inner()) {
            blocks::draw(&mut page, text, &placed);
        }
        pages.push(plan.frame.finish(page));
    }
    let at = Point::new(plan.window.x0, plan.window.y0);
    for row in 0..plan.grid.rows {
        for column in 0..plan.grid.columns {
            if plan.empty.contains(&(column, row)) {
                continue;
            }
            let mut page = blank(&pages);
            tile::show(&mut page, &drawn, &plan.grid.tile(column, row), at, &joins);
            if tiled {
                let name = format!(
                    "column {} of {}, row {} of {}: tape together, crosses on crosses",
                    column + 1,
                    plan.grid.columns,
                    row + 1,
                    plan.grid.rows
                );
                let over = Point::new(at.x, at.y - TILE_HEAD + TILE_SIZE);
                page.bold_text(over, TILE_SIZE, Anchor::Start, name);
            }
            if (column, row) == (0, 0) {
                for placed in plan.beside.iter().flatten() {
                    blocks::draw(&mut page, text, placed);
                }
            }
            pages.push(plan.frame.finish(page));
        }
    }
    Packet {
        pages,
        turned: plan.frame.turned(),
        columns: plan.grid.columns,
        rows: plan.grid.rows,
        corrected: order.printer.is_corrected(),
        notes: Vec::new(),
    }
}

/// Words on a sheet of their own, from its top.
fn on_own_sheet(text: Lettering, room: &Area) -> Vec<Placed> {
    let table = text.table_height(room.width());
    let prose = room.y0 + table + BETWEEN;
    vec![
        (
            Part::Table,
            Area::sized(room.x0, room.y0, room.width(), table),
        ),
        (
            Part::Prose,
            Area::sized(
                room.x0,
                prose,
                room.width(),
                text.prose_height(room.width()),
            ),
        ),
    ]
}
