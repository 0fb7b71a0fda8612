//! The order of the saws, and which path through each saw's settings joins best with the others.

use super::tour::Path;

/// Most saws for which every order is weighed.
pub(super) const EXACT_SAWS: usize = 8;
/// Orders weighed for more saws.
const ORDERS_MAX: usize = 3000;

/// Saws in order, each with the place of its path.
type Chosen = Vec<(usize, usize)>;

/// An entry of a table: effort so far, the setting that came last before this saw, and the path.
#[derive(Clone, Copy)]
struct Entry {
    effort: u32,
    before: Option<usize>,
    path: usize,
}

const NONE: Entry = Entry {
    effort: u32::MAX,
    before: None,
    path: 0,
};

/// The paths of some saws over settings that are counted through all of them.
pub(super) struct Saws<'a> {
    /// The paths of each saw; none has an empty list.
    pub paths: &'a [Vec<Path>],
    /// How many settings there are.
    pub settings: usize,
    /// Effort from one setting to another.
    pub effort: &'a dyn Fn(usize, usize) -> u32,
}

impl Saws<'_> {
    /// The order of least effort: of all for up to [`EXACT_SAWS`], else of those that come of
    /// moving one saw at a time, from the order given on.
    pub fn order(&self) -> Chosen {
        if self.paths.len() <= EXACT_SAWS {
            return self.best_order();
        }
        let mut order: Vec<usize> = (0..self.paths.len()).collect();
        let (mut least, mut chosen) = self.along(&order);
        let mut weighed = 0;
        let mut found = true;
        while found {
            found = false;
            for from in 0..order.len() {
                for to in 0..order.len() {
                    if from == to || weighed == ORDERS_MAX {
                        continue;
                    }
                    weighed += 1;
                    let mut other = order.clone();
                    let saw = other.remove(from);
                    other.insert(to, saw);
                    let (effort, paths) = self.along(&other);
                    if effort < least {
                        (least, chosen, order) = (effort, paths, other);
                        found = true;
                    }
                }
            }
        }
        chosen
    }

    /// What a saw adds to the efforts after which it comes: by its last setting the least.
    fn run(&self, saw: usize, reached: &[(usize, u32)], found: &mut dyn FnMut(usize, Entry)) {
        // The paths of a saw share few first settings.
        let mut entered: Vec<(usize, u32, Option<usize>)> = Vec::new();
        for (place, path) in self.paths[saw].iter().enumerate() {
            let start = path.start();
            let known = entered.iter().find(|(other, ..)| *other == start);
            let (_, so_far, before) = known.copied().unwrap_or_else(|| {
                let ways = reached
                    .iter()
                    .map(|(end, sum)| (sum + (self.effort)(*end, start), Some(*end)));
                let (sum, before) = ways.min_by_key(|(sum, _)| *sum).unwrap_or((0, None));
                entered.push((start, sum, before));
                (start, sum, before)
            });
            let entry = Entry {
                effort: so_far + path.effort,
                before,
                path: place,
            };
            found(path.end(), entry);
        }
    }

    /// The best paths for saws in a given order, and their effort.
    fn along(&self, order: &[usize]) -> (u32, Chosen) {
        let mut tables: Vec<Vec<(usize, Entry)>> = Vec::new();
        for saw in order {
            let last = tables.last().map_or(&[][..], Vec::as_slice);
            let reached: Vec<(usize, u32)> = last
                .iter()
                .map(|(end, entry)| (*end, entry.effort))
                .collect();
            let mut table: Vec<(usize, Entry)> = Vec::new();
            self.run(*saw, &reached, &mut |end, entry| match table
                .iter_mut()
                .find(|(other, _)| *other == end)
            {
                Some((_, old)) if old.effort <= entry.effort => {}
                Some((_, old)) => *old = entry,
                None => table.push((end, entry)),
            });
            tables.push(table);
        }
        let ends = tables.last().map_or(&[][..], Vec::as_slice);
        let mut at = ends.iter().min_by_key(|(_, entry)| entry.effort).copied();
        let effort = at.map_or(0, |(_, entry)| entry.effort);
        let mut chosen = Vec::new();
        for (place, saw) in order.iter().enumerate().rev() {
            let Some((_, entry)) = at else { break };
            chosen.push((*saw, entry.path));
            let table = place.checked_sub(1).and_then(|place| tables.get(place));
            at = table.and_then(|table| {
                table
                    .iter()
                    .find(|(end, _)| Some(*end) == entry.before)
                    .copied()
            });
        }
        chosen.reverse();
        (effort, chosen)
    }

    /// The order of least effort of all (Held & Karp, as for the settings).
    fn best_order(&self) -> Chosen {
        let n = self.settings;
        let full = (1 << self.paths.len()) - 1;
        let mut saw_of = vec![0; n];
        for (saw, paths) in self.paths.iter().enumerate() {
            for setting in paths.iter().flat_map(|path| &path.order) {
                saw_of[*setting] = saw;
            }
        }
        // By the set of saws run and the last setting.
        let mut table = vec![NONE; (full + 1) * n];
        for set in 0..full {
            let row = table[set * n..(set + 1) * n].iter().enumerate();
            let reached: Vec<(usize, u32)> = row
                .filter(|(_, entry)| entry.effort < u32::MAX)
                .map(|(end, entry)| (end, entry.effort))
                .collect();
            for saw in (0..self.paths.len()).filter(|saw| set & (1 << saw) == 0) {
                let next = (set | 1 << saw) * n;
                self.run(saw, &reached, &mut |end, entry| {
                    let place = &mut table[next + end];
                    if entry.effort < place.effort {
                        *place = entry;
                    }
                });
            }
        }
        let mut chosen = Vec::new();
        let mut set = full;
        let mut at = (0..n).min_by_key(|end| table[full * n + end].effort);
        while let Some(end) = at {
            let entry = table[set * n + end];
            chosen.push((saw_of[end], entry.path));
            set &= !(1 << saw_of[end]);
            at = entry.before;
        }
        chosen.reverse();
        chosen
    }
}
