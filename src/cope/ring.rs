//! The surface of a bent main along a cut line, with derivatives, over numbers and intervals alike.
//!
//! A place on the branch has a turn φ, a wall radius ρ and a height s. With G(φ, ρ, s) =
//! (Q² + b² − R²) / 2 (see [`BentTube`]) the surface is G = 0, and the implicit function theorem
//! gives the derivatives of s.

use std::ops::{Add, Div, Mul, Neg, Sub};

use crate::cope::interval::{Interval, Swing};
use crate::joint::{BendSurface, BentTube};

/// What the formulas need of a number or an interval.
pub trait Quantity:
    Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Mul<f64, Output = Self>
    + Add<f64, Output = Self>
{
    /// A turn with its sines and cosines, asked for once.
    type Turn: Copy;
    /// The turn of this many radians.
    fn turn(self) -> Self::Turn;
    /// cos · cos φ + sin · sin φ at a turn φ.
    fn wave(turn: Self::Turn, cos: f64, sin: f64) -> Self;
    /// Square.
    fn square(self) -> Self;
}

impl Quantity for f64 {
    type Turn = (f64, f64);
    fn turn(self) -> (f64, f64) {
        self.sin_cos()
    }
    fn wave(turn: (f64, f64), cos: f64, sin: f64) -> Self {
        cos * turn.1 + sin * turn.0
    }
    fn square(self) -> Self {
        self * self
    }
}

impl Quantity for Interval {
    type Turn = Swing;
    fn turn(self) -> Swing {
        Swing::of(self)
    }
    fn wave(turn: Swing, cos: f64, sin: f64) -> Self {
        turn.wave(cos, sin)
    }
    fn square(self) -> Self {
        self.squared()
    }
}

/// ρ (cos · cos φ + sin · sin φ) + by_height · s + constant.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Wave {
    cos: f64,
    sin: f64,
    by_height: f64,
    constant: f64,
}

impl Wave {
    fn turned<T: Quantity>(&self, turn: T::Turn) -> Turned<T> {
        Turned {
            across: T::wave(turn, self.cos, self.sin),
            along: T::wave(turn, self.sin, -self.cos),
            by_height: self.by_height,
            constant: self.constant,
        }
    }
}

/// A wave at a turn.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Turned<T> {
    across: T,
    along: T,
    by_height: f64,
    constant: f64,
}

impl<T: Quantity> Turned<T> {
    fn value(&self, rho: T, height: T) -> T {
        rho * self.across + height * self.by_height + self.constant
    }

    /// With the derivatives that are not zero.
    fn jet(&self, rho: T, height: T) -> Jet3<T> {
        let zero = rho * 0.0;
        Jet3 {
            value: self.value(rho, height),
            by_phi: rho * self.along,
            by_rho: self.across,
            by_height: zero + self.by_height,
            by_phi_phi: -(rho * self.across),
            by_phi_rho: self.along,
            squares: zero,
        }
    }
}

/// A function of a place with its derivatives; those by ρρ and ss are equal, those by φs and ρs
/// vanish.
#[derive(Debug, Clone, Copy)]
struct Jet3<T> {
    value: T,
    by_phi: T,
    by_rho: T,
    by_height: T,
    by_phi_phi: T,
    by_phi_rho: T,
    squares: T,
}

/// Derivatives of the height at which the surface is met.
#[derive(Debug, Clone, Copy)]
pub struct Slopes<T> {
    pub by_phi: T,
    pub by_rho: T,
    pub by_phi_phi: T,
    pub by_phi_rho: T,
    pub by_rho_rho: T,
}

/// A bent main's surfaces in the frame of a branch.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    /// Q of each of the three surfaces, without the arc's squares.
    sheets: [Wave; 3],
    /// b, the same for all three.
    aside: Wave,
    /// Distance along either leg.
    along: [Wave; 2],
    radius: f64,
    half_curvature: f64,
}

