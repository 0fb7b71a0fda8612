//! Makes a packing better, a few bars at a time.

use super::bar::{Bar, Patience, Problem};
use super::pack::{Filled, fill_up, shrink, to_whole};

/// For filling one bar.
const PATIENCE: Patience = Patience {
    enough: 0,
    work: 300,
};
/// Rounds at most; each costs some work beside the filling.
const ROUNDS: usize = 4000;

/// Empties a few bars and packs their pieces anew, again and again, and keeps what is no worse;
/// ends at a cost of `least` or after `work` steps of filling.
///
/// Among packings of one cost that with the larger sum of squared loads counts as better: full
/// bars beside empty ones, until one can be given up (Falkenauer, A hybrid grouping genetic
/// algorithm for bin packing, 1996, measures packings so).
pub(super) fn improve(problem: &Problem, bars: &mut Vec<Bar>, least: i64, mut work: usize) {
    let mut chance = Chance(1);
    let mut cost = problem.cost(bars);
    for round in 0..ROUNDS {
        if cost <= least || work == 0 || bars.len() < 2 {
            break;
        }
        let emptied = take_some(bars, round, &mut chance);
        let pool = emptied.iter().flat_map(|bar| bar.holds.clone()).collect();
        let (part, places) = problem.part(pool, bars);
        let Filled {
            bars: mut new,
            left,
            steps,
        } = fill_up(&part, PATIENCE);
        work = work.saturating_sub(steps);
        to_whole(&mut new, &places);
        let all = left.iter().all(|count| *count == 0);
        let (before, after) = (problem.cost(&emptied), problem.cost(&new));
        let fuller = fullness(problem, &new) >= fullness(problem, &emptied);
        if all && (after < before || after == before && fuller) {
            cost += after - before;
            bars.extend(new);
        } else {
            bars.extend(emptied);
        }
    }
    shrink(problem, bars);
}

/// Takes two to five bars out: one with much room left, the others by chance.
fn take_some(bars: &mut Vec<Bar>, round: usize, chance: &mut Chance) -> Vec<Bar> {
    let number = (2 + chance.below(4)).min(bars.len());
    let mut taken = Vec::new();
    if round.is_multiple_of(2) {
        let emptiest = (0..bars.len()).max_by_key(|at| bars[*at].free);
        taken.extend(emptiest.map(|at| bars.swap_remove(at)));
    }
    while taken.len() < number {
        let at = chance.below(bars.len());
        taken.push(bars.swap_remove(at));
    }
    taken
}

/// The sum of the squared loads.
fn fullness(problem: &Problem, bars: &[Bar]) -> f64 {
    bars.iter()
        .map(|bar| (problem.kinds[bar.kind].room - bar.free) as f64)
        .map(|load| load * load)
        .sum()
}

/// Numbers that look random and are the same every time: a linear congruential generator with
/// the multiplier of Knuth's MMIX (The Art of Computer Programming 2, 3.3.4).
struct Chance(u64);

impl Chance {
    /// A number from 0 up to below `limit`.
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % limit.max(1)
    }
}
