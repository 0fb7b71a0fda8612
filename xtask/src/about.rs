//! What the page is, its cautions and the licences of all that it is made of: a page of its own,
//! shown in a frame that loads nothing before it is opened.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};

use crate::licences::LIST;
use crate::offline::own;
use crate::page::{digest, put_before};
use crate::run::workspace;

/// Name of the file.
pub const ABOUT: &str = "about.html";

/// Writes it into the site, and gives what the one file shows of it.
pub fn write(dist: &Path) -> Result<String> {
    let read = |name: &str| {
        fs::read_to_string(workspace().join(name)).with_context(|| format!("reading {name}"))
    };
    let page = filled(
        &own(ABOUT)?,
        &version(&read("Cargo.toml")?)?,
        &responsibility(&read("src/job/caution.rs")?)?,
        &read(LIST)?,
    )?;
    fs::write(dist.join(ABOUT), &page).with_context(|| format!("writing {ABOUT}"))?;
    Ok(body(&page)?.to_owned())
}

/// Writes it into the folder that Trunk fills, whose hook this is.
pub fn write_for_trunk() -> Result<()> {
    let staging = std::env::var_os("TRUNK_STAGING_DIR").context(
        "this is a step of Trunk's. What to do: run `cargo xtask serve` or `cargo xtask build`",
    )?;
    write(Path::new(&staging)).map(drop)
}

/// The page with its policy, and everything in its place.
fn filled(page: &str, version: &str, responsibility: &str, licences: &str) -> Result<String> {
    let style = between(page, "<style>", "</style>")?;
    let policy = format!(
        "<meta http-equiv=Content-Security-Policy content=\"default-src 'none'; \
         style-src '{}'; base-uri 'none'; form-action 'none'\">",
        digest(style.as_bytes())
    );
    let page = put_before(page, "<!-- policy -->", &policy)?.replace("<!-- policy -->", "");
    for place in ["{version}", "{responsibility}", "{licences}"] {
        page.find(place)
            .with_context(|| format!("public/{ABOUT} has no `{place}`"))?;
    }
    Ok(page
        .replace("{version}", version)
        .replace("{responsibility}", responsibility)
        .replace("{licences}", &escaped(licences)))
}

/// What stands in the body.
fn body(page: &str) -> Result<&str> {
    between(page, "<body>", "</body>")
}

fn between<'a>(text: &'a str, from: &str, to: &str) -> Result<&'a str> {
    text.split_once(from)
        .and_then(|(_, rest)| rest.split_once(to))
        .map(|(inside, _)| inside)
        .with_context(|| format!("nothing stands between `{from}` and `{to}`"))
}

fn version(manifest: &str) -> Result<String> {
    let (_, package) = manifest
        .split_once("\n[package]")
        .context("Cargo.toml has no package")?;
    Ok(between(package, "\nversion = \"", "\"")?.to_owned())
}

/// The sentence on every sheet about joints that carry people, from where the sheets have it.
fn responsibility(source: &str) -> Result<String> {
    let text = between(source, "pub const RESPONSIBILITY: &str = \"", "\";")?;
    let lines = text
        .lines()
        .map(|line| line.trim().trim_end_matches('\\').trim_end());
    Ok(lines.collect::<Vec<_>>().join(" "))
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "<head><!-- policy --><style>p{}</style></head><body><p>{version} \
                        {responsibility}<pre>{licences}</pre></body>";

    #[test]
    fn every_place_is_filled_and_notices_are_text() -> Result<()> {
        let page = filled(PAGE, "1.2.3", "Geometry only.", "A <a@b> & C\n")?;
        assert_eq!(
            body(&page)?,
            "<p>1.2.3 Geometry only.<pre>A &lt;a@b&gt; &amp; C\n</pre>"
        );
        assert!(
            page.contains(&format!("style-src '{}';", digest(b"p{}"))),
            "{page}"
        );
        assert!(filled("<style></style><!-- policy -->", "", "", "").is_err());
        Ok(())
    }

    #[test]
    fn what_it_says_is_read_where_it_is_kept() -> Result<()> {
        let manifest =
            "[workspace]\nversion = \"9\"\n\n[package]\nname = \"a\"\nversion = \"0.1.0\"\n";
        assert_eq!(version(manifest)?, "0.1.0");
        let source = "/// A.\npub const RESPONSIBILITY: &str = \"Geometry only. Joints \\\n    that carry.\";";
        assert_eq!(responsibility(source)?, "Geometry only. Joints that carry.");
        Ok(())
    }
}
