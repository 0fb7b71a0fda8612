//! `cargo xtask test`: the steps, in the order in which they are likely to fail quickly.

use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};

use crate::run::{cargo, run, run_tests, tools_dir};
use crate::tally::Tally;
use crate::{build, licences, tools};

struct Step {
    name: &'static str,
    about: &'static str,
    run: fn(&mut Tally) -> Result<()>,
}

const STEPS: &[Step] = &[
    Step {
        name: "format",
        about: "formatting",
        run: format,
    },
    Step {
        name: "lint",
        about: "clippy, warnings denied",
        run: lint,
    },
    Step {
        name: "lint-wasm",
        about: "clippy for the browser, warnings denied",
        run: lint_wasm,
    },
    Step {
        name: "licences",
        about: "licences and versions of all that is used",
        run: licences,
    },
    Step {
        name: "native",
        about: "native tests",
        run: native,
    },
    Step {
        name: "wasm",
        about: "wasm tests in headless Chromium",
        run: wasm,
    },
    Step {
        name: "site",
        about: "release site and its size",
        run: |_| build::build(),
    },
    Step {
        name: "browser",
        about: "browser tests of the built page",
        run: browser,
    },
];

/// The steps' names, for the user to choose from.
pub fn names() -> String {
    let names: Vec<_> = STEPS.iter().map(|step| step.name).collect();
    names.join(", ")
}

/// Runs the named steps, or all of them, and stops at the first that fails.
pub fn test(only: &[&str]) -> Result<()> {
    if let Some(unknown) = only.iter().find(|name| !is_step(name)) {
        bail!("there is no step `{unknown}`; the steps are {}", names());
    }
    let chosen = |step: &&Step| only.is_empty() || only.contains(&step.name);
    let steps: Vec<&Step> = STEPS.iter().filter(chosen).collect();

    let mut tally = Tally::default();
    let mut times: Vec<(&str, Duration)> = Vec::new();
    let mut outcome = Ok(());
    for (done, step) in steps.iter().enumerate() {
        println!(
            "\n== {}/{} {}: {}",
            done + 1,
            steps.len(),
            step.name,
            step.about
        );
        let start = Instant::now();
        outcome = (step.run)(&mut tally).with_context(|| format!("step `{}` failed", step.name));
        times.push((step.name, start.elapsed()));
        if outcome.is_err() {
            break;
        }
        println!(
            "   {} took {:.1} s",
            step.name,
            start.elapsed().as_secs_f64()
        );
    }

    println!("\n== summary");
    for (name, time) in &times {
        println!("   {name:<10} {:>7.1} s", time.as_secs_f64());
    }
    let not_run: Vec<_> = steps
        .iter()
        .skip(times.len())
        .map(|step| step.name)
        .collect();
    if !not_run.is_empty() {
        println!("   not run: {}", not_run.join(", "));
    }
    println!("{} passed, {} failed", tally.passed, tally.failed);
    outcome
}

fn is_step(name: &str) -> bool {
    STEPS.iter().any(|step| step.name == name)
}

fn format(_: &mut Tally) -> Result<()> {
    tools::rustfmt_and_clippy()?;
    run(
        cargo().args(["fmt", "--all", "--check"]),
        "run `cargo fmt --all`",
    )
}

const LINT_HINT: &str = "mend what clippy names above; `cargo clippy --fix` can do some of it";

fn lint(_: &mut Tally) -> Result<()> {
    tools::rustfmt_and_clippy()?;
    run(
        cargo()
            .args(["clippy", "--locked", "--workspace", "--all-targets"])
            .args(["--", "--deny", "warnings"]),
        LINT_HINT,
    )
}

fn lint_wasm(_: &mut Tally) -> Result<()> {
    tools::rustfmt_and_clippy()?;
    tools::wasm_target()?;
    run(
        cargo()
            .args([
                "clippy",
                "--locked",
                "--package",
                "copewright",
                "--target",
                tools::WASM,
            ])
            .args([
                "--lib", "--bins", "--test", "web", "--", "--deny", "warnings",
            ]),
        LINT_HINT,
    )
}

fn licences(_: &mut Tally) -> Result<()> {
    tools::crates()?;
    licences::check()?;
    tools::cargo_deny()?;
    run(
        cargo().args(["deny", "--locked", "check", "licenses", "bans", "sources"]),
        "read what cargo-deny names above; deny.toml says what is allowed, and why",
    )?;
    // Known faults stand in a database that is fetched, and not every machine reaches it.
    let fetched = cargo()
        .args(["deny", "--locked", "fetch", "db"])
        .output()
        .is_ok_and(|output| output.status.success());
    if !fetched {
        println!(
            "   known faults of crates were not looked up: their database cannot be reached from \
             here"
        );
        return Ok(());
    }
    run(
        cargo().args(["deny", "--locked", "check", "advisories"]),
        "take the version of the crate that cargo-deny names above, or do without it",
    )
}

fn native(tally: &mut Tally) -> Result<()> {
    run_tests(
        cargo()
            .args([
                "test",
                "--locked",
                "--package",
                "copewright",
                "--package",
                "xtask",
            ])
            .arg("--no-fail-fast"),
        tally,
        "read the failed test's message above; `cargo test NAME` runs it alone",
    )
}

fn wasm(tally: &mut Tally) -> Result<()> {
    tools::wasm_target()?;
    tools::wasm_bindgen()?;
    let driver = tools::chromium()?;
    run_tests(
        cargo()
            .args([
                "test",
                "--locked",
                "--package",
                "copewright",
                "--target",
                tools::WASM,
            ])
            .args(["--test", "web"])
            .env("CHROMEDRIVER", driver),
        tally,
        "read the failed test's message above; `cargo xtask test --only wasm` runs these alone",
    )
}

fn browser(tally: &mut Tally) -> Result<()> {
    tools::axe()?;
    tools::pdf_readers()?;
    tools::firefox()?;
    tools::webkit()?;
    let driver = tools::chromium()?;
    run_tests(
        cargo()
            .args([
                "test",
                "--locked",
                "--package",
                "browser-tests",
                "--no-fail-fast",
            ])
            .env("CHROMEDRIVER", driver)
            .env(
                "AXE_CORE",
                tools_dir().join("node_modules/axe-core/axe.min.js"),
            ),
        tally,
        "read the failed test's message above; `cargo xtask test --only browser` runs these alone, \
         on the site that `cargo xtask build` made last",
    )
}
