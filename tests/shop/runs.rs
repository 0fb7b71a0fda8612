//! Run lists.

use copewright::job::shop::{Cut, CutNotes, EFFORT, RunList, Saw, Setting, run_list};
use copewright::piece::Side;
use copewright::units::Angle;
use proptest::prelude::*;

use super::mm;

/// A cut as small numbers: saw, off square, offset, turn, first end.
type Small = (u32, u32, u32, u32, u32);

fn saw(number: u32) -> Saw {
    match number {
        0 => Saw::Grinder,
        1 => Saw::Straight,
        size => Saw::Hole(mm(20.0 + f64::from(size))),
    }
}

fn cut((of_saw, off_square, offset, turn, first): Small, place: usize) -> Cut {
    let deg = |number: u32, step: f64| match number {
        0 => None,
        number => Some(Angle::from_deg(f64::from(number) * step)),
    };
    Cut {
        piece: format!("piece {place}"),
        end: if place.is_multiple_of(2) {
            Side::A
        } else {
            Side::B
        },
        saw: saw(of_saw),
        setting: Setting {
            off_square: deg(off_square, 7.5),
            offset: Some(mm(f64::from(offset) * 5.0 - 5.0)),
            turn: deg(turn, 45.0),
            first: [None, Some(Side::A), Some(Side::B)][first as usize],
        },
        count: 1 + place % 3,
        notes: CutNotes::default(),
    }
}

fn cuts(small: &[Small]) -> Vec<Cut> {
    let each = small.iter().enumerate();
    each.map(|(place, small)| cut(*small, place)).collect()
}

/// The effort from one cut to the next, from what is typed.
fn between(a: &Cut, b: &Cut) -> u32 {
    let (from, to) = (&a.setting, &b.setting);
    let changed = |is: bool, effort: u32| if is { effort } else { 0 };
    changed(a.saw != b.saw, EFFORT.saw)
        + changed(from.off_square != to.off_square, EFFORT.off_square)
        + changed(from.offset != to.offset, EFFORT.offset)
        + changed(from.turn != to.turn, EFFORT.turn)
        + changed(from.first != to.first, EFFORT.first)
}

fn effort(cuts: &[&Cut]) -> u32 {
    cuts.windows(2).map(|pair| between(pair[0], pair[1])).sum()
}

fn set_ups(cuts: &[&Cut]) -> usize {
    let changed = cuts.windows(2).filter(|pair| between(pair[0], pair[1]) > 0);
    changed.count() + cuts.len().min(1)
}

/// One cut of each saw and setting.
fn different(cuts: &[Cut]) -> Vec<&Cut> {
    let mut different: Vec<&Cut> = Vec::new();
    for cut in cuts {
        if different.iter().all(|other| between(other, cut) > 0) {
            different.push(cut);
        }
    }
    different
}

/// Every order of the settings, saw by saw or not.
fn every_order(order: &mut Vec<&Cut>, at: usize, by_saw: bool, least: &mut u32) {
    if at == order.len() {
        let runs = 1 + order
            .windows(2)
            .filter(|pair| pair[0].saw != pair[1].saw)
            .count();
        let mut saws: Vec<Saw> = Vec::new();
        for cut in order.iter() {
            if !saws.contains(&cut.saw) {
                saws.push(cut.saw);
            }
        }
        if !by_saw || runs == saws.len() {
            *least = (*least).min(effort(order));
        }
        return;
    }
    for other in at..order.len() {
        order.swap(at, other);
        every_order(order, at + 1, by_saw, least);
        order.swap(at, other);
    }
}

/// What every run list promises.
fn keeps_its_promises(cuts: &[Cut], list: &RunList) {
    let mut listed = vec![0; cuts.len()];
    let mut order: Vec<&Cut> = Vec::new();
    let mut before: Option<(Saw, Setting)> = None;
    let mut efforts = 0;
    for (place, run) in list.saws.iter().enumerate() {
        assert!(list.saws[..place].iter().all(|other| other.saw != run.saw));
        let counts = run.set_ups.iter().map(|set_up| set_up.count);
        assert_eq!(run.count, counts.sum::<usize>());
        for set_up in &run.set_ups {
            assert!(!set_up.cuts.is_empty());
            assert!(set_up.cuts.windows(2).all(|pair| pair[0] < pair[1]));
            let counts = set_up.cuts.iter().map(|cut| cuts[*cut].count);
            assert_eq!(set_up.count, counts.sum::<usize>());
            for cut in &set_up.cuts {
                listed[*cut] += 1;
                order.push(&cuts[*cut]);
                assert_eq!(cuts[*cut].saw, run.saw);
                let (is, to_be) = (set_up.setting, cuts[*cut].setting);
                let near = |a: Option<Angle>, b: Option<Angle>| match (a, b) {
                    (Some(a), Some(b)) => {
                        let off = (a - b).within_turn().deg();
                        off.min(360.0 - off) < 0.026
                    }
                    (a, b) => a == b,
                };
                assert!(near(is.off_square, to_be.off_square) && near(is.turn, to_be.turn));
                assert!((is.offset.unwrap() - to_be.offset.unwrap()).mm().abs() < 0.051);
                assert_eq!(is.first, to_be.first);
            }
            let takes: u32 = set_up.changes.iter().map(|dial| EFFORT.of(*dial)).sum();
            if before.is_some() {
                efforts += takes;
                assert!(takes > 0);
            }
            before = Some((run.saw, set_up.setting));
        }
    }
    let once: Vec<usize> = cuts.iter().map(|cut| usize::from(cut.count > 0)).collect();
    assert_eq!(listed, once);
    let typed: Vec<&Cut> = cuts.iter().filter(|cut| cut.count > 0).collect();
    assert_eq!(list.effort, effort(&order));
    assert_eq!(list.effort, efforts);
    assert_eq!(list.set_ups, set_ups(&order));
    assert_eq!(list.effort_in_piece_order, effort(&typed));
    assert_eq!(list.set_ups_in_piece_order, set_ups(&typed));
    assert!(
        list.effort <= list.effort_in_piece_order,
        "worse than piece order: {list:?}"
    );
    assert!(list.set_ups <= list.set_ups_in_piece_order);
    assert_eq!(list.saved(), list.set_ups_in_piece_order - list.set_ups);
}

