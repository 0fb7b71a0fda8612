//! Planning for the shop: cut lists and run lists against brute force, their own promises and
//! published examples.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod bars;
mod refusals;
mod runs;

use copewright::job::shop::{Blank, CutList, FITS_WITHIN, Loss, StockBar};
use copewright::units::Length;

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

/// Blanks of these lengths in mm, so many of each.
pub fn blanks(lengths: &[(f64, usize)]) -> Vec<Blank> {
    let each = lengths.iter().enumerate();
    each.map(|(place, (length, count))| Blank {
        name: format!("piece {}", place + 1),
        length: mm(*length),
        count: *count,
    })
    .collect()
}

pub fn stock(lengths: &[(f64, Option<usize>)]) -> Vec<StockBar> {
    let each = lengths.iter();
    each.map(|(length, available)| StockBar {
        length: mm(*length),
        available: *available,
    })
    .collect()
}

pub fn loss(kerf: f64, trim: f64) -> Loss {
    Loss {
        kerf: mm(kerf),
        trim: mm(trim),
    }
}

/// What every cut list promises, taken from the list and what it was made of.
pub fn keeps_its_promises(blanks: &[Blank], stock: &[StockBar], loss: Loss, list: &CutList) {
    let mut cut = vec![0; blanks.len()];
    let (mut bought, mut used) = (0.0, 0.0);
    for group in &list.bars {
        assert!(group.count > 0 && group.pieces() > 0, "{group:?}");
        let bar = stock[group.stock].length.mm();
        let (mut taken, mut before) = (0.0, f64::INFINITY);
        for part in &group.cuts {
            let length = blanks[part.blank].length.mm();
            assert!(part.count > 0 && length <= before + 1e-6, "{group:?}");
            before = length;
            taken += part.count as f64 * (length + loss.kerf.mm());
            used += (group.count * part.count) as f64 * length;
            cut[part.blank] += group.count * part.count;
        }
        let left = bar - loss.trim.mm() - taken;
        assert!(
            left + loss.kerf.mm() >= -FITS_WITHIN.mm(),
            "overfilled: {group:?}"
        );
        assert!(
            (group.offcut.mm() - left.max(0.0)).abs() < 1e-6,
            "{group:?}"
        );
        bought += group.count as f64 * bar;
    }
    let ordered: Vec<usize> = blanks.iter().map(|blank| blank.count).collect();
    assert_eq!(cut, ordered);
    for (place, bar) in stock.iter().enumerate() {
        assert!(list.bars_of(place) <= bar.available.unwrap_or(usize::MAX));
    }
    assert!((list.bought.mm() - bought).abs() < 1e-6);
    assert!((list.used.mm() - used).abs() < 1e-6);
    assert!((list.waste().mm() - (bought - used)).abs() < 1e-6);
    assert!(
        list.least.mm() <= bought + 1e-6,
        "below its bound: {list:?}"
    );
    assert_eq!(list.proven, list.least.mm() >= bought - 1e-6, "{list:?}");
}
