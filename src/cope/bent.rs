//! A bent main as the generators of a branch meet it: heights, slopes, and the top of the wall.

use crate::cope::curve::Jet;
use crate::cope::interval::Interval;
use crate::cope::ring::{Ring, Slopes};
use crate::joint::{BendSurface, BentTube};

/// Parts looked at where the highest point itself is asked for; halving the wall twenty times over
/// takes a few dozen.
const EVERY_PART: u32 = 1000;
/// A generator this far (as a part of the tube's radius) beside the main still grazes it.
const GRAZE: f64 = 1e-14;
/// What turning a main about the branch may round a turn by, rad.
const ROUNDED: f64 = 1e-13;
/// A part of the wall that rises by less than this, mm, is level.
const LEVEL: f64 = 1e-10;

/// A bent main in the frame of its own turn and shift.
#[derive(Debug, Clone, PartialEq)]
pub struct BentSeat {
    pub tube: BentTube,
    pub ring: Ring,
    sin: f64,
    cos: f64,
    offset: f64,
}

impl BentSeat {
    pub fn new(tube: &BentTube, sin: f64, cos: f64, offset: f64) -> Self {
        Self {
            tube: *tube,
            ring: Ring::new(tube, sin, cos, offset),
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
        let (rho, inside) = if inner < outer {
            self.highest(inner, outer, phi, EVERY_PART)?
        } else {
            (outer, false)
        };
        self.jet(rho, inside, phi)
    }

    /// The same for a wall that is known to be a hill from bore to outside.
    pub fn top_of_hill(&self, inner: f64, outer: f64, phi: f64) -> Option<Jet> {
        let rising = |rho: f64| {
            let (height, surface) = self.hit(phi, rho, 0.0)?;
            let slopes = self.ring.seen(phi, rho).slopes_on(surface, height);
            Some(slopes.by_rho > 0.0)
        };
        if rising(outer)? {
            return self.jet(outer, false, phi);
        }
        if !rising(inner)? {
            return self.jet(inner, false, phi);
        }
        let wall = Interval {
            lo: inner,
            hi: outer,
        };
        self.jet(self.crest(wall, phi), true, phi)
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

    /// The wall radius with the highest hit, and whether it lies inside the wall: parts of the
    /// wall that cannot hold it are ruled out, the others divided until the height only rises,
    /// only falls, or has one crest.
    ///
    /// After `most` parts the best so far is returned.
    pub fn highest(&self, inner: f64, outer: f64, phi: f64, most: u32) -> Option<(f64, bool)> {
        let mut best: Option<(f64, f64)> = None;
        let offer = |rho: f64, best: &mut Option<(f64, f64)>| {
            if let Some((height, _)) = self.hit(phi, rho, 0.0)
                && best.is_none_or(|(_, top)| height > top)
            {
                *best = Some((rho, height));
            }
        };
        offer(outer, &mut best);
        offer(inner, &mut best);
        let mut open = vec![Interval {
            lo: inner,
            hi: outer,
        }];
        let smallest = (outer - inner) * 1e-7;
        let mut parts = 0;
        while let Some(part) = open.pop() {
            parts += 1;
            let middle = part.middle();
            let half = part.width() / 2.0;
            if let Some(region) = self.settle(Interval::point(phi), part) {
                let Slopes {
                    by_rho, by_rho_rho, ..
                } = region.slopes;
                if by_rho.may_be_zero() && by_rho_rho.hi < 0.0 {
                    offer(self.crest(part, phi), &mut best);
                    continue;
                }
                let rise = by_rho.lo.abs().max(by_rho.hi.abs()) * half;
                if !by_rho.may_be_zero() || by_rho_rho.lo > 0.0 || rise < LEVEL {
                    offer(part.lo, &mut best);
                    offer(part.hi, &mut best);
                    continue;
                }
            }
            let top = self.hit(phi, middle, half).map(|(height, _)| height);
            let hopeless = match (top, best) {
                (None, _) => true,
                (Some(top), Some((_, best))) => top <= best + LEVEL,
                _ => false,
            };
            offer(middle, &mut best);
            if !hopeless && half > smallest && parts < most {
                open.push(Interval {
                    lo: part.lo,
                    hi: middle,
                });
                open.push(Interval {
                    lo: middle,
                    hi: part.hi,
                });
            }
        }
        best.map(|(rho, _)| (rho, rho > inner && rho < outer))
    }

    /// Where the height over a part of the wall, known to be a hill, has its top.
    fn crest(&self, part: Interval, phi: f64) -> f64 {
        let (mut low, mut high) = (part.lo, part.hi);
        let mut rho = part.middle();
        for _ in 0..60 {
            let Some((height, surface)) = self.hit(phi, rho, 0.0) else {
                return rho;
            };
            let slopes = self.ring.seen(phi, rho).slopes_on(surface, height);
            if slopes.by_rho > 0.0 {
                low = rho;
            } else {
                high = rho;
            }
            let newton = rho - slopes.by_rho / slopes.by_rho_rho;
            let next = if newton > low && newton < high {
                newton
            } else {
                f64::midpoint(low, high)
            };
            if (next - rho).abs() <= 1e-13 * part.hi {
                return next;
            }
            rho = next;
        }
        rho
    }
}
