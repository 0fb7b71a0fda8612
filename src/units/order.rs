//! Puts things in the order of a number.

/// Sorts by a number, smallest first; equals keep their order.
///
/// The standard sort is compiled anew for every type it sorts, 3 kB each. Here it only ever sorts
/// the numbers with their places, and the things follow.
///
/// ```
/// use copewright::units::sort_by_number;
/// let mut words = vec!["three", "to", "one", "a"];
/// sort_by_number(&mut words, |word| word.len() as f64);
/// assert_eq!(words, ["a", "to", "one", "three"]);
/// ```
pub fn sort_by_number<T>(things: &mut Vec<T>, number: impl Fn(&T) -> f64) {
    let numbers = things.iter().map(number).enumerate().collect();
    let mut loose: Vec<Option<T>> = things.drain(..).map(Some).collect();
    things.extend(
        order(numbers)
            .into_iter()
            .filter_map(|(place, _)| loose.get_mut(place)?.take()),
    );
}

/// Numbers in order, each with the place it had.
fn order(mut numbers: Vec<(usize, f64)>) -> Vec<(usize, f64)> {
    numbers.sort_by(|a, b| a.1.total_cmp(&b.1));
    numbers
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn order_is_that_of_the_standard_sort_and_equals_keep_theirs() {
        // Knuth's multiplicative hash (The Art of Computer Programming 3, 6.4) shuffles.
        let shuffled = |i: u32| i.wrapping_mul(2_654_435_761) >> 26;
        let mut ours: Vec<(f64, u32)> = (0..500).map(|i| (f64::from(shuffled(i)), i)).collect();
        let mut theirs = ours.clone();
        sort_by_number(&mut ours, |(key, _)| *key);
        theirs.sort_by(|a, b| a.0.total_cmp(&b.0));
        assert_eq!(ours, theirs);
    }

    #[test]
    fn nothing_is_lost_to_what_is_no_number() {
        let mut numbers = vec![f64::NAN, 1.0, f64::NEG_INFINITY, -0.0, 0.0];
        sort_by_number(&mut numbers, |number| *number);
        assert_eq!(numbers[..4], [f64::NEG_INFINITY, -0.0, 0.0, 1.0]);
        assert!(numbers[4].is_nan());
    }
}
