//! The figure of the tube with its dimension lines and words.

use crate::piece::{BendMark, Marks, Reading, Side};
use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Point};
use crate::sheet::landing::room::Room;
use crate::sheet::piece::PieceOrder;
use crate::sheet::piece::facts::has_mark;
use crate::sheet::piece::tube::{OUT, Tube};
use crate::sheet::placer::Block;
use crate::sheet::sketch::ink::{dimension, hairline};
use crate::sheet::words;
use crate::units::{Length, Unit, write_angle, write_bare};

/// Size of the words, mm.
const SIZE: f64 = 2.4;
/// Height of the line that states the scale, mm.
const HEAD: f64 = 4.0;
/// Room over the tube for the names of marks, mm.
const ABOVE: f64 = 9.0;
/// From the tube to the first dimension line, and from line to line, mm.
const FIRST_ROW: f64 = 7.5;
const ROW: f64 = 5.8;
/// White between a dimension line and its words, so that these clear the arrows, mm.
const OVER: f64 = 0.98;
/// What a dimension line keeps free of its ends for words, mm.
const CLEAR: f64 = 0.6;
/// Dimension lines shorter than this have their arrows outside, this long, mm.
const TAIL: f64 = 6.5;
/// How far words beside a dimension line may give way to what is there, mm.
const BESIDE: f64 = 2.5;

/// One end of a dimension line: where its extension line begins.
#[derive(Clone, Copy)]
struct Foot {
    place: f64,
    at: Point,
}

struct Dimension {
    feet: [Foot; 2],
    /// What is written on it, the first that fits.
    texts: [String; 2],
    /// From where to where it needs its row for itself, with what stands beside it.
    taken: [f64; 2],
}

/// Dimension lines in rows, those next to the tube first.
#[derive(Default)]
struct Rows {
    rows: Vec<Vec<Dimension>>,
    /// Rows that take nothing more.
    full: usize,
}

impl Rows {
    /// Adds a dimension line to the first row where it finds room; nothing for no length and for
    /// one that is there already.
    fn add(&mut self, from: Foot, to: Foot, caption: &str, value: String) {
        const SAME: f64 = 1e-6;
        let feet = if from.at.x <= to.at.x {
            [from, to]
        } else {
            [to, from]
        };
        let near = |a: &Foot, b: &Foot| (a.place - b.place).abs() < SAME;
        let there = |own: &Dimension| near(&own.feet[0], &feet[0]) && near(&own.feet[1], &feet[1]);
        if near(&from, &to) || self.rows.iter().flatten().any(there) {
            return;
        }
        let [left, right] = feet.map(|foot| foot.at.x);
        let width = words::width(&value, SIZE, false);
        let aside = if width + 2.0 * CLEAR > right - left {
            TAIL + width + BESIDE
        } else {
            0.0
        };
        let taken = [left - aside, right + aside];
        let beside =
            |own: &Dimension| own.taken[1] <= taken[0] + SAME || own.taken[0] >= taken[1] - SAME;
        let texts = [format!("{caption} {value}"), value];
        let own = Dimension { feet, texts, taken };
        let mut open = self.rows.iter_mut().skip(self.full);
        match open.find(|row| row.iter().all(beside)) {
            Some(row) => row.push(own),
            None => self.rows.push(vec![own]),
        }
    }

    /// Every dimension line with its height on the figure.
    fn levels(&self, first: f64) -> impl Iterator<Item = (f64, &Dimension)> {
        let mut level = first - ROW;
        self.rows.iter().flat_map(move |row| {
            level += ROW;
            let level = level;
            row.iter().map(move |own| (level, own))
        })
    }
}

/// Where a bend starts.
fn start(order: &PieceOrder, mark: &BendMark) -> String {
    format!(
        "start at {}",
        write_bare(mark.from_blank.on_tape, order.unit)
    )
}

