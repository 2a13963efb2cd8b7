//! A proposal of the points of a table that differ from the car's.

use crate::arguments::subcommands::{ImportArguments, ImportFormat};
use crate::check::counted;
use crate::console::failure::Failure;
use crate::console::record::json;
use crate::console::streams::Console;
use crate::import::record::ImportedProposalOutput;
use crate::import::say_one_sided;
use std::path::{Path, PathBuf};
use wheelpath_car_file::{ProposalFile, TableOptions, proposal_file_name, propose_points, system_words};
use wheelpath_geometry::{Car, LengthUnit, Proposal, shown_name};
use wheelpath_project::LoadedCar;
use wheelpath_report::folded;

/// `table` is its text and its name in messages, `wanted` how to take it and the proposal's name.
pub(crate) fn run(
    arguments: &ImportArguments,
    car: &LoadedCar,
    table: (&str, &str),
    wanted: (&TableOptions, &str),
    io: &mut Console,
) -> Result<u8, Failure> {
    let ((text, file), (options, name)) = (table, wanted);
    let path = path(arguments.output.as_deref(), car, name)?;
    let from = &car.loaded.car;
    let made = propose_points(from, text, file, options, name)?;
    say_one_sided(&made.one_sided, file, io)?;
    io.warn_of_car(&made.warnings, "wheelpath import --format json without --as-proposal")?;
    let document = &car.loaded.document;
    let written = ProposalFile::new(made.proposal, from, document.units(), document.axes());
    let cannot = |error: std::io::Error, folder: &Path| {
        Failure::wrong_use(
            format!("cannot make the folder {}: {}", folder.display(), system_words(&error)),
            "give a place that can be written to with --output",
        )
    };
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(|error| cannot(error, folder))?;
    }
    written.save_new(&path)?;
    let text = match arguments.format {
        ImportFormat::Table => folded(&words(&written.proposal, (from, io.lengths()), &path)),
        ImportFormat::Json => {
            json(&ImportedProposalOutput::of(&written.proposal, from, &path), io.lengths())?
        }
    };
    io.print(&text)?;
    Ok(0)
}

/// Where the proposal goes.
fn path(output: Option<&Path>, car: &LoadedCar, name: &str) -> Result<PathBuf, Failure> {
    let stem = proposal_file_name(name);
    if stem.is_empty() {
        return Err(Failure::wrong_use("the proposal needs a name", "give one, such as \"Tie rod down\""));
    }
    let beside = || car.folder().map(|own| own.folder).map(|folder| folder.join(format!("{stem}.ron")));
    let path = output.map(Path::to_owned).or_else(beside).ok_or_else(|| {
        Failure::wrong_use(
            format!("{} is a demo car inside the program and has no folder", car.loaded.car.name),
            "say where the proposal goes with --output, or name a car file",
        )
    })?;
    Ok(path)
}

fn words(proposal: &Proposal, (car, lengths): (&Car, LengthUnit), path: &Path) -> String {
    let said: Vec<String> =
        proposal.changes.iter().map(|change| format!("  {}\n", change.said(lengths))).collect();
    let moved = counted(said.len(), "change");
    let [name, of] = [&proposal.name, &car.name].map(|name| shown_name(name));
    let written = path.display().to_string();
    format!("{name}: {moved} to {of}\n{}\nwrote {}\n", said.concat(), shown_name(&written))
}
