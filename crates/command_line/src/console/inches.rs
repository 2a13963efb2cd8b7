//! Every option in millimetres has a twin in inches: `--travel-in` beside `--travel-mm`, whichever the user
//! likes, for any car.
//!
//! The twins are made here from the options themselves, so that none can be forgotten, and what is given
//! with one is turned into its option in millimetres before the words are read.

use crate::console::pose::{finite, travels};
use clap::{Arg, Command};
use std::collections::HashSet;
use std::ffi::OsString;
use wheelpath_geometry::{LengthUnit, Unit};

/// The twin of an option in millimetres, by their long names: also of one in millimetres per g.
fn twin_of(option: &str) -> Option<String> {
    let per_g = "-per-g";
    let (name, rest) = option.strip_suffix(per_g).map_or((option, ""), |name| (name, per_g));
    Some(format!("{}-in{rest}", name.strip_suffix("-mm")?))
}

/// A command with the twins of its subcommands' options, each under its option in the help.
pub(crate) fn with_twins(command: Command) -> Command {
    command.mut_subcommands(|subcommand| {
        let options: Vec<(String, String)> = subcommand
            .get_arguments()
            .filter_map(|option| Some((option.get_id().to_string(), twin_of(option.get_long()?)?)))
            .collect();
        let mut order = 0;
        let mut places = Vec::new();
        let mut subcommand = subcommand.mut_args(|option| {
            order += 2;
            places.push((option.get_id().to_string(), order));
            // A number below nought is read as what it is, so that it is refused for what is wrong with it.
            let takes = option.get_long().is_some() && option.get_action().takes_values();
            let option = if takes { option.allow_negative_numbers(true) } else { option };
            option.display_order(order)
        });
        for (id, twin) in options {
            let place = places.iter().find(|(known, _)| *known == id).map_or(0, |(_, place)| *place);
            subcommand = subcommand.arg(
                Arg::new(format!("{id}_in_inches"))
                    .long(twin)
                    .value_name("IN")
                    .help("The same in inches")
                    .allow_negative_numbers(true)
                    .value_parser(refused)
                    .display_order(place + 1),
            );
        }
        subcommand
    })
}

/// Only what is not a number comes so far: why it is none.
fn refused(word: &str) -> Result<f64, String> {
    travels(word).map(|_| f64::NAN)
}

/// The option in millimetres that has this twin, each with its dashes: so a tip names the one that stands in the help.
pub(crate) fn option_with_twin(command: &Command, twin: &str) -> Option<String> {
    let twin = twin.strip_prefix("--")?;
    let mut options =
        command.get_subcommands().flat_map(Command::get_arguments).filter_map(|option| option.get_long());
    options.find(|option| twin_of(option).is_some_and(|own| own == twin)).map(|option| format!("--{option}"))
}

/// Which options were given in which unit, so that messages speak of what was written.
#[derive(Debug, Default)]
pub(crate) struct Given {
    /// Options in millimetres, by their long names.
    millimetres: HashSet<String>,
    /// Options whose twins were given.
    inches: HashSet<String>,
    /// Numbers of millimetres in place of what was written.
    numbers: Vec<(String, String)>,
}

impl Given {
    /// An option that was given in both units, by its long names in millimetres and in inches.
    pub fn twice(&self) -> Option<[String; 2]> {
        let mut both: Vec<&String> = self.millimetres.intersection(&self.inches).collect();
        both.sort();
        both.first().and_then(|name| Some([(*name).clone(), twin_of(name)?]))
    }

    /// Words after an option in inches, with the numbers of millimetres in the first of them as they were written.
    fn as_written(&self, words: &str) -> String {
        let end = words.find(['`', ' ']).unwrap_or(words.len());
        let (first, rest) = words.split_at(end);
        let (whose, number) = first.rsplit_once('=').map_or(("", first), |(whose, number)| (whose, number));
        let written = self.numbers.iter().find(|(turned, _)| turned == number);
        match written {
            Some((_, written)) if whose.is_empty() => format!("{written}{rest}"),
            Some((_, written)) => format!("{whose}={written}{rest}"),
            None => words.to_owned(),
        }
    }

    /// A message with the options that were written, and those of a car in inches where none was, named in
    /// inches; numbers in quotes as they were written.
    pub fn in_words(&self, message: &str, lengths: LengthUnit) -> String {
        let mut text = String::with_capacity(message.len());
        let mut rest = message.to_owned();
        while let Some(at) = rest.find("--") {
            let from = rest.split_off(at);
            text.push_str(&rest);
            let end = from.find(|c: char| !(c.is_ascii_lowercase() || c == '-')).unwrap_or(from.len());
            let (word, after) = from.split_at(end);
            let name = word.trim_start_matches('-');
            let given_in_millimetres = self.millimetres.contains(name);
            let inches = !given_in_millimetres && (self.inches.contains(name) || lengths == LengthUnit::Inch);
            rest = after.to_owned();
            match twin_of(name).filter(|_| inches) {
                Some(twin) => {
                    text.extend(["--", &twin]);
                    if let Some(after) = after.strip_prefix(" <MM>") {
                        text.push_str(" <IN>");
                        rest = after.to_owned();
                    } else if let Some(words) = after.strip_prefix(' ') {
                        text.push(' ');
                        rest = self.as_written(words);
                    }
                }
                None => text.push_str(word),
            }
        }
        text.push_str(&rest);
        for (turned, written) in &self.numbers {
            text = text.replace(&format!("'{turned}'"), &format!("'{written}'"));
        }
        text
    }
}

