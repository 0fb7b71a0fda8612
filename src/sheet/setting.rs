//! Words and card on a sheet: beside the strip, or on sheets before it.

use crate::sheet::area::Area;
use crate::sheet::arrange;
use crate::sheet::blocks::{BETWEEN, Lettering, Part, Placed};
use crate::sheet::card;
use crate::sheet::facts::Facts;
use crate::sheet::figure::Figure;
use crate::sheet::pack::Packer;
use crate::sheet::page::{Frame, GUTTER};
use crate::sheet::placer::Joins;
use crate::sheet::strip::Strip;
use crate::sheet::tile::Grid;

/// What letters are made smaller by where that saves a sheet.
const TIGHT: f64 = 0.9;
/// Steps in which a free place for the card is looked for, mm.
const STEP: f64 = 3.0;
/// White that the card has about it where there is plenty, mm.
const PLENTY: f64 = 5.0;

/// How far words and card had to be squeezed, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Looks {
    /// An arrangement of its own.
    Arranged,
    /// The card in a free place away from the words, over the waste perhaps.
    Apart,
    /// Packed.
    Packed,
    /// Packed, in smaller letters.
    Tight,
}

/// Words in their two sizes.
pub struct Texts<'a> {
    pub usual: Packer<'a>,
    tight: Packer<'a>,
}

impl<'a> Texts<'a> {
    pub const fn new(facts: &'a Facts) -> Self {
        let usual = Lettering::usual(facts);
        let tight = Lettering {
            scale: TIGHT,
            ..usual
        };
        Self {
            usual: Packer::new(usual),
            tight: Packer::new(tight),
        }
    }
}

/// Words and card of one sheet.
#[derive(Clone)]
pub struct Setting {
    pub placed: Vec<Placed>,
    /// What the letters are multiplied by.
    pub scale: f64,
    pub looks: Looks,
}

/// Where the tiles of a strip join, if there are any.
pub fn joins(grid: &Grid, strip: &Strip) -> Joins {
    if grid.tiles() > 1 {
        grid.joins(strip)
    } else {
        Joins::default()
    }
}

/// An area of the first sheet in the figure's own coordinates.
pub fn on_figure(area: &Area, window: &Area, grid: &Grid) -> Area {
    let shown = grid.tile(0, 0);
    let (dx, dy) = (shown.x0 - window.x0, shown.y0 - window.y0);
    Area::new(area.x0 + dx, area.y0 + dy, area.x1 + dx, area.y1 + dy)
}

/// The first sheet of a strip, with what the strip leaves free on it.
pub struct FirstSheet<'a> {
    frame: &'a Frame,
    figure: &'a Figure,
    window: &'a Area,
    grid: &'a Grid,
    joins: Joins,
    /// Where the figure stands.
    taken: Area,
}

impl<'a> FirstSheet<'a> {
    pub fn new(frame: &'a Frame, figure: &'a Figure, window: &'a Area, grid: &'a Grid) -> Self {
        let shown = grid.tile(0, 0);
        Self {
            frame,
            figure,
            window,
            grid,
            joins: joins(grid, &figure.strip),
            taken: Area::sized(window.x0, window.y0, shown.width(), shown.height()),
        }
    }

    /// Words and card as they look best here, if they fit; looks that could not win are not
    /// tried.
    pub fn set(&self, texts: &Texts, could_win: impl Fn(Looks) -> bool) -> Option<Setting> {
        let inner = self.frame.inner();
        let right = (self.taken.x1 + GUTTER * 1.5).max(inner.x0);
        let below = Area::new(inner.x0, self.taken.y1 + GUTTER, inner.x1, inner.y1);
        let aside = Area::new(right, self.taken.y0, inner.x1, self.taken.y1);
        // To the right of the strip and on past it, down to the foot.
        let corner = Area::new(right, self.taken.y0, inner.x1, inner.y1);
        let open = |room: &Area| room.width() > 0.0 && room.height() > 0.0;
        let rooms: Vec<Area> = [below, aside, corner].into_iter().filter(open).collect();
        let widest: Vec<Area> = [below, corner].into_iter().filter(open).collect();
        let all = [Part::Card, Part::Table, Part::Prose];
        let first = rooms.get(..1).unwrap_or_default();
        let usual = texts.usual.text;
        let arranged =
            || arrange::share(usual, first, true).or_else(|| arrange::share(usual, &rooms, true));
        let apart = || self.with_card(arrange::share(usual, &rooms, false)?);
        let packed = |packer: &Packer| {
            let together = packer.pack(&widest, &all);
            together.or_else(|| self.with_card(packer.pack(&widest, &all[1..])?))
        };
        [Looks::Arranged, Looks::Apart, Looks::Packed, Looks::Tight]
            .into_iter()
            .filter(|looks| could_win(*looks))
            .find_map(|looks| {
                let (placed, text) = match looks {
                    Looks::Arranged => (arranged(), usual),
                    Looks::Apart => (apart(), usual),
                    Looks::Packed => (packed(&texts.usual), usual),
                    Looks::Tight => (packed(&texts.tight), texts.tight.text),
                };
                placed.map(|placed| Setting {
                    placed,
                    scale: text.scale,
                    looks,
                })
            })
    }

