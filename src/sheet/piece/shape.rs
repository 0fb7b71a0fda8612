//! The turns of a piece, sighted along the tube from end A, and the shape of a bent one.

use crate::cope::Point3;
use crate::piece::{Piece, Side};
use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::figure::head;
use crate::sheet::landing::room::Room;
use crate::sheet::piece::PieceOrder;
use crate::sheet::piece::tube::OUTLINE;
use crate::sheet::placer::Block;
use crate::sheet::words;
use crate::units::{Angle, Length, write_angle};

/// Height of the figure of a straight piece and of a bent one, mm.
const HEIGHT: f64 = 30.0;
const HEIGHT_BENT: f64 = 37.0;
/// Size of the words, mm.
const SIZE: f64 = 2.4;
/// Middle and radius of the dial, mm.
const DIAL: Point = Point::new(16.0, 15.5);
const RADIUS: f64 = 9.5;
/// Where the words beside it begin, and how wide they run, mm.
const ASIDE: f64 = 35.0;
const ASIDE_WIDTH: f64 = 42.0;
/// Where the views begin, mm.
const VIEWS: f64 = ASIDE + ASIDE_WIDTH + 6.0;
/// White between views, and the narrowest room of one, mm.
const BETWEEN: f64 = 5.0;
const NARROWEST: f64 = 24.0;
/// Room for the caption over a view and for letters round it, mm.
const CAPTION: f64 = 6.5;
const LETTERS: f64 = 3.6;

/// Seen from somewhere: what it is called, which way is right, which way is down.
struct View {
    caption: &'static str,
    right: Point3,
    down: Point3,
}

/// The figure on a width of paper; `None` for a piece with nothing to turn.
pub fn draw(order: &PieceOrder, width: f64) -> Option<Drawing> {
    let piece = order.piece;
    let turns = turns(piece);
    if turns.is_empty() {
        return None;
    }
    let height = if piece.is_bent() { HEIGHT_BENT } else { HEIGHT };
    let mut figure = Drawing::new(width, height);
    dial(&mut figure, &turns);
    let views = views(piece);
    let paths = place_views(piece, &views, width);
    for path in &paths {
        figure.line(Layer::Tube, Pen::BOLD, path.line.iter().copied());
    }
    let mut room = Room::around(&figure, Area::new(0.0, 0.0, width, height));
    // What has its place comes first; letters find theirs round it.
    aside(&mut figure, piece, &mut room);
    for path in &paths {
        let block = path.caption();
        let (wide, _) = block.extent();
        let at = Point::new(path.middle - wide / 2.0, 0.0);
        room.take(&block, at);
        block.draw(&mut figure, at, Anchor::Middle);
    }
    dial_words(&mut figure, &mut room, &turns);
    for path in &paths {
        for (name, near, way) in path.names() {
            let block = Block::new([name], SIZE).bold();
            room.put(&mut figure, &block, near, way, 0.8);
        }
    }
    Some(figure)
}

/// Turns to show on the dial: what stands there. The zero line comes first.
fn turns(piece: &Piece) -> Vec<(Angle, String)> {
    let mut named: Vec<(Angle, String)> = vec![(Angle::ZERO, String::from("0"))];
    let heels = Side::BOTH.map(|side| (piece.heel(side), ["A", "B"][side.index()]));
    let heels = heels
        .into_iter()
        .filter_map(|(turn, name)| Some((turn?, name.to_owned())));
    let bends = piece.line().bends().enumerate();
    let bends = bends.map(|(bend, own)| (own.outside(), (bend + 1).to_string()));
    for (turn, name) in heels.chain(bends) {
        // Turns nearer than that cannot be told apart on the dial.
        let near = |other: Angle| (turn - other).rad().cos() > 0.9995;
        match named.iter_mut().find(|(other, _)| near(*other)) {
            Some((_, names)) => {
                names.push_str(", ");
                names.push_str(&name);
            }
            None => named.push((turn, name)),
        }
    }
    if named.len() == 1 && named.iter().all(|(_, name)| name == "0") {
        named.clear();
    }
    named
}

