//! What is said where no saw is right: its size, its cuts, its reach, and what there is to cut.

use copewright::cope::saw::reach;
use copewright::job::fit::FitField;
use copewright::job::saw::{
    Depth, Method, Why, plan_ends, read_tools, saw_facts, saw_on_sheet, verdicts_in_words,
};
use copewright::job::{AtHand, SawTyped};
use copewright::piece::Side;
use copewright::stock::{HOLE_SAW_MATCH, hole_saw_match};
use copewright::units::Unit;

use crate::{end, mm, piece, plan, row, saw, saws, why};

const UPRIGHT: &str = "branch=42.4&wall=2.6&main=48.3&angle=90&cut=saw";

fn used(saw: SawTyped, cuts: &str, life: &str) -> SawTyped {
    SawTyped {
        cuts: cuts.into(),
        life: life.into(),
        ..saw
    }
}

#[test]
fn a_saw_passed_over_for_its_last_cuts_is_named_with_what_to_do() {
    let brace = piece(&format!(
        "a=coped&b=square&measured=centres&length=600&count=6&{UPRIGHT}"
    ));
    let old = used(saw("old", "48.3", "60"), "37", "40");
    let planned = |own: &[SawTyped]| {
        let (tools, _) = read_tools(&saws(own), Unit::Millimetre);
        plan_ends(&brace, &tools, mm(3.0))[0].clone().unwrap()
    };
    let two = planned(&[old.clone(), saw("spare", "48", "60")]);
    assert_eq!(two.chosen_saw().unwrap().saw.name, "spare");
    assert!(
        why(&two).ends_with(
            " old has 3 cuts left and 6 are needed: take spare, or have a new one ready."
        ),
        "{}",
        why(&two)
    );
    let words = verdicts_in_words(&two);
    assert!(
        words[0]
            .remark
            .as_ref()
            .unwrap()
            .ends_with("3 of its 40 cuts left, 6 needed: have a new one ready.")
    );
    // Alone it is taken all the same.
    let one = planned(std::slice::from_ref(&old));
    assert_eq!(one.method, Method::SawAsItIs);
    assert!(
        why(&one).ends_with(" old has 3 cuts left and 6 are needed: have a new one ready."),
        "{}",
        why(&one)
    );
    // One that would not have been taken new either, and one that lasts, are not spoken of.
    let off = used(saw("off", "47.7", "60"), "40", "40");
    let lasting = used(saw("spare", "48", "60"), "1", "40");
    let quiet = planned(&[off, lasting]);
    assert!(
        !quiet.why.iter().any(|why| matches!(why, Why::Worn { .. })),
        "{:?}",
        quiet.why
    );
}

#[test]
fn a_branch_that_only_grazes_the_main_is_the_grinders() {
    let deep = saws(&[saw("deep", "48.3", "90")]);
    // 2 acos((40 − 24.15) / 21.2)
    let grazing = plan(&end(&format!("{UPRIGHT}&offset=40")), &deep);
    assert_eq!(grazing.method, Method::Grinder);
    assert!(
        why(&grazing).starts_with("Only 83° of the tube’s edge lands on the main: "),
        "{}",
        why(&grazing)
    );
    // 2 acos(13.85 / 21.2) is 98°.
    let more = plan(&end(&format!("{UPRIGHT}&offset=38")), &deep);
    assert_eq!(more.method, Method::SawAsItIs, "{}", why(&more));
    // A thin main right across a wide branch lands on little of it, but on both sides.
    let across = plan(
        &end("branch=80&wall=4&main=20&angle=90&cut=saw"),
        &saws(&[saw("thin", "20", "90")]),
    );
    assert_eq!(across.method, Method::SawAsItIs, "{}", why(&across));
}

#[test]
fn a_saw_that_passes_beside_is_told_by_how_much() {
    let thin = plan(
        &end(&format!("{UPRIGHT}&offset=35")),
        &saws(&[saw("thin", "10", "90")]),
    );
    // 35 − 5 − 21.2
    let words = verdicts_in_words(&thin);
    assert!(
        words[0]
            .remark
            .as_ref()
            .unwrap()
            .contains("It does not reach the tube: 8.8 mm beside it."),
        "{words:?}"
    );
    assert!(matches!(thin.verdicts[0].depth, Depth::Beside(_)));
    // The main is met by 0.15 mm, a saw within the match passes by.
    let near = plan(
        &end(&format!("{UPRIGHT}&offset=45.2")),
        &saws(&[saw("near", "47.6", "90")]),
    );
    assert_eq!(near.method, Method::Grinder);
    assert!(
        why(&near)
            .contains("near does not reach the tube: at this offset it passes 0.2 mm beside it."),
        "{}",
        why(&near)
    );
}

