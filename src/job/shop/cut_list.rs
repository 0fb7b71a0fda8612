//! The cut list: which blank comes from which bar of stock.

use super::bar::{Bar, Kind, Problem};
use super::cut_list_error::{CutListError, KERF_MAX, TRIM_MAX};
use super::pack::{Outcome, Packing, pack};
use crate::units::{Length, sort_by_number};

/// Shortest blank taken; less is a ring of filings.
pub const BLANK_MIN: Length = Length::from_mm(1.0);
/// Shortest stock taken.
pub const STOCK_MIN: Length = Length::from_mm(10.0);
/// Longest stock taken; bars are bought at 3 to 12 m (common practice, no source).
pub const STOCK_MAX: Length = Length::from_mm(1e5);
/// Most pieces of one cut list.
pub const PIECES_MAX: usize = 5000;
/// What may be missing in a bar and is still taken as room enough: rounding, not a tolerance of
/// the shop.
pub const FITS_WITHIN: Length = Length::from_mm(1e-3);

/// Packing counts in millionths of a millimetre, of which every tape fraction to 1/64 in is a
/// whole number.
const TICKS_PER_MM: f64 = 1e6;

/// Pieces of one length to be cut from stock.
#[derive(Debug, Clone, PartialEq)]
pub struct Blank {
    /// What the pieces are called.
    pub name: String,
    /// Length of one, at least [`BLANK_MIN`].
    pub length: Length,
    /// How many.
    pub count: usize,
}

impl Blank {
    /// Mass of one piece in kg, for tube of `kg_per_metre`.
    #[must_use]
    pub fn mass_kg(&self, kg_per_metre: f64) -> f64 {
        mass_kg(self.length, kg_per_metre)
    }
}

/// Bars of one length that can be had.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StockBar {
    /// Length as bought, [`STOCK_MIN`] to [`STOCK_MAX`].
    pub length: Length,
    /// How many there are; `None` for as many as are needed.
    pub available: Option<usize>,
}

/// What sawing takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loss {
    /// Width of one saw cut, 0 to [`KERF_MAX`].
    pub kerf: Length,
    /// What is cut off the end of each new bar, its cut included, 0 to [`TRIM_MAX`].
    pub trim: Length,
}

/// Some equal pieces next to each other in a bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FromBar {
    /// Which blank, by its place in the list given.
    pub blank: usize,
    /// How many.
    pub count: usize,
}

/// Bars that are cut in the same way: "3 × the same".
#[derive(Debug, Clone, PartialEq)]
pub struct BarGroup {
    /// Which stock, by its place in the list given.
    pub stock: usize,
    /// How many bars.
    pub count: usize,
    /// What is cut from each in cutting order, longest first.
    pub cuts: Vec<FromBar>,
    /// What is left of each behind the last cut.
    pub offcut: Length,
}

impl BarGroup {
    /// Pieces from each bar.
    #[must_use]
    pub fn pieces(&self) -> usize {
        self.cuts.iter().map(|cut| cut.count).sum()
    }
}

/// The best packing found and what is known about it.
#[derive(Debug, Clone, PartialEq)]
pub struct CutList {
    /// The bars, the fullest first.
    pub bars: Vec<BarGroup>,
    /// Length of all bars together.
    pub bought: Length,
    /// Length of all pieces together.
    pub used: Length,
    /// Proven: whatever the packing, no less than this must be bought.
    pub least: Length,
    /// Whether no packing buys less than this one.
    pub proven: bool,
}

impl CutList {
    /// What is bought and does not become a piece: offcuts, saw cuts and trims.
    #[must_use]
    pub fn waste(&self) -> Length {
        self.bought - self.used
    }

    /// How many bars of one stock, by its place in the list given, are bought.
    #[must_use]
    pub fn bars_of(&self, stock: usize) -> usize {
        let of_it = self.bars.iter().filter(|bar| bar.stock == stock);
        of_it.map(|bar| bar.count).sum()
    }

    /// Mass of all pieces together in kg, for tube of `kg_per_metre`.
    #[must_use]
    pub fn mass_kg(&self, kg_per_metre: f64) -> f64 {
        mass_kg(self.used, kg_per_metre)
    }
}

/// Mass in kg of a length of tube of `kg_per_metre`.
#[must_use]
pub fn mass_kg(length: Length, kg_per_metre: f64) -> f64 {
    length.mm() / 1000.0 * kg_per_metre
}

