//! Which numbers of the car move a reading most.

pub(crate) mod record;

use crate::arguments::subcommands::{Format, MovedOn, SensitivityArguments};
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::failure::{Complaint, Failure};
use crate::console::pose::{Solved, pose_in_words};
use crate::console::record::{csv, json};
use crate::console::streams::Console;
use crate::opened_car::ready;
use crate::sensitivity::record::{SensitivityOutput, SensitivityRecord, SensitivityRow};
use wheelpath_geometry::{
    Axis, AxleSolver, ChangedOn, LengthUnit, Links, Parameter, Reading, ScalarParameter, Scope, Side,
    SolvedAxle, Unit,
};
use wheelpath_report::{Align, Table, folded, significant};

/// Slopes of less than this share of the largest are rounding.
const NOTHING: f64 = 1e-9;

/// One number of a corner and what the reading does with it.
pub(crate) struct Row {
    parameter: ScalarParameter,
    /// Of the reading, per metre.
    slope: f64,
}

/// What a reading is at the pose, and which numbers move it.
pub(crate) struct Found {
    solved: Solved,
    here: f64,
    rows: Vec<Row>,
}

pub(crate) fn run(arguments: &SensitivityArguments, io: &mut Console) -> Result<u8, Failure> {
    let reading = arguments.reading;
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let cars = arguments.proposal.cars(&at_hand, solver, io)?;
    let found = cars.each(io, |one, io| found(arguments, one, io))?;
    let both = cars.with(&found);
    let lengths = arguments.output.units.lengths(io);
    let rows = found.map(|one| SensitivityRow::all_of(reading, one));
    let same = ["parameter", "of", "coordinate"];
    let text = match arguments.output.format {
        Format::Table => {
            let pose = both.map(|(one, at)| pose_in_words(&one.car, &at.solved.car.pose, lengths));
            let pose = pose.words(["before: ", "\nafter: "]);
            folded(&format!("{}: {pose}\n{}", cars.names(), table(arguments, &found, lengths)))
        }
        Format::Json => {
            let cars_found = both.map(|(one, at)| SensitivityRecord::of(reading, &one.car, at));
            let rows = rows.paired(&same, true, lengths)?;
            json(&SensitivityOutput::of(arguments, cars.car_names(), cars_found, rows), lengths)?
        }
        Format::Csv => csv::<SensitivityOutput>(&rows.paired(&same, false, lengths)?, lengths)?,
    };
    io.print(&text)?;
    Ok(0)
}

/// What one car gives.
fn found(
    arguments: &SensitivityArguments,
    Proposed { car, solver, .. }: &Proposed,
    io: &mut Console,
) -> Result<Found, Failure> {
    let reading = arguments.reading;
    let solved = arguments.pose.solve(car, solver, io)?;
    let axle = solved.car.axle(arguments.axle);
    let name = reading.name_on(axle.motion.context.beam);
    let here = match reading.scope {
        Scope::Wheel => axle.wheel_values(arguments.side).get(reading),
        Scope::Axle => axle.axle_values().get(reading),
    };
    let Some(here) = here else {
        return Err(Failure::wrong_use(
            format!("{name} has no value on the {} axle at this pose", arguments.axle),
            reading.absent,
        ));
    };
    let asked = asked(arguments, solver.axle(arguments.axle));
    if let (Some(hardpoint), true) = (arguments.hardpoint, asked.is_empty()) {
        return Err(Failure::wrong_use(
            format!("the {} axle has no {hardpoint}", arguments.axle),
            "`wheelpath points` lists the points of each corner and axle",
        ));
    }
    let rows = ranked(arguments, solver.axle(arguments.axle), axle, asked);
    if rows.is_empty() {
        let to = arguments
            .hardpoint
            .map_or_else(|| "any number of the car".to_owned(), |hardpoint| hardpoint.to_string());
        return Err(Failure::Fault(vec![Complaint::new(
            format!("{name} has no derivative to {to} at this pose"),
            "it turns a corner or does not exist on one side of this pose: ask at another, such as with \
             --travel-mm 1",
        )]));
    }
    Ok(Found { solved, here, rows })
}

/// On which side numbers are changed, and whose corner they are counted on.
fn changed(arguments: &SensitivityArguments) -> (ChangedOn, Side) {
    match arguments.moved {
        MovedOn::Both => (ChangedOn::Both, arguments.side),
        MovedOn::Left => (ChangedOn::One(Side::Left), Side::Left),
        MovedOn::Right => (ChangedOn::One(Side::Right), Side::Right),
    }
}

/// The numbers asked for: of a corner, then of the axle as a whole.
fn asked(arguments: &SensitivityArguments, solver: &AxleSolver) -> Vec<ScalarParameter> {
    let (_, corner) = changed(arguments);
    let asked = |parameter: &ScalarParameter| match (arguments.hardpoint, parameter) {
        (None, _) => true,
        (Some(hardpoint), ScalarParameter::Coordinate(Parameter::Point(one), _)) => hardpoint == *one,
        (Some(_), _) => false,
    };
    solver.parameters(corner).into_iter().chain(solver.own_parameters()).filter(asked).collect()
}

