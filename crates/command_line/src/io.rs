//! Where words go: results to one writer, errors and warnings to another.

use crate::failure::Failure;
use crate::inches::Given;
use std::collections::HashSet;
use std::io::Write;
use wheelpath_geometry::{LengthUnit, shown_name, shown_text};

/// More messages of one kind than these are not listed, only counted.
const LISTED: usize = 200;

/// The two writers of a run.
pub(crate) struct Io<'a> {
    out: &'a mut dyn Write,
    err: &'a mut dyn Write,
    /// In what lengths it speaks, as far as a car has said.
    lengths: Option<LengthUnit>,
    /// How options were written.
    given: Given,
    /// Whose the warnings are, where not the car's as it is.
    of: Option<String>,
    /// Warnings about the car as it is.
    said: HashSet<String>,
}

impl<'a> Io<'a> {
    pub fn new(out: &'a mut dyn Write, err: &'a mut dyn Write) -> Self {
        Io { out, err, lengths: None, given: Given::default(), of: None, said: HashSet::new() }
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

    /// Results. Whatever a file or a word of the command line brought in, nothing of it steers a terminal.
    pub fn print(&mut self, text: &str) -> Result<(), Failure> {
        self.out.write_all(shown_text(text).as_bytes()).map_err(Failure::Output)
    }

    /// From here on messages name options as they were given.
    pub fn name_as_given(&mut self, given: Given) {
        self.given = given;
    }

    /// Words beside the results.
    pub fn complain(&mut self, text: &str) -> Result<(), Failure> {
        let text = &self.given.in_words(text, self.lengths());
        self.err.write_all(shown_text(text).as_bytes()).map_err(Failure::Output)
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
        self.say("warning", &message, hint)
    }

    /// What is wrong, each with what to do; of very many the first, and how many more there are.
    pub fn say_all(
        &mut self,
        severity: &str,
        all: impl ExactSizeIterator<Item = (String, String)>,
    ) -> Result<(), Failure> {
        let more = all.len().saturating_sub(LISTED);
        for (message, hint) in all.take(LISTED) {
            match severity {
                "warning" => self.warn(&message, &hint)?,
                _ => self.say(severity, &message, &hint)?,
            }
        }
        if more > 0 {
            self.complain(&format!("{severity}: and {more} more of these, not listed\n"))?;
        }
        Ok(())
    }

    /// A message is one line, and so is a hint.
    fn say(&mut self, severity: &str, message: &str, hint: &str) -> Result<(), Failure> {
        let hint = if hint.is_empty() { String::new() } else { format!("hint: {}\n", shown_name(hint)) };
        self.complain(&format!("{severity}: {}\n{hint}", shown_name(message)))
    }

    /// An error beside results that stand.
    pub fn error(&mut self, message: &str) -> Result<(), Failure> {
        let whose = self.of.as_ref().map_or_else(String::new, |name| format!("with {name}: "));
        self.say("error", &format!("{whose}{message}"), "")
    }

    pub fn flush(&mut self) -> Result<(), Failure> {
        self.out.flush().and_then(|()| self.err.flush()).map_err(Failure::Output)
    }
}
