//! What must be bought whatever the packing: lower bounds, proven without looking at one.

use super::bar::{Kind, Problem};
use crate::units::sort_by_number;

/// Most steps spent on one cover; beyond them its fractional bound is taken.
const STEPS_MAX: usize = 2000;

/// The least that must be bought, a proven lower bound; `None` where the stock there is cannot
/// hold the pieces in any packing.
///
/// Give each piece a worth so that no bar of a kind can hold more than the kind's own worth; then
/// bars must be bought until their worth covers that of the pieces, and the cheapest cover bounds
/// the cheapest packing. The worths used:
/// - their size, of all pieces or of those too long for some kind;
/// - for each size, one for every piece at least as large: a bar holds as many of them as the
///   size goes into it;
/// - for each size α up to half the longest bar W, that of Martello & Toth: nothing for a piece
///   below α, W for one above W − α, beside which nothing from α on has room, else its size.
///
/// For one kind of bar the last two include the bound L2 of Martello & Toth (Lower bounds and
/// reduction procedures for the bin packing problem, 1990).
pub(super) fn bound(problem: &Problem) -> Option<i64> {
    let (mut number, mut total) = (vec![0], vec![0]);
    for (size, count) in problem.sizes.iter().zip(&problem.counts) {
        let count = *count as i64;
        number.push(number[number.len() - 1] + count);
        total.push(total[total.len() - 1] + size * count);
    }
    let all = problem.sizes.len();
    let mut least = cover(problem, total[all], 0, &|room| room)?;
    for kind in there(problem) {
        let longer = problem.sizes.partition_point(|size| *size > kind.room);
        let worth = |room| if room > kind.room { room } else { 0 };
        least = cover(problem, total[longer], least, &worth)?;
    }
    let longest = there(problem).map(|kind| kind.room).max().unwrap_or(0);
    for (at, alpha) in problem.sizes.iter().enumerate() {
        least = cover(problem, number[at + 1], least, &|room| room / alpha)?;
        if 2 * alpha <= longest {
            let alone = longest - alpha;
            let large = problem.sizes.partition_point(|size| *size > alone);
            let demand = longest * number[large] + total[at + 1] - total[large];
            let worth = |room| if room > alone { longest } else { room };
            least = cover(problem, demand, least, &worth)?;
        }
    }
    Some(least)
}

/// The kinds of bar that can be had.
fn there(problem: &Problem) -> impl Iterator<Item = &Kind> {
    problem.kinds.iter().filter(|kind| kind.available > 0)
}

/// A kind of bar by what it is worth in a cover.
struct Row {
    worth: i64,
    cost: i64,
    available: i64,
}

/// The cheapest bars whose worth comes to `demand`, or a lower bound of their cost; at least
/// `least`, and no more work than it takes to see that it is no higher.
fn cover(problem: &Problem, demand: i64, least: i64, worth: &dyn Fn(i64) -> i64) -> Option<i64> {
    let mut rows: Vec<Row> = there(problem)
        .map(|kind| Row {
            worth: worth(kind.room),
            cost: kind.cost,
            available: kind.available as i64,
        })
        .filter(|row| row.worth > 0)
        .collect();
    sort_by_number(&mut rows, |row| row.cost as f64 / row.worth as f64);
    let fraction = problem.round_up(fractional(&rows, demand)?);
    if fraction <= least {
        return Some(least);
    }
    let mut search = Search {
        problem,
        rows: &rows,
        best: i64::MAX,
        steps: 0,
    };
    search.choose(0, demand, 0);
    let whole = search.steps <= STEPS_MAX && search.best < i64::MAX;
    Some(if whole { search.best } else { fraction }.max(least))
}

/// The cost of the cheapest cover in which the last bar may be part of one. Rows come with the
/// cheapest by worth first.
fn fractional(rows: &[Row], mut demand: i64) -> Option<f64> {
    let mut cost = 0.0;
    for row in rows {
        if demand <= 0 {
            break;
        }
        let covered = demand.min(row.worth.saturating_mul(row.available));
        cost += row.cost as f64 * (covered as f64 / row.worth as f64);
        demand -= covered;
    }
    (demand <= 0).then_some(cost)
}

