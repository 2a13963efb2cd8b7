//! Why a file could not be loaded or saved.

use crate::fault::problem::Problem;
use crate::fault::system_words::system_words;
use crate::text::file_kind::FileKind;
use crate::text::file_snapshot::FileSnapshot;
use std::path::{Path, PathBuf};
use std::time::SystemTime;
use wheelpath_geometry::shown_name;

/// Why a car could not be loaded. Nothing of it was.
#[derive(Debug, thiserror::Error)]
pub enum LoadError {
    /// The file could not be read.
    #[error("cannot read {}: {}", shown_path(file), system_words(source))]
    Unreadable {
        /// The file.
        file: PathBuf,
        /// What the system said.
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

/// More faults than these are not listed in one message, only counted.
const LISTED: usize = 50;

fn lines(problems: &[Problem]) -> String {
    let both = |p: &Problem| format!("{p}\nhint: {}", p.hint());
    let mut lines: Vec<String> = problems.iter().take(LISTED).map(both).collect();
    if problems.len() > LISTED {
        lines.push(format!("and {} more", problems.len() - LISTED));
    }
    lines.join("\n")
}

/// A path as it can stand in a message.
fn shown_path(path: &Path) -> String {
    shown_name(&path.display().to_string()).into_owned()
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
    #[error("cannot write {}: {}", shown_path(file), system_words(source))]
    Unwritable {
        /// The file.
        file: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// Another has written the file, or taken it away, since it was read here.
    #[error("{} {} since it was read here", shown_path(file), if now.is_there() { "was changed by another" } else { "was taken away" })]
    ChangedByAnother {
        /// The file.
        file: PathBuf,
        /// What it holds now.
        now: FileSnapshot,
        /// When it was written.
        modified: Option<SystemTime>,
    },
    /// The file was to be new, and something has its name.
    #[error("{} is there already; nothing was written", shown_path(file))]
    NameTaken {
        /// The file.
        file: PathBuf,
    },
    /// The name is that of another kind of file.
    #[error("{} is the name of {}; a proposal needs another", shown_path(file), kind.name)]
    NameOf {
        /// The file.
        file: PathBuf,
        /// What has that name in a car's folder.
        kind: FileKind,
    },
    /// Another program is saving into the folder and does not finish.
    #[error(
        "cannot write {}: another program has been saving into {} for some seconds and has not finished",
        shown_path(file),
        shown_path(folder)
    )]
    Busy {
        /// The file.
        file: PathBuf,
        /// Its folder.
        folder: PathBuf,
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

impl SaveError {
    /// Why the pages of a sheet were not written, and what to do; `replacing` says how pages that are there are written
    /// over, such as "add --replace".
    #[must_use]
    pub fn of_pages(&self, replacing: &str) -> [String; 2] {
        match self {
            SaveError::NameTaken { file } => [
                format!("{} is there already", file.display()),
                format!("choose another name, or {replacing}"),
            ],
            SaveError::InPart { .. } => [
                self.to_string(),
                "each page that was written is whole, but the sheet is not: write it again, replacing them"
                    .to_owned(),
            ],
            _ => [self.to_string(), "give a place that can be written to".to_owned()],
        }
    }

    /// The same of a file that was to be new.
    pub(crate) fn of_new(self) -> SaveError {
        match self {
            SaveError::ChangedByAnother { file, now, .. } if now.is_there() => SaveError::NameTaken { file },
            SaveError::InPart { written, not, why } => {
                SaveError::InPart { written, not, why: Box::new(why.of_new()) }
            }
            other => other,
        }
    }
}

fn paths(all: &[PathBuf]) -> String {
    all.iter().map(|path| shown_path(path)).collect::<Vec<_>>().join(", ")
}
