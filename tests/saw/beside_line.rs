//! A saw beside a template whose line is that of another way of cutting.

use copewright::job::saw::{Method, PRE_CUT_CLEARANCE, Why, saw_facts, saw_on_sheet};
use copewright::job::{open_form, read};
use copewright::piece::Side;
use copewright::units::{Angle, Unit, write_length};
use proptest::prelude::*;

use crate::{end, mm, plan, row, saw, saws, why};

#[test]
fn a_line_for_the_grinder_is_told_from_one_for_the_saw() {
    let at_hand = saws(&[saw("deep", "48.3", "250")]);
    let square = plan(
        &end("branch=42.4&wall=2.6&main=48.3&angle=60&cut=square"),
        &at_hand,
    );
    let line = |why: &[Why]| {
        why.iter().find_map(|why| match why {
            Why::Line { longer } => Some(*longer),
            _ => None,
        })
    };
    assert!(
        matches!(line(&square.why), Some(Some(_))),
        "{:?}",
        square.why
    );
    let saw = plan(
        &end("branch=42.4&wall=2.6&main=48.3&angle=20&cut=saw"),
        &at_hand,
    );
    assert_eq!(line(&saw.why), Some(None), "{:?}", saw.why);
    // Line and fit go together.
    for plan in [&square, &saw] {
        assert!(
            why(plan).contains("line and the predicted fit"),
            "{}",
            why(plan)
        );
    }
    let right = plan(
        &end("branch=42.4&wall=2.6&main=48.3&angle=60&cut=saw"),
        &at_hand,
    );
    assert_eq!(line(&right.why), None);
}

/// On tubes of one size the saw's line runs out to the joint centre, at the sides. The grinder's is
/// there the bore's, at (√(R² − r² sin² φ) + r cos φ cos α) / sin α: least where r cos φ is
/// −cot α √(R² − r²), and there √(R² − r²), whatever the angle. So much longer is the saw's blank.
#[test]
fn a_saw_beside_the_line_of_the_grinder_has_its_own_blank() {
    let link = |method: &str| format!("branch=60.3&wall=5&main=60.3&angle=60&cut={method}");
    let at_hand = saws(&[saw("own", "60.3", "80")]);
    let sawn = plan(&end(&link("saw")), &at_hand);
    let draft = end(&link("square"));
    let square = plan(&draft, &at_hand);
    assert_eq!(square.reach, sawn.reach);
    assert_eq!(square.pre_cut, sawn.pre_cut);
    let depth = square.reach.unwrap().cup().mm();
    assert!((depth - 78.332).abs() < 2e-3, "{depth}");
    let longer = f64::sqrt(30.15 * 30.15 - 25.15 * 25.15);
    assert!(
        (square.longer.mm() - longer).abs() < 1e-6,
        "{:?}",
        square.longer
    );
    assert_eq!(sawn.longer, mm(0.0));
    assert!(
        why(&square).contains("and its blank is 16.63 mm longer here"),
        "{}",
        why(&square)
    );
    let facts = saw_facts(&square, &draft.template);
    // From the end of the saw's own blank.
    let of_saw = saw_facts(&sawn, &end(&link("saw")).template);
    let label = "Pre-cut, deepest from the long point";
    assert_eq!(row(&facts, label).value, row(&of_saw, label).value);
    // On the paper that lies there: centre to mark line, less the cut's deepest place.
    let outside = draft.template.cope().joint().branch().outside();
    let deepest = square.pre_cut.unwrap().deepest(outside);
    let mark = draft.template.mark_to_centre() - deepest;
    let label = "Pre-cut, deepest from the mark line";
    assert_eq!(
        row(&facts, label).value,
        write_length(mark, Unit::Millimetre)
    );
    assert!(
        row(&facts, "The blank ends")
            .value
            .contains("16.63 mm beyond")
    );
    let sheet = saw_on_sheet(&square, &draft.template);
    assert_eq!(sheet[0].1, "own, 60.3 mm: hole saw, blank 16.63 mm longer");
    // The grinder's own blank is the line's, whatever a saw would need.
    let ground = plan(&draft, &saws(&[saw("own", "40", "80")]));
    assert_eq!(ground.method, Method::Grinder);
    let long = draft.template.cope().long_point().height;
    assert_eq!(ground.blank.end, long);
    assert_eq!(ground.longer, mm(0.0));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]
    /// Whoever keeps to the line may make the pre-cut all the same, whatever it was planned for.
    #[test]
    fn a_pre_cut_never_crosses_the_line_that_is_printed(
        method in prop_oneof![Just("square"), Just("bore"), Just("saw")],
        wall in 0.02..0.2_f64,
        part in 0.15..1.0_f64,
        angle in 15.0..90.0_f64,
        offset in -0.9..0.9_f64,
        saw_part in prop_oneof![Just(None), (0.99..1.01_f64).prop_map(Some)],
        depth in 20.0..120.0_f64,
    ) {
        let main = 60.3;
        let branch = main * part;
        let offset = offset * (main + branch) / 2.0;
        let link = format!(
            "v=1&unit=mm&branch={branch:.3}&wall={:.3}&main={main}&angle={angle:.3}&offset={offset:.3}&cut={method}",
            wall * branch
        );
        let Ok(draft) = read(&open_form(&link).form.end(Side::A)) else { return Ok(()) };
        let at_hand = saw_part.map_or_else(
            || saws(&[]),
            |part| saws(&[saw("own", &format!("{:.3}", main * part), &format!("{depth:.1}"))]),
        );
        let planned = plan(&draft, &at_hand);
        let Some(cut) = planned.pre_cut else { return Ok(()) };
        let cope = draft.template.cope();
        let radius = cope.joint().branch().outside_radius().mm();
        for step in 0..720 {
            let turn = Angle::from_deg((f64::from(step) + 0.3) / 2.0);
            let clear = (cope.at(turn).height() - cut.height(radius, turn)).mm();
            prop_assert!(clear >= PRE_CUT_CLEARANCE.mm() - 0.01, "{link} {turn:?}: {clear}");
        }
    }
}
