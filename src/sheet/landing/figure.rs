//! The template for the main as a figure: the patch of paper with its lines, and words beside it.
//!
//! The printed side faces out. Along the main runs to the right, to the heel side; round the main
//! runs up, to the +side. The left edge is the mark line.

use crate::piece::{LANDING_MARGIN, Landing, LandingMark, LandingPoint, LandingRun};
use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::figure::{dimension, head};
use crate::sheet::landing::room::Room;
use crate::sheet::placer::Block;
use crate::sheet::tile;
use crate::sheet::words;
use crate::units::{Angle, write_angle};

/// Size of the words, mm.
const SIZE: f64 = 2.5;
/// From the patch to the names of lines at its right, mm.
const ASIDE: f64 = 5.0;
/// Room below for the dimension, mm.
const BELOW: f64 = 8.0;
/// Length of the ticks where the quarter lines of the branch land, mm.
const TICK: f64 = 3.0;
/// Half the size of the cross where the branch's axis meets the main, mm.
const CROSS: f64 = 2.5;
/// Places nearer than this are one, mm.
const SAME: f64 = 0.3;

/// What is said on the figure.
pub struct Captions {
    /// What the patch is called when it is cut out.
    pub name: String,
    /// How far the mark line is from what, for the patch itself.
    pub mark: String,
    /// Distance of the mark line from the joint centre.
    pub centre: String,
}

/// The patch on its figure.
pub struct Figure<'a> {
    landing: &'a Landing,
    captions: Captions,
    pub width: f64,
    pub height: f64,
    /// Right edge of the patch; its left edge, the mark line, is at 0.
    right: f64,
    /// Lower edge of the patch; its upper edge is at 0.
    bottom: f64,
    /// Around at the upper edge.
    top: f64,
    /// Whether the lines have their names beside the patch.
    named: bool,
}

impl<'a> Figure<'a> {
    /// The patch with the names of its lines beside it, or without where that saves a sheet.
    pub fn new(landing: &'a Landing, captions: Captions, named: bool) -> Self {
        let margin = LANDING_MARGIN.mm();
        let (low, high) = landing.reach();
        // The zero line is on the paper, or it could not be laid on the main's.
        let (least, most) = (low.around.mm().min(0.0), high.around.mm().max(0.0));
        // Paper that would meet itself round a thin main is cut narrower.
        let spare = landing
            .girth()
            .map_or(margin, |girth| (girth.mm() - (most - least)) / 2.0);
        let beside = margin.min(spare).max(1.0);
        let right = (high.along - landing.mark()).mm() + margin;
        let bottom = most - least + 2.0 * beside;
        let mut figure = Self {
            landing,
            captions,
            width: right + Pen::MARK.width,
            height: bottom + BELOW,
            right,
            bottom,
            top: most + beside,
            named,
        };
        let widest = |texts: &[&str]| {
            let widths = texts.iter().map(|text| words::width(text, SIZE, false));
            widths.fold(0.0, f64::max) + 1.0
        };
        if named {
            let names: Vec<&str> = figure.names().into_iter().map(|(_, name)| name).collect();
            figure.width = right + ASIDE + widest(&names);
        }
        if !figure.is_centre_within() {
            let end = figure.centre().unwrap_or(0.0) + 2.0;
            figure.width = figure.width.max(end + widest(&[&figure.captions.centre]));
        }
        figure
    }

    /// Whether the words of the dimension fit between its ends.
    fn is_centre_within(&self) -> bool {
        let end = self.centre().unwrap_or(0.0);
        words::width(&self.captions.centre, SIZE, false) < end - 5.0
    }

    fn patch(&self) -> Area {
        Area::new(0.0, 0.0, self.right, self.bottom)
    }

    fn is_on_patch(&self, at: Point) -> bool {
        self.patch().holds(&Area::around(&[at]))
    }

    fn place(&self, point: LandingPoint) -> Point {
        Point::new(
            (point.along - self.landing.mark()).mm(),
            self.top - point.around.mm(),
        )
    }

    fn level(&self, around: f64) -> f64 {
        self.top - around
    }

    /// Where the joint centre is across the figure, if it is on the patch.
    fn centre(&self) -> Option<f64> {
        let x = -self.landing.mark().mm();
        (x > 0.0 && x < self.right).then_some(x)
    }

    fn heel_toe_line(&self) -> Option<f64> {
        let level = self.level(self.landing.axis()?.around.mm());
        (level > 0.0 && level < self.bottom).then_some(level)
    }

    /// Where faces pass into corners, as far as that is on the patch and not at its very edge.
    fn folds(&self) -> impl Iterator<Item = f64> {
        let (from, to) = (SIZE, self.bottom - SIZE);
        let folds = self.landing.folds().into_iter();
        folds
            .map(|fold| self.level(fold.mm()))
            .filter(move |y| *y > from && *y < to)
    }

