//! The gap that a saw of another diameter than the joint wants leaves, and the listed saw by it.

use crate::cope::Cope;
use crate::joint::Shape;
use crate::stock::{HOLE_SAW_MATCH, HoleSaw, hole_saws, nearest_hole_saw};
use crate::units::{Length, limited};

/// The hole saw of the common series for the first main, with the widest gap that it leaves: the
/// nearest in diameter; where that leaves more than [`HOLE_SAW_MATCH`], the one that leaves least.
/// `None` for a main that is no straight round tube, and where no saw is near.
#[must_use]
pub fn listed_saw(cope: &Cope) -> Option<(&'static HoleSaw, Length)> {
    let Shape::Round { radius } = cope.joint().main().shape() else {
        return None;
    };
    let nearest = nearest_hole_saw((*radius + cope.gap()) * 2.0)?;
    let gap = |saw: &HoleSaw| gap_of_saw(cope, saw.diameter).unwrap_or_default();
    let least = gap(nearest);
    if least <= HOLE_SAW_MATCH {
        return Some((nearest, least));
    }
    let all = hole_saws().iter().map(|saw| (saw, gap(saw)));
    all.min_by(|a, b| a.1.mm().total_cmp(&b.1.mm()))
}

/// The widest gap between branch and main, pushed home, that a saw of a diameter leaves on the
/// outside of the tube; what the saw does not reach is counted as trimmed level with the main's axis.
/// `None` for a main that is no single straight round tube, and where the branch passes beside it.
///
/// Main and saw are cylinders along one axis, so everything happens in the section square to it,
/// whatever the angle. There, x to the side of the axis, the main is z = √(R² − x²), the cut
/// z = √(S² − x²), and pushing home moves the cut by the largest difference, s. The gap is
/// √(x² + (z + s)²) − R. With S > R the difference, and with S < R the gap, is largest nearest to the
/// axis, the other one farthest from it or where the saw ends: three places say it all.
#[must_use]
pub fn gap_of_saw(cope: &Cope, saw: Length) -> Option<Length> {
    let (joint, main) = (cope.joint(), cope.joint().main());
    let Shape::Round { radius } = main.shape() else {
        return None;
    };
    if joint.mains().count() > 1 {
        return None;
    }
    let wanted = (*radius + cope.gap()).mm();
    let own = saw.mm() / 2.0;
    let (rho, offset) = (joint.branch().outside_radius().mm(), main.offset().mm());
    let near = (offset.abs() - rho).max(0.0);
    let far = (offset.abs() + rho).min(wanted);
    if near >= far || own <= 0.0 {
        return None;
    }
    let circle = |radius: f64, x: f64| (radius * radius - x * x).max(0.0).sqrt();
    let places = [near, far, limited(own, near, far)];
    let largest = |of: &dyn Fn(f64) -> f64| {
        let all = places.iter().map(|x| of(*x));
        all.fold(f64::NEG_INFINITY, f64::max)
    };
    let home = largest(&|x| circle(wanted, x) - circle(own, x));
    let gap = largest(&|x| x.hypot(circle(own, x) + home) - wanted);
    Some(Length::from_mm(gap.max(0.0)))
}
