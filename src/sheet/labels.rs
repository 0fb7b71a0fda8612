//! Words on a strip that is wide enough to carry them.

use crate::sheet::area::Area;
use crate::sheet::drawing::{Anchor, Drawing, Layer, Pen, Point};
use crate::sheet::figure::{Captions, Named, SIZE, head};
use crate::sheet::placer::{Block, Placer};
use crate::sheet::strip::Strip;
use crate::sheet::words;
use crate::units::sort_by_number;

/// Distance of words from the line they belong to, mm.
const ASIDE: f64 = 1.0;
/// Length of the pointer below a named place, mm.
const POINTER: f64 = 6.0;
/// How far below its place on the cut line a name may stand, mm.
const DOWN: [f64; 5] = [1.5, 3.0, 5.0, 8.0, 11.0];
/// Step of the search for room, mm.
const STEP: f64 = 2.5;
/// Steps tried to each side, and up and down.
const TRIES: (u32, u32) = (20, 9);
/// Steps tried where words mean one place.
const TRIES_NEAR: (u32, u32) = (5, 5);

/// The turns, each to the left of its line just above the mark line.
pub fn turns(figure: &mut Drawing, placer: &mut Placer, strip: &Strip) {
    for (deg, x) in strip.quarters() {
        let text = format!("{deg}°");
        'turn: for block in [
            Block::new([text.clone()], SIZE),
            Block::new([text], SIZE).upended(),
        ] {
            let (width, height) = block.extent();
            for up in [0.0, 5.0, 10.0, 15.0] {
                for left in [x - ASIDE - width, x + ASIDE] {
                    let at = Point::new(left, strip.mark - ASIDE - height - up);
                    let room = Area::sized(at.x, at.y, width, height);
                    let free = if deg == 360 && left < x {
                        placer.is_free_on_tab(&room)
                    } else {
                        placer.is_free_on_strip(&room)
                    };
                    if free {
                        placer.put(figure, &block, at, Anchor::End);
                        break 'turn;
                    }
                }
            }
        }
    }
}

/// Heel, toe, long and short points: a pointer below the cut line and the words beside it.
pub fn places(figure: &mut Drawing, placer: &mut Placer, strip: &Strip, named: &[Named]) {
    for place in named {
        let tip = Point::new(place.at.x, place.at.y + 0.6);
        let tail = Point::new(place.at.x, tip.y + POINTER);
        figure.line(Layer::Note, Pen::THIN, [tail, tip]);
        head(figure, Layer::Note, tail, tip);
        placer
            .taken
            .push(Area::around(&[tip, tail]).grown(Pen::THIN.width * 2.0));
    }
    for place in named {
        let stacked = Block::new(place.names.iter().copied(), SIZE);
        let inline = Block::new([place.names.join(", ")], SIZE);
        let candidates = [
            stacked.clone(),
            inline.clone(),
            stacked.upended(),
            inline.upended(),
        ];
        let beside = candidates.iter().flat_map(|block| {
            let (width, height) = block.extent();
            DOWN.into_iter().flat_map(move |down| {
                let y = place.at.y + down;
                [
                    (place.at.x - ASIDE - width, Anchor::End),
                    (place.at.x + ASIDE, Anchor::Start),
                ]
                .map(|(x, anchor)| {
                    let anchor = if block.upended { Anchor::End } else { anchor };
                    (block, Area::sized(x, y, width, height), anchor)
                })
            })
        });
        let found = beside
            .into_iter()
            .find(|(_, room, _)| placer.is_free_on_strip(room))
            .or_else(|| {
                // No room on the strip: over the cut line, on the side that falls off.
                candidates.iter().take(2).rev().find_map(|block| {
                    let (width, height) = block.extent();
                    let (left, right) = (place.at.x - width / 2.0, place.at.x + width / 2.0);
                    let (high, _) = strip.cut_between(left, right);
                    let room = Area::sized(left, high - ASIDE - height, width, height);
                    placer
                        .is_free_above(&room)
                        .then_some((block, room, Anchor::Middle))
                })
            });
        if let Some((block, room, anchor)) = found {
            placer.put(figure, block, Point::new(room.x0, room.y0), anchor);
        }
    }
}

