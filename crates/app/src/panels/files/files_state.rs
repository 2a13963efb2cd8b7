//! What the panels about files remember.

use crate::panels::files::path_draft::PathDraft;
use crate::panels::state::panel::Panel;
use std::path::PathBuf;

/// The panels about files with what they remember.
pub(in crate::panels) type Files<'a> = Panel<'a, FilesState>;

/// What the panels about files remember.
#[derive(Clone, Debug, Default)]
pub struct FilesState {
    /// Name of the new file, while it is being typed.
    pub save_name: Option<String>,
    /// Where the last frame asked to save a new car.
    pub save_asked: Option<PathBuf>,
    /// What lies where the new file would be saved, in words.
    pub(in crate::panels) save_over: Option<(PathBuf, String)>,
    /// The path of a car to open, while it is being typed.
    pub open_path: PathDraft,
    /// Whether the messages over the stage are folded to one line.
    pub messages_folded: bool,
}
