//! What is said of a fit.

use copewright::cope::CutMethod;
use copewright::job::fit::{
    FitField, FitTyped, Process, fit_report, fit_what_ifs, found_wrong, read_fit, read_fit_in_part,
};
use copewright::job::{Draft, Field, MainField, MainKind, Typed, open_form, read};
use copewright::piece::Side;
use copewright::units::Unit;

use crate::mm;

pub fn draft(unit: Unit, method: CutMethod) -> Draft {
    read(&form(unit, method)).unwrap()
}

/// End A of a link, in millimetres.
pub fn of_link(link: &str) -> Draft {
    let opened = open_form(&format!("v=1&unit=mm&{link}"));
    assert!(opened.problems.is_empty(), "{link}: {:?}", opened.problems);
    read(&opened.form.end(Side::A)).unwrap()
}

pub fn form(unit: Unit, method: CutMethod) -> Typed {
    let mut typed = Typed::usual(unit);
    typed.cut = method;
    let numbers = if unit.is_inch() {
        ["1 1/2", "0.065", "1 3/4", "60"]
    } else {
        ["38.1", "1.65", "44.45", "60"]
    };
    let fields = [
        Field::Branch,
        Field::Wall,
        Field::OfMain(0, MainField::Diameter),
        Field::OfMain(0, MainField::Angle),
    ];
    for (field, number) in fields.into_iter().zip(numbers) {
        typed = typed.with_text(field, number);
    }
    typed
}

pub fn asked(fields: &[(FitField, &str)]) -> FitTyped {
    let mut typed = FitTyped::default();
    for (field, text) in fields {
        typed.set(*field, *text);
    }
    typed
}

#[test]
fn a_true_cut_is_said_to_fit() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    let asked = read_fit(&FitTyped::default(), &draft).unwrap();
    let report = fit_report(&draft, &asked).unwrap();
    assert_eq!(
        report.verdict,
        "It fits all round: no gap is left after it is pushed home."
    );
    assert!(found_wrong(&draft, &asked).is_none());
}

#[test]
fn a_saw_too_large_is_said_with_its_gap_and_its_place() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    let typed = asked(&[(FitField::Size, "48")]);
    let asked = read_fit(&typed, &draft).unwrap();
    assert!((asked.slip.size.mm() - 3.55).abs() < 1e-9);
    let report = fit_report(&draft, &asked).unwrap();
    assert!(report.verdict.contains("at the side"), "{}", report.verdict);
    let names: Vec<&str> = report.gaps.iter().map(|fact| fact.name.as_str()).collect();
    assert_eq!(names[0], "Widest gap");
    assert!(names.contains(&"First touches") && names.contains(&"AWS D1.1, root opening"));
    let widest = &report.gaps[0];
    assert_eq!(
        widest.band,
        Some(asked.limits.band(report.fit.widest().gap))
    );
    assert!(report.costs[0].remark.ends_with("costs most at this joint"));
    for fact in &report.costs {
        let value = &fact.value;
        let at_one = value.starts_with("about ") && value.ends_with(" off");
        assert!(value.contains(" per ") || at_one, "{fact:?}");
    }
    // 60° at the heel, 120° at the toe; the sides of nearly equal tubes are open.
    assert!(report.access[0].value == "60°" && report.access[2].value == "120°");
    // Open from side to side, for at the toe the limit of 120° is just touched.
    let open = report
        .access
        .iter()
        .filter(|fact| fact.name == "Too open for a fillet");
    assert_eq!(open.count(), 1);
}

/// The gap that a slip alone opens, against none, where it opens most.
fn opened(draft: &Draft, field: FitField, text: &str) -> f64 {
    let fit = |typed: &FitTyped| {
        let asked = read_fit(typed, draft).unwrap();
        fit_report(draft, &asked).unwrap().fit
    };
    let (with, without) = (fit(&asked(&[(field, text)])), fit(&FitTyped::default()));
    let wider = with.gaps().iter().filter_map(|at| {
        let gap = at.gap? - without.at(at.turn)?;
        Some(gap.mm())
    });
    wider.fold(0.0, f64::max)
}

