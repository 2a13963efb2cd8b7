//! What the system says of a file, in a user's words.

use crate::text::open_elsewhere::is_open_elsewhere;
use std::io::{Error, ErrorKind};

/// Why a file could not be read or written, as the rest of a sentence: "the disk is full".
#[must_use]
pub fn system_words(error: &Error) -> String {
    if let Some(own) = error.get_ref() {
        return own.to_string();
    }
    if is_open_elsewhere(error) {
        return "another program has it open; close it there and try again".to_owned();
    }
    let words = match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder",
        ErrorKind::PermissionDenied => "this user may not do that there",
        ErrorKind::AlreadyExists => "something of that name is there already",
        ErrorKind::IsADirectory => "it is a folder",
        ErrorKind::NotADirectory => "a part of its path is a file, not a folder",
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "this user's share of the disk is full",
        ErrorKind::FileTooLarge => "it would be larger than the system allows",
        ErrorKind::ReadOnlyFilesystem => "the disk can only be read",
        ErrorKind::InvalidFilename => "the name is too long, or the system does not allow it",
        ErrorKind::ResourceBusy => "another program holds it",
        ErrorKind::InvalidData => "it is not UTF-8 text",
        ErrorKind::UnexpectedEof => "it ends too early",
        _ => return without_number(&error.to_string()),
    };
    words.to_owned()
}

/// The system's own words without its number for them.
fn without_number(said: &str) -> String {
    said.split(" (os error").next().unwrap_or_default().to_owned()
}

#[cfg(test)]
mod tests {
    use super::system_words;
    use std::fs;
    use std::io::Error;

    #[test]
    fn the_system_speaks_plainly() {
        let folder = tempfile::tempdir().unwrap();
        let said = |error: Error| system_words(&error);
        assert_eq!(said(fs::read(folder.path().join("no")).unwrap_err()), "there is no such file or folder");
        assert_eq!(said(Error::other("the file is read-only")), "the file is read-only");
        let long = fs::write(folder.path().join("n".repeat(5000)), "").unwrap_err();
        assert!(!said(long).contains("os error"));
        if cfg!(unix) {
            assert_eq!(said(fs::read_to_string(folder.path()).unwrap_err()), "it is a folder");
            assert!(!said(Error::from_raw_os_error(5)).contains("os error"), "of what has no words here too");
        }
    }
}
