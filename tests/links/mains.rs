//! Links with other mains than a round tube, and what is wrong with them in words.

use copewright::job::{
    Caution, Field, MainField, MainKind, Typed, joint_in_words, open_link, origins, read,
    read_what_can_be, resume, write_link, write_whole,
};
use copewright::joint::{Main, Shape};
use copewright::units::Unit;

/// Links with other mains than a round tube, as they were once written, with the joint in words
/// and each main as (angle, offset, turn about the branch, shift). Add, never change a line.
const MAINS_FOR_EVER: &[(&str, &str, &[[f64; 4]])] = &[
    (
        "v=1&unit=mm&branch=42.4&wall=2.6&kind=plate&angle=35",
        "branch 42.4 mm on a flat plate at 35°",
        &[[35.0, 0.0, 0.0, 0.0]],
    ),
    (
        "v=1&unit=mm&branch=42.4&kind=mitre&main=48.3&angle=120",
        "branch 42.4 mm mitred to 48.3 mm tube at 120°",
        &[[60.0, 0.0, 0.0, 0.0]],
    ),
    (
        "v=1&unit=mm&kind=rectangular&width=60&height=40&mainwall=4&roll=30&angle=50&offset=-7",
        "branch 42.4 mm on 60 × 40 mm rectangular tube turned 30° at 50°",
        &[[50.0, -7.0, 0.0, 0.0]],
    ),
    (
        "v=1&unit=in/16&kind=rectangular&width=2&height=2&corner=1/4",
        "branch 1 1/2\" on 2\" × 2\" square tube at 60°",
        &[[60.0, 0.0, 0.0, 0.0]],
    ),
    (
        "v=1&unit=mm&kind=bent&main=60.3&clr=180&bend=60&station=-20&facing=90&angle=80&offset=3",
        "branch 42.4 mm on a bent 60.3 mm tube at 80°",
        &[[80.0, 3.0, 0.0, 0.0]],
    ),
    (
        "v=1&unit=mm&mains=3&angle=60&kind2=plate&angle2=45&about2=180&shift2=-4&main3=33.7&angle3=70&offset3=2&about3=90&shift3=1",
        "branch 42.4 mm on 48.3 mm round tube at 60° and on a flat plate at 45° and on 33.7 mm round tube at 70°",
        &[
            [60.0, 0.0, 0.0, 0.0],
            [45.0, 0.0, 180.0, -4.0],
            [70.0, 2.0, 90.0, 1.0],
        ],
    ),
];

#[test]
fn links_with_other_mains_still_mean_what_they_meant() {
    for (link, words, mains) in MAINS_FOR_EVER {
        let opened = open_link(link);
        assert!(opened.problems.is_empty(), "{link}: {opened:?}");
        let draft = read(&opened.typed).expect(link);
        assert_eq!(
            joint_in_words(&draft.template, draft.unit),
            *words,
            "{link}"
        );
        let is: Vec<&Main> = draft.template.cope().joint().mains().collect();
        assert_eq!(is.len(), mains.len(), "{link}");
        for (main, place) in is.into_iter().zip(*mains) {
            let now = [
                main.angle().deg(),
                main.offset().mm(),
                main.turn().deg(),
                main.shift().mm(),
            ];
            for (now, was) in now.into_iter().zip(place) {
                assert!((now - was).abs() < 1e-9, "{link}: {now} was {was}");
            }
        }
        assert_eq!(open_link(&write_link(&opened.typed)), opened, "{link}");
    }
}

#[test]
fn a_corner_that_is_not_typed_comes_from_the_wall() {
    // EN 10219-2, nominal outside corner radius (from memory): 2.0 T up to 6 mm, 2.5 T up to
    // 10 mm, 3.0 T above.
    for (wall, corner, times) in [
        ("3", 6.0, "2 times"),
        ("8", 20.0, "2.5 times"),
        ("12", 36.0, "3 times"),
    ] {
        let typed = open_link(&format!(
            "v=1&kind=rectangular&width=100&height=80&mainwall={wall}"
        ))
        .typed;
        let joint = read(&typed).unwrap().template.cope().joint().clone();
        let Shape::Rectangular(section) = joint.main().shape() else {
            panic!("{joint:?}");
        };
        assert!((section.corner().mm() - corner).abs() < 1e-9);
        let told = origins(&typed, 0).join(" ");
        assert!(
            told.contains(times) && told.contains("EN 10219-2"),
            "{told}"
        );
        let typed = typed.with_text(Field::OfMain(0, MainField::Corner), "5");
        assert!(!origins(&typed, 0).join(" ").contains("EN 10219-2"));
    }
}

