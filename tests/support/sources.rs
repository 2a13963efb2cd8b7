//! The sources of the project, for tests of its structure.

use std::path::{Path, PathBuf};

/// Every Rust file below a folder.
///
/// # Panics
/// Where the folder cannot be read.
#[must_use]
pub fn files_below(folder: &Path) -> Vec<PathBuf> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.append(&mut files_below(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            all.push(path);
        }
    }
    all
}

/// The code of a file without comments and without the tests at its end.
#[must_use]
pub fn code(text: &str) -> String {
    let shipped = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default();
    let lines = shipped.lines().map(|line| line.split("//").next().unwrap_or_default());
    lines.collect::<Vec<_>>().join("\n")
}
