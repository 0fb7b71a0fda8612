//! The tools that cargo does not bring: what version is needed, and how it is installed.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::run::{answer, cargo, command, find, run, tools_dir, workspace};

/// What the page is compiled to.
pub const WASM: &str = "wasm32-unknown-unknown";

/// The oldest Trunk that will do, and the one that is installed: later ones want a newer compiler.
const TRUNK: [u32; 3] = [0, 21, 14];

/// The oldest cargo-deny whose settings `deny.toml` writes, and the one that is installed.
const DENY: [u32; 3] = [0, 20, 2];

/// The oldest geckodriver that prints, and the one that is installed.
const GECKODRIVER: [u32; 3] = [0, 37, 1];

/// npm packages at the versions whose output we know: `binaryen` brings `wasm-opt`, `terser` makes
/// scripts smaller, `axe-core` brings the accessibility checks.
const BINARYEN: (&str, &str) = ("binaryen", "132.0.0");
const TERSER: (&str, &str) = ("terser", "5.51.4");
const AXE: (&str, &str) = ("axe-core", "4.14.1");

/// The wasm32 standard library of the toolchain in use.
pub fn wasm_target() -> Result<()> {
    let sysroot = answer(command("rustc").args(["--print", "sysroot"]))
        .context("`rustc --print sysroot` gives no answer. What to do: install Rust by rustup")?;
    if Path::new(&sysroot).join("lib/rustlib").join(WASM).is_dir() {
        return Ok(());
    }
    say("the Rust standard library for WebAssembly");
    run(
        command("rustup").args(["target", "add", WASM]),
        "install Rust by rustup, or add your compiler's standard library for wasm32-unknown-unknown",
    )
}

/// The formatter and the linter of the toolchain in use.
pub fn rustfmt_and_clippy() -> Result<()> {
    let missing = [("rustfmt", "fmt"), ("clippy", "clippy")]
        .into_iter()
        .filter(|(_, verb)| answer(cargo().args([verb, "--version"])).is_none());
    for (component, _) in missing {
        say(component);
        run(
            command("rustup").args(["component", "add", component]),
            "install Rust by rustup, or rustfmt and clippy the way your compiler came",
        )?;
    }
    Ok(())
}

/// Every crate in `Cargo.lock`, because Trunk is then told to stay off the network.
pub fn crates() -> Result<()> {
    run(
        cargo().args(["fetch", "--locked", "--quiet"]),
        "check that the crates registry can be reached and that Cargo.lock agrees with Cargo.toml \
         (`cargo update --workspace` mends it)",
    )
}

/// cargo-deny, which checks licences, doubled versions and known faults of all crates.
pub fn cargo_deny() -> Result<()> {
    if answer(command("cargo-deny").arg("--version")).and_then(|text| version(&text)) >= Some(DENY)
    {
        return Ok(());
    }
    let [major, minor, patch] = DENY;
    install_crate("cargo-deny", &format!("{major}.{minor}.{patch}"), &[])
}

/// Trunk, which puts page, style and WebAssembly together.
pub fn trunk() -> Result<()> {
    let enough = |text: String| version(&text).is_some_and(|found| found >= TRUNK);
    if answer(command("trunk").arg("--version")).is_some_and(enough) {
        return Ok(());
    }
    let [major, minor, patch] = TRUNK;
    // It is kept off the network, and needs neither its news of versions nor what they come by.
    install_crate(
        "trunk",
        &format!("{major}.{minor}.{patch}"),
        &["--no-default-features"],
    )
}

/// The wasm-bindgen command line, which must match the `wasm-bindgen` crate exactly.
pub fn wasm_bindgen() -> Result<()> {
    let lock = fs::read_to_string(workspace().join("Cargo.lock")).context("reading Cargo.lock")?;
    let wanted = locked_version(&lock, "wasm-bindgen")
        .context("Cargo.lock names no wasm-bindgen. What to do: run `cargo update --workspace`")?;
    let matches = |program: &str| {
        answer(command(program).arg("--version"))
            .is_some_and(|text| text.split_whitespace().nth(1) == Some(wanted))
    };
    if matches("wasm-bindgen") && matches("wasm-bindgen-test-runner") {
        return Ok(());
    }
    install_crate("wasm-bindgen-cli", wanted, &[])
}

/// `wasm-opt`, which makes the WebAssembly smaller.
pub fn wasm_opt() -> Result<()> {
    npm_packages(&[BINARYEN])?;
    if answer(command("wasm-opt").arg("--version")).is_none() {
        bail!(
            "wasm-opt is installed but does not run. What to do: try \
             `target/tools/node_modules/.bin/wasm-opt --version`; it needs Node.js 18 or later"
        );
    }
    Ok(())
}

