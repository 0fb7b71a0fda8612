//! Templates: nested where several share a sheet, tiled where one alone takes more than a sheet.

use crate::job::RESPONSIBILITY;
use crate::piece::Side;
use crate::sheet::area::Area;
use crate::sheet::code_room::code_size;
use crate::sheet::drawing::{Anchor, Drawing, Point};
use crate::sheet::packet::cell::{Cell, Way, Which};
use crate::sheet::packet::contents;
use crate::sheet::packet::flow::put;
use crate::sheet::packet::nest::{Figure, Spot, What, nest};
use crate::sheet::packet::{Making, PacketError, PieceToPrint};
use crate::sheet::placer::Block;
use crate::sheet::words;
use crate::sheet::{Code, Order, lay_out, lay_out_landing, lay_out_table};

/// Size of the words at the foot of a sheet of templates, mm.
const FOOT: f64 = 2.3;
/// White over them, mm.
const OVER: f64 = 3.0;
/// How to use a template, in one breath.
const USE: &str = "Cut out along the cut line, the 0° line, the mark line and the end of the tab. \
     Wrap with the print outside, tab under the 0° edge, 0° edge on the 360° line and on the zero \
     line of the tube, mark line on its mark.";

/// A template and where it goes.
struct Nested {
    place: usize,
    cell: Cell,
}