impl Ring {
    /// `sin` and `cos` are of the included angle.
    pub fn new(tube: &BentTube, sin: f64, cos: f64, offset: f64) -> Self {
        let (facing_sin, facing_cos) = tube.facing;
        // t, n and b as (cos φ, sin φ, s, constant).
        let t = [sin, 0.0, cos, -tube.origin];
        let n = [
            -cos * facing_cos,
            facing_sin,
            sin * facing_cos,
            -offset * facing_sin,
        ];
        let b = [
            cos * facing_sin,
            facing_cos,
            -sin * facing_sin,
            -offset * facing_cos,
        ];
        let wave = |[cos, sin, by_height, constant]: [f64; 4]| Wave {
            cos,
            sin,
            by_height,
            constant,
        };
        let mixed = |by: [f64; 3]| {
            let mut sum = [0, 1, 2, 3].map(|i: usize| by[0] * t[i] + by[1] * n[i]);
            sum[3] += by[2];
            wave(sum)
        };
        let half = tube.curvature / 2.0;
        // t² + n² + b² = ρ² + s² + what a wave holds, since the frames only turn and move.
        let o = tube.origin;
        let squares = [
            -2.0 * o * sin,
            -2.0 * offset,
            -2.0 * o * cos,
            o * o + offset * offset - tube.radius * tube.radius,
        ];
        let arc = wave([0, 1, 2, 3].map(|i: usize| half * squares[i] - n[i]));
        let [before, after] = tube.legs;
        Self {
            sheets: [arc, mixed(before.towards), mixed(after.towards)],
            aside: wave(b),
            along: [mixed(before.along), mixed(after.along)],
            radius: tube.radius,
            half_curvature: half,
        }
    }

    /// The surfaces as the generators of some turns and wall radii see them.
    pub fn seen<T: Quantity>(&self, phi: T, rho: T) -> Seen<T> {
        let turn = phi.turn();
        Seen {
            towards: self.sheets.map(|towards| towards.turned(turn)),
            aside: self.aside.turned(turn),
            along: self.along.map(|along| along.turned(turn)),
            half_curvature: self.half_curvature,
            radius: self.radius,
            rho,
        }
    }
}

/// The three surfaces, in the order of [`SHEETS`], for a turn and a wall radius or ranges of them.
#[derive(Debug, Clone, Copy)]
pub struct Seen<T> {
    towards: [Turned<T>; 3],
    aside: Turned<T>,
    along: [Turned<T>; 2],
    half_curvature: f64,
    radius: f64,
    rho: T,
}

const SHEETS: [BendSurface; 3] = [BendSurface::Arc, BendSurface::Before, BendSurface::After];

impl<T: Quantity> Seen<T> {
    fn jets(&self, sheet: usize, height: T) -> (Jet3<T>, Jet3<T>) {
        let mut towards = self.towards[sheet].jet(self.rho, height);
        if SHEETS[sheet] == BendSurface::Arc {
            let k = self.half_curvature;
            towards.value = towards.value + (self.rho.square() + height.square()) * k;
            towards.by_rho = towards.by_rho + self.rho * (2.0 * k);
            towards.by_height = towards.by_height + height * (2.0 * k);
            towards.squares = towards.squares + 2.0 * k;
        }
        (towards, self.aside.jet(self.rho, height))
    }

    /// G on one surface, and its derivatives by the height, the turn and the wall radius.
    fn depth(&self, sheet: usize, height: T) -> [T; 4] {
        let (q, b) = self.jets(sheet, height);
        let value = (q.value.square() + b.value.square()) * 0.5 + -0.5 * self.radius * self.radius;
        let by_height = q.value * q.by_height + b.value * b.by_height;
        let by_phi = q.value * q.by_phi + b.value * b.by_phi;
        let by_rho = q.value * q.by_rho + b.value * b.by_rho;
        [value, by_height, by_phi, by_rho]
    }

    fn slopes(&self, sheet: usize, height: T) -> Slopes<T> {
        let (q, b) = self.jets(sheet, height);
        let down = -(q.value * q.by_height + b.value * b.by_height);
        let by_phi = (q.value * q.by_phi + b.value * b.by_phi) / down;
        let by_rho = (q.value * q.by_rho + b.value * b.by_rho) / down;
        let hh = q.by_height.square() + b.by_height.square() + q.value * q.squares;
        let ph = q.by_phi * q.by_height + b.by_phi * b.by_height;
        let rh = q.by_rho * q.by_height + b.by_rho * b.by_height;
        let pp =
            q.by_phi.square() + b.by_phi.square() + q.value * q.by_phi_phi + b.value * b.by_phi_phi;
        let pr = q.by_phi * q.by_rho
            + b.by_phi * b.by_rho
            + q.value * q.by_phi_rho
            + b.value * b.by_phi_rho;
        let rr = q.by_rho.square() + b.by_rho.square() + q.value * q.squares;
        Slopes {
            by_phi,
            by_rho,
            by_phi_phi: (pp + ph * by_phi * 2.0 + hh * by_phi.square()) / down,
            by_phi_rho: (pr + ph * by_rho + rh * by_phi + hh * by_phi * by_rho) / down,
            by_rho_rho: (rr + rh * by_rho * 2.0 + hh * by_rho.square()) / down,
        }
    }
}

