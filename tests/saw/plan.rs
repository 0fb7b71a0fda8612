//! The plan of an end: which saw, which way, in words and for the run list.

use copewright::job::saw::{
    Depth, EndPlan, Method, PRE_CUT_CLEARANCE, SawCaution, SawFact, Why, between_ends, cuts_added,
    offered_saws, plan_end, plan_ends, pre_cut_on_paper, read_tools, saw_facts, shop_cut,
    shop_cuts, side_by_side, verdicts_in_words, wear_in_words,
};
use copewright::job::shop::{Saw, Setting, run_list};
use copewright::job::{
    AtHand, Draft, MachineTyped, PieceDraft, SawTyped, open_form, read, read_piece,
};
use copewright::piece::Side;
use copewright::stock::hole_saws;
use copewright::units::{Unit, write_length};
use proptest::prelude::*;

use crate::{deg, mm};

fn end(link: &str) -> Draft {
    let opened = open_form(&format!("v=1&unit=mm&{link}"));
    assert!(opened.problems.is_empty(), "{link}: {:?}", opened.problems);
    read(&opened.form.end(Side::A)).unwrap_or_else(|problems| panic!("{link}: {problems:?}"))
}

fn piece(link: &str) -> PieceDraft {
    let opened = open_form(&format!("v=1&unit=mm&piece=yes&{link}"));
    assert!(opened.problems.is_empty(), "{link}: {:?}", opened.problems);
    let form = opened.form;
    let drafts: [Option<Draft>; 2] = Side::BOTH.map(|side| read(&form.end(side)).ok());
    read_piece(&form, [drafts[0].as_ref(), drafts[1].as_ref()])
        .unwrap_or_else(|problems| panic!("{link}: {problems:?}"))
}

fn saw(name: &str, diameter: &str, depth: &str) -> SawTyped {
    SawTyped {
        name: name.into(),
        diameter: diameter.into(),
        depth: depth.into(),
        ..SawTyped::default()
    }
}

fn saws(saws: &[SawTyped]) -> AtHand {
    AtHand {
        saws: saws.to_vec(),
        ..AtHand::default()
    }
}

fn plan(draft: &Draft, at_hand: &AtHand) -> EndPlan {
    let (tools, problems) = read_tools(at_hand, draft.unit);
    assert!(problems.is_empty(), "{problems:?}");
    let template = &draft.template;
    plan_end(
        template,
        Side::A,
        None,
        draft.unit,
        &tools,
        PRE_CUT_CLEARANCE,
    )
}

fn why(plan: &EndPlan) -> String {
    let sentences: Vec<String> = plan.why.iter().map(|why| why.sentence(plan.unit)).collect();
    sentences.join(" ")
}

