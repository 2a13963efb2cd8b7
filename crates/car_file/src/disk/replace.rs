//! What a file held when it was last read or written, and putting another content in its place only while
//! it still holds that: work of two windows on one file does not vanish in one of them.

use crate::disk::folder_lock::{Lock, lock};
use crate::disk::save_target::{create_like, folder_of, take_free_name, target_of};
use crate::disk::staging::{Staging, clear};
use crate::fault::failure::{LoadError, SaveError};
use crate::read::text_file::text_of;
use crate::text::file_snapshot::FileSnapshot;
use crate::text::open_elsewhere::{may_be_open_elsewhere, move_file};
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

impl FileSnapshot {
    /// Its text; `file` is its name in messages.
    ///
    /// # Errors
    /// There was no file, or it held no text.
    pub fn as_text(&self, file: &Path) -> Result<String, LoadError> {
        match self.content() {
            Some(bytes) => text_of(bytes.to_vec(), &file.display().to_string()),
            None => {
                let source = io::Error::from(ErrorKind::NotFound);
                Err(LoadError::Unreadable { file: file.to_owned(), source })
            }
        }
    }
}

/// Writes a file, new or old, in one step: the new content is complete and on the disk before it takes
/// the old one's place. Where `over` is given, only while the file holds that. Gives what it holds now.
///
/// # Errors
/// It holds something else, or cannot be written; what was there is then untouched.
pub fn put(
    path: &Path,
    content: impl AsRef<[u8]>,
    over: Option<&FileSnapshot>,
) -> Result<FileSnapshot, SaveError> {
    let content = content.as_ref();
    put_files(&[(path, content)], over)?;
    Ok(FileSnapshot::bytes(content))
}

/// Writes a new file in one step. Of any number who do that at once with one name, one succeeds.
///
/// # Errors
/// The name is taken, or the file cannot be written; what was there is then untouched.
pub fn put_new(path: &Path, content: impl AsRef<[u8]>) -> Result<FileSnapshot, SaveError> {
    put(path, content, Some(&FileSnapshot::NOTHING)).map_err(SaveError::of_new)
}

/// Writes several files, each in one step, and none before the new content of all of them is complete and on
/// the disk. Where one may not be replaced, none is.
///
/// # Errors
/// One is there and may not be replaced, or cannot be written. Where others had taken their places already,
/// the error says which.
pub fn put_all(files: &[(PathBuf, Vec<u8>)], may_replace: bool) -> Result<(), SaveError> {
    let files: Vec<(&Path, &[u8])> = files.iter().map(|(path, content)| (&**path, &**content)).collect();
    let over = if may_replace { None } else { Some(&FileSnapshot::NOTHING) };
    put_files(&files, over).map_err(|error| if may_replace { error } else { error.of_new() })
}

/// A file to be written: its name, and the file that this leads to.
struct Target<'f> {
    path: &'f Path,
    file: PathBuf,
}

