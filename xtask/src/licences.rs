//! `cargo xtask licences`: what the page is made of, and under which licences, with their texts.
//!
//! The list holds every crate that is compiled into the page's programs and what wasm-bindgen puts
//! beside them. It is read from the crates themselves; the notice that a crate carries comes along,
//! and where several crates are under the same words, these stand there once.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use serde_json::Value;

use crate::run::{answer, cargo, workspace};
use crate::tools::WASM;

/// The list in the repository.
pub const LIST: &str = "docs/licences.txt";

/// The licences that we take, the one we would rather have first: each with the start of the words
/// by which its text is told from others. `deny.toml` allows these for what is shipped.
const TAKEN: [(&str, &str); 5] = [
    ("MIT", "Permission is hereby granted, free of charge"),
    ("Zlib", "This software is provided 'as-is'"),
    ("BSL-1.0", "Boost Software License"),
    ("Unicode-3.0", "UNICODE LICENSE V3"),
    ("Apache-2.0", "Apache License"),
];

/// What no crate stands for: the compiler links it into every program.
const STANDARD_LIBRARY: &str = "Copyright (c) The Rust Project Contributors";

const HEAD: &str = "\
Copewright is made of the works listed here, each under the licence over it. Where a work offers a
choice of licences, one of them is chosen. Written by `cargo xtask licences`; do not edit.
";

/// Writes the list anew.
pub fn write() -> Result<()> {
    let path = workspace().join(LIST);
    fs::write(&path, list()?).with_context(|| format!("writing {LIST}"))?;
    println!("   wrote {LIST}");
    Ok(())
}

/// Refuses a list that is not that of the crates in `Cargo.lock`.
pub fn check() -> Result<()> {
    let there = fs::read_to_string(workspace().join(LIST)).unwrap_or_default();
    let should = list()?;
    if there == should {
        return Ok(());
    }
    let lines: BTreeSet<&str> = there.lines().collect();
    let first = should.lines().find(|line| !lines.contains(line));
    bail!(
        "{LIST} is not up to date; it lacks, first of all, `{}`\n\
         What to do: run `cargo xtask licences` and commit what it writes",
        first.unwrap_or("nothing, but has lines too many").trim()
    )
}

/// A crate that is shipped.
struct Shipped {
    name: String,
    version: String,
    expression: String,
    authors: Vec<String>,
    texts: Vec<(String, String)>,
}

fn list() -> Result<String> {
    written(&shipped()?)
}

/// Name and version of every crate that is compiled into the page's programs, as the features that
/// are asked for have it. What only runs in the compiler (macros, build scripts) is not shipped.
fn compiled_in() -> Result<BTreeSet<(String, String)>> {
    let tree = answer(
        cargo()
            .args(["tree", "--locked", "--package", "copewright"])
            .args(["--target", WASM, "--edges", "normal,no-proc-macro"])
            .args(["--prefix", "none", "--format", "{p}"]),
    )
    .context("`cargo tree` gives no answer. What to do: run `cargo fetch --locked`")?;
    let lines = tree.lines().filter_map(|line| {
        let mut words = line.split_whitespace();
        let (name, version) = (words.next()?, words.next()?);
        Some((name.to_owned(), version.strip_prefix('v')?.to_owned()))
    });
    Ok(lines.collect())
}

fn shipped() -> Result<Vec<Shipped>> {
    let wanted = compiled_in()?;
    let metadata = answer(
        cargo()
            .args(["metadata", "--locked", "--format-version", "1"])
            .args(["--filter-platform", WASM]),
    )
    .context("`cargo metadata` gives no answer. What to do: run `cargo fetch --locked`")?;
    let metadata: Value = serde_json::from_str(&metadata)?;
    let packages = metadata["packages"].as_array();
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let mut all = Vec::new();
    for package in packages.into_iter().flatten() {
        let (name, version) = (text(&package["name"]), text(&package["version"]));
        if !wanted.contains(&(name.clone(), version.clone())) {
            continue;
        }
        let manifest = text(&package["manifest_path"]);
        let folder = Path::new(&manifest).parent();
        let folder = folder.with_context(|| format!("{name} has no folder"))?;
        let authors = package["authors"].as_array().into_iter().flatten();
        all.push(Shipped {
            name,
            version,
            expression: text(&package["license"]),
            authors: authors.map(text).collect(),
            texts: texts_in(folder)?,
        });
    }
    if all.len() != wanted.len() {
        bail!(
            "cargo names {} crates that are compiled into the page, but describes {} of them",
            wanted.len(),
            all.len()
        );
    }
    // Our own first, as what the rest is for.
    all.sort_by(|a, b| {
        let order = |one: &Shipped| (one.name != "copewright", one.name.clone());
        (order(a), &a.version).cmp(&(order(b), &b.version))
    });
    Ok(all)
}