/// What one unit costs is what the fit has for it, to two digits; it is a rate only where the
/// usual slip has the same one within a tenth.
#[test]
fn a_cost_is_a_rate_only_where_the_gap_grows_evenly() {
    let (mut rates, mut told, mut both_ways) = (0, 0, 0);
    for offset in ["0", "6", "16"] {
        let typed = form(Unit::Millimetre, CutMethod::Saw)
            .with_text(Field::OfMain(0, MainField::Offset), offset);
        let draft = read(&typed).unwrap();
        let report = fit_report(&draft, &read_fit(&FitTyped::default(), &draft).unwrap());
        let costs = report.unwrap().costs;
        for (name, field, usual, one) in [
            ("Angle off", FitField::Angle, 0.5, 1.0),
            ("Offset off", FitField::Offset, 0.5, 1.0),
            ("Turned", FitField::Turn, 1.0, 1.0),
        ] {
            let fact = costs.iter().find(|fact| fact.name == name).unwrap();
            let worst = |amount: f64| {
                let ways = [amount, -amount].map(|by| opened(&draft, field, &by.to_string()));
                (ways[0].max(ways[1]), ways[0].min(ways[1]))
            };
            let ((at_one, _), (more, less)) = (worst(one), worst(usual));
            let bare = fact.value.trim_start_matches("about ");
            let said: f64 = bare.split(' ').next().unwrap().parse().unwrap();
            // Half of the second digit, and what a coarser look misses.
            assert!(
                (said - at_one).abs() <= 0.06 * at_one + 0.006,
                "{offset}: {fact:?} {at_one}"
            );
            if fact.value.contains(" per ") {
                rates += 1;
                let off = (more / usual * one - at_one).abs();
                assert!(off <= 0.11 * at_one + 0.01, "{offset}: {fact:?} {more}");
            } else {
                told += 1;
            }
            let differ = more - less > 0.11 * more + 0.01;
            if differ {
                both_ways += 1;
                assert!(
                    fact.remark.contains(" too small") || name == "Turned",
                    "{fact:?}"
                );
            }
        }
    }
    assert!(
        rates > 0 && told > 3 && both_ways > 0,
        "{rates} {told} {both_ways}"
    );
}

#[test]
fn what_to_do_about_a_wide_gap_goes_by_what_makes_it() {
    let narrow = [(FitField::Tight, "0.05"), (FitField::Most, "0.1")];
    for (method, off, then) in [
        (CutMethod::Saw, (FitField::Size, "48"), "Take a saw nearer"),
        (
            CutMethod::Saw,
            (FitField::Angle, "3"),
            "Grind where it touches",
        ),
        (
            CutMethod::Square,
            (FitField::Angle, ""),
            "A cut square to the wall",
        ),
    ] {
        let draft = draft(Unit::Millimetre, method);
        let typed = asked(&[narrow[0], narrow[1], off]);
        let asked = read_fit(&typed, &draft).unwrap();
        let verdict = fit_report(&draft, &asked).unwrap().verdict;
        assert!(verdict.starts_with("As cut it gaps too wide"), "{verdict}");
        assert!(verdict.contains(&format!(". {then}")), "{verdict}");
    }
}

#[test]
fn what_is_typed_wrong_gets_a_sentence() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    for (field, text, said) in [
        (FitField::Size, "48 rad", "48 rad"),
        (FitField::Angle, "31", "at most 30°"),
        (FitField::Printed, "25.4", "100 mm ruler"),
        (FitField::Tight, "2", "make the second one larger"),
        (FitField::SeenToe, "-1", "cannot be"),
        (
            FitField::SeenHeel,
            "5000",
            "more than the tube is wide (38.1 mm)",
        ),
        (FitField::Printed, "111", "more than a tenth"),
    ] {
        let problems = read_fit(&asked(&[(field, text)]), &draft).unwrap_err();
        assert_eq!(problems.len(), 1);
        assert_eq!(problems[0].field, field);
        assert!(
            problems[0].sentence.contains(said),
            "{}",
            problems[0].sentence
        );
        let ends = problems[0].sentence.ends_with('.') && !problems[0].sentence.ends_with("..");
        assert!(ends, "{}", problems[0].sentence);
    }
}

/// What was typed is named, over a root gap too, and not the main that has the right size.
#[test]
fn a_saw_that_makes_no_cut_is_named_as_typed() {
    for (gap, said) in [
        (
            "0",
            "A saw or template for 2100 mm is outside 3 mm to 2000 mm.",
        ),
        (
            "2",
            "A saw or template for 2100 mm is outside 7 mm to 2004 mm.",
        ),
    ] {
        let form = form(Unit::Millimetre, CutMethod::Saw).with_text(Field::Gap, gap);
        let draft = read(&form).unwrap();
        let typed = asked(&[(FitField::Size, "2100")]);
        let problem = fit_report(&draft, &read_fit(&typed, &draft).unwrap()).unwrap_err();
        assert_eq!(problem.field, FitField::Size);
        assert!(problem.sentence.contains(said), "{}", problem.sentence);
        assert!(!problem.sentence.contains("main"), "{}", problem.sentence);
    }
    let mut form = form(Unit::Millimetre, CutMethod::Saw);
    form = form.with_kind(0, MainKind::Bent);
    form = form.with_text(Field::OfMain(0, MainField::Diameter), "44.45");
    form = form.with_text(Field::OfMain(0, MainField::BendRadius), "90");
    let draft = read(&form).unwrap();
    let typed = asked(&[(FitField::Size, "190")]);
    let problem = fit_report(&draft, &read_fit(&typed, &draft).unwrap()).unwrap_err();
    assert_eq!(problem.field, FitField::Size);
    assert!(
        problem
            .sentence
            .contains("A saw or template for 190 mm is too large for a bend"),
        "{}",
        problem.sentence
    );
}

