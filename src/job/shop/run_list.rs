//! The run list: all cuts of a job by saw, then by setting, with the fewest changes.

use super::run_list_error::RunListError;
use super::saw_order::{EXACT_SAWS, Saws};
use super::setting::{Dial, Key, Saw, Setting};
use super::tour::{EXACT_SETTINGS, Path, best_paths, good_paths};
use crate::piece::Side;
use crate::units::{Angle, sort_by_number};

/// Most lines of a run list.
pub const CUTS_MAX: usize = 5000;

/// What else is to be known of a cut.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CutNotes {
    /// What the saw at hand is called; empty where none is named.
    pub saw: String,
    /// Turns per minute of the hole saw.
    pub rpm: Option<f64>,
    /// In how many bites, where one will not do.
    pub bites: Option<u32>,
    /// Off square of the straight cut that comes first.
    pub pre_cut: Option<Angle>,
}

/// One end of one piece, to be cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// What the piece is called.
    pub piece: String,
    /// Which end of it.
    pub end: Side,
    /// What cuts it.
    pub saw: Saw,
    /// Where the machine's dials stand for it.
    pub setting: Setting,
    /// How many such pieces; none is no line in the list.
    pub count: usize,
    /// What else is to be known; it makes no set-up of its own.
    pub notes: CutNotes,
}

/// The cuts of one setting: one line with a box to tick for each.
#[derive(Debug, Clone, PartialEq)]
pub struct SetUp {
    /// What to set, to the whole tick.
    pub setting: Setting,
    /// What is changed from the set-up before; for the first of all what is to be set.
    pub changes: Vec<Dial>,
    /// Which cuts, by their places in the list given, in its order.
    pub cuts: Vec<usize>,
    /// How many ends are cut in this set-up.
    pub count: usize,
}

/// All set-ups of one saw.
#[derive(Debug, Clone, PartialEq)]
pub struct SawRun {
    /// Which saw.
    pub saw: Saw,
    /// Its settings in order.
    pub set_ups: Vec<SetUp>,
    /// How many ends it cuts.
    pub count: usize,
}

/// The order in which to cut, and what it saves.
#[derive(Debug, Clone, PartialEq)]
pub struct RunList {
    /// The saws in order.
    pub saws: Vec<SawRun>,
    /// How many set-ups there are; with every setting run once there can be no fewer.
    pub set_ups: usize,
    /// How many there would be in the order of the list given.
    pub set_ups_in_piece_order: usize,
    /// What all changes take ([`super::EFFORT`]), without the first set-up.
    pub effort: u32,
    /// What they would take in the order of the list given.
    pub effort_in_piece_order: u32,
    /// Whether every order was weighed, so that none takes less.
    pub proven: bool,
}

impl RunList {
    /// Set-ups saved against the order of the list given.
    #[must_use]
    pub const fn saved(&self) -> usize {
        self.set_ups_in_piece_order.saturating_sub(self.set_ups)
    }
}

