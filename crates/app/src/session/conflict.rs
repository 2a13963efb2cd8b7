//! A file that another has written since it was read here: it is said, nothing of theirs is written over
//! unasked, and there are three ways on.

use super::edit::Edit;
use super::file_versions::{Changed, place};
use super::history::State;
use super::notice::About;
use super::proposals::free_name;
use super::{Listed, Session};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};
use wheelpath_car_file::{FileKind, FileSnapshot, LimitsFile, SaveError, kind_of_text, put, system_words};

/// What a file is to the session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// The car's own file, or another that a car was saved to.
    Car,
    /// A proposal beside the car, by the name of its file.
    Proposal(String),
    /// The limits beside the car.
    Limits,
}

/// A file that another has written.
#[derive(Clone, Debug)]
pub struct Clash {
    /// The file.
    pub path: PathBuf,
    /// What it is.
    pub what: What,
    /// What it holds now.
    now: FileSnapshot,
    /// When it was written.
    modified: Option<SystemTime>,
    /// The save that was not done for it.
    refused: Option<Box<Edit>>,
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

impl Clash {
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
    pub(super) fn renew(&mut self, changed: Changed) {
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

/// What a file is that holds something of another kind than the text that is to be written.
fn other_kind(path: &Path, text: &str) -> Option<FileKind> {
    let there = FileSnapshot::now(path).ok()?.as_text(path).ok()?;
    let kind = kind_of_text(&there)?;
    (kind_of_text(text) != Some(kind)).then_some(kind)
}

impl Session {
    /// Files that another has written, not yet answered.
    #[must_use]
    pub fn clashes(&self) -> &[Clash] {
        &self.file.clashes
    }

    /// What a file is to this session.
    pub(super) fn what(&self, path: &Path) -> What {
        let path = place(path);
        let is = |other: Option<&Path>| other.is_some_and(|other| place(other) == path);
        if is(self.limits_path().as_deref()) {
            return What::Limits;
        }
        let mut listed = self.beside.proposals.iter();
        match listed.find(|listed| is(listed.path.as_deref())) {
            Some(listed) => What::Proposal(listed.file.clone()),
            None => What::Car,
        }
    }

    pub(super) fn clash(&mut self, changed: Changed, refused: Option<Edit>) {
        let Changed { path, now, modified } = changed;
        let path = place(&path);
        self.file.clashes.retain(|clash| clash.path != path);
        let what = self.what(&path);
        self.file.clashes.push(Clash { path, what, now, modified, refused: refused.map(Box::new) });
    }

    /// Writes a file as it should be, unless another has written it since it was read here; a file that
    /// was never read only where it may be replaced. `again` is the edit that would do this again.
    /// Gives whether it was written.
    pub(super) fn put_file(&mut self, path: &Path, text: &str, may_replace: bool, again: &Edit) -> bool {
        let over = match self.file.known.seen(path) {
            Some(seen) => Some(seen.clone()),
            None if may_replace => None,
            None => Some(FileSnapshot::NOTHING),
        };
        if let Some(kind) = other_kind(path, text) {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            let said = format!("not saved: {name} is {}, which is not to be lost for this", kind.name);
            self.refuse(About::File, said, "choose another name, or take that file away first".into());
            return false;
        }
        match put(path, text, over.as_ref()) {
            Ok(seen) => {
                self.file.known.note(path, seen);
                let path = place(path);
                self.file.clashes.retain(|clash| clash.path != path);
                true
            }
            Err(SaveError::ChangedByAnother { file, now, modified }) => {
                self.clash(Changed { path: file, now, modified }, Some(again.clone()));
                false
            }
            Err(error) => {
                let remedy = "what was there is untouched; choose another name or folder";
                self.refuse(About::File, format!("not saved: {error}"), remedy.into());
                false
            }
        }
    }

    pub(super) fn answer(&mut self, path: &Path, answer: Answer) {
        let path = place(path);
        let Some(n) = self.file.clashes.iter().position(|clash| clash.path == path) else { return };
        let clash = self.file.clashes.remove(n);
        match (answer, clash.what) {
            (Answer::Leave, _) => self.file.known.told(&path, clash.now),
            (Answer::Replace, _) => {
                // Replaced is what was told of, and nothing that was written since.
                self.file.known.note(&path, clash.now);
                if let Some(edit) = clash.refused {
                    self.apply_unnoted(*edit);
                }
            }
            (Answer::Theirs, What::Car) => self.open_car(&path, None),
            (Answer::Theirs, What::Proposal(file)) => self.take_their_proposal(&file, &path),
            (Answer::Theirs, What::Limits) => self.take_their_limits(&path),
            (Answer::Apart, what) => {
                self.file.known.told(&path, clash.now);
                match what {
                    What::Car => self.save_as(&self.suggested_path(), false),
                    What::Proposal(file) => self.save_apart(&file),
                    What::Limits => self.save_limits_apart(),
                }
            }
        }
    }

    fn take_their_proposal(&mut self, file: &str, path: &Path) {
        let (listed, seen) = Listed::read(path);
        self.file.known.note(path, seen.unwrap_or(FileSnapshot::NOTHING));
        let fault = listed.proposal.as_ref().err().cloned();
        if let Some(old) = self.beside.proposals.iter_mut().find(|old| old.file == file) {
            *old = listed;
        }
        match fault {
            Some(fault) => self.refuse(About::File, fault, "what was here is kept".into()),
            None if self.open.as_deref() == Some(file) => self.open_proposal(file),
            None => {}
        }
    }

    fn take_their_limits(&mut self, path: &Path) {
        let seen = match FileSnapshot::now(path) {
            Ok(seen) => seen,
            Err(error) => {
                let said = system_words(&error);
                return self.refuse(About::File, said, "what was here is kept".into());
            }
        };
        let read = if seen.is_there() {
            seen.as_text(path).and_then(|text| LimitsFile::parse(&text, &path.display().to_string()))
        } else {
            LimitsFile::new(self.units(), self.axes())
        };
        match read {
            Ok(file) => {
                self.file.known.note(path, seen);
                self.beside.limits = file.limits().to_vec();
                self.beside.limits_fault = None;
                self.beside.limits_file = Some(file);
                let to = State { limits: self.beside.limits.clone(), ..self.state() };
                self.step(to, "limits as another wrote them".into());
            }
            Err(error) => self.refuse(About::File, error.to_string(), "what was here is kept".into()),
        }
    }

    /// Saves what is changed as a proposal beside the one of this file, under a name that is free.
    fn save_apart(&mut self, file: &str) {
        let listed = self.beside.proposals.iter().find(|listed| listed.file == file);
        let name = listed.and_then(|listed| listed.proposal.as_ref().ok()).map(|one| one.name.clone());
        let taken = |name: &str| self.proposal_path(name).exists();
        let name = free_name(&name.unwrap_or_else(|| file.to_owned()), taken);
        let path = self.proposal_path(&name);
        self.save_proposal(&name, &path, false);
    }

    /// Saves the limits beside the car's folder, under a name that is free: `--limits` takes them.
    fn save_limits_apart(&mut self) {
        let Some(folder) = self.limits_path().and_then(|path| path.parent().map(Path::to_owned)) else {
            return;
        };
        let stem = folder.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let named = |n: usize| folder.with_file_name(format!("{stem}-limits-{n}.ron"));
        let Some(path) = (2..1000).map(named).find(|path| !path.exists()) else { return };
        match self.limits_text() {
            Ok(file) => {
                if self.put_file(&path, file.text(), false, &Edit::SaveLimits) {
                    self.file.limits_apart = Some(path);
                }
            }
            Err(reason) => self.refuse(About::File, reason, "the file that was there is untouched".into()),
        }
    }
}
