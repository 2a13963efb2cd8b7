//! Unsaved changes that outlive a killed program: kept in a file beside the car's own, written in
//! one step, offered when the car is opened again. Each window has a file of its own.

use super::Session;
use super::conflict::ago;
use super::history::State;
use super::notice::About;
use super::window_lock::others;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use std::time::SystemTime;
use wheelpath_car_file::{FileSnapshot, LimitsFile, SaveError, parse, put};
use wheelpath_geometry::{Car, LengthUnit, Proposal, Requirement};

const FORMAT: &str = "wheelpath unsaved changes";
const VERSION: u32 = 1;

/// The name of the step that takes unsaved changes up.
pub(super) const TAKEN_UP: &str = "unsaved changes taken up";

/// What the file holds.
#[derive(Serialize, Deserialize)]
struct Unsaved {
    format: String,
    version: u32,
    /// The car as a car file has it.
    car: String,
    /// The proposal that was open, by the name of its file.
    proposal: Option<String>,
    /// The limits as their file has them, where they were changed.
    limits: Option<String>,
}

/// Unsaved changes that were found.
#[derive(Clone, Debug)]
pub(super) struct Found {
    path: PathBuf,
    written: Option<SystemTime>,
    /// Set aside by this window, for something else to take its place.
    aside: bool,
    car: Car,
    proposal: Option<String>,
    limits: Option<Vec<Requirement>>,
}

impl Found {
    fn read(path: &Path) -> Option<Found> {
        let written = std::fs::metadata(path).and_then(|data| data.modified()).ok();
        let name = path.display().to_string();
        let text = FileSnapshot::now(path).ok()?.as_text(path).ok()?;
        let unsaved: Unsaved = ron::from_str(&text).ok()?;
        if unsaved.format != FORMAT || unsaved.version != VERSION {
            return None;
        }
        let limits = match &unsaved.limits {
            Some(text) => Some(LimitsFile::parse(text, &name).ok()?.limits().to_vec()),
            None => None,
        };
        let car = parse(&unsaved.car, &name).ok()?.car;
        Some(Found { path: path.to_owned(), written, aside: false, car, proposal: unsaved.proposal, limits })
    }
}

/// The name of the file for a window's unsaved changes: `number` is the window's place, `further` the
/// count of those that lie there from earlier.
fn sidecar(base: &Path, number: usize, further: usize) -> Option<PathBuf> {
    let name = base.file_name()?.to_string_lossy();
    let end = match (number, further) {
        (1, 0) => String::new(),
        (_, 0) => format!("-{number}"),
        _ => format!("-{number}-{further}"),
    };
    Some(base.with_file_name(format!(".{name}.unsaved{end}")))
}

/// All files of unsaved changes of a car, each with the place of the window that wrote it.
fn sidecars(base: &Path) -> Vec<(usize, PathBuf)> {
    let Some(name) = base.file_name() else { return Vec::new() };
    let start = format!(".{}.unsaved", name.to_string_lossy());
    let folder = base.parent().filter(|folder| !folder.as_os_str().is_empty());
    let entries = std::fs::read_dir(folder.unwrap_or_else(|| Path::new("."))).into_iter().flatten();
    let of_window = |name: &str| match name.strip_prefix(&start)? {
        "" => Some(1),
        end => end.strip_prefix('-')?.split('-').next()?.parse().ok(),
    };
    let found = entries.flatten().filter_map(|entry| {
        let number = of_window(&entry.file_name().to_string_lossy())?;
        Some((number, base.with_file_name(entry.file_name())))
    });
    found.collect()
}

/// The files that keep what was thrown away, each with its number, the earliest first.
fn thrown_away(base: &Path) -> Vec<(u32, PathBuf)> {
    let Some(start) = thrown_away_name(base, 0) else { return Vec::new() };
    let Some(Ok(entries)) = base.parent().map(std::fs::read_dir) else { return Vec::new() };
    let number = |name: &str| match name.strip_prefix(&start)? {
        "" => Some(0),
        rest => rest.strip_prefix('-')?.parse().ok(),
    };
    let mut all: Vec<(u32, PathBuf)> = entries
        .flatten()
        .filter_map(|entry| Some((number(&entry.file_name().to_string_lossy())?, entry.path())))
        .collect();
    all.sort();
    all
}

/// The name of the file that keeps what was thrown away with this number.
fn thrown_away_name(base: &Path, number: u32) -> Option<String> {
    let name = base.file_name()?.to_string_lossy();
    let ending = if number == 0 { String::new() } else { format!("-{number}") };
    Some(format!(".{name}.thrown-away{ending}"))
}

