//! A file that another has written since it was read here: nothing of theirs is written over unasked.

use crate::file_versions::{ChangedFile, FileVersions};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};
use wheelpath_car_file::{FileKind, FileSnapshot, SaveError, kind_of_text, put};

/// What a file is to a car that is open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FileRole {
    /// The car's own file, or another that a car was saved to.
    Car,
    /// A proposal beside the car, by the name of its file.
    Proposal(String),
    /// The limits beside the car.
    Limits,
}

/// A file that another has written.
#[derive(Clone, Debug)]
pub struct Conflict<Save> {
    /// The file.
    pub path: PathBuf,
    /// What it is.
    pub role: FileRole,
    /// What it holds now.
    pub now: FileSnapshot,
    /// When it was written.
    pub modified: Option<SystemTime>,
    /// The save that was not done for it.
    pub refused: Option<Save>,
}

/// What is to be done about a file that another has written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Takes up what they wrote. What was here can be had back: by undo, or, where the car itself is
    /// opened again, as unsaved changes.
    Theirs,
    /// Saves what is here under another name.
    Apart,
    /// Writes what was refused over theirs.
    Replace,
    /// Leaves everything as it is.
    Leave,
}

/// A length of time as people say it.
#[must_use]
pub fn ago(age: Duration) -> String {
    let of = |count: u64, one: &str| {
        let more = if count == 1 { "" } else { "s" };
        format!("{count} {one}{more} ago")
    };
    match age.as_secs() {
        seconds @ 0..60 => of(seconds, "second"),
        seconds @ 60..3600 => of(seconds / 60, "minute"),
        seconds @ 3600..86_400 => of(seconds / 3600, "hour"),
        seconds => of(seconds / 86_400, "day"),
    }
}

impl<Save> Conflict<Save> {
    /// What happened, to which file and when.
    #[must_use]
    pub fn text(&self) -> String {
        let name = self.path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        let age = self.modified.and_then(|at| at.elapsed().ok());
        let when = age.map_or_else(String::new, |age| format!(", {}", ago(age)));
        let happened = match (self.now.is_there(), &self.refused) {
            (true, Some(_)) => "not saved: another window or program has written",
            (true, None) => "another window or program has written",
            (false, Some(_)) => "not saved: another window or program has taken away",
            (false, None) => "another window or program has taken away",
        };
        format!("{happened} {name} since it was read here{when}")
    }

    /// Takes note of what the file holds by now.
    pub fn renew(&mut self, changed: ChangedFile) {
        self.now = changed.now;
        self.modified = changed.modified;
    }

    /// Whether theirs can be looked at.
    #[must_use]
    pub fn is_there(&self) -> bool {
        self.now.is_there()
    }

    /// Whether a save waits for an answer.
    #[must_use]
    pub fn is_refused(&self) -> bool {
        self.refused.is_some()
    }
}

/// Why a file was not written; what was there is untouched.
#[derive(Debug)]
pub enum PutRefusal {
    /// It holds something of another kind than the text.
    OtherKind(FileKind),
    /// Another has written it since it was read here.
    Changed(ChangedFile),
    /// It cannot be written.
    Unwritable(SaveError),
}

/// Writes a file in one step, unless another has written it since it was read here; a file that was never read
/// only where it may be replaced, and none over a file of another kind. What it holds then is noted.
///
/// # Errors
/// It was not written, for this reason.
pub fn put_seen(
    versions: &mut FileVersions,
    path: &Path,
    text: &str,
    may_replace: bool,
) -> Result<(), PutRefusal> {
    let over = match versions.seen(path) {
        Some(seen) => Some(seen.clone()),
        None if may_replace => None,
        None => Some(FileSnapshot::NOTHING),
    };
    if let Some(kind) = other_kind(path, text) {
        return Err(PutRefusal::OtherKind(kind));
    }
    match put(path, text, over.as_ref()) {
        Ok(seen) => {
            versions.note(path, seen);
            Ok(())
        }
        Err(SaveError::ChangedByAnother { file, now, modified }) => {
            Err(PutRefusal::Changed(ChangedFile { path: file, now, modified }))
        }
        Err(error) => Err(PutRefusal::Unwritable(error)),
    }
}

/// What a file is that holds something of another kind than the text that is to be written.
fn other_kind(path: &Path, text: &str) -> Option<FileKind> {
    let there = FileSnapshot::now(path).ok()?.as_text(path).ok()?;
    let kind = kind_of_text(&there)?;
    (kind_of_text(text) != Some(kind)).then_some(kind)
}

#[cfg(test)]
mod tests {
    use super::{PutRefusal, put_seen};
    use crate::file_versions::FileVersions;

    const CAR: &str = "(format: \"wheelpath car\", version: 1)";
    const LIMITS: &str = "(format: \"wheelpath limits\", version: 1)";

    #[test]
    fn only_what_was_seen_is_replaced_and_never_by_another_kind() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("one.ron");
        let mut versions = FileVersions::default();
        put_seen(&mut versions, &path, CAR, false).unwrap();
        put_seen(&mut versions, &path, &format!("{CAR} "), false).unwrap();
        let refused = put_seen(&mut versions, &path, LIMITS, true).unwrap_err();
        assert!(matches!(refused, PutRefusal::OtherKind(kind) if kind.name == "a car file"));
        std::fs::write(&path, format!("{CAR} // theirs")).unwrap();
        let PutRefusal::Changed(changed) = put_seen(&mut versions, &path, CAR, true).unwrap_err() else {
            panic!("written over what another wrote");
        };
        assert!(std::fs::read_to_string(&path).unwrap().ends_with("theirs"));
        versions.note(&path, changed.now);
        put_seen(&mut versions, &path, CAR, false).unwrap();
        let mut fresh = FileVersions::default();
        assert!(matches!(put_seen(&mut fresh, &path, CAR, false), Err(PutRefusal::Changed(_))));
        put_seen(&mut fresh, &path, CAR, true).unwrap();
        let nowhere = folder.path().join("none").join("two.ron");
        assert!(matches!(put_seen(&mut fresh, &nowhere, CAR, true), Err(PutRefusal::Unwritable(_))));
    }
}