/// Packs blanks into bars so that as little as can be found is bought.
///
/// n pieces fit in a bar when Σ(length + kerf) ≤ length of the bar − trim + kerf: the last piece
/// may end where the bar ends. The packing is the best of first fit, best fit and fullest bar
/// first, made better within a fixed amount of work; up to 40 pieces all others are looked
/// through as well where that ends in time. The bound beside it is proven.
///
/// # Errors
/// Sizes out of range, a blank longer than any bar, or too little stock.
///
/// ```
/// use copewright::job::shop::{Blank, Loss, StockBar, cut_list};
/// use copewright::units::Length;
/// let mm = Length::from_mm;
/// let blank = |name: &str, length, count| Blank { name: name.into(), length: mm(length), count };
/// let blanks = [blank("axle beam", 1480.0, 2), blank("upright", 397.0, 4)];
/// let stock = [StockBar { length: mm(3000.0), available: None }];
/// let list = cut_list(&blanks, &stock, Loss { kerf: mm(3.0), trim: mm(10.0) }).unwrap();
/// assert_eq!(list.bars_of(0), 2);
/// assert!(list.proven);
/// ```
pub fn cut_list(blanks: &[Blank], stock: &[StockBar], loss: Loss) -> Result<CutList, CutListError> {
    check(blanks, stock, loss)?;
    let (problem, of_size) = problem(blanks, stock, loss);
    match pack(&problem) {
        Outcome::Packed(packing) => Ok(named(blanks, stock, loss, &packing, of_size)),
        Outcome::Short { unplaced, certain } => {
            Err(short(&problem, &of_size, blanks, &unplaced, certain))
        }
    }
}

fn check(blanks: &[Blank], stock: &[StockBar], loss: Loss) -> Result<(), CutListError> {
    let within = |length: Length, min: Length, max: Length| length >= min && length <= max;
    if !within(loss.kerf, Length::ZERO, KERF_MAX) {
        return Err(CutListError::Kerf { is: loss.kerf });
    }
    if !within(loss.trim, Length::ZERO, TRIM_MAX) {
        return Err(CutListError::Trim { is: loss.trim });
    }
    for (place, bar) in stock.iter().enumerate() {
        let is = bar.length;
        if !within(is, STOCK_MIN, STOCK_MAX) {
            return Err(CutListError::Stock { stock: place, is });
        }
    }
    let pieces = blanks
        .iter()
        .fold(0_usize, |sum, blank| sum.saturating_add(blank.count));
    if pieces > PIECES_MAX {
        return Err(CutListError::Pieces { are: pieces });
    }
    let there = stock.iter().filter(|bar| bar.available != Some(0));
    let longest = there.map(|bar| bar.length).reduce(Length::max);
    for (place, blank) in blanks.iter().enumerate() {
        if blank.count == 0 {
            continue;
        }
        let (is, name) = (blank.length, blank.name.clone());
        if !is.is_finite() || is < BLANK_MIN {
            return Err(CutListError::Blank {
                blank: place,
                name,
                is,
            });
        }
        let Some(longest) = longest else {
            return Err(CutListError::NoStock { pieces });
        };
        let takes = longest - loss.trim;
        if ticks(is) > ticks(longest) - ticks(loss.trim) + ticks(FITS_WITHIN) {
            return Err(CutListError::TooLong {
                blank: place,
                name,
                is,
                takes,
                trim: loss.trim,
            });
        }
    }
    Ok(())
}

/// A checked length in whole ticks.
fn ticks(length: Length) -> i64 {
    (length.mm() * TICKS_PER_MM).round() as i64
}

/// Pieces of one blank still to be given to bars.
struct Left {
    blank: usize,
    count: usize,
}

/// The job in whole numbers, and the blanks of each size.
fn problem(blanks: &[Blank], stock: &[StockBar], loss: Loss) -> (Problem, Vec<Vec<Left>>) {
    let kerf = ticks(loss.kerf);
    let mut order: Vec<(i64, usize)> = blanks
        .iter()
        .enumerate()
        .filter(|(_, blank)| blank.count > 0)
        .map(|(place, blank)| (ticks(blank.length) + kerf, place))
        .collect();
    sort_by_number(&mut order, |(size, _)| -size as f64);
    let mut sizes: Vec<i64> = Vec::new();
    let mut counts: Vec<usize> = Vec::new();
    let mut of_size: Vec<Vec<Left>> = Vec::new();
    for (size, blank) in order {
        if sizes.last() != Some(&size) {
            sizes.push(size);
            counts.push(0);
            of_size.push(Vec::new());
        }
        let count = blanks[blank].count;
        if let (Some(sum), Some(list)) = (counts.last_mut(), of_size.last_mut()) {
            *sum += count;
            list.push(Left { blank, count });
        }
    }
    let pieces = counts.iter().sum();
    let smallest = sizes.last().copied().unwrap_or(0);
    let kinds: Vec<Kind> = stock
        .iter()
        .map(|bar| {
            let room = ticks(bar.length) - ticks(loss.trim) + kerf + ticks(FITS_WITHIN);
            let useful = if room >= smallest { pieces } else { 0 };
            Kind {
                room,
                cost: ticks(bar.length),
                available: bar.available.unwrap_or(useful).min(useful),
            }
        })
        .collect();
    let costs = kinds.iter().map(|kind| kind.cost);
    let problem = Problem {
        step: costs.fold(0, common_divisor).max(1),
        kinds,
        sizes,
        counts,
    };
    (problem, of_size)
}