impl Session {
    /// Looks for unsaved changes of windows that are no more; latest first.
    pub(super) fn look_for_recovery(&mut self) {
        let Some(base) = self.file.base.clone() else { return };
        let alive: Vec<usize> =
            others(&base, self.file.window()).into_iter().map(|(number, _)| number).collect();
        let left = sidecars(&base).into_iter().filter(|(number, _)| !alive.contains(number));
        let mut found: Vec<Found> = left.filter_map(|(_, path)| Found::read(&path)).collect();
        found.retain(|found| {
            found.car != self.car || found.limits.as_ref().is_some_and(|limits| *limits != self.limits)
        });
        found.sort_by_key(|found| std::cmp::Reverse(found.written));
        self.file.found = found;
        self.file.thrown = thrown_away(&base).iter().filter_map(|(_, path)| Found::read(path)).collect();
    }

    /// Unsaved changes of an earlier run, if there are any.
    #[must_use]
    pub fn recoverable(&self) -> Option<&Car> {
        self.file.found.first().map(|found| &found.car)
    }

    /// What unsaved changes there are to take up, in words.
    #[must_use]
    pub fn recoverable_text(&self) -> Option<String> {
        let found = self.file.found.first()?;
        let age = found.written.and_then(|at| at.elapsed().ok());
        let when = age.map_or_else(String::new, |age| format!(", {}", ago(age)));
        let of = |file: &String| {
            let listed = self.beside.proposals.iter().find(|listed| listed.file == *file);
            let name = listed.and_then(|listed| listed.proposal.as_ref().ok()).map(|one| one.name.clone());
            format!(" to the proposal {}", name.unwrap_or_else(|| file.clone()))
        };
        let to = found.proposal.as_ref().map_or_else(String::new, of);
        let what = if found.aside { "set aside" } else { "not saved" };
        Some(format!("Changes{to} were {what}{when}"))
    }

    pub(super) fn recover(&mut self) {
        if self.file.found.is_empty() {
            return;
        }
        let found = self.file.found.remove(0);
        self.set_aside();
        let open = found.proposal.filter(|file| self.beside.proposals.iter().any(|one| one.file == *file));
        let limits = found.limits.unwrap_or_else(|| self.limits.clone());
        self.step(State { car: found.car, limits, open }, TAKEN_UP.into());
        // Theirs goes once this window's own holds the same.
        if self.keep_for_recovery() && self.file.sidecar.as_ref() != Some(&found.path) {
            let _ = std::fs::remove_file(&found.path);
        }
    }

    /// Puts the file of what was found aside, behind what was thrown away before.
    pub(super) fn discard_recovery(&mut self) {
        let Some(base) = self.file.base.clone().filter(|_| !self.file.found.is_empty()) else { return };
        let found = self.file.found.remove(0);
        let number = thrown_away(&base).last().map_or(0, |(number, _)| number.saturating_add(1));
        let to = thrown_away_name(&base, number)
            .map_or_else(|| found.path.with_extension("thrown-away"), |name| base.with_file_name(name));
        match std::fs::rename(&found.path, &to) {
            Ok(()) => {
                self.file.thrown.push(Found { path: to, ..found });
                self.file.thrown_here = true;
            }
            // Another has taken them up or thrown them away.
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
            Err(error) => {
                let text = format!("not thrown away: {} cannot be moved: {error}", found.path.display());
                self.file.found.insert(0, found);
                self.refuse(About::File, text, "look whether its folder can be written to".into());
            }
        }
    }

    /// Offers again what was thrown away last; what was thrown away before that comes next.
    pub(super) fn bring_back(&mut self) {
        self.file.thrown_here = false;
        let (Some(base), Some(thrown)) = (self.file.base.clone(), self.file.thrown.pop()) else { return };
        let number = self.file.window().unwrap_or(1);
        let mut names = (0..100).filter_map(|further| sidecar(&base, number, further));
        let moved = names.find(|path| !path.exists()).ok_or(std::io::ErrorKind::AlreadyExists.into());
        match moved.and_then(|to| std::fs::rename(&thrown.path, &to).map(|()| to)) {
            Ok(path) => self.file.found.insert(0, Found { path, aside: false, ..thrown }),
            Err(error) => {
                let text = format!("not brought back: {} cannot be moved: {error}", thrown.path.display());
                self.file.thrown.extend(Some(thrown).filter(|thrown| thrown.path.exists()));
                self.refuse(About::File, text, "look whether its folder can be written to".into());
            }
        }
    }

    /// What unsaved changes hold that was found, one line each: what would be lost without them.
    #[must_use]
    pub fn recoverable_changes(&self) -> Vec<String> {
        self.file.found.first().map_or_else(Vec::new, |found| self.changes_of(found))
    }

    /// What was thrown away last and can be brought back, one line each; none where nothing was.
    #[must_use]
    pub fn thrown_away_changes(&self) -> Option<Vec<String>> {
        self.file.thrown.last().map(|thrown| self.changes_of(thrown))
    }

