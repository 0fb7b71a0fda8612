//! The figure of the tube with its dimension lines and words.

use crate::piece::{BendMark, Marks, Side};
use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Point};
use crate::sheet::landing::room::Room;
use crate::sheet::piece::PieceOrder;
use crate::sheet::piece::facts::has_mark;
use crate::sheet::piece::rows;
use crate::sheet::piece::tube::{OUT, Tube};
use crate::sheet::placer::Block;
use crate::sheet::sketch::ink::hairline;
use crate::sheet::words;
use crate::units::{Unit, write_angle, write_bare};

/// Size of the words, mm.
pub const SIZE: f64 = 2.4;
/// Height of the line that states the scale, mm.
const HEAD: f64 = 4.0;
/// Room over the tube for the names of marks, mm.
const ABOVE: f64 = 9.0;
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
    let rows = rows::of(order, &tube);
    let height = rows.bottom();
    let mut figure = Drawing::new(width, height);
    tube.draw(&mut figure);
    rows.draw(&mut figure);
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
    rows.write(&mut figure, &mut room);
    names(order, &tube, &mut figure, &mut room);
    bends(order, &tube, &mut figure, &mut room);
    figure
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
