//! Which slip costs most at a joint.

use crate::cope::Cope;
use crate::cope::fit::search::Effort;
use crate::cope::fit::{Home, SlipKind};
use crate::units::{Angle, Length};

/// How far off one usually is; for comparing slips of different kinds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usual {
    /// Included angle.
    pub angle: Angle,
    /// Turn about the branch.
    pub turn: Angle,
    /// Offset.
    pub offset: Length,
    /// Diameter of the saw.
    pub size: Length,
    /// Print scale, as a part of it.
    pub scale: f64,
}

/// Common practice, no source: an angle finder read to half a degree, a mark to half a millimetre,
/// a saw a third of a millimetre over its number, a print within half a percent.
impl Default for Usual {
    fn default() -> Self {
        Self {
            angle: Angle::from_deg(0.5),
            turn: Angle::from_deg(1.0),
            offset: Length::from_mm(0.5),
            size: Length::from_mm(0.3),
            scale: 0.005,
        }
    }
}

impl Usual {
    /// The usual slip of a kind: rad, mm, or the part by which a print is off.
    #[must_use]
    pub const fn amount(&self, kind: SlipKind) -> f64 {
        match kind {
            SlipKind::Angle => self.angle.rad(),
            SlipKind::Turn => self.turn.rad(),
            SlipKind::Offset => self.offset.mm(),
            SlipKind::Size => self.size.mm(),
            SlipKind::Scale => self.scale,
        }
    }
}

/// What a slip costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cost {
    /// The slip.
    pub kind: SlipKind,
    /// How far it is off, with the sign that costs more: rad, mm, or a part of the print.
    pub amount: f64,
    /// By how much the gap opens where it opens most.
    pub opens: Length,
    /// The same for as much the other way; `None` where the joint does not allow that.
    pub other_way: Option<Length>,
}

impl Cost {
    /// Millimetres of gap per degree, per millimetre or per percent, as if it grew evenly; seldom
    /// true far from [`Self::amount`].
    #[must_use]
    pub fn per_unit(&self) -> f64 {
        let off = match self.kind {
            SlipKind::Angle | SlipKind::Turn => Angle::from_rad(self.amount).deg(),
            SlipKind::Offset | SlipKind::Size => self.amount,
            SlipKind::Scale => 100.0 * self.amount,
        };
        self.opens.mm() / off.abs().max(f64::MIN_POSITIVE)
    }
}

/// What each slip that the main can have costs, the dearest first: the more costly way of being off
/// by the usual amount. One that the joint does not allow (a diameter out of range) is left out.
#[must_use]
pub fn sensitivity(cope: &Cope, usual: &Usual, main: usize, zero: Angle) -> Vec<Cost> {
    let Some(seat) = cope.mains().get(main) else {
        return Vec::new();
    };
    let home = |kind: SlipKind, amount: f64| {
        Home::new(cope, &kind.slip(main, amount), zero, Effort::COMPARED).ok()
    };
    let Some(plain) = home(SlipKind::Angle, 0.0) else {
        return Vec::new();
    };
    let mut costs: Vec<Cost> = SlipKind::ALL
        .into_iter()
        .filter(|kind| kind.applies_to(seat))
        .filter_map(|kind| {
            let both = [1.0, -1.0].map(|way| {
                let amount = way * usual.amount(kind);
                home(kind, amount).map(|home| Cost {
                    kind,
                    amount,
                    opens: Length::from_mm(opens(&plain, &home)),
                    other_way: None,
                })
            });
            let [more, less] = match both {
                [Some(a), Some(b)] if b.opens > a.opens => [Some(b), Some(a)],
                [None, b] => [b, None],
                both => both,
            };
            more.map(|cost| Cost {
                other_way: less.map(|less| less.opens),
                ..cost
            })
        })
        .collect();
    crate::units::sort_by_number(&mut costs, |cost| -cost.opens.mm());
    costs
}

/// By how much the gap of one end is wider than that of another, where it is most so.
fn opens(plain: &Home, off: &Home) -> f64 {
    let wider = off.turns.iter().filter_map(|phi| {
        let (with, without) = (off.edge_gap(*phi)?, plain.edge_gap(*phi)?);
        Some(with - without)
    });
    wider.fold(0.0, f64::max)
}