    /// Whether unsaved changes were just thrown away in this window.
    #[must_use]
    pub fn thrown_away_here(&self) -> bool {
        self.file.thrown_here && !self.file.thrown.is_empty()
    }

    /// What unsaved changes change, against the proposal that they belong to where they do, else against the
    /// original, and against the limits as their file has them.
    fn changes_of(&self, found: &Found) -> Vec<String> {
        let of = |file: &String| self.beside.proposals.iter().find(|one| one.file == *file);
        let proposal = found.proposal.as_ref().and_then(of).and_then(|listed| listed.proposal.as_ref().ok());
        let made = proposal.and_then(|one| one.applied(&self.original).ok()).map(|applied| applied.car);
        let before = made.as_ref().unwrap_or(&self.original);
        let changes = Proposal::between("", before, &found.car).changes;
        let mut said: Vec<String> =
            changes.iter().map(|change| change.said(before, LengthUnit::Millimetre)).collect();
        let known = &self.beside.limits;
        let limits = found.limits.iter().flatten().filter(|limit| !known.contains(limit));
        said.extend(limits.map(|limit| format!("limit {}", limit.name)));
        let kept = |name: &str| found.limits.iter().flatten().any(|limit| limit.name == name);
        let deleted = known.iter().filter(|limit| found.limits.is_some() && !kept(&limit.name));
        said.extend(deleted.map(|limit| format!("limit {} deleted", limit.name)));
        said
    }

    /// Before something else takes its place: what is in no file stays beside the car, and is offered until
    /// it is taken up or thrown away. Undo brings it back too, but not after a kill.
    pub(super) fn set_aside(&mut self) {
        self.keep_for_recovery();
        let Some(path) = self.file.sidecar.take() else { return };
        self.file.known.forget(&path);
        self.file.found.splice(0..0, Found::read(&path).map(|found| Found { aside: true, ..found }));
    }

    /// Keeps what is in no file, if it can be opened again. Gives whether all there is to keep is kept.
    pub(super) fn keep_for_recovery(&mut self) -> bool {
        let is_kept = self.keep_beside();
        if is_kept {
            // What was set aside and is here again needs no second copy.
            let is_here = |found: &Found| {
                found.aside
                    && Proposal::between("", &self.car, &found.car).changes.is_empty()
                    && found.proposal == self.open
                    && found.limits.as_ref().is_none_or(|limits| *limits == self.limits)
            };
            for found in &self.file.found {
                if is_here(found) {
                    let _ = std::fs::remove_file(&found.path);
                }
            }
            self.file.found.retain(|found| !found.aside || found.path.exists());
        }
        is_kept
    }

    fn keep_beside(&mut self) -> bool {
        if !self.is_unsaved() {
            self.drop_sidecar();
            return true;
        }
        // A car that cannot be solved: the last one that could be stays.
        if self.is_stale() {
            return false;
        }
        let Some(base) = self.file.base.clone() else { return false };
        let Some(text) = self.unsaved_text() else { return false };
        let number = self.file.window().unwrap_or(1);
        // Where somebody took the file away or wrote to it, another one is begun.
        for _ in 0..2 {
            let own = self.file.sidecar.take();
            let mut names = (0..100).filter_map(|further| sidecar(&base, number, further));
            let Some(path) = own.or_else(|| names.find(|path| !path.exists())) else { break };
            let over = self.file.known.seen(&path).cloned().unwrap_or(FileSnapshot::NOTHING);
            match put(&path, &text, Some(&over)) {
                Ok(seen) => {
                    self.file.known.note(&path, seen);
                    self.file.sidecar = Some(path);
                    return true;
                }
                Err(SaveError::ChangedByAnother { .. }) => self.file.known.forget(&path),
                // A folder that cannot be written to is no reason to disturb the work; saving will say so.
                Err(_) => {
                    self.file.sidecar = Some(path).filter(|path| path.exists());
                    break;
                }
            }
        }
        false
    }

    fn unsaved_text(&self) -> Option<String> {
        let changed = self.limits_changed();
        let limits = if changed { Some(self.limits_text().ok()?.text().to_owned()) } else { None };
        let unsaved = Unsaved {
            format: FORMAT.into(),
            version: VERSION,
            car: self.written("unsaved").ok()?.text().to_owned(),
            proposal: self.open.clone(),
            limits,
        };
        ron::to_string(&unsaved).ok()
    }

    pub(super) fn drop_sidecar(&mut self) {
        if let Some(sidecar) = self.file.sidecar.take() {
            // One that somebody else has written since is theirs.
            let is_own = self.file.known.seen(&sidecar) == FileSnapshot::now(&sidecar).ok().as_ref();
            self.file.known.forget(&sidecar);
            if is_own {
                let _ = std::fs::remove_file(sidecar);
            }
        }
    }
}
