//! What a file held when it was last read or written, and putting another content in its place only while
//! it still holds that: work of two windows on one file does not vanish in one of them.

use crate::failure::{LoadError, SaveError};
use crate::text_file::text_of;
use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};
use tempfile::NamedTempFile;

/// How long another's save is waited for before going on without it: a save takes milliseconds.
const PATIENCE: Duration = Duration::from_secs(2);

/// Older than this, a file left over from a save that was cut short is nobody's.
const LEFT_OVER: Duration = Duration::from_secs(60);

const MARK: &[u8] = "\u{feff}".as_bytes();

/// What a file held at some time: its whole content, or that there was none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen(Option<Arc<[u8]>>);

impl Seen {
    /// No file.
    pub const NOTHING: Seen = Seen(None);

    /// This text; a byte-order mark in front counts for nothing.
    #[must_use]
    pub fn text(text: &str) -> Seen {
        Seen::bytes(text.as_bytes())
    }

    fn bytes(bytes: &[u8]) -> Seen {
        Seen(Some(bytes.strip_prefix(MARK).unwrap_or(bytes).into()))
    }

    /// What the file holds now.
    ///
    /// # Errors
    /// It is there and cannot be read.
    pub fn now(path: &Path) -> io::Result<Seen> {
        match fs::read(path) {
            Ok(bytes) => Ok(Seen::bytes(&bytes)),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(Seen::NOTHING),
            Err(error) => Err(error),
        }
    }

    /// Whether there was a file.
    #[must_use]
    pub fn is_there(&self) -> bool {
        self.0.is_some()
    }