#[test]
fn hole_saws_end_somewhere_unless_one_is_at_hand() {
    let link = |branch: f64, main: f64| {
        format!(
            "branch={branch}&wall={}&main={main}&angle=90&cut=saw",
            branch / 16.0
        )
    };
    let none = AtHand::default();
    let wide = end(&link(42.4, 600.0));
    let without = plan(&wide, &none);
    assert_eq!(without.method, Method::Grinder);
    assert_eq!(without.rpm, None);
    assert!(
        why(&without).starts_with(
            "A hole saw of 600 mm would be needed; the usual ones end at 152.4 mm (from memory), \
             447.6 mm less. Grind to the line."
        ),
        "{}",
        why(&without)
    );
    let own = plan(&wide, &saws(&[saw("ring", "600", "60")]));
    assert_eq!(own.method, Method::SawAsItIs, "{}", why(&own));
    // The largest and the smallest are usual themselves.
    for main in [152.4, 14.3] {
        let plan = plan(&end(&link(12.0, main)), &none);
        assert_eq!(plan.method, Method::SawAsItIs, "{}", why(&plan));
    }
    let fine = plan(&end(&link(6.0, 6.0)), &none);
    assert!(
        why(&fine).contains("the usual ones begin at 14.29 mm (from memory), 8.29 mm more."),
        "{}",
        why(&fine)
    );
}

#[test]
fn between_two_sizes_the_nearest_is_told_with_its_gap() {
    let draft = end("branch=49.5&wall=2.6&main=49.5&angle=90&cut=saw");
    let facts = saw_facts(&plan(&draft, &AtHand::default()), &draft.template);
    // The saw's circle touches in the middle; at the side, 24.75 mm out, it stands
    // √(25.4² − 24.75²) − 0.65 = 5.06 mm above the main's axis, 25.26 mm from it.
    assert_eq!(
        row(&facts, "Saw").remark.as_ref().unwrap(),
        "No saw of the common series matches. The nearest, 50.8 mm, is 1.3 mm too large and leaves \
         a gap of up to 0.51 mm: take it where that can be filled, or grind to the line."
    );
    let mut at_hand = saws(&[saw("own", "50.8", "60")]);
    let own = plan(&draft, &at_hand);
    assert!(
        why(&own).contains("own, is 1.3 mm too large. It leaves a gap of up to 0.51 mm. Get one"),
        "{}",
        why(&own)
    );
    assert!(why(&own).contains("take it and fill that, or grind"));
    assert_eq!(verdicts_in_words(&own)[0].value, "if you fill the gap");
    // Whoever fills less cannot, and whoever calls that tight takes it.
    at_hand.fit.set(FitField::Most, "0.5");
    let own = plan(&draft, &at_hand);
    assert!(!why(&own).contains("fill that"), "{}", why(&own));
    assert_eq!(verdicts_in_words(&own)[0].value, "not here");
    at_hand.fit.set(FitField::Tight, "0.6");
    at_hand.fit.set(FitField::Most, "1.6");
    let own = plan(&draft, &at_hand);
    assert_eq!(own.method, Method::SawAsItIs, "{}", why(&own));
}

#[test]
fn a_match_shrinks_with_small_tubes() {
    assert_eq!(hole_saw_match(mm(48.3)), HOLE_SAW_MATCH);
    assert!((hole_saw_match(mm(3.0)).mm() - 0.093_75).abs() < 1e-12);
    let tiny = end("branch=3&wall=0.3&main=3&angle=90&cut=saw");
    let fits = |diameter: &str| {
        let plan = plan(&tiny, &saws(&[saw("own", diameter, "20")]));
        plan.verdicts[0].fits
    };
    assert!(fits("3.09") && !fits("3.2") && !fits("2.8"));
}

#[test]
fn ears_are_measured_and_the_smallest_are_not_nothing() {
    let said = |link: &str, diameter: &str| {
        let draft = end(&format!("wall=2&angle=90&cut=saw&{link}"));
        let at_hand = saws(&[saw("own", diameter, "60")]);
        let facts = saw_facts(&plan(&draft, &at_hand), &draft.template);
        row(&facts, "To grind off after the saw").value.clone()
    };
    // Two ears, each of area 2 r (r − S), √(r² − S²) tall: the closed form of tubes of one size.
    assert_eq!(
        said("branch=40&main=40", "39.5"),
        "0.2 cm² in 2 ears, 3.15 mm tall"
    );
    // The saw's edge is 30 mm from its axis; the line falls there from √(30.15² − 30²) = 3 mm to
    // nothing within a degree.
    let sliver = said("branch=26.9&main=60.3&offset=22", "60");
    assert!(
        sliver.starts_with("less than 0.1 cm² in 1 ear, 2."),
        "{sliver}"
    );
}

