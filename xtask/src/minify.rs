//! Scripts made smaller. Trunk's own minifier does not read what wasm-bindgen writes today.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::Stdio;

use anyhow::{Context, Result, bail};

use crate::folder::{files, name_in};
use crate::page::{attribute, digest, short_digest, tags};
use crate::run::command;

/// What a script is, which decides what of it others may name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A module: what it exports keeps its name.
    Module,
    /// A script that nobody else names anything of.
    Alone,
}

/// The same script, smaller.
pub fn minified(script: &str, kind: Kind) -> Result<String> {
    const HINT: &str = "What to do: try `target/tools/node_modules/.bin/terser --version`; it needs \
                        Node.js 18 or later";
    let mut terser = command("terser");
    terser.args(["--compress", "passes=2", "--mangle", "--toplevel"]);
    if kind == Kind::Module {
        terser.arg("--module");
    }
    let mut terser = terser
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .with_context(|| format!("terser does not start\n{HINT}"))?;
    // It reads everything before it writes anything.
    let mut input = terser.stdin.take().context("terser has no input")?;
    input.write_all(script.as_bytes())?;
    drop(input);
    let output = terser.wait_with_output()?;
    if !output.status.success() {
        bail!("terser does not read a script of the site\n{HINT}");
    }
    let small = String::from_utf8(output.stdout).context("terser writes no text")?;
    Ok(small.trim_end().to_owned())
}

/// Makes the script of the first page smaller, gives it a name by what it holds now, and tells the
/// page; and that of the workshop, which keeps its name.
pub fn glue(dist: &Path, page: &str, workshop: &str) -> Result<String> {
    let links = tags(page, "link");
    let own = links
        .iter()
        .find(|link| attribute(link, "rel") == Some("modulepreload"))
        .context("the page preloads no script")?;
    let name = attribute(own, "href").context("the page's script has no address")?;
    let name = name.trim_start_matches("./");
    let old = dist.join(name);
    let script = fs::read_to_string(&old).with_context(|| format!("reading {name}"))?;
    let script = minified(&script, Kind::Module)?;
    let new = format!("copewright-{}.js", short_digest(script.as_bytes()));
    fs::remove_file(&old)?;
    fs::write(dist.join(&new), &script)?;
    let link = own.replace(
        attribute(own, "integrity").context("the page's script has no digest")?,
        &digest(script.as_bytes()),
    );
    for path in files(dist)? {
        if name_in(dist, &path).ends_with(&format!("{workshop}.js")) {
            let script = fs::read_to_string(&path)?;
            fs::write(&path, minified(&script, Kind::Module)?)?;
        }
    }
    Ok(page.replace(own, &link).replace(name, &new))
}
