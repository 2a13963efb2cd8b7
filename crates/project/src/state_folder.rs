//! Where this program keeps what is to outlast it.

use std::path::PathBuf;

/// The folder of this program for what is to outlast it, made where there is none.
#[must_use]
pub fn state_folder() -> Option<PathBuf> {
    let set = |name| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    let state = set("XDG_STATE_HOME")
        .or_else(|| set("LOCALAPPDATA"))
        .or_else(|| Some(set("HOME")?.join(".local/state")))?;
    let folder = state.join("wheelpath");
    std::fs::create_dir_all(&folder).ok()?;
    Some(folder)
}