/// The licence files of a crate by their names, in order of these.
fn texts_in(folder: &Path) -> Result<Vec<(String, String)>> {
    let mut found = Vec::new();
    for place in [folder.to_path_buf(), folder.join("LICENSES")] {
        let Ok(entries) = fs::read_dir(&place) else {
            continue;
        };
        for entry in entries {
            let path = entry?.path();
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            let name = name.to_uppercase();
            let is_one = ["LICENSE", "LICENCE", "COPYING"]
                .iter()
                .any(|start| name.starts_with(start))
                || place != folder;
            if is_one && path.is_file() {
                let text = fs::read(&path).with_context(|| format!("reading {name}"))?;
                found.push((name, String::from_utf8_lossy(&text).into_owned()));
            }
        }
    }
    found.sort();
    Ok(found)
}

/// The licences that hold for an expression, one of each choice. Reads what crates write: choices,
/// joined by `AND` where all of several hold.
///
/// # Errors
/// A part in which there is none that we take.
fn chosen(expression: &str) -> Result<Vec<&'static str>> {
    let plain = expression.replace(['(', ')'], " ").replace('/', " OR ");
    let parts = plain.split(" AND ").map(|part| {
        let offered: Vec<&str> = part.split(" OR ").map(str::trim).collect();
        let taken = TAKEN.iter().find(|(name, _)| offered.contains(name));
        let (name, _) = taken.with_context(|| {
            format!(
                "`{expression}` offers no licence that the page takes\n\
                 What to do: do without the crate, or see whether its licence asks for nothing \
                 that the page does not do, and add it to {} and deny.toml",
                file!()
            )
        })?;
        Ok(*name)
    });
    parts.collect()
}

/// A licence's text as a crate has it, or nothing.
fn text_of<'a>(texts: &'a [(String, String)], licence: &str) -> Option<&'a str> {
    let sign = TAKEN.iter().find(|(name, _)| *name == licence)?.1;
    let holds = |text: &str| in_one_line(text).contains(sign);
    let named = texts
        .iter()
        .find(|(name, text)| name.contains(&licence.to_uppercase()) && holds(text));
    let found = named.or_else(|| texts.iter().find(|(_, text)| holds(text)))?;
    Some(&found.1)
}

fn in_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Splits a text into the notices at its head and the words that grant. The Boost licence's and
/// Apache's have no notices of their own.
fn notice_and_grant(text: &str) -> (String, String) {
    let text = text.replace('\r', "");
    let mut notice = Vec::new();
    let mut lines = text
        .lines()
        .map(str::trim)
        .skip_while(|line| line.is_empty());
    let mut grant = Vec::new();
    for line in lines.by_ref() {
        let plain = line.trim_matches(['#', ' ', '`', '(', ')']).to_lowercase();
        let title = plain.ends_with("license") || plain == "mit license (mit)";
        if plain.starts_with("copyright") && !plain.starts_with("copyright and permission") {
            notice.push(line.to_owned());
        } else if title && line.len() < 40 || line.is_empty() || plain == "all rights reserved." {
            // The title stands over the group; the white is set anew.
        } else {
            grant.push(line.to_owned());
            break;
        }
    }
    grant.extend(lines.map(str::to_owned));
    let grant = grant.join("\n");
    (notice.join("\n"), grant.trim().to_owned())
}