    /// Adds the card to words where it has most white about it, if it finds room.
    fn with_card(&self, mut words: Vec<Placed>) -> Option<Vec<Placed>> {
        let page = [self.frame.upper(), self.frame.inner()];
        let right = page[0].x1;
        let bottom = page[1].y1;
        for (width, height) in card::WAYS {
            for clear in [PLENTY, card::CLEAR] {
                let mut y = bottom - height;
                while y >= page[0].y0 {
                    let mut x = right - width;
                    while x >= page[0].x0 {
                        let card = Area::sized(x, y, width, height);
                        if page.iter().any(|room| room.holds(&card))
                            && !words
                                .iter()
                                .any(|(_, area)| area.overlaps(&card.grown(clear)))
                            && self.is_free(&card, clear)
                        {
                            words.push((Part::Card, card));
                            return Some(words);
                        }
                        x -= STEP;
                    }
                    y -= STEP;
                }
            }
        }
        None
    }

    /// Whether nothing of the figure is in an area: beside it, or over the waste above the cut.
    fn is_free(&self, area: &Area, clear: f64) -> bool {
        // The line that says which tile it is goes over the whole sheet.
        if self.grid.tiles() > 1 && area.y0 < self.window.y0 {
            return false;
        }
        let grown = area.grown(clear);
        if !grown.overlaps(&self.taken) {
            return true;
        }
        if !self.figure.has_free_waste() {
            return false;
        }
        let room = on_figure(&grown, self.window, self.grid);
        room.y1 <= self.figure.strip.cut_between(room.x0, room.x1).0 && self.joins.clear_of(&room)
    }
}

/// Sheets of words and card for a strip that leaves no room for them: one as a rule, more where
/// long words on small paper need it. The card is on the first.
pub fn covers(frame: &Frame, packer: &Packer) -> Vec<Setting> {
    let room = frame.inner();
    let usual = packer.text;
    let hung = |placed: Vec<Placed>, looks| {
        // On a sheet of their own the blocks hang from the top.
        let tops = placed.iter().map(|(_, area)| area.y0);
        let up = tops.fold(f64::INFINITY, f64::min) - room.y0;
        let raised = |area: Area| Area::new(area.x0, area.y0 - up, area.x1, area.y1 - up);
        Setting {
            placed: placed
                .into_iter()
                .map(|(part, area)| (part, raised(area)))
                .collect(),
            scale: usual.scale,
            looks,
        }
    };
    if let Some(placed) = arrange::share(usual, &[room], true) {
        return vec![hung(placed, Looks::Arranged)];
    }
    if let Some(placed) = packer.pack(&[room], &[Part::Card, Part::Table, Part::Prose]) {
        return vec![hung(placed, Looks::Packed)];
    }
    // Accepted paper and margins always leave room for the card and the facts; very long running
    // words go on by themselves.
    let width = room.width();
    let card = Area::sized(room.x0, room.y0, card::WIDTH, card::HEIGHT);
    let under = card.y1 + BETWEEN;
    let table = Area::sized(room.x0, under, width, usual.table_height(width));
    let prose = Area::sized(room.x0, room.y0, width, usual.prose_height(width));
    vec![
        hung(
            vec![(Part::Card, card), (Part::Table, table)],
            Looks::Packed,
        ),
        hung(vec![(Part::Prose, prose)], Looks::Packed),
    ]
}
