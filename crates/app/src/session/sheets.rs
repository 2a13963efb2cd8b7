//! Sheets to drill moved holes by, one for each bracket.

use super::notice::About;
use super::{Owner, Session};
use std::path::{Path, PathBuf};
use wheelpath_command_line::{bracket_sheet, write_bracket_sheet};
use wheelpath_geometry::{Bracket, Pickup, Proposal};

impl Session {
    /// The brackets on which a point stands that is moved against the original.
    #[must_use]
    pub fn brackets_moved(&self) -> Vec<&Bracket> {
        let moved = |bracket: &&Bracket| {
            let owner: Owner = bracket.of.into();
            let place = |car, pickup: &Pickup| owner.pickups(car).get(*pickup);
            bracket.points.iter().any(|pickup| place(&self.original, pickup) != place(&self.car, pickup))
        };
        self.beside.brackets.iter().filter(moved).collect()
    }

    /// Where a sheet of a bracket would be written: beside the proposals.
    #[must_use]
    pub fn sheet_path(&self, bracket: &str) -> PathBuf {
        self.proposal_path(bracket).with_extension("pdf")
    }

    #[inline(never)]
    pub(super) fn write_sheet(&mut self, bracket: &str, path: &Path, replace: bool) {
        let refuse = |session: &mut Session, [text, remedy]: [String; 2]| {
            session.refuse(About::File, text, remedy);
        };
        if self.is_stale() {
            let remedy = "undo, or put right what is marked; then write the sheet";
            return refuse(self, ["the car as typed cannot be solved".into(), remedy.into()]);
        }
        let Some(bracket) = self.beside.brackets.iter().find(|one| one.name == bracket) else {
            return refuse(self, [format!("there is no bracket {bracket}"), "look into brackets.ron".into()]);
        };
        let name = self.history.next_undo().unwrap_or("as it stands").to_owned();
        let proposal = Proposal::between(&name, &self.original, &self.car);
        let after = (&self.solver_car, &self.solver);
        let sheet = bracket_sheet(&self.original, after, &proposal, bracket, &self.beside.limits);
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        let made = folder
            .map_or(Ok(()), std::fs::create_dir_all)
            .map_err(|error| [format!("not written: {error}"), "choose another folder".to_owned()]);
        match sheet.and_then(|sheet| made.and_then(|()| write_bracket_sheet(&sheet, path, replace))) {
            Ok(files) => {
                self.history.settle();
                self.file.sheets = files;
            }
            Err(why) => refuse(self, why),
        }
    }

    /// The files of the sheet that was written last.
    #[must_use]
    pub fn sheets_written(&self) -> &[PathBuf] {
        &self.file.sheets
    }
}
