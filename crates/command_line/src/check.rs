//! Looks a car over: faults, warnings, and how far each wheel can go.

use crate::arguments::{CheckArguments, Format};
use crate::car_at_hand::CarAtHand;
use crate::data::{Record, csv, heading, json, length, length_key};
use crate::failure::Failure;
use crate::io::Io;
use serde_json::Value;
use wheelpath_car_file::{LoadError, Problem};
use wheelpath_geometry::{CarSolver, FURTHEST, LengthUnit, Stop, Unit, WheelAt};
use wheelpath_report::{Align, Table, wrap};

pub(crate) fn run(arguments: &CheckArguments, io: &mut Io) -> Result<u8, Failure> {
    let lengths = arguments.output.units.lengths();
    let format = arguments.output.format;
    let (name, faults, warnings, reach) = match look_over(arguments) {
        Ok((car, reach)) => (Some(car.loaded.car.name.clone()), Vec::new(), car.loaded.warnings, reach),
        Err(Failed::Load(LoadError::Faulty(faults))) => (None, faults, Vec::new(), Vec::new()),
        Err(Failed::Load(error)) => return Err(error.into()),
        Err(Failed::Other(failure)) => return Err(failure),
    };
    for fault in &faults {
        io.complain(&format!("error: {fault}\nhint: {}\n", fault.hint()))?;
    }
    for warning in &warnings {
        io.warn(&warning.to_string(), &warning.hint())?;
    }
    let text = match format {
        Format::Table => match &name {
            Some(name) => format!(
                "{name}: no faults, {}\n\n{}",
                counted(warnings.len(), "warning"),
                reach_table(&reach, lengths)
            ),
            None => format!("{}: {}\n", arguments.car.display(), counted(faults.len(), "fault")),
        },
        Format::Json => {
            let list = |problems: &[Problem]| -> Value {
                problems.iter().map(|p| Value::Object(problem(p))).collect::<Vec<_>>().into()
            };
            let mut record = heading("check");
            record.insert("file".into(), arguments.car.display().to_string().into());
            record.insert("car".into(), name.clone().into());
            record.insert("faults".into(), list(&faults));
            record.insert("warnings".into(), list(&warnings));
            let reach = reach.iter().map(|corner| Value::Object(corner.record(lengths)));
            record.insert("reach".into(), reach.collect::<Vec<_>>().into());
            json(record)
        }
        Format::Csv => {
            let row = |severity: &str, p: &Problem| -> Record {
                std::iter::once(("severity".to_owned(), severity.into())).chain(problem(p)).collect()
            };
            let rows =
                faults.iter().map(|p| row("fault", p)).chain(warnings.iter().map(|p| row("warning", p)));
            let rows: Vec<Record> = rows.collect();
            if rows.is_empty() { COLUMNS.join(",") + "\n" } else { csv(&rows) }
        }
    };
    io.print(&text)?;
    Ok(u8::from(name.is_none()))
}

const COLUMNS: [&str; 7] = ["severity", "file", "line", "column", "wheel", "message", "hint"];

enum Failed {
    Load(LoadError),
    Other(Failure),
}

fn look_over(arguments: &CheckArguments) -> Result<(CarAtHand, Vec<Reach>), Failed> {
    let car = CarAtHand::of(&arguments.car).map_err(Failed::Load)?;
    let solver = CarSolver::new(&car.loaded.car).map_err(|stops| Failed::Other(stops.into()))?;
    let reach = WheelAt::ALL.map(|at| Reach::of(&solver, at)).into_iter().collect::<Result<_, _>>();
    Ok((car, reach.map_err(|stop: Stop| Failed::Other(stop.into()))?))
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
    record.insert("wheel".into(), problem.wheel.map(WheelAt::key).into());
    record.insert("message".into(), problem.fault.to_string().into());
    record.insert("hint".into(), problem.hint().into());
    record
}

/// How far the linkage of a corner goes, the stops of rack and damper not counted.
struct Reach {
    at: WheelAt,
    /// Droop and bump, straight ahead.
    travel: [Option<Stop>; 2],
    /// Right and left, at zero travel; none where the corner is not steered.
    steer: Option<[Option<Stop>; 2]>,
}

/// Limits by name: which, and whether it is of travel.
const LIMITS: [&str; 4] = ["droop", "bump", "rack_right", "rack_left"];

impl Reach {
    fn of(solver: &CarSolver, at: WheelAt) -> Result<Self, Stop> {
        let axle = solver.axle(at.end);
        let steer = axle.steered().then(|| axle.steer_limits(at.side));
        Ok(Reach { at, travel: axle.travel_limits(at.side, 0.0)?, steer })
    }

    /// The four limits with their amounts, metres: `None` where there is none.
    fn limits(&self) -> [Option<(f64, &Stop)>; 4] {
        let [droop, bump] = &self.travel;
        let of_rack = |i: usize| self.steer.as_ref().and_then(|limits| limits.get(i)?.as_ref());
        let travel = |stop: &'_ Option<Stop>| stop.as_ref().map(|stop| stop.travel);
        [
            travel(droop).zip(droop.as_ref()),
            travel(bump).zip(bump.as_ref()),
            of_rack(0).map(|stop| (stop.steer, stop)),
            of_rack(1).map(|stop| (stop.steer, stop)),
        ]
    }

    fn record(&self, lengths: LengthUnit) -> Record {
        let mut record = Record::new();
        record.insert("wheel".into(), self.at.key().into());
        for (name, limit) in LIMITS.iter().zip(self.limits()) {
            let amount = limit.map_or(Value::Null, |(amount, _)| length(amount, lengths));
            record.insert(length_key(name, lengths), amount);
            record.insert(format!("{name}_links"), limit.map(|(_, stop)| stop.links.clone()).into());
        }
        record
    }
}

fn reach_table(reach: &[Reach], lengths: LengthUnit) -> String {
    let unit = Unit::Length.symbol(lengths);
    let beyond = Unit::Length.write_number(FURTHEST, lengths);
    let mut columns = vec![("How far the links reach".to_owned(), Align::Left)];
    columns.extend(
        ["droop", "bump", "rack right", "rack left"].map(|name| (format!("{name}\n{unit}"), Align::Right)),
    );
    let mut table = Table::with_columns(columns);
    let mut reasons: Vec<(String, Vec<String>)> = Vec::new();
    for corner in reach {
        let mut row = vec![corner.at.to_string()];
        for (index, limit) in corner.limits().into_iter().enumerate() {
            let name = LIMITS.get(index).map_or_else(String::new, |name| name.replace('_', " "));
            row.push(match limit {
                Some((amount, stop)) => {
                    let place = format!("{} {name}", corner.at);
                    let links = stop.links.join(" and ");
                    match reasons.iter_mut().find(|(known, _)| *known == links) {
                        Some((_, places)) => places.push(place),
                        None => reasons.push((links, vec![place])),
                    }
                    Unit::Length.write_number(amount, lengths)
                }
                None if index >= 2 && corner.steer.is_none() => "—".to_owned(),
                None => format!("over {beyond}"),
            });
        }
        table.row(row);
    }
    let mut text = table.text();
    for (links, places) in reasons {
        text += &wrap(&format!("Limit by {links}: {}", places.join("; ")), 96, "  ");
        text.push('\n');
    }
    text + "Stops of rack and dampers come before that: `wheelpath readings` warns where a pose exceeds them.\n"
}
