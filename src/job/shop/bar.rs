//! The packing problem in whole numbers, and how one bar is filled.

use crate::units::sort_by_number;

/// A kind of bar to be bought.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    /// What the sizes of the pieces in it may add up to.
    pub room: i64,
    /// What it costs: its whole length.
    pub cost: i64,
    /// How many there are; never more than there are pieces.
    pub available: usize,
}

/// Pieces to be packed. A piece's size is its length and one kerf.
#[derive(Debug)]
pub(super) struct Problem {
    pub kinds: Vec<Kind>,
    /// The different sizes, largest first.
    pub sizes: Vec<i64>,
    /// How many pieces there are of each size.
    pub counts: Vec<usize>,
    /// The largest number that all costs are multiples of; so are their sums.
    pub step: i64,
}

/// A bar with its pieces.
#[derive(Debug, Clone)]
pub(super) struct Bar {
    pub kind: usize,
    /// Room that is left.
    pub free: i64,
    /// Sizes of its pieces, as places in [`Problem::sizes`].
    pub holds: Vec<usize>,
}

/// Pieces found for one bar.
pub(super) struct Filling {
    pub holds: Vec<usize>,
    pub free: i64,
    /// Steps taken to find it.
    pub steps: usize,
}

impl Problem {
    pub fn pieces(&self) -> usize {
        self.counts.iter().sum()
    }

    pub fn cost(&self, bars: &[Bar]) -> i64 {
        bars.iter()
            .filter_map(|bar| self.kinds.get(bar.kind))
            .map(|kind| kind.cost)
            .sum()
    }

    /// How many of each kind are left beside these bars.
    pub fn left_beside(&self, bars: &[Bar]) -> Vec<usize> {
        let mut left: Vec<usize> = self.kinds.iter().map(|kind| kind.available).collect();
        for bar in bars {
            left[bar.kind] = left[bar.kind].saturating_sub(1);
        }
        left
    }

    /// The problem of packing some of the pieces beside bars that are packed already, and where
    /// its sizes are among those of this problem.
    pub fn part(&self, mut pieces: Vec<usize>, beside: &[Bar]) -> (Self, Vec<usize>) {
        sort_by_number(&mut pieces, |at| *at as f64);
        let kinds = self.kinds.iter().zip(self.left_beside(beside));
        let mut part = Self {
            kinds: kinds
                .map(|(kind, left)| Kind {
                    available: left.min(pieces.len()),
                    ..*kind
                })
                .collect(),
            sizes: Vec::new(),
            counts: Vec::new(),
            step: self.step,
        };
        let mut places = Vec::new();
        for at in pieces {
            match part.counts.last_mut() {
                Some(count) if places.last() == Some(&at) => *count += 1,
                _ => {
                    places.push(at);
                    part.sizes.push(self.sizes[at]);
                    part.counts.push(1);
                }
            }
        }
        (part, places)
    }

    /// The least sum of costs that is not below `cost`, a lower bound found in floating point.
    pub fn round_up(&self, cost: f64) -> i64 {
        // More than the rounding of any of the sums, and less than any step that matters.
        const DOUBT: f64 = 1e-12;
        let steps = (cost * (1.0 - DOUBT) / self.step as f64).ceil();
        (steps as i64).saturating_mul(self.step)
    }
}

/// How long to look for pieces for one bar.
#[derive(Debug, Clone, Copy)]
pub(super) struct Patience {
    /// Room that may be left without looking on.
    pub enough: i64,
    /// Steps at most.
    pub work: usize,
}

