//! Packs pieces into bars: several quick ways, then the search for better and for a proof.

use super::bar::{Bar, Kind, Patience, Problem, fill};
use super::bound::bound;
use super::exact::{self, Found};
use super::improve::improve;
use super::pattern;
use crate::units::sort_by_number;

/// Steps spent on filling bars one after the other, shared out among the pieces.
const FILL_WORK: usize = 300_000;
/// Bounds of one bar's share.
const BAR_WORK: (usize, usize) = (100, 3000);
/// Room that may be left in a bar, in parts of what was left on average when none might be
/// (Fleszar & Hindi, New heuristics for one-dimensional bin-packing, 2002): what is small stays
/// for the last bars.
const ENOUGH: [f64; 4] = [0.0625, 0.125, 0.25, 0.5];
/// Most pieces for which a proof is tried; more are beyond any search that ends in time.
const EXACT_PIECES: usize = 40;
/// Steps spent on making a packing better, and one of what patterns leave over.
const IMPROVE_WORK: usize = 400_000;
const REST_WORK: usize = 60_000;
/// How many bars cut by a pattern are at most given up again, so that their pieces go better with
/// what is left over.
const GIVE_UP: usize = 5;

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
#[derive(Default)]
struct Attempt {
    bars: Vec<Bar>,
    unplaced: Vec<usize>,
}

/// Packs all pieces, as cheaply as can be found.
pub(super) fn pack(problem: &Problem) -> Outcome {
    let Some(mut least) = bound(problem) else {
        return Outcome::Short {
            unplaced: quick(problem, 0).unplaced,
            certain: true,
        };
    };
    let Attempt { bars, unplaced } = quick(problem, least);
    let mut best = unplaced.is_empty().then_some(bars);
    let whole = look_through(problem, &mut best, least);
    let Some(mut bars) = best else {
        return Outcome::Short {
            unplaced,
            certain: whole,
        };
    };
    if whole {
        least = problem.cost(&bars);
    }
    if problem.cost(&bars) > least {
        by_patterns(problem, &mut bars, &mut least);
    }
    if problem.cost(&bars) > least {
        improve(problem, &mut bars, least, IMPROVE_WORK);
    }
    Outcome::Packed(Packing {
        cost: problem.cost(&bars),
        bars,
        least,
    })
}

