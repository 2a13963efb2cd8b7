//! The subcommands of `wheelpath`, as a library: parse, call, print.
//!
//! [`run`] takes the words of a command line and two writers and returns the exit code; what needs a
//! window or a graphics driver is asked of a [`Frontend`]. Nothing here computes a reading.
//!
//! Exit codes: 0 fine; 1 the car has a fault, or a pose cannot be reached; 2 wrong use, or something
//! that this machine or this build cannot do.

mod arguments;
mod attitude;
mod before_after;
mod beside_car;
mod bracket;
mod chart_of;
mod check;
mod clearances;
mod compare;
mod console;
mod cornering;
mod exit_codes;
mod front;
mod import;
mod in_parts;
mod limits;
mod new;
mod on_road;
mod open;
mod opened_car;
mod picture;
mod points;
mod pose_rows;
mod poses_file;
mod readings;
mod rows_out;
mod schema;
mod sensitivity;
mod span;
mod stop_values;
mod sweep;
mod tally;
mod turn;

pub use front::{Frontend, NoPicture, NoWindow, Overlays, PictureRequest, Sheet, View, WithoutWindow};

use arguments::subcommands::{Arguments, Command};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, FromArgMatches};
use console::failure::Failure;
use console::streams::Console;
use std::ffi::OsString;
use std::io::Write;
use wheelpath_geometry::shown_name;
use wheelpath_report::folded_help;

/// Runs one command line (its first word is the program's name) and returns the exit code. A reader
/// that goes away is no fault.
pub fn run(
    words: impl IntoIterator<Item = impl Into<OsString> + Clone>,
    out: &mut dyn Write,
    err: &mut dyn Write,
    front: &dyn Frontend,
) -> u8 {
    let mut io = Console::new(out, err);
    let mut command = console::inches::with_twins(Arguments::command());
    let (words, given) =
        console::inches::in_millimetres(&command, words.into_iter().map(Into::into).collect());
    let twice = given.twice();
    io.name_as_given(given);
    io.keep_whole(words.iter().skip(1));
    let matched = command.try_get_matches_from_mut(&words);
    let parsed = matched.and_then(|found| Arguments::from_arg_matches(&found));
    let result = match parsed.map_err(|error| error.format(&mut command)) {
        Ok(arguments) => dispatch(arguments, &mut io, front),
        Err(error) if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) => {
            io.print(&folded_help(&error.render().to_string())).map(|()| 0)
        }
        Err(error) if error.kind() == ErrorKind::ArgumentConflict && twice.is_some() => {
            let [millimetres, inches] = twice.unwrap_or_default();
            Err(Failure::wrong_use(
                format!("--{millimetres} and --{inches} are one option in two units, and both are given"),
                "give one of them",
            ))
        }
        Err(error) => {
            // The same mistake again, with words in which nothing acts on a terminal.
            let shown = words.iter().map(|word| shown_name(&word.to_string_lossy()).into_owned());
            let error = console::inches::with_twins(Arguments::command())
                .try_get_matches_from(shown)
                .err()
                .unwrap_or(error);
            io.complain(&with_plain_tip(&error)).map(|()| 2)
        }
    };
    let result = result.and_then(|code| io.flush().map(|()| code));
    match result {
        Ok(code) => code,
        Err(failure) => failure.report(&mut io),
    }
}

/// A mistake in words; a tip that would name an option in inches alone names the one in millimetres.
fn with_plain_tip(error: &clap::Error) -> String {
    let text = error.render().to_string();
    let Some(ContextValue::String(tip)) = error.get(ContextKind::SuggestedArg) else { return text };
    match console::inches::option_with_twin(&Arguments::command(), tip) {
        Some(option) => {
            text.replace(&format!("{tip} <IN>"), &format!("{option} <MM>")).replace(tip.as_str(), &option)
        }
        None => text,
    }
}

fn dispatch(arguments: Arguments, io: &mut Console, front: &dyn Frontend) -> Result<u8, Failure> {
    match arguments.command {
        None => open::run(None, io, front),
        Some(Command::Open(arguments)) => open::run(arguments.car.as_deref(), io, front),
        Some(Command::Check(arguments)) => check::run(&arguments, io),
        Some(Command::Readings(arguments)) => readings::run(&arguments, io),
        Some(Command::Sweep(arguments)) => sweep::run(&arguments, io),
        Some(Command::Sensitivity(arguments)) => sensitivity::run(&arguments, io),
        Some(Command::Clearances(arguments)) => clearances::run(&arguments, io),
        Some(Command::Points(arguments)) => points::run(&arguments, io),
        Some(Command::Attitude(arguments)) => attitude::run(&arguments, io),
        Some(Command::Cornering(arguments)) => cornering::run(&arguments, io),
        Some(Command::Turn(arguments)) => turn::run(&arguments, io),
        Some(Command::Compare(arguments)) => compare::run(&arguments, io),
        Some(Command::Limits(arguments)) => limits::run(&arguments, io),
        Some(Command::Bracket(arguments)) => bracket::run(&arguments, io),
        Some(Command::Import(arguments)) => import::run(&arguments, io),
        Some(Command::New(arguments)) => new::run(&arguments, io),
        Some(Command::Picture(arguments)) => picture::run(&arguments, io, front),
        Some(Command::Schema(arguments)) => schema::run(&arguments, io),
    }
}