/// What to do where the branch passes beside the main.
pub fn beside(figure: &mut Drawing, placer: &mut Placer, strip: &Strip) {
    for run in strip.runs.iter().filter(|run| run.beside) {
        let (Some(first), Some(last)) = (run.points.first(), run.points.last()) else {
            continue;
        };
        let x = f64::midpoint(first.x, last.x);
        let (_, low) = strip.cut_between(last.x, first.x);
        let blocks = [
            Block::new(["beside the main:", "trim or leave long"], SIZE),
            Block::new(["beside the", "main: trim or", "leave long"], SIZE),
            Block::new(["beside the main:", "trim or leave long"], SIZE).upended(),
        ];
        for block in blocks {
            let extent = block.extent();
            let wish = Point::new(x, low + 1.5 + extent.1 / 2.0);
            let free = |room: &Area| placer.is_free_on_strip(room);
            if let Some(at) = search(extent, wish, free) {
                placer.put(figure, &block, at, Anchor::Middle);
                break;
            }
        }
    }
}

/// What the line of the straight cut is: on it where it is flattest, if much of it is left to be
/// seen, else beside it.
pub fn pre_cut(figure: &mut Drawing, placer: &mut Placer, strip: &Strip) {
    let blocks = [
        Block::new(["straight pre-cut"], SIZE),
        Block::new(["straight", "pre-cut"], SIZE),
    ];
    let Some(run) = strip.pre_cut.iter().max_by(|a, b| a.len().cmp(&b.len())) else {
        return;
    };
    let mut line: Vec<(f64, Point)> = run
        .windows(2)
        .map(|pair| {
            let slope = (pair[1].y - pair[0].y) / (pair[1].x - pair[0].x);
            let middle = Point::new(
                f64::midpoint(pair[0].x, pair[1].x),
                f64::midpoint(pair[0].y, pair[1].y),
            );
            (slope.abs(), middle)
        })
        .collect();
    let Some((_, middle)) = line.get(line.len() / 2).copied() else {
        return;
    };
    sort_by_number(&mut line, |(slope, _)| *slope);
    let long = Area::around(run).width();
    let free =
        |room: &Area| room.x0 >= strip.left && room.x1 <= strip.right && placer.is_free_above(room);
    let on_line = |block: &Block| {
        let (width, height) = block.extent();
        line.iter()
            .filter(|_| long > 3.0 * width)
            .find_map(|(_, at)| {
                let room = Area::sized(at.x - width / 2.0, at.y - height / 2.0, width, height);
                free(&room).then_some(Point::new(room.x0, room.y0))
            })
    };
    let covers = |room: &Area| {
        let near = room.grown(ASIDE);
        run.windows(2)
            .any(|pair| near.overlaps(&Area::around(pair)))
    };
    let aside = |block: &Block| {
        let apart = |room: &Area| free(room) && !covers(room);
        search_within(TRIES_NEAR, block.extent(), middle, apart)
    };
    let each = || blocks.iter();
    let found = each()
        .find_map(|block| on_line(block).map(|at| (block, at)))
        .or_else(|| each().find_map(|block| aside(block).map(|at| (block, at))));
    if let Some((block, at)) = found {
        placer.put(figure, block, at, Anchor::Middle);
    }
}

