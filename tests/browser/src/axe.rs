//! Accessibility checks with axe-core, run inside the page.

use std::env;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use crate::Page;

/// A broken accessibility rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Violation {
    /// axe-core's name of the rule.
    pub rule: String,
    /// `serious` or `critical`.
    pub impact: String,
    /// What the rule asks for.
    pub help: String,
    /// Where it is broken: selector and reason of each element.
    pub places: Vec<String>,
}

impl Page {
    /// The rules that the page breaks, of serious or critical impact.
    ///
    /// # Panics
    /// When axe-core is not installed; the message says how.
    #[track_caller]
    #[must_use]
    pub fn axe(&self) -> Vec<Violation> {
        let path = axe_core();
        let source = std::fs::read_to_string(&path).unwrap_or_else(|error| {
            panic!(
                "{}: {error}; `cargo xtask test --only browser` installs axe-core, or set AXE_CORE \
                 to its axe.min.js",
                path.display()
            )
        });
        self.run(&source, Vec::new());
        let outcome = self.run_async(
            "const done = arguments[arguments.length - 1];
             axe.run(document, { resultTypes: ['violations'] })
                .then(result => done(result.violations), error => done(String(error)));",
            vec![json!(null)],
        );
        let Some(violations) = outcome.as_array() else {
            panic!("axe-core did not run: {outcome}");
        };
        let grave = |v: &&Value| matches!(v["impact"].as_str(), Some("serious" | "critical"));
        violations
            .iter()
            .filter(grave)
            .map(Violation::read)
            .collect()
    }
}

impl Violation {
    fn read(violation: &Value) -> Self {
        let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
        let nodes = violation["nodes"].as_array().into_iter().flatten();
        Self {
            rule: text(&violation["id"]),
            impact: text(&violation["impact"]),
            help: text(&violation["help"]),
            places: nodes
                .map(|node| format!("{}: {}", node["target"], text(&node["failureSummary"])))
                .collect(),
        }
    }
}

fn axe_core() -> PathBuf {
    let installed = "../../target/tools/node_modules/axe-core/axe.min.js";
    env::var_os("AXE_CORE").map_or_else(
        || Path::new(env!("CARGO_MANIFEST_DIR")).join(installed),
        PathBuf::from,
    )
}
