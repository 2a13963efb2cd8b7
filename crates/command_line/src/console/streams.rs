//! Where words go: results to one writer, errors and warnings to another.

use crate::console::failure::Failure;
use crate::console::inches::Given;
use std::collections::HashSet;
use std::ffi::OsString;
use std::io::Write;
use std::path::Path;
use wheelpath_car_file::{Problem, causes};
use wheelpath_geometry::{LengthUnit, shown_name, shown_text};
use wheelpath_report::folded_around;

/// More messages of one kind than these are not listed, only counted.
const LISTED: usize = 200;

/// The two writers of a run.
pub(crate) struct Console<'a> {
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
    /// Paths with blanks in them that a line is not broken in.
    whole: Vec<String>,
}

impl<'a> Console<'a> {
    pub fn new(out: &'a mut dyn Write, err: &'a mut dyn Write) -> Self {
        Console {
            out,
            err,
            lengths: None,
            given: Given::default(),
            of: None,
            said: HashSet::new(),
            whole: Vec::new(),
        }
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

    /// From here on no line is broken inside one of these words of the command line, nor inside the folder of one.
    pub fn keep_whole<'w>(&mut self, words: impl Iterator<Item = &'w OsString>) {
        for word in words {
            let path = Path::new(word);
            let stem = path.with_extension("");
            let paths = [Some(path), path.parent(), Some(stem.as_path())];
            let paths =
                paths.into_iter().flatten().map(|path| shown_name(&path.display().to_string()).into_owned());
            self.whole.extend(paths.filter(|path| path.contains(' ')));
        }
    }

    /// Words beside the results; lines are broken between words where they are wider than a table.
    pub fn complain(&mut self, text: &str) -> Result<(), Failure> {
        let text = &self.given.in_words(text, self.lengths());
        let text = folded_around(&shown_text(text), &self.whole);
        self.err.write_all(text.as_bytes()).map_err(Failure::Output)
    }

    /// What is doubtful about a car: the first to look at, how many others there are, and how to see them (`see`, a
    /// command).
    pub fn warn_of_car(&mut self, problems: &[Problem], see: &str) -> Result<(), Failure> {
        let causes = causes(problems);
        let Some(([worst, ..], others)) = causes.split_first() else { return Ok(()) };
        let (follow, total) = (causes.first().map_or(0, |first| first.len() - 1), problems.len());
        let mut message = worst.to_string();
        if follow > 0 {
            message += &format!("; {follow} more that may follow from it");
        }
        let beside: usize = others.iter().map(|cause| cause.len()).sum();
        if beside > 0 {
            message += &format!("; and {beside} other{} to look at", if beside == 1 { "" } else { "s" });
        }
        let hint = match total {
            1 => worst.hint(),
            _ => format!("{}; `{see}` shows all {total} warnings", worst.hint()),
        };
        self.warn(&message, &hint)
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

    /// All that is doubtful about a car, cause by cause: what to look at first, then what may follow from it.
    pub fn say_causes(&mut self, causes: &[&[Problem]]) -> Result<(), Failure> {
        for cause in causes.iter().take(LISTED) {
            let Some((first, follow)) = cause.split_first() else { continue };
            self.warn(&first.to_string(), &first.hint())?;
            for one in follow.iter().take(LISTED) {
                let whose = one.wheel.map_or_else(String::new, |wheel| format!("{wheel}: "));
                let said = one.fault.to_string();
                let said = said.strip_prefix(&whose).unwrap_or(&said).to_owned();
                self.complain(&format!("  may follow from it: {}\n", shown_name(&format!("{whose}{said}"))))?;
            }
        }
        if let Some(more) = causes.len().checked_sub(LISTED).filter(|more| *more > 0) {
            self.complain(&format!("warning: and {more} more of these, not listed\n"))?;
        }
        Ok(())
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

    /// A message is one paragraph, and so is a hint.
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
