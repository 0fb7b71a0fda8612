//! What the built site weighs, and the limit on a first visit.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::about::ABOUT;
use crate::build::WORKSHOP;
use crate::folder::{files, name_in};
use crate::offline::{ICONS, SERVICE_WORKER};
use crate::one_file::{ONE_FILE, ONE_FILE_AIM};

/// The most that a first visit may load, in brotli bytes, and what we aim for.
const LIMIT_BYTES: usize = 300_000;
const AIM_BYTES: usize = 220_000;

/// One file of the site.
struct Weight {
    name: String,
    raw: usize,
    brotli: usize,
}

/// Prints the tables of sizes, and fails when a first visit is too heavy.
pub fn weigh(dist: &Path) -> Result<()> {
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
    let (one_file, weights): (Vec<Weight>, Vec<Weight>) = weights
        .into_iter()
        .partition(|weight| weight.name == ONE_FILE);
    let (workshop, weights): (Vec<Weight>, Vec<Weight>) = weights
        .into_iter()
        .partition(|weight| weight.name.starts_with(WORKSHOP) || weight.name == ABOUT);
    let (kept, first): (Vec<Weight>, Vec<Weight>) = weights
        .into_iter()
        .partition(|weight| is_for_later(&weight.name));
    println!("A first visit:");
    print!("{}", table(&first));
    println!("On demand:");
    print!("{}", table(&workshop));
    println!("When the page is kept for use without a network, besides all of these:");
    print!("{}", table(&kept));
    for file in one_file {
        println!(
            "The page as one file, {}, has {} bytes (aim {ONE_FILE_AIM}).",
            file.name, file.raw
        );
    }
    judge(first.iter().map(|weight| weight.brotli).sum())
}

/// What a browser asks for when the page stands and works, to keep it.
fn is_for_later(name: &str) -> bool {
    name == SERVICE_WORKER || ICONS.contains(&name)
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