/// Words in which no option counts in inches any more, as far as what is given with it is numbers, and what
/// was given.
pub(crate) fn in_millimetres(command: &Command, words: Vec<OsString>) -> (Vec<OsString>, Given) {
    let mut noted = Given::default();
    let options =
        command.get_subcommands().flat_map(Command::get_arguments).filter_map(|option| option.get_long());
    let options: HashSet<&str> = options.collect();
    let option_of =
        |twin: &str| options.iter().copied().find(|option| twin_of(option).is_some_and(|own| own == twin));
    let mut turned = Vec::new();
    let mut words = words.into_iter();
    while let Some(word) = words.next() {
        if word == "--" {
            turned.push(word);
            turned.extend(words);
            break;
        }
        let said = word.to_str().and_then(|word| word.strip_prefix("--"));
        let (name, value) =
            match said.map(|said| said.split_once('=').map_or((said, None), |(n, v)| (n, Some(v)))) {
                Some((name, value)) => (name, value.map(str::to_owned)),
                None => ("", None),
            };
        let Some(option) = option_of(name) else {
            if twin_of(name).is_some() {
                noted.millimetres.insert(name.to_owned());
            }
            turned.push(word);
            continue;
        };
        let is_apart = value.is_none();
        let given = value.map_or_else(|| words.next(), |value| Some(value.into()));
        match given.as_ref().and_then(|given| numbers_in_millimetres(given.to_str()?)) {
            Some(numbers) => {
                turned.push(format!("--{option}={numbers}").into());
                noted.inches.insert(option.to_owned());
                let written = given.map_or_else(String::new, |given| given.to_string_lossy().into_owned());
                noted.numbers.push((numbers, written));
            }
            None => {
                turned.push(word);
                turned.extend(given.filter(|_| is_apart));
            }
        }
    }
    (turned, noted)
}

/// A number of inches in millimetres; so each number of a list `-1,0,1`, of a range `-1:1`, or of such as
/// `front=0.4,rear_left=-0.2`. None where it is none of these.
fn numbers_in_millimetres(words: &str) -> Option<String> {
    let turned = |inches: &str| {
        let metres = Unit::Length.inside(finite(inches).ok()?, LengthUnit::Inch);
        Some(Unit::Length.shown(metres, LengthUnit::Millimetre).to_string())
    };
    let named = words.contains('=');
    let one = |word: &str| match word.split_once('=') {
        Some((name, value)) => Some(format!("{name}={}", turned(value)?)),
        None if named => None,
        None => turned(word),
    };
    let list = |words: &str| words.split(',').map(one).collect::<Option<Vec<_>>>().map(|all| all.join(","));
    words.split(':').map(list).collect::<Option<Vec<_>>>().map(|all| all.join(":"))
}

#[cfg(test)]
mod tests {
    use super::{Given, numbers_in_millimetres, twin_of};
    use wheelpath_geometry::LengthUnit;

    #[test]
    fn options_in_millimetres_have_twins() {
        let check =
            |option: &str, twin: Option<&str>| assert_eq!(twin_of(option).as_deref(), twin, "{option}");
        check("travel-mm", Some("travel-in"));
        check("front-gradient-mm-per-g", Some("front-gradient-in-per-g"));
        check("pitman-deg", None);
        check("lateral-g", None);
        check("mm", None);
    }

    #[test]
    fn messages_name_what_was_written() {
        let mut given = Given::default();
        given.inches.insert("hole-mm".into());
        given.numbers.push(("-25.4".into(), "-1".into()));
        given.millimetres.insert("rack-mm".into());
        let mm = "'-25.4' for '--hole-mm <MM>'; --rack-mm, --travel-mm; --roll-deg";
        let said = given.in_words(mm, LengthUnit::Millimetre);
        assert_eq!(said, "'-1' for '--hole-in <IN>'; --rack-mm, --travel-mm; --roll-deg");
        let said = given.in_words("--rack-mm or --travel-mm", LengthUnit::Inch);
        assert_eq!(said, "--rack-mm or --travel-in");
    }

    #[test]
    fn inches_are_turned_number_by_number() {
        let check = |words: &str, turned: Option<&str>| {
            assert_eq!(numbers_in_millimetres(words).as_deref(), turned, "{words}");
        };
        check("1", Some("25.4"));
        check("−0.5", Some("-12.7"));
        check("front=1,rear_left=-2", Some("front=25.4,rear_left=-50.8"));
        check("-1:1", Some("-25.4:25.4"));
        check("-1,0, 2", Some("-25.4,0,50.8"));
        check("ten", None);
        check("front=1,2", None);
    }
}
