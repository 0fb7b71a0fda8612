//! All real roots of a polynomial of degree four, each in a stretch of its own.
//!
//! Between two neighbouring roots of the derivative a polynomial only rises or only falls, so a
//! change of sign there is exactly one root, and none can be missed: the roots of the derivative
//! are found the same way, down to the straight line.

/// A polynomial by its coefficients, constant first.
type Quartic = [f64; 5];

/// How near (as a part of the stretch searched) a root is found; the caller settles it.
const NEAR: f64 = 1e-12;

/// Real roots of `of` within `low`..`high`, ascending, to 1e-12 of that range. A double root counts
/// where rounding lets the polynomial change its sign or be zero there.
pub(super) fn roots(of: &Quartic, low: f64, high: f64) -> Roots {
    let slope = derived(of);
    let near = NEAR * (high - low);
    let mut found = quadratic(&derived(&slope), low, high);
    for polynomial in [&slope, of] {
        let mut next = Roots::default();
        let mut from = low;
        for to in found.as_slice().iter().copied().chain([high]) {
            if let Some(root) = only_root(polynomial, from, to, near) {
                next.push(root);
            }
            from = to;
        }
        found = next;
    }
    found
}

fn derived(of: &Quartic) -> Quartic {
    [of[1], 2.0 * of[2], 3.0 * of[3], 4.0 * of[4], 0.0]
}

/// Roots of a polynomial of degree two, without loss of digits where one is far out.
fn quadratic(of: &Quartic, low: f64, high: f64) -> Roots {
    let [c, b, a, ..] = *of;
    let mut found = Roots::default();
    let square = b * b - 4.0 * a * c;
    if square >= 0.0 {
        let sum = -0.5 * (b + square.sqrt().copysign(b));
        let (one, two) = (sum / a, c / sum);
        for root in [one.min(two), one.max(two)] {
            if root > low && root < high {
                found.push(root);
            }
        }
    }
    found
}

/// At most four numbers.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Roots {
    numbers: [f64; 4],
    count: usize,
}

impl Roots {
    pub fn as_slice(&self) -> &[f64] {
        &self.numbers[..self.count]
    }

    pub fn map(mut self, by: impl Fn(f64) -> f64) -> Self {
        for number in &mut self.numbers[..self.count] {
            *number = by(*number);
        }
        self
    }

    fn push(&mut self, number: f64) {
        if self.count < 4 && self.as_slice().last() != Some(&number) {
            self.numbers[self.count] = number;
            self.count += 1;
        }
    }
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
/// Newton's steps, halving where they would leave the stretch or are slow.
fn only_root(of: &Quartic, mut low: f64, mut high: f64, near: f64) -> Option<f64> {
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
    let mut x = f64::midpoint(low, high);
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

    #[test]
    fn roots_far_apart_and_close_together_are_all_found() {
        for wanted in [
            [-3.0, -1.0, 2.0, 5.0],
            [-100.0, -99.999, 0.0, 1e-4],
            [1.0, 1.001, 1.002, 1.003],
            [-50.0, 0.1, 40.0, 45.0],
        ] {
            let found = roots(&with_roots(wanted), -1e3, 1e3);
            assert_eq!(found.as_slice().len(), 4, "{wanted:?} {found:?}");
            for (root, wanted) in found.as_slice().iter().zip(wanted) {
                assert!((root - wanted).abs() < 1e-4, "{wanted} {root}");
            }
        }
    }

    #[test]
    fn a_vanishing_leading_coefficient_leaves_the_lower_degree() {
        // x² − 4, and a quartic term that is noise.
        let found = roots(&[-4.0, 0.0, 1.0, 0.0, 1e-18], -1e5, 1e5);
        assert_eq!(found.as_slice().len(), 2);
        assert!((found.as_slice()[0] + 2.0).abs() < 1e-12);
        assert!((found.as_slice()[1] - 2.0).abs() < 1e-12);
    }

    #[test]
    fn no_real_root_is_none() {
        assert!(
            roots(&[1.0, 0.0, 2.0, 0.0, 1.0], -1e3, 1e3)
                .as_slice()
                .is_empty()
        );
    }
}