#[test]
fn no_gap_has_no_place() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    // A hair beside the truth leaves less than is shown.
    let typed = asked(&[(FitField::Size, "44.451"), (FitField::Tight, "0")]);
    let asked = read_fit(&typed, &draft).unwrap();
    let report = fit_report(&draft, &asked).unwrap();
    assert!(report.fit.widest().gap > mm(0.0));
    for row in &report.gaps[..5] {
        assert_eq!(row.value, "0 mm", "{row:?}");
        assert_eq!((row.band, &*row.remark), (Some(0), "tight: up to 0 mm"));
    }
}

#[test]
fn an_angle_that_cannot_be_cut_keeps_its_row() {
    let form = form(Unit::Millimetre, CutMethod::Saw);
    let draft = read(&form.with_text(Field::OfMain(0, MainField::Angle), "5.5")).unwrap();
    let asked = read_fit(&FitTyped::default(), &draft).unwrap();
    let rows = fit_what_ifs(&draft, &asked);
    let of = |name: &str| rows.iter().find(|row| row.name == name).unwrap();
    assert_eq!(of("Angle 1° too small").value, "no cut at this angle");
    for name in [
        "Angle 0.5° too small",
        "Angle 0.5° too large",
        "Angle 1° too large",
    ] {
        assert!(of(name).value.contains(" mm "), "{:?}", of(name));
    }
}

#[test]
fn what_is_seen_wrong_keeps_nothing_else_from_being_predicted() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    let typed = asked(&[(FitField::SeenHeel, "abc"), (FitField::Size, "46")]);
    let (part, problems) = read_fit_in_part(&typed, &draft);
    assert_eq!(problems.len(), 1);
    let part = part.unwrap();
    assert!(part.seen.is_none() && found_wrong(&draft, &part).is_none());
    assert!(fit_report(&draft, &part).unwrap().fit.widest().gap > mm(0.1));
    let (none, problems) = read_fit_in_part(&asked(&[(FitField::Size, "x")]), &draft);
    assert!(none.is_none() && problems.len() == 1);
    // A tenth is a tenth either way.
    for ruler in ["90", "110"] {
        let asked = read_fit(&asked(&[(FitField::Printed, ruler)]), &draft).unwrap();
        assert!((asked.slip.scale - 1.0).abs() > 0.09);
    }
}

/// Over a root gap the saw that is wanted is larger by twice the gap, and leaves no more than that
/// gap; a template is made for the main itself.
#[test]
fn a_saw_for_a_root_gap_leaves_the_gap_and_no_more() {
    for (method, right) in [
        (CutMethod::Saw, "48.45"),
        (CutMethod::Square, "44.45"),
        (CutMethod::Bore, "44.45"),
    ] {
        let typed = form(Unit::Millimetre, method).with_text(Field::Gap, "2");
        let draft = read(&typed).unwrap();
        let of = |text: &str| {
            let asked = read_fit(&asked(&[(FitField::Size, text)]), &draft).unwrap();
            fit_report(&draft, &asked).unwrap().fit.widest().gap.mm()
        };
        let none = fit_report(&draft, &read_fit(&FitTyped::default(), &draft).unwrap());
        let none = none.unwrap().fit.widest().gap.mm();
        assert!((of(right) - none).abs() < 1e-6, "{method:?}");
        assert!(of("46.9") > none + 0.01, "{method:?}");
    }
}

#[test]
fn a_cut_that_misses_the_tube_is_called_that() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    let of = |offset: &str| {
        let asked = read_fit(&asked(&[(FitField::Offset, offset)]), &draft).unwrap();
        fit_report(&draft, &asked)
    };
    // 19.05 + 22.225 is reached and no more.
    let problem = of("42").unwrap_err();
    assert_eq!(problem.field, FitField::Offset);
    assert_eq!(
        problem.sentence,
        "The cut misses the tube altogether by 0.72 mm: its axis is 42 mm from the tube’s. Type a \
         smaller offset or a larger diameter."
    );
    assert!(of("-42").is_err());
    // Just reached: a prediction, with what is not reached named.
    let gaps = of("41").unwrap().gaps;
    let row = gaps
        .iter()
        .find(|fact| fact.name == "Not reached by the cut");
    assert_ne!(row.unwrap().value, "turn 0° to 0°");
}

