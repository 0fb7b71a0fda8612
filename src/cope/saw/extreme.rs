//! The least value of a function that is cheap to ask and smooth but for a few kinks.

/// Steps of the golden section: each leaves 0.618 of the bracket, so 45 leave 4·10⁻¹⁰ of it.
const STEPS: usize = 45;
/// What a step leaves of the bracket.
const GOLDEN: f64 = 0.618_033_988_749_894_8;

/// The least value over samples at `nodes` (ascending) and round every local least of them, each
/// narrowed down between its two neighbours; infinite for a function that is so everywhere.
///
/// A least value that lies in a dip narrower than the nodes are apart is missed.
pub fn least(nodes: &[f64], of: impl Fn(f64) -> f64) -> f64 {
    let values: Vec<f64> = nodes.iter().map(|node| of(*node)).collect();
    let mut best = f64::INFINITY;
    for (at, value) in values.iter().enumerate() {
        let (before, after) = (at.saturating_sub(1), (at + 1).min(nodes.len() - 1));
        if !value.is_finite() || values[before] < *value || values[after] < *value {
            continue;
        }
        best = best
            .min(*value)
            .min(narrowed(nodes[before], nodes[after], &of));
    }
    best
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
        assert!((least(&nodes, |x| (x - 0.3) * (x - 0.3)) - 0.0).abs() < 1e-15);
        assert!((least(&nodes, |x| (x - 1.234).abs().sqrt()) - 0.0).abs() < 1e-5);
        assert!((least(&nodes, |x| x) + 2.0).abs() < 1e-15);
        // From 1 on only.
        let edge = |x: f64| if x >= 1.0 { x } else { f64::INFINITY };
        assert!((least(&nodes, edge) - 1.0).abs() < 1e-9);
        assert_eq!(least(&nodes, |_| f64::INFINITY), f64::INFINITY);
    }
}