fn planned(cuts: &[Cut]) -> RunList {
    let list = run_list(cuts).unwrap();
    keeps_its_promises(cuts, &list);
    list
}

#[test]
fn no_cuts_need_no_set_up() {
    let list = planned(&[]);
    assert!(list.saws.is_empty() && list.proven);
    assert_eq!(
        (list.set_ups, list.set_ups_in_piece_order, list.effort),
        (0, 0, 0)
    );
    let mut none = cut((2, 1, 1, 0, 0), 0);
    none.count = 0;
    assert!(planned(&[none]).saws.is_empty());
}

#[test]
fn values_within_a_tick_share_a_set_up() {
    let at = |deg: f64, offset: f64| {
        let mut cut = cut((2, 0, 0, 0, 0), 0);
        cut.setting.off_square = Some(Angle::from_deg(deg));
        cut.setting.offset = Some(mm(offset));
        cut
    };
    let list = run_list(&[at(30.0, 5.0), at(30.02, 4.97), at(29.98, 5.04)]).unwrap();
    assert_eq!(list.set_ups, 1);
    let list = run_list(&[at(30.0, 5.0), at(30.05, 5.0), at(30.0, -5.0), at(30.0, 5.1)]).unwrap();
    assert_eq!(
        list.set_ups, 4,
        "the side of an offset and a whole tick count"
    );
}

#[test]
fn both_ends_of_equal_braces_are_run_together() {
    // Brace, upright, brace, upright: both ends of each, the braces at 30° off square.
    let cuts = cuts(&[
        (30, 4, 1, 0, 0),
        (30, 4, 1, 0, 0),
        (30, 1, 1, 0, 0),
        (40, 1, 1, 0, 0),
        (30, 4, 1, 0, 0),
        (30, 4, 1, 0, 0),
        (30, 1, 1, 0, 0),
        (40, 1, 1, 0, 0),
    ]);
    let list = planned(&cuts);
    // In piece order 4 | 1 | 40 | 4 | 1 | 40; grouped 4 | 1 | 40.
    assert_eq!(
        (list.set_ups_in_piece_order, list.set_ups, list.saved()),
        (6, 3, 3)
    );
    assert_eq!(list.effort, EFFORT.off_square + EFFORT.saw);
}

#[test]
fn the_way_from_saw_to_saw_counts() {
    // Each saw has two angles; the shared one joins them whatever the order of the list.
    let list = planned(&cuts(&[
        (30, 4, 1, 0, 0),
        (30, 2, 1, 0, 0),
        (40, 6, 1, 0, 0),
        (40, 4, 1, 0, 0),
    ]));
    assert_eq!(list.effort, EFFORT.saw + 2 * EFFORT.off_square);
}

fn small(saws: u32, dial: u32) -> impl Strategy<Value = Small> {
    (0..saws, 0..dial, 0..dial, 0..dial.min(4), 0..3_u32)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn few_settings_are_run_in_the_best_order(
        small in prop::collection::vec(small(4, 3), 1..=10),
    ) {
        let cuts = cuts(&small);
        let list = planned(&cuts);
        let mut order = different(&cuts);
        order.truncate(7);
        // The same settings alone, so that all their orders can be tried.
        let few: Vec<Cut> = order.iter().map(|cut| (*cut).clone()).collect();
        let of_few = planned(&few);
        let (mut by_saw, mut any) = (u32::MAX, u32::MAX);
        every_order(&mut order, 0, true, &mut by_saw);
        every_order(&mut order, 0, false, &mut any);
        prop_assert_eq!(of_few.effort, by_saw);
        prop_assert_eq!(by_saw, any, "cutting saw by saw never takes more");
        prop_assert!(of_few.proven && list.proven);
    }

    #[test]
    fn many_settings_keep_every_promise(
        small in prop::collection::vec(small(12, 12), 1..=120),
    ) {
        let cuts = cuts(&small);
        let list = planned(&cuts);
        prop_assert_eq!(list.set_ups, different(&cuts).len());
        prop_assert_eq!(&list, &run_list(&cuts).unwrap());
    }

    #[test]
    fn many_settings_of_few_saws_keep_every_promise(
        small in prop::collection::vec(small(2, 9), 1..=80),
    ) {
        let list = planned(&cuts(&small));
        prop_assert!(list.saws.len() <= 2);
    }
}