#[test]
fn another_kind_keeps_every_number() {
    let typed = Typed::usual(Unit::Millimetre)
        .with_text(Field::MAIN, "x")
        .with_text(Field::OFFSET, "3")
        .with_text(Field::OfMain(0, MainField::Width), "60");
    let plate = typed.clone().with_kind(0, MainKind::Plate);
    assert!(read(&plate).is_ok(), "what is not seen is not checked");
    let link = write_link(&plate);
    assert!(!link.contains("main=") && !link.contains("offset=") && !link.contains("width="));
    let whole = write_whole(&plate);
    assert_eq!(open_link(&whole).typed, plate);
    assert_eq!(open_link(&whole).typed.with_kind(0, MainKind::Round), typed);
    // Coming back by the page's own link, or by the bare address, finds what was kept.
    assert_eq!(resume(&link, Some(&whole)).as_ref(), Some(&whole));
    assert_eq!(resume("", Some(&whole)).as_ref(), Some(&whole));
    let other = write_link(&typed);
    assert_eq!(resume(&other, Some(&whole)).as_ref(), Some(&other));
    assert_eq!(resume("", None), None);
}

#[test]
fn wrong_choices_of_mains_are_named() {
    let opened = open_link("v=1&kind=hexagon&mains=9&angle2=10");
    let named: Vec<&str> = opened
        .problems
        .iter()
        .map(|problem| problem.field.key())
        .collect();
    assert_eq!(named, ["mains", "kind"]);
    assert!(
        opened.problems[1]
            .sentence
            .contains("round, plate, mitre, rectangular, bent")
    );
    assert_eq!(opened.typed.mains(), 1);
    assert_eq!(
        open_link("v=1&mains=2&kind2=BENT&kind3=plate")
            .typed
            .kinds(),
        [MainKind::Round, MainKind::Bent]
    );
}

#[test]
fn every_choice_reads_with_the_usual_numbers() {
    for unit in Unit::ALL {
        for kind in MainKind::ALL {
            let one = Typed::usual(unit).with_kind(0, kind);
            let name = kind.name();
            read(&one).expect(name);
            for second in MainKind::ALL {
                let two = one.clone().with_another_main().with_kind(1, second);
                let draft = read(&two)
                    .unwrap_or_else(|problems| panic!("{kind:?} {second:?} {problems:?}"));
                let cope = draft.template.cope();
                if kind == MainKind::Round && second == MainKind::Round {
                    assert!(cope.sits_on(0) && cope.sits_on(1));
                }
            }
        }
        let mut all = Typed::usual(unit);
        for count in 2..=6 {
            all = all.with_another_main();
            assert_eq!(all.mains(), count);
            read(&all).unwrap();
        }
        assert_eq!(all.clone().with_another_main(), all, "six are enough");
        let square = Typed::usual(unit)
            .with_text(Field::ANGLE, "90")
            .with_another_main();
        let square = read(&square).unwrap();
        assert!(square.template.cope().sits_on(0) && square.template.cope().sits_on(1));
    }
}

#[test]
fn a_wrong_number_is_found_on_its_own_main() {
    let mains = Typed::usual(Unit::Millimetre)
        .with_another_main()
        .with_kind(1, MainKind::Rectangular)
        .with_another_main()
        .with_kind(2, MainKind::Bent);
    let told = |main: usize, field: MainField, text: &str, blamed: MainField| {
        let typed = mains.clone().with_text(Field::OfMain(main, field), text);
        let problems = read(&typed).unwrap_err();
        assert_eq!(problems.len(), 1, "{problems:?}");
        assert_eq!(
            problems[0].field,
            Field::OfMain(main, blamed),
            "{problems:?}"
        );
        let sentence = problems[0].sentence.clone();
        let of = format!("Main {}: ", main + 1);
        assert!(sentence.starts_with(&of), "{sentence}");
        let (draft, _) = read_what_can_be(&typed);
        assert!(
            draft.unwrap().is_of(&typed),
            "the usual number stands in, the mains stay"
        );
        sentence
    };
    use MainField as F;
    assert!(told(0, F::Diameter, "2001", F::Diameter).contains("2000 mm"));
    assert!(told(0, F::Offset, "46", F::Offset).contains("0.65 mm to spare"));
    assert!(told(1, F::Width, "2", F::Width).contains("3 mm to 2000 mm"));
    assert!(told(1, F::Height, "", F::Height).len() > 20);
    assert!(told(1, F::Corner, "26", F::Corner).contains("25 mm at most"));
    assert!(told(1, F::Corner, "-1", F::Corner).contains("Type 0"));
    assert!(
        told(1, F::Wall, "13", F::Wall).contains("39 mm, more than half the shorter side, 25 mm")
    );
    assert!(told(1, F::Wall, "-1", F::Wall).contains("cannot be"));
    assert!(told(1, F::Roll, "x", F::Roll).len() > 20);
    assert!(told(1, F::Angle, "95", F::Angle).contains("type 85°"));
    assert!(told(1, F::About, "", F::About).len() > 20);
    assert!(told(1, F::Shift, "1 2 3", F::Shift).len() > 20);
    assert!(told(2, F::BendRadius, "20", F::BendRadius).contains("over 24.15 mm"));
    assert!(told(2, F::BendAngle, "190", F::BendAngle).contains("180°"));
    assert!(told(2, F::Station, "1 km", F::Station).len() > 20);
    assert!(told(2, F::Facing, "", F::Facing).len() > 20);
    // A gap that would close the bend belongs to the bend, not to the first main.
    let typed = mains
        .clone()
        .with_text(Field::OfMain(2, F::BendRadius), "30")
        .with_text(Field::Gap, "6");
    let problems = read(&typed).unwrap_err();
    assert_eq!(
        problems[0].field,
        Field::OfMain(2, F::BendRadius),
        "{problems:?}"
    );
    // The angle of a mitre is between two tubes, up to in line.
    let mitre = Typed::usual(Unit::Millimetre).with_kind(0, MainKind::Mitre);
    assert!(read(&mitre.clone().with_text(Field::ANGLE, "180")).is_ok());
    let problems = read(&mitre.with_text(Field::ANGLE, "9")).unwrap_err();
    assert!(problems[0].sentence.contains("10° to 180°"), "{problems:?}");
}

