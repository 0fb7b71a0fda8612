//! Files of one piece: templates of its ends and mains, tables, solids.

use crate::app::workshop::making::{Kind, Made, refused};
use crate::app::workshop::worker::Request;
use crate::cope::Solid;
use crate::job::list::{Job, JobPiece, PieceReading};
use crate::job::{FileNames, write_form};
use crate::piece::{Side, Sleeve, SleeveError, SleeveSizes, Template, ordinates};
use crate::sheet::{Drawing, Order, landing_figure, template_figure};
use crate::write::{csv, dxf, stl, svg_layers};

/// Divisions of the table where none is chosen for print.
const DIVISIONS: u32 = 16;

/// A piece of which files are made.
pub struct OfPiece<'a> {
    request: &'a Request,
    job: &'a Job,
    reading: &'a PieceReading,
    /// What the piece is called.
    pub name: String,
    whole: bool,
    link: String,
}

impl<'a> OfPiece<'a> {
    pub fn new(
        request: &'a Request,
        job: &'a Job,
        place: usize,
        piece: &JobPiece,
        reading: &'a PieceReading,
    ) -> Self {
        let form = piece.form();
        Self {
            request,
            job,
            reading,
            name: job.name_at(place),
            whole: form.is_whole(),
            link: [&request.address, &*write_form(form)].concat(),
        }
    }

    pub fn template(&self, side: Side) -> Option<&Template> {
        match &self.reading.piece {
            Some(draft) => draft.piece.end(side).template(),
            None => Some(&self.reading.ends[side.index()].as_ref()?.template),
        }
    }

    pub fn mains(&self, side: Side) -> usize {
        let end = self.reading.ends[side.index()].as_ref();
        end.map_or(0, |end| end.landings.len())
    }

    /// The piece and, of a whole one, which end.
    fn title(&self, side: Side) -> String {
        if self.whole {
            format!("{}, {}", self.name, side.name())
        } else {
            self.name.clone()
        }
    }

    fn named(&self, names: &mut FileNames, side: Side, more: &str, kind: Kind) -> String {
        let end = if self.whole { side.name() } else { "" };
        names.name(&[self.job.title(), &self.name, end, more], kind.ending())
    }

    fn drawn<T>(&self, template: &Template, side: Side, then: impl FnOnce(&Order) -> T) -> T {
        then(&Order {
            template,
            unit: self.job.unit(),
            label: &self.title(side),
            link: &self.link,
            date: &self.request.date,
            paper: self.job.paper(),
            printer: &self.request.printer,
            saw: &[],
        })
    }

    fn written(&self, drawing: &Drawing, title: &str, kind: Kind) -> Result<Vec<u8>, String> {
        let text = match kind {
            Kind::Dxf => dxf(drawing, title, self.job.unit()),
            _ => svg_layers(drawing, title),
        };
        text.map(Into::into).map_err(refused)
    }

    pub fn of_end(&self, names: &mut FileNames, side: Side, kind: Kind) -> Result<Made, String> {
        let template = self
            .template(side)
            .ok_or_else(|| format!("{} is not coped: it has no template.", side.at_start()))?;
        let title = self.title(side);
        let (bytes, more) = match kind {
            Kind::Svg | Kind::Dxf => {
                let drawing = self.drawn(template, side, template_figure);
                (self.written(&drawing, &title, kind)?, "")
            }
            Kind::Csv => {
                let divisions = self.request.parts.tables.unwrap_or(DIVISIONS);
                let table = csv(&ordinates(template, divisions)).map_err(refused)?;
                (table.into(), "")
            }
            Kind::End => {
                let branch = Solid::new(template.cope(), template.heel_turn()).branch;
                let solid = stl(&branch.positions, &branch.triangles, &title);
                (solid.map_err(refused)?, "cut end")
            }
            Kind::Sleeve => {
                let sizes = self.request.sleeve.sizes();
                let sleeve = Sleeve::new(template, &sizes)
                    // Where the mark line leaves too little of it, the least that holds together.
                    .or_else(|error| match error {
                        SleeveError::Short { least, .. } if sizes.length.is_none() => Sleeve::new(
                            template,
                            &SleeveSizes {
                                length: Some(least),
                                ..sizes
                            },
                        ),
                        other => Err(other),
                    })
                    .map_err(|error| error.sentence(self.job.unit()))?;
                let solid = stl(&sleeve.positions, &sleeve.triangles, &title);
                (solid.map_err(refused)?, "sleeve")
            }
        };
        Ok(Made {
            name: self.named(names, side, more, kind),
            kind: kind.media_type(),
            bytes,
            note: String::new(),
        })
    }

    pub fn of_main(
        &self,
        names: &mut FileNames,
        side: Side,
        main: usize,
        kind: Kind,
    ) -> Result<Made, String> {
        let none = || String::from("No template for this main is asked for.");
        let template = self.template(side).ok_or_else(none)?;
        let end = self.reading.ends[side.index()].as_ref().ok_or_else(none)?;
        let landing = end.landings.get(main).ok_or_else(none)?;
        let landing = landing.as_ref().map_err(|why| why.sentence(main + 1))?;
        let drawing = self.drawn(template, side, |order| landing_figure(order, landing));
        let which = format!("main {}", main + 1);
        let title = format!("{}, {which}", self.title(side));
        Ok(Made {
            bytes: self.written(&drawing, &title, kind)?,
            name: self.named(names, side, &which, kind),
            kind: kind.media_type(),
            note: String::new(),
        })
    }
}
