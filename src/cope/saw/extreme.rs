//! The least value of a function that is cheap to ask and smooth but for a few kinks.

/// Steps of the golden section: each leaves 0.618 of the bracket, so 45 leave 4·10⁻¹⁰ of it.
const STEPS: usize = 45;
/// What a step leaves of the bracket.
const GOLDEN: f64 = 0.618_033_988_749_894_8;

/// The least values of several functions asked together, each over samples at `nodes` (ascending)
/// and round every local least of them, narrowed down between its two neighbours; infinite for one
/// that is so everywhere.
///
/// A least value that lies in a dip narrower than the nodes are apart is missed.
pub fn least<const N: usize>(nodes: &[f64], of: impl Fn(f64) -> [f64; N]) -> [f64; N] {
    let values: Vec<[f64; N]> = nodes.iter().map(|node| of(*node)).collect();
    std::array::from_fn(|which| {
        let value = |at: usize| values[at][which];
        let mut best = f64::INFINITY;
        for at in 0..nodes.len() {
            let (before, after) = (at.saturating_sub(1), (at + 1).min(nodes.len() - 1));
            let own = value(at);
            if !own.is_finite() || value(before) < own || value(after) < own {
                continue;
            }
            let between = narrowed(nodes[before], nodes[after], &|x| of(x)[which]);
            best = best.min(own).min(between);
        }
        best
    })
}

/// The least value met while a bracket is narrowed down.
fn narrowed(mut low: f64, mut high: f64, of: &impl Fn(f64) -> f64) -> f64 {
    let mut best = f64::INFINITY;
    let (mut left, mut right) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
    let (mut at_left, mut at_right) = (of(left), of(right));
    for _ in 0..STEPS {
        best = best.min(at_left).min(at_right);
        if at_left < at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - GOLDEN * (high - low);
            at_left = of(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + GOLDEN * (high - low);
            at_right = of(right);
        }
    }
    best.min(at_left).min(at_right)
}

/// Nodes from one number to another through the marks between them, closer together towards every
/// mark, as the cosine of evenly spread angles is: there a function of a circle is steep.
pub fn nodes(from: f64, to: f64, marks: &[f64], each: u32) -> Vec<f64> {
    let mut ends = vec![from];
    let mut inner: Vec<f64> = marks.to_vec();
    crate::units::sort_by_number(&mut inner, |mark| *mark);
    ends.extend(inner.into_iter().filter(|mark| *mark > from && *mark < to));
    ends.push(to);
    let mut nodes = vec![from];
    for pair in ends.windows(2) {
        let (middle, half) = ((pair[0] + pair[1]) / 2.0, (pair[1] - pair[0]) / 2.0);
        for step in 1..each {
            let angle = std::f64::consts::PI * f64::from(step) / f64::from(each);
            nodes.push(middle - half * angle.cos());
        }
        nodes.push(pair[1]);
    }
    nodes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dip_a_kink_and_an_edge_are_found() {
        let nodes = nodes(-2.0, 3.0, &[0.5], 20);
        assert!(nodes.is_sorted());
        // From 1 on only.
        let edge = |x: f64| if x >= 1.0 { x } else { f64::INFINITY };
        let [dip, kink, end, from, none] = least(&nodes, |x| {
            let dip = (x - 0.3) * (x - 0.3);
            [dip, (x - 1.234).abs().sqrt(), x, edge(x), f64::INFINITY]
        });
        assert!(dip < 1e-15, "{dip}");
        assert!(kink < 1e-4, "{kink}");
        assert_eq!(end, -2.0);
        assert!((from - 1.0).abs() < 1e-9, "{from}");
        assert_eq!(none, f64::INFINITY);
    }
}
