//! The local dihedral angle round a joint, and where a welder's access gets tight.
//!
//! ψ is the angle, in the plane square to the weld line, between the tangents to the outside
//! surfaces of the two tubes, measured in the open (AWS D1.1, definitions; from memory). With the
//! outward normals n of the branch and m of the main, cos ψ = −n · m.

use crate::cope::Cope;
use crate::units::{Angle, Length};

/// How well a weld can be reached, by the local dihedral angle: the ranges of AWS D1.1 for tubular
/// T-, Y- and K-connections, from memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Access {
    /// ψ below 15°: less than any prequalified detail.
    None,
    /// ψ from 15° to 30°: detail D alone (40° to 15°); the root is built up, not reached.
    Root,
    /// ψ from 30° to 60°: a groove as of details C (75° to 30°) or B (150° to 50°), too tight for a
    /// prequalified fillet.
    Tight,
    /// ψ from 60° to 120°: prequalified as a fillet.
    Fillet,
    /// ψ above 120°: too open for a prequalified fillet; details A (180° to 135°) and B.
    Open,
}

impl Access {
    /// The range a local dihedral angle falls in.
    #[must_use]
    pub fn of(psi: Angle) -> Self {
        // What rounding of the typed angle leaves.
        let least = |degrees: f64| psi.deg() >= degrees - 1e-9;
        if !least(15.0) {
            Self::None
        } else if !least(30.0) {
            Self::Root
        } else if !least(60.0) {
            Self::Tight
        } else if psi.deg() <= 120.0 + 1e-9 {
            Self::Fillet
        } else {
            Self::Open
        }
    }
}

/// Turns over which access is of one kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AccessArc {
    /// Which.
    pub access: Access,
    /// First turn from the heel; may be below 0.
    pub from: Angle,
    /// Last turn from the heel.
    pub to: Angle,
    /// The least local dihedral angle in it.
    pub least: Angle,
    /// The greatest.
    pub most: Angle,
}

/// The local dihedral angle where the branch's outside lands, at a turn from the heel; `None` where
/// it passes beside all mains.
#[must_use]
pub fn dihedral(cope: &Cope, turn: Angle) -> Option<Angle> {
    let radius = cope.joint().branch().outside_radius();
    let height = cope.trace(radius, turn)?;
    let (sin, cos) = turn.rad().sin_cos();
    let place = [radius.mm() * cos, radius.mm() * sin, height.mm()];
    let nearest = cope.mains().iter().map(|main| main.nearest(place));
    let on = nearest.reduce(|a, b| if b.distance < a.distance { b } else { a })?;
    let [nx, ny, nz] = on.normal;
    // The branch's normal is (cos, sin, 0). As an arc tangent, to keep the digits near 0 and 180°.
    let dot = nx * cos + ny * sin;
    let cross = (nx * sin - ny * cos).hypot(nz);
    Some(Angle::from_rad(cross.atan2(-dot)))
}

/// The arcs without those of no width, where the angle just touches a limit; what they parted is
/// put together.
fn without_slivers(arcs: Vec<AccessArc>) -> Vec<AccessArc> {
    /// Narrower is none to a welder, rad.
    const SLIVER: f64 = 1e-3;
    let mut kept: Vec<AccessArc> = Vec::new();
    for arc in arcs {
        if (arc.to - arc.from).rad() < SLIVER {
            continue;
        }
        match kept.last_mut() {
            Some(last)
                if last.access == arc.access && (arc.from - last.to).rad() < 2.0 * SLIVER =>
            {
                last.to = arc.to;
                last.least = if arc.least < last.least {
                    arc.least
                } else {
                    last.least
                };
                last.most = if arc.most > last.most {
                    arc.most
                } else {
                    last.most
                };
            }
            _ => kept.push(arc),
        }
    }
    kept
}

/// Access all round, arc by arc, ascending; the first may start below 0, where an arc runs through
/// the heel. What passes beside is left out, and so are arcs below a thousandth of a radian.
#[must_use]
pub fn access(cope: &Cope) -> Vec<AccessArc> {
    const STEPS: u32 = 360;
    const CHANGES: u32 = 8;
    let kind = |turn: f64| dihedral(cope, Angle::from_rad(turn)).map(Access::of);
    let turn = |step: u32| std::f64::consts::TAU * f64::from(step) / f64::from(STEPS);
    let mut arcs: Vec<AccessArc> = Vec::new();
    let mut open: Option<AccessArc> = None;
    let mut extend = |from: f64, to: f64| {
        let looks = [from, to].map(|turn| dihedral(cope, Angle::from_rad(turn)));
        let middle = kind(f64::midpoint(from, to));
        let Some(access) = middle else {
            arcs.extend(open.take());
            return;
        };
        let mut arc = match open.take() {
            Some(arc) if arc.access == access => arc,
            other => {
                arcs.extend(other);
                AccessArc {
                    access,
                    from: Angle::from_rad(from),
                    to: Angle::from_rad(to),
                    least: Angle::FULL,
                    most: Angle::ZERO,
                }
            }
        };
        arc.to = Angle::from_rad(to);
        for psi in looks.into_iter().flatten() {
            arc.least = if psi < arc.least { psi } else { arc.least };
            arc.most = if psi > arc.most { psi } else { arc.most };
        }
        open = Some(arc);
    };
    for step in 0..STEPS {
        let (mut from, to) = (turn(step), turn(step + 1));
        // More than one change within a step is rare, and found as long as the kinds differ.
        for _ in 0..CHANGES {
            let first = kind(from);
            if first == kind(to) {
                break;
            }
            let (mut low, mut high) = (from, to);
            for _ in 0..30 {
                let middle = f64::midpoint(low, high);
                if kind(middle) == first {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            extend(from, low);
            from = high;
        }
        extend(from, to);
    }
    arcs.extend(open);
    let mut arcs = without_slivers(arcs);
    let full = Angle::FULL;
    if arcs.len() > 1
        && let (Some(first), Some(last)) = (arcs.first().copied(), arcs.last().copied())
        && first.access == last.access
        && first.from == Angle::ZERO
        && last.to == full
    {
        arcs.pop();
        arcs[0] = AccessArc {
            from: last.from - full,
            least: if last.least < first.least {
                last.least
            } else {
                first.least
            },
            most: if last.most > first.most {
                last.most
            } else {
                first.most
            },
            ..first
        };
    }
    arcs
}

impl AccessArc {
    /// How long it is round the outside of a branch.
    #[must_use]
    pub fn around(&self, outside_radius: Length) -> Length {
        outside_radius * (self.to - self.from).rad()
    }
}
