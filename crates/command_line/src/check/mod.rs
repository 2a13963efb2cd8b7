//! Looks a car over: faults, warnings, and how far each wheel can go.

pub(crate) mod reach;
pub(crate) mod reach_record;
pub(crate) mod record;

use crate::arguments::subcommands::{CheckArguments, Format};
use crate::check::reach::{Reach, reach_table};
use crate::check::record::{CheckOutput, CheckRow, ProblemRecord, WarningRecord};
use crate::console::failure::Failure;
use crate::console::record::{csv, json};
use crate::console::streams::Console;
use crate::opened_car::opened;
use wheelpath_car_file::{LoadError, Problem, causes, unusual_beside_faults};
use wheelpath_geometry::{CarSolver, Stop, shown_name};
use wheelpath_project::LoadedCar;
use wheelpath_report::folded;

pub(crate) fn run(arguments: &CheckArguments, io: &mut Console) -> Result<u8, Failure> {
    let format = arguments.output.format;
    let (name, faults, warnings, reach) = match look_over(arguments, io) {
        Ok((car, reach)) => (Some(car.loaded.car.name.clone()), Vec::new(), car.loaded.warnings, reach),
        Err(Failed::Load(LoadError::Faulty(faults))) => {
            // What is unusual beside the faults is said at once, or it would come to light one fault later.
            let text = std::fs::read_to_string(&arguments.car).unwrap_or_default();
            let warnings = unusual_beside_faults(&text, &arguments.car.display().to_string());
            (None, faults, warnings, <[Vec<Reach>; 2]>::default())
        }
        Err(Failed::Load(error)) => return Err(error.into()),
        Err(Failed::Other(failure)) => return Err(failure),
    };
    let lengths = arguments.output.units.lengths(io);
    let [wheels, axles] = &reach;
    let said = |one: &Problem| (one.to_string(), one.hint());
    io.say_all("error", faults.iter().map(said))?;
    let causes = causes(&warnings);
    io.say_causes(&causes)?;
    let text = match format {
        Format::Table => match &name {
            Some(name) => folded(&format!(
                "{}: no faults, {}\n\n{}\n{}",
                shown_name(name),
                counted(warnings.len(), "warning"),
                reach_table("How far the links reach", wheels, lengths),
                reach_table("How far each axle goes, stops\ncounted, both wheels alike", axles, lengths)
            )),
            None => format!(
                "{}: {}{}\n",
                shown_name(&arguments.car.display().to_string()),
                counted(faults.len(), "fault"),
                if warnings.is_empty() {
                    String::new()
                } else {
                    format!(", {} beside", counted(warnings.len(), "warning"))
                }
            ),
        },
        Format::Json => {
            let output = CheckOutput {
                file: arguments.car.display().to_string(),
                car: name.clone(),
                faults: faults.iter().map(ProblemRecord::of).collect(),
                warnings: WarningRecord::all_of(&causes),
                reach: wheels.iter().map(Reach::wheel_record).collect(),
                reach_with_stops: axles.iter().map(Reach::axle_record).collect(),
            };
            json(&output, lengths)?
        }
        Format::Csv => csv::<CheckOutput>(&CheckRow::all_of(&faults, &causes), lengths)?,
    };
    io.print(&text)?;
    Ok(u8::from(name.is_none()))
}

enum Failed {
    Load(LoadError),
    Other(Failure),
}

/// The car, and how far it reaches: its wheels by their links, its axles with their stops.
fn look_over(arguments: &CheckArguments, io: &mut Console) -> Result<(LoadedCar, [Vec<Reach>; 2]), Failed> {
    let car = opened(&arguments.car, io).map_err(Failed::Load)?;
    io.count_in(car.units());
    let solver = CarSolver::new(&car.loaded.car).map_err(|stops| Failed::Other(stops.into()))?;
    let failed = |stop: Stop| Failed::Other(stop.into());
    let wheels = Reach::of_wheels(&car.loaded.car, &solver).map_err(failed)?;
    let axles = Reach::of_axles(&solver).map_err(failed)?;
    Ok((car, [wheels, axles]))
}

pub(crate) fn counted(count: usize, what: &str) -> String {
    match count {
        0 => format!("no {what}s"),
        1 => format!("1 {what}"),
        _ => format!("{count} {what}s"),
    }
}
