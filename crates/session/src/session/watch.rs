//! Looking round while the window is awake: whether another window has the same car, and what others have
//! written. At rest nothing looks; the next key, click or change of focus does.

use super::{Happened, Listed, Session};
use std::time::{Duration, Instant};
use wheelpath_project::{ChangedFile, FileRole, OtherWindow, other_windows, proposals_in, real_place};

/// Not oftener than this.
const EVERY: Duration = Duration::from_millis(1000);

impl Session {
    /// The other windows on the same car.
    #[must_use]
    pub fn other_windows(&self) -> &[OtherWindow] {
        &self.file.others
    }

    /// Looks what others do, if it has not just been done. Gives whether there is anything new to show.
    pub fn look_around(&mut self, now: Instant) -> bool {
        if self.file.looked.is_some_and(|last| now.saturating_duration_since(last) < EVERY) {
            return false;
        }
        self.note_in_journal(|| Happened::LookedAround(now));
        self.file.looked = Some(now);
        let windows = self.look_for_windows();
        let mut files = self.look_into_folder();
        for changed in self.file.known.changed() {
            files |= self.another_wrote(changed);
        }
        windows || files
    }

    pub(super) fn look_for_windows(&mut self) -> bool {
        let Some(base) = &self.file.base else { return false };
        let found: Vec<OtherWindow> =
            other_windows(base, self.file.window()).into_iter().map(|(_, window)| window).collect();
        let news = found != self.file.others;
        self.file.others = found;
        news
    }

    /// Takes proposals that are new in the folder into the list.
    fn look_into_folder(&mut self) -> bool {
        let Some(folder) = self.beside.folder.clone() else { return false };
        let mut news = false;
        for file in proposals_in(&folder) {
            if self.beside.proposals.iter().any(|listed| listed.file == file) {
                continue;
            }
            let path = folder.join(format!("{file}.ron"));
            let (listed, seen) = Listed::read(&path);
            if let Some(seen) = seen {
                self.file.known.note(&path, seen);
            }
            self.beside.proposals.push(listed);
            news = true;
        }
        self.beside.proposals.sort_by(|a, b| a.file.cmp(&b.file));
        news
    }

    /// What another wrote is told; brackets, and a proposal that is not open, are simply read again.
    fn another_wrote(&mut self, changed: ChangedFile) -> bool {
        if self.file.sidecar.as_ref().is_some_and(|own| real_place(own) == changed.path) {
            return false;
        }
        if let Some(conflict) = self.file.conflicts.iter_mut().find(|conflict| conflict.path == changed.path)
        {
            conflict.renew(changed);
            return true;
        }
        if real_place(&self.brackets_path()) == changed.path {
            self.read_brackets();
            return true;
        }
        match self.role(&changed.path) {
            FileRole::Proposal(file) if self.open.as_ref() != Some(&file) => {
                if changed.now.is_there() {
                    let (listed, seen) = Listed::read(&changed.path);
                    self.file.known.note(&changed.path, seen.unwrap_or(changed.now));
                    if let Some(old) = self.beside.proposals.iter_mut().find(|old| old.file == file) {
                        *old = listed;
                    }
                } else {
                    self.file.known.forget(&changed.path);
                    self.beside.proposals.retain(|listed| listed.file != file);
                }
            }
            _ => self.conflict(changed, None),
        }
        true
    }
}