/// What the tab is for.
pub fn tab(figure: &mut Drawing, placer: &mut Placer, strip: &Strip) {
    let blocks = [
        Block::new(["overlap tab: tuck under", "the 0° edge"], 2.5),
        Block::new(["tuck under", "the 0° edge"], 2.5),
        Block::new(["tuck under"], 2.5),
    ];
    for block in blocks {
        let block = block.upended();
        let extent = block.extent();
        let (_, low) = strip.cut_between(strip.tab_end, strip.left);
        let wish = Point::new(
            f64::midpoint(strip.tab_end, strip.left),
            strip.mark - 5.0 - extent.1 / 2.0,
        );
        let free = |room: &Area| placer.is_free_on_tab(room) && room.y0 > low;
        if let Some(at) = search(extent, wish, free) {
            placer.put(figure, &block, at, Anchor::Start);
            return;
        }
    }
}

/// Which way the body of the tube lies: an arrow and words.
pub fn body(figure: &mut Drawing, placer: &mut Placer, strip: &Strip, cell: &Area) {
    const ARROW: f64 = 5.0;
    let blocks = [
        Block::new(["body of the tube,", "keep this side"], SIZE),
        Block::new(["tube,", "keep"], SIZE),
    ];
    for block in blocks {
        let (width, height) = block.extent();
        let high = height.max(9.0);
        let wish = Point::new(cell.x0 + cell.width() * 0.36, strip.mark - 6.0 - high / 2.0);
        let within = |room: &Area| placer.is_free_on_strip(room) && inside(cell, room);
        let Some(at) = search((width + ARROW, high), wish, within) else {
            continue;
        };
        let x = at.x + 1.5;
        let (tail, tip) = (Point::new(x, at.y), Point::new(x, at.y + high));
        figure.line(Layer::Note, Pen::BOLD, [tail, Point::new(x, tip.y - 2.0)]);
        figure.fill(
            Layer::Note,
            [
                tip,
                Point::new(x - 1.3, tip.y - 3.2),
                Point::new(x + 1.3, tip.y - 3.2),
            ],
        );
        placer.taken.push(Area::sized(at.x, at.y, ARROW, high));
        let words = Point::new(at.x + ARROW, at.y + (high - height) / 2.0);
        placer.put(figure, &block, words, Anchor::Start);
        return;
    }
}

/// The name of the template, so that a strip cut out is still known.
pub fn name(
    figure: &mut Drawing,
    placer: &mut Placer,
    strip: &Strip,
    captions: &Captions,
    cell: &Area,
) {
    let (_, low) = strip.cut_between(cell.x0, cell.x1);
    let wish = Point::new(
        cell.x0 + cell.width() * 0.64,
        f64::midpoint(low, cell.y1 - 4.0),
    );
    let rooms = [cell.width() * 0.8, cell.width() * 0.55, cell.width() * 0.4];
    let sizes = [4.0, 3.2, SIZE];
    let tries = |most: usize, whole: bool| {
        sizes
            .into_iter()
            .flat_map(move |size| rooms.map(|room| (size, room, most, whole)))
    };
    // A name is cut short only when it fits nowhere whole.
    let all = tries(2, true).chain(tries(3, true)).chain(tries(3, false));
    for (size, room, most, whole) in all {
        let lines = words::wrap_at_most(&captions.name, size, true, room, most);
        if whole && lines.iter().any(|line| line.ends_with('…')) {
            continue;
        }
        let label = Block::new(lines, size).bold();
        let joint = Block::new(words::wrap(&captions.joint, SIZE, false, room), SIZE);
        let (first, second) = (label.extent(), joint.extent());
        let gap = if label.lines.is_empty() { 0.0 } else { 1.4 };
        let extent = (first.0.max(second.0), first.1 + gap + second.1);
        let free = |area: &Area| placer.is_free_on_strip(area) && inside(cell, area);
        let Some(at) = search(extent, wish, free) else {
            continue;
        };
        let middle = at.x + extent.0 / 2.0;
        if !label.lines.is_empty() {
            let at = Point::new(middle - first.0 / 2.0, at.y);
            placer.put(figure, &label, at, Anchor::Middle);
        }
        let at = Point::new(middle - second.0 / 2.0, at.y + first.1 + gap);
        placer.put(figure, &joint, at, Anchor::Middle);
        return;
    }
}

