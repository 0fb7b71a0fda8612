//! The rulers on printed sheets, graduation by graduation.

use crate::pdf::Pdf;
use crate::printed::{Ruler, Sheet};

/// What a ruler may be off, mm.
pub const TRUE: f64 = 0.02;

/// Every sheet has both rulers both ways, and each graduation is where it should be when lengths
/// are multiplied by these. Returns the largest error.
///
/// # Panics
/// When a ruler is missing, or a graduation is more than [`TRUE`] off.
#[track_caller]
pub fn assert_rulers(what: &str, pdf: &Pdf, [across, along]: [f64; 2]) -> f64 {
    let mut worst = 0.0_f64;
    for (number, page) in pdf.pages.iter().enumerate() {
        let rulers = Sheet::new(page).rulers();
        for way in [false, true] {
            for (count, length) in [(101, 100.0), (65, 101.6)] {
                let of_kind = |ruler: &&Ruler| ruler.along == way && ruler.ticks.len() == count;
                let found: Vec<&Ruler> = rulers.iter().filter(of_kind).collect();
                let [ruler] = found.as_slice() else {
                    panic!(
                        "{what}, sheet {}: {} rulers of {length} mm, along: {way}",
                        number + 1,
                        found.len()
                    );
                };
                let times = if way { along } else { across };
                for (i, tick) in ruler.ticks.iter().enumerate() {
                    let wanted = length * times * i as f64 / (count - 1) as f64;
                    let off = (tick - wanted).abs();
                    assert!(
                        off <= TRUE,
                        "{what}, sheet {}: graduation {i} is at {tick}, not {wanted} mm",
                        number + 1
                    );
                    worst = worst.max(off);
                }
            }
        }
    }
    worst
}
