//! Nesting: which figures share a sheet, where, and which of them lie on their side.
//!
//! Figures are taken largest first, and each goes on the first sheet that still takes it beside
//! what is there, with the code of its piece where that is not there yet; packing on one sheet keeps all maximal free rectangles (J. Jylänki, "A Thousand
//! Ways to Pack the Bin", 2010). Only so many sheets are kept open, so the work grows no faster
//! than the number of figures.

use crunch::{Item, Rect, Rotation, pack};

use crate::sheet::drawing::Point;
use crate::units::sort_by_number;

/// White between figures, mm.
const APART: f64 = 5.0;
/// Sheets that more figures are tried on.
const OPEN: usize = 12;
/// Packing counts in hundredths of a millimetre.
const PER_MM: f64 = 100.0;

/// Width and height, mm.
pub type Size = (f64, f64);

/// A figure to be nested.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// What it takes.
    pub size: Size,
    /// What has to be on every sheet that this figure is on, once for all figures that name the
    /// same by its number, and what that takes.
    pub with: Option<(usize, Size)>,
}

impl Figure {
    /// Room for it with the white around it, its companion not counted.
    fn area(&self) -> f64 {
        area(self.size)
    }
}

fn area((w, h): Size) -> f64 {
    (w + APART) * (h + APART)
}

/// What lies on a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// One of the figures.
    Figure(usize),
    /// What figures have with them, by its number.
    With(usize),
}

/// Something on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// What lies there.
    pub what: What,
    /// Upper left corner, from that of the room.
    pub at: Point,
    /// Whether it is turned a quarter.
    pub turned: bool,
}

/// Whole hundredths that are no less than a length.
fn up(mm: f64) -> usize {
    whole((mm * PER_MM).ceil())
}

/// Whole hundredths that are no more than a length.
fn down(mm: f64) -> usize {
    whole((mm * PER_MM).floor())
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "lengths on paper, checked not to be negative"
)]
const fn whole(number: f64) -> usize {
    number.max(0.0) as usize
}

#[expect(clippy::cast_precision_loss, reason = "lengths on paper")]
const fn mm(hundredths: usize) -> f64 {
    hundredths as f64 / PER_MM
}

/// Whether a figure fits a room by itself, as it is or on its side.
pub fn fits(size: Size, room: Size) -> bool {
    let within = |(w, h): Size| w <= room.0 && h <= room.1;
    within(size) || within((size.1, size.0))
}

/// What has to be on a sheet of some figures, and its size.
fn parts(on: &[usize], figures: &[Figure]) -> Vec<(What, Size)> {
    let mut parts = Vec::new();
    for own in on {
        let Some(figure) = figures.get(*own) else {
            continue;
        };
        parts.push((What::Figure(*own), figure.size));
        if let Some((with, size)) = figure.with {
            let part = (What::With(with), size);
            if !parts.contains(&part) {
                parts.push(part);
            }
        }
    }
    parts
}

/// Packs parts on one sheet, or tells that they do not all fit.
fn on_one(parts: &[(What, Size)], room: Size) -> Option<Vec<Spot>> {
    // White goes with every part to its right and below, and with the room as well.
    let (width, height) = (down(room.0 + APART), down(room.1 + APART));
    let items = parts.iter().enumerate().map(|(part, (_, (w, h)))| {
        let (w, h) = (up(w + APART), up(h + APART));
        // One that fits one way only must not be tried the other way first.
        let rotation = if w <= width && h <= height && (h > width || w > height) {
            Rotation::None
        } else {
            Rotation::Allowed
        };
        Item::new(part, w, h, rotation)
    });
    let packed = pack(Rect::of_size(width, height), items).ok()?;
    let spots = packed.into_iter().filter_map(|own| {
        let (what, (w, h)) = *parts.get(own.data)?;
        let lies = up(w + APART) == own.rect.w && up(h + APART) == own.rect.h;
        Some(Spot {
            what,
            at: Point::new(mm(own.rect.x), mm(own.rect.y)),
            turned: !lies,
        })
    });
    Some(spots.collect())
}

/// A sheet that more may go on.
struct Sheet {
    figures: Vec<usize>,
    spots: Vec<Spot>,
    /// Least of the room that figures leave.
    free: f64,
}

