//! Packing words and card tightly, where no arrangement that looks better fits.

use std::cell::OnceCell;

use crate::sheet::area::Area;
use crate::sheet::blocks::{BETWEEN, COLUMN, Lettering, PROSE, Part, Placed};
use crate::sheet::card;
use crate::sheet::page::GUTTER;

/// What columns of facts are wider than the narrowest, mm.
const WIDER: [f64; 3] = [0.0, 6.0, 14.0];
/// Most columns of facts.
const COLUMNS: u32 = 4;
/// Widths of running words as parts of the narrowest.
const PROSE_WIDTHS: [f64; 9] = [1.0, 1.13, 1.29, 1.48, 1.7, 2.0, 2.42, 2.9, 3.5];

/// Width and height of a block.
type Size = (f64, f64);

/// The blocks in letters of one size, with the sizes each can have.
pub struct Packer<'a> {
    /// What is set.
    pub text: Lettering<'a>,
    /// Reckoned once, and only when needed: wrapping words at every width takes its time.
    table: OnceCell<Vec<Size>>,
    prose: OnceCell<Vec<Size>>,
}

impl<'a> Packer<'a> {
    pub const fn new(text: Lettering<'a>) -> Self {
        Self {
            text,
            table: OnceCell::new(),
            prose: OnceCell::new(),
        }
    }

    fn sizes(&self, part: Part) -> &[Size] {
        let text = self.text;
        match part {
            Part::Card => &card::WAYS,
            Part::Table => self.table.get_or_init(|| {
                let widths = (1..=COLUMNS).flat_map(|count| {
                    WIDER.map(|wider| {
                        let column = (COLUMN + wider) * text.scale;
                        f64::from(count) * (column + BETWEEN) - BETWEEN
                    })
                });
                useful(widths.map(|width| (width, text.table_height(width))))
            }),
            Part::Prose => self.prose.get_or_init(|| {
                let widths = PROSE_WIDTHS.map(|times| PROSE * text.scale * times);
                useful(
                    widths
                        .into_iter()
                        .map(|width| (width, text.prose_height(width))),
                )
            }),
        }
    }

    /// Finds a place for each of the parts in one or two rooms that may share a corner, or none.
    pub fn pack(&self, rooms: &[Area], parts: &[Part]) -> Option<Vec<Placed>> {
        let room = match rooms {
            [one] => area(one),
            [one, other] => area(one) + area(other) - shared(one, other),
            _ => return None,
        };
        let fits = |(w, h): &Size| {
            let any = |room: &Area| *w <= room.width() && *h <= room.height();
            rooms.iter().any(any)
        };
        let choices: Vec<(Part, Vec<Size>)> = parts
            .iter()
            .map(|part| {
                let sizes = self.sizes(*part).iter().copied();
                (*part, sizes.filter(fits).collect())
            })
            .collect();
        choose(&choices, &mut Vec::new(), room, rooms)
    }
}

/// The sizes of which none is both wider and no lower than another.
fn useful(sizes: impl Iterator<Item = Size>) -> Vec<Size> {
    let all: Vec<Size> = sizes.collect();
    let better = |size: &Size| all.iter().any(|(w, h)| *w < size.0 && *h <= size.1);
    all.iter().copied().filter(|size| !better(size)).collect()
}

fn area(room: &Area) -> f64 {
    room.width() * room.height()
}

fn shared(a: &Area, b: &Area) -> f64 {
    let width = a.x1.min(b.x1) - a.x0.max(b.x0);
    let height = a.y1.min(b.y1) - a.y0.max(b.y0);
    width.max(0.0) * height.max(0.0)
}

/// Goes through the sizes of all parts until a choice of them can be placed.
fn choose(
    choices: &[(Part, Vec<Size>)],
    chosen: &mut Vec<(Part, Size)>,
    room: f64,
    rooms: &[Area],
) -> Option<Vec<Placed>> {
    let Some(((part, sizes), others)) = choices.split_first() else {
        return in_any_order(chosen, &mut Vec::new(), rooms);
    };
    for size in sizes {
        let left = room - size.0 * size.1;
        if left < 0.0 {
            continue;
        }
        chosen.push((*part, *size));
        let placed = choose(others, chosen, left, rooms);
        chosen.pop();
        if placed.is_some() {
            return placed;
        }
    }
    None
}

/// Places blocks one after the other, whichever comes first.
fn in_any_order(
    blocks: &[(Part, Size)],
    placed: &mut Vec<Placed>,
    rooms: &[Area],
) -> Option<Vec<Placed>> {
    if placed.len() == blocks.len() {
        return Some(placed.clone());
    }
    for (part, size) in blocks {
        if placed.iter().any(|(other, _)| other == part) {
            continue;
        }
        let Some(at) = place(*size, placed, rooms) else {
            continue;
        };
        placed.push((*part, at));
        let all = in_any_order(blocks, placed, rooms);
        placed.pop();
        if all.is_some() {
            return all;
        }
    }
    None
}

/// The first free place for a block, against the edges of a room or of what is placed.
fn place((width, height): Size, placed: &[Placed], rooms: &[Area]) -> Option<Area> {
    for room in rooms {
        let mut xs = vec![room.x0];
        let mut ys = vec![room.y0];
        for (_, area) in placed {
            xs.extend([area.x0, area.x1 + BETWEEN]);
            ys.extend([area.y0, area.y1 + GUTTER]);
        }
        xs.push(room.x1 - width);
        ys.push(room.y1 - height);
        for y in &ys {
            for x in &xs {
                let at = Area::sized(*x, *y, width, height);
                let room_round = Area::new(
                    at.x0 - BETWEEN + 1e-6,
                    at.y0 - GUTTER + 1e-6,
                    at.x1 + BETWEEN - 1e-6,
                    at.y1 + GUTTER - 1e-6,
                );
                let clear = !placed.iter().any(|(_, area)| area.overlaps(&room_round));
                if clear && room.holds(&at) {
                    return Some(at);
                }
            }
        }
    }
    None
}
