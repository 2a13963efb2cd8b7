//! Which numbers of the car move a reading most.

use crate::arguments::{Format, MovedOn, SensitivityArguments};
use crate::car_at_hand::CarAtHand;
use crate::data::{Record, csv, heading, json, key_of, number, value_of};
use crate::failure::Failure;
use crate::io::Io;
use crate::pose::{pose_in_words, pose_record};
use serde_json::Value;
use wheelpath_geometry::{
    AxleSolver, ChangedOn, Held, LengthUnit, Parameter, Reading, Scope, Side, SolvedAxle, Unit,
};
use wheelpath_report::{Align, Table, significant};

/// Slopes of less than this share of the largest are rounding.
const NOTHING: f64 = 1e-9;

/// One number of a corner and what the reading does with it.
struct Row {
    parameter: Parameter,
    /// Of the reading, per metre.
    slope: f64,
}

pub(crate) fn run(arguments: &SensitivityArguments, io: &mut Io) -> Result<u8, Failure> {
    let reading = arguments.reading;
    let (car, solver) = CarAtHand::ready(&arguments.car, io)?;
    let car = &car.loaded.car;
    let solved = arguments.pose.solve(car, &solver, io)?;
    let axle = solved.car.axle(arguments.axle);
    let here = match reading.scope {
        Scope::Wheel => axle.wheel_values(arguments.side).get(reading),
        Scope::Axle => axle.axle_values().get(reading),
    };
    let Some(here) = here else {
        return Err(Failure::wrong_use(
            format!("{} has no value on the {} axle at this pose", reading.name, arguments.axle),
            reading.absent,
        ));
    };
    let asked = asked(arguments, solver.axle(arguments.axle));
    if let (Some(pickup), true) = (arguments.pickup, asked.is_empty()) {
        return Err(Failure::wrong_use(
            format!("the {} axle has no {pickup}", arguments.axle),
            "`wheelpath points` lists the points of each corner and axle",
        ));
    }
    let rows = ranked(arguments, solver.axle(arguments.axle), axle, asked);
    if let (Some(pickup), true) = (arguments.pickup, rows.is_empty()) {
        return Err(Failure::wrong_use(
            format!("{} has no derivative to {pickup} at this pose", reading.name),
            "no reading of the axle is made from this point; ask for another",
        ));
    }
    let lengths = arguments.output.units.lengths();
    let text = match arguments.output.format {
        Format::Table => {
            let pose = pose_in_words(car, &solved.car.pose, lengths);
            format!("{}: {pose}\n{}", car.name, table(arguments, here, &rows, lengths))
        }
        Format::Json => {
            let mut record = heading("sensitivity");
            record.insert("car".into(), car.name.clone().into());
            record.insert("pose".into(), pose_record(car, &solved.car.pose, lengths).into());
            record.insert("warnings".into(), solved.warnings.into());
            record.insert("axle".into(), arguments.axle.name().into());
            let side = (reading.scope == Scope::Wheel).then(|| arguments.side.name());
            record.insert("side".into(), side.into());
            record.insert("moved".into(), word_moved(arguments.moved).into());
            record.insert("held".into(), word_held(arguments.held).into());
            record.insert("reading".into(), reading.key.into());
            record.insert(key_of(reading, lengths), value_of(reading, Some(here), lengths));
            let records = rows_for_programs(reading, &rows, lengths);
            record.insert("rows".into(), records.into_iter().map(Value::Object).collect::<Vec<_>>().into());
            json(record)
        }
        Format::Csv => csv(&rows_for_programs(reading, &rows, lengths)),
    };
    io.print(&text)?;
    Ok(0)
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
fn asked(arguments: &SensitivityArguments, solver: &AxleSolver) -> Vec<Parameter> {
    let (_, corner) = changed(arguments);
    let asked = |parameter: &Parameter| match (arguments.pickup, parameter) {
        (None, _) => true,
        (Some(pickup), Parameter::Pickup(one, _)) => pickup == *one,
        (Some(_), _) => false,
    };
    solver.parameters(corner).into_iter().chain(solver.own_parameters()).filter(asked).collect()
}

fn ranked(
    arguments: &SensitivityArguments,
    solver: &AxleSolver,
    at: &SolvedAxle,
    asked: Vec<Parameter>,
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

/// Whether a number is one of the axle as a whole.
fn is_of_axle(parameter: Parameter) -> bool {
    match parameter {
        Parameter::Pickup(pickup, _) => pickup.is_of_axle(),
        Parameter::Length(link) => link.is_of_axle(),
        Parameter::WheelCentre(_) | Parameter::TyreRadius | Parameter::CamberAdjuster => false,
    }
}

fn axis(index: usize) -> &'static str {
    ["x", "y", "z"].get(index).copied().unwrap_or("")
}

/// Key, words and coordinate of a number of a corner.
fn named(parameter: Parameter) -> (String, String, Option<&'static str>) {
    match parameter {
        Parameter::Pickup(pickup, i) => (pickup.key().into(), pickup.label().into(), Some(axis(i))),
        Parameter::Length(link) => {
            (format!("{}_length", link.key()), format!("{}: its length", link.label()), None)
        }
        Parameter::WheelCentre(i) => ("wheel_centre".into(), "wheel centre".into(), Some(axis(i))),
        Parameter::TyreRadius => ("tyre_radius".into(), "tyre radius".into(), None),
        Parameter::CamberAdjuster => ("camber_adjuster".into(), "shims at the upper ball joint".into(), None),
    }
}

fn word_moved(moved: MovedOn) -> &'static str {
    match moved {
        MovedOn::Both => "both",
        MovedOn::Left => "left",
        MovedOn::Right => "right",
    }
}

