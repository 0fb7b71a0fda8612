//! How far a place is from a main's surface, along the surface's normal.

use crate::joint::{BentTube, Main, RectangularSection, Shape, Surface};
use crate::units::Length;

/// Where a place stands to a main's surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearest {
    /// Distance to the surface, root gap included; below 0 inside the main.
    pub distance: Length,
    /// Unit normal of the surface there, out of the main, in the branch's frame.
    pub normal: [f64; 3],
}

impl Main {
    /// The distance of a place of the branch's frame, mm, from the main's surface, in closed form:
    /// from the axis less the radius of a round main, from the plane of a plate or a mitre, from
    /// the core of a rounded rectangle less its corner radius, from the centre line of a bent main
    /// less its radius.
    ///
    /// Outside it is the shortest way to the main. The open space behind a plate counts as inside.
    #[must_use]
    pub fn nearest(&self, place: [f64; 3]) -> Nearest {
        let own @ [_, side, up] = self.in_own_frame(place);
        let (distance, normal) = match (self.surface(), self.shape()) {
            (Surface::Bent(tube), _) => from_bend(tube, own),
            (Surface::Straight(_), Shape::Rectangular(section)) => {
                let (distance, [side, up]) = from_rectangle(section, side, up);
                (distance - self.gap().mm(), [0.0, side, up])
            }
            (Surface::Straight(_), Shape::Round { radius }) => {
                let far = side.hypot(up);
                let (side, up) = direction(side, up);
                (far - (*radius + self.gap()).mm(), [0.0, side, up])
            }
            (Surface::Straight(_), _) => (up - self.gap().mm(), [0.0, 0.0, 1.0]),
        };
        let (origin, end) = (self.in_branch_frame([0.0; 3]), self.in_branch_frame(normal));
        Nearest {
            distance: Length::from_mm(distance),
            normal: [0, 1, 2].map(|axis| end[axis] - origin[axis]),
        }
    }
}

/// The direction of a place of a section from its middle; up where it is the middle.
fn direction(side: f64, up: f64) -> (f64, f64) {
    let far = side.hypot(up);
    if far > 0.0 {
        (side / far, up / far)
    } else {
        (0.0, 1.0)
    }
}

/// Distance from a rounded rectangle without gap, and the normal as (side, up): the corner radius
/// is measured from the core, the rectangle of the corners' centres.
fn from_rectangle(section: &RectangularSection, side: f64, up: f64) -> (f64, [f64; 2]) {
    let corner = section.corner().mm();
    let (sin, cos) = section.roll().rad().sin_cos();
    let (v, w) = (side * cos + up * sin, up * cos - side * sin);
    let (dv, dw) = (
        v.abs() - (section.width().mm() / 2.0 - corner),
        w.abs() - (section.height().mm() / 2.0 - corner),
    );
    let (distance, (nv, nw)) = if dv > 0.0 && dw > 0.0 {
        (dv.hypot(dw), direction(dv, dw))
    } else if dv > dw {
        (dv, (1.0, 0.0))
    } else {
        (dw, (0.0, 1.0))
    };
    let (nv, nw) = (nv.copysign(v), nw.copysign(w));
    (
        distance - corner,
        [nv * cos - nw * sin, nv * sin + nw * cos],
    )
}

/// Distance from a bent main and the normal as (along, side, up).
fn from_bend(tube: &BentTube, own: [f64; 3]) -> (f64, [f64; 3]) {
    let [t, n, b] = tube.bend_frame(own);
    let clr = 1.0 / tube.curvature;
    // From the nearest place of the centre line to this one, in the plane of the bend.
    let mut best: Option<(f64, f64)> = None;
    let mut offer = |dt: f64, dn: f64| {
        if best.is_none_or(|(bt, bn)| dt.hypot(dn) < bt.hypot(bn)) {
            best = Some((dt, dn));
        }
    };
    let turn = t.atan2(clr - n);
    if turn >= tube.arc.0 && turn <= tube.arc.1 {
        let far = t.hypot(clr - n);
        let (sin, cos) = turn.sin_cos();
        offer((far - clr) * sin, (clr - far) * cos);
    }
    for leg in &tube.legs {
        let ([a0, a1, a2], [w0, w1, w2]) = (leg.along, leg.towards);
        let (along, towards) = (a0 * t + a1 * n + a2, w0 * t + w1 * n + w2);
        // Before its start the leg's nearest place is the end of the arc.
        let back = along.min(0.0);
        offer(back * a0 + towards * w0, back * a1 + towards * w1);
    }
    let (dt, dn) = best.unwrap_or((0.0, 0.0));
    let far = dt.hypot(dn).hypot(b);
    let out = if far > 0.0 {
        [dt / far, dn / far, b / far]
    } else {
        [0.0, 0.0, 1.0]
    };
    (far - tube.radius, tube.out_of_bend_frame(out))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::joint::{Bend, JointError};
    use crate::units::Angle;

    fn mains() -> Vec<Main> {
        let (mm, deg) = (Length::from_mm, Angle::from_deg);
        let made: Result<Vec<Main>, JointError> = (|| {
            let section = RectangularSection::new(mm(60.0), mm(40.0), mm(6.0), deg(25.0))?;
            let sharp = RectangularSection::new(mm(50.0), mm(30.0), mm(0.0), deg(0.0))?;
            let bend = |station, facing| Bend::new(mm(120.0), deg(90.0), mm(station), deg(facing));
            Ok(vec![
                Main::round(mm(48.3), deg(60.0), mm(4.0))?,
                Main::plate(deg(35.0))?,
                Main::mitre(mm(40.0), deg(100.0))?,
                Main::rectangular(section, deg(70.0), mm(-3.0))?,
                Main::rectangular(sharp, deg(90.0), mm(0.0))?,
                Main::bent(mm(42.4), bend(15.0, 30.0)?, deg(65.0), mm(5.0))?,
                Main::bent(mm(42.4), bend(-130.0, 200.0)?, deg(65.0), mm(-5.0))?,
            ])
        })();
        made.unwrap()
    }

    #[test]
    fn a_hit_lies_on_the_surface_and_the_normal_is_the_steepest_way_out() {
        for main in mains() {
            for gap in [0.0, 1.5] {
                let main = main.grown(Length::from_mm(gap)).unwrap();
                let main = main
                    .turned(Angle::from_deg(40.0))
                    .shifted(Length::from_mm(7.0));
                let mut hits = 0;
                for step in 0..72 {
                    let phi = f64::from(step).to_radians() * 5.0 + 0.01;
                    let (x, y) = (19.0 * phi.cos(), 19.0 * phi.sin());
                    let hit = main.first_hit(Length::from_mm(x), Length::from_mm(y));
                    let Some(z) = hit else { continue };
                    hits += 1;
                    let at = main.nearest([x, y, z.mm()]);
                    assert!(at.distance.abs().mm() < 1e-9, "{main:?} {phi}: {at:?}");
                    let length = at.normal.iter().map(|part| part * part).sum::<f64>();
                    assert!((length - 1.0).abs() < 1e-12);
                    // Out along the normal the distance grows as fast as the way.
                    let out = |far: f64| {
                        let [nx, ny, nz] = at.normal;
                        let place = [x + far * nx, y + far * ny, z.mm() + far * nz];
                        main.nearest(place).distance.mm()
                    };
                    assert!((out(0.5) - 0.5).abs() < 1e-9, "{main:?} {phi}");
                }
                assert!(hits > 20, "{main:?}");
            }
        }
    }
}
