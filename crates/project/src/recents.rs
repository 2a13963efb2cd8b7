//! Files opened lately, kept in the user's state folder so that the next window knows them too.

use crate::state_folder::state_folder;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use wheelpath_car_file::{FileSnapshot, SaveError, put};

/// As many are kept.
const MOST: usize = 12;
const FORMAT: &str = "wheelpath recent files";
const VERSION: u32 = 1;
/// Another window may add to the list at the same moment: then it is read again.
const TRIES: usize = 5;

/// A car that was opened, or a proposal for it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Recent {
    /// The car's file.
    pub car: PathBuf,
    /// The proposal's.
    pub proposal: Option<PathBuf>,
}

impl Recent {
    /// Short name: the car's file, and the proposal's.
    #[must_use]
    pub fn label(&self) -> String {
        let stem = |path: &Path| path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        match &self.proposal {
            Some(proposal) => format!("{}: {}", stem(&self.car), stem(proposal)),
            None => stem(&self.car),
        }
    }

    /// Whether all of it is still there.
    #[must_use]
    pub fn is_there(&self) -> bool {
        self.car.exists() && self.proposal.as_ref().is_none_or(|path| path.exists())
    }
}

#[derive(Serialize, Deserialize)]
struct Kept {
    format: String,
    version: u32,
    files: Vec<Recent>,
}

/// Files opened lately, latest first.
#[derive(Clone, Debug, Default)]
pub struct Recents {
    /// Where the list is kept; nowhere in a test.
    at: Option<PathBuf>,
    files: Vec<Recent>,
}

/// What a list holds, and its files; a list that cannot be read is an empty one.
fn read(at: &Path) -> Option<(FileSnapshot, Vec<Recent>)> {
    let seen = FileSnapshot::now(at).ok()?;
    let kept = seen.as_text(at).ok().and_then(|text| ron::from_str::<Kept>(&text).ok());
    let files = kept.filter(|kept| kept.format == FORMAT && kept.version == VERSION).map(|kept| kept.files);
    Some((seen, files.unwrap_or_default()))
}

impl Recents {
    /// The list that is kept in this file, which need not be there yet.
    #[must_use]
    pub fn kept_in(at: PathBuf) -> Recents {
        let files = read(&at).map(|(_, files)| files).unwrap_or_default();
        Recents { at: Some(at), files }
    }

    /// The list of this user.
    #[must_use]
    pub fn of_user() -> Recents {
        state_folder().map(|folder| Recents::kept_in(folder.join("recent.ron"))).unwrap_or_default()
    }

    /// The files, latest first.
    #[must_use]
    pub fn files(&self) -> &[Recent] {
        &self.files
    }

    /// Puts a car, or a proposal for it, in front. What other windows noted meanwhile is kept.
    pub fn note(&mut self, car: &Path, proposal: Option<&Path>) {
        let whole = |path: &Path| std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        let recent = Recent { car: whole(car), proposal: proposal.map(whole) };
        let with = |mut files: Vec<Recent>| {
            files.retain(|one| *one != recent);
            files.insert(0, recent.clone());
            files.truncate(MOST);
            files
        };
        let Some(at) = &self.at else {
            self.files = with(std::mem::take(&mut self.files));
            return;
        };
        for _ in 0..TRIES {
            let Some((seen, files)) = read(at) else { break };
            let files = with(files);
            self.files.clone_from(&files);
            let kept = Kept { format: FORMAT.into(), version: VERSION, files };
            let Ok(text) = ron::ser::to_string_pretty(&kept, ron::ser::PrettyConfig::default()) else {
                break;
            };
            // A list that cannot be kept is no reason to disturb the work.
            match put(at, &text, Some(&seen)) {
                Err(SaveError::ChangedByAnother { .. }) => {}
                _ => break,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{MOST, Recents};
    use std::path::Path;

    fn labels(recents: &Recents) -> Vec<String> {
        recents.files().iter().map(super::Recent::label).collect()
    }

    #[test]
    fn the_list_outlasts_the_window_and_two_windows_share_it() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path().join("recent.ron");
        let mut one = Recents::kept_in(at.clone());
        let mut two = Recents::kept_in(at.clone());
        one.note(Path::new("/cars/oak.ron"), None);
        two.note(Path::new("/cars/elm.ron"), None);
        one.note(Path::new("/cars/oak.ron"), Some(Path::new("/cars/oak/low.ron")));
        one.note(Path::new("/cars/oak.ron"), None);
        assert_eq!(labels(&Recents::kept_in(at.clone())), ["oak", "oak: low", "elm"]);
        for n in 0..2 * MOST {
            two.note(Path::new(&format!("/cars/{n}.ron")), None);
        }
        let kept = Recents::kept_in(at.clone());
        assert_eq!(kept.files().len(), MOST);
        assert_eq!(labels(&kept)[0], (2 * MOST - 1).to_string());
        std::fs::write(&at, "no list at all").unwrap();
        let mut again = Recents::kept_in(at);
        assert!(again.files().is_empty());
        again.note(Path::new("/cars/oak.ron"), None);
        assert_eq!(labels(&again), ["oak"]);
    }
}