    /// Its text; `file` is its name in messages.
    ///
    /// # Errors
    /// There was no file, or it held no text.
    pub fn as_text(&self, file: &Path) -> Result<String, LoadError> {
        match &self.0 {
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
pub fn put(path: &Path, content: impl AsRef<[u8]>, over: Option<&Seen>) -> Result<Seen, SaveError> {
    let target = target_of(path);
    let folder = folder_of(&target);
    let lock = locked(folder);
    if lock.is_some() {
        clear(folder);
    }
    let file = staged(path, &target, content.as_ref())?;
    replace(path, &target, file, over)?;
    keep_renames(folder);
    drop(lock);
    Ok(Seen::bytes(content.as_ref()))
}

/// Writes several files, each in one step, and none before the new content of all of them is complete and on
/// the disk. Where one may not be replaced, none is.
///
/// # Errors
/// One is there and may not be replaced, or cannot be written. Where others had taken their places already,
/// the error says which.
pub fn put_all(files: &[(PathBuf, Vec<u8>)], may_replace: bool) -> Result<(), SaveError> {
    let over = if may_replace { None } else { Some(&Seen::NOTHING) };
    let targets: Vec<PathBuf> = files.iter().map(|(path, _)| target_of(path)).collect();
    let mut folders: Vec<&Path> = targets.iter().map(|target| folder_of(target)).collect();
    // In one order for all who save, so that none waits for the other.
    folders.sort_unstable();
    folders.dedup();
    let locks: Vec<Option<File>> = folders.iter().map(|folder| locked(folder)).collect();
    for (folder, _) in folders.iter().zip(&locks).filter(|(_, lock)| lock.is_some()) {
        clear(folder);
    }
    let mut all = Vec::new();
    for ((path, content), target) in files.iter().zip(&targets) {
        if let Some(over) = over {
            unchanged(path, target, over)?;
        }
        all.push((path, target, staged(path, target, content)?));
    }
    for (n, (path, target, file)) in all.into_iter().enumerate() {
        if let Err(why) = replace(path, target, file, over) {
            if n == 0 {
                return Err(why);
            }
            let paths = |files: &[(PathBuf, Vec<u8>)]| files.iter().map(|(path, _)| path.clone()).collect();
            let (written, not) = files.split_at(n);
            return Err(SaveError::InPart { written: paths(written), not: paths(not), why: Box::new(why) });
        }
    }
    for folder in folders {
        keep_renames(folder);
    }
    drop(locks);
    Ok(())
}

/// Through a link, the file it leads to is replaced, not the link.
fn target_of(path: &Path) -> PathBuf {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

fn folder_of(target: &Path) -> &Path {
    match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

fn unwritable(path: &Path) -> impl Fn(io::Error) -> SaveError {
    move |source| SaveError::Unwritable { file: path.to_owned(), source }
}

/// The new content beside the target, on the disk.
fn staged(path: &Path, target: &Path, content: &[u8]) -> Result<NamedTempFile, SaveError> {
    let file = tempfile::Builder::new()
        .prefix(PREFIX)
        .suffix(SUFFIX)
        .tempfile_in(folder_of(target))
        .and_then(|mut file| file.write_all(content).map(|()| file))
        .map_err(unwritable(path))?;
    permit(target, file.as_file()).map_err(unwritable(path))?;
    file.as_file().sync_all().map_err(unwritable(path))?;
    Ok(file)
}

/// Whether the target holds what it is to hold.
fn unchanged(path: &Path, target: &Path, over: &Seen) -> Result<(), SaveError> {
    let now = Seen::now(target).map_err(unwritable(path))?;
    if now == *over { Ok(()) } else { Err(changed(path, target, now)) }
}

fn changed(path: &Path, target: &Path, now: Seen) -> SaveError {
    let modified = fs::metadata(target).and_then(|data| data.modified()).ok();
    SaveError::ChangedByAnother { file: path.to_owned(), now, modified }
}

/// Puts what is staged in the target's place.
fn replace(path: &Path, target: &Path, file: NamedTempFile, over: Option<&Seen>) -> Result<(), SaveError> {
    if let Some(over) = over {
        unchanged(path, target, over)?;
    }
    if over.is_none_or(Seen::is_there) {
        return file.persist(target).map(|_| ()).map_err(|error| unwritable(path)(error.error));
    }
    // Even one who knows nothing of locks loses nothing here.
    match file.persist_noclobber(target) {
        Ok(_) => Ok(()),
        Err(error) if error.error.kind() == ErrorKind::AlreadyExists => {
            let now = Seen::now(target).map_err(unwritable(path))?;
            Err(changed(path, target, now))
        }
        Err(error) => Err(unwritable(path)(error.error)),
    }
}

/// The renames too are to outlive a loss of power, where the system can promise that.
fn keep_renames(folder: &Path) {
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
}

const PREFIX: &str = ".saving-";
const SUFFIX: &str = ".ron";

/// A lock on the folder among those who save into it, where the system has such a thing: between
/// comparing and replacing nobody else replaces.
fn locked(folder: &Path) -> Option<File> {
    let folder = File::open(folder).ok()?;
    let start = Instant::now();
    loop {
        match folder.try_lock() {
            Ok(()) => return Some(folder),
            Err(TryLockError::WouldBlock) if start.elapsed() < PATIENCE => {
                std::thread::sleep(Duration::from_millis(1));
            }
            Err(_) => return None,
        }
    }
}

/// Takes away what saves that were cut short have left in a folder, while it is locked.
fn clear(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        let old = || {
            let modified = entry.metadata().and_then(|data| data.modified()).ok()?;
            modified.elapsed().ok().filter(|age| *age > LEFT_OVER)
        };
        if name.starts_with(PREFIX) && name.ends_with(SUFFIX) && old().is_some() {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// Gives the new file the permissions of the one it replaces; a read-only one is not replaced.
fn permit(target: &Path, file: &File) -> io::Result<()> {
    match fs::metadata(target) {
        Ok(old) if old.permissions().readonly() => {
            Err(io::Error::new(ErrorKind::PermissionDenied, "the file is read-only"))
        }
        Ok(old) => file.set_permissions(old.permissions()),
        Err(_) => fresh_permissions(file),
    }
}

/// A temporary file is its owner's alone; a car file may be read by all, as any new file.
#[cfg(unix)]
fn fresh_permissions(file: &File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn fresh_permissions(_: &File) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{PREFIX, SUFFIX, Seen, put, put_all};
    use crate::failure::SaveError;
    use std::fs;
    use std::time::{Duration, SystemTime};

    #[test]
    fn a_file_that_another_wrote_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        let first = put(&path, "one", Some(&Seen::NOTHING)).unwrap();
        fs::write(&path, "theirs").unwrap();
        for over in [&first, &Seen::NOTHING] {
            let refused = put(&path, "two", Some(over)).unwrap_err();
            let SaveError::ChangedByAnother { now, modified, .. } = &refused else { panic!("{refused}") };
            assert_eq!(now, &Seen::text("theirs"));
            assert!(modified.is_some());
            assert_eq!(fs::read_to_string(&path).unwrap(), "theirs");
        }
        put(&path, "two", Some(&Seen::text("theirs"))).unwrap();
        fs::remove_file(&path).unwrap();
        let refused = put(&path, "three", Some(&Seen::text("two"))).unwrap_err();
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
        assert!(
            matches!(&refused, SaveError::ChangedByAnother { file, .. } if *file == at("a-2.svg")),
            "{refused}"
        );
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
        assert_eq!(Seen::now(&path).unwrap(), Seen::text("one"));
    }

    #[test]
    fn what_a_save_cut_short_left_is_cleared_when_it_is_old() {
        let folder = tempfile::tempdir().unwrap();
        let [old, new] = ["old", "new"].map(|name| folder.path().join(format!("{PREFIX}{name}{SUFFIX}")));
        for path in [&old, &new] {
            fs::write(path, "half").unwrap();
        }
        let yesterday = SystemTime::now() - Duration::from_secs(86_400);
        fs::File::options().write(true).open(&old).unwrap().set_modified(yesterday).unwrap();
        put(&folder.path().join("a.ron"), "one", None).unwrap();
        assert_eq!((old.exists(), new.exists()), (cfg!(not(unix)), true));
    }

    /// Many count in one file, each from what it read: no count is lost. Without the comparison, or
    /// with a gap between it and the replacing, some would be.
    #[cfg(unix)]
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
                        let seen = Seen::now(&path).unwrap();
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
