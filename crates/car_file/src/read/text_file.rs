//! The text of a file.

use crate::fault::failure::LoadError;
use crate::fault::problem::Fault;
use crate::read::fields::Diagnostics;
use crate::text::open_elsewhere::read;
use std::path::Path;

/// Reads a file of text.
pub(crate) fn read_text(path: &Path) -> Result<String, LoadError> {
    let bytes = read(path).map_err(|source| LoadError::Unreadable { file: path.to_owned(), source })?;
    text_of(bytes, &path.display().to_string())
}

/// The text of these bytes; `file` is its name in messages.
pub(crate) fn text_of(bytes: Vec<u8>, file: &str) -> Result<String, LoadError> {
    String::from_utf8(bytes).map_err(|error| {
        let valid = error.utf8_error().valid_up_to();
        let text = String::from_utf8_lossy(error.as_bytes().get(..valid).unwrap_or_default()).into_owned();
        let mut notes = Diagnostics::new(file, &text);
        notes.add(valid, Fault::NotText);
        LoadError::Faulty(notes.problems)
    })
}