#[test]
fn of_two_saws_the_one_that_leaves_less_gap_is_best() {
    // On tubes of one size a saw smaller by little leaves the sides standing: √(R² − S²) off, less
    // R − S at the heel; one larger by more leaves half of what it is larger by.
    let draft = end("branch=48.3&wall=2.6&main=48.3&angle=70&cut=saw");
    let own = saws(&[saw("small", "48", "60"), saw("large", "48.7", "60")]);
    let planned = plan(&draft, &own);
    assert_eq!(planned.chosen_saw().unwrap().saw.name, "large");
    let words = verdicts_in_words(&planned);
    let remark = |at: usize| words[at].remark.clone().unwrap();
    assert_eq!(words[1].value, "best here");
    assert!(
        remark(0).contains("0.3 mm smaller than the 48.3 mm wanted: leaves up to 2.54 mm of gap.")
            && remark(0).contains(
                "That is more than the 1.6 mm that can be filled: grind where it touches."
            )
    );
    assert!(
        remark(1).contains("0.4 mm larger than the 48.3 mm wanted: leaves up to 0.18 mm of gap.")
    );
}

/// Neighbours in the common series of a tube that has no saw of its own: the nearer one gaps ten times
/// as wide.
#[test]
fn the_nearer_saw_is_left_for_one_that_gaps_less() {
    let draft = end("branch=48.3&wall=2.6&main=48.3&angle=60&cut=saw");
    let (near, fits) = ("47.63", "49.21");
    let planned = plan(
        &draft,
        &saws(&[saw("near", near, "80"), saw("fits", fits, "80")]),
    );
    assert_eq!(planned.chosen_saw().unwrap().saw.name, "fits");
    assert_eq!(planned.verdicts[0].band, 2);
    // Not even where it must go in bites.
    let planned = plan(
        &draft,
        &saws(&[saw("near", near, "80"), saw("fits", fits, "60")]),
    );
    assert_eq!(planned.chosen_saw().unwrap().saw.name, "fits");
    let none = plan(&draft, &AtHand::default());
    // The common series has none between 47.63 and 50.8 mm.
    assert_eq!(none.listed.unwrap().0.listed_mm, 51);
    // The circle of 50.8 touches at heel and toe, and is 1.25 mm from the middle of the tube's; at the
    // side √(25.4² − 24.15²) − 1.25 = 6.62 mm up, 25.04 mm from it.
    let facts = saw_facts(&none, &draft.template);
    assert_eq!(
        row(&facts, "Saw").remark.as_ref().unwrap(),
        "Of the common series take 50.8 mm: it leaves up to 0.89 mm of gap."
    );
    // A saw that is all there is gaps as wide on paper as on the page.
    let planned = plan(&draft, &saws(&[saw("near", near, "80")]));
    assert_eq!(
        verdicts_in_words(&planned)[0].value,
        "only with grinding after"
    );
    let sheet = saw_on_sheet(&planned, &draft.template);
    assert_eq!(
        sheet[0].1,
        "near, 47.63 mm: hole saw, the blank as it is; leaves up to 3.67 mm of gap, too wide: grind where \
         it touches"
    );
    let ears = sheet
        .iter()
        .find(|(caption, _)| *caption == "To grind off after");
    assert!(ears.unwrap().1.contains("in 2 ears"), "{ears:?}");
}

#[test]
fn bites_are_counted_after_the_straight_cut() {
    // With grip stock the square blank is far deeper than the line.
    let link = "a=coped&b=square&measured=centres&length=600&gripa=60\
                &branch=33.7&wall=2.6&main=48.3&angle=45&cut=saw";
    let (tools, _) = read_tools(&saws(&[saw("own", "48.3", "38")]), Unit::Millimetre);
    let [Some(planned), _] = plan_ends(&piece(link), &tools, mm(3.0)) else {
        panic!("end A is coped")
    };
    let square = planned.reach.unwrap().cup();
    let after = planned.reach_after.unwrap().cup();
    assert!(
        square > mm(76.0) && after > mm(38.0) && after < mm(76.0),
        "{square:?} {after:?}"
    );
    assert_eq!(planned.chosen_saw().unwrap().depth, Depth::Bites(2));
    assert_eq!(planned.method, Method::SawAfterPreCut, "{}", why(&planned));
    assert!(why(&planned).contains("Go in 2 bites"), "{}", why(&planned));
}