impl<'a> Making<'a, '_> {
    /// Sheets of templates, and behind them tiles, landings and tables, piece by piece.
    pub(super) fn templates(&mut self) -> Result<(), PacketError> {
        let parts = self.order.parts;
        for (name, chosen) in [
            ("templates", parts.templates),
            ("templates for the mains", parts.landings),
            ("tables", parts.tables.is_some()),
        ] {
            if !chosen {
                self.left_out.push(name);
            }
        }
        let inner = self.frame.inner();
        let foot = foot(inner.width());
        let room = Area::new(inner.x0, inner.y0, inner.x1, inner.y1 - OVER - foot.height);
        let mut nested: Vec<Nested> = Vec::new();
        let mut tiled: Vec<Which<'a>> = Vec::new();
        for (place, piece) in self.to_make() {
            self.step()?;
            if !parts.templates {
                continue;
            }
            for which in self.templates_of(place, piece) {
                match which.cell((room.width(), room.height())) {
                    Some(cell) => nested.push(Nested { place, cell }),
                    None => tiled.push(which),
                }
            }
        }
        let from = self.pages.len();
        self.nested(&nested, &room, &foot);
        for which in tiled {
            self.tiled(&which);
        }
        self.list("Templates", from);
        let from = self.pages.len();
        if parts.landings {
            self.landings();
        }
        self.list("Templates for the mains", from);
        let from = self.pages.len();
        if let Some(divisions) = parts.tables {
            self.tables(divisions);
        }
        self.list("Tables", from);
        Ok(())
    }

    fn templates_of(&self, place: usize, piece: &'a PieceToPrint<'a>) -> Vec<Which<'a>> {
        let of = |side: Side| {
            Some(Which {
                order: self.order,
                place,
                piece,
                side,
                template: piece.template(side)?,
            })
        };
        Side::BOTH.into_iter().filter_map(of).collect()
    }

    fn all_templates(&self) -> Vec<Which<'a>> {
        let pieces = self.to_make();
        pieces
            .flat_map(|(place, piece)| self.templates_of(place, piece))
            .collect()
    }

    /// Nests templates with captions under them, or where that saves sheets beside them. The code
    /// of every piece with a template on a sheet lies on it too.
    fn nested(&mut self, nested: &[Nested], room: &Area, foot: &Drawing) {
        let within = (room.width(), room.height());
        let codes: Vec<Option<&Code>> = nested.iter().map(|own| self.code_of(own.place)).collect();
        let nest_as = |way: Way, module: f64| {
            let figures = nested.iter().zip(&codes).map(|(own, code)| Figure {
                size: own.cell.size(way),
                with: code.map(|code| (own.place, code_size(code, module))),
            });
            nest(&figures.collect::<Vec<_>>(), within)
        };
        // Words are read best under a template, and codes where they are large: they stand beside
        // it, or are smaller, only where that saves paper.
        let mut chosen = (Way::Under, Code::MODULE);
        let mut sheets = nest_as(chosen.0, chosen.1);
        let modules: &[f64] = if codes.iter().any(Option::is_some) {
            &[Code::MODULE, Code::MODULE_LEAST]
        } else {
            &[Code::MODULE]
        };
        for module in modules {
            for way in [Way::Under, Way::Smaller, Way::Beside] {
                if (way, *module) == (Way::Under, Code::MODULE) {
                    continue;
                }
                let other = nest_as(way, *module);
                if better(&other, &sheets) {
                    (chosen, sheets) = ((way, *module), other);
                }
            }
        }
        let (way, module) = chosen;
        let first = self.pages.len();
        let mut contents = Vec::new();
        for (number, sheet) in sheets.into_iter().enumerate() {
            let mut page = Drawing::default();
            for spot in sheet {
                let at = Point::new(room.x0 + spot.at.x, room.y0 + spot.at.y);
                match spot.what {
                    What::Figure(figure) => {
                        let Some(own) = nested.get(figure) else {
                            continue;
                        };
                        put(&mut page, own.cell.draw(way), at, spot.turned);
                        self.places[own.place].templates.push(first + number);
                    }
                    What::With(place) => {
                        if let Some(drawing) = self.drawn_code(place, module) {
                            put(&mut page, drawing, at, spot.turned);
                            self.places[place].coded.push(first + number);
                        }
                    }
                }
            }
            put(
                &mut page,
                foot.clone(),
                Point::new(room.x0, room.y1 + OVER),
                false,
            );
            contents.push(page);
        }
        self.add(
            "templates",
            "Templates of the ends, true to scale",
            contents,
        );
    }

    /// What lays out a template by itself.
    fn alone<T>(&self, which: &Which<'a>, then: impl FnOnce(&Order) -> T) -> T {
        then(&Order {
            template: which.template,
            unit: self.order.unit,
            label: &format!("{} · {}", which.piece.number, which.name()),
            link: which.piece.link,
            date: &self.date,
            paper: self.order.paper,
            printer: self.order.printer,
            saw: which.piece.saws[which.side.index()],
        })
    }

    /// Adds sheets that were laid out by themselves.
    fn add_alone(&mut self, which: &Which<'a>, pages: Vec<Drawing>) {
        let from = self.pages.len();
        self.pages.extend(pages);
        let sheets = from..self.pages.len();
        self.places[which.place].templates.extend(sheets);
    }

    fn tiled(&mut self, which: &Which<'a>) {
        match self.alone(which, lay_out) {
            Ok(packet) => {
                let notes = contents::notes_of(&packet, &which.name());
                self.notes.extend(notes);
                self.add_alone(which, packet.pages);
            }
            Err(error) => {
                let note = format!("{}: {}", which.name(), error.sentence());
                self.notes.push(note);
            }
        }
    }

    fn landings(&mut self) {
        for which in self.all_templates() {
            let Some(end) = which.piece.ends[which.side.index()] else {
                continue;
            };
            for (number, landing) in end.landings.iter().enumerate() {
                let laid_out = match landing {
                    Ok(landing) => self
                        .alone(&which, |order| lay_out_landing(order, landing))
                        .map_err(|error| error.sentence()),
                    Err(why) => Err(why.sentence(number + 1)),
                };
                match laid_out {
                    Ok(packet) => self.add_alone(&which, packet.pages),
                    Err(why) => self.notes.push(format!("{}: {why}", which.name())),
                }
            }
        }
    }

    fn tables(&mut self, divisions: u32) {
        for which in self.all_templates() {
            let packet = self.alone(&which, |order| lay_out_table(order, divisions));
            self.add_alone(&which, packet.pages);
        }
    }
}

/// Whether sheets are fewer than others, or as many with more codes.
fn better(sheets: &[Vec<Spot>], others: &[Vec<Spot>]) -> bool {
    let spots = |sheets: &[Vec<Spot>]| sheets.iter().map(Vec::len).sum::<usize>();
    sheets.len() < others.len() || sheets.len() == others.len() && spots(sheets) > spots(others)
}

/// What stands at the foot of every sheet of templates.
fn foot(width: f64) -> Drawing {
    let mut foot = Drawing::new(width, 0.0);
    for text in [USE, RESPONSIBILITY] {
        let block = Block::new(words::wrap(text, FOOT, false, width), FOOT);
        let at = Point::new(0.0, foot.height);
        block.draw(&mut foot, at, Anchor::Start);
        foot.height += block.extent().1 + 0.8;
    }
    foot
}
