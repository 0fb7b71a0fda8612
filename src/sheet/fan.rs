//! Words round a strip too narrow to carry them: rows above and below with leaders to their
//! places, and a block at the right.

use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::figure::{Captions, Named, SIZE};
use crate::sheet::placer::Block;
use crate::sheet::strip::Strip;
use crate::sheet::words;
use crate::units::sort_by_number;

/// Height of a row of words with its leaders, mm.
const ROW: f64 = 12.0;
/// Height of the leaders, mm.
const LEADER: f64 = 7.0;
/// White between the words of a row, mm.
const BETWEEN: f64 = 3.0;
/// White between strip and the block at its right, mm.
const ASIDE: f64 = 8.0;
/// Widest line of the block at the right, mm.
const BESIDE: f64 = 60.0;
/// Least height of the block at the right, mm.
const BLOCK: f64 = 32.0;

/// The words round a narrow strip and the room they take.
#[derive(Debug, Clone, PartialEq)]
pub struct Fan {
    strip_at: Point,
    width: f64,
    height: f64,
}

impl Fan {
    /// Room for the words round a strip.
    pub fn new(strip: &Strip, named: &[Named], captions: &Captions) -> Self {
        let mut reach = (strip.tab_end, strip.right);
        for row in [above(strip, named), below(strip)] {
            for word in spread(row) {
                reach = (reach.0.min(word.left), reach.1.max(word.left + word.width));
            }
        }
        let block = name(captions)
            .iter()
            .map(|block| block.extent().0)
            .fold(34.0, f64::max);
        let right = reach.1.max(strip.right + ASIDE + block);
        Self {
            strip_at: Point::new(strip.tab_end - reach.0, ROW),
            width: right - reach.0,
            height: ROW + (strip.mark - strip.top).max(BLOCK) + ROW + SIZE,
        }
    }

    /// Upper left corner of the strip.
    pub const fn strip_at(&self) -> Point {
        self.strip_at
    }

    /// Width and height of all.
    pub const fn extent(&self) -> (f64, f64) {
        (self.width, self.height)
    }

    /// Draws the words and their leaders.
    pub fn draw(figure: &mut Drawing, strip: &Strip, named: &[Named], captions: &Captions) {
        let letters = words::height(1, SIZE);
        for word in spread(above(strip, named)) {
            let top = ROW - LEADER - letters;
            word.draw(figure, top);
            let from = Point::new(word.middle(), top + letters + 0.5);
            let bend = Point::new(word.place.x, strip.top - 1.2);
            let tip = Point::new(word.place.x, word.place.y - 0.4);
            figure.line(Layer::Note, Pen::HAIR, [from, bend, tip]);
        }
        for word in spread(below(strip)) {
            let top = strip.mark + LEADER;
            word.draw(figure, top);
            let from = Point::new(word.middle(), top - 0.5);
            let bend = Point::new(word.place.x, strip.mark + 1.6);
            let tip = Point::new(word.place.x, strip.mark + 0.4);
            figure.line(Layer::Note, Pen::HAIR, [from, bend, tip]);
        }
        aside(figure, strip, captions);
    }
}

/// Name, waste and body at the right of the strip.
fn aside(figure: &mut Drawing, strip: &Strip, captions: &Captions) {
    let x = strip.right + ASIDE;
    let mut y = strip.top + 1.0;
    for block in name(captions) {
        block.draw(figure, Point::new(x, y), Anchor::Start);
        y += block.extent().1 + 1.2;
    }
    let bottom = strip.mark.max(y + 14.0);
    let arrow = x + 1.3;
    figure.line(
        Layer::Note,
        Pen::BOLD,
        [
            Point::new(arrow, bottom - 9.0),
            Point::new(arrow, bottom - 2.0),
        ],
    );
    figure.fill(
        Layer::Note,
        [
            Point::new(arrow, bottom),
            Point::new(arrow - 1.3, bottom - 3.2),
            Point::new(arrow + 1.3, bottom - 3.2),
        ],
    );
    Block::new(["above the cut: waste"], SIZE).draw(figure, Point::new(x, y), Anchor::Start);
    Block::new(["body of the tube,", "keep this side"], SIZE).draw(
        figure,
        Point::new(x + 4.5, bottom - 8.0),
        Anchor::Start,
    );
}

fn name(captions: &Captions) -> Vec<Block> {
    let label = words::wrap_at_most(&captions.name, 3.2, true, BESIDE, 2);
    let joint = words::wrap_at_most(&captions.joint, SIZE, false, BESIDE, 2);
    [Block::new(label, 3.2).bold(), Block::new(joint, SIZE)]
        .into_iter()
        .filter(|block| !block.lines.is_empty())
        .collect()
}

/// A word of a row, and the place it belongs to.
struct Word {
    place: Point,
    text: String,
    left: f64,
    width: f64,
}

impl Word {
    fn new(place: Point, text: impl Into<String>) -> Self {
        let text = text.into();
        let width = words::width(&text, SIZE, false);
        Self {
            place,
            text,
            left: place.x - width / 2.0,
            width,
        }
    }

    fn middle(&self) -> f64 {
        self.left + self.width / 2.0
    }

    fn draw(&self, figure: &mut Drawing, top: f64) {
        let at = Point::new(self.middle(), top + words::first_baseline(SIZE));
        figure.text(at, SIZE, Anchor::Middle, self.text.clone());
    }
}

/// What is named above the strip.
fn above(strip: &Strip, named: &[Named]) -> Vec<Word> {
    let mut row: Vec<Word> = named
        .iter()
        .map(|named| Word::new(named.at, named.names.join(", ")))
        .collect();
    for run in strip.runs.iter().filter(|run| run.beside) {
        if let Some(at) = run.points.get(run.points.len() / 2) {
            row.push(Word::new(*at, "beside the main: trim"));
        }
    }
    row
}

/// What is named below the strip.
fn below(strip: &Strip) -> Vec<Word> {
    let tab = f64::midpoint(strip.tab_end, strip.left);
    let mut row = vec![Word::new(Point::new(tab, strip.mark), "tab, tuck under")];
    row.extend(
        strip
            .quarters()
            .map(|(deg, x)| Word::new(Point::new(x, strip.mark), format!("{deg}°"))),
    );
    row
}

/// Moves the words of a row apart, each as little from its place as its neighbours allow: groups
/// of touching words hang on the mean of their wishes.
fn spread(mut row: Vec<Word>) -> Vec<Word> {
    sort_by_number(&mut row, |word| word.place.x);
    // A group: its left end, its width, its words.
    let mut groups: Vec<(f64, f64, Vec<Word>)> = Vec::new();
    for word in row {
        let mut group = (word.left, word.width, vec![word]);
        while let Some((left, width, _)) = groups.last() {
            if left + width + BETWEEN <= group.0 {
                break;
            }
            let Some((_, before, mut words)) = groups.pop() else {
                break;
            };
            words.append(&mut group.2);
            let width = before + BETWEEN + group.1;
            let mut offset = 0.0;
            let mut wish = 0.0;
            for word in &words {
                wish += word.place.x - (offset + word.width / 2.0);
                offset += word.width + BETWEEN;
            }
            #[expect(clippy::cast_precision_loss, reason = "a row has few words")]
            let left = wish / words.len() as f64;
            group = (left, width, words);
        }
        groups.push(group);
    }
    let mut placed = Vec::new();
    for (left, _, words) in groups {
        let mut x = left;
        for word in words {
            let next = x + word.width + BETWEEN;
            placed.push(Word { left: x, ..word });
            x = next;
        }
    }
    placed
}
