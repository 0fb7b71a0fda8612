//! Which way the sheets are used, what goes where, and the finished pages.

use crate::job::Orientation;
use crate::sheet::blocks::{self, Lettering};
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::facts::{self, Facts};
use crate::sheet::figure::head;
use crate::sheet::plan::{Figures, Plan, TILE_HEAD};
use crate::sheet::setting::{Setting, Texts};
use crate::sheet::tile;
use crate::sheet::{Order, Packet, SHEETS_MAX, SheetError};
use crate::units::write_fixed;

/// Lays out a packet of sheets.
pub fn lay_out(order: &Order) -> Result<Packet, SheetError> {
    let facts = facts::facts(order);
    let figures = Figures::new(order);
    let texts = Texts::new(&facts);
    let plan = |turned: bool| Plan::best(order, &texts, &figures, turned);
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

fn sheets(count: u64) -> String {
    if count == 1 {
        "1 sheet".to_owned()
    } else {
        format!("{count} sheets")
    }
}

fn draw(order: &Order, facts: &Facts, plan: &Plan, why: Option<String>) -> Packet {
    let letterhead = facts::letterhead(order);
    let joins = plan.joins();
    let mut figure = plan.figure.draw(&joins);
    tile::draw_joins(&mut figure, &joins);
    let total = plan.sheets();
    let mut pages = Vec::new();
    let blank = |pages: &[Drawing]| {
        let which = format!("sheet {} of {total}", pages.len() + 1);
        plan.frame.blank(&letterhead, &which)
    };
    for cover in &plan.covers {
        let mut page = blank(&pages);
        write(&mut page, facts, cover);
        pages.push(plan.frame.finish(page));
    }
    for row in 0..plan.grid.rows {
        for column in 0..plan.grid.columns {
            if plan.skips(column, row) {
                continue;
            }
            let mut page = blank(&pages);
            let shown = plan.grid.tile(column, row);
            let at = Point::new(plan.window.x0, plan.window.y0);
            tile::show(&mut page, &figure, &shown, at, &joins);
            if plan.is_tiled() {
                tile_head(&mut page, plan, column, row);
            }
            if let Some(setting) = &plan.beside
                && (column, row) == (0, 0)
            {
                write(&mut page, facts, setting);
            }
            pages.push(plan.frame.finish(page));
        }
    }
    let mut notes = Vec::new();
    notes.extend(why);
    if plan.is_tiled() {
        let empty = match plan.grid.tiles() - plan.tiles() {
            0 => String::new(),
            1 => "; the one with nothing on it is left out".to_owned(),
            many => format!("; the {many} with nothing on them are left out"),
        };
        notes.push(format!(
            "The template is larger than {}: {} to tape together, crosses on crosses, {} across \
             and {} down{empty}.",
            order.paper.name(),
            sheets(plan.tiles()),
            plan.grid.columns,
            plan.grid.rows
        ));
    }
    match plan.covers.len() {
        0 => {}
        1 => {
            notes.push("Words and bank-card corners are on a sheet before the template.".to_owned())
        }
        many => notes.push(format!(
            "Words and bank-card corners are on {many} sheets before the template."
        )),
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

/// Draws words and card.
fn write(page: &mut Drawing, facts: &Facts, setting: &Setting) {
    let text = Lettering {
        facts,
        scale: setting.scale,
    };
    for placed in &setting.placed {
        blocks::draw(page, text, placed);
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