/// The figure of a piece laid out straight on a width of paper.
pub fn draw(order: &PieceOrder, marks: &Marks, width: f64) -> Drawing {
    let starts = (marks.bends.iter()).map(|mark| words::width(&start(order, mark), SIZE, false));
    let above = starts.fold(ABOVE, |above, width| above.max(width + 3.0));
    let tube = Tube::new(order.piece, marks, width, HEAD + above);
    let rows = rows(order, &tube);
    let first = tube.y + tube.r + FIRST_ROW;
    let count = rows.rows.iter().fold(0.0, |count, _| count + 1.0);
    let height = first + ROW * (count - 1.0) + 2.0;
    let mut figure = Drawing::new(width, height);
    tube.draw(&mut figure);
    extensions(&mut figure, &rows, first);
    for (level, own) in rows.levels(first) {
        let [a, b] = own.feet.map(|foot| Point::new(foot.at.x, level));
        dimension(&mut figure, a, b);
    }
    for (place, _) in Side::BOTH.iter().flat_map(|side| extremes(&tube, *side)) {
        dot(&mut figure, place);
    }
    for (start, end) in &tube.places.bends {
        for place in [start, end] {
            let (x, from) = (tube.x(*place), tube.y - tube.r - 1.0);
            hairline(&mut figure, Point::new(x, from), Point::new(x, HEAD + 1.0));
        }
    }
    let mut room = Room::around(&figure, Area::new(0.0, 0.0, width, height));
    head(order, &tube, &mut figure, &mut room);
    for (level, own) in rows.levels(first) {
        write(&mut figure, &mut room, own, level);
    }
    names(order, &tube, &mut figure, &mut room);
    bends(order, &tube, &mut figure, &mut room);
    figure
}

fn rows(order: &PieceOrder, tube: &Tube) -> Rows {
    let (piece, places, marks) = (order.piece, &tube.places, tube.marks);
    let under = tube.y + tube.r + 1.0;
    let foot = |place: f64, y: f64| Foot {
        place,
        at: Point::new(tube.x(place), y),
    };
    let marked = Side::BOTH.map(|side| foot(places.mark[side.index()], under));
    let blank = Side::BOTH.map(|side| foot(places.blank[side.index()], under));
    let centres = Side::BOTH.map(|side| foot(places.centre[side.index()], tube.y + 2.4));
    // From the long point itself, the lowest where there are several.
    let long = Side::BOTH.map(|side| {
        let template = piece.end(side).template();
        let points = template.map_or(Vec::new(), |template| template.long_points());
        let heights = points.iter().map(|own| tube.station(side, own).0.y + 1.0);
        let y = heights.reduce(f64::max).unwrap_or(under);
        foot(places.long[side.index()], y)
    });
    let mut rows = Rows::default();
    let mut add = |from, to, caption: &str, of: Reading| {
        rows.add(from, to, caption, write_bare(of.on_tape.abs(), order.unit));
    };
    // First, so that extension lines which begin beside the tube cross no other row.
    let between = Reading::nearest(piece.lengths().centres, order.division);
    if Side::BOTH.iter().any(|side| has_mark(piece, *side)) {
        add(centres[0], centres[1], "between joint centres", between);
    }
    for side in Side::BOTH {
        let at = side.index();
        add(blank[at], long[at], "cut off", marks.cut_off[at]);
        let caption = ["mark A", "mark B"][at];
        add(long[at], marked[at], caption, marks.finished.own[at]);
    }
    let far = marks.finished.far;
    let [a, b] = Side::BOTH.map(|side| has_mark(piece, side));
    if a && b {
        let caption = if marks.finished.between.exact < Length::ZERO {
            "marks passed by"
        } else {
            "mark to mark"
        };
        add(marked[0], marked[1], caption, marks.finished.between);
    }
    if a {
        add(marked[0], long[1], "mark A to far end", far[0]);
    }
    if b {
        add(marked[1], long[0], "mark B to far end", far[1]);
    }
    add(long[0], long[1], "overall", marks.finished.length);
    // What is measured from the blank's ends lies over the long points: under their lines.
    rows.full = rows.rows.len();
    let mut add = |from, to, caption: &str, of: Reading| {
        rows.add(from, to, caption, write_bare(of.on_tape.abs(), order.unit));
    };
    for side in Side::BOTH {
        let at = side.index();
        let caption = "from the blank’s end";
        add(blank[at], marked[at], caption, marks.blank.own[at]);
    }
    add(blank[0], blank[1], "blank", marks.blank.length);
    rows
}