fn row<'a>(facts: &'a [SawFact], label: &str) -> &'a SawFact {
    facts
        .iter()
        .find(|fact| fact.label == label)
        .unwrap_or_else(|| panic!("{label}: {facts:?}"))
}

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
            "No saw at hand is within 0.79 mm of the 48.3 mm that is wanted: the nearest, b, is \
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
fn a_line_for_the_grinder_is_told_from_one_for_the_saw() {
    let at_hand = saws(&[saw("deep", "48.3", "250")]);
    let square = plan(
        &end("branch=42.4&wall=2.6&main=48.3&angle=60&cut=square"),
        &at_hand,
    );
    assert!(
        square.why.contains(&Why::Line { saw: true }),
        "{:?}",
        square.why
    );
    let saw = plan(
        &end("branch=42.4&wall=2.6&main=48.3&angle=20&cut=saw"),
        &at_hand,
    );
    assert!(saw.why.contains(&Why::Line { saw: false }), "{:?}", saw.why);
    let right = plan(
        &end("branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw"),
        &at_hand,
    );
    assert!(!right.why.iter().any(|why| matches!(why, Why::Line { .. })));
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
    let runs = pre_cut_on_paper(template, &cut, &plan.blank);
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
fn clamp_and_room_are_checked_on_the_piece() {
    let link = "a=coped&b=coped&measured=centres&length=300&count=4\
                &branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw\
                &b-main=48.3&b-angle=60&b-cut=saw&b-turn=180";
    let piece = piece(link);
    let plans = |clamp: &str, behind: &str| {
        let at_hand = AtHand {
            machine: MachineTyped {
                clamp: clamp.into(),
                behind: behind.into(),
                ..MachineTyped::default()
            },
            ..saws(&[saw("own", "48.3", "90")])
        };
        let (tools, problems) = read_tools(&at_hand, Unit::Millimetre);
        assert!(problems.is_empty(), "{problems:?}");
        plan_ends(&piece, &tools, mm(3.0))
    };
    let [Some(a), Some(b)] = plans("80", "1000") else {
        panic!("both ends are coped")
    };
    assert_eq!([a.method, b.method], [Method::SawAsItIs; 2], "{}", why(&a));
    assert_eq!(a.room.too_long, None);
    let rows = side_by_side(&[Some(a.clone()), Some(b.clone())], &piece);
    let off = rows.iter().find(|row| row.label == "Off square").unwrap();
    assert_eq!(off.ends, ["30°", "30°"]);
    // Heels on opposite sides: the line that faced the saw is kept there, so half a turn is left.
    let between = between_ends(&piece).unwrap();
    assert!(between.contains("roll it by 180°"), "{between}");
    let blank = write_length(piece.piece.lengths().blank, Unit::Millimetre);
    assert!(
        between.contains(&format!("takes {blank} of free room")),
        "{between}"
    );

    let [Some(a), _] = plans("80", "100") else {
        panic!("end A is coped")
    };
    // Blank less the cut and the clamp.
    let lengths = piece.piece.lengths();
    let cope = piece.piece.end(Side::A).template().unwrap().cope();
    let cut = cope.short_point().height - cope.long_point().height;
    let over = (lengths.blank - cut - mm(180.0)).mm();
    assert!((a.room.too_long.unwrap().mm() - over).abs() < 1e-9);

    let [Some(a), _] = plans("400", "") else {
        panic!("end A is coped")
    };
    assert_eq!(a.method, Method::Grinder);
    assert!(why(&a).contains("too short for the clamp"), "{}", why(&a));
}

#[test]
fn a_bend_too_near_for_the_clamp_is_told() {
    let link = "a=coped&b=square&measured=centres&length=120&bends=1&bendangle1=90&bendradius1=130\
                &outside1=0&straight1=300&branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw";
    let piece = piece(link);
    let at_hand = AtHand {
        machine: MachineTyped {
            clamp: "150".into(),
            ..MachineTyped::default()
        },
        ..saws(&[saw("own", "48.3", "90")])
    };
    let (tools, _) = read_tools(&at_hand, Unit::Millimetre);
    let [Some(a), None] = plan_ends(&piece, &tools, mm(3.0)) else {
        panic!("only end A is coped")
    };
    assert_eq!(a.method, Method::Grinder);
    assert!(
        why(&a).starts_with("The clamp would hold on bend 1"),
        "{}",
        why(&a)
    );
}

#[test]
fn ends_with_equal_settings_run_together() {
    let link = "a=coped&b=square&measured=centres&length=600&count=3\
                &branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw";
    let at_hand = saws(&[saw("own", "48.3", "90")]);
    let brace = piece(link);
    let mut cuts = shop_cuts("brace", &brace, &at_hand, PRE_CUT_CLEARANCE);
    let upright = end("branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw");
    cuts.push(shop_cut("upright", &upright, &at_hand, PRE_CUT_CLEARANCE));
    let steep = end("branch=42.4&wall=2.6&main=48.3&angle=45&cut=saw");
    cuts.push(shop_cut("strut", &steep, &at_hand, PRE_CUT_CLEARANCE));
    assert_eq!(cuts.len(), 3);
    assert_eq!(cuts[0].setting.off_square, Some(deg(90.0) - deg(60.0)));
    let list = run_list(&cuts).unwrap();
    assert_eq!((list.saws.len(), list.set_ups), (1, 2));
    assert_eq!(list.saws[0].count, 5);
    let together = list.saws[0].set_ups.iter().find(|set_up| set_up.count == 4);
    assert_eq!(together.unwrap().cuts, [0, 1]);
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

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]
    /// The tube is rolled by the angle between the two heels in space, and the line that is named is
    /// end B's toe.
    #[test]
    fn the_roll_between_the_ends_is_the_one_in_space(turn_a in 0_u32..360, turn_b in 0_u32..360) {
        let link = format!(
            "a=coped&b=coped&measured=centres&length=600&turn={turn_a}\
             &branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw\
             &b-main=48.3&b-angle=60&b-cut=saw&b-turn={turn_b}"
        );
        let piece = piece(&link);
        let words = between_ends(&piece).unwrap();
        let [a, b] = Side::BOTH.map(|side| piece.piece.end_frame(side));
        let dot: f64 = (0..3).map(|i| a.x[i] * b.x[i]).sum();
        let roll = dot.clamp(-1.0, 1.0).acos().to_degrees();
        if roll < 0.1 {
            prop_assert!(words.contains("; it is not rolled."), "{}", words);
            return Ok(());
        }
        let said = words.split("roll it by ").nth(1).unwrap().split('°').next().unwrap();
        prop_assert!((said.parse::<f64>().unwrap() - roll).abs() < 0.01, "{words} {roll}");
        let line = words.split("the line at ").nth(1).unwrap().split('°').next().unwrap();
        let line = line.parse::<f64>().unwrap();
        // The zero line's own frame turned to that line shows away from end B's heel.
        let named = copewright::piece::Frame::START.around(deg(line), mm(1.0));
        let away: f64 = (0..3).map(|i| named[i] * b.x[i]).sum();
        prop_assert!((away + 1.0).abs() < 1e-6, "{words}: {away}");
    }
}

