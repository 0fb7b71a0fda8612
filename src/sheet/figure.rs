//! The strip with its words and dimensions: what is laid on one sheet or cut into tiles.

use crate::piece::{PaperRun, Station, Template};
use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::fan::Fan;
use crate::sheet::labels;
use crate::sheet::placer::{Block, Joins, Placer};
use crate::sheet::strip::Strip;
use crate::sheet::words;

/// Size of the words on a strip, mm.
pub const SIZE: f64 = 2.8;
/// Places on paper nearer than this are one place with several names, mm.
const SAME_PLACE: f64 = 0.3;
/// A cut shallower than this has no long and no short point worth marking, mm.
const LEVEL: f64 = 0.05;
/// Room above the long point for the words on the waste side, mm.
const ABOVE: f64 = 5.0;
/// Room below the mark line for its words, mm.
const BELOW: f64 = 5.0;
/// More room below for the dimension of one turn, mm.
const BELOW_DIMENSION: f64 = 7.5;
/// Room at the right for the dimension from mark line to long point, mm.
const RIGHT_DIMENSION: f64 = 9.0;
/// Length of an arrowhead, mm.
const HEAD: f64 = 2.4;
/// Half its width, as a part of its length.
const HEAD_HALF: f64 = 0.17;

/// Words that depend on the order, not on the figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Captions {
    /// What the strip is called when it is cut out.
    pub name: String,
    /// The joint in one line.
    pub joint: String,
    /// The developed width.
    pub once_round: String,
    /// Mark line to long point.
    pub mark_to_long: String,
}

/// A place on the cut line with its names.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// On the cut line.
    pub at: Point,
    /// One or more names.
    pub names: Vec<&'static str>,
}

/// A strip with a frame around it.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    pub strip: Strip,
    pub captions: Captions,
    pub named: Vec<Named>,
    pub width: f64,
    pub height: f64,
    dimensioned: bool,
    is_narrow: bool,
}

impl Figure {
    /// Lays out the figure of a template with an overlap tab of `tab` mm, and with dimension lines
    /// if there shall be any.
    pub fn new(
        template: &Template,
        line: &[PaperRun],
        captions: Captions,
        tab: f64,
        dimensioned: bool,
    ) -> Self {
        let mut strip = Strip::new(template, line, tab, Point::new(0.0, ABOVE));
        let mut named = named_places(template, &strip);
        if Strip::is_narrow(template) {
            let fan = Fan::new(&strip, &named, &captions);
            // The strip moves to where the fan of words around it wants it.
            strip = Strip::new(template, line, tab, fan.strip_at());
            named = named_places(template, &strip);
            let (width, height) = fan.extent();
            return Self {
                strip,
                captions,
                named,
                width,
                height,
                dimensioned: false,
                is_narrow: true,
            };
        }
        let (right, below) = if dimensioned {
            (RIGHT_DIMENSION, BELOW + BELOW_DIMENSION)
        } else {
            (HEAD * HEAD_HALF + Pen::AXIS.width, BELOW)
        };
        Self {
            width: strip.right + right,
            height: strip.mark + below,
            strip,
            captions,
            named,
            dimensioned,
            is_narrow: false,
        }
    }

    /// Whether the paper above the cut holds nothing but words that can stand elsewhere.
    pub const fn has_free_waste(&self) -> bool {
        !self.dimensioned && !self.is_narrow
    }

    /// Draws lines and words; no words stand on a join.
    pub fn draw(&self, joins: &Joins) -> Drawing {
        let mut figure = Drawing::new(self.width, self.height);
        let mut placer = Placer::new(&self.strip, joins);
        let mut words = Drawing::new(self.width, self.height);
        if self.is_narrow {
            Fan::draw(&mut words, &self.strip, &self.named, &self.captions);
        } else {
            labels::turns(&mut words, &mut placer, &self.strip);
            labels::places(&mut words, &mut placer, &self.strip, &self.named);
            labels::beside(&mut words, &mut placer, &self.strip);
            labels::tab(&mut words, &mut placer, &self.strip);
            for cell in self.cells(joins) {
                labels::body(&mut words, &mut placer, &self.strip, &cell);
                labels::name(&mut words, &mut placer, &self.strip, &self.captions, &cell);
                labels::waste(&mut words, &mut placer, &self.strip, &cell);
                labels::mark(&mut words, &mut placer, &self.strip, &cell);
            }
            labels::pre_cut(&mut words, &mut placer, &self.strip);
            if self.dimensioned {
                self.dimensions(&mut words);
            }
        }
        self.strip.draw(&mut figure, &placer.taken);
        figure.items.append(&mut words.items);
        figure
    }