/// Packs all figures on sheets with a room; those that fit by themselves are on exactly one, with
/// what goes with them. That is left out only where a figure has a sheet for itself and there is
/// no room for both. Sheets are in the order of the first figure on them.
pub fn nest(figures: &[Figure], room: Size) -> Vec<Vec<Spot>> {
    let mut order: Vec<usize> = (0..figures.len()).collect();
    sort_by_number(&mut order, |figure| -figures[*figure].area());
    let mut sheets: Vec<Sheet> = Vec::new();
    for figure in order {
        let own = figures[figure].area();
        let from = sheets.len().saturating_sub(OPEN);
        let found = sheets.iter_mut().skip(from).find_map(|sheet| {
            if own > sheet.free {
                return None;
            }
            let mut on = sheet.figures.clone();
            on.push(figure);
            let spots = on_one(&parts(&on, figures), room)?;
            sheet.figures = on;
            sheet.spots = spots;
            sheet.free -= own;
            Some(())
        });
        if found.is_some() {
            continue;
        }
        let both = parts(&[figure], figures);
        let spots = on_one(&both, room).map(|spots| (spots, area(room) - own));
        // By itself, with no more beside it: each of those would want what there is no room for.
        let spots = spots.or_else(|| Some((on_one(both.get(..1)?, room)?, 0.0)));
        if let Some((spots, free)) = spots {
            sheets.push(Sheet {
                figures: vec![figure],
                spots,
                free,
            });
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "a few hundred figures")]
    let first = |sheet: &Sheet| {
        let figures = sheet.figures.iter().copied();
        figures.min().unwrap_or(0) as f64
    };
    sort_by_number(&mut sheets, first);
    sheets.into_iter().map(|sheet| sheet.spots).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn area_of(spot: &Spot, figures: &[Figure]) -> (f64, f64, f64, f64) {
        let (w, h) = match spot.what {
            What::Figure(figure) => figures[figure].size,
            What::With(with) => figures
                .iter()
                .find_map(|figure| figure.with.filter(|(own, _)| *own == with))
                .map_or((0.0, 0.0), |(_, size)| size),
        };
        let (w, h) = if spot.turned { (h, w) } else { (w, h) };
        (spot.at.x, spot.at.y, spot.at.x + w, spot.at.y + h)
    }

    proptest! {
        #[test]
        fn all_that_fit_are_on_one_sheet_each_with_white_between(
            sizes in proptest::collection::vec((5.0..280.0_f64, 5.0..200.0_f64), 0..60),
            codes in proptest::collection::vec(proptest::option::of(20.0..60.0_f64), 1..20),
        ) {
            let room = (177.0, 230.0);
            let figures: Vec<Figure> = sizes
                .iter()
                .enumerate()
                .map(|(at, size)| {
                    let with = at % codes.len();
                    Figure { size: *size, with: codes[with].map(|side| (with, (side, side + 3.0))) }
                })
                .collect();
            let sheets = nest(&figures, room);
            let mut seen = vec![0; sizes.len()];
            for sheet in &sheets {
                prop_assert!(!sheet.is_empty());
                let areas: Vec<_> = sheet.iter().map(|spot| area_of(spot, &figures)).collect();
                for (i, a) in areas.iter().enumerate() {
                    prop_assert!(a.0 >= 0.0 && a.1 >= 0.0);
                    prop_assert!(a.2 <= room.0 + 1e-9 && a.3 <= room.1 + 1e-9, "{a:?}");
                    for b in &areas[i + 1..] {
                        let near = a.0 < b.2 + APART - 0.011 && b.0 < a.2 + APART - 0.011
                            && a.1 < b.3 + APART - 0.011 && b.1 < a.3 + APART - 0.011;
                        prop_assert!(!near, "{a:?} {b:?}");
                    }
                }
                let there = |what: What| sheet.iter().filter(|spot| spot.what == what).count();
                let figures_there = sheet.iter().filter(|spot| matches!(spot.what, What::Figure(_)));
                let alone = figures_there.count() == 1;
                for spot in sheet {
                    let What::Figure(figure) = spot.what else {
                        prop_assert_eq!(there(spot.what), 1);
                        continue;
                    };
                    seen[figure] += 1;
                    if let Some((with, _)) = figures[figure].with {
                        let there = there(What::With(with));
                        prop_assert!(there == 1 || there == 0 && alone);
                    }
                }
            }
            for (size, seen) in sizes.iter().zip(seen) {
                // A hair under the room's edge is lost to whole hundredths.
                let slack = (room.0 - 0.02, room.1 - 0.02);
                if fits(*size, slack) {
                    prop_assert_eq!(seen, 1);
                } else if !fits(*size, room) {
                    prop_assert_eq!(seen, 0);
                }
            }
        }
    }

    #[test]
    fn two_that_fit_side_by_side_on_their_sides_share_a_sheet() {
        let figure = Figure {
            size: (160.0, 85.0),
            with: None,
        };
        let sheets = nest(&[figure; 3], (177.0, 230.0));
        assert_eq!(sheets.len(), 2);
        assert_eq!(sheets[0].len(), 2);
    }

    #[test]
    fn what_goes_with_several_is_there_once_and_never_keeps_one_off_paper() {
        let with = |size: Size| Figure {
            size,
            with: Some((7, (40.0, 43.0))),
        };
        // Two share a sheet and what goes with both; the third leaves no room for it.
        let figures = [
            with((100.0, 60.0)),
            with((100.0, 60.0)),
            with((176.0, 229.0)),
        ];
        let mut sheets = nest(&figures, (177.0, 230.0));
        sheets.sort_by_key(Vec::len);
        assert_eq!(sheets.iter().map(Vec::len).collect::<Vec<_>>(), [1, 3]);
        assert_eq!(sheets[0][0].what, What::Figure(2));
        assert!(sheets[1].iter().any(|spot| spot.what == What::With(7)));
    }
}
