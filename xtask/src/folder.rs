//! What is in a folder.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};

/// Every file in a folder and the folders in it.
pub fn files(folder: &Path) -> Result<Vec<PathBuf>> {
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

/// A file's address from the folder, as a page in it would write it.
pub fn name_in(folder: &Path, path: &Path) -> String {
    let name = path.strip_prefix(folder).unwrap_or(path);
    name.to_string_lossy().replace('\\', "/")
}
