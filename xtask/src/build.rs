//! `cargo xtask build`: the release site in `dist/`, and what it costs a visitor to load it.

use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::run::{command, run, workspace};
use crate::tools;

/// The most that a first visit may load, in brotli bytes, and what we aim for.
const LIMIT_BYTES: usize = 300_000;
const AIM_BYTES: usize = 200_000;

/// Builds the site and fails when it is too heavy.
pub fn build() -> Result<()> {
    tools::wasm_target()?;
    tools::trunk()?;
    tools::wasm_bindgen()?;
    tools::wasm_opt()?;
    tools::crates()?;
    // `index.html` names the cargo profile and the optimiser level.
    run(
        trunk().args(["build", "--release"]),
        "read the message above: the compiler's, or Trunk's own about index.html and Trunk.toml",
    )?;
    let dist = workspace().join("dist");
    settle_workshop(&dist)?;
    weigh(&dist)
}

/// Start of the name of the workshop's files, and of the folder they are moved to.
const WORKSHOP: &str = "workshop";

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

fn name_in(dist: &Path, path: &Path) -> String {
    let name = path.strip_prefix(dist).unwrap_or(path);
    name.to_string_lossy().into_owned()
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

/// One file of the site.
struct Weight {
    name: String,
    raw: usize,
    brotli: usize,
}

/// Prints the table of sizes. A first visit loads every file but the workshop's.
fn weigh(dist: &Path) -> Result<()> {
    let mut weights = Vec::new();
    for path in files(dist)? {
        let bytes = fs::read(&path).with_context(|| format!("reading {}", path.display()))?;
        weights.push(Weight {
            name: name_in(dist, &path),
            raw: bytes.len(),
            brotli: brotli_size(&bytes)?,
        });
    }
    weights.sort_by_key(|weight| std::cmp::Reverse(weight.brotli));
    let (later, first): (Vec<Weight>, Vec<Weight>) = weights
        .into_iter()
        .partition(|weight| weight.name.starts_with(WORKSHOP));
    print!("{}", table(&first));
    println!("On demand:");
    print!("{}", table(&later));
    judge(first.iter().map(|weight| weight.brotli).sum())
}

fn judge(total: usize) -> Result<()> {
    if total > LIMIT_BYTES {
        bail!(
            "a first visit loads {total} bytes in brotli, {} over the limit of {LIMIT_BYTES}\n\
             What to do: see what the last dependency brought; the wasm file usually holds it",
            total - LIMIT_BYTES
        );
    }
    println!("A first visit loads {total} bytes in brotli (limit {LIMIT_BYTES}, aim {AIM_BYTES}).");
    Ok(())
}

fn table(weights: &[Weight]) -> String {
    let width = weights.iter().map(|weight| weight.name.len()).max();
    let width = width.unwrap_or(0).max("file".len());
    let row =
        |name: &str, raw: &str, brotli: &str| format!("{name:<width$}  {raw:>10}  {brotli:>10}\n");
    let mut table = row("file", "raw", "brotli 11");
    for weight in weights {
        table += &row(
            &weight.name,
            &weight.raw.to_string(),
            &weight.brotli.to_string(),
        );
    }
    let sum = |part: fn(&Weight) -> usize| weights.iter().map(part).sum::<usize>().to_string();
    table += &row(
        "total",
        &sum(|weight| weight.raw),
        &sum(|weight| weight.brotli),
    );
    table
}

/// Size after brotli at quality 11 with the 4 MiB window that servers use.
fn brotli_size(bytes: &[u8]) -> Result<usize> {
    let params = brotli::enc::BrotliEncoderParams {
        quality: 11,
        lgwin: 22,
        ..Default::default()
    };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &bytes[..], &mut packed, &params)?;
    Ok(packed.len())
}

fn files(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).with_context(|| format!("reading {}", folder.display()))? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            found.extend(files(&entry.path())?);
        } else {
            found.push(entry.path());
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limit_is_the_last_size_allowed() {
        assert!(judge(LIMIT_BYTES).is_ok());
        let refusal = judge(LIMIT_BYTES + 1).map_err(|error| error.to_string());
        assert!(refusal.is_err_and(|text| text.contains("300001") && text.contains("1 over")));
    }

    #[test]
    fn repeated_text_shrinks_and_noise_does_not() -> Result<()> {
        assert!(brotli_size(&[b'a'; 10_000])? < 50);
        // Knuth's multiplicative hash (The Art of Computer Programming 3, 6.4) stands in for noise.
        let noise: Vec<u8> = (0..10_000_u32)
            .map(|i| (i.wrapping_mul(2_654_435_761) ^ i.wrapping_mul(i)).to_le_bytes()[3])
            .collect();
        assert!(brotli_size(&noise)? > 2_000);
        Ok(())
    }
}