/// Covers by whole bars, kind by kind.
struct Search<'a> {
    problem: &'a Problem,
    rows: &'a [Row],
    best: i64,
    steps: usize,
}

impl Search<'_> {
    fn choose(&mut self, from: usize, demand: i64, cost: i64) {
        if demand <= 0 {
            self.best = self.best.min(cost);
            return;
        }
        let Some(row) = self.rows.get(from) else {
            return;
        };
        let mut number = row.available.min((demand + row.worth - 1) / row.worth);
        while number >= 0 && self.steps <= STEPS_MAX {
            self.steps += 1;
            let rest = demand - number * row.worth;
            let so_far = cost + number * row.cost;
            let Some(more) = fractional(&self.rows[from + 1..], rest) else {
                return; // fewer of this kind leave even more to the others
            };
            // Others cost more by worth, so once bars of this kind are given up in vain, giving
            // up more is in vain as well. The first number may overshoot and is no such sign.
            if rest > 0 && self.problem.round_up(so_far as f64 + more) >= self.best {
                return;
            }
            self.choose(from + 1, rest, so_far);
            number -= 1;
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn problem(kinds: &[(i64, usize)], sizes: &[i64], counts: &[usize]) -> Problem {
        Problem {
            kinds: kinds
                .iter()
                .map(|&(room, available)| Kind {
                    room,
                    cost: room,
                    available,
                })
                .collect(),
            sizes: sizes.to_vec(),
            counts: counts.to_vec(),
            step: 1,
        }
    }

    #[test]
    fn pieces_over_half_a_bar_need_one_each() {
        assert_eq!(bound(&problem(&[(10, 9)], &[6, 5], &[3, 0])), Some(30));
        // Three of four in a bar of ten leave two; the sum alone would say two bars.
        assert_eq!(bound(&problem(&[(10, 9)], &[4], &[5])), Some(30));
        // Beside a 7 nothing from 4 on has room: 7 | 7 | 4 4, by the sum three bars, too; with a
        // third 7 the sum says 29 but four bars are needed.
        assert_eq!(bound(&problem(&[(10, 9)], &[7, 4], &[3, 2])), Some(40));
    }

    #[test]
    fn long_pieces_need_long_bars() {
        assert_eq!(
            bound(&problem(&[(10, 9), (6, 9)], &[7, 2], &[2, 1])),
            Some(20)
        );
        assert_eq!(bound(&problem(&[(10, 9), (6, 9)], &[6], &[2])), Some(12));
        assert_eq!(bound(&problem(&[(10, 1), (6, 9)], &[7], &[2])), None);
    }

    // Every number of bars of every kind, without any order or pruning.
    #[test]
    fn a_cover_is_the_cheapest_there_is() {
        for seed in 0..400_i64 {
            let part = |n: i64| (seed * 7919 + n * 104_729) % 97;
            let kinds = [(30 + part(1), 4), (20 + part(2), 3), (10 + part(3), 5)];
            let demand = 1 + part(4) * 3;
            let problem = problem(&kinds, &[], &[]);
            let mut expected = None;
            for number in 0..5 * 4 * 6_i64 {
                let numbers = [number % 5, number / 5 % 4, number / 20];
                let sum = |f: &dyn Fn(i64) -> i64| -> i64 {
                    (0..3).map(|k| numbers[k] * f(kinds[k].0)).sum()
                };
                if sum(&|room| room - 9) >= demand {
                    let cost = sum(&|room| room);
                    expected = Some(expected.map_or(cost, |least: i64| least.min(cost)));
                }
            }
            assert_eq!(
                cover(&problem, demand, 0, &|room| room - 9),
                expected,
                "{seed}"
            );
        }
    }
}
