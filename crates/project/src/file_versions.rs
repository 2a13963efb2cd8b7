//! What each file held when it was last read or written here, so that what others write is noticed.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::SystemTime;
use wheelpath_car_file::FileSnapshot;

/// Files that were read or written.
#[derive(Clone, Debug, Default)]
pub struct FileVersions(BTreeMap<PathBuf, One>);

#[derive(Clone, Debug)]
struct One {
    seen: FileSnapshot,
    /// Time and length when the content was last compared.
    mark: Option<Mark>,
    /// What of others has been said already.
    told: Option<FileSnapshot>,
}

type Mark = Option<(Option<SystemTime>, u64)>;

/// A file that another has written.
#[derive(Clone, Debug)]
pub struct ChangedFile {
    /// The file.
    pub path: PathBuf,
    /// What it holds now.
    pub now: FileSnapshot,
    /// When it was written, where the system says so.
    pub modified: Option<SystemTime>,
}

/// A file by whatever path it was named: its folder's real place, and its name.
#[must_use]
pub fn real_place(path: &Path) -> PathBuf {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let real = std::fs::canonicalize(folder.unwrap_or_else(|| Path::new(".")));
    match (real, path.file_name()) {
        (Ok(folder), Some(name)) => folder.join(name),
        _ => std::path::absolute(path).unwrap_or_else(|_| path.to_owned()),
    }
}

fn mark(path: &Path) -> Mark {
    std::fs::metadata(path).ok().map(|data| (data.modified().ok(), data.len()))
}

impl FileVersions {
    /// What a file was read as, or holds after a save.
    pub fn note(&mut self, path: &Path, seen: FileSnapshot) {
        self.0.insert(real_place(path), One { seen, mark: None, told: None });
    }

    /// What it held, if it was read or written.
    #[must_use]
    pub fn seen(&self, path: &Path) -> Option<&FileSnapshot> {
        self.0.get(&real_place(path)).map(|one| &one.seen)
    }

    /// Knows no more of it.
    pub fn forget(&mut self, path: &Path) {
        self.0.remove(&real_place(path));
    }

    /// Says no more of what a file holds now.
    pub fn told(&mut self, path: &Path, now: FileSnapshot) {
        if let Some(one) = self.0.get_mut(&real_place(path)) {
            one.told = Some(now);
        }
    }

    /// The files that hold something else now. Reads only those whose time or length is another than when
    /// they were last looked at.
    pub fn changed(&mut self) -> Vec<ChangedFile> {
        let mut all = Vec::new();
        for (path, one) in &mut self.0 {
            let now = mark(path);
            if one.mark == Some(now) {
                continue;
            }
            let Ok(content) = FileSnapshot::now(path) else { continue };
            one.mark = Some(now);
            if content != one.seen && one.told.as_ref() != Some(&content) {
                let modified = now.and_then(|(modified, _)| modified);
                all.push(ChangedFile { path: path.clone(), now: content, modified });
            }
        }
        all
    }
}
