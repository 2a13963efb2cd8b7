//! Every option in millimetres has a twin in inches: `--travel-in` beside `--travel-mm`, whichever the user
//! likes, for any car.
//!
//! The twins are made here from the options themselves, so that none can be forgotten, and what is given
//! with one is turned into its option in millimetres before the words are read.

use crate::pose::{finite, travels};
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

/// Words in which no option counts in inches any more, as far as what is given with it is numbers.
pub(crate) fn in_millimetres(command: &Command, words: Vec<OsString>) -> Vec<OsString> {
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
            turned.push(word);
            continue;
        };
        let is_apart = value.is_none();
        let given = value.map_or_else(|| words.next(), |value| Some(value.into()));
        match given.as_ref().and_then(|given| numbers_in_millimetres(given.to_str()?)) {
            Some(numbers) => turned.push(format!("--{option}={numbers}").into()),
            None => {
                turned.push(word);
                turned.extend(given.filter(|_| is_apart));
            }
        }
    }
    turned
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
    use super::{numbers_in_millimetres, twin_of};

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
