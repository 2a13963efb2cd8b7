//! Unsaved changes that outlive a killed program: kept in a file beside the car's own, written in
//! one step, offered when the car is opened again. Each window has a file of its own.

use super::Session;
use super::history::State;
use super::notice::About;
use wheelpath_car_file::{FileSnapshot, SaveError, move_file, put, system_words, take_file_away};
use wheelpath_geometry::{Car, LengthUnit, Proposal};
use wheelpath_project::{UnsavedChanges, ago, free_path};

/// The name of the step that takes unsaved changes up.
pub(super) const TAKEN_UP: &str = "unsaved changes taken up";

impl Session {
    /// Looks for unsaved changes of windows that are no more; latest first.
    pub(super) fn look_for_recovery(&mut self) {
        let Some(base) = self.file.base.clone() else { return };
        let mut found = UnsavedChanges::left_beside(&base, self.file.window());
        found.retain(|found| {
            found.car != self.car || found.limits.as_ref().is_some_and(|limits| *limits != self.limits)
        });
        self.file.found = found;
        self.file.thrown = UnsavedChanges::thrown_away_beside(&base);
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
            let _ = take_file_away(&found.path);
        }
    }

    /// Puts the file of what was found aside, behind what was thrown away before.
    pub(super) fn discard_recovery(&mut self) {
        let Some(base) = self.file.base.clone().filter(|_| !self.file.found.is_empty()) else { return };
        let found = self.file.found.remove(0);
        let to = found.thrown_away_path(&base);
        match move_file(&found.path, &to) {
            Ok(()) => {
                self.file.thrown.push(UnsavedChanges { path: to, ..found });
                self.file.thrown_here = true;
            }
            // Another has taken them up or thrown them away.
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
            Err(error) => {
                let text = format!(
                    "not thrown away: {} cannot be moved: {}",
                    found.path.display(),
                    system_words(&error)
                );
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
        match thrown.moved_back(&base, number) {
            Ok(path) => self.file.found.insert(0, UnsavedChanges { path, aside: false, ..thrown }),
            Err(error) => {
                let text = format!(
                    "not brought back: {} cannot be moved: {}",
                    thrown.path.display(),
                    system_words(&error)
                );
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
    fn changes_of(&self, found: &UnsavedChanges) -> Vec<String> {
        let of = |file: &String| self.beside.proposals.iter().find(|one| one.file == *file);
        let proposal = found.proposal.as_ref().and_then(of).and_then(|listed| listed.proposal.as_ref().ok());
        let made = proposal.and_then(|one| one.applied(&self.original).ok()).map(|applied| applied.car);
        let before = made.as_ref().unwrap_or(&self.original);
        let changes = Proposal::between("", before, &found.car).changes;
        let mut said: Vec<String> =
            changes.iter().map(|change| change.said(LengthUnit::Millimetre)).collect();
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
        self.file
            .found
            .splice(0..0, UnsavedChanges::read(&path).map(|found| UnsavedChanges { aside: true, ..found }));
    }

    /// Keeps what is in no file, if it can be opened again. Gives whether all there is to keep is kept.
    pub(super) fn keep_for_recovery(&mut self) -> bool {
        let is_kept = self.keep_beside();
        if is_kept {
            // What was set aside and is here again needs no second copy.
            let is_here = |found: &UnsavedChanges| {
                found.aside
                    && Proposal::between("", &self.car, &found.car).changes.is_empty()
                    && found.proposal == self.open
                    && found.limits.as_ref().is_none_or(|limits| *limits == self.limits)
            };
            for found in &self.file.found {
                if is_here(found) {
                    let _ = take_file_away(&found.path);
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
            let Some(path) = own.or_else(|| free_path(&base, number)) else { break };
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
        UnsavedChanges::text(self.written("unsaved").ok()?.text(), self.open.as_deref(), limits.as_deref())
    }

    pub(super) fn drop_sidecar(&mut self) {
        if let Some(sidecar) = self.file.sidecar.take() {
            // One that somebody else has written since is theirs.
            let is_own = self.file.known.seen(&sidecar) == FileSnapshot::now(&sidecar).ok().as_ref();
            self.file.known.forget(&sidecar);
            if is_own {
                let _ = take_file_away(&sidecar);
            }
        }
    }
}