/// What makes scripts smaller.
pub fn terser() -> Result<()> {
    npm_packages(&[TERSER])
}

/// The accessibility checks that browser tests run inside the page.
pub fn axe() -> Result<()> {
    npm_packages(&[AXE])
}

/// Chromium and its driver; the path of the driver.
pub fn chromium() -> Result<PathBuf> {
    const BROWSERS: [&str; 4] = ["chromium", "chromium-browser", "google-chrome", "chrome"];
    let driver = || {
        let named = std::env::var_os("CHROMEDRIVER").map(PathBuf::from);
        named.or_else(|| find("chromedriver"))
    };
    // On macOS and Windows the browser is an application off the path, which its driver finds.
    let browser = !cfg!(target_os = "linux") || BROWSERS.iter().any(|name| find(name).is_some());
    if driver().is_none() || !browser {
        // Fonts are only recommended by the browser's package, and a page without any has no text.
        apt(
            &["chromium", "chromium-driver", "fonts-liberation"],
            "Install Chromium (or Chrome) and the ChromeDriver of the same version, with \
             `chromedriver` on the PATH or named by CHROMEDRIVER, then run this again.",
        )?;
    }
    driver().context("chromedriver is still missing. What to do: set CHROMEDRIVER to its path")
}

/// Firefox and its driver. Some systems have no package of the driver; it is built.
pub fn firefox() -> Result<()> {
    // On macOS and Windows the browser is an application off the path, which its driver finds.
    let browser = !cfg!(target_os = "linux")
        || ["firefox-esr", "firefox"]
            .iter()
            .any(|name| find(name).is_some());
    if !browser {
        apt(
            &["firefox-esr", "fonts-liberation"],
            "Install Firefox, or name it by FIREFOX, then run this again.",
        )?;
    }
    let driver = answer(command("geckodriver").arg("--version"));
    if driver.and_then(|text| version(&text)) >= Some(GECKODRIVER) {
        return Ok(());
    }
    let [major, minor, patch] = GECKODRIVER;
    install_crate("geckodriver", &format!("{major}.{minor}.{patch}"), &[])
}

/// WebKitGTK with its driver, its browser, the bindings by which it is made to print, and a screen
/// for it. Debian packs all of it; nobody else packs the driver, so elsewhere its tests are
/// skipped.
pub fn webkit() -> Result<()> {
    const PACKAGES: [&str; 5] = [
        "webkit2gtk-driver",
        "gir1.2-webkit2-4.1",
        "python3-gi",
        "xvfb",
        "fonts-liberation",
    ];
    if !cfg!(target_os = "linux") || find("apt-get").is_none() {
        println!("   WebKitGTK's driver comes with Debian alone; its tests are skipped here");
        return Ok(());
    }
    // Only the package manager knows of bindings whether they are there.
    let is_there = |name: &&str| {
        let state = Command::new("dpkg-query")
            .args(["--show", "--showformat", "${db:Status-Status}"])
            .arg(name)
            .output();
        state.is_ok_and(|state| state.stdout == b"installed")
    };
    let missing: Vec<&str> = PACKAGES
        .into_iter()
        .filter(|name| !is_there(name))
        .collect();
    if missing.is_empty() {
        return Ok(());
    }
    apt(
        &missing,
        &format!(
            "Install these packages, then run this again: {}",
            missing.join(", ")
        ),
    )
}

/// Readers of PDF that know nothing of each other: poppler, MuPDF and qpdf.
pub fn pdf_readers() -> Result<()> {
    const PROGRAMS: [&str; 4] = ["pdfinfo", "pdftotext", "mutool", "qpdf"];
    if PROGRAMS.iter().all(|name| find(name).is_some()) {
        return Ok(());
    }
    apt(
        &["poppler-utils", "mupdf-tools", "qpdf"],
        "Install poppler's tools (pdfinfo, pdftotext), MuPDF's (mutool) and qpdf, then run this \
         again.",
    )
}

/// A tool that runs for seconds need not be made as fast as can be, which takes minutes; and with
/// the same settings for all tools, one is built of the parts of another.
const QUICK_TO_BUILD: [(&str, &str); 6] = [
    ("CARGO_PROFILE_RELEASE_OPT_LEVEL", "0"),
    ("CARGO_PROFILE_RELEASE_LTO", "off"),
    ("CARGO_PROFILE_RELEASE_CODEGEN_UNITS", "16"),
    ("CARGO_PROFILE_RELEASE_PANIC", "unwind"),
    ("CARGO_PROFILE_RELEASE_STRIP", "none"),
    ("CARGO_PROFILE_RELEASE_DEBUG", "0"),
];