/// The list as text: our own work, then one section for each wording of each licence.
fn written(all: &[Shipped]) -> Result<String> {
    // By licence in our order, then wording without regard to its lines.
    type Section = (String, Vec<(String, String)>);
    let mut sections: BTreeMap<(usize, String), Section> = BTreeMap::new();
    let mut standard = BTreeMap::new();
    for own in all.iter().filter(|own| own.name == "copewright") {
        if let Some(text) = text_of(&own.texts, "MIT") {
            standard.insert("MIT", notice_and_grant(text).1);
        }
    }
    for one in all {
        let licences =
            chosen(&one.expression).with_context(|| format!("licence of {}", one.name))?;
        for licence in licences {
            let (notice, grant) = match text_of(&one.texts, licence) {
                Some(text) => notice_and_grant(text),
                None => (
                    String::new(),
                    standard.get(licence).cloned().unwrap_or_default(),
                ),
            };
            if grant.is_empty() {
                bail!(
                    "{} {} is under {licence}, but has no text of it\n\
                     What to do: see where its authors keep it",
                    one.name,
                    one.version
                );
            }
            let notice = match notice.as_str() {
                "" if one.authors.is_empty() => format!("by the authors of {}", one.name),
                "" => format!("by {}", one.authors.join(", ")),
                notice => notice.to_owned(),
            };
            let order = TAKEN.iter().position(|(name, _)| *name == licence);
            let key = (order.unwrap_or(TAKEN.len()), in_one_line(&grant));
            let section = sections.entry(key).or_insert_with(|| (grant, Vec::new()));
            section
                .1
                .push((format!("{} {}", one.name, one.version), notice));
        }
    }
    let mut list = String::from(HEAD);
    for ((order, _), (grant, works)) in &sections {
        let licence = TAKEN.get(*order).map_or("", |(name, _)| *name);
        list += &format!(
            "\n\n{licence} licence\n{}\n\n",
            "=".repeat(licence.len() + 8)
        );
        if works
            .iter()
            .any(|(name, _)| name.starts_with("copewright "))
        {
            list += &format!("The Rust standard library\n    {STANDARD_LIBRARY}\n");
        }
        for (name, notice) in works {
            list += &format!("{name}\n");
            for line in notice.lines() {
                list += &format!("    {line}\n");
            }
        }
        list += &format!("\n{grant}\n");
    }
    Ok(list)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_licence_of_each_choice_is_taken_and_others_refused() -> Result<()> {
        assert_eq!(chosen("Apache-2.0 OR MIT")?, ["MIT"]);
        assert_eq!(chosen("Unlicense/MIT")?, ["MIT"]);
        assert_eq!(chosen("Apache-2.0 OR BSL-1.0")?, ["BSL-1.0"]);
        assert_eq!(
            chosen("(MIT OR Apache-2.0) AND Unicode-3.0")?,
            ["MIT", "Unicode-3.0"]
        );
        for refused in ["GPL-3.0", "MIT AND GPL-3.0", ""] {
            assert!(chosen(refused).is_err(), "{refused}");
        }
        Ok(())
    }

    fn crate_of(name: &str, expression: &str, texts: &[(&str, &str)]) -> Shipped {
        Shipped {
            name: name.to_owned(),
            version: "1.0.0".to_owned(),
            expression: expression.to_owned(),
            authors: vec!["A. Uthor".to_owned()],
            texts: texts
                .iter()
                .map(|(name, text)| ((*name).to_owned(), (*text).to_owned()))
                .collect(),
        }
    }

    const GRANT: &str = "Permission is hereby granted, free of charge, to any\nperson.";

    #[test]
    fn the_same_words_stand_once_and_every_notice_comes_along() -> Result<()> {
        let own = format!("MIT License\n\nCopyright (c) Us\n\n{GRANT}\n");
        let other = format!("Copyright (c) Them\n\n{}", GRANT.replace('\n', " "));
        let longer = format!("{GRANT}\n\nAnd more.");
        let all = [
            crate_of("copewright", "MIT OR Apache-2.0", &[("LICENSE-MIT", &own)]),
            crate_of("b", "MIT/Apache-2.0", &[("LICENSE", &other)]),
            crate_of("c", "MIT", &[]),
            crate_of("d", "MIT", &[("LICENSE", &longer)]),
        ];
        let list = written(&all)?;
        assert_eq!(list.matches("MIT licence").count(), 2, "{list}");
        assert_eq!(list.matches("Permission is").count(), 2, "{list}");
        for said in [
            "copewright 1.0.0\n    Copyright (c) Us\nb 1.0.0\n    Copyright (c) Them\n",
            "c 1.0.0\n    by A. Uthor\n",
            "The Rust standard library\n",
            "And more.",
        ] {
            assert!(list.contains(said), "{said}: {list}");
        }
        Ok(())
    }

    #[test]
    fn a_crate_without_the_text_it_needs_is_refused() {
        let refusal = written(&[crate_of("a", "Zlib", &[])]).map_err(|error| error.to_string());
        assert!(refusal.is_err_and(|why| why.contains("a 1.0.0 is under Zlib")));
        let refusal = written(&[crate_of("a", "GPL-3.0", &[])]).map_err(|error| error.to_string());
        assert!(refusal.is_err_and(|why| why.contains("licence of a")));
    }
}
