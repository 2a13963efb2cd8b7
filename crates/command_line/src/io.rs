//! Where words go: results to one writer, errors and warnings to another.

use crate::failure::Failure;
use std::io::Write;

/// The two writers of a run.
pub(crate) struct Io<'a> {
    out: &'a mut dyn Write,
    err: &'a mut dyn Write,
}

impl<'a> Io<'a> {
    pub fn new(out: &'a mut dyn Write, err: &'a mut dyn Write) -> Self {
        Io { out, err }
    }

    /// Results.
    pub fn print(&mut self, text: &str) -> Result<(), Failure> {
        self.out.write_all(text.as_bytes()).map_err(Failure::Output)
    }

    /// Words beside the results.
    pub fn complain(&mut self, text: &str) -> Result<(), Failure> {
        self.err.write_all(text.as_bytes()).map_err(Failure::Output)
    }

    /// A warning: the result stands, but look again.
    pub fn warn(&mut self, message: &str, hint: &str) -> Result<(), Failure> {
        let hint = if hint.is_empty() { String::new() } else { format!("hint: {hint}\n") };
        self.complain(&format!("warning: {message}\n{hint}"))
    }

    pub fn flush(&mut self) -> Result<(), Failure> {
        self.out.flush().and_then(|()| self.err.flush()).map_err(Failure::Output)
    }
}
