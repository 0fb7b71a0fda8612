//! `cargo xtask build`: the release site in `dist/`, the page as one file beside it, and what they
//! weigh.

use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::folder::{files, name_in};
use crate::one_file::ONE_FILE;
use crate::run::{command, run, workspace};
use crate::{about, minify, offline, one_file, policy, styles, tools, weight};

/// Builds the site and fails when it is too heavy.
pub fn build() -> Result<()> {
    tools::wasm_target()?;
    tools::trunk()?;
    tools::wasm_bindgen()?;
    tools::wasm_opt()?;
    tools::terser()?;
    tools::crates()?;
    // `index.html` names the cargo profile and the optimiser level.
    run(
        trunk().args(["build", "--release"]),
        "read the message above: the compiler's, or Trunk's own about index.html and Trunk.toml",
    )?;
    let dist = workspace().join("dist");
    finish(&dist)?;
    weight::weigh(&dist)
}

/// Makes what Trunk cannot: its output stays as it is but for the page itself.
fn finish(dist: &Path) -> Result<()> {
    settle_workshop(dist)?;
    let index = dist.join("index.html");
    let page = fs::read_to_string(&index).context("reading index.html")?;
    let page = styles::join(dist, &page)?;
    let about = about::write(dist)?;
    one_file::write(dist, &page, &about)?;
    let page = minify::glue(dist, &page, WORKSHOP)?;
    let page = policy::with_policy(&offline::link(dist, &page)?)?;
    fs::write(&index, page).context("writing index.html")?;
    offline::write_service_worker(dist, &[ONE_FILE])
}

/// Start of the name of the workshop's files, and of the folder they are moved to.
pub const WORKSHOP: &str = "workshop";

/// Moves the workshop's files, which Trunk gives no hash to, into a folder whose name has one, and
/// tells the page. A page never loads the workshop of another version.
fn settle_workshop(dist: &Path) -> Result<()> {
    let mut hash = DefaultHasher::new();
    let mut own = files(dist)?;
    own.retain(|path| name_in(dist, path).starts_with(WORKSHOP));
    own.sort();
    for path in &own {
        name_in(dist, path).hash(&mut hash);
        fs::read(path)?.hash(&mut hash);
    }
    let folder = format!("{WORKSHOP}-{:016x}", hash.finish());
    fs::create_dir_all(dist.join(&folder))?;
    for path in &own {
        fs::rename(path, dist.join(&folder).join(name_in(dist, path)))?;
    }
    let index = dist.join("index.html");
    let page = fs::read_to_string(&index)?;
    let loader = format!("./{WORKSHOP}_loader.js");
    let settled = page.replace(&loader, &format!("./{folder}/{WORKSHOP}_loader.js"));
    if own.is_empty() || settled == page {
        bail!("the workshop is missing from the site\nWhat to do: see its link in index.html");
    }
    fs::write(&index, settled).context("writing index.html")
}

/// Trunk as we always run it: off the network, on the locked crates.
pub fn trunk() -> Command {
    let mut trunk = command("trunk");
    trunk
        .env("TRUNK_SKIP_VERSION_CHECK", "true")
        .env("TRUNK_OFFLINE", "true")
        .env("TRUNK_BUILD_LOCKED", "true")
        // Trunk refuses to start when this has the usual value 1.
        .env_remove("NO_COLOR");
    trunk
}
