//! The tube of a piece laid out straight, end A at the left, the zero line facing the viewer: cuts,
//! marks, bends and dimension lines.
//!
//! Along the tube runs to the right and the zero line faces out of the paper, so turns, which grow
//! clockwise for someone who sights along the tube from end A, run down on the side that is seen.

use std::f64::consts::{FRAC_PI_2, TAU};

use crate::piece::{Marks, Piece, Side, Station};
use crate::sheet::drawing::{Drawing, Layer, Pattern, Pen, Point};
use crate::sheet::piece::axis::Axis;
use crate::sheet::piece::places::Places;
use crate::sheet::sketch::ink::hairline;
use crate::units::{Angle, Length};

/// Visible outlines.
pub const OUTLINE: Pen = Pen {
    width: 0.32,
    pattern: Pattern::Solid,
};
/// White at either side of the tube, for words, mm.
const SIDE: f64 = 9.0;
/// How far mark lines stand out of the tube, mm.
pub const OUT: f64 = 2.5;

/// The tube on its figure.
pub struct Tube<'a> {
    pub piece: &'a Piece,
    pub marks: &'a Marks,
    pub places: Places,
    axis: Axis,
    /// Height of the tube's middle on the figure.
    pub y: f64,
    /// The drawn radius.
    pub r: f64,
}

impl<'a> Tube<'a> {
    /// A tube on a width of paper, its upper edge so far down.
    pub fn new(piece: &'a Piece, marks: &'a Marks, width: f64, top: f64) -> Self {
        let places = Places::of(piece);
        let outside = piece.tube().outside().mm();
        let whole = |from: f64, to: f64| places.is_whole(from, to);
        let axis = Axis::new(&places.stops(), &whole, outside, width - 2.0 * SIDE);
        let r = axis.across(outside) / 2.0;
        Self {
            piece,
            marks,
            y: top + r,
            r,
            places,
            axis,
        }
    }

    pub fn scale(&self) -> String {
        self.axis.scale()
    }

    pub const fn is_broken(&self) -> bool {
        !self.axis.breaks.is_empty()
    }

    /// Where a place along the tube is drawn.
    pub fn x(&self, place: f64) -> f64 {
        SIDE + self.axis.at(place)
    }

    /// Height of a turn of the piece on the drawing.
    fn level(&self, turn: Angle) -> f64 {
        self.y + self.r * turn.rad().sin()
    }

    /// Where the cut of an end is at a turn of the piece.
    fn cut_at(&self, side: Side, turn: Angle) -> f64 {
        let inwards = self.piece.end(side).template().map_or(0.0, |template| {
            let station = template.station(side.own_turn(turn));
            (template.mark_to_long() - station.point.above_mark).mm()
        });
        self.x(self.places.inwards(side, inwards))
    }

    /// A place of the cut named by its template, and whether it is on the side that is seen.
    pub fn station(&self, side: Side, station: &Station) -> (Point, bool) {
        let turn = side.own_turn(station.turn);
        let place = Point::new(self.cut_at(side, turn), self.level(turn));
        (place, is_seen(turn))
    }

    /// A line along the tube, broken where the drawing is.
    fn along(&self, figure: &mut Drawing, (layer, pen): (Layer, Pen), y: f64, x: [f64; 2]) {
        let [mut from, to] = x;
        for (a, b) in &self.axis.breaks {
            let (a, b) = (SIDE + a, SIDE + b);
            if a > from && b < to {
                figure.line(layer, pen, [Point::new(from, y), Point::new(a, y)]);
                from = b;
            }
        }
        if to > from {
            figure.line(layer, pen, [Point::new(from, y), Point::new(to, y)]);
        }
    }

    pub fn draw(&self, figure: &mut Drawing) {
        let edges = [Angle::ZERO - Angle::QUARTER, Angle::QUARTER];
        let ends = |turn: Angle| Side::BOTH.map(|side| self.cut_at(side, turn));
        for turn in edges {
            self.along(figure, (Layer::Tube, OUTLINE), self.level(turn), ends(turn));
        }
        let zero = ends(Angle::ZERO);
        self.along(figure, (Layer::Zero, Pen::AXIS), self.y, zero);
        for side in Side::BOTH {
            for (seen, points) in self.cut(side) {
                let (layer, pen) = if seen {
                    (Layer::Tube, OUTLINE)
                } else {
                    (Layer::Hidden, Pen::HIDDEN)
                };
                figure.line(layer, pen, points);
            }
            let at = side.index();
            if self.piece.grip(side) > Length::ZERO {
                self.grip(figure, side, edges);
            }
            self.centre(figure, zero[at], self.x(self.places.centre[at]));
            if self.piece.end(side).template().is_some() {
                let x = self.x(self.places.mark[at]);
                let (top, bottom) = (self.y - self.r - OUT, self.y + self.r);
                let ends = [Point::new(x, top), Point::new(x, bottom)];
                figure.line(Layer::Mark, Pen::MARK, ends);
            }
        }
        self.bends(figure);
        self.breaks(figure);
    }

