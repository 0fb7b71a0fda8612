//! One way of laying out an order: which figure, in which tiles, and where words and card stand.

use std::cell::OnceCell;

use crate::sheet::Order;
use crate::sheet::area::Area;
use crate::sheet::blocks::Part;
use crate::sheet::card;
use crate::sheet::facts;
use crate::sheet::figure::Figure;
use crate::sheet::page::Frame;
use crate::sheet::placer::Joins;
use crate::sheet::setting::{FirstSheet, Looks, Setting, Texts, covers, joins, on_figure};
use crate::sheet::strip::{Strip, TAB, TAB_SHORT};
use crate::sheet::tile::Grid;

/// Height of the line above a tile that says which one it is, mm.
pub const TILE_HEAD: f64 = 6.0;
/// Smallest side of a window that a figure or a tile is shown through, mm.
const WINDOW_LEAST: f64 = 40.0;
/// The figure in its sizes, from generous to tight.
pub struct Figures {
    /// With dimension lines.
    roomy: Figure,
    /// Without.
    close: Figure,
    /// With a short tab too.
    closest: Figure,
}

impl Figures {
    pub fn new(order: &Order) -> Self {
        let line = order.template.line();
        let captions = facts::captions(order);
        let figure = |tab, dimensioned| {
            Figure::new(order.template, &line, captions.clone(), tab, dimensioned)
        };
        Self {
            roomy: figure(TAB, true),
            close: figure(TAB, false),
            closest: figure(TAB_SHORT, false),
        }
    }
}

/// One way of laying out an order.
pub struct Plan {
    pub frame: Frame,
    pub figure: Figure,
    /// Where the figure, or a tile of it, goes.
    pub window: Area,
    pub grid: Grid,
    /// Tiles that show nothing of the strip, columns and rows.
    skipped: Vec<(u32, u32)>,
    /// Words and card beside the strip, on the first sheet.
    pub beside: Option<Setting>,
    /// Sheets of words and card before those of the strip, when it leaves no room for them. The
    /// card is on the first.
    pub covers: Vec<Setting>,
}

impl Plan {
    pub const fn sheets(&self) -> u64 {
        self.tiles() + self.covers.len() as u64
    }

    pub const fn tiles(&self) -> u64 {
        self.grid.tiles() - self.skipped.len() as u64
    }

    pub const fn is_tiled(&self) -> bool {
        self.grid.tiles() > 1
    }

    pub fn skips(&self, column: u32, row: u32) -> bool {
        self.skipped.contains(&(column, row))
    }

    /// Where tiles join, and where the card keeps the words of the figure away.
    pub fn joins(&self) -> Joins {
        let mut joins = joins(&self.grid, &self.figure.strip);
        let placed = self.beside.iter().flat_map(|setting| &setting.placed);
        let card = placed.filter(|(part, _)| *part == Part::Card);
        joins.kept = card
            .map(|(_, area)| on_figure(area, &self.window, &self.grid).grown(card::CLEAR))
            .collect();
        joins
    }

    /// The figure whole, or in tiles, in one of the frame's windows.
    fn new(
        frame: &Frame,
        figure: &Figure,
        window: Area,
        texts: &Texts,
        best: Option<&Self>,
        covers: impl FnOnce() -> Vec<Setting>,
    ) -> Self {
        let size = (figure.width, figure.height);
        let mut window = window;
        let mut grid = Grid::new(size, (window.width(), window.height()));
        if grid.tiles() > 1 {
            window.y0 += TILE_HEAD;
            grid = Grid::new(size, (window.width(), window.height()));
        }
        let skipped = skipped(&grid, &figure.strip);
        let beside = if skipped.contains(&(0, 0)) {
            None
        } else {
            let tiles = grid.tiles() - skipped.len() as u64;
            let could_win = |looks| best.is_none_or(|best| (tiles, tiles, looks) < best.rank());
            FirstSheet::new(frame, figure, &window, &grid).set(texts, could_win)
        };
        let bottom = window.y0 + grid.tile(0, 0).height();
        let on_own = |setting: &Setting| setting.placed.iter().all(|(_, area)| area.y0 >= bottom);
        // A strip that shares its sheet with nothing at its side stands in the middle.
        if beside.as_ref().is_none_or(on_own) && grid.tiles() == 1 {
            let spare = window.width() - figure.width;
            window.x0 += spare / 2.0;
        }
        Self {
            frame: frame.clone(),
            figure: figure.clone(),
            window,
            grid,
            skipped,
            covers: if beside.is_some() {
                Vec::new()
            } else {
                covers()
            },
            beside,
        }
    }

    /// The plan with the fewest sheets for one way of using the paper.
    pub fn best(order: &Order, texts: &Texts, figures: &Figures, turned: bool) -> Self {
        let frame = Frame::new(order.paper, order.printer, turned);
        let cover = OnceCell::new();
        let plan = |figure: &Figure, window, best: Option<&Self>| {
            let covers = || cover.get_or_init(|| covers(&frame, &texts.usual)).clone();
            Self::new(&frame, figure, window, texts, best, covers)
        };
        let mut best: Option<Self> = None;
        for figure in [&figures.roomy, &figures.close, &figures.closest] {
            for window in [frame.upper(), frame.inner()] {
                if window.width().min(window.height()) < WINDOW_LEAST {
                    continue;
                }
                let plan = plan(figure, window, best.as_ref());
                // Dimension lines round a figure are not for cutting into tiles.
                if plan.is_tiled() && std::ptr::eq(figure, &figures.roomy) {
                    continue;
                }
                if plan.sheets() == 1 && plan.looks() == Looks::Arranged {
                    return plan;
                }
                if best.as_ref().is_none_or(|best| plan.rank() < best.rank()) {
                    best = Some(plan);
                }
            }
        }
        best.unwrap_or_else(|| plan(&figures.close, frame.inner(), None))
    }

    /// Fewer sheets; of as many, fewer to tape together; of as many again, the better look.
    fn rank(&self) -> (u64, u64, Looks) {
        (self.sheets(), self.tiles(), self.looks())
    }

    fn looks(&self) -> Looks {
        let settings = self.beside.iter().chain(&self.covers);
        let worst = settings.map(|setting| setting.looks).max();
        worst.unwrap_or(Looks::Arranged)
    }
}

/// Tiles wholly above the cut line, where no paper of the strip is.
fn skipped(grid: &Grid, strip: &Strip) -> Vec<(u32, u32)> {
    if grid.rows == 1 {
        return Vec::new();
    }
    let mut skipped = Vec::new();
    for column in 0..grid.columns {
        for row in 0..grid.rows {
            let tile = grid.tile(column, row);
            if tile.y1 < strip.cut_between(tile.x0, tile.x1).0 {
                skipped.push((column, row));
            }
        }
    }
    skipped
}
