//! Looks a car over: faults, warnings, and how far each wheel can go.

use crate::arguments::subcommands::{CheckArguments, Format};
use crate::console::data::{Record, csv, csv_of, heading, json};
use crate::console::failure::Failure;
use crate::console::streams::Console;
use crate::opened_car::opened;
use crate::reach::{Reach, reach_table};
use serde_json::Value;
use wheelpath_car_file::{Fault, LoadError, Problem, causes, unusual_beside_faults};
use wheelpath_geometry::{CarSolver, End, Stop, WheelPosition, shown_name};
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
            let list = |problems: &[Problem]| -> Value {
                problems.iter().map(|p| Value::Object(problem(p))).collect::<Vec<_>>().into()
            };
            let by_cause: Vec<Value> = numbered(&causes).map(Value::Object).collect();
            let mut record = heading("check");
            record.insert("file".into(), arguments.car.display().to_string().into());
            record.insert("car".into(), name.clone().into());
            record.insert("faults".into(), list(&faults));
            record.insert("warnings".into(), by_cause.into());
            let list = |reach: &[Reach]| -> Value {
                reach.iter().map(|one| Value::Object(one.record(lengths))).collect::<Vec<_>>().into()
            };
            record.insert("reach".into(), list(wheels));
            record.insert("reach_with_stops".into(), list(axles));
            json(record)?
        }
        Format::Csv => {
            let row = |severity: &str, p: Record| -> Record {
                std::iter::once(("severity".to_owned(), severity.into())).chain(p).collect()
            };
            let fault = |p: &Problem| {
                let mut record = problem(p);
                record.insert("cause".into(), Value::Null);
                row("fault", record)
            };
            let rows = faults.iter().map(fault).chain(numbered(&causes).map(|p| row("warning", p)));
            let rows: Vec<Record> = rows.collect();
            if rows.is_empty() { csv_of(&COLUMNS, &[])? } else { csv(&rows)? }
        }
    };
    io.print(&text)?;
    Ok(u8::from(name.is_none()))
}

const COLUMNS: [&str; 9] =
    ["severity", "file", "line", "column", "axle", "wheel", "message", "hint", "cause"];

/// Warnings, each with the number of its cause from 1.
fn numbered<'c>(causes: &'c [&[Problem]]) -> impl Iterator<Item = Record> + 'c {
    causes.iter().enumerate().flat_map(|(at, cause)| {
        cause.iter().map(move |one| {
            let mut record = problem(one);
            record.insert("cause".into(), (at + 1).into());
            record
        })
    })
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

pub(crate) fn problem(problem: &Problem) -> Record {
    let mut record = Record::new();
    record.insert("file".into(), problem.file.clone().into());
    record.insert("line".into(), problem.place.line.into());
    record.insert("column".into(), problem.place.column.into());
    let of_finding = match &problem.fault {
        Fault::Model(finding) => finding.end,
        _ => None,
    };
    let end = problem.wheel.map(|wheel| wheel.end).or(of_finding);
    record.insert("axle".into(), end.map(End::name).into());
    record.insert("wheel".into(), problem.wheel.map(WheelPosition::key).into());
    record.insert("message".into(), problem.fault.to_string().into());
    record.insert("hint".into(), problem.hint().into());
    record
}
