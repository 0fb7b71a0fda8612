//! Bounds of a curve and of its slope over a range of turns, for curves of every kind.

use crate::cope::curve::Curve;
use crate::cope::interval::Interval;
use crate::cope::seat::{Ground, Seat};

/// Bounds of the height and of the slope of one of a main's curves over turns of the branch.
pub fn bounds(seat: &Seat, curve: Curve, over: Interval) -> (Interval, Interval) {
    let phi = over + -seat.turn;
    let (height, slope) = own_bounds(seat, curve, phi).unwrap_or((Interval::ALL, Interval::ALL));
    (height + seat.shift, slope)
}

/// The same in the main's own turn and shift; `None` where nothing is known.
fn own_bounds(seat: &Seat, curve: Curve, phi: Interval) -> Option<(Interval, Interval)> {
    let (sin, cos) = (phi.sin(), phi.cos());
    let by = 1.0 / seat.sin;
    let (height, slope) = match curve {
        Curve::Wall { arc, rho } => {
            let circle = seat.circle(arc);
            let y = sin * rho + -circle.offset;
            let along = cos * rho;
            let depth = ((-y + circle.radius) * (y + circle.radius)).root();
            (
                along * seat.cos + depth + circle.lift,
                sin * (-rho * seat.cos) - y * along / depth,
            )
        }
        Curve::Face {
            across,
            up,
            slope,
            rho,
        } => (
            cos * (rho * seat.cos) + (sin * rho + -(seat.offset + across)) * slope + up,
            cos * (rho * slope) - sin * (rho * seat.cos),
        ),
        Curve::Crest { arc, .. } => {
            let circle = seat.circle(arc);
            let t = cos / sin;
            let w = (t.squared() * (seat.cos * seat.cos) + 1.0).root();
            let by_t = t / w * (circle.radius * seat.cos * seat.cos) + circle.offset * seat.cos;
            (
                t * (circle.offset * seat.cos) + w * circle.radius + circle.lift,
                -(by_t * (t.squared() + 1.0)),
            )
        }
        Curve::Edge { across, up } => {
            let reach = (seat.offset + across) * seat.cos;
            let t = cos / sin;
            (t * reach + up, (t.squared() + 1.0) * -reach)
        }
        Curve::Bent { inner, outer } => {
            return match &seat.ground {
                Ground::Bent(bent) => bent.bounds(phi, inner, outer),
                Ground::Straight(_) => None,
            };
        }
        Curve::Top { .. } => return None,
        Curve::Trim { rho } => (cos * (rho * seat.cos), sin * (-rho * seat.cos)),
    };
    let sound = |bounds: Interval| {
        if bounds.lo.is_nan() || bounds.hi.is_nan() {
            Interval::ALL
        } else {
            bounds * by
        }
    };
    Some((sound(height), sound(slope)))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::cope::profile::pieces;
    use crate::joint::{Bend, Main, RectangularSection};
    use crate::units::{Angle, Length};

    #[test]
    fn bounds_hold_the_curve_and_its_slope() {
        let mm = Length::from_mm;
        let deg = Angle::from_deg;
        let section = RectangularSection::new(mm(50.0), mm(40.0), mm(5.0), deg(20.0)).unwrap();
        let bend = Bend::new(mm(120.0), deg(90.0), mm(10.0), deg(200.0)).unwrap();
        let mains = [
            Main::round(mm(48.3), deg(50.0), mm(3.0)).unwrap(),
            Main::rectangular(section, deg(50.0), mm(3.0)).unwrap(),
            Main::bent(mm(48.3), bend, deg(50.0), mm(3.0)).unwrap(),
        ];
        for main in mains {
            let mut seat = Seat::of(&main.turned(deg(33.0)).shifted(mm(7.0)));
            for (inner, outer) in [(21.0, 21.0), (17.0, 21.0)] {
                for piece in pieces(&mut seat, inner, outer) {
                    let width = (piece.to - piece.from) / 20.0;
                    for part in 0..20 {
                        let from = piece.from + f64::from(part) * width + seat.turn;
                        let over = Interval::between(from, from + width);
                        let (height, slope) = bounds(&seat, piece.curve, over);
                        for step in [0.1, 0.5, 0.9] {
                            let jet = seat.jet(piece.curve, from + step * width);
                            let holds = height.lo <= jet.height + 1e-9
                                && jet.height <= height.hi + 1e-9
                                && (jet.slope.is_nan()
                                    || (slope.lo - 1e-9..=slope.hi + 1e-9).contains(&jet.slope));
                            assert!(holds, "{piece:?} {over:?} {height:?} {slope:?} {jet:?}");
                        }
                    }
                }
            }
        }
    }
}