#[test]
fn the_way_of_cutting_that_is_predicted_is_named() {
    for (method, said) in [
        (CutMethod::Saw, "a cut that follows the main"),
        (CutMethod::Square, "the grinder, square to the wall"),
        (CutMethod::Bore, "the bore edge, bevelled after"),
    ] {
        let draft = draft(Unit::Millimetre, method);
        let asked = read_fit(&FitTyped::default(), &draft).unwrap();
        let gaps = fit_report(&draft, &asked).unwrap().gaps;
        let row = gaps.iter().find(|fact| fact.name == "Reckoned for");
        assert_eq!(row.unwrap().value, said);
    }
}

#[test]
fn typed_questions_survive_being_kept() {
    let mut typed = asked(&[(FitField::Size, "48"), (FitField::SeenMinus, "0.3")]);
    typed.process = Process::Mig;
    let kept = serde_json::to_string(&typed).unwrap();
    assert_eq!(serde_json::from_str::<FitTyped>(&kept).unwrap(), typed);
}

#[test]
fn inches_are_told_in_decimals() {
    use copewright::units::Denominator::Sixteenth;
    let draft = draft(Unit::Fraction(Sixteenth), CutMethod::Square);
    let asked = read_fit(&asked(&[(FitField::Offset, "1/16")]), &draft).unwrap();
    let report = fit_report(&draft, &asked).unwrap();
    for fact in report.gaps.iter().chain(&report.costs) {
        assert!(
            !fact.value.contains('"') && !fact.value.contains(" mm"),
            "{fact:?}"
        );
        assert!(!fact.remark.contains(" mm"), "{fact:?}");
    }
}

#[test]
fn ways_of_cutting_and_angles_are_compared() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    let asked = read_fit(&FitTyped::default(), &draft).unwrap();
    let rows = fit_what_ifs(&draft, &asked);
    assert_eq!(rows.len(), 7);
    assert_eq!(rows[0].value, "0 mm");
    // Cut square, the wall leaves a groove; a degree opens more than half a degree.
    assert!(rows[1].value.ends_with(')') && rows[1].value != rows[0].value);
    let gap = |row: usize| -> f64 { rows[row].value.split(' ').next().unwrap().parse().unwrap() };
    assert!(gap(3) > gap(4) && gap(4) > 0.0 && gap(6) > gap(5) && gap(5) > 0.0);
}

/// Off square is 90° less the included angle, so that a machine set 2° too far off square cuts an
/// included angle 2° too small; that is what a cut typed as −2° is for, and no other way round.
#[test]
fn an_angle_cut_too_large_is_the_included_one() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    let remark = FitField::Angle.remark(&draft, 0).unwrap();
    assert!(
        remark.starts_with("The included angle, between the tubes."),
        "{remark}"
    );
    assert!(remark.contains("too far off square cuts it too small: type that with a minus"));
    assert!(FitField::Size.remark(&draft, 0).is_none());
    // Of a mitre it is the plane that is cut, at half the angle between the tubes.
    let mitre = of_link("branch=42.4&wall=2.6&angle=60&cut=saw&kind=mitre");
    let remark = FitField::Angle.remark(&mitre, 0).unwrap();
    assert!(
        remark.contains("half of the one between the tubes"),
        "{remark}"
    );
    let rows = fit_what_ifs(&mitre, &read_fit(&FitTyped::default(), &mitre).unwrap());
    assert!(
        rows.iter()
            .any(|row| row.name == "Mitre’s plane 1° too large"),
        "{rows:?}"
    );
    // At the far end of a cut D / sin 31° long a degree is this much, square to the other tube's.
    let large = read_fit(&asked(&[(FitField::Angle, "1")]), &mitre).unwrap();
    let fit = fit_report(&mitre, &large).unwrap().fit;
    let (sin_cut, sin_off) = (31_f64.to_radians().sin(), 1_f64.to_radians().sin());
    let toe = 42.4 / sin_cut * sin_off;
    assert!(
        (fit.widest().gap.mm() - toe).abs() < 1e-3,
        "{:?}",
        fit.widest()
    );
    let gap = |draft: &Draft, angle: &str, turn: f64| {
        let asked = read_fit(&asked(&[(FitField::Angle, angle)]), draft).unwrap();
        let fit = fit_report(draft, &asked).unwrap().fit;
        fit.at(crate::deg(turn)).unwrap().mm()
    };
    // Cut for 58° the end leans into the heel's side more than the joint does: the long point, the
    // toe, touches first and the heel stays open; cut for 62° the other way round.
    assert!(gap(&draft, "-2", 0.0) > 0.5 && gap(&draft, "-2", 180.0) < 0.5);
    assert!(gap(&draft, "2", 180.0) > 0.5 && gap(&draft, "2", 0.0) < 0.5);
}
