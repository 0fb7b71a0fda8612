//! Dimension lines under the tube, in rows, and what is written on them.

use crate::piece::{Reading, Side};
use crate::sheet::drawing::{Anchor, Drawing, Point};
use crate::sheet::landing::room::Room;
use crate::sheet::piece::PieceOrder;
use crate::sheet::piece::drawing::SIZE;
use crate::sheet::piece::facts::has_mark;
use crate::sheet::piece::tube::Tube;
use crate::sheet::placer::Block;
use crate::sheet::sketch::ink::{dimension, hairline};
use crate::sheet::words;
use crate::units::{Length, Unit, write_bare};

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
const BESIDE: f64 = 10.0;

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
pub struct Rows {
    rows: Vec<Vec<Dimension>>,
    /// Rows that take nothing more.
    full: usize,
    unit: Unit,
    /// Height of the first row on the figure.
    first: f64,
}

impl Rows {
    /// Adds a dimension line to the first row where it finds room; nothing for no length and for
    /// one that is there already.
    fn add(&mut self, from: Foot, to: Foot, caption: &str, of: Reading) {
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
        let value = write_bare(of.on_tape.abs(), self.unit);
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
    fn levels(&self) -> impl Iterator<Item = (f64, &Dimension)> {
        let mut level = self.first - ROW;
        self.rows.iter().flat_map(move |row| {
            level += ROW;
            let level = level;
            row.iter().map(move |own| (level, own))
        })
    }

    /// Lower edge of all of them on the figure.
    pub fn bottom(&self) -> f64 {
        let count = self.rows.iter().fold(0.0, |count, _| count + 1.0);
        self.first + ROW * (count - 1.0) + 2.0
    }

    /// Draws the lines.
    pub fn draw(&self, figure: &mut Drawing) {
        extensions(figure, self);
        for (level, own) in self.levels() {
            let [a, b] = own.feet.map(|foot| Point::new(foot.at.x, level));
            dimension(figure, a, b);
        }
    }

    /// Writes on all of them.
    pub fn write(&self, figure: &mut Drawing, room: &mut Room) {
        for (level, own) in self.levels() {
            write(figure, room, own, level);
        }
    }
}

/// Rows of all dimension lines of a piece.
pub fn of(order: &PieceOrder, tube: &Tube) -> Rows {
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
    let mut rows = Rows {
        rows: Vec::new(),
        full: 0,
        unit: order.unit,
        first: tube.y + tube.r + FIRST_ROW,
    };
    // First, so that extension lines which begin beside the tube cross no other row.
    let between = Reading::nearest(piece.lengths().centres, order.division);
    if Side::BOTH.iter().any(|side| has_mark(piece, *side)) {
        rows.add(centres[0], centres[1], "between joint centres", between);
    }
    for side in Side::BOTH {
        let at = side.index();
        rows.add(blank[at], long[at], "cut off", marks.cut_off[at]);
        let caption = ["mark A", "mark B"][at];
        rows.add(long[at], marked[at], caption, marks.finished.own[at]);
    }
    let far = marks.finished.far;
    let [a, b] = Side::BOTH.map(|side| has_mark(piece, side));
    if a && b {
        let caption = if marks.finished.between.exact < Length::ZERO {
            "marks passed by"
        } else {
            "mark to mark"
        };
        rows.add(marked[0], marked[1], caption, marks.finished.between);
    }
    if a {
        rows.add(marked[0], long[1], "mark A to far end", far[0]);
    }
    if b {
        rows.add(marked[1], long[0], "mark B to far end", far[1]);
    }
    rows.add(long[0], long[1], "overall", marks.finished.length);
    // What is measured from the blank's ends lies over the long points: under their lines.
    rows.full = rows.rows.len();
    for side in Side::BOTH {
        let at = side.index();
        let caption = "from the blank’s end";
        rows.add(blank[at], marked[at], caption, marks.blank.own[at]);
    }
    rows.add(blank[0], blank[1], "blank", marks.blank.length);
    rows
}

/// One extension line for each place, down to the last dimension line that needs it.
fn extensions(figure: &mut Drawing, rows: &Rows) {
    let mut lines: Vec<(Point, f64)> = Vec::new();
    for (level, own) in rows.levels() {
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
