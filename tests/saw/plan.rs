//! The plan of an end: which saw, which way, what to cut first, in words.

use copewright::job::saw::{
    Depth, Method, SawCaution, plan_ends, pre_cut_on_paper, read_tools, saw_facts, saw_on_sheet,
    verdicts_in_words,
};
use copewright::job::shop::{Saw, Setting};
use copewright::job::{AtHand, MachineTyped, open_form, read};
use copewright::piece::Side;
use copewright::units::Unit;
use proptest::prelude::*;

use crate::{deg, end, mm, piece, plan, row, saw, saws, why};

#[test]
fn a_deep_saw_of_the_right_size_cuts_a_right_angle_as_it_is() {
    let draft = end("branch=42.4&wall=2.6&main=48.3&angle=90&cut=saw");
    let at_hand = saws(&[
        saw("small", "44", "60"),
        saw("shallow", "48.4", "35"),
        saw("deep", "48", "44"),
    ]);
    let plan = plan(&draft, &at_hand);
    assert_eq!(plan.method, Method::SawAsItIs);
    assert_eq!(plan.chosen_saw().unwrap().saw.name, "deep");
    assert_eq!(plan.saw, Saw::Hole(mm(48.0)));
    // At 90° the saw travels one outside diameter.
    assert_eq!(
        why(&plan),
        "The saw is 44 mm deep and 42.4 mm is needed: 1.6 mm left."
    );
    let facts = saw_facts(&plan, &draft.template);
    assert_eq!(
        row(&facts, "Saw travels, first touch to clear").value,
        "42.4 mm"
    );
    assert_eq!(
        row(&facts, "The blank ends").value,
        "square, at the long point"
    );
    assert_eq!(row(&facts, "Off square").value, "0°");
    // 27.432 m/min on 48 mm: 181.9 a minute, to the next 5.
    assert_eq!(
        row(&facts, "Spindle speed").value,
        "180 turns a minute in steel"
    );
    let others = verdicts_in_words(&plan);
    assert_eq!(others[0].value, "not here");
    assert!(
        others[0]
            .remark
            .as_ref()
            .unwrap()
            .contains("4.3 mm smaller than the 48.3 mm")
    );
    assert!(
        others[1]
            .remark
            .as_ref()
            .unwrap()
            .contains("7.4 mm too shallow")
    );
    assert_eq!(others[2].value, "best here");
}

#[test]
fn the_reason_why_no_saw_is_right_has_its_numbers() {
    let draft = end("branch=42.4&wall=2.6&main=48.3&angle=90&cut=saw");
    let wrong = plan(&draft, &saws(&[saw("a", "44", "60"), saw("b", "51", "60")]));
    assert_eq!(wrong.method, Method::Grinder);
    assert!(
        why(&wrong).starts_with(
            "No saw at hand is within 0.79 mm of the 48.3 mm that is wanted: the best of them, b, is \
             2.7 mm too large."
        ),
        "{}",
        why(&wrong)
    );
    let shallow = plan(&draft, &saws(&[saw("cup", "48.3", "12")]));
    assert_eq!(shallow.method, Method::Grinder);
    assert!(
        why(&shallow).starts_with("cup is 12 mm deep and 42.4 mm is needed, 30.4 mm more."),
        "{}",
        why(&shallow)
    );
    assert_eq!(shallow.saw, Saw::Grinder);
    assert_eq!(shallow.setting, Setting::default());
    let none = plan(&draft, &AtHand::default());
    assert_eq!(none.method, Method::SawAsItIs);
    assert!(why(&none).contains("No saw with a diameter is named. One of 48.3 mm is wanted"));
}