#[test]
fn a_main_taken_away_leaves_the_others_where_they_are() {
    let three = open_link(
        "v=1&mains=3&angle=60&kind2=plate&angle2=40&about2=170&shift2=5&main3=33.7&about3=90&shift3=1",
    )
    .typed;
    let without_last = three.clone().without_main(2);
    assert_eq!(without_last.kinds(), [MainKind::Round, MainKind::Plate]);
    let two = three.clone().without_main(0);
    let draft = read(&two).unwrap();
    let joint = draft.template.cope().joint();
    assert_eq!(two.kinds(), [MainKind::Plate, MainKind::Round]);
    let last = joint.mains().last().unwrap();
    assert!(
        (last.turn().deg() - 280.0).abs() < 1e-9,
        "90° − 170°, within one turn"
    );
    assert!((last.shift().mm() + 4.0).abs() < 1e-9);
    // The same cut, turned and moved with the frame.
    let (before, after) = (
        read(&three.without_main(0).without_main(0)),
        read(&two.without_main(0)),
    );
    assert_eq!(before.unwrap().template, after.unwrap().template);
    let one = Typed::usual(Unit::Inch);
    assert_eq!(one.clone().without_main(0), one, "the last one stays");
}

#[test]
fn cautions_name_the_main_and_the_overlap() {
    let cautions = |link: &str| read(&open_link(link).typed).unwrap().cautions;
    // The larger tube's ellipse r / sin θ × r against the smaller one's: (R − r) / sin θ and R − r.
    let mitre = cautions("v=1&branch=60&wall=3&kind=mitre&main=50&angle=60");
    let [
        Caution::Overlap {
            branch: true,
            heel,
            side,
        },
    ] = mitre.as_slice()
    else {
        panic!("{mitre:?}");
    };
    assert!((heel.mm() - 10.0).abs() < 1e-9 && (side.mm() - 5.0).abs() < 1e-9);
    let told = mitre[0].sentence(Unit::Millimetre);
    assert!(
        told.contains("10 mm at heel and toe and 5 mm at the sides"),
        "{told}"
    );
    assert!(cautions("v=1&branch=50&kind=mitre&main=50&angle=60").is_empty());
    // A plate far below the first main is never reached.
    let beyond = cautions("v=1&mains=2&kind2=plate&angle2=90&about2=0&shift2=-200");
    assert!(
        matches!(
            beyond.as_slice(),
            [Caution::Untouched {
                main: 1,
                kind: MainKind::Plate
            }]
        ),
        "{beyond:?}"
    );
    assert!(
        beyond[0]
            .sentence(Unit::Millimetre)
            .contains("main 2 (flat plate)")
    );
    let saw = cautions("v=1&cut=saw&kind=rectangular");
    assert!(
        matches!(saw.as_slice(), [Caution::SawShape { .. }]),
        "{saw:?}"
    );
    assert!(
        cautions("v=1&cut=saw&kind=plate&angle=30").is_empty(),
        "a straight saw is at home there"
    );
    let sharp = cautions("v=1&mains=2&angle2=20");
    assert!(
        sharp
            .iter()
            .any(|one| one.sentence(Unit::Millimetre).starts_with("Main 2: 20°")),
        "{sharp:?}"
    );
}