/// Installs a crate's programs under `target/tools`.
fn install_crate(name: &str, version: &str, features: &[&str]) -> Result<()> {
    say(&format!("{name} {version}, which takes some minutes"));
    let install = |flags: &[&str]| {
        let mut install = cargo();
        install
            .args(["install", "--quiet", name, "--version", version, "--root"])
            .arg(tools_dir())
            .arg("--target-dir")
            .arg(tools_dir().join("build"))
            .args(features)
            .args(flags)
            .envs(QUICK_TO_BUILD);
        install
    };
    // The versions its authors built with come first. A registry may lack one of them by now; then
    // the newest compatible ones have to do.
    let locked = &mut install(&["--locked"]);
    if run(locked, "").is_ok() {
        return Ok(());
    }
    println!("   its own lock file cannot be met here; trying without");
    run(
        &mut install(&[]),
        "read the compiler's message above; on Debian `apt-get install gcc pkg-config libssl-dev` \
         supplies what native builds usually lack",
    )
}

fn npm_packages(packages: &[(&str, &str)]) -> Result<()> {
    let missing: Vec<String> = packages
        .iter()
        .filter(|(name, version)| !has_npm_package(name, version))
        .map(|(name, version)| format!("{name}@{version}"))
        .collect();
    if missing.is_empty() && find("node").is_some() {
        return Ok(());
    }
    if find("npm").is_none() || find("node").is_none() {
        apt(
            &["nodejs", "npm"],
            "Install Node.js 18 or later with npm, then run this again.",
        )?;
    }
    say(&missing.join(" and "));
    fs::create_dir_all(tools_dir())?;
    run(
        command("npm")
            .args(["install", "--no-audit", "--no-fund", "--ignore-scripts"])
            .args(["--loglevel", "error", "--prefix"])
            .arg(tools_dir())
            .args(missing),
        "check that the npm registry can be reached",
    )
}

fn has_npm_package(name: &str, version: &str) -> bool {
    let manifest = tools_dir().join("node_modules").join(name);
    fs::read_to_string(manifest.join("package.json"))
        .is_ok_and(|text| text.contains(&format!("\"version\": \"{version}\"")))
}

/// Debian packages, where we may install them; elsewhere one sentence that says what is needed.
fn apt(packages: &[&str], elsewhere: &str) -> Result<()> {
    let root = || answer(Command::new("id").arg("-u")).as_deref() == Some("0");
    if find("apt-get").is_none() || !root() {
        bail!("{elsewhere}");
    }
    say(&packages.join(", "));
    let hint = format!("run `apt-get install {}` by hand", packages.join(" "));
    run(command("apt-get").args(["update", "-qq"]), &hint)?;
    run(
        command("apt-get")
            .env("DEBIAN_FRONTEND", "noninteractive")
            .args(["install", "-y", "-qq", "--no-install-recommends"])
            .args(packages),
        &hint,
    )
}

fn say(what: &str) {
    println!("   installing {what}");
}

/// The first three numbers of a text such as `trunk 0.21.14`.
fn version(text: &str) -> Option<[u32; 3]> {
    let digits = &text[text.find(|c: char| c.is_ascii_digit())?..];
    let mut parts = digits.split(|c: char| !c.is_ascii_digit()).map(str::parse);
    let mut next = || parts.next()?.ok();
    Some([next()?, next()?, next()?])
}

/// The version at which `Cargo.lock` holds a package.
fn locked_version<'a>(lock: &'a str, package: &str) -> Option<&'a str> {
    let name = format!("name = \"{package}\"");
    let mut lines = lock.lines().skip_while(|line| *line != name);
    let version = lines.nth(1)?;
    version.strip_prefix("version = \"")?.strip_suffix('"')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn versions_compare_as_numbers() {
        assert_eq!(version("trunk 0.21.14"), Some([0, 21, 14]));
        assert_eq!(version("trunk 0.22.0-beta.1"), Some([0, 22, 0]));
        assert!(version("trunk 0.21.9") < Some(TRUNK));
        assert!(version("trunk 0.100.0") > Some(TRUNK));
        assert_eq!(
            version("geckodriver 0.37.1\n\nThe source"),
            Some([0, 37, 1])
        );
        assert_eq!(version("trunk"), None);
    }

    #[test]
    fn lock_file_names_the_exact_package() {
        let lock = "[[package]]\nname = \"wasm-bindgen-macro\"\nversion = \"0.2.1\"\n\n\
                    [[package]]\nname = \"wasm-bindgen\"\nversion = \"0.2.130\"\n";
        assert_eq!(locked_version(lock, "wasm-bindgen"), Some("0.2.130"));
        assert_eq!(locked_version(lock, "bindgen"), None);
    }
}