#[test]
fn the_sheet_says_saw_side_depth_and_speed() {
    let on_sheet = |link: &str, own: &AtHand| -> Vec<(&str, String)> {
        let draft = end(link);
        saw_on_sheet(&plan(&draft, own), &draft.template)
    };
    let upright = "branch=42.4&wall=2.6&main=48.3&angle=90&cut=saw";
    let deep = saws(&[saw("deep one", "48", "44")]);
    let line = |caption, value: &str| (caption, value.to_owned());
    let pre_cut = line(
        "Pre-cut, if you like",
        "39° off square, deepest 30.61 mm from the mark line on line 0°",
    );
    assert_eq!(
        on_sheet(upright, &deep),
        [
            line(
                "Cut it with",
                "deep one, 48 mm: hole saw, the blank as it is"
            ),
            line("Depth it needs", "42.4 mm; the saw has 44 mm"),
            line("Spindle speed", "about 180 turns a minute in steel"),
            pre_cut.clone(),
        ]
    );
    let beside = on_sheet(&format!("{upright}&offset=4"), &deep);
    assert_eq!(
        beside[1],
        line(
            "Offset to dial in",
            "4 mm, saw to the left of the tube, seen from behind the saw, body upwards"
        )
    );
    // Steep: first the straight cut, and the depth that is left to do.
    let leaning = on_sheet(
        "branch=42.4&wall=2.6&main=48.3&angle=35&cut=saw",
        &saws(&[saw("", "48.3", "90")]),
    );
    assert!(
        leaning[0].1.ends_with("hole saw, after a straight pre-cut"),
        "{leaning:?}"
    );
    assert!(
        leaning[1]
            .1
            .ends_with(" after the pre-cut; the saw has 90 mm"),
        "{leaning:?}"
    );
    let shallow = on_sheet(
        "branch=42.4&wall=2.6&main=48.3&angle=35&cut=saw",
        &saws(&[saw("", "48", "50")]),
    );
    assert!(
        shallow[1].1.ends_with("the saw has 50 mm: 2 bites"),
        "{shallow:?}"
    );
    // Nothing that is at hand will do, and why.
    let none = on_sheet(upright, &saws(&[saw("cup", "48.3", "12")]));
    assert_eq!(none.len(), 2);
    assert_eq!(none[1], pre_cut);
    assert!(
        none[0]
            .1
            .starts_with("grinder, to the line. cup is 12 mm deep and 42.4 mm is needed"),
        "{none:?}"
    );
    // Who has no saws is told nothing of them, only of the straight cut.
    assert_eq!(on_sheet(upright, &AtHand::default()), [pre_cut]);
    assert_eq!(leaning.last().unwrap().0, "Pre-cut first");
}

#[test]
fn a_root_gap_wants_a_larger_saw() {
    let draft = end("branch=42.4&wall=2.6&main=48.3&angle=90&cut=saw&gap=1.5");
    let plan = plan(
        &draft,
        &saws(&[saw("a", "48.3", "60"), saw("b", "51", "60")]),
    );
    assert_eq!(plan.wanted, Some(mm(51.3)));
    assert_eq!(plan.chosen_saw().unwrap().saw.name, "b");
}

#[test]
fn steepness_decides_between_saw_and_grinder() {
    let deep = saws(&[saw("deep", "48.3", "250")]);
    for (angle, method) in [
        (41, Method::SawAsItIs),
        (40, Method::SawAfterPreCut),
        (21, Method::SawAfterPreCut),
        (20, Method::Grinder),
    ] {
        let link = format!("branch=42.4&wall=2.6&main=48.3&angle={angle}&cut=saw");
        let plan = plan(&end(&link), &deep);
        assert_eq!(plan.method, method, "{angle}: {}", why(&plan));
    }
    let at_hand = AtHand {
        machine: MachineTyped {
            angle_max: "45".into(),
            ..MachineTyped::default()
        },
        ..deep
    };
    let plan = plan(
        &end("branch=42.4&wall=2.6&main=48.3&angle=40&cut=saw"),
        &at_hand,
    );
    assert_eq!(plan.method, Method::Grinder);
    assert!(
        why(&plan).starts_with("The machine swings to 45° off square; 50° is wanted, 5° more."),
        "{}",
        why(&plan)
    );
}

#[test]
fn other_mains_have_their_own_way() {
    let at_hand = saws(&[saw("deep", "48.3", "250")]);
    for (link, method, said) in [
        ("kind=plate&angle=60", Method::StraightSaw, "plane"),
        (
            "kind=plate&angle=20",
            Method::Grinder,
            "70° off square is more than the 60°",
        ),
        (
            "kind=plate&angle=12",
            Method::Grinder,
            "is a plane: a straight saw’s cut, but not here. 78° off square is more than the 60° \
             that most saws swing, 18° more (common practice): cut it with the grinder",
        ),
        (
            "kind=mitre&main=42.4&angle=90",
            Method::StraightSaw,
            "plane",
        ),
        (
            "kind=rectangular&angle=60&width=50&height=50&mainwall=3",
            Method::Grinder,
            "square or rectangular",
        ),
        (
            "kind=bent&main=48.3&angle=60&clr=150&bend=90",
            Method::Grinder,
            "bent tube",
        ),
    ] {
        let opened = open_form(&format!("v=1&unit=mm&branch=42.4&wall=2.6&cut=saw&{link}"));
        let Ok(draft) = read(&opened.form.end(Side::A)) else {
            panic!("{link}: {:?}", opened.problems)
        };
        let plan = plan(&draft, &at_hand);
        assert_eq!(plan.method, method, "{link}: {}", why(&plan));
        assert!(why(&plan).contains(said), "{link}: {}", why(&plan));
        assert_eq!(plan.reach, None);
        for fact in saw_facts(&plan, &draft.template) {
            assert!(!fact.value.contains("unknown"), "{fact:?}");
        }
    }
}