fn ranked(
    arguments: &SensitivityArguments,
    solver: &AxleSolver,
    at: &SolvedAxle,
    asked: Vec<ScalarParameter>,
) -> Vec<Row> {
    let (on, _) = changed(arguments);
    let reading = arguments.reading;
    let row = |parameter| {
        let slopes = solver.sensitivity(at, parameter, on, arguments.held)?;
        let slope = match reading.scope {
            Scope::Wheel => slopes.wheels[usize::from(arguments.side == Side::Right)].get(reading),
            Scope::Axle => slopes.axle.get(reading),
        };
        slope.map(|slope| Row { parameter, slope })
    };
    let mut rows: Vec<Row> = asked.into_iter().filter_map(row).collect();
    rows.sort_by(|a, b| b.slope.abs().total_cmp(&a.slope.abs()));
    rows
}

/// Key, words and coordinate of a number of a corner.
fn named(parameter: ScalarParameter) -> (String, String, Option<&'static str>) {
    let coordinate = parameter.axis().map(Axis::key);
    match parameter.of() {
        Some(Parameter::Length(link)) => {
            (format!("{}_length", link.key()), format!("{}: its length", link.label()), coordinate)
        }
        Some(one) => (one.key().into(), one.to_string(), coordinate),
        None => ("camber_adjuster".into(), "shims at the upper ball joint".into(), coordinate),
    }
}

/// A slope per metre in the reading's unit of data per unit of length.
fn in_data(reading: &Reading, slope: f64, lengths: LengthUnit) -> f64 {
    slope * reading.unit.data_factor(lengths) / Unit::Length.data_factor(lengths)
}

/// A slope per metre of a reading that is `here`, in the unit that people are shown per small step.
fn shown(reading: &Reading, here: f64, slope: f64, lengths: LengthUnit) -> f64 {
    reading.unit.shown_slope(here, slope, lengths) * lengths.small_step()
}

fn table(arguments: &SensitivityArguments, found: &BeforeAfter<Found>, lengths: LengthUnit) -> String {
    let reading = arguments.reading;
    let name = reading.name_on(found.before.solved.car.axle(arguments.axle).motion.context.beam);
    let whose = match reading.scope {
        Scope::Wheel => format!("{} {} wheel", arguments.axle, arguments.side),
        Scope::Axle => format!("{} axle", arguments.axle),
    };
    let moved = match arguments.moved {
        MovedOn::Both => "moved on both sides alike, Y mirrored (signs as on the left)",
        MovedOn::Left => "moved on the left side only",
        MovedOn::Right => "moved on the right side only",
    };
    let held = match arguments.held {
        Links::Remade => "links are cut to length so that the design pose stays",
        Links::Kept => {
            "links keep their lengths, a strut its line in the upright; the wheel goes where they lead it"
        }
    };
    let own = if found.iter().any(|one| one.rows.iter().any(|row| row.parameter.is_of_axle())) {
        "Points and links of the axle as a whole are changed once, as they stand.\n"
    } else {
        ""
    };
    let here = found.map(|one| reading.unit.write(one.here, lengths));
    let mut text = format!(
        "{name}, {whose}: {}; sign: {}\nPoints {moved};\n{held}.\n{own}\n",
        here.words(["before ", ", after "]),
        reading.sign
    );
    let length = lengths.small_step_in_words();
    let unit = match reading.unit.symbol(lengths) {
        "" => format!("per {length}"),
        unit => format!("{unit} per {length}"),
    };
    let mut columns = vec![
        ("#".to_owned(), Align::Right),
        ("Number".to_owned(), Align::Left),
        (String::new(), Align::Left),
    ];
    if found.after.is_some() {
        columns.push((format!("before\n{unit}"), Align::Right));
        columns.push((format!("after\n{unit}"), Align::Right));
    } else {
        columns.push((unit, Align::Right));
    }
    let mut table = Table::with_columns(columns);
    let mut still = 0;
    for (parameter, slopes) in side_by_side(found) {
        let moves = |(one, slope): (&Found, f64)| {
            let largest = one.rows.first().map_or(0.0, |row| row.slope.abs());
            slope.abs() > NOTHING * largest
        };
        if !found.iter().zip(&slopes).filter_map(|(one, slope)| Some((one, (*slope)?))).any(moves) {
            still += 1;
            continue;
        }
        let (_, label, coordinate) = named(parameter);
        let mut row = vec![(table.len() + 1).to_string(), label, coordinate.unwrap_or_default().to_owned()];
        let write = |(one, slope): (&Found, &Option<f64>)| {
            let shown = |slope| significant(shown(reading, one.here, slope, lengths), 4);
            slope.map_or_else(|| "—".to_owned(), shown)
        };
        row.extend(found.iter().zip(&slopes).map(write));
        table.row(row);
    }
    text += &table.text();
    if still > 0 {
        text += &format!("{still} other numbers do not move it\n");
    }
    text
}

/// Each number with its slope before, and after where proposals are made; those that move the reading most
/// in either come first.
fn side_by_side(found: &BeforeAfter<Found>) -> Vec<(ScalarParameter, Vec<Option<f64>>)> {
    let slope = |one: &Found, parameter: ScalarParameter| {
        one.rows.iter().find(|row| row.parameter == parameter).map(|row| row.slope)
    };
    let mut parameters: Vec<ScalarParameter> = Vec::new();
    for row in found.iter().flat_map(|one| &one.rows) {
        if !parameters.contains(&row.parameter) {
            parameters.push(row.parameter);
        }
    }
    let mut all: Vec<(ScalarParameter, Vec<Option<f64>>)> =
        parameters.into_iter().map(|p| (p, found.iter().map(|one| slope(one, p)).collect())).collect();
    let most =
        |slopes: &[Option<f64>]| slopes.iter().flatten().fold(0.0_f64, |most, slope| most.max(slope.abs()));
    all.sort_by(|a, b| most(&b.1).total_cmp(&most(&a.1)));
    all
}