/// The greatest common divisor (Euclid, Elements VII.2).
fn common_divisor(mut a: i64, mut b: i64) -> i64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// Gives the pieces in the bars their names and puts equal bars together.
fn named(
    blanks: &[Blank],
    stock: &[StockBar],
    loss: Loss,
    packing: &Packing,
    mut of_size: Vec<Vec<Left>>,
) -> CutList {
    let mut bars: Vec<BarGroup> = Vec::new();
    for (bar, count) in alike(&packing.bars) {
        for _ in 0..count {
            let cuts = cuts(&bar.holds, &mut of_size);
            let same = |group: &&mut BarGroup| group.stock == bar.kind && group.cuts == cuts;
            if let Some(group) = bars.iter_mut().find(same) {
                group.count += 1;
                continue;
            }
            let taken: Length = cuts
                .iter()
                .map(|cut| (blanks[cut.blank].length + loss.kerf) * cut.count as f64)
                .sum();
            let left = stock[bar.kind].length - loss.trim - taken;
            bars.push(BarGroup {
                stock: bar.kind,
                count: 1,
                cuts,
                // What is narrower than the saw goes with the last cut.
                offcut: left.max(Length::ZERO),
            });
        }
    }
    let all = |blank: &Blank| blank.length * blank.count as f64;
    let bought = bars
        .iter()
        .map(|bar| stock[bar.stock].length * bar.count as f64)
        .sum();
    let proven = packing.cost <= packing.least;
    CutList {
        bars,
        bought,
        used: blanks.iter().filter(|blank| blank.count > 0).map(all).sum(),
        // The sum of rounded lengths is not to the last digit the length of the sum.
        least: if proven {
            bought
        } else {
            bought.min(Length::from_mm(packing.least as f64 / TICKS_PER_MM))
        },
        proven,
    }
}

/// Bars that hold the same, with how many there are of each, the fullest first.
fn alike(bars: &[Bar]) -> Vec<(Bar, usize)> {
    let mut groups: Vec<(Bar, usize)> = Vec::new();
    for bar in bars {
        let mut bar = bar.clone();
        sort_by_number(&mut bar.holds, |size| *size as f64);
        let same = groups.iter_mut().find(|(other, _)| {
            (other.kind, other.free) == (bar.kind, bar.free) && other.holds == bar.holds
        });
        match same {
            Some((_, count)) => *count += 1,
            None => groups.push((bar, 1)),
        }
    }
    sort_by_number(&mut groups, |(bar, _)| bar.free as f64);
    groups
}

/// Names for the pieces of one bar: of each size those blanks first that come first in the list.
fn cuts(holds: &[usize], of_size: &mut [Vec<Left>]) -> Vec<FromBar> {
    let mut cuts: Vec<FromBar> = Vec::new();
    for size in holds {
        let Some(left) = of_size[*size].iter_mut().find(|left| left.count > 0) else {
            continue;
        };
        left.count -= 1;
        match cuts.last_mut() {
            Some(last) if last.blank == left.blank => last.count += 1,
            _ => cuts.push(FromBar {
                blank: left.blank,
                count: 1,
            }),
        }
    }
    cuts
}

/// Too little stock, with what is missing.
fn short(
    problem: &Problem,
    of_size: &[Vec<Left>],
    blanks: &[Blank],
    unplaced: &[usize],
    certain: bool,
) -> CutListError {
    let sizes = problem.sizes.iter().zip(&problem.counts);
    let needed: i64 = sizes.map(|(size, count)| size * *count as i64).sum();
    let kinds = problem.kinds.iter();
    let there: i64 = kinds.map(|kind| kind.room * kind.available as i64).sum();
    let pieces = problem.pieces();
    if needed > there {
        return CutListError::NotEnough {
            pieces,
            missing: Length::from_mm((needed - there) as f64 / TICKS_PER_MM),
        };
    }
    let first = unplaced.first().and_then(|size| of_size[*size].first());
    let longest = first.map_or(Length::ZERO, |left| blanks[left.blank].length);
    CutListError::NoPlace {
        left: unplaced.len(),
        pieces,
        longest,
        certain,
    }
}