#[test]
fn grip_stock_is_taken_off_by_the_least_pre_cut() {
    let link = "a=coped&b=square&measured=centres&length=600&gripa=60\
                &branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw";
    let piece = piece(link);
    let template = piece.piece.end(Side::A).template().unwrap();
    let plan_with = |depth: &str| {
        let (tools, _) = read_tools(&saws(&[saw("own", "48.3", depth)]), Unit::Millimetre);
        plan_ends(&piece, &tools, mm(3.0))[0].clone().unwrap()
    };
    let deep = plan_with("200");
    let (square, after) = (deep.reach.unwrap(), deep.reach_after.unwrap());
    assert!(after.cup() < square.cup());
    // Between the two: the least pre-cut is just enough.
    let between = format!("{}", (square.cup() + after.cup()).mm() / 2.0);
    let plan = plan_with(&between);
    assert_eq!(plan.method, Method::SawAfterPreCut, "{}", why(&plan));
    assert!(matches!(plan.chosen_saw().unwrap().depth, Depth::After(_)));
    assert!(plan.least.is_some());
    let facts = saw_facts(&plan, template);
    assert_eq!(
        row(&facts, "The blank ends").value,
        "square, 60 mm of grip stock beyond the long point"
    );
    row(&facts, "Least pre-cut that makes it deep enough");
    // On paper it is the cosine, below the blank's end nowhere and above the line everywhere.
    let cut = plan.pre_cut.unwrap();
    let runs = pre_cut_on_paper(template, &plan);
    let mut points = 0;
    for point in runs.iter().flat_map(|run| &run.points) {
        let turn = deg(360.0) * (point.around / template.wrap().width());
        let line = template.station(turn).point.above_mark;
        assert!(
            point.above_mark >= line + mm(3.0 - 0.01),
            "{point:?} {line:?}"
        );
        assert!(point.above_mark <= template.mark_to_long() + mm(60.0 + 1e-6));
        let height = cut.height(21.2, turn - template.heel_turn());
        let off = (template.mark_to_centre() - height - point.above_mark).abs();
        assert!(off < mm(0.01), "{off:?}");
        points += 1;
    }
    assert!(points > 20, "{points}");
}

#[test]
fn an_offset_is_dialled_to_the_side_where_the_main_is() {
    // The main lies towards the line a quarter turn on from the heel; in the frame of the end that
    // is +y, and along the saw's feed with the body upwards +y is on the left.
    let draft = end("branch=42.4&wall=2.6&main=60.3&angle=60&offset=5&cut=saw");
    let plan = plan(&draft, &saws(&[saw("own", "60.3", "90")]));
    assert_eq!(plan.setting.offset, Some(mm(5.0)));
    let facts = saw_facts(&plan, &draft.template);
    let offset = row(&facts, "Offset to dial in");
    assert_eq!(offset.value, "5 mm, saw to the left of the tube");
    assert!(offset.remark.as_ref().unwrap().contains("line 90°"));
    let main = draft.template.cope().joint().main();
    // Towards the viewer's left: body × feed.
    let feed = main.in_branch_frame([1.0, 0.0, 0.0]);
    let up = main.in_branch_frame([0.0, 0.0, 1.0]);
    let origin = main.in_branch_frame([0.0, 0.0, 0.0]);
    let (feed, up) = (
        [0, 1, 2].map(|i| feed[i] - origin[i]),
        [0, 1, 2].map(|i| up[i] - origin[i]),
    );
    let left = up[2] * feed[0] - up[0] * feed[2];
    assert!(left * origin[1] > 0.0, "{left} {origin:?}");
    // The body leans away from the saw: the feed has a part along it.
    assert!(feed[2] > 0.0);
}