/// One extension line for each place, down to the last dimension line that needs it.
fn extensions(figure: &mut Drawing, rows: &Rows, first: f64) {
    let mut lines: Vec<(Point, f64)> = Vec::new();
    for (level, own) in rows.levels(first) {
        for foot in own.feet {
            let known = lines
                .iter_mut()
                .find(|(at, _)| (at.x - foot.at.x).abs() < 1e-6);
            match known {
                Some((at, to)) => {
                    at.y = at.y.min(foot.at.y);
                    *to = to.max(level);
                }
                None => lines.push((foot.at, level)),
            }
        }
    }
    for (at, to) in lines {
        hairline(figure, at, Point::new(at.x, to + 1.2));
    }
}

/// Scale and unit.
fn head(order: &PieceOrder, tube: &Tube, figure: &mut Drawing, room: &mut Room) {
    let broken = if tube.is_broken() {
        ", long stretches broken"
    } else {
        ""
    };
    let unit = match order.unit {
        Unit::Millimetre => "mm",
        Unit::Inch | Unit::Fraction(_) => "inches",
    };
    let bent = if order.piece.is_bent() {
        ", before bending"
    } else {
        ""
    };
    let text = format!(
        "Scale {}{broken}{bent}. Zero line towards you. Dimensions in {unit}, as the tape shows them.",
        tube.scale()
    );
    let text = words::wrap_at_most(&text, SIZE, false, figure.width, 1);
    let block = Block::new(text, SIZE);
    let at = Point::new(0.0, 0.0);
    room.take(&block, at);
    block.draw(figure, at, Anchor::Start);
}

/// Writes on a dimension line, or beside it where it is too short.
fn write(figure: &mut Drawing, room: &mut Room, own: &Dimension, level: f64) {
    let [left, right] = own.feet.map(|foot| foot.at.x);
    let found = own.texts.iter().find_map(|text| {
        let block = Block::new([text.as_str()], SIZE);
        let (width, height) = block.extent();
        let y = level - height - OVER;
        let (least, most) = (left + CLEAR, right - CLEAR - width);
        let wish = f64::midpoint(left, right) - width / 2.0;
        let inside = (0..120_u32)
            .flat_map(|step| [1.0, -1.0].map(|way| wish + way * f64::from(step)))
            .filter(|x| *x >= least && *x <= most);
        let at = inside
            .map(|x| Point::new(x, y))
            .find(|at| room.holds(&block, *at))?;
        Some((block, at))
    });
    let found = found.or_else(|| {
        let block = Block::new([own.texts[1].as_str()], SIZE);
        let (width, height) = block.extent();
        let y = level - height - OVER;
        let beside = (0..60_u32).flat_map(|step| {
            let away = TAIL + f64::from(step) * 0.5;
            [right + away, left - away - width]
        });
        let own = |x: &f64| *x >= own.taken[0] && x + width <= own.taken[1];
        let at = beside
            .filter(own)
            .map(|x| Point::new(x, y))
            .find(|at| room.holds(&block, *at))?;
        Some((block, at))
    });
    if let Some((block, at)) = found {
        room.take(&block, at);
        block.draw(figure, at, Anchor::Start);
    }
}

/// Puts the first of some words that finds room near a place.
fn put(figure: &mut Drawing, room: &mut Room, texts: &[&str], bold: bool, near: Point, way: Point) {
    for text in texts {
        let mut block = Block::new([*text], SIZE);
        block.bold = bold;
        let before = figure.items.len();
        room.put(figure, &block, near, way, 1.1);
        if figure.items.len() > before {
            return;
        }
    }
}

/// The long and the short point of a coped end, on the side that is seen where there is one
/// there, and whether they are seen.
fn extremes(tube: &Tube, side: Side) -> Vec<(Point, bool)> {
    let Some(template) = tube.piece.end(side).template() else {
        return Vec::new();
    };
    let points = [template.long_points(), template.short_points()];
    let shown = points.iter().filter_map(|points| {
        let places: Vec<_> = points.iter().map(|own| tube.station(side, own)).collect();
        let seen = places.iter().find(|(_, seen)| *seen);
        seen.or(places.first()).copied()
    });
    shown.collect()
}