    /// Moves a registration cross at a place up or down, clear of outlines and straight lines.
    pub fn clear_of_lines(&self, x: f64, y: f64, away: f64) -> f64 {
        let mut lines = vec![0.0, self.bottom, self.level(0.0)];
        lines.extend(self.heel_toe_line());
        let runs = self.landing.outside().iter().chain(self.landing.hole());
        for run in runs {
            for pair in run.points.windows(2) {
                let (a, b) = (self.place(pair[0]), self.place(pair[1]));
                if (a.x - x) * (b.x - x) <= 0.0 && a.x != b.x {
                    lines.push(a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x));
                }
            }
        }
        let free = |y: f64| lines.iter().all(|line| (line - y).abs() >= away);
        let steps = (0..40).flat_map(|step| [y + f64::from(step), y - f64::from(step)]);
        let inside = |y: &f64| *y > away && *y < self.height - away;
        steps.filter(inside).find(|y| free(*y)).unwrap_or(y)
    }

    pub fn draw(&self) -> Drawing {
        let mut figure = Drawing::new(self.width, self.height);
        self.straight_lines(&mut figure);
        for run in self.landing.hole() {
            self.run(&mut figure, run, Layer::Hole, Pen::HOLE);
        }
        for run in self.landing.outside() {
            self.run(&mut figure, run, Layer::Landing, Pen::LANDING);
        }
        for (from, to, _) in self.ticks() {
            figure.line(Layer::Quarter, Pen::MARK, [from, to]);
        }
        self.words(&mut figure);
        figure
    }

    fn straight_lines(&self, figure: &mut Drawing) {
        let (right, bottom) = (self.right, self.bottom);
        let zero = self.level(0.0);
        let level = |y: f64| [Point::new(0.0, y), Point::new(right, y)];
        let edges = [
            Point::new(0.0, 0.0),
            Point::new(right, 0.0),
            Point::new(right, bottom),
            Point::new(0.0, bottom),
        ];
        figure.line(Layer::Edge, Pen::THIN, edges);
        figure.line(Layer::Mark, Pen::MARK, [edges[3], edges[0]]);
        for y in self.folds() {
            figure.line(Layer::Hidden, Pen::HIDDEN, level(y));
        }
        figure.line(Layer::Zero, Pen::AXIS, level(zero));
        if let Some(y) = self.heel_toe_line()
            && (y - zero).abs() > SAME
        {
            figure.line(Layer::Quarter, Pen::QUARTER, level(y));
        }
        if let Some(x) = self.centre() {
            let ends = [Point::new(x, 0.0), Point::new(x, bottom)];
            figure.line(Layer::Axis, Pen::AXIS, ends);
        }
        let axis = self.landing.axis().map(|axis| self.place(axis));
        if let Some(at) = axis.filter(|at| self.is_on_patch(*at)) {
            for (dx, dy) in [(CROSS, 0.0), (0.0, CROSS)] {
                let ends = [
                    Point::new(at.x - dx, at.y - dy),
                    Point::new(at.x + dx, at.y + dy),
                ];
                figure.line(Layer::Check, Pen::MARK, ends);
            }
        }
    }

    /// An outline; where another main is met first it is only there to be seen.
    fn run(&self, figure: &mut Drawing, run: &LandingRun, layer: Layer, pen: Pen) {
        let pen = if run.seated { pen } else { Pen::TRIM };
        let points: Vec<Point> = run.points.iter().map(|point| self.place(*point)).collect();
        if run.seated {
            figure.line(layer, pen, points);
            return;
        }
        for part in tile::clip(&points, &self.patch()) {
            figure.line(layer, pen, part);
        }
    }

    /// A tick out of the outline for every quarter line of the branch; where it ends, and where it
    /// points to.
    fn ticks(&self) -> Vec<(Point, Point, Angle)> {
        let (low, high) = self.landing.reach();
        let (low, high) = (self.place(low), self.place(high));
        let middle = Point::new(f64::midpoint(low.x, high.x), f64::midpoint(low.y, high.y));
        let tick = |mark: &LandingMark| {
            let from = self.place(mark.point);
            let (dx, dy) = (from.x - middle.x, from.y - middle.y);
            let part = TICK / dx.hypot(dy).max(SAME);
            let to = Point::new(from.x + dx * part, from.y + dy * part);
            (from, to, mark.turn)
        };
        let all = self.landing.marks().iter().map(tick);
        all.filter(|(from, _, _)| self.is_on_patch(*from)).collect()
    }

    fn words(&self, figure: &mut Drawing) {
        let (right, bottom) = (self.right, self.bottom);
        let mut room = Room::around(figure, Area::new(0.0, 0.0, right, bottom));
        let name = words::wrap_at_most(&self.captions.name, SIZE, true, right - 4.0, 1).pop();
        let name = Block::new([name.unwrap_or_default()], SIZE).bold();
        // The name may stand on the line through the joint centre, but on no other.
        let (_, height) = name.extent();
        let places = [0.5, bottom - height - 0.5].map(|y| Point::new(1.5, y));
        let centre = self.centre();
        let over = |at: &Point| {
            room.holds_but(&name, *at, |from, to| {
                Some(from.x) == centre && (from.y, to.y) == (0.0, bottom)
            })
        };
        if let Some(place) = places.into_iter().find(over) {
            room.take(&name, place);
            name.draw(figure, place, Anchor::Start);
        }

        let (heel, toe) = self.landing.heel_and_toe();
        for (point, text, way) in [(heel, "heel", 1.0), (toe, "toe", -1.0)] {
            let from = point.map(|point| self.place(point));
            let Some(from) = from.filter(|from| self.is_on_patch(*from)) else {
                continue;
            };
            let block = Block::new([text], SIZE);
            room.put(figure, &block, from, Point::new(way, -0.25), 1.0);
        }
        for (from, to, turn) in self.ticks() {
            let block = Block::new([write_angle(turn)], SIZE);
            room.put(
                figure,
                &block,
                to,
                Point::new(to.x - from.x, to.y - from.y),
                0.6,
            );
        }
        self.mark_words(figure, &mut room);
        if let Some(x) = centre {
            let at = Point::new(x, bottom - LANDING_MARGIN.mm() / 2.0);
            let block = Block::new(["joint centre"], SIZE).upended();
            room.put(figure, &block, at, Point::new(1.0, 0.0), 0.6);
        }
        self.names_beside(figure);
        self.dimension(figure);
    }

    /// What the left edge is, and along the lower edge how far it is from what.
    fn mark_words(&self, figure: &mut Drawing, room: &mut Room) {
        let bottom = self.bottom;
        let wide = self.right - 3.0;
        // Over the line through the joint centre, as the name is.
        let centre = self.centre();
        let lines = words::wrap(&self.captions.mark, SIZE, false, wide);
        let block = Block::new(lines, SIZE);
        let (width, height) = block.extent();
        let place = Point::new(1.5, bottom - height - 0.8);
        let free = room.holds_but(&block, place, |from, to| {
            Some(from.x) == centre && (from.y, to.y) == (0.0, bottom)
        });
        if free && width <= wide {
            room.take(&block, place);
            block.draw(figure, place, Anchor::Start);
        }
        let block = Block::new(["mark line"], SIZE).upended();
        let (_, height) = block.extent();
        let steps = (0..200).map(|step| bottom - height - 1.5 - f64::from(step));
        let mut places = steps.take_while(|y| *y > 1.0).map(|y| Point::new(0.7, y));
        if let Some(place) = places.find(|at| room.holds(&block, *at)) {
            room.take(&block, place);
            block.draw(figure, place, Anchor::Start);
        }
    }

    /// From the mark line to the joint centre, under the patch.
    fn dimension(&self, figure: &mut Drawing) {
        let (bottom, text) = (self.bottom, &self.captions.centre);
        let y = bottom + BELOW - 1.5;
        let end = self.centre().unwrap_or(0.0);
        if end > 0.0 {
            for x in [0.0, end] {
                let ends = [Point::new(x, bottom + 1.0), Point::new(x, y + 1.0)];
                figure.line(Layer::Dimension, Pen::HAIR, ends);
            }
            dimension(figure, Point::new(0.0, y), Point::new(end, y));
        }
        let (at, anchor) = if self.is_centre_within() {
            (Point::new(end / 2.0, y - 1.0), Anchor::Middle)
        } else {
            (Point::new(end + 2.0, y + 0.8), Anchor::Start)
        };
        figure.text(at, SIZE, anchor, text.clone());
    }

    /// The lines that leave the patch at its right edge, with their names.
    fn names(&self) -> Vec<(f64, &'static str)> {
        let zero = self.level(0.0);
        let mut names = vec![(zero, "zero line")];
        if let Some(y) = self.heel_toe_line()
            && (y - zero).abs() > SAME
        {
            names.push((y, "heel to toe"));
        }
        names.extend(self.folds().map(|y| (y, "corner begins")));
        names
    }

    /// Writes the names one over the other.
    fn names_beside(&self, figure: &mut Drawing) {
        if !self.named {
            return;
        }
        let mut taken: Vec<Area> = Vec::new();
        for (y, name) in self.names() {
            let width = words::width(name, SIZE, false);
            let at = (0..30)
                .flat_map(|step| [y + f64::from(step), y - f64::from(step)])
                .map(|y| Point::new(self.right + ASIDE, y + SIZE * 0.35))
                .find(|at| {
                    let area = Area::sized(at.x, at.y - SIZE, width, SIZE * 1.2);
                    !taken.iter().any(|other| other.overlaps(&area))
                });
            let Some(at) = at else { continue };
            taken.push(Area::sized(at.x, at.y - SIZE, width, SIZE * 1.2));
            figure.turned_text(at, SIZE, Anchor::Start, Angle::ZERO, false, name);
            let (from, tip) = (
                Point::new(at.x - 0.6, at.y - SIZE * 0.35),
                Point::new(self.right, y),
            );
            figure.line(Layer::Note, Pen::HAIR, [from, tip]);
            head(figure, Layer::Note, from, tip);
        }
    }
}
