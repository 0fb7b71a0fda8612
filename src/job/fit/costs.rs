//! What each slip costs, in words.

use crate::cope::fit::{Cost, ROUNDING as NOTHING, SlipKind, Usual, sensitivity};
use crate::job::Draft;
use crate::job::fit::predicted::zero;
use crate::job::fit::{FitFact, angle_name, small};
use crate::units::{Angle, Length, Unit, write_angle, write_fixed};

/// Gaps that differ by no more than this part of the larger are as good as the same; our own
/// judgement.
const ALIKE: f64 = 0.1;

/// Slips of one unit each: a degree, a millimetre or 1/32 in, a percent.
fn units(unit: Unit) -> Usual {
    let length = if unit.is_inch() {
        Length::from_inches(1.0 / 32.0)
    } else {
        Length::from_mm(1.0)
    };
    Usual {
        angle: Angle::from_deg(1.0),
        turn: Angle::from_deg(1.0),
        offset: length,
        size: length,
        scale: 0.01,
    }
}

/// What each slip costs, the dearest first. Gap does not grow evenly with a slip everywhere: what
/// one unit costs is reckoned, and told as a rate only where the usual slip has the same one.
pub(super) fn costs(draft: &Draft, main: usize) -> Vec<FitFact> {
    let cope = draft.template.cope();
    let unit = draft.unit;
    let (usual, one) = (Usual::default(), units(unit));
    let all = sensitivity(cope, &usual, main, zero(draft));
    let at_one = sensitivity(cope, &one, main, zero(draft));
    let dearest = all.first().map(|cost| cost.kind);
    let angle = format!("{} off", angle_name(cope, main));
    let row = |cost: &Cost| {
        let kind = cost.kind;
        let name = match kind {
            SlipKind::Angle => angle.as_str(),
            SlipKind::Offset => "Offset off",
            SlipKind::Turn => "Turned",
            SlipKind::Size => "Cut for another diameter",
            SlipKind::Scale => "Print not at true scale, ground to the line",
        };
        let amount = match kind {
            SlipKind::Angle | SlipKind::Turn => write_angle(Angle::from_rad(cost.amount).abs()),
            SlipKind::Offset | SlipKind::Size => small(Length::from_mm(cost.amount.abs()), unit),
            SlipKind::Scale => format!("{} %", write_fixed(cost.amount.abs() * 100.0, 1)),
        };
        let value = at_one.iter().find(|one| one.kind == kind).map_or_else(
            || format!("{} at {amount} off", rough(cost.opens, unit)),
            |at_one| {
                let each = match kind {
                    SlipKind::Angle | SlipKind::Turn => "degree",
                    SlipKind::Offset | SlipKind::Size if unit.is_inch() => "1/32 in",
                    SlipKind::Offset | SlipKind::Size => "mm",
                    SlipKind::Scale => "percent",
                };
                let gap = rough(at_one.opens, unit);
                let times = one.amount(kind) / usual.amount(kind);
                // A usual turn is one degree: of a rate that shows nothing.
                let known = kind != SlipKind::Turn || at_one.opens < NOTHING;
                if known && alike(cost.opens * times, at_one.opens) {
                    format!("{gap} per {each}")
                } else if each.starts_with('1') {
                    format!("about {gap} at {each} off")
                } else {
                    format!("about {gap} at 1 {each} off")
                }
            },
        );
        let opens = small(cost.opens, unit);
        let mut remark =
            format!("{opens} of gap for a usual slip of {amount} (common practice, no source)");
        if let Some(other) = cost.other_way
            && !alike(other, cost.opens)
        {
            let more = cost.amount > 0.0;
            let ways = match kind {
                SlipKind::Turn => ["towards growing turns", "towards falling turns"],
                _ => ["too large", "too small"],
            };
            let [way, back] = if more { ways } else { [ways[1], ways[0]] };
            remark.push_str(&format!(" {way}, {} {back}", small(other, unit)));
        }
        if Some(kind) == dearest && cost.opens >= NOTHING {
            remark.push_str("; costs most at this joint");
        }
        FitFact::new(name, value, remark)
    };
    all.iter().map(row).collect()
}

/// Whether two gaps are as good as the same.
fn alike(one: Length, other: Length) -> bool {
    (one - other).abs() <= NOTHING.max(one.max(other) * ALIKE)
}

/// A gap to two digits, and none finer than is shown: of what may be off by a tenth more would be
/// a pretence.
fn rough(gap: Length, unit: Unit) -> String {
    let decimals = if unit.is_inch() {
        Unit::Inch
    } else {
        Unit::Millimetre
    };
    let mut step = decimals.shown_step();
    while gap / step >= 99.5 {
        step = step * 10.0;
    }
    small(step * (gap / step).round(), unit)
}
