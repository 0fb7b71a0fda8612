//! Real roots of a polynomial of degree four from the largest down, each in a stretch of its own.
//!
//! Between two neighbouring roots of the derivative a polynomial only rises or only falls, so a
//! change of sign there is exactly one root, and none can be missed: the roots of the derivative
//! are found the same way, down to the parabola. Nothing below the last root asked for is computed.

/// A polynomial by its coefficients, constant first.
type Quartic = [f64; 5];

/// How near (as a part of the stretch searched) a root is found; the caller settles it.
const NEAR: f64 = 1e-12;

/// Real roots of `of` within `low`..`high`, falling, to 1e-12 of that range. A double root counts
/// where rounding lets the polynomial change its sign or be zero there. `guess` is where the search
/// for the first one starts.
pub(super) fn roots(of: Quartic, low: f64, high: f64, guess: f64) -> impl Iterator<Item = f64> {
    let slope = derived(&of);
    let (turns, outermost) = quadratic(&derived(&slope), low, high);
    let near = NEAR * (high - low);
    let down = |of: Quartic, start: f64| Down {
        of,
        upper: Some(high),
        low,
        start,
        near,
        last: f64::NAN,
    };
    let slope = down(slope, outermost);
    let whole = down(of, guess);
    whole.between(slope.between(turns.into_iter().flatten()))
}

/// The search for one polynomial's roots.
struct Down {
    of: Quartic,
    /// Upper end of the next stretch; none when all are looked at.
    upper: Option<f64>,
    low: f64,
    /// Where to start in the next stretch, if it lies in it.
    start: f64,
    near: f64,
    last: f64,
}

impl Down {
    /// The roots in the stretches between `breaks`, which fall.
    fn between(mut self, mut breaks: impl Iterator<Item = f64>) -> impl Iterator<Item = f64> {
        std::iter::from_fn(move || {
            while let Some(upper) = self.upper {
                let lower = breaks.next();
                let root = only_root(
                    &self.of,
                    lower.unwrap_or(self.low),
                    upper,
                    self.start,
                    self.near,
                );
                self.upper = lower;
                if let Some(root) = root
                    && root != self.last
                {
                    self.last = root;
                    return Some(root);
                }
            }
            None
        })
    }
}

fn derived(of: &Quartic) -> Quartic {
    [of[1], 2.0 * of[2], 3.0 * of[3], 4.0 * of[4], 0.0]
}

/// Roots of a polynomial of degree two, falling, without loss of digits where one is far out; and
/// the farthest up that the outermost root of its integral lies if that has three.
fn quadratic(of: &Quartic, low: f64, high: f64) -> ([Option<f64>; 2], f64) {
    let [c, b, a, ..] = *of;
    let square = b * b - 4.0 * a * c;
    if square < 0.0 || square.is_nan() {
        return ([None; 2], f64::NAN);
    }
    let sum = -0.5 * (b + square.sqrt().copysign(b));
    let (one, two) = (sum / a, c / sum);
    let (upper, lower) = (one.max(two), one.min(two));
    // A cubic's three roots span no more than twice what its turns do.
    let outermost = upper + 0.5 * (upper - lower);
    let within = |root: f64| (root > low && root < high).then_some(root);
    ([within(upper), within(lower)], outermost)
}

fn value_and_slope(of: &Quartic, x: f64) -> (f64, f64) {
    let (mut value, mut slope) = (0.0, 0.0);
    for coefficient in of.iter().rev() {
        slope = slope * x + value;
        value = value * x + coefficient;
    }
    (value, slope)
}

/// The root of a polynomial that only rises or only falls from `low` to `high`, if there is one:
/// Newton's steps from `start`, halving where they would leave the stretch or are slow.
fn only_root(of: &Quartic, mut low: f64, mut high: f64, start: f64, near: f64) -> Option<f64> {
    const STEPS: u32 = 200;
    let (at_low, at_high) = (value_and_slope(of, low).0, value_and_slope(of, high).0);
    if at_low == 0.0 {
        return Some(low);
    }
    if at_high == 0.0 {
        return Some(high);
    }
    let rising = at_high > 0.0;
    if rising == (at_low > 0.0) {
        return None;
    }
    let mut x = if start > low && start < high {
        start
    } else {
        f64::midpoint(low, high)
    };
    let mut last = high - low;
    for _ in 0..STEPS {
        let (value, slope) = value_and_slope(of, x);
        if value == 0.0 {
            return Some(x);
        }
        if (value > 0.0) == rising {
            high = x;
        } else {
            low = x;
        }
        let step = value / slope;
        let newton = x - step;
        let quick = step.abs() < 0.6 * last;
        let next = if newton > low && newton < high && quick {
            newton
        } else {
            f64::midpoint(low, high)
        };
        last = (next - x).abs();
        x = next;
        if last <= near {
            break;
        }
    }
    Some(x)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Coefficients of the product of (x − root).
    fn with_roots(wanted: [f64; 4]) -> Quartic {
        let mut product = [1.0, 0.0, 0.0, 0.0, 0.0];
        for (degree, root) in wanted.into_iter().enumerate() {
            for power in (0..=degree + 1).rev() {
                let below = if power > 0 { product[power - 1] } else { 0.0 };
                product[power] = below - root * product[power];
            }
        }
        product
    }

    fn ascending(of: &Quartic, reach: f64, guess: f64) -> Vec<f64> {
        let mut found: Vec<f64> = roots(*of, -reach, reach, guess).collect();
        found.reverse();
        found
    }

    #[test]
    fn roots_far_apart_and_close_together_are_all_found_wherever_the_search_starts() {
        for wanted in [
            [-3.0, -1.0, 2.0, 5.0],
            [-100.0, -99.999, 0.0, 1e-4],
            [1.0, 1.001, 1.002, 1.003],
            [-50.0, 0.1, 40.0, 45.0],
        ] {
            for guess in [f64::NAN, -500.0, 0.0, 2.0, 5.0, 41.0, 999.0] {
                let found = ascending(&with_roots(wanted), 1e3, guess);
                assert_eq!(found.len(), 4, "{wanted:?} {found:?}");
                for (root, wanted) in found.iter().zip(wanted) {
                    assert!((root - wanted).abs() < 1e-4, "{wanted} {root}");
                }
            }
        }
    }

    #[test]
    fn a_vanishing_leading_coefficient_leaves_the_lower_degree() {
        // x² − 4, and a quartic term that is noise.
        let found = ascending(&[-4.0, 0.0, 1.0, 0.0, 1e-18], 1e5, 0.0);
        assert_eq!(found.len(), 2);
        assert!((found[0] + 2.0).abs() < 1e-12);
        assert!((found[1] - 2.0).abs() < 1e-12);
    }

    #[test]
    fn no_real_root_is_none() {
        assert!(ascending(&[1.0, 0.0, 2.0, 0.0, 1.0], 1e3, 0.0).is_empty());
    }
}
