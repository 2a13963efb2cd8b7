//! Why a file could not be loaded or saved.

use crate::error::Problem;
use crate::on_disk::Seen;
use std::path::PathBuf;
use std::time::SystemTime;

/// Why a car could not be loaded. Nothing of it was.
#[derive(Debug, thiserror::Error)]
pub enum LoadError {
    /// The file could not be read.
    #[error("cannot read {}: {source}", file.display())]
    Unreadable {
        /// The file.
        file: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// The file has faults: all that could be found, in the order of the file.
    #[error("{}", lines(.0))]
    Faulty(Vec<Problem>),
}

impl LoadError {
    /// The faults of the file; none where it could not be read.
    #[must_use]
    pub fn problems(&self) -> &[Problem] {
        match self {
            LoadError::Faulty(problems) => problems,
            LoadError::Unreadable { .. } => &[],
        }
    }
}

fn lines(problems: &[Problem]) -> String {
    let both = |p: &Problem| format!("{p}\nhint: {}", p.hint());
    problems.iter().map(both).collect::<Vec<_>>().join("\n")
}

/// Why a file was not saved. The one that was there is untouched, save where it says so.
#[derive(Debug, thiserror::Error)]
pub enum SaveError {
    /// The car has a fault, and the file would not open again.
    #[error("not saved, the file would not open again: {}", lines(.0))]
    Faulty(Vec<Problem>),
    /// What was written would not read back as the same car.
    #[error("not saved: {what} would read back different from the car")]
    ReadsBackDifferent {
        /// The first difference, in words.
        what: String,
    },
    /// The file could not be written.
    #[error("cannot write {}: {source}", file.display())]
    Unwritable {
        /// The file.
        file: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// Another has written the file, or taken it away, since it was read here.
    #[error("{} {} since it was read here", file.display(), if now.is_there() { "was changed by another" } else { "was taken away" })]
    ChangedByAnother {
        /// The file.
        file: PathBuf,
        /// What it holds now.
        now: Seen,
        /// When it was written.
        modified: Option<SystemTime>,
    },
    /// Of several files some were written, the others not.
    #[error("wrote {}; not written: {}: {why}", paths(written), paths(not))]
    InPart {
        /// Those that are new and whole.
        written: Vec<PathBuf>,
        /// Those that are as they were.
        not: Vec<PathBuf>,
        /// What came in between.
        why: Box<SaveError>,
    },
}

fn paths(all: &[PathBuf]) -> String {
    all.iter().map(|path| path.display().to_string()).collect::<Vec<_>>().join(", ")
}
