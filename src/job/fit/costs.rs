//! What each slip costs, in words.

use crate::cope::fit::{Cost, SlipKind, Usual, sensitivity};
use crate::job::Draft;
use crate::job::fit::predicted::{NOTHING, zero};
use crate::job::fit::{FitFact, small};
use crate::units::{Angle, Length, Unit, write_angle, write_fixed};

/// The unit that a slip is told in, and the factor from mm of gap per it.
fn per(kind: SlipKind, unit: Unit) -> (&'static str, f64) {
    match kind {
        SlipKind::Angle | SlipKind::Turn => ("degree", 1.0),
        SlipKind::Offset | SlipKind::Size if unit.is_inch() => ("1/32 in", 25.4 / 32.0),
        SlipKind::Offset | SlipKind::Size => ("mm", 1.0),
        SlipKind::Scale => ("percent", 1.0),
    }
}

/// What each slip costs, the dearest first.
pub(super) fn costs(draft: &Draft, main: usize) -> Vec<FitFact> {
    let cope = draft.template.cope();
    let unit = draft.unit;
    let usual = Usual::default();
    let all = sensitivity(cope, &usual, main, zero(draft));
    let dearest = all.first().map(|cost| cost.kind);
    let row = |cost: &Cost| {
        let name = match cost.kind {
            SlipKind::Angle => "Angle off",
            SlipKind::Offset => "Offset off",
            SlipKind::Turn => "Turned",
            SlipKind::Size => "Cut for another diameter",
            SlipKind::Scale => "Print not at true scale, ground to the line",
        };
        let (each, factor) = per(cost.kind, unit);
        let value = small(Length::from_mm(cost.per_unit() * factor), unit);
        let amount = match cost.kind {
            SlipKind::Angle | SlipKind::Turn => write_angle(Angle::from_rad(cost.amount).abs()),
            SlipKind::Offset | SlipKind::Size => small(Length::from_mm(cost.amount.abs()), unit),
            SlipKind::Scale => format!("{} %", write_fixed(cost.amount.abs() * 100.0, 1)),
        };
        let mut remark = format!(
            "{} of gap for a usual slip of {amount} (common practice, no source)",
            small(cost.opens, unit)
        );
        if Some(cost.kind) == dearest && cost.opens >= NOTHING {
            remark.push_str("; costs most at this joint");
        }
        FitFact::new(name, format!("{value} per {each}"), remark)
    };
    all.iter().map(row).collect()
}