/// The place at a turn, so far from the middle of the dial; the zero line is on top.
fn on_dial(turn: Angle, far: f64) -> Point {
    let (sin, cos) = turn.rad().sin_cos();
    Point::new(DIAL.x + far * sin, DIAL.y - far * cos)
}

fn dial(figure: &mut Drawing, turns: &[(Angle, String)]) {
    const STEPS: u32 = 72;
    let arc = |from: u32, to: u32, far: f64| {
        let turn = move |step: u32| Angle::FULL * (f64::from(step) / f64::from(STEPS));
        (from..=to).map(move |step| on_dial(turn(step), far))
    };
    figure.outline(Layer::Tube, OUTLINE, arc(0, STEPS - 1, RADIUS));
    let zero = [on_dial(Angle::ZERO, 0.0), on_dial(Angle::ZERO, RADIUS)];
    figure.line(Layer::Zero, Pen::AXIS, zero);
    for (turn, _) in turns {
        let ends = [on_dial(*turn, RADIUS - 1.5), on_dial(*turn, RADIUS + 1.8)];
        figure.line(Layer::Mark, Pen::MARK, ends);
    }
    let way: Vec<Point> = arc(4, 16, 0.55 * RADIUS).collect();
    if let [.., from, tip] = way.as_slice() {
        head(figure, Layer::Dimension, *from, *tip);
    }
    figure.line(Layer::Dimension, Pen::THIN, way);
}

fn dial_words(figure: &mut Drawing, room: &mut Room, turns: &[(Angle, String)]) {
    for (turn, name) in turns {
        let near = on_dial(*turn, RADIUS + 1.8);
        let way = on_dial(*turn, RADIUS + 2.8);
        let way = Point::new(way.x - near.x, way.y - near.y);
        let block = Block::new([name.as_str()], SIZE).bold();
        room.put(figure, &block, near, way, 0.7);
    }
}

/// What the dial shows, in words.
fn aside(figure: &mut Drawing, piece: &Piece, room: &mut Room) {
    let mut texts = vec![String::from(
        "Turns, sighted along the tube from end A, clockwise from the zero line 0:",
    )];
    for side in Side::BOTH {
        if let Some(heel) = piece.heel(side) {
            let name = ["A", "B"][side.index()];
            texts.push(format!(
                "{name} heel of {}, {}",
                side.name(),
                write_angle(heel)
            ));
        }
    }
    if let Some(turn) = piece.turn_between() {
        texts.push(format!("from heel A to heel B {}", write_angle(turn)));
    }
    match piece.line().bends().len() {
        0 => {}
        1 => texts.push(String::from("1 outside of the bend")),
        count => texts.push(format!("1 to {count} outsides of the bends")),
    }
    let mut y = 1.5;
    for text in texts {
        let block = Block::new(words::wrap(&text, SIZE, false, ASIDE_WIDTH), SIZE);
        let at = Point::new(ASIDE, y);
        room.take(&block, at);
        block.draw(figure, at, Anchor::Start);
        y += block.extent().1 + 1.0;
    }
}

/// A view of the centre line placed on the figure.
struct Path {
    caption: &'static str,
    width: f64,
    middle: f64,
    line: Vec<Point>,
    /// Middle of each bend, on the line.
    bends: Vec<Point>,
}

impl Path {
    fn caption(&self) -> Block {
        Block::new(words::wrap(self.caption, SIZE, false, self.width), SIZE)
    }

    /// Letters of the ends and numbers of the bends: where, and on which side.
    fn names(&self) -> Vec<(String, Point, Point)> {
        let mut names = Vec::new();
        if let [first, second, .., before, last] = self.line.as_slice() {
            for (name, end, inner) in [("A", first, second), ("B", last, before)] {
                let way = Point::new(end.x - inner.x, end.y - inner.y);
                names.push((name.to_owned(), *end, way));
            }
        }
        for (bend, at) in self.bends.iter().enumerate() {
            names.push(((bend + 1).to_string(), *at, Point::new(0.0, 1.0)));
        }
        names
    }
}

