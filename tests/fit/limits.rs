//! What counts as tight and as too wide, as typed and as told.

use copewright::cope::CutMethod;
use copewright::job::fit::{FitFact, FitField, Process, fit_report, read_fit, read_fit_in_part};
use copewright::units::Unit;

use crate::said::{asked, draft};

#[test]
fn limits_that_no_cut_keeps_are_refused() {
    for unit in [Unit::Millimetre, Unit::Inch] {
        let draft = draft(unit, CutMethod::Saw);
        let typed = asked(&[(FitField::Tight, "0"), (FitField::Most, "0")]);
        let problems = read_fit(&typed, &draft).unwrap_err();
        assert_eq!(problems.len(), 1);
        assert_eq!(problems[0].field, FitField::Most);
        let (none, rod) = if unit.is_inch() {
            ("0 in", "0.063 in")
        } else {
            ("0 mm", "1.6 mm")
        };
        assert_eq!(
            problems[0].sentence,
            format!(
                "No cut closes to {none} everywhere; give the widest gap that you can fill, such as {rod}."
            )
        );
    }
}

/// Neither what an error costs nor the dihedral angle depends on limits: the usual ones, 0.5 and
/// 1.6 mm for TIG, stand in for those that no cut keeps, and it is said.
#[test]
fn limits_that_cannot_be_used_keep_nothing_from_being_predicted() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    let usual = asked(&[(FitField::Size, "48")]);
    let usual = fit_report(&draft, &read_fit(&usual, &draft).unwrap()).unwrap();
    for (fields, field) in [
        (&[(FitField::Most, "0")][..], FitField::Most),
        (&[(FitField::Tight, "2")], FitField::Tight),
        (
            &[(FitField::Tight, "1"), (FitField::Most, "0.5")],
            FitField::Most,
        ),
        (&[(FitField::Most, "wide")], FitField::Most),
        (&[(FitField::Tight, "-1")], FitField::Tight),
    ] {
        let typed = asked(&[fields, &[(FitField::Size, "48")]].concat());
        let problems = read_fit(&typed, &draft).unwrap_err();
        let (part, told) = read_fit_in_part(&typed, &draft);
        assert_eq!((problems.len(), problems[0].field), (1, field));
        assert_eq!(told, problems);
        let part = part.unwrap();
        assert_eq!(part.limits, Process::Tig.usual());
        let report = fit_report(&draft, &part).unwrap();
        assert_eq!(
            (&report.costs, &report.access),
            (&usual.costs, &usual.access)
        );
        let bands = |facts: &[FitFact]| facts.iter().map(|fact| fact.band).collect::<Vec<_>>();
        assert_eq!(bands(&report.gaps), bands(&usual.gaps));
        let limits = report
            .gaps
            .iter()
            .find(|fact| fact.name == "Limits")
            .unwrap();
        assert_eq!(limits.value, "tight 0.5 mm, filled 1.6 mm");
        assert_eq!(
            limits.remark,
            "the usual ones, for those typed cannot be used"
        );
        assert!(
            report
                .verdict
                .contains("These are the usual limits: those typed cannot be used."),
            "{}",
            report.verdict
        );
    }
    assert!(!usual.verdict.contains("usual limits"), "{}", usual.verdict);
}

#[test]
fn a_gap_over_the_limit_by_less_than_is_shown_is_just_over() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    let widest = |most: &str| {
        let typed = asked(&[
            (FitField::Size, "48"),
            (FitField::Tight, "0"),
            (FitField::Most, most),
        ]);
        let report = fit_report(&draft, &read_fit(&typed, &draft).unwrap()).unwrap();
        (report.fit.widest().gap.mm(), report.gaps[0].remark.clone())
    };
    let (gap, _) = widest("1");
    let (_, said) = widest(&format!("{}", gap - 0.001));
    assert!(said.contains("just over the"), "{said}");
    let (_, said) = widest(&format!("{}", gap - 0.1));
    assert!(said.contains("0.1 mm over the"), "{said}");
}
