//! A bent main as the generators of a branch meet it: heights, slopes, and the top of the wall.

use crate::cope::curve::Jet;
use crate::cope::ring::Ring;
use crate::cope::spine::Spine;
use crate::joint::{BendSurface, BentTube};

/// A generator this far (as a part of the tube's radius) beside the main still grazes it.
const GRAZE: f64 = 1e-14;
/// What turning a main about the branch may round a turn by, rad.
const ROUNDED: f64 = 1e-13;
/// A bent main in the frame of its own turn and shift.
#[derive(Debug, Clone, PartialEq)]
pub struct BentSeat {
    pub tube: BentTube,
    pub ring: Ring,
    spine: Spine,
    sin: f64,
    cos: f64,
    offset: f64,
}

impl BentSeat {
    pub fn new(tube: &BentTube, sin: f64, cos: f64, offset: f64) -> Self {
        Self {
            tube: *tube,
            ring: Ring::new(tube, sin, cos, offset),
            spine: Spine::new(tube, sin, cos, offset),
            sin,
            cos,
            offset,
        }
    }

    /// The first hit of a generator on the main grown by `more`.
    pub fn hit(&self, phi: f64, rho: f64, more: f64) -> Option<(f64, BendSurface)> {
        let (sin, cos) = phi.sin_cos();
        let (x, y) = (rho * cos, rho * sin);
        let from = [x * self.sin, y - self.offset, -x * self.cos];
        let grown = |more: f64| BentTube {
            radius: self.tube.radius + more,
            ..self.tube
        };
        let towards = [self.cos, 0.0, self.sin];
        grown(more)
            .first_hit(from, towards)
            .or_else(|| grown(more + GRAZE * self.tube.radius).first_hit(from, towards))
    }

    /// Height and derivatives of the highest point over the wall; `None` where all of it passes
    /// beside.
    pub fn top(&self, inner: f64, outer: f64, phi: f64) -> Option<Jet> {
        // A turn that was rounded past the last generator to meet the main still means that one.
        [0.0, -ROUNDED, ROUNDED]
            .into_iter()
            .find_map(|off| self.top_at(inner, outer, phi + off))
    }

    pub fn top_at(&self, inner: f64, outer: f64, phi: f64) -> Option<Jet> {
        let (rho, inside) = self.highest(inner, outer, phi)?;
        self.jet(rho, inside, phi)
    }

    /// Height and derivatives at a wall radius; `inside` that of a crest, which moves with the
    /// turn.
    fn jet(&self, rho: f64, inside: bool, phi: f64) -> Option<Jet> {
        let (height, surface) = self.hit(phi, rho, 0.0)?;
        let slopes = self.ring.seen(phi, rho).slopes_on(surface, height);
        let across = if inside {
            slopes.by_phi_rho * slopes.by_phi_rho / slopes.by_rho_rho
        } else {
            0.0
        };
        Some(Jet {
            height,
            slope: slopes.by_phi,
            bend: slopes.by_phi_phi - across,
        })
    }

    /// The wall radius with the highest hit, and whether it is a crest inside the wall: bore,
    /// outside, or straight above the centre line.
    pub fn highest(&self, inner: f64, outer: f64, phi: f64) -> Option<(f64, bool)> {
        let at = |rho: f64| self.hit(phi, rho, 0.0).map(|(height, _)| (height, rho));
        let outside = at(outer);
        if inner >= outer {
            return outside.map(|(_, rho)| (rho, false));
        }
        let edge = match (outside, at(inner)) {
            (Some(outside), Some(bore)) if bore.0 > outside.0 => Some(bore),
            (outside, bore) => outside.or(bore),
        };
        let floor = edge.map_or(f64::NEG_INFINITY, |(height, _)| height);
        match (self.spine.crest(inner, outer, phi, floor), edge) {
            (Some((rho, _)), _) => Some((rho, true)),
            (None, edge) => edge.map(|(_, rho)| (rho, false)),
        }
    }
}