fn put_files(files: &[(&Path, &[u8])], over: Option<&FileSnapshot>) -> Result<(), SaveError> {
    let mut targets = Vec::new();
    for &(path, _) in files {
        targets.push(Target { path, file: target_of(path).map_err(unwritable(path))? });
    }
    // In one order for all who save, so that none waits for the other.
    let mut folders: BTreeMap<&Path, Option<Staging>> = BTreeMap::new();
    folders.extend(targets.iter().map(|target| (folder_of(&target.file), None)));
    let locks = locked(&folders.keys().copied().collect::<Vec<_>>(), &targets, over)?;
    let mut staged = Vec::new();
    for (target, (_, content)) in targets.iter().zip(files) {
        if let Some(over) = over {
            target.unchanged(over)?;
        }
        let folder = folder_of(&target.file);
        let staging = match folders.entry(folder).or_default() {
            Some(staging) => staging,
            none => none.insert(Staging::beside(folder).map_err(unwritable(target.path))?),
        };
        let new = staging.write(content, |at| create_like(&target.file, at));
        staged.push(new.map_err(unwritable(target.path))?);
    }
    for (n, (target, new)) in targets.iter().zip(&staged).enumerate() {
        if let Err(why) = target.replace(new, over) {
            if n == 0 {
                return Err(why);
            }
            let paths = |files: &[Target<'_>]| files.iter().map(|one| one.path.to_owned()).collect();
            let (written, not) = targets.split_at(n);
            return Err(SaveError::InPart { written: paths(written), not: paths(not), why: Box::new(why) });
        }
    }
    for folder in folders.keys() {
        keep_renames(folder);
    }
    drop((folders, locks));
    Ok(())
}

fn unwritable(path: &Path) -> impl Fn(io::Error) -> SaveError {
    move |source| SaveError::Unwritable { file: path.to_owned(), source }
}

impl Target<'_> {
    /// Whether it holds what it is to hold.
    fn unchanged(&self, over: &FileSnapshot) -> Result<(), SaveError> {
        let now = FileSnapshot::now(&self.file).map_err(unwritable(self.path))?;
        if now == *over { Ok(()) } else { Err(self.changed(now)) }
    }

    fn changed(&self, now: FileSnapshot) -> SaveError {
        let modified = fs::metadata(&self.file).and_then(|data| data.modified()).ok();
        SaveError::ChangedByAnother { file: self.path.to_owned(), now, modified }
    }

    /// Puts new content in its place, whatever it holds.
    fn take_place(&self, new: &Path) -> io::Result<()> {
        if self.file.is_dir() {
            return Err(ErrorKind::IsADirectory.into());
        }
        move_file(new, &self.file).map_err(|error| {
            if may_be_open_elsewhere(&error) {
                io::Error::new(ErrorKind::ResourceBusy, OPEN_ELSEWHERE)
            } else {
                error
            }
        })
    }

    /// Puts new content in its place.
    fn replace(&self, new: &Path, over: Option<&FileSnapshot>) -> Result<(), SaveError> {
        if let Some(over) = over {
            self.unchanged(over)?;
        }
        if over.is_none_or(FileSnapshot::is_there) {
            return self.take_place(new).map_err(unwritable(self.path));
        }
        // Even one who knows nothing of locks loses nothing here.
        match take_free_name(new, &self.file) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {
                Err(self.changed(FileSnapshot::now(&self.file).map_err(unwritable(self.path))?))
            }
            taken => taken.map_err(unwritable(self.path)),
        }
    }
}

/// Windows lets nobody replace a file that another has open, save on its own disks since Windows 10.
const OPEN_ELSEWHERE: &str =
    "another program has it open, or this user may not replace it; close it there and try again";

/// The renames too are to outlive a loss of power, where the system can promise that.
fn keep_renames(folder: &Path) {
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
}

