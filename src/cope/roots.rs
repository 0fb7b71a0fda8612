//! Every root of a function on a stretch, none missed: bisection over intervals.

use crate::cope::interval::Interval;

/// Stretches narrower than this (radians) that cannot be decided are handed over as they are.
/// On a tube of a metre radius it is a tenth of a micrometre.
pub const SLIVER: f64 = 1e-5;

/// How many interval evaluations one search may take before the rest counts as undecided.
const PATIENCE: u32 = 20_000;

/// A function that can be bounded, together with its derivative, over an interval.
pub trait Bounded {
    /// Bounds of the function over an interval.
    fn value(&self, over: Interval) -> Interval;

    /// Bounds of its derivative over an interval.
    fn slope(&self, over: Interval) -> Interval;

    /// Bounds of the derivative over an interval, or `None` when the function is proven to keep
    /// its sign there; a sharper proof than the plain bounds may be given where one is known.
    fn slope_unless_clear(&self, over: Interval) -> Option<Interval> {
        self.value(over).may_be_zero().then(|| self.slope(over))
    }

    /// The function at one place.
    fn at(&self, x: f64) -> f64 {
        self.value(Interval::point(x)).middle()
    }
}

/// Where a function is zero, or too close to zero to tell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Root {
    pub from: f64,
    pub to: f64,
}

/// Roots strictly inside `from`..`to`, in order. A simple root has `from == to`; a sliver that
/// could not be decided (a double root, say) is returned with its width.
pub fn roots(of: &impl Bounded, from: f64, to: f64) -> Vec<Root> {
    let mut found: Vec<Root> = Vec::new();
    let mut open = vec![Interval::between(from, to)];
    let mut patience = PATIENCE;
    while let Some(part) = open.pop() {
        let Some(slope) = of.slope_unless_clear(part) else {
            continue;
        };
        patience = patience.saturating_sub(1);
        if !slope.may_be_zero() {
            if let Some(x) = only_root(of, part) {
                found.push(Root { from: x, to: x });
            }
        } else if part.width() < SLIVER || patience == 0 {
            match found.last_mut() {
                Some(last) if last.to == part.lo => last.to = part.hi,
                _ => found.push(Root {
                    from: part.lo,
                    to: part.hi,
                }),
            }
        } else {
            let middle = part.middle();
            open.push(Interval {
                lo: middle,
                hi: part.hi,
            });
            open.push(Interval {
                lo: part.lo,
                hi: middle,
            });
        }
    }
    found.retain(|root| root.to > from && root.from < to);
    found
}

/// The root of a function that only rises or only falls, if its ends differ in sign.
fn only_root(of: &impl Bounded, part: Interval) -> Option<f64> {
    let rising = of.at(part.hi) > 0.0;
    if rising == (of.at(part.lo) > 0.0) {
        return None;
    }
    let (mut low, mut high) = (part.lo, part.hi);
    let mut x = part.middle();
    // Newton's step while it stays inside the bracket, the middle otherwise.
    for _ in 0..100 {
        let value = of.at(x);
        if value == 0.0 {
            return Some(x);
        }
        if (value > 0.0) == rising {
            high = x;
        } else {
            low = x;
        }
        let step = x - value / of.slope(Interval::point(x)).middle();
        let next = if step > low && step < high {
            step
        } else {
            f64::midpoint(low, high)
        };
        if (next - x).abs() <= f64::EPSILON * (1.0 + x.abs()) {
            return Some(next);
        }
        x = next;
    }
    Some(x)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// (x − 1)² (x − 3)
    struct Cubic;

    impl Bounded for Cubic {
        fn value(&self, x: Interval) -> Interval {
            (x + -1.0).squared() * (x + -3.0)
        }
        fn slope(&self, x: Interval) -> Interval {
            (x + -1.0) * (x + -3.0) * 2.0 + (x + -1.0).squared()
        }
    }

    #[test]
    fn a_simple_root_is_a_point_and_a_double_root_a_sliver() {
        let found = roots(&Cubic, 0.1, 4.0);
        assert_eq!(found.len(), 2, "{found:?}");
        assert!(found[0].from <= 1.0 && found[0].to >= 1.0);
        assert!(found[0].to - found[0].from < 10.0 * SLIVER);
        assert!((found[1].from - 3.0).abs() < 1e-15 && found[1].from == found[1].to);
        assert!(roots(&Cubic, 3.5, 9.0).is_empty());
    }
}
