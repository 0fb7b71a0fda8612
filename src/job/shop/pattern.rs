//! Patterns of one bar, and how often each would be cut if bars could be cut in fractions.
//!
//! Where few lengths are wanted many times, the best packing is close to that fraction, and the
//! bound it gives is sharp (Gilmore & Gomory, A linear programming approach to the cutting-stock
//! problem, 1961).

use super::bar::{Bar, Problem};
use super::pack::one_by_one;
use crate::units::sort_by_number;

/// Most different sizes: the work grows with their square.
pub(super) const SIZES_MAX: usize = 48;
/// Exchanges of one pattern for another.
const EXCHANGES_MAX: usize = 400;
/// Steps spent on finding patterns, in all and for one.
const WORK: usize = 600_000;
const PATTERN_WORK: usize = 30_000;
/// By what part a pattern must be worth more than its bar to come in.
const GAIN: f64 = 1e-9;
/// The least that counts as a part of a pattern.
const PART: f64 = 1e-9;

/// A way to cut one bar.
struct Pattern {
    kind: usize,
    cost: f64,
    /// How many pieces of each size.
    counts: Vec<usize>,
}

/// The relaxed packing.
pub(super) struct Relaxed {
    /// Bars that are cut whole; the rest of the pieces is less than a bar of each pattern.
    pub bars: Vec<Bar>,
    /// A proven lower bound; 0 if none was found.
    pub least: i64,
}

/// Solves the relaxation by exchanging patterns (revised simplex with column generation), as if
/// there were bars enough of every kind that there is at all. The bound is sound wherever the
/// exchanges end.
///
/// Every exchange prices the sizes; a pattern whose pieces are together worth more than its bar
/// comes in. If the best of all is worth ρ times its bar, then prices divided by ρ are too low
/// for any pattern to be worth more than its bar, so what they make of all pieces is a lower
/// bound (Farley, A note on bounding a class of linear programming problems, 1990).
pub(super) fn relax(problem: &Problem) -> Option<Relaxed> {
    let m = problem.sizes.len();
    let wanted: Vec<f64> = problem.counts.iter().map(|count| *count as f64).collect();
    let mut basis = Vec::new();
    let mut inverse = vec![0.0; m * m];
    let mut times = Vec::new();
    for at in 0..m {
        let pattern = alone(problem, at)?;
        let pieces = pattern.counts[at] as f64;
        inverse[at * m + at] = 1.0 / pieces;
        times.push(wanted[at] / pieces);
        basis.push(pattern);
    }
    let (mut least, mut work) = (0, WORK);
    for _ in 0..EXCHANGES_MAX {
        let prices: Vec<f64> = (0..m)
            .map(|at| {
                let rows = basis.iter().enumerate();
                rows.map(|(row, pattern)| pattern.cost * inverse[row * m + at])
                    .sum()
            })
            .collect();
        let priced = price(problem, &prices, &mut work);
        if priced.whole && priced.ratio > 0.0 {
            let worth: f64 = prices.iter().zip(&wanted).map(|(p, n)| p * n).sum();
            least = least.max(problem.round_up(worth / priced.ratio));
        }
        let Some(entering) = priced.pattern.filter(|_| priced.ratio > 1.0 + GAIN) else {
            break;
        };
        let change: Vec<f64> = (0..m)
            .map(|row| {
                let each = entering.counts.iter().enumerate();
                each.map(|(at, count)| inverse[row * m + at] * *count as f64)
                    .sum()
            })
            .collect();
        let Some(leaving) = (0..m)
            .filter(|row| change[*row] > PART)
            .min_by(|a, b| (times[*a] / change[*a]).total_cmp(&(times[*b] / change[*b])))
        else {
            break;
        };
        let share = times[leaving] / change[leaving];
        for at in 0..m {
            inverse[leaving * m + at] /= change[leaving];
        }
        for row in (0..m).filter(|row| *row != leaving) {
            times[row] -= share * change[row];
            for at in 0..m {
                inverse[row * m + at] -= change[row] * inverse[leaving * m + at];
            }
        }
        times[leaving] = share;
        basis[leaving] = entering;
    }
    Some(Relaxed {
        bars: whole_bars(problem, &basis, &times),
        least,
    })
}

