//! Where words go: results to one writer, errors and warnings to another.

use crate::failure::Failure;
use std::collections::HashSet;
use std::io::Write;
use wheelpath_geometry::LengthUnit;

/// The two writers of a run.
pub(crate) struct Io<'a> {
    out: &'a mut dyn Write,
    err: &'a mut dyn Write,
    /// In what lengths it speaks, as far as a car has said.
    lengths: Option<LengthUnit>,
    /// Whose the warnings are, where not the car's as it is.
    of: Option<String>,
    /// Warnings about the car as it is.
    said: HashSet<String>,
}

impl<'a> Io<'a> {
    pub fn new(out: &'a mut dyn Write, err: &'a mut dyn Write) -> Self {
        Io { out, err, lengths: None, of: None, said: HashSet::new() }
    }

    /// From here on warnings are about a car with proposals made, and begin with its name; what was said
    /// of the car as it is is not said again. `None` is the car as it is.
    pub fn speak_of(&mut self, name: Option<&str>) {
        self.of = name.map(str::to_owned);
    }

    /// From here on lengths are said in the units of a car; the first car that is read decides.
    pub fn count_in(&mut self, lengths: LengthUnit) {
        self.lengths.get_or_insert(lengths);
    }

    /// In what lengths are said where nobody asked for others.
    pub fn lengths(&self) -> LengthUnit {
        self.lengths.unwrap_or_default()
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
        let message = match &self.of {
            Some(_) if self.said.contains(message) => return Ok(()),
            Some(name) => format!("with {name}: {message}"),
            None => {
                self.said.insert(message.to_owned());
                message.to_owned()
            }
        };
        let hint = if hint.is_empty() { String::new() } else { format!("hint: {hint}\n") };
        self.complain(&format!("warning: {message}\n{hint}"))
    }

    /// An error beside results that stand.
    pub fn error(&mut self, message: &str) -> Result<(), Failure> {
        let whose = self.of.as_ref().map_or_else(String::new, |name| format!("with {name}: "));
        self.complain(&format!("error: {whose}{message}\n"))
    }

    pub fn flush(&mut self) -> Result<(), Failure> {
        self.out.flush().and_then(|()| self.err.flush()).map_err(Failure::Output)
    }
}
