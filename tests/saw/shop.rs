//! The whole piece at the machine: room, the tube between its ends, the run list, the list of saws.

use copewright::job::saw::{
    Method, PRE_CUT_CLEARANCE, between_ends, cuts_added, offered_saws, plan_ends, read_tools,
    shop_cut, shop_cuts, side_by_side, wear_in_words,
};
use copewright::job::shop::{CutNotes, run_list};
use copewright::job::{AtHand, MachineTyped, SawTyped};
use copewright::piece::Side;
use copewright::stock::hole_saws;
use copewright::units::{Unit, write_length};
use proptest::prelude::*;

use crate::{deg, end, mm, piece, plan, saw, saws, why};

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
    // Neither end needs one.
    let cut = rows.iter().find(|row| row.label == "Pre-cut").unwrap();
    assert!(
        cut.ends.iter().all(|end| end.ends_with(", if you like")),
        "{cut:?}"
    );
    // Heels on opposite sides: the line that faced the saw is kept there, so half a turn is left.
    let between = between_ends(&piece, Side::A).unwrap();
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

/// Saw, speed, bites and the straight cut that comes first go with a cut into the run list.
#[test]
fn a_cut_takes_along_what_else_is_to_be_known() {
    let notes = |angle: u32, saw| {
        let link = format!("branch=42.4&wall=2.6&main=48.3&angle={angle}&cut=saw");
        let end = end(&link);
        let own = saws(&[saw]);
        let plan = plan(&end, &own);
        (shop_cut("brace", &end, &own, PRE_CUT_CLEARANCE).notes, plan)
    };
    let (deep, plan) = notes(60, saw("deep one", "48.3", "90"));
    assert_eq!((deep.saw.as_str(), deep.rpm), ("deep one", plan.rpm));
    assert!(deep.rpm.is_some());
    // It may be left there.
    assert!(plan.pre_cut.is_some());
    assert_eq!((deep.bites, deep.pre_cut), (None, None));
    let (shallow, plan) = notes(35, saw("", "48", "50"));
    assert_eq!((shallow.saw.as_str(), shallow.bites), ("saw 1", Some(2)));
    let first = plan.method == Method::SawAfterPreCut;
    let off_square = plan.pre_cut.map(|cut| cut.off_square);
    assert_eq!(shallow.pre_cut, off_square.filter(|_| first));
    let (steep, _) = notes(35, saw("", "48.3", "90"));
    assert!(steep.pre_cut.is_some());
    let (grinder, _) = notes(60, saw("cup", "48.3", "12"));
    assert_eq!(grinder, CutNotes::default());
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
        let words = between_ends(&piece, Side::A).unwrap();
        let [a, b] = Side::BOTH.map(|side| piece.piece.end_frame(side));
        let dot: f64 = (0..3).map(|i| a.x[i] * b.x[i]).sum();
        let roll = dot.clamp(-1.0, 1.0).acos().to_degrees();
        if roll < 0.1 {
            prop_assert!(words.contains("; it is not rolled."), "{}", words);
            return Ok(());
        }
        let said = words.split("roll it by ").nth(1).unwrap().split('°').next().unwrap();
        prop_assert!((said.parse::<f64>().unwrap() - roll).abs() < 0.01, "{words} {roll}");
        let line = words.split("toe, line ").nth(1).unwrap().split('°').next().unwrap();
        let line = line.parse::<f64>().unwrap();
        // The zero line's own frame turned to that line shows away from end B's heel.
        // End B's template counts its lines the other way round.
        let named = copewright::piece::Frame::START.around(deg(-line), mm(1.0));
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