/// Which side of the cut falls off, where the cut dips deepest.
pub fn waste(figure: &mut Drawing, placer: &mut Placer, strip: &Strip, cell: &Area) {
    const SAMPLES: u32 = 16;
    let part = |i: u32| cell.x0 + cell.width() * f64::from(i) / f64::from(SAMPLES);
    let deepest = (1..SAMPLES)
        .map(|i| (part(i), strip.cut_between(part(i), part(i)).0))
        .fold((cell.centre().x, f64::NEG_INFINITY), |best, next| {
            if next.1 > best.1 + 0.01 { next } else { best }
        });
    let blocks = [
        Block::new(["waste: this side falls off"], SIZE),
        Block::new(["waste"], SIZE),
        Block::new(["waste"], SIZE).upended(),
    ];
    let free = |room: &Area| {
        placer.is_free_above(room) && room.x0 >= cell.x0 - 1e-9 && room.x1 <= cell.x1 + 1e-9
    };
    let ends = |width: f64| (cell.x0 + width / 2.0, cell.x1 - width / 2.0);
    let in_dip = |block: &Block| {
        let extent = block.extent();
        let (left, right) = ends(extent.0);
        let hug = deepest.1 - 2.0 - extent.1 / 2.0;
        let wish = Point::new(deepest.0.min(right).max(left), hug);
        search_within(TRIES_NEAR, extent, wish, free)
    };
    // Where the dip is too narrow, over the flanks of the cut.
    let over_flanks = |block: &Block| {
        let extent = block.extent();
        let (left, right) = ends(extent.0);
        [left + 2.0, right - 2.0]
            .into_iter()
            .find_map(|x| search(extent, Point::new(x, strip.top + 6.0), free))
    };
    let found = blocks
        .iter()
        .find_map(|block| in_dip(block).map(|at| (block, at)))
        .or_else(|| {
            let mut all = blocks.iter();
            all.find_map(|block| over_flanks(block).map(|at| (block, at)))
        });
    if let Some((block, at)) = found {
        placer.put(figure, block, at, Anchor::Middle);
    }
}

/// What the mark line is for, below it.
pub fn mark(figure: &mut Drawing, placer: &mut Placer, strip: &Strip, cell: &Area) {
    for text in [
        "mark line: this edge goes on the mark, square to the tube",
        "mark line: this edge on the mark",
        "mark line",
    ] {
        let block = Block::new([text], SIZE);
        let (width, height) = block.extent();
        let at = Point::new(cell.x0 + 2.0, strip.mark + ASIDE);
        let room = Area::sized(at.x, at.y, width, height);
        if room.x1 <= cell.x1 && placer.is_free_below(&room) {
            placer.put(figure, &block, at, Anchor::Start);
            return;
        }
    }
}

fn inside(cell: &Area, room: &Area) -> bool {
    room.x0 >= cell.x0 + 1.0 && room.x1 <= cell.x1 - 1.0
}

/// The free place for an extent whose centre is nearest to a wish; its upper left corner.
fn search(extent: (f64, f64), wish: Point, free: impl Fn(&Area) -> bool) -> Option<Point> {
    search_within(TRIES, extent, wish, free)
}

fn search_within(
    tries: (u32, u32),
    (width, height): (f64, f64),
    wish: Point,
    free: impl Fn(&Area) -> bool,
) -> Option<Point> {
    let offsets = |tries: u32| {
        (0..tries).flat_map(|i| {
            let away = f64::from(i) * STEP;
            if i == 0 { vec![0.0] } else { vec![-away, away] }
        })
    };
    for dx in offsets(tries.0) {
        for dy in offsets(tries.1) {
            let at = Point::new(wish.x + dx - width / 2.0, wish.y + dy - height / 2.0);
            if free(&Area::sized(at.x, at.y, width, height)) {
                return Some(at);
            }
        }
    }
    None
}