/// Pieces that leave as little of `room` as can be found, the largest pieces preferred; what is
/// `left` stays as it is. With steps enough and no room left over it is the least there is
/// ("minimum bin slack", Gupta & Ho, A new heuristic algorithm for the one-dimensional
/// bin-packing problem, 1999).
pub(super) fn fill(
    sizes: &[i64],
    left: &mut [usize],
    mut room: i64,
    Patience { enough, work }: Patience,
) -> Filling {
    // What all pieces from one place on amount to: an early end where they cannot help.
    let mut from_here = vec![0; sizes.len() + 1];
    for at in (0..sizes.len()).rev() {
        from_here[at] = from_here[at + 1] + sizes[at] * left[at] as i64;
    }
    let mut best = Filling {
        holds: Vec::new(),
        free: room,
        steps: 0,
    };
    let mut taken = Vec::new();
    let mut at = 0;
    loop {
        best.steps += 1;
        at += sizes[at..].partition_point(|size| *size > room);
        while left.get(at) == Some(&0) {
            at += 1;
        }
        let more = at < sizes.len() && room - from_here[at] < best.free;
        if more && best.steps <= work {
            left[at] -= 1;
            room -= sizes[at];
            taken.push(at);
            continue;
        }
        if room < best.free {
            best.free = room;
            best.holds.clone_from(&taken);
        }
        if best.free <= enough || best.steps > work {
            break;
        }
        let Some(last) = taken.pop() else { break };
        left[last] += 1;
        room += sizes[last];
        at = last + 1;
    }
    for at in taken {
        left[at] += 1;
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    const LONG: Patience = Patience {
        enough: 0,
        work: 1000,
    };

    #[test]
    fn a_bar_is_filled_to_the_last_tick_where_that_can_be() {
        // Largest first leaves 1 (6 + 3); the two fours and the two leave nothing.
        let (sizes, mut left) = ([6, 4, 3, 2], [1, 2, 1, 1]);
        let filling = fill(&sizes, &mut left, 10, LONG);
        assert_eq!((filling.holds, filling.free), (vec![0, 1], 0));
        let mut left = [0, 2, 1, 1];
        let filling = fill(&sizes, &mut left, 10, LONG);
        assert_eq!((filling.holds, filling.free), (vec![1, 1, 3], 0));
        assert_eq!(left, [0, 2, 1, 1]);
    }

    #[test]
    fn what_does_not_fit_leaves_the_bar_empty() {
        let filling = fill(&[6, 4], &mut [3, 3], 3, LONG);
        assert_eq!((filling.holds, filling.free), (vec![], 3));
        let filling = fill(&[], &mut [], 3, LONG);
        assert_eq!((filling.holds, filling.free), (vec![], 3));
    }

    #[test]
    fn little_work_still_finds_a_filling() {
        let short = Patience { work: 3, ..LONG };
        let filling = fill(&[6, 5, 2], &mut [1, 2, 9], 11, short);
        assert!(filling.free < 11 && !filling.holds.is_empty());
    }

    #[test]
    fn a_part_has_the_stock_that_is_left() {
        let kind = |room, available| Kind {
            room,
            cost: room,
            available,
        };
        let problem = Problem {
            kinds: vec![kind(10, 3), kind(8, 9)],
            sizes: vec![6, 5, 2],
            counts: vec![3, 3, 4],
            step: 2,
        };
        let bar = |kind, free, holds: &[usize]| Bar {
            kind,
            free,
            holds: holds.to_vec(),
        };
        let bars = [bar(0, 2, &[0, 2]), bar(1, 3, &[1]), bar(0, 4, &[0])];
        assert_eq!(problem.left_beside(&bars), [1, 8]);
        let (part, places) = problem.part(vec![2, 0, 2, 2], &bars);
        assert_eq!((part.sizes, part.counts), (vec![6, 2], vec![1, 3]));
        assert_eq!(places, [0, 2]);
        let available: Vec<usize> = part.kinds.iter().map(|kind| kind.available).collect();
        assert_eq!(available, [1, 4], "no more than there are pieces");
    }

    #[test]
    fn the_first_filling_that_is_full_enough_will_do() {
        let (sizes, mut left) = ([7, 6, 4], [1, 1, 2]);
        let filling = fill(&sizes, &mut left, 10, LONG);
        assert_eq!(filling.holds, [1, 2]);
        let filling = fill(&sizes, &mut left, 10, Patience { enough: 3, ..LONG });
        assert_eq!(filling.holds, [0]);
    }
}