fn word_held(held: Held) -> &'static str {
    match held {
        Held::DesignPose => "design-pose",
        Held::LinkLengths => "link-lengths",
    }
}

/// A slope per metre in the reading's unit per unit of length.
fn shown(reading: &Reading, slope: f64, lengths: LengthUnit) -> f64 {
    slope * reading.unit.factor(lengths) / Unit::Length.factor(lengths)
}

/// The key of a slope: the reading's unit, then per length.
fn slope_key(reading: &Reading, lengths: LengthUnit) -> String {
    let per = Unit::Length.key_suffix(lengths);
    format!("slope{}_per{per}", reading.unit.key_suffix(lengths))
}

fn rows_for_programs(reading: &Reading, rows: &[Row], lengths: LengthUnit) -> Vec<Record> {
    let row = |(rank, row): (u64, &Row)| -> Record {
        let (key, _, coordinate) = named(row.parameter);
        let mut record = Record::new();
        record.insert("rank".into(), rank.into());
        record.insert("parameter".into(), key.into());
        record.insert("of".into(), if is_of_axle(row.parameter) { "axle" } else { "corner" }.into());
        record.insert("coordinate".into(), coordinate.into());
        record.insert(slope_key(reading, lengths), number(shown(reading, row.slope, lengths)));
        record
    };
    (1..).zip(rows).map(row).collect()
}

fn table(arguments: &SensitivityArguments, here: f64, rows: &[Row], lengths: LengthUnit) -> String {
    let reading = arguments.reading;
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
        Held::DesignPose => "links are cut to length so that the design pose stays",
        Held::LinkLengths => "the links keep their lengths and the wheel goes where they lead it",
    };
    let own = if rows.iter().any(|row| is_of_axle(row.parameter)) {
        "Points and links of the axle as a whole are changed once, as they stand.\n"
    } else {
        ""
    };
    let mut text = format!(
        "{}, {whose}: {}; sign: {}\nPoints {moved};\n{held}.\n{own}\n",
        reading.name,
        reading.unit.write(here, lengths),
        reading.sign
    );
    let length = Unit::Length.symbol(lengths);
    let unit = match reading.unit.symbol(lengths) {
        "" => format!("per {length}"),
        unit => format!("{unit} per {length}"),
    };
    let mut table = Table::with_columns(vec![
        ("#".to_owned(), Align::Right),
        ("Number".to_owned(), Align::Left),
        (String::new(), Align::Left),
        (unit, Align::Right),
    ]);
    let largest = rows.first().map_or(0.0, |row| row.slope.abs());
    let (moving, still): (Vec<_>, Vec<_>) = rows.iter().partition(|row| row.slope.abs() > NOTHING * largest);
    for (rank, row) in (1_usize..).zip(&moving) {
        let (_, label, coordinate) = named(row.parameter);
        let coordinate = coordinate.unwrap_or_default().to_owned();
        table.row(vec![
            rank.to_string(),
            label,
            coordinate,
            significant(shown(reading, row.slope, lengths), 4),
        ]);
    }
    text += &table.text();
    if !still.is_empty() {
        text += &format!("{} other numbers do not move it\n", still.len());
    }
    text
}
