//! The two surfaces that meet: the mains as they are, and the end as it was cut.

use std::f64::consts::{PI, TAU};

use crate::cope::CutMethod;
use crate::cope::curve::Curve;
use crate::cope::fit::Slip;
use crate::cope::seat::Seat;
use crate::joint::{Main, Surface};
use crate::units::Length;

/// A generator this near to one that meets a main (mm, rad) meets it too: where the cut and the
/// joint end at the same place beside a main, rounding decides which of the two is met, and an
/// upright side makes a step there.
const NUDGE: f64 = 1e-9;

/// Mains, and the wall that meets them.
#[derive(Debug, Clone)]
pub struct Ground {
    pub mains: Vec<Main>,
    seats: Vec<Seat>,
}

impl Ground {
    pub fn new(mains: Vec<Main>) -> Self {
        let seats = mains.iter().map(Seat::of).collect();
        Self { mains, seats }
    }

    /// The height at which a generator comes down on a main; `None` beside all.
    pub fn hit(&self, rho: f64, (sin, cos): (f64, f64)) -> Option<f64> {
        let (x, y) = (Length::from_mm(rho * cos), Length::from_mm(rho * sin));
        let hits = self.mains.iter().filter_map(|main| main.first_hit(x, y));
        hits.map(Length::mm).reduce(f64::max)
    }

    /// The same of a generator that may pass beside by no more than rounding: a branch whose side
    /// is flush with its main's comes down on it there.
    pub fn met(&self, rho: f64, phi: f64) -> Option<f64> {
        let beside = || {
            let near = [(NUDGE, 0.0), (-NUDGE, 0.0), (0.0, NUDGE), (0.0, -NUDGE)];
            let hits = near
                .iter()
                .map(|(more, on)| self.hit(rho + more, (phi + on).sin_cos()));
            hits.flatten().reduce(f64::max)
        };
        self.hit(rho, phi.sin_cos()).or_else(beside)
    }

    /// The main that a generator comes down on, counted from 0; `None` beside all.
    pub fn which(&self, rho: f64, (sin, cos): (f64, f64)) -> Option<usize> {
        let (x, y) = (Length::from_mm(rho * cos), Length::from_mm(rho * sin));
        let hits = self.mains.iter().enumerate();
        let hits = hits.filter_map(|(number, main)| Some((number, main.first_hit(x, y)?)));
        let first = hits.reduce(|a, b| if b.1 > a.1 { b } else { a })?;
        Some(first.0)
    }

    /// Whether its seams are all there is to know about kinks of its height.
    pub fn is_plain(&self) -> bool {
        self.mains.len() == 1
            && self
                .mains
                .iter()
                .all(|main| matches!(main.surface(), Surface::Straight(_)))
    }

    /// The greatest height over a wall at a turn.
    pub fn highest(&self, (inner, outer): (f64, f64), phi: f64) -> Option<f64> {
        let heights = self
            .seats
            .iter()
            .filter_map(|seat| seat.highest(inner, outer, phi));
        heights.reduce(f64::max)
    }

    /// Level with the first main's axis: where what hangs beside is trimmed.
    fn trim(&self, rho: f64, phi: f64) -> f64 {
        self.seats
            .first()
            .map_or(0.0, |seat| seat.height(Curve::Trim { rho }, phi))
    }

    /// Places across, as (turn of the main, offset + place), where the outline of a straight main
    /// ends or changes: kinks of the height.
    fn seams(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.mains.iter().flat_map(|main| {
            let stretches = match main.surface() {
                Surface::Straight(outline) => outline.stretches(),
                Surface::Bent(_) => &[],
            };
            let places = stretches.iter().flat_map(|part| [part.from, part.to]);
            let (turn, offset) = (main.turn().rad(), main.offset().mm());
            places
                .filter(|place| place.is_finite())
                .map(move |place| (turn, offset + place))
        })
    }

    /// Turns at which a wall radius is above a seam.
    pub fn seam_turns(&self, rho: f64, add: &mut impl FnMut(f64)) {
        for (turn, across) in self.seams() {
            let sin = across / rho;
            if sin.abs() <= 1.0 {
                let at = sin.asin();
                add(turn + at);
                add(turn + PI - at);
            }
        }
    }

    /// Wall radii above a seam at a turn.
    pub fn seam_radii(&self, phi: f64, add: &mut impl FnMut(f64)) {
        for (turn, across) in self.seams() {
            add(across / (phi - turn).sin());
        }
    }
}

/// The end as it was cut.
#[derive(Debug, Clone)]
pub struct CutEnd {
    pub ground: Ground,
    method: CutMethod,
    pub outside: f64,
    pub bore: f64,
    scale: f64,
    /// The turn where the template's edge lies, from which an untrue print runs off.
    pub zero: f64,
}

impl CutEnd {
    pub fn new(
        ground: Ground,
        method: CutMethod,
        radii: (f64, f64),
        slip: &Slip,
        zero: f64,
    ) -> Self {
        let (bore, outside) = radii;
        Self {
            ground,
            method,
            outside,
            bore,
            scale: slip.scale,
            zero,
        }
    }

    /// Whether each wall radius has a height of its own: the saw's surface, not a line.
    pub fn is_surface(&self) -> bool {
        self.method == CutMethod::Saw && self.scale == 1.0
    }

    /// Whether only one edge of the wall can touch: all the rest is cleared away.
    pub fn one_edge(&self) -> bool {
        self.method != CutMethod::Square && !self.is_surface()
    }

    /// The wall radius whose gap is judged: the edge that is to seat.
    pub fn edge(&self) -> f64 {
        if self.method == CutMethod::Bore {
            self.bore
        } else {
            self.outside
        }
    }

    /// Height of the end at a wall radius and a turn.
    pub fn height(&self, rho: f64, phi: f64) -> f64 {
        if self.is_surface() {
            let ground = &self.ground;
            ground
                .met(rho, phi)
                .unwrap_or_else(|| ground.trim(rho, phi))
        } else if self.scale == 1.0 {
            self.line(phi)
        } else {
            let round = (phi - self.zero).rem_euclid(TAU);
            self.scale * self.line(self.zero + round / self.scale)
        }
    }

    /// Where a turn of the line comes to lie on the tube when the print is not at true scale.
    pub fn turn_on_tube(&self, turn: f64) -> f64 {
        if self.scale == 1.0 {
            return turn;
        }
        self.zero + (turn - self.zero).rem_euclid(TAU) * self.scale
    }

    /// The printed line at true scale.
    fn line(&self, phi: f64) -> f64 {
        let radii = self.method.radii(self.bore, self.outside);
        let at = |phi: f64| self.ground.highest(radii, phi);
        let beside = || {
            [at(phi + NUDGE), at(phi - NUDGE)]
                .into_iter()
                .flatten()
                .reduce(f64::max)
        };
        let top = at(phi).or_else(beside);
        top.unwrap_or_else(|| self.ground.trim(radii.1, phi))
    }
}
