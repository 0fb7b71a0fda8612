//! Orders in which the settings of one saw can be run.

/// Most settings for which every order is weighed.
pub(super) const EXACT_SETTINGS: usize = 10;
/// Comparisons spent, for one saw, on finding nearest neighbours and on turning stretches round.
const NEAREST_WORK: usize = 250_000;
const TURN_WORK: usize = 300_000;

/// An order of some settings and the effort of running it, without what leads to it.
#[derive(Debug, Clone)]
pub(super) struct Path {
    pub order: Vec<usize>,
    pub effort: u32,
}

impl Path {
    fn new(order: Vec<usize>, effort: &dyn Fn(usize, usize) -> u32) -> Self {
        let effort = order.windows(2).map(|pair| effort(pair[0], pair[1])).sum();
        Self { order, effort }
    }

    fn reversed(&self) -> Self {
        Self {
            order: self.order.iter().rev().copied().collect(),
            effort: self.effort,
        }
    }

    pub fn start(&self) -> usize {
        self.order.first().copied().unwrap_or(0)
    }

    pub fn end(&self) -> usize {
        self.order.last().copied().unwrap_or(0)
    }
}

/// For every first and last setting the best order between them (dynamic programming over
/// subsets: Held & Karp, A dynamic programming approach to sequencing problems, 1962). At most
/// [`EXACT_SETTINGS`] settings; effort must be the same in both directions.
pub(super) fn best_paths(settings: &[usize], effort: &dyn Fn(usize, usize) -> u32) -> Vec<Path> {
    let n = settings.len();
    let full = (1 << n) - 1;
    let between: Vec<u32> = (0..n * n)
        .map(|pair| effort(settings[pair / n], settings[pair % n]))
        .collect();
    let mut paths = Vec::new();
    for start in 0..n {
        // By the set of settings run and the last of them: effort so far and the one before.
        let mut best = vec![(u32::MAX, 0); (full + 1) * n];
        best[(1 << start) * n + start].0 = 0;
        for set in 1..=full {
            for last in 0..n {
                let (so_far, _) = best[set * n + last];
                if so_far == u32::MAX {
                    continue;
                }
                for next in (0..n).filter(|next| set & (1 << next) == 0) {
                    let sum = so_far + between[last * n + next];
                    let place = &mut best[(set | 1 << next) * n + next];
                    if sum < place.0 {
                        *place = (sum, last);
                    }
                }
            }
        }
        for end in start..n {
            let (sum, _) = best[full * n + end];
            if sum == u32::MAX {
                continue; // the first is the last of one setting alone
            }
            let (mut set, mut at) = (full, end);
            let mut order = vec![settings[end]];
            while at != start {
                let before = best[set * n + at].1;
                set ^= 1 << at;
                at = before;
                order.push(settings[at]);
            }
            let path = Path { order, effort: sum };
            paths.push(path.reversed());
            paths.push(path);
        }
    }
    paths
}

/// Good orders of many settings: as they come, `sorted`, and from nearest to nearest, the last
/// two with stretches turned round while that saves effort; each forward and back.
pub(super) fn good_paths(
    settings: &[usize],
    sorted: Vec<usize>,
    effort: &dyn Fn(usize, usize) -> u32,
) -> Vec<Path> {
    let n = settings.len();
    let starts = (NEAREST_WORK / (n * n).max(1)).min(n);
    let mut work = TURN_WORK;
    let mut paths = vec![Path::new(settings.to_vec(), effort)];
    let mut orders = vec![sorted, settings.to_vec()];
    for start in 0..starts {
        orders.push(nearest_next(settings, start * n / starts, effort));
    }
    for mut order in orders {
        turn_stretches(&mut order, effort, &mut work);
        paths.push(Path::new(order, effort));
    }
    let back: Vec<Path> = paths.iter().map(Path::reversed).collect();
    paths.extend(back);
    paths
}

/// From a start always to the setting that is nearest; of equals the one that comes first.
fn nearest_next(
    settings: &[usize],
    start: usize,
    effort: &dyn Fn(usize, usize) -> u32,
) -> Vec<usize> {
    let mut rest = settings.to_vec();
    let mut order = vec![rest.remove(start)];
    while let Some(nearest) = (0..rest.len()).min_by_key(|at| {
        let last = order.last().copied().unwrap_or(0);
        effort(last, rest[*at])
    }) {
        order.push(rest.remove(nearest));
    }
    order
}

/// Turns stretches of the order round while that saves effort ("2-opt": Croes, A method for
/// solving traveling-salesman problems, 1958).
fn turn_stretches(order: &mut [usize], effort: &dyn Fn(usize, usize) -> u32, work: &mut usize) {
    let n = order.len();
    let mut found = true;
    while found && *work > 0 {
        found = false;
        for first in 0..n {
            for last in first + 1..n {
                *work = work.saturating_sub(1);
                if *work == 0 {
                    return;
                }
                let (mut now, mut then) = (0, 0);
                if first > 0 {
                    now += effort(order[first - 1], order[first]);
                    then += effort(order[first - 1], order[last]);
                }
                if last + 1 < n {
                    now += effort(order[last], order[last + 1]);
                    then += effort(order[first], order[last + 1]);
                }
                if then < now {
                    order[first..=last].reverse();
                    found = true;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Settings along a scale: the best order is that of the scale, either way.
    fn along_a_scale(from: usize, to: usize) -> u32 {
        u32::try_from(from.abs_diff(to)).unwrap_or(u32::MAX)
    }

    #[test]
    fn stretches_are_turned_round_while_that_saves() {
        let mut order = [0, 3, 2, 1, 4, 9, 8, 7, 6, 5];
        turn_stretches(&mut order, &along_a_scale, &mut 10_000);
        assert_eq!(order, [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
        let mut order = [3, 2, 1, 7, 8];
        turn_stretches(&mut order, &along_a_scale, &mut 2);
        assert_eq!(order, [3, 2, 1, 7, 8], "no work, no turn");
    }

    #[test]
    fn good_orders_start_with_the_one_given_and_come_to_the_best() {
        let settings: Vec<usize> = (0..23).map(|at| at * 7 % 23).collect();
        let paths = good_paths(&settings, settings.clone(), &along_a_scale);
        assert_eq!(paths[0].order, settings);
        let least = paths.iter().map(|path| path.effort).min();
        assert_eq!(least, Some(22));
        for path in &paths {
            let again = Path::new(path.order.clone(), &along_a_scale);
            assert_eq!(path.effort, again.effort);
            let mut all = path.order.clone();
            all.sort_unstable();
            assert_eq!(all, (0..23).collect::<Vec<usize>>());
        }
    }

    #[test]
    fn best_orders_there_are_from_every_setting_to_every_other() {
        let paths = best_paths(&[5, 2, 9, 4], &along_a_scale);
        assert_eq!(paths.len(), 12);
        for path in &paths {
            let (start, end) = (path.start(), path.end());
            // To one side, all the way to the other, and back to the end.
            let (low, high) = (start.min(end), start.max(end));
            let expected = 7 + (low - 2) + (9 - high);
            assert_eq!(path.effort as usize, expected, "{path:?}");
            assert_eq!(
                path.effort,
                Path::new(path.order.clone(), &along_a_scale).effort
            );
        }
        assert_eq!(best_paths(&[3], &along_a_scale)[0].order, [3]);
    }
}
