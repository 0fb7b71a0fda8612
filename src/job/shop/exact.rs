//! The cheapest packing of a few pieces, by looking at all that could be cheaper.

use super::bar::{Bar, Problem};
use super::pack::one_by_one;

/// Most steps of the search: some milliseconds.
const STEPS_MAX: usize = 60_000;

/// What a search came to.
pub(super) struct Found {
    /// The cheapest packing below the cost given, if one was found.
    pub better: Option<Vec<Bar>>,
    /// Whether all that could be cheaper was looked at.
    pub whole: bool,
}

/// Looks for packings that cost less than `below`; ends at one that costs `least`, below which
/// there is none.
pub(super) fn search(problem: &Problem, below: i64, least: i64) -> Found {
    let pieces = one_by_one(&problem.counts);
    let rest = pieces.iter().map(|at| problem.sizes[*at]).sum();
    let kinds = problem.kinds.iter().filter(|kind| kind.available > 0);
    let price = kinds
        .map(|kind| kind.cost as f64 / kind.room as f64)
        .fold(f64::INFINITY, f64::min);
    let mut search = Search {
        problem,
        pieces,
        least,
        price,
        stock: problem.left_beside(&[]),
        bars: Vec::new(),
        free: 0,
        below,
        better: None,
        steps: 0,
    };
    search.place(0, 0, rest, 0);
    Found {
        whole: search.steps <= STEPS_MAX,
        better: search.better,
    }
}

struct Search<'a> {
    problem: &'a Problem,
    /// The pieces one by one, largest first, as places in the sizes.
    pieces: Vec<usize>,
    least: i64,
    /// The lowest cost of room there is.
    price: f64,
    stock: Vec<usize>,
    bars: Vec<Bar>,
    /// Room free in all bars.
    free: i64,
    below: i64,
    better: Option<Vec<Bar>>,
    steps: usize,
}

impl Search<'_> {
    fn ended(&self) -> bool {
        self.steps > STEPS_MAX || self.below <= self.least
    }

    /// Places the pieces from `next` on, `rest` in all, where the bars so far cost `cost`. Pieces
    /// of one size go into bars in the order of the bars, from bar `from`: any other order is the
    /// same packing again.
    fn place(&mut self, next: usize, from: usize, rest: i64, cost: i64) {
        self.steps += 1;
        let Some(&at) = self.pieces.get(next) else {
            // Only reached at a cost below the best.
            self.below = cost;
            self.better = Some(self.bars.clone());
            return;
        };
        let size = self.problem.sizes[at];
        let alike = self.pieces.get(next + 1) == Some(&at);
        for bar in from..self.bars.len() {
            let free = self.bars[bar].free;
            // Bars with the same room are the same from here on; both are paid for.
            let same = |other: &Bar| other.free == free;
            if free < size || self.bars[from..bar].iter().any(same) {
                continue;
            }
            self.bars[bar].holds.push(at);
            self.bars[bar].free -= size;
            self.free -= size;
            self.go_on(next, if alike { bar } else { 0 }, rest - size, cost);
            self.free += size;
            self.bars[bar].free += size;
            self.bars[bar].holds.pop();
            // Whatever else would go there could change places with a piece that fills it up.
            if self.ended() || free == size {
                return;
            }
        }
        for kind in 0..self.stock.len() {
            let room = self.problem.kinds[kind].room;
            if self.stock[kind] == 0 || room < size {
                continue;
            }
            self.stock[kind] -= 1;
            self.free += room - size;
            self.bars.push(Bar {
                kind,
                free: room - size,
                holds: vec![at],
            });
            let bar = if alike { self.bars.len() - 1 } else { 0 };
            let cost = cost + self.problem.kinds[kind].cost;
            self.go_on(next, bar, rest - size, cost);
            self.bars.pop();
            self.free -= room - size;
            self.stock[kind] += 1;
            if self.ended() {
                return;
            }
        }
    }

    /// Places the pieces after `next` if that can still be cheaper than the best: what does not
    /// go into the room there is must be bought.
    fn go_on(&mut self, next: usize, from: usize, rest: i64, cost: i64) {
        let missing = (rest - self.free).max(0) as f64;
        let more = self.problem.round_up(missing * self.price);
        if cost + more < self.below {
            self.place(next + 1, from, rest, cost);
        }
    }
}
