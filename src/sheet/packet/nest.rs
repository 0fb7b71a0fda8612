//! Nesting: which figures share a sheet, where, and which of them lie on their side.
//!
//! Figures are taken largest first, and each goes on the first sheet that still takes it beside
//! what is there; packing on one sheet keeps all maximal free rectangles (J. Jylänki, "A Thousand
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

/// A figure on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// Which of the figures.
    pub figure: usize,
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

/// Packs some of the figures on one sheet, or tells that they do not all fit.
fn on_one(figures: &[usize], sizes: &[Size], room: Size) -> Option<Vec<Spot>> {
    // White goes with every figure to its right and below, and with the room as well.
    let (width, height) = (down(room.0 + APART), down(room.1 + APART));
    let items = figures.iter().filter_map(|figure| {
        let (w, h) = sizes.get(*figure)?;
        let (w, h) = (up(w + APART), up(h + APART));
        // One that fits one way only must not be tried the other way first.
        let rotation = if w <= width && h <= height && (h > width || w > height) {
            Rotation::None
        } else {
            Rotation::Allowed
        };
        Some(Item::new(*figure, w, h, rotation))
    });
    let packed = pack(Rect::of_size(width, height), items).ok()?;
    let spots = packed.into_iter().filter_map(|own| {
        let (w, h) = sizes.get(own.data)?;
        let lies = up(w + APART) == own.rect.w && up(h + APART) == own.rect.h;
        Some(Spot {
            figure: own.data,
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
    free: f64,
}

/// Packs all figures on sheets with a room; those that fit by themselves are on exactly one.
/// Sheets are in the order of the first figure on them.
pub fn nest(sizes: &[Size], room: Size) -> Vec<Vec<Spot>> {
    let area = |(w, h): Size| (w + APART) * (h + APART);
    let mut order: Vec<usize> = (0..sizes.len()).collect();
    sort_by_number(&mut order, |figure| -area(sizes[*figure]));
    let mut sheets: Vec<Sheet> = Vec::new();
    for figure in order {
        let own = area(sizes[figure]);
        let from = sheets.len().saturating_sub(OPEN);
        let found = sheets.iter_mut().skip(from).find_map(|sheet| {
            if own > sheet.free {
                return None;
            }
            let mut figures = sheet.figures.clone();
            figures.push(figure);
            let spots = on_one(&figures, sizes, room)?;
            sheet.figures = figures;
            sheet.spots = spots;
            sheet.free -= own;
            Some(())
        });
        if found.is_some() {
            continue;
        }
        if let Some(spots) = on_one(&[figure], sizes, room) {
            sheets.push(Sheet {
                figures: vec![figure],
                spots,
                free: area(room) - own,
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

    fn area_of(spot: &Spot, sizes: &[Size]) -> (f64, f64, f64, f64) {
        let (w, h) = sizes[spot.figure];
        let (w, h) = if spot.turned { (h, w) } else { (w, h) };
        (spot.at.x, spot.at.y, spot.at.x + w, spot.at.y + h)
    }

    proptest! {
        #[test]
        fn all_that_fit_are_on_one_sheet_each_with_white_between(
            sizes in proptest::collection::vec((5.0..280.0_f64, 5.0..200.0_f64), 0..60),
        ) {
            let room = (177.0, 230.0);
            let sheets = nest(&sizes, room);
            let mut seen = vec![0; sizes.len()];
            for sheet in &sheets {
                prop_assert!(!sheet.is_empty());
                let areas: Vec<_> = sheet.iter().map(|spot| area_of(spot, &sizes)).collect();
                for (i, a) in areas.iter().enumerate() {
                    prop_assert!(a.0 >= 0.0 && a.1 >= 0.0);
                    prop_assert!(a.2 <= room.0 + 1e-9 && a.3 <= room.1 + 1e-9, "{a:?}");
                    for b in &areas[i + 1..] {
                        let near = a.0 < b.2 + APART - 0.011 && b.0 < a.2 + APART - 0.011
                            && a.1 < b.3 + APART - 0.011 && b.1 < a.3 + APART - 0.011;
                        prop_assert!(!near, "{a:?} {b:?}");
                    }
                }
                for spot in sheet {
                    seen[spot.figure] += 1;
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
        let sheets = nest(
            &[(160.0, 85.0), (160.0, 85.0), (160.0, 85.0)],
            (177.0, 230.0),
        );
        assert_eq!(sheets.len(), 2);
        assert_eq!(sheets[0].len(), 2);
    }
}
