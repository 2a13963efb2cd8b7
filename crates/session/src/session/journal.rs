//! What happened to a session, in its order: enough to do all of it again on the same files.

use super::{Edit, FileCommand, Session};
use std::time::Instant;

/// One thing that happened.
#[derive(Clone, Debug)]
pub enum Happened {
    /// An edit was applied.
    Edit(Edit),
    /// The session looked at this time what others had done.
    LookedAround(Instant),
}

impl Session {
    /// Begins to note what happens; another car opened in this session goes on with it.
    pub fn keep_journal(&mut self) {
        self.journal = Some(Vec::new());
    }

    /// What has happened since the journal was begun; nothing where none is kept.
    #[must_use]
    pub fn journal(&self) -> &[Happened] {
        self.journal.as_deref().unwrap_or_default()
    }

    pub(super) fn note_in_journal(&mut self, happened: impl FnOnce() -> Happened) {
        if let Some(journal) = &mut self.journal {
            journal.push(happened());
        }
    }

    /// Does again what another session's journal says. A sheet that was written by the other is taken as the
    /// one in hand here.
    pub fn replay(&mut self, happened: &Happened) {
        match happened {
            Happened::Edit(Edit::File(FileCommand::SheetDone { outcome, .. })) => {
                if let Some(number) = self.sheet_in_hand().map(|job| job.number()) {
                    self.apply(Edit::File(FileCommand::SheetDone { number, outcome: outcome.clone() }));
                }
            }
            Happened::Edit(edit) => self.apply(edit.clone()),
            Happened::LookedAround(at) => {
                let _ = self.look_around(*at);
            }
        }
    }
}