/// Along the tube at end A, towards the zero line, and a quarter turn on from it.
const ALONG: Point3 = [0.0, 0.0, 1.0];
const TO_ZERO: Point3 = [1.0, 0.0, 0.0];
const TO_QUARTER: Point3 = [0.0, 1.0, 0.0];

/// The views that show the shape: one for bends in one plane.
fn views(piece: &Piece) -> Vec<View> {
    let Some(first) = piece.line().natural_zero() else {
        return Vec::new();
    };
    let (sin, cos) = first.rad().sin_cos();
    let in_plane = |turn: Angle| (turn - first).rad().sin().abs() < 1e-4;
    if piece.line().bends().all(|bend| in_plane(bend.outside())) {
        let down = [cos, sin, 0.0];
        return vec![View {
            caption: "true shape, outside of bend 1 down",
            right: ALONG,
            down,
        }];
    }
    vec![
        View {
            caption: "zero line towards you at A",
            right: ALONG,
            down: TO_QUARTER,
        },
        View {
            caption: "zero line down at A",
            right: ALONG,
            down: TO_ZERO,
        },
        View {
            caption: "from end A, zero line up",
            right: TO_QUARTER,
            down: TO_ZERO.map(|part| -part),
        },
    ]
}

/// The views side by side at one scale.
fn place_views(piece: &Piece, views: &[View], width: f64) -> Vec<Path> {
    let places = centre_line(piece);
    let flat: Vec<(Vec<Point>, Area)> = views
        .iter()
        .map(|view| {
            let dot = |a: Point3, b: Point3| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
            let seen = |place: &(Point3, bool)| {
                Point::new(dot(place.0, view.right), dot(place.0, view.down))
            };
            let points: Vec<Point> = places.iter().map(seen).collect();
            let extent = Area::around(&points);
            (points, extent)
        })
        .collect();
    let high = HEIGHT_BENT - CAPTION - 2.0 * LETTERS;
    let cell = |extent: &Area, scale: f64| {
        (extent.width() * scale + 2.0 * LETTERS).max(NARROWEST) + BETWEEN
    };
    let fits = |scale: f64| {
        let wide: f64 = flat.iter().map(|(_, extent)| cell(extent, scale)).sum();
        let low = flat
            .iter()
            .all(|(_, extent)| extent.height() * scale <= high);
        low && VIEWS + wide - BETWEEN <= width
    };
    let mut scale = 1.0;
    // Enough to show a tube of any length that is taken.
    for _ in 0..200 {
        if fits(scale) {
            break;
        }
        scale *= 0.95;
    }
    let mut x = VIEWS;
    let placed = views.iter().zip(flat).map(|(view, (points, extent))| {
        let wide = cell(&extent, scale);
        let middle = x + (wide - BETWEEN) / 2.0;
        x += wide;
        let centre = extent.centre();
        let line: Vec<Point> = points
            .iter()
            .map(|point| {
                Point::new(
                    middle + (point.x - centre.x) * scale,
                    CAPTION + LETTERS + high / 2.0 + (point.y - centre.y) * scale,
                )
            })
            .collect();
        let bends = line.iter().zip(&places).filter(|(_, (_, bend))| *bend);
        Path {
            caption: view.caption,
            width: wide - BETWEEN,
            middle,
            bends: bends.map(|(point, _)| *point).collect(),
            line,
        }
    });
    placed.collect()
}

/// Places along the centre line in space, mm, and whether each is the middle of a bend.
fn centre_line(piece: &Piece) -> Vec<(Point3, bool)> {
    const STEPS: u32 = 16;
    let line = piece.line();
    let place = |along: Length| line.frame_at(along).origin;
    let mut places = vec![(place(Length::ZERO), false)];
    for span in line.spans() {
        for step in 0..=STEPS {
            let part = f64::from(step) / f64::from(STEPS);
            let along = span.start + (span.end - span.start) * part;
            places.push((place(along), step == STEPS / 2));
        }
    }
    places.push((place(line.developed()), false));
    places
}