/// The pattern with nothing but pieces of one size in the bar that wastes least.
fn alone(problem: &Problem, at: usize) -> Option<Pattern> {
    let size = problem.sizes[at];
    let mut best: Option<(f64, usize, usize)> = None;
    for (kind, bar) in problem.kinds.iter().enumerate() {
        if bar.available == 0 || bar.room < size {
            continue;
        }
        let count = problem.counts[at].min((bar.room / size) as usize);
        let price = bar.cost as f64 / count as f64;
        if best.is_none_or(|(lowest, ..)| price < lowest) {
            best = Some((price, kind, count));
        }
    }
    let (_, kind, count) = best?;
    let mut counts = vec![0; problem.sizes.len()];
    counts[at] = count;
    Some(Pattern {
        kind,
        cost: problem.kinds[kind].cost as f64,
        counts,
    })
}

/// The pattern worth most for its bar.
struct Priced {
    pattern: Option<Pattern>,
    /// What it is worth, by the cost of its bar.
    ratio: f64,
    /// Whether it is certain that none is worth more.
    whole: bool,
}

fn price(problem: &Problem, prices: &[f64], work: &mut usize) -> Priced {
    let mut best = Priced {
        pattern: None,
        ratio: 0.0,
        whole: true,
    };
    for (kind, bar) in problem.kinds.iter().enumerate() {
        if bar.available == 0 {
            continue;
        }
        let limit = PATTERN_WORK.min(*work);
        let (worth, counts, steps) = richest(problem, prices, bar.room, limit);
        *work -= steps.min(limit);
        best.whole &= steps <= limit;
        let cost = bar.cost as f64;
        if worth / cost > best.ratio {
            best.ratio = worth / cost;
            best.pattern = Some(Pattern { kind, cost, counts });
        }
    }
    best
}

/// The pieces worth most that fit into `room`, and the steps taken to find them; more than `work`
/// if the search was given up.
fn richest(
    problem: &Problem,
    prices: &[f64],
    mut room: i64,
    work: usize,
) -> (f64, Vec<usize>, usize) {
    let m = problem.sizes.len();
    // Worth most for its room first: what is left of the room can be worth no more than by that.
    let mut order: Vec<usize> = (0..m).filter(|at| prices[*at] > 0.0).collect();
    let by_room = |at: usize| prices[at] / problem.sizes[at] as f64;
    sort_by_number(&mut order, |at| -by_room(*at));
    let (mut worth, mut best) = (0.0, 0.0);
    let mut counts = vec![0; m];
    let mut richest = counts.clone();
    let mut taken = Vec::new();
    let mut next = 0;
    let mut steps = 0;
    loop {
        steps += 1;
        let more = order.get(next).copied();
        if let Some(at) = more.filter(|at| worth + room as f64 * by_room(*at) > best) {
            if steps > work {
                break;
            }
            if problem.sizes[at] <= room && counts[at] < problem.counts[at] {
                counts[at] += 1;
                room -= problem.sizes[at];
                worth += prices[at];
                taken.push(next);
            } else {
                next += 1;
            }
            continue;
        }
        if worth > best {
            best = worth;
            richest.clone_from(&counts);
        }
        let Some(last) = taken.pop() else { break };
        let at = order[last];
        counts[at] -= 1;
        room += problem.sizes[at];
        worth -= prices[at];
        next = last + 1;
    }
    // Summed anew: adding and taking away leaves traces.
    let sum = prices.iter().zip(&richest).map(|(p, n)| p * *n as f64);
    (sum.sum(), richest, steps)
}