#[test]
fn cautions_are_those_of_the_way_of_cutting() {
    let at_hand = saws(&[saw("deep", "48.3", "250")]);
    let of = |angle: u32| {
        let link = format!("branch=42.4&wall=2.6&main=48.3&angle={angle}&cut=saw");
        SawCaution::of(&plan(&end(&link), &at_hand))
    };
    let [square, steep, ground] = [90, 35, 15].map(of);
    let grabs = |cautions: &[SawCaution]| {
        cautions
            .iter()
            .any(|caution| matches!(caution, SawCaution::Grab { .. }))
    };
    assert!(!grabs(&square) && grabs(&steep) && !grabs(&ground));
    for cautions in [&square, &steep] {
        assert!(cautions.contains(&SawCaution::Spindle));
        assert!(cautions.contains(&SawCaution::Clamp));
    }
    assert!(!ground.contains(&SawCaution::Spindle) && ground.contains(&SawCaution::Grinder));
    for cautions in [&square, &steep, &ground] {
        assert_eq!(cautions.last(), Some(&SawCaution::Codes));
        assert!(cautions.contains(&SawCaution::Coating));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    /// Every joint that can be typed gets a plan whose words are words.
    #[test]
    fn every_end_gets_a_plan(
        branch in 10.0..80.0_f64,
        ratio in 0.4..2.5_f64,
        angle in 5.0..90.0_f64,
        shift in -0.9..0.9_f64,
        diameter in 10.0..90.0_f64,
        depth in 1.0..120.0_f64,
        unit in prop::sample::select(Unit::ALL.to_vec()),
    ) {
        let main = branch * ratio;
        let offset = shift * (branch + main) / 2.0;
        let link = format!(
            "branch={branch}&wall={}&main={main}&angle={angle}&offset={offset}&cut=saw",
            branch * 0.06
        );
        let mut draft = end(&link);
        draft.unit = unit;
        let typed = [
            saw("near", &format!("{} mm", main + 0.3), &format!("{depth} mm")),
            saw("any", &format!("{diameter} mm"), ""),
        ];
        let plan = plan(&draft, &saws(&typed));
        let facts = saw_facts(&plan, &draft.template);
        prop_assert!(!facts.is_empty());
        for fact in facts.iter().chain(&verdicts_in_words(&plan)) {
            let text = format!("{} {} {:?}", fact.label, fact.value, fact.remark);
            prop_assert!(!text.contains("unknown") && !text.contains("NaN"), "{}", text);
        }
        for caution in SawCaution::of(&plan) {
            prop_assert!(caution.sentence(&plan, unit).ends_with('.'));
        }
        prop_assert!(!why(&plan).is_empty());
        if let (Some(square), Some(after)) = (plan.reach, plan.reach_after) {
            prop_assert!(after.cup() <= square.cup() + mm(1e-6));
        }
    }
}

#[test]
fn no_straight_cut_is_asked_for_where_it_spares_the_saw_nothing() {
    // Too deep for the saw in one go, and upright: what is behind the line stays as deep.
    let upright = end("branch=48.3&wall=3.2&main=60.3&angle=90&cut=saw");
    let shallow = plan(&upright, &saws(&[saw("cup", "60", "38")]));
    assert_eq!(shallow.method, Method::SawAsItIs);
    assert!(why(&shallow).contains("2 bites"), "{}", why(&shallow));
    assert_eq!(
        shallow.reach.map(|reach| reach.cup()),
        shallow.reach_after.map(|reach| reach.cup())
    );
    // So steep that the bulk comes off first whatever the depth.
    let steep = end("branch=48.3&wall=3.2&main=60.3&angle=40&cut=saw");
    let steep = plan(&steep, &saws(&[saw("cup", "60", "44")]));
    assert_eq!(steep.method, Method::SawAfterPreCut, "{}", why(&steep));
}

/// Where a straight cut meets the tube beyond the long point is said in words, not with a sign.
#[test]
fn no_distance_from_the_long_point_is_below_nought() {
    use copewright::units::Denominator;

    let mut beyond = 0;
    for angle in [20, 35, 45, 60, 75] {
        for (grip, unit) in [
            (0, Unit::Millimetre),
            (60, Unit::Millimetre),
            (60, Unit::Fraction(Denominator::Sixteenth)),
        ] {
            let piece = piece(&format!(
                "a=coped&b=square&measured=centres&length=900&gripa={grip}\
                 &branch=42.4&wall=2.6&main=48.3&angle={angle}&cut=saw"
            ));
            let piece = copewright::job::PieceDraft { unit, ..piece };
            let (tools, _) = read_tools(&saws(&[saw("own", "48.3", "70")]), Unit::Millimetre);
            let plan = plan_ends(&piece, &tools, mm(3.0))[0].clone().unwrap();
            let template = piece.piece.end(Side::A).template().unwrap();
            for fact in saw_facts(&plan, template) {
                let (label, value) = (&fact.label, &fact.value);
                if label.ends_with("from the long point") || label.starts_with("Least pre-cut") {
                    assert!(
                        !value.starts_with('−') && !value.contains(", −"),
                        "{label}: {value}"
                    );
                    beyond += usize::from(value.contains(" beyond the long point"));
                }
            }
        }
    }
    assert!(beyond >= 3, "{beyond}");
}