/// Groups cuts by saw and setting, and orders both so that changing from one to the next takes
/// the least effort that can be found. Up to ten settings of each saw and eight saws every order
/// is weighed. Saws and settings that are equal to the tick ([`super::ANGLE_TICK`],
/// [`super::OFFSET_TICK`]) are one; where two values lie on either side of the edge between two
/// ticks they stay two.
///
/// # Errors
/// A saw or a dial that is no number, or more than [`CUTS_MAX`] cuts.
///
/// ```
/// use copewright::job::shop::{Cut, CutNotes, Saw, Setting, run_list};
/// use copewright::piece::Side;
/// use copewright::units::{Angle, Length};
/// let cut = |piece: &str, end, deg| Cut {
///     piece: piece.into(),
///     end,
///     saw: Saw::Hole(Length::from_mm(48.0)),
///     setting: Setting { off_square: Some(Angle::from_deg(deg)), ..Setting::default() },
///     count: 2,
///     notes: CutNotes::default(),
/// };
/// let cuts = [
///     cut("brace", Side::A, 30.0),
///     cut("brace", Side::B, 45.0),
///     cut("upright", Side::A, 30.0),
/// ];
/// let list = run_list(&cuts).unwrap();
/// assert_eq!((list.set_ups, list.saved()), (2, 1));
/// assert_eq!(list.saws[0].set_ups[0].cuts, [0, 2]);
/// ```
pub fn run_list(cuts: &[Cut]) -> Result<RunList, RunListError> {
    if cuts.len() > CUTS_MAX {
        return Err(RunListError::Cuts { are: cuts.len() });
    }
    let mut settings: Vec<Group> = Vec::new();
    let mut in_piece_order: Vec<usize> = Vec::new();
    for (place, cut) in cuts.iter().enumerate() {
        let key = Key::new(cut.saw, &cut.setting).map_err(|dial| RunListError::Dial {
            cut: place,
            piece: cut.piece.clone(),
            end: cut.end,
            dial,
        })?;
        if cut.count == 0 {
            continue;
        }
        let known = settings.iter().position(|group| group.key == key);
        let at = known.unwrap_or(settings.len());
        if known.is_none() {
            settings.push(Group {
                key,
                cuts: Vec::new(),
            });
        }
        settings[at].cuts.push(place);
        in_piece_order.push(at);
    }
    let effort = |from: usize, to: usize| settings[from].key.effort(&settings[to].key);
    let mut proven = true;
    let mut paths: Vec<Vec<Path>> = Vec::new();
    for of_saw in by_saw(&settings) {
        paths.push(if of_saw.len() <= EXACT_SETTINGS {
            best_paths(&of_saw, &effort)
        } else {
            proven = false;
            good_paths(&of_saw, sorted(&of_saw, &settings), &effort)
        });
    }
    let chosen = Saws {
        paths: &paths,
        settings: settings.len(),
        effort: &effort,
    }
    .order();
    let mut order: Vec<usize> = chosen
        .iter()
        .flat_map(|(saw, path)| paths[*saw][*path].order.iter().copied())
        .collect();
    // Back to front takes the same; begin with what comes first in the list.
    if order.last() < order.first() {
        order.reverse();
    }
    let sum = |order: &[usize]| order.windows(2).map(|pair| effort(pair[0], pair[1])).sum();
    let changed = in_piece_order.windows(2).filter(|pair| pair[0] != pair[1]);
    Ok(RunList {
        set_ups: settings.len(),
        set_ups_in_piece_order: changed.count() + settings.len().min(1),
        effort: sum(&order),
        effort_in_piece_order: sum(&in_piece_order),
        proven: proven && paths.len() <= EXACT_SAWS,
        saws: runs(cuts, &settings, &order),
    })
}

/// Cuts of one saw and one setting.
struct Group {
    key: Key,
    cuts: Vec<usize>,
}

/// The settings of each saw, all in the order in which they first come.
fn by_saw(settings: &[Group]) -> Vec<Vec<usize>> {
    let mut saws: Vec<Vec<usize>> = Vec::new();
    for (at, group) in settings.iter().enumerate() {
        let same = |saw: &&mut Vec<usize>| {
            let first = saw.first().map(|first| &settings[*first].key);
            first.is_some_and(|first| first.same_saw(&group.key))
        };
        match saws.iter_mut().find(same) {
            Some(saw) => saw.push(at),
            None => saws.push(vec![at]),
        }
    }
    saws
}

/// Settings by their dials, the one that takes the most effort first: it changes the fewest times.
fn sorted(of_saw: &[usize], settings: &[Group]) -> Vec<usize> {
    let mut order = of_saw.to_vec();
    for dial in (0..4).rev() {
        sort_by_number(&mut order, |at| settings[*at].key.number(dial));
    }
    order
}

/// The settings in order, as set-ups saw by saw.
fn runs(cuts: &[Cut], settings: &[Group], order: &[usize]) -> Vec<SawRun> {
    let mut saws: Vec<SawRun> = Vec::new();
    let mut before: Option<&Key> = None;
    for group in order.iter().map(|at| &settings[*at]) {
        let counts = group.cuts.iter().map(|cut| cuts[*cut].count);
        let count = counts.fold(0, usize::saturating_add);
        let set_up = SetUp {
            setting: group.key.setting(),
            changes: before.map_or_else(|| group.key.all(), |key| key.changes(&group.key)),
            cuts: group.cuts.clone(),
            count,
        };
        let goes_on = before.is_some_and(|key| key.same_saw(&group.key));
        match saws.last_mut().filter(|_| goes_on) {
            Some(run) => {
                run.count = run.count.saturating_add(count);
                run.set_ups.push(set_up);
            }
            None => saws.push(SawRun {
                saw: group
                    .cuts
                    .first()
                    .map_or(Saw::Grinder, |cut| cuts[*cut].saw),
                set_ups: vec![set_up],
                count,
            }),
        }
        before = Some(&group.key);
    }
    saws
}