#[test]
fn a_saw_that_does_not_last_the_job_is_told_once() {
    let link = "a=coped&b=coped&measured=centres&length=600&count=6\
                &branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw\
                &b-main=48.3&b-angle=70&b-cut=saw";
    let brace = piece(link);
    let worn = SawTyped {
        cuts: "30".into(),
        life: "40".into(),
        ..saw("old", "48.3", "90")
    };
    let at_hand = saws(std::slice::from_ref(&worn));
    let (tools, _) = read_tools(&at_hand, Unit::Millimetre);
    let cuts = shop_cuts("brace", &brace, &at_hand, PRE_CUT_CLEARANCE);
    // 6 pieces with two ends each.
    assert_eq!(
        wear_in_words(&cuts, &tools),
        ["old has 10 of its 40 cuts left and this job takes 12: have a new one ready."]
    );
    let after = cuts_added(&worn, 4).unwrap();
    assert_eq!((after.cuts.as_str(), after.name.as_str()), ("34", "old"));
    let unreadable = SawTyped {
        cuts: "many".into(),
        ..worn
    };
    assert_eq!(cuts_added(&unreadable, 4), None);
    assert_eq!(cuts_added(&saw("new", "48", ""), 4).unwrap().cuts, "4");
    let fresh = saws(&[saw("old", "48.3", "90")]);
    let (tools, _) = read_tools(&fresh, Unit::Millimetre);
    assert!(wear_in_words(&cuts, &tools).is_empty());
}

#[test]
fn offered_saws_read_back_as_their_size() {
    for unit in Unit::ALL {
        let offered = offered_saws(unit);
        assert_eq!(offered.len(), hole_saws().len());
        let (tools, problems) = read_tools(&saws(&offered), unit);
        assert!(problems.is_empty(), "{problems:?}");
        for (read, listed) in tools.saws.iter().zip(hole_saws()) {
            let off = (read.diameter - listed.diameter).abs();
            assert!(off <= unit.shown_step() * 0.51, "{read:?}");
        }
    }
}
