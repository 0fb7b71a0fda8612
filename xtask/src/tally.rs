//! Adds up the results that cargo's test runner and the wasm test runner print.

/// How many tests passed and failed so far.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Tests that passed.
    pub passed: usize,
    /// Tests that failed.
    pub failed: usize,
}

impl Tally {
    /// Counts a line such as `test result: ok. 3 passed; 0 failed; 0 ignored; …`; skips any other.
    pub fn read(&mut self, line: &str) {
        let Some(results) = line.trim_start().strip_prefix("test result:") else {
            return;
        };
        self.passed += number_before(results, "passed");
        self.failed += number_before(results, "failed");
    }
}

fn number_before(results: &str, what: &str) -> usize {
    results
        .split([';', '.'])
        .filter_map(|part| part.trim().strip_suffix(what))
        .find_map(|number| number.trim().parse().ok())
        .unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_of_both_runners_add_up() {
        let mut tally = Tally::default();
        for line in [
            "running 3 tests",
            "test units::length::tests::reads_a_fraction ... ok",
            "test result: ok. 3 passed; 0 failed; 0 ignored; 0 measured; 0 filtered out; finished in 0.01s",
            "    test result: ok. 2 passed; 0 failed; 0 ignored; 0 filtered out; finished in 0.02s",
            "test result: FAILED. 41 passed; 2 failed; 0 ignored; 0 measured; 0 filtered out; finished in 1.5s",
            "error: test failed, 9 passed; to rerun pass `--lib`",
        ] {
            tally.read(line);
        }
        assert_eq!((tally.passed, tally.failed), (46, 2));
    }
}
