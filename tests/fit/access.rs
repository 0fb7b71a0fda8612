//! Where a welder gets in badly, in ranges and in words.

use copewright::cope::CutMethod;
use copewright::cope::fit::Access;
use copewright::job::fit::{FitTyped, fit_report, read_fit};
use copewright::job::{Field, MainField, read};
use copewright::units::Unit;

use crate::deg;
use crate::said::form;

/// What to do comes first and in plain words; the code's own words stand behind it. The local
/// dihedral angle at heel and toe is θ and 180° − θ.
#[test]
fn access_is_told_for_whoever_welds_it() {
    for (angle, plain, code) in [
        (
            "12",
            "so sharp that a torch does not reach the root",
            "below 15°, no prequalified detail",
        ),
        (
            "25",
            "so sharp that the root stays out of reach",
            "15° to 30°",
        ),
        ("40", "too sharp for an ordinary fillet", "details B, C"),
        ("40", "too open for an ordinary fillet", "details A, B"),
    ] {
        let typed = form(Unit::Millimetre, CutMethod::Saw)
            .with_text(Field::OfMain(0, MainField::Angle), angle);
        let draft = read(&typed).unwrap();
        let asked = read_fit(&FitTyped::default(), &draft).unwrap();
        let access = fit_report(&draft, &asked).unwrap().access;
        let row = access.iter().find(|fact| fact.remark.contains(plain));
        let remark = &row.unwrap_or_else(|| panic!("{angle}: {access:?}")).remark;
        let (first, code_says) = remark
            .split_once(" (AWS D1.1 for tubes, from memory: ")
            .unwrap();
        assert!(
            code_says.contains(code) && code_says.ends_with(')'),
            "{remark}"
        );
        let jargon = ["prequalified", "detail"]
            .iter()
            .any(|word| first.contains(word));
        assert!(first.contains(" here: ") && !jargon, "{remark}");
    }
}

#[test]
fn ranges_of_access_are_those_of_the_code() {
    for (psi, access) in [
        (14.9, Access::None),
        (15.0, Access::Root),
        (29.9, Access::Root),
        (30.0, Access::Tight),
        (59.9, Access::Tight),
        (60.0, Access::Fillet),
        (120.0, Access::Fillet),
        (120.1, Access::Open),
    ] {
        assert_eq!(Access::of(deg(psi)), access, "{psi}");
    }
}