/// Ends, marks, long and short points.
fn names(order: &PieceOrder, tube: &Tube, figure: &mut Drawing, room: &mut Room) {
    let top = tube.y - tube.r;
    for side in Side::BOTH {
        let at = side.index();
        let inwards = if at == 0 { 1.0 } else { -1.0 };
        if has_mark(order.piece, side) {
            let near = Point::new(tube.x(tube.places.mark[at]), top - OUT);
            let texts: [&[&str]; 2] = [&["mark A", "A"], &["mark B", "B"]];
            put(figure, room, texts[at], false, near, Point::new(0.0, -1.0));
        }
        let near = Point::new(tube.x(tube.places.long[at]), top);
        let name = [side.name()];
        put(figure, room, &name, true, near, Point::new(-inwards, -1.0));
        let extremes = extremes(tube, side);
        for ((place, seen), (texts, hidden, way)) in extremes.into_iter().zip([
            (["long point", "long"], "long point, behind", -inwards),
            (["short point", "short"], "short point, behind", inwards),
        ]) {
            let [whole, short] = texts;
            let texts = [if seen { whole } else { hidden }, short];
            let up = if place.y > tube.y { 0.5 } else { -0.5 };
            put(figure, room, &texts, false, place, Point::new(way, up));
        }
    }
    let middle = Point::new(
        f64::midpoint(tube.x(tube.places.mark[0]), tube.x(tube.places.mark[1])),
        tube.y,
    );
    let way = Point::new(-1.0, -0.6);
    if tube.r > 2.0 * SIZE {
        put(figure, room, &["zero line"], false, middle, way);
    }
}

fn dot(figure: &mut Drawing, at: Point) {
    const HALF: f64 = 0.55;
    let corners = [(0.0, -HALF), (HALF, 0.0), (0.0, HALF), (-HALF, 0.0)];
    let corners = corners.map(|(dx, dy)| Point::new(at.x + dx, at.y + dy));
    figure.fill(Layer::Tube, corners);
}

/// Where each bend starts, written along its line, and what it is, over its stretch.
fn bends(order: &PieceOrder, tube: &Tube, figure: &mut Drawing, room: &mut Room) {
    let bottom = tube.y - tube.r - 1.5;
    let mut set = |block: &Block, xs: &[f64]| {
        let (_, height) = block.extent();
        let highest = bottom - height;
        let places = xs.iter().flat_map(|x| {
            let steps = (0..24_u32).map(|step| highest - f64::from(step));
            steps.map(|y| Point::new(*x, y))
        });
        let at = places.into_iter().find(|at| room.holds(block, *at));
        if let Some(at) = at {
            room.take(block, at);
            let anchor = if block.upended {
                Anchor::Start
            } else {
                Anchor::Middle
            };
            block.draw(figure, at, anchor);
        }
        at.is_some()
    };
    for (bend, mark) in tube.marks.bends.iter().enumerate() {
        let Some((from, to)) = tube.places.bends.get(bend) else {
            continue;
        };
        let (from, to) = (tube.x(*from), tube.x(*to));
        let bare = write_bare(mark.from_blank.on_tape, order.unit);
        for text in [start(order, mark), bare] {
            let block = Block::new([text], SIZE).upended();
            let (width, _) = block.extent();
            if set(&block, &[from - width - 0.6, from + 0.6]) {
                break;
            }
        }
        let number = bend + 1;
        let (angle, outside) = (write_angle(mark.angle), write_angle(mark.outside));
        let outside = format!("outside {outside}");
        let name = format!("bend {number}");
        let both = format!("{name}, {angle}");
        for block in [
            Block::new([name, angle, outside.clone()], SIZE),
            Block::new([both.clone(), outside], SIZE).upended(),
            Block::new([both], SIZE).upended(),
            Block::new([number.to_string()], SIZE),
        ] {
            let (width, _) = block.extent();
            let x = f64::midpoint(from, to) - width / 2.0;
            if width <= to - from && set(&block, &[x]) {
                break;
            }
        }
    }
}