/// The best of the quick ways; ends at a cost of `least`.
fn quick(problem: &Problem, least: i64) -> Attempt {
    let mut best: Option<Attempt> = None;
    for prefer in 0..problem.kinds.len() {
        for closest in [false, true] {
            keep_better(problem, &mut best, fit(problem, prefer, closest));
        }
    }
    let share = FILL_WORK / problem.pieces().max(1);
    let mut patience = Patience {
        enough: 0,
        work: share.max(BAR_WORK.0).min(BAR_WORK.1),
    };
    let full = fill_all(problem, patience);
    let left: i64 = full.bars.iter().map(|bar| bar.free).sum();
    let average = left as f64 / full.bars.len().max(1) as f64;
    keep_better(problem, &mut best, full);
    for part in ENOUGH {
        let done = |best: &Attempt| best.unplaced.is_empty() && problem.cost(&best.bars) <= least;
        if best.as_ref().is_some_and(done) {
            break;
        }
        patience.enough = (average * part) as i64;
        keep_better(problem, &mut best, fill_all(problem, patience));
    }
    best.unwrap_or_default()
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

/// Looks through all packings of few pieces for one that costs less; whether that was all there
/// are.
fn look_through(problem: &Problem, best: &mut Option<Vec<Bar>>, least: i64) -> bool {
    let below = best.as_ref().map_or(i64::MAX, |bars| problem.cost(bars));
    if below <= least {
        return true;
    }
    if problem.pieces() > EXACT_PIECES {
        return false;
    }
    let Found { better, whole } = exact::search(problem, below, least);
    if better.is_some() {
        *best = better;
    }
    whole
}

/// Cuts by the patterns of the relaxation, where bars of each are cut whole, and packs the rest.
fn by_patterns(problem: &Problem, bars: &mut Vec<Bar>, least: &mut i64) {
    if problem.sizes.len() > pattern::SIZES_MAX {
        return;
    }
    let Some(relaxed) = pattern::relax(problem) else {
        return;
    };
    *least = relaxed.least.max(*least);
    let mut kept = relaxed.bars;
    for (kind, there) in problem.kinds.iter().enumerate() {
        if kept.iter().filter(|bar| bar.kind == kind).count() > there.available {
            return; // cut by halves, more of a kind than there are
        }
    }
    for given_up in 0..=GIVE_UP {
        if given_up > 0 {
            // A stride through the patterns, which come in groups.
            let stride = kept.len() * given_up / (GIVE_UP + 1);
            if kept.is_empty() {
                return;
            }
            kept.remove(stride.min(kept.len() - 1));
        }
        if problem.cost(bars) <= *least {
            return;
        }
        let mut left = problem.counts.clone();
        for at in kept.iter().flat_map(|bar| &bar.holds) {
            left[*at] -= 1;
        }
        let (rest, places) = problem.part(one_by_one(&left), &kept);
        let spent = problem.cost(&kept);
        let Some(lowest) = bound(&rest) else {
            continue;
        };
        let lowest = lowest.max(*least - spent);
        let attempt = quick(&rest, lowest);
        let mut best = attempt.unplaced.is_empty().then_some(attempt.bars);
        let whole = look_through(&rest, &mut best, lowest);
        let Some(mut new) = best else { continue };
        if !whole {
            improve(&rest, &mut new, lowest, REST_WORK);
        }
        to_whole(&mut new, &places);
        new.extend(kept.iter().cloned());
        shrink(problem, &mut new);
        if problem.cost(&new) < problem.cost(bars) {
            *bars = new;
        }
    }
}

/// Every piece by the place of its size.
pub(super) fn one_by_one(counts: &[usize]) -> Vec<usize> {
    let each = counts.iter().enumerate();
    each.flat_map(|(at, count)| std::iter::repeat_n(at, *count))
        .collect()
}

/// Bars of a part of a problem as bars of the whole.
pub(super) fn to_whole(bars: &mut [Bar], places: &[usize]) {
    for at in bars.iter_mut().flat_map(|bar| &mut bar.holds) {
        *at = places[*at];
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
fn fill_all(problem: &Problem, patience: Patience) -> Attempt {
    let Filled { bars, left, .. } = fill_up(problem, patience);
    Attempt {
        bars,
        unplaced: one_by_one(&left),
    }
}

/// Bars filled one after the other.
pub(super) struct Filled {
    pub bars: Vec<Bar>,
    /// How many pieces of each size found no place.
    pub left: Vec<usize>,
    /// Steps taken.
    pub steps: usize,
}

/// Fills bars one after the other, each with the largest piece left and what goes best with it;
/// of several kinds the one that costs least by what it holds, at the end the cheapest that takes
/// all the rest. A piece too large for all that is there stays behind, and so do all after it.
pub(super) fn fill_up(problem: &Problem, patience: Patience) -> Filled {
    let sizes = &problem.sizes;
    let mut left = problem.counts.clone();
    let mut stock = problem.left_beside(&[]);
    let mut bars = Vec::new();
    let mut steps = 0;
    let mut rest: i64 = sizes.iter().zip(&left).map(|(s, n)| s * *n as i64).sum();
    while let Some(first) = left.iter().position(|count| *count > 0) {
        left[first] -= 1;
        let mut best: Option<(bool, f64, Bar)> = None;
        for (kind, Kind { room, cost, .. }) in problem.kinds.iter().enumerate() {
            if stock[kind] == 0 || *room < sizes[first] {
                continue;
            }
            let filling = fill(sizes, &mut left, room - sizes[first], patience);
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
        rest -= problem.kinds[bar.kind].room - bar.free;
        bars.push(bar);
    }
    Filled { bars, left, steps }
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