    /// The cut outline: the part that is seen and the part behind, as paths.
    fn cut(&self, side: Side) -> Vec<(bool, Vec<Point>)> {
        let Some(template) = self.piece.end(side).template() else {
            let x = self.x(self.places.long[side.index()]);
            let face = [-self.r, self.r].map(|r| Point::new(x, self.y + r));
            return vec![(true, face.to_vec())];
        };
        let down = match side {
            Side::A => self.r,
            Side::B => -self.r,
        };
        // Turns here are those of the template.
        let place = |turn: f64, above: Length| {
            let inwards = (template.mark_to_long() - above).mm();
            Point::new(
                self.x(self.places.inwards(side, inwards)),
                self.y + down * turn.sin(),
            )
        };
        let width = template.wrap().width();
        let mut paths: Vec<(bool, Vec<Point>)> = Vec::new();
        for point in template.line().iter().flat_map(|run| &run.points) {
            let turn = point.around / width * TAU;
            let seen = turn <= FRAC_PI_2 || turn >= 3.0 * FRAC_PI_2;
            let here = place(turn, point.above_mark);
            match paths.last_mut() {
                Some((was, path)) if *was == seen => path.push(here),
                Some((_, path)) => {
                    // Over the edge of what is seen, a quarter from the zero line.
                    let edge = if seen { 3.0 } else { 1.0 } * FRAC_PI_2;
                    let over = template.station(Angle::from_rad(edge)).point.above_mark;
                    let over = place(edge, over);
                    path.push(over);
                    paths.push((seen, vec![over, here]));
                }
                None => paths.push((seen, vec![here])),
            }
        }
        paths
    }

    /// Grip stock beyond the cut, as it is before it is cut off.
    fn grip(&self, figure: &mut Drawing, side: Side, edges: [Angle; 2]) {
        let stock = (Layer::Hidden, Pen::HIDDEN);
        let x = self.x(self.places.blank[side.index()]);
        for turn in edges {
            let cut = self.cut_at(side, turn);
            self.along(figure, stock, self.level(turn), [x.min(cut), x.max(cut)]);
        }
        let face = edges.map(|turn| Point::new(x, self.level(turn)));
        figure.line(stock.0, stock.1, face);
    }

    /// The joint centre: a cross on the tube's axis, which runs on to it.
    fn centre(&self, figure: &mut Drawing, end: f64, x: f64) {
        const ARM: f64 = 1.6;
        let inside = [self.x(self.places.long[0]), self.x(self.places.long[1])];
        if x < inside[0] || x > inside[1] {
            let ends = [x.min(end), x.max(end)];
            self.along(figure, (Layer::Axis, Pen::AXIS), self.y, ends);
        }
        for (dx, dy) in [(ARM, 0.0), (0.0, ARM)] {
            let ends = [(-dx, -dy), (dx, dy)].map(|(dx, dy)| Point::new(x + dx, self.y + dy));
            figure.line(Layer::Axis, Pen::THIN, ends);
        }
    }

    /// Beginning and end of each bend, and its outside line.
    fn bends(&self, figure: &mut Drawing) {
        for ((start, end), mark) in self.places.bends.iter().zip(&self.marks.bends) {
            let (start, end) = (self.x(*start), self.x(*end));
            for (x, layer, pen) in [
                (start, Layer::Mark, Pen::MARK),
                (end, Layer::Quarter, Pen::HAIR),
            ] {
                let ends = [-self.r, self.r].map(|r| Point::new(x, self.y + r));
                figure.line(layer, pen, ends);
            }
            let (y, seen) = (self.level(mark.outside), is_seen(mark.outside));
            let pen = if seen { Pen::BOLD } else { Pen::HIDDEN };
            self.along(figure, (Layer::Quarter, pen), y, [start, end]);
        }
    }

    /// Freehand lines over the tube where it is broken, strokes over its axis where only that is.
    fn breaks(&self, figure: &mut Drawing) {
        const STEPS: u32 = 16;
        let tube = [0, 1].map(|at| {
            let (blank, long) = (self.places.blank[at], self.places.long[at]);
            self.x(if at == 0 {
                blank.min(long)
            } else {
                blank.max(long)
            })
        });
        for (a, b) in &self.axis.breaks {
            let (a, b) = (SIDE + a, SIDE + b);
            let over_tube = a > tube[0] && b < tube[1];
            for x in [a, b] {
                if over_tube {
                    let swing = (self.r * 0.25).min(1.1);
                    let points = (0..=STEPS).map(|step| {
                        let part = f64::from(step) / f64::from(STEPS);
                        let aside = swing * (TAU * part).sin();
                        Point::new(x + aside, self.y + self.r * (2.0 * part - 1.0))
                    });
                    figure.line(Layer::Tube, Pen::THIN, points);
                } else {
                    let ends = [-1.0, 1.0].map(|s| Point::new(x - s * 0.5, self.y + s * 1.6));
                    hairline(figure, ends[0], ends[1]);
                }
            }
        }
    }
}

fn is_seen(turn: Angle) -> bool {
    turn.rad().cos() > -1e-9
}
