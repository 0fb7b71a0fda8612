//! Packs pieces into bars: several quick ways, then the search for better and for a proof.

use super::bar::{Bar, Kind, Problem, fill};
use super::bound::bound;
use super::exact::{self, Found};
use super::improve::improve;
use crate::units::sort_by_number;

/// Steps spent on filling bars one after the other, shared out among the pieces.
const FILL_WORK: usize = 300_000;
/// Bounds of one bar's share.
const BAR_WORK: (usize, usize) = (100, 3000);
/// Most pieces for which a proof is tried; more are beyond any search that ends in time.
const EXACT_PIECES: usize = 40;

/// What came of packing.
pub(super) enum Outcome {
    Packed(Packing),
    /// No packing was found.
    Short {
        /// Sizes of the pieces that found no place in the fullest try, as places in
        /// [`Problem::sizes`], largest first.
        unplaced: Vec<usize>,
        /// Whether it is certain that there is no packing.
        certain: bool,
    },
}

/// The best packing found.
pub(super) struct Packing {
    pub bars: Vec<Bar>,
    pub cost: i64,
    /// No packing costs less than this.
    pub least: i64,
}

/// Bars with as many pieces in them as one way of packing could place.
pub(super) struct Attempt {
    pub bars: Vec<Bar>,
    pub unplaced: Vec<usize>,
}

/// Packs all pieces, as cheaply as can be found.
pub(super) fn pack(problem: &Problem) -> Outcome {
    let least = bound(problem);
    let pieces = problem.pieces();
    let mut best: Option<Attempt> = None;
    for prefer in 0..problem.kinds.len() {
        for closest in [false, true] {
            keep_better(problem, &mut best, fit(problem, prefer, closest));
        }
    }
    let work = (FILL_WORK / pieces.max(1)).max(BAR_WORK.0).min(BAR_WORK.1);
    keep_better(problem, &mut best, fill_all(problem, work));
    let Some(Attempt { bars, unplaced }) = best else {
        return Outcome::Short {
            unplaced: Vec::new(),
            certain: true,
        };
    };
    let Some(mut least) = least else {
        return Outcome::Short {
            unplaced,
            certain: true,
        };
    };
    let mut bars = unplaced.is_empty().then_some(bars);
    let cost = |bars: &Option<Vec<Bar>>| bars.as_ref().map_or(i64::MAX, |bars| problem.cost(bars));
    if cost(&bars) > least && pieces <= EXACT_PIECES {
        let below = cost(&bars);
        let Found { better, whole } = exact::search(problem, below, least);
        if better.is_some() {
            bars = better;
        }
        if whole && bars.is_some() {
            least = cost(&bars);
        } else if whole {
            return Outcome::Short {
                unplaced,
                certain: true,
            };
        }
    }
    let Some(mut bars) = bars else {
        return Outcome::Short {
            unplaced,
            certain: false,
        };
    };
    if problem.cost(&bars) > least {
        improve(problem, &mut bars, least);
    }
    Outcome::Packed(Packing {
        cost: problem.cost(&bars),
        bars,
        least,
    })
}

/// Takes the new attempt if it places more, or as much for less.
fn keep_better(problem: &Problem, best: &mut Option<Attempt>, mut new: Attempt) {
    shrink(problem, &mut new.bars);
    let rank = |attempt: &Attempt| {
        let out: i64 = attempt.unplaced.iter().map(|at| problem.sizes[*at]).sum();
        (out, problem.cost(&attempt.bars))
    };
    if best.as_ref().is_none_or(|old| rank(&new) < rank(old)) {
        *best = Some(new);
    }
}