#[test]
fn a_saw_in_bites_is_too_shallow_after_the_cut_that_takes_most_off() {
    // The right diameter, one that leaves a gap, and one that is out of the question.
    let own = ["60.3", "57", "48"].map(|diameter| saw(diameter, diameter, "38"));
    let [mut bites, mut after] = [0, 0];
    for angle in [90, 70, 55, 40, 30] {
        for grip in [0, 20, 60] {
            let link = format!(
                "a=coped&b=square&measured=centres&length=900&gripa={grip}\
                 &branch=48.3&wall=3.2&main=60.3&angle={angle}&cut=saw"
            );
            let (tools, _) = read_tools(&saws(&own), Unit::Millimetre);
            let [Some(planned), _] = plan_ends(&piece(&link), &tools, mm(3.0)) else {
                panic!("end A is coped")
            };
            for (verdict, said) in planned.verdicts.iter().zip(verdicts_in_words(&planned)) {
                let remark = said.remark.unwrap();
                let what = format!("{angle}°, grip {grip}, {}: {remark}", verdict.saw.name);
                assert!(!remark.contains('−'), "{what}");
                match verdict.depth {
                    Depth::Bites(_) => {
                        bites += 1;
                        assert!(verdict.needs > mm(38.0), "{what}");
                    }
                    Depth::After(_) => {
                        after += 1;
                        assert!(verdict.needs <= mm(38.0), "{what}");
                        assert!(remark.contains("deep enough after a pre-cut"), "{what}");
                    }
                    _ => assert!(verdict.reach.unwrap().cup() <= mm(38.0), "{what}"),
                }
            }
        }
    }
    assert!(bites > 0 && after > 0, "{bites} in bites, {after} after");
}

#[test]
fn all_tilts_are_tried_for_a_saw_that_leaves_what_can_be_filled() {
    let link = "a=coped&b=square&measured=centres&length=900&gripa=40\
                &branch=48.3&wall=3.2&main=60.3&angle=60&cut=saw";
    let (tools, _) = read_tools(&saws(&[saw("own", "64", "60")]), Unit::Millimetre);
    let [Some(planned), _] = plan_ends(&piece(link), &tools, mm(3.0)) else {
        panic!("end A is coped")
    };
    let own = &planned.verdicts[0];
    assert!(!own.fits && own.gap > mm(0.0) && own.gap <= planned.gap_most);
    // The cut that takes most off leaves too much, and a steeper one does not.
    assert!(own.needs > mm(60.0), "{own:?}");
    let Depth::After(cut) = own.depth else {
        panic!("{own:?}")
    };
    let draft = piece(link);
    let template = draft.piece.end(Side::A).template().unwrap();
    let left = reach(template.cope().joint(), mm(64.0), &planned.blank.after(cut));
    assert!(left.unwrap().cup() <= mm(60.0), "{left:?}");
}

#[test]
fn a_saw_for_both_ends_must_last_for_both() {
    let link = "a=coped&b=coped&measured=centres&length=600&count=2\
                &branch=42.4&wall=2.6&main=48.3&angle=90&cut=saw\
                &b-main=48.3&b-angle=80&b-cut=saw";
    let planned = |left: &str| {
        let own = saws(&[used(saw("old", "48.3", "90"), left, "60")]);
        let (tools, _) = read_tools(&own, Unit::Millimetre);
        plan_ends(&piece(link), &tools, mm(3.0)).map(Option::unwrap)
    };
    for end in &planned("57") {
        let said = why(end);
        assert!(
            said.contains("old has 3 cuts left and 4 are needed: have a new one ready."),
            "{said}"
        );
    }
    for end in &planned("56") {
        assert!(!why(end).contains("cuts left"), "{}", why(end));
    }
}

#[test]
fn where_a_saw_cannot_be_used_none_is_the_best() {
    let draft = end("branch=33.7&wall=2.6&main=42.4&angle=15&cut=saw");
    let planned = plan(&draft, &saws(&[saw("own", "42.4", "200")]));
    assert_eq!(planned.method, Method::Grinder);
    assert_eq!(verdicts_in_words(&planned)[0].value, "of the right size");
    let facts = saw_facts(&planned, &draft.template);
    assert_eq!(row(&facts, "Depth it needs for that").remark, None);
}
