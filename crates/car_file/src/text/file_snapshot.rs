//! What a file held when it was last read or written.

use crate::text::open_elsewhere::read;
use std::io::{self, ErrorKind};
use std::path::Path;
use std::sync::Arc;

const MARK: &[u8] = "\u{feff}".as_bytes();

/// What a file held at some time: its whole content, or that there was none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileSnapshot(Option<Arc<[u8]>>);

impl FileSnapshot {
    /// No file.
    pub const NOTHING: FileSnapshot = FileSnapshot(None);

    /// This text; a byte-order mark in front counts for nothing.
    #[must_use]
    pub fn text(text: &str) -> FileSnapshot {
        FileSnapshot::bytes(text.as_bytes())
    }

    pub(crate) fn bytes(bytes: &[u8]) -> FileSnapshot {
        FileSnapshot(Some(bytes.strip_prefix(MARK).unwrap_or(bytes).into()))
    }

    /// What the file holds now.
    ///
    /// # Errors
    /// It is there and cannot be read.
    pub fn now(path: &Path) -> io::Result<FileSnapshot> {
        match read(path) {
            Ok(bytes) => Ok(FileSnapshot::bytes(&bytes)),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(FileSnapshot::NOTHING),
            Err(error) => Err(error),
        }
    }

    /// Whether there was a file.
    #[must_use]
    pub fn is_there(&self) -> bool {
        self.0.is_some()
    }

    /// Its content, if there was a file.
    pub(crate) fn content(&self) -> Option<&[u8]> {
        self.0.as_deref()
    }
}