/// Locks on the folders among those who save into them, where the system has such a thing: between comparing
/// and replacing nobody else replaces. A file that nobody is to have changed needs them; a new name, or one
/// that is replaced whatever it holds, goes without where another does not let go of his.
fn locked(
    folders: &[&Path],
    targets: &[Target<'_>],
    over: Option<&FileSnapshot>,
) -> Result<Vec<File>, SaveError> {
    let mut locks = Vec::new();
    for folder in folders {
        match lock(folder) {
            Lock::Held(held) => {
                clear(folder);
                locks.push(held);
            }
            Lock::Busy if over.is_some_and(FileSnapshot::is_there) => {
                let target = targets.iter().find(|target| folder_of(&target.file) == *folder);
                let file = target.map(|target| target.path.to_owned()).unwrap_or_default();
                return Err(SaveError::Busy { file, folder: (*folder).to_owned() });
            }
            Lock::Busy | Lock::None => {}
        }
    }
    Ok(locks)
}

#[cfg(test)]
mod tests {
    use super::{FileSnapshot, put, put_all};
    use crate::fault::failure::SaveError;
    use std::fs;

    #[test]
    fn a_file_that_another_wrote_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        let first = put(&path, "one", Some(&FileSnapshot::NOTHING)).unwrap();
        fs::write(&path, "theirs").unwrap();
        for over in [&first, &FileSnapshot::NOTHING] {
            let refused = put(&path, "two", Some(over)).unwrap_err();
            let SaveError::ChangedByAnother { now, modified, .. } = &refused else { panic!("{refused}") };
            assert_eq!(now, &FileSnapshot::text("theirs"));
            assert!(modified.is_some());
            assert_eq!(fs::read_to_string(&path).unwrap(), "theirs");
        }
        put(&path, "two", Some(&FileSnapshot::text("theirs"))).unwrap();
        fs::remove_file(&path).unwrap();
        let refused = put(&path, "three", Some(&FileSnapshot::text("two"))).unwrap_err();
        assert!(matches!(&refused, SaveError::ChangedByAnother { now, .. } if !now.is_there()), "{refused}");
        assert!(!path.exists(), "what was taken away stays away");
        put(&path, "three", None).unwrap();
    }

    #[test]
    fn several_files_are_written_all_or_with_words() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let both = |content: &str| ["a-1.svg", "a-2.svg"].map(|name| (at(name), content.as_bytes().to_vec()));
        let held = || ["a-1.svg", "a-2.svg"].map(|name| fs::read_to_string(at(name)).unwrap_or_default());
        put_all(&both("one"), false).unwrap();
        assert_eq!(held(), ["one", "one"]);
        // One that is there and may not be replaced keeps the other from being written too.
        fs::remove_file(at("a-1.svg")).unwrap();
        let refused = put_all(&both("two"), false).unwrap_err();
        assert!(matches!(&refused, SaveError::NameTaken { file } if *file == at("a-2.svg")), "{refused}");
        assert_eq!(held(), ["", "one"]);
        put_all(&both("two"), true).unwrap();
        assert_eq!(held(), ["two", "two"]);
        // One that cannot even be begun: a folder that is not there.
        let mut files = both("three").to_vec();
        files.push((at("nowhere/a-3.svg"), Vec::new()));
        put_all(&files, true).unwrap_err();
        assert_eq!(held(), ["two", "two"]);
        // One whose place cannot be taken: a folder stands there.
        fs::create_dir(at("a-3.svg")).unwrap();
        files[2].0 = at("a-3.svg");
        let said = put_all(&files, true).unwrap_err().to_string();
        assert_eq!(held(), ["three", "three"]);
        let (done, not) = said.split_once("; not written: ").unwrap();
        assert!(done.contains("a-1.svg") && done.contains("a-2.svg") && !done.contains("a-3.svg"), "{said}");
        assert!(not.contains("a-3.svg") && !not.contains("a-2.svg"), "{said}");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 3, "nothing is left over");
    }

    #[test]
    fn a_byte_order_mark_is_no_change() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        fs::write(&path, "\u{feff}one").unwrap();
        assert_eq!(FileSnapshot::now(&path).unwrap(), FileSnapshot::text("one"));
    }

    /// Many count in one file, each from what it read: no count is lost. Without the comparison, or
    /// with a gap between it and the replacing, some would be.
    #[test]
    fn of_many_who_write_at_once_none_overwrites_another() {
        const WRITERS: usize = 4;
        const COUNTS: usize = 25;
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("count.ron");
        put(&path, "0", None).unwrap();
        std::thread::scope(|scope| {
            for _ in 0..WRITERS {
                scope.spawn(|| {
                    let mut left = COUNTS;
                    while left > 0 {
                        let seen = FileSnapshot::now(&path).unwrap();
                        let count: usize = seen.as_text(&path).unwrap().parse().unwrap();
                        match put(&path, (count + 1).to_string(), Some(&seen)) {
                            Ok(_) => left -= 1,
                            Err(SaveError::ChangedByAnother { .. }) => {}
                            Err(other) => panic!("{other}"),
                        }
                    }
                });
            }
        });
        assert_eq!(fs::read_to_string(&path).unwrap(), (WRITERS * COUNTS).to_string());
    }
}
