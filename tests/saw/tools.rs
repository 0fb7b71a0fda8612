//! What is typed about saws and machine: read, or told with the saw and the field named.

use copewright::job::saw::{PRE_CUT_CLEARANCE, SawField, ToolField, read_clearance, read_tools};
use copewright::job::{AtHand, MachineTyped, SawTyped};
use copewright::units::{Denominator, Unit};

use crate::mm;

const INCH: Unit = Unit::Fraction(Denominator::Sixteenth);

fn typed(texts: [&str; 6]) -> SawTyped {
    let [name, diameter, depth, arbor, cuts, life] = texts.map(str::to_owned);
    SawTyped {
        name,
        diameter,
        depth,
        arbor,
        cuts,
        life,
    }
}

#[test]
fn what_is_typed_is_read_in_the_unit_of_the_job() {
    let at_hand = AtHand {
        saws: vec![
            typed(["", "", "", "", "", ""]),
            typed([" cobalt ", "1 7/8", "1 5/8", "1/2", "12", "40"]),
            typed(["", "48.3 mm", "", "", "", ""]),
        ],
        machine: MachineTyped {
            angle_max: "60".into(),
            clamp: "3".into(),
            behind: "2 ft".into(),
        },
        material: "Stainless Steel".into(),
        ..AtHand::default()
    };
    let (tools, problems) = read_tools(&at_hand, INCH);
    assert!(problems.is_empty(), "{problems:?}");
    // A line with nothing in it is no saw, and the others keep their places.
    assert_eq!(tools.saws.len(), 2);
    let cobalt = &tools.saws[0];
    assert_eq!((cobalt.place, cobalt.name.as_str()), (1, "cobalt"));
    assert_eq!(cobalt.diameter.inches(), 1.875);
    assert_eq!(cobalt.depth.map(|depth| depth.inches()), Some(1.625));
    assert_eq!(cobalt.cuts_left(), Some(28));
    assert_eq!(tools.saws[1].name, "saw 3");
    assert_eq!(tools.saws[1].cuts_left(), None);
    let clamp = tools.machine.clamp.unwrap();
    assert!((clamp.inches() - 3.0).abs() < 1e-12);
    assert_eq!(tools.material.name, "stainless steel");
}

#[test]
fn what_cannot_be_read_is_told_with_its_saw_and_field() {
    let at_hand = AtHand {
        saws: vec![
            typed(["", "", "40", "", "", ""]),
            typed(["old", "48x", "", "", "", ""]),
            typed(["", "48", "-4", "50", "many", "0"]),
        ],
        machine: MachineTyped {
            angle_max: "95".into(),
            clamp: "-1".into(),
            behind: "far".into(),
        },
        material: "glass".into(),
        ..AtHand::default()
    };
    let (tools, problems) = read_tools(&at_hand, Unit::Millimetre);
    let of = |field| {
        let mut own = problems.iter().filter(|problem| problem.field == field);
        let sentence = own.next().map(|problem| problem.sentence.as_str());
        assert!(own.next().is_none(), "{field:?} twice");
        sentence.unwrap_or_else(|| panic!("{field:?}: {problems:?}"))
    };
    let saw = |place, field| of(ToolField::Saw(place, field));
    assert_eq!(
        saw(0, SawField::Diameter),
        "Saw 1 has no diameter, so it is left out. Measure it over the teeth, at three places, and \
         type the largest."
    );
    assert!(
        saw(1, SawField::Diameter).starts_with("Saw 2 (“old”), diameter over the teeth: “48x”"),
        "{}",
        saw(1, SawField::Diameter)
    );
    assert_eq!(
        saw(2, SawField::Depth),
        "Saw 3: a usable depth of −4 mm cannot be. Type more than 0 and at most 2000 mm."
    );
    assert!(saw(2, SawField::Arbor).starts_with("Saw 3: an arbor of 50 mm does not go"));
    assert!(saw(2, SawField::Cuts).starts_with("Saw 3: “many” is no count of cuts."));
    assert!(saw(2, SawField::Life).contains("from 1 to"));
    assert!(of(ToolField::AngleMax).contains("95° off square cannot be"));
    assert!(of(ToolField::Clamp).starts_with("Machine, clamp length: −1 mm"));
    assert!(of(ToolField::Behind).starts_with("Machine, room behind the clamp: “far”"));
    assert!(of(ToolField::Material).contains("steel, stainless steel, aluminium"));
    assert_eq!(problems.len(), 10);
    // The saw whose diameter can be read is there all the same.
    assert_eq!(tools.saws.len(), 1);
    assert_eq!((tools.saws[0].depth, tools.saws[0].arbor), (None, None));
    for problem in &problems {
        assert!(problem.sentence.ends_with('.'), "{}", problem.sentence);
        assert!(!problem.sentence.contains(".."), "{}", problem.sentence);
    }
}

#[test]
fn an_arbor_must_leave_its_saw_a_wall() {
    let read = |arbor: &str| {
        let at_hand = AtHand {
            saws: vec![typed(["", "3.5", "", arbor, "", ""])],
            ..AtHand::default()
        };
        read_tools(&at_hand, Unit::Millimetre)
    };
    let (tools, problems) = read("3");
    assert_eq!(tools.saws[0].arbor, None);
    assert_eq!(
        problems[0].sentence,
        "Saw 1: an arbor of 3 mm does not go into a saw of 3.5 mm: only 0.25 mm is left all round \
         for wall and teeth, 0.75 mm too little. Type the diameter of the arbor or pilot inside \
         the saw, or leave this empty."
    );
    let (tools, problems) = read("1.5");
    assert!(problems.is_empty(), "{problems:?}");
    assert_eq!(tools.saws[0].arbor, Some(mm(1.5)));
}

#[test]
fn a_clearance_is_read_or_refused_with_its_range() {
    assert_eq!(
        read_clearance("  ", Unit::Millimetre),
        Ok(PRE_CUT_CLEARANCE)
    );
    assert_eq!(read_clearance("1/8", INCH), Ok(mm(3.175)));
    assert_eq!(read_clearance("0", Unit::Millimetre), Ok(mm(0.0)));
    for wrong in ["-1", "101", "3 furlongs"] {
        let problem = read_clearance(wrong, Unit::Millimetre).unwrap_err();
        assert_eq!(problem.field, ToolField::Clearance);
        assert!(problem.sentence.starts_with("Clearance of the pre-cut"));
    }
}
