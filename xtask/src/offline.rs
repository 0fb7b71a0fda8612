//! What makes the hosted page work without a network: a manifest with icons, a service worker that
//! knows every file of this version, and the script of the page that starts it.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::folder::{files, name_in};
use crate::page::{digest, put_before, short_digest, without_comments};
use crate::run::workspace;

/// The service worker: it keeps all other files, and is never kept itself.
pub const SERVICE_WORKER: &str = "service_worker.js";
const MANIFEST: &str = "copewright.webmanifest";
/// The manifest names these by their names here.
pub const ICONS: [&str; 3] = ["icon-192.png", "icon-512.png", "icon-maskable-512.png"];

/// Copies manifest and icons, and gives the page its links to them and to the script that starts
/// the service worker.
pub fn link(dist: &Path, page: &str) -> Result<String> {
    for name in ICONS.into_iter().chain([MANIFEST]) {
        let from = workspace().join("public").join(name);
        fs::copy(&from, dist.join(name)).with_context(|| format!("copying {}", from.display()))?;
    }
    let script = without_comments(&own("offline.js")?);
    // A new name for every content, as the other files of the page have it.
    let name = format!("offline-{}.js", short_digest(script.as_bytes()));
    fs::write(dist.join(&name), script)?;
    let links = format!(
        "<link href=./{MANIFEST} rel=manifest>\
         <script data-worker=./{SERVICE_WORKER} defer src=./{name}></script>"
    );
    put_before(page, "</head>", &links)
}

/// Writes the service worker for exactly the files that are there now, `apart` left out.
pub fn write_service_worker(dist: &Path, apart: &[&str]) -> Result<()> {
    let mut kept = Vec::new();
    let mut page = None;
    for path in files(dist)? {
        let name = name_in(dist, &path);
        let digest = digest(&fs::read(&path)?);
        if name == "index.html" {
            page = Some(digest);
        } else if !apart.contains(&name.as_str()) && name != SERVICE_WORKER {
            kept.push((name, digest));
        }
    }
    kept.sort();
    let page = page.context("the site has no index.html")?;
    let worker = filled(&own(SERVICE_WORKER)?, &kept, &page)?;
    fs::write(dist.join(SERVICE_WORKER), worker).context("writing the service worker")
}

/// The service worker's source with the version, its files and the page's digest in place.
fn filled(source: &str, kept: &[(String, String)], page: &str) -> Result<String> {
    let list: String = kept
        .iter()
        .map(|(name, digest)| format!("['./{name}', '{digest}'],\n"))
        .collect();
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./".contains(c);
    if let Some((name, _)) = kept.iter().find(|(name, _)| !name.chars().all(plain)) {
        bail!("the site's file `{name}` has a name that is not its address as it stands");
    }
    let version = short_digest(format!("{list}{page}").as_bytes());
    let mut worker = without_comments(source);
    for (place, filled) in [
        (
            "const VERSION = '';",
            format!("const VERSION = '{version}';"),
        ),
        ("const FILES = [];", format!("const FILES = [\n{list}];")),
        (
            "const PAGE_DIGEST = '';",
            format!("const PAGE_DIGEST = '{page}';"),
        ),
    ] {
        if worker.matches(place).count() != 1 {
            bail!("public/{SERVICE_WORKER} must have one line `{place}`");
        }
        worker = worker.replace(place, &filled);
    }
    Ok(worker)
}

/// The text of a file in `public/`.
pub fn own(name: &str) -> Result<String> {
    let path = workspace().join("public").join(name);
    fs::read_to_string(&path).with_context(|| format!("reading {}", path.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kept(digest: &str) -> Vec<(String, String)> {
        vec![("a.js".to_owned(), digest.to_owned())]
    }

    #[test]
    fn every_change_of_a_file_or_of_the_page_is_another_version() -> Result<()> {
        let source = own(SERVICE_WORKER)?;
        let first = filled(&source, &kept("sha256-1"), "sha256-p")?;
        assert!(first.contains("\n['./a.js', 'sha256-1'],\n"), "{first}");
        assert!(first.contains("const PAGE_DIGEST = 'sha256-p';"), "{first}");
        assert_eq!(first, filled(&source, &kept("sha256-1"), "sha256-p")?);
        let version = |worker: &str| {
            let line = worker
                .lines()
                .find(|line| line.starts_with("const VERSION"));
            line.map(str::to_owned)
        };
        assert!(
            version(&first).is_some_and(|line| line.len() == 35),
            "{first}"
        );
        for other in [
            filled(&source, &kept("sha256-2"), "sha256-p")?,
            filled(&source, &kept("sha256-1"), "sha256-q")?,
        ] {
            assert_ne!(version(&first), version(&other));
        }
        Ok(())
    }

    #[test]
    fn a_source_without_its_places_is_refused() {
        assert!(filled("const VERSION = '';", &kept("sha256-1"), "sha256-p").is_err());
    }

    #[test]
    fn the_manifest_names_icons_of_the_size_they_have() -> Result<()> {
        let manifest = own(MANIFEST)?;
        for name in ICONS {
            let line = manifest.lines().find(|line| line.contains(name));
            let line = line.with_context(|| format!("the manifest lacks {name}"))?;
            let png = fs::read(workspace().join("public").join(name))?;
            // PNG (ISO/IEC 15948), 11.2.2: width and height follow the first chunk's name.
            let side = |at: usize| {
                png[at..at + 4]
                    .iter()
                    .fold(0, |n, byte| n * 256 + u32::from(*byte))
            };
            let size = format!("\"sizes\": \"{}x{}\"", side(16), side(20));
            assert!(line.contains(&size), "{name}: {line}");
        }
        Ok(())
    }
}