impl Seen<f64> {
    /// Derivatives of the height at which a surface is met.
    pub fn slopes_on(&self, surface: BendSurface, height: f64) -> Slopes<f64> {
        let sheet = SHEETS.iter().position(|sheet| *sheet == surface);
        self.slopes(sheet.unwrap_or_default(), height)
    }
}

impl Seen<Interval> {
    /// The surfaces that some place of a range of heights may lie on or inside of. The legs of a
    /// sharp bend run beside each other: one that is out of reach has no say.
    fn around(&self, heights: Interval) -> impl Iterator<Item = usize> + '_ {
        let slack = 1e-9 * self.radius;
        let along = self.along.map(|along| along.value(self.rho, heights));
        (0..3).filter(move |sheet| {
            let there = match SHEETS[*sheet] {
                BendSurface::Arc => along.iter().all(|along| along.lo <= slack),
                BendSurface::Before => along[0].hi >= -slack,
                BendSurface::After => along[1].hi >= -slack,
            };
            there && self.depth_alone(*sheet, heights).lo <= 0.0
        })
    }

    fn depth_alone(&self, sheet: usize, heights: Interval) -> Interval {
        let mut towards = self.towards[sheet].value(self.rho, heights);
        if SHEETS[sheet] == BendSurface::Arc {
            towards = towards + (self.rho.squared() + heights.squared()) * self.half_curvature;
        }
        let aside = self.aside.value(self.rho, heights);
        towards.squared() + aside.squared() + -self.radius * self.radius
    }

    /// How far the surface may lie from a height that it has in the middle, at a swing of turn and
    /// wall radius; NaN or infinite where nothing can be said.
    pub fn stray(&self, height: f64, by_phi: f64, by_rho: f64) -> f64 {
        let height = Interval::point(height);
        let most = |over: Interval| over.lo.abs().max(over.hi.abs());
        self.around(height)
            .map(|sheet| {
                let [_, rise, phi, rho] = self.depth(sheet, height);
                (most(phi) * by_phi + most(rho) * by_rho) / rise.lo.max(0.0)
            })
            .fold(0.0, f64::max)
    }

    /// Whether going up a generator always leads out of the main within a range of heights.
    pub fn rises(&self, heights: Interval) -> bool {
        self.around(heights)
            .all(|sheet| self.depth(sheet, heights)[1].lo > 0.0)
    }

    /// Whether every generator is inside (−1) or outside (+1) the main at a height; 0 where neither
    /// is proven. By the mean value theorem from the middle turn and wall radius, whose surfaces
    /// are `middle`; `swing` is what turns and radii differ from them.
    pub fn side(&self, middle: &Self, swing: [Interval; 2], height: f64) -> i8 {
        let height = Interval::point(height);
        let (mut inside, mut outside) = (true, true);
        let mut met = false;
        for sheet in self.around(height) {
            met = true;
            let [at_middle, ..] = middle.depth(sheet, height);
            let [.., by_phi, by_rho] = self.depth(sheet, height);
            let depth = at_middle + by_phi * swing[0] + by_rho * swing[1];
            inside &= depth.hi < 0.0;
            outside &= depth.lo > 0.0;
        }
        match (inside && met, outside) {
            (true, false) => -1,
            (false, true) => 1,
            _ => 0,
        }
    }

    /// Derivatives of the height over a range of heights, on whichever surfaces it may lie.
    pub fn slopes_over(&self, heights: Interval) -> Option<Slopes<Interval>> {
        self.around(heights)
            .map(|sheet| self.slopes(sheet, heights))
            .reduce(|a, b| Slopes {
                by_phi: a.by_phi.hull(b.by_phi),
                by_rho: a.by_rho.hull(b.by_rho),
                by_phi_phi: a.by_phi_phi.hull(b.by_phi_phi),
                by_phi_rho: a.by_phi_rho.hull(b.by_phi_rho),
                by_rho_rho: a.by_rho_rho.hull(b.by_rho_rho),
            })
    }
}