/// Each pattern as often as it goes in whole; never a piece too many.
fn whole_bars(problem: &Problem, basis: &[Pattern], times: &[f64]) -> Vec<Bar> {
    let mut left = problem.counts.clone();
    let mut bars = Vec::new();
    for (pattern, times) in basis.iter().zip(times) {
        let holds = one_by_one(&pattern.counts);
        let load: i64 = holds.iter().map(|at| problem.sizes[*at]).sum();
        let mut number = (times + PART).floor();
        while number >= 1.0 && (0..left.len()).all(|at| pattern.counts[at] <= left[at]) {
            number -= 1.0;
            for at in &holds {
                left[*at] -= 1;
            }
            bars.push(Bar {
                kind: pattern.kind,
                free: problem.kinds[pattern.kind].room - load,
                holds: holds.clone(),
            });
        }
    }
    bars
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::job::shop::bar::Kind;
    use crate::job::shop::exact;
    use proptest::prelude::*;

    fn problem(rooms: &[i64], pieces: &[(i64, usize)]) -> Problem {
        let all = pieces.iter().map(|(_, count)| count).sum();
        let kind = |room: &i64| Kind {
            room: *room,
            cost: *room,
            available: all,
        };
        Problem {
            kinds: rooms.iter().map(kind).collect(),
            sizes: pieces.iter().map(|(size, _)| *size).collect(),
            counts: pieces.iter().map(|(_, count)| *count).collect(),
            step: 1,
        }
    }

    #[test]
    fn the_bound_sees_what_no_pattern_can_fill() {
        // Two of 4 leave 2 in every bar of 10: by size alone 8 bars, by patterns 10.
        let relaxed = relax(&problem(&[10], &[(4, 20)])).unwrap();
        assert_eq!((relaxed.least, relaxed.bars.len()), (100, 10));
        // 7 + 3 and 4 + 3 + 3 fill it; with sevens enough for all threes the fours are by twos.
        let relaxed = relax(&problem(&[10], &[(7, 6), (4, 6), (3, 6)])).unwrap();
        assert_eq!((relaxed.least, relaxed.bars.len()), (90, 9));
        // A bar of 9 takes 4 + 5 without a rest.
        let relaxed = relax(&problem(&[10, 9], &[(5, 4), (4, 4)])).unwrap();
        assert_eq!(relaxed.least, 36);
    }

    #[test]
    fn a_search_given_up_bounds_nothing() {
        let problem = problem(&[100], &[(37, 9), (23, 9), (11, 9)]);
        let prices = [37.0, 23.0, 10.9];
        let priced = price(&problem, &prices, &mut 1000);
        assert!(priced.whole);
        // Two of 37 and one of 23 are worth 97; one of 23 and seven of 11 fill the bar: 99.3.
        assert!((priced.ratio - 0.993).abs() < 1e-12, "{}", priced.ratio);
        assert!(!price(&problem, &prices, &mut 5).whole);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn the_bound_is_never_above_the_best_packing(
            sizes in prop::collection::btree_set(20_i64..100, 1..6),
            counts in prop::collection::vec(1_usize..4, 6),
            rooms in prop::collection::vec(100_i64..250, 1..4),
        ) {
            let pieces: Vec<(i64, usize)> = sizes.into_iter().rev().zip(counts).collect();
            let problem = problem(&rooms, &pieces);
            let found = exact::search(&problem, i64::MAX, 0);
            prop_assume!(found.whole);
            let best = problem.cost(&found.better.unwrap());
            let relaxed = relax(&problem).unwrap();
            prop_assert!(relaxed.least <= best, "{} above {}", relaxed.least, best);
            prop_assert!(relaxed.least > 0);
            let mut left = problem.counts.clone();
            for bar in &relaxed.bars {
                let load: i64 = bar.holds.iter().map(|at| problem.sizes[*at]).sum();
                prop_assert_eq!(load + bar.free, problem.kinds[bar.kind].room);
                prop_assert!(bar.free >= 0);
                for at in &bar.holds {
                    prop_assert!(left[*at] > 0);
                    left[*at] -= 1;
                }
            }
        }
    }
}