/// Largest piece first, each into the first bar with room for it, or the one it fills best. A new
/// bar is of the preferred kind where it can be.
fn fit(problem: &Problem, prefer: usize, closest: bool) -> Attempt {
    let mut stock = problem.left_beside(&[]);
    let mut bars: Vec<Bar> = Vec::new();
    let mut unplaced = Vec::new();
    for (at, size) in problem.sizes.iter().enumerate() {
        for _ in 0..problem.counts[at] {
            let mut open = bars.iter_mut().filter(|bar| bar.free >= *size);
            let open = if closest {
                open.min_by_key(|bar| bar.free)
            } else {
                open.next()
            };
            if let Some(bar) = open {
                bar.free -= size;
                bar.holds.push(at);
                continue;
            }
            let takes = |kind: usize| stock[kind] > 0 && problem.kinds[kind].room >= *size;
            let kind = Some(prefer).filter(|kind| takes(*kind)).or_else(|| {
                (0..problem.kinds.len())
                    .filter(|kind| takes(*kind))
                    .min_by_key(|kind| problem.kinds[*kind].cost)
            });
            let Some(kind) = kind else {
                unplaced.push(at);
                continue;
            };
            stock[kind] -= 1;
            bars.push(Bar {
                kind,
                free: problem.kinds[kind].room - size,
                holds: vec![at],
            });
        }
    }
    Attempt { bars, unplaced }
}

/// One bar after the other, each as full as can be.
fn fill_all(problem: &Problem, work: usize) -> Attempt {
    let mut left = problem.counts.clone();
    let mut stock = problem.left_beside(&[]);
    let (bars, _) = fill_up(&problem.kinds, &problem.sizes, &mut left, &mut stock, work);
    let rest = left.iter().enumerate();
    let unplaced = rest
        .flat_map(|(at, count)| std::iter::repeat_n(at, *count))
        .collect();
    Attempt { bars, unplaced }
}

/// Fills bars from the `stock` with what is `left`, each with the largest piece left and what
/// goes best with it; of several kinds the one that costs least by what it holds, at the end the
/// cheapest that takes all the rest. Also the steps that took. A piece too large for all that is
/// there stays behind, and so do all after it.
pub(super) fn fill_up(
    kinds: &[Kind],
    sizes: &[i64],
    left: &mut [usize],
    stock: &mut [usize],
    work: usize,
) -> (Vec<Bar>, usize) {
    let mut bars = Vec::new();
    let mut steps = 0;
    let mut rest: i64 = sizes.iter().zip(&*left).map(|(s, n)| s * *n as i64).sum();
    while let Some(first) = left.iter().position(|count| *count > 0) {
        left[first] -= 1;
        let mut best: Option<(bool, f64, Bar)> = None;
        for (kind, Kind { room, cost, .. }) in kinds.iter().enumerate() {
            if stock[kind] == 0 || *room < sizes[first] {
                continue;
            }
            let filling = fill(sizes, left, room - sizes[first], work);
            steps += filling.steps;
            let load = room - filling.free;
            let unfinished = load < rest;
            let price = *cost as f64 / if unfinished { load as f64 } else { 1.0 };
            let better = best
                .as_ref()
                .is_none_or(|(other, lowest, _)| (unfinished, price) < (*other, *lowest));
            if better {
                let mut holds = vec![first];
                holds.extend(filling.holds);
                let free = filling.free;
                best = Some((unfinished, price, Bar { kind, free, holds }));
            }
        }
        left[first] += 1;
        let Some((_, _, bar)) = best else { break };
        for at in &bar.holds {
            left[*at] -= 1;
        }
        stock[bar.kind] -= 1;
        rest -= kinds[bar.kind].room - bar.free;
        bars.push(bar);
    }
    (bars, steps)
}

/// Gives each bar's pieces the cheapest kind of bar that holds them. The fullest chooses first:
/// what holds it holds all the others too, so none is left without.
pub(super) fn shrink(problem: &Problem, bars: &mut Vec<Bar>) {
    let mut stock = problem.left_beside(&[]);
    let load = |bar: &Bar| problem.kinds[bar.kind].room - bar.free;
    sort_by_number(bars, |bar| -load(bar) as f64);
    for bar in bars {
        let load = load(bar);
        let kind = (0..stock.len())
            .filter(|kind| stock[*kind] > 0 && problem.kinds[*kind].room >= load)
            .min_by_key(|kind| problem.kinds[*kind].cost);
        if let Some(kind) = kind {
            stock[kind] -= 1;
            bar.kind = kind;
            bar.free = problem.kinds[kind].room - load;
        }
    }
}