    /// The part of the strip on every column of sheets.
    fn cells(&self, joins: &Joins) -> Vec<Area> {
        let strip = &self.strip;
        let mut edges = vec![strip.left];
        edges.extend(
            joins
                .xs
                .iter()
                .copied()
                .filter(|x| strip.left < *x && *x < strip.right),
        );
        edges.push(strip.right);
        edges
            .windows(2)
            .filter_map(|pair| match pair {
                [from, to] => Some(Area::new(*from, strip.top, *to, strip.mark)),
                _ => None,
            })
            .collect()
    }

    fn dimensions(&self, figure: &mut Drawing) {
        let strip = &self.strip;
        let y = strip.mark + BELOW + BELOW_DIMENSION - 1.2;
        for x in [strip.left, strip.right] {
            let ends = [Point::new(x, strip.mark + 1.0), Point::new(x, y + 1.0)];
            figure.line(Layer::Dimension, Pen::HAIR, ends);
        }
        dimension(
            figure,
            Point::new(strip.left, y),
            Point::new(strip.right, y),
        );
        let words = format!("once round, edge to edge: {}", self.captions.once_round);
        let fits = |text: &str| words::width(text, SIZE, false) <= strip.right - strip.left - 8.0;
        let text = if fits(&words) {
            words
        } else {
            self.captions.once_round.clone()
        };
        let middle = f64::midpoint(strip.left, strip.right);
        let at = Point::new(middle, y - 1.2);
        figure.text(at, SIZE, Anchor::Middle, text);

        let x = strip.right + RIGHT_DIMENSION - 1.5;
        let long = self
            .named
            .iter()
            .filter(|named| (named.at.y - strip.top).abs() < LEVEL)
            .map(|named| named.at.x)
            .fold(strip.left, f64::max);
        figure.line(
            Layer::Dimension,
            Pen::HAIR,
            [
                Point::new(long.min(strip.right - 2.0) + 2.0, strip.top),
                Point::new(x + 1.0, strip.top),
            ],
        );
        let ends = [
            Point::new(strip.right + 1.0, strip.mark),
            Point::new(x + 1.0, strip.mark),
        ];
        figure.line(Layer::Dimension, Pen::HAIR, ends);
        dimension(figure, Point::new(x, strip.mark), Point::new(x, strip.top));
        let words = format!("mark line to long point {}", self.captions.mark_to_long);
        let block = [words, self.captions.mark_to_long.clone()]
            .into_iter()
            .map(|line| Block::new([line], SIZE).upended())
            .find(|block| block.extent().1 <= strip.mark - strip.top - 6.0);
        if let Some(block) = block {
            let (width, height) = block.extent();
            let top = f64::midpoint(strip.top, strip.mark) - height / 2.0;
            let at = Point::new(x - 0.6 - width, top);
            block.draw(figure, at, Anchor::Middle);
        }
    }
}

/// Heel, toe, long and short points, ridges from main to main; one entry a place.
fn named_places(template: &Template, strip: &Strip) -> Vec<Named> {
    let mut named: Vec<Named> = Vec::new();
    let mut add = |station: &Station, name: &'static str| {
        let at = strip.station(station);
        let same = |known: &&mut Named| {
            let apart = (known.at.x - at.x).abs();
            apart < SAME_PLACE || strip.right - strip.left - apart < SAME_PLACE
        };
        match named.iter_mut().find(same) {
            Some(known) => known.names.push(name),
            None => named.push(Named {
                at,
                names: vec![name],
            }),
        }
    };
    add(&template.heel(), "heel");
    add(&template.toe(), "toe");
    if (template.mark_to_long() - template.mark_to_short()).mm() > LEVEL {
        for station in template.long_points() {
            add(&station, "long point");
        }
        for station in template.short_points() {
            add(&station, "short point");
        }
    }
    for ridge in template.cope().ridges() {
        add(
            &template.station(ridge.turn + template.heel_turn()),
            "ridge",
        );
    }
    named
}

/// A dimension line with a head at either end.
pub fn dimension(figure: &mut Drawing, from: Point, to: Point) {
    figure.line(Layer::Dimension, Pen::HAIR, [from, to]);
    head(figure, Layer::Dimension, to, from);
    head(figure, Layer::Dimension, from, to);
}

/// An arrowhead with its tip at a place, coming from another.
pub fn head(figure: &mut Drawing, layer: Layer, from: Point, tip: Point) {
    figure.arrow_head(layer, from, tip, HEAD, HEAD * HEAD_HALF);
}
