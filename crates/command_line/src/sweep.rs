//! Readings along wheel travel, steer, or a grid of both.

use crate::arguments::{Over, SweepArguments, SweepFormat};
use crate::car_at_hand::CarAtHand;
use crate::chart_of::{Across, along};
use crate::data::{
    Record, heading, key_of, length, length_key, print_csv_rows, print_json_rows, quantity, value_of,
};
use crate::failure::{Failure, hint_of};
use crate::io::Io;
use crate::pose::metres;
use crate::readings::toe_in_tables_only;
use crate::steer::{name_of, put_steer, steer_key, steering_wheel, unit_of};
use crate::sweep_steers::{steer_count, steers};
use crate::vocabulary::ReadingOrAll;
use serde_json::Value;
use std::collections::HashSet;
use wheelpath_geometry::{
    AxlePose, AxleSolver, Car, Exceeded, LengthUnit, Reading, Scope, Side, Stop, StopKind, SweepPoint,
    Travelling, Unit, axle_readings, exceeded_on, over_grid, over_steer, over_travel, reading, spaced,
    wheel_readings,
};
use wheelpath_report::{Align, Style, Table, fixed, wrap};

/// Travel to either side where none is given, mm.
const TRAVEL_MM: f64 = 30.0;

pub(crate) fn run(arguments: &SweepArguments, io: &mut Io) -> Result<u8, Failure> {
    let data = matches!(arguments.format, SweepFormat::Json | SweepFormat::Csv);
    if arguments.toe.given() && data {
        return Err(toe_in_tables_only());
    }
    let drawn = matches!(arguments.format, SweepFormat::Chart | SweepFormat::Svg);
    if drawn && arguments.over == Over::Grid {
        return Err(Failure::wrong_use(
            "a grid has no single curve to chart",
            "ask for --over travel or --over steer, or for a table",
        ));
    }
    let (car, solver) = CarAtHand::ready(&arguments.car, io)?;
    let car = &car.loaded.car;
    let axle = solver.axle(arguments.axle);
    let sweep = sweep(arguments, &poses(arguments, car)?, axle);
    let lengths = arguments.units.lengths();
    let readings = readings(arguments, data);
    let style = arguments.toe.style(&arguments.units);
    let rows = sweep.iter().map(|point| row(car, axle, point, &readings, lengths));
    match arguments.format {
        SweepFormat::Table => io.print(&table(arguments, car, &sweep, &readings, &style))?,
        SweepFormat::Chart | SweepFormat::Svg => {
            io.print(&charts(arguments, car, &sweep, &readings, &style)?)?;
        }
        SweepFormat::Json => {
            let mut record = heading("sweep");
            record.insert("car".into(), car.name.clone().into());
            record.insert("axle".into(), arguments.axle.name().into());
            print_json_rows(record, rows, io)?;
        }
        SweepFormat::Csv => print_csv_rows(rows, io)?,
    }
    beyond_stops(car, axle, &sweep, io)?;
    limits(&sweep, io)
}

/// Poses that are kept in memory at once, some 200 MB.
const MOST: u64 = 200_000;

/// What was said but has no part in this kind of sweep.
fn idle(arguments: &SweepArguments) -> Option<&'static str> {
    let of_grid = [
        ("--rack-from-mm", arguments.rack_from_mm.is_some()),
        ("--rack-to-mm", arguments.rack_to_mm.is_some()),
        ("--rack-count", arguments.rack_count.is_some()),
        ("--pitman-count", arguments.pitman_count.is_some()),
    ];
    let of_box = [
        ("--pitman-from-deg", arguments.pitman_from_deg.is_some()),
        ("--pitman-to-deg", arguments.pitman_to_deg.is_some()),
    ];
    let steer = arguments.steer.given().map_or(("", false), |word| (word, true));
    let travel = ("--travel-mm", arguments.travel_mm.is_some());
    let wheels = ("--wheels", arguments.wheels.is_some());
    let idle = match arguments.over {
        Over::Travel => [of_grid.as_slice(), &of_box, &[travel]].concat(),
        Over::Steer => [of_grid.as_slice(), &[steer, wheels]].concat(),
        Over::Grid => vec![steer, travel],
    };
    idle.into_iter().find(|(_, given)| *given).map(|(name, _)| name)
}

fn poses(arguments: &SweepArguments, car: &Car) -> Result<Vec<AxlePose>, Failure> {
    if let Some(name) = idle(arguments) {
        return Err(Failure::wrong_use(
            format!("{name} has no part in this kind of sweep"),
            "leave it out, or choose another --over; `wheelpath sweep --help` says what goes with what",
        ));
    }
    let rows = if arguments.over == Over::Grid { u64::from(steer_count(arguments, car)?) } else { 1 };
    let asked = u64::from(arguments.count).saturating_mul(rows);
    if asked > MOST {
        return Err(Failure::wrong_use(
            format!("{asked} poses are more than {MOST}"),
            "ask for fewer, or for parts of the range one after the other",
        ));
    }
    let span = |from: Option<f64>, to: Option<f64>, defaults: [f64; 2], count: u32| {
        let or = |given: Option<f64>, default| given.map_or(default, metres);
        spaced(or(from, defaults[0]), or(to, defaults[1]), usize::try_from(count).unwrap_or(usize::MAX))
    };
    let travel = metres(TRAVEL_MM);
    let (from, to, count) = (arguments.from_mm, arguments.to_mm, arguments.count);
    let held = |mm: Option<f64>| mm.map_or(0.0, metres);
    Ok(match arguments.over {
        Over::Travel => {
            let steer = arguments.steer.input(car, arguments.axle)?;
            over_travel(wheels(arguments), &span(from, to, [-travel, travel], count), steer)
        }
        Over::Steer => over_steer([held(arguments.travel_mm); 2], &steers(arguments, car, count)?),
        Over::Grid => {
            let steers = steers(arguments, car, steer_count(arguments, car)?)?;
            over_grid(wheels(arguments), &span(from, to, [-travel, travel], count), &steers)
        }
    })
}

fn wheels(arguments: &SweepArguments) -> Travelling {
    arguments.wheels.unwrap_or(Travelling::Both)
}

/// The points; those of a grid with travel rising in every row, though they were solved there and
/// back.
fn sweep(arguments: &SweepArguments, poses: &[AxlePose], axle: &AxleSolver) -> Vec<SweepPoint> {
    let mut sweep = axle.sweep(poses);
    if arguments.over == Over::Grid {
        let row = usize::try_from(arguments.count).unwrap_or(usize::MAX).max(1);
        for backward in sweep.chunks_mut(row).skip(1).step_by(2) {
            backward.reverse();
        }
    }
    sweep
}

fn readings(arguments: &SweepArguments, data: bool) -> Vec<&'static Reading> {
    let asked = &arguments.readings;
    let all = asked.iter().any(|one| matches!(one, ReadingOrAll::All)) || (data && asked.is_empty());
    if all {
        return wheel_readings().iter().chain(axle_readings()).collect();
    }
    let few: &[&str] = match arguments.over {
        Over::Travel => &["toe", "camber_to_road", "half_track_change", "roll_centre_height"],
        Over::Steer => &["steer_angle", "camber_to_road", "ackermann_error", "ackermann_percent"],
        Over::Grid => &["toe", "camber_to_road"],
    };
    let mut met = HashSet::new();
    let asked: Vec<_> = asked
        .iter()
        .filter_map(|one| match one {
            ReadingOrAll::One(reading) => Some(*reading),
            ReadingOrAll::All => None,
        })
        .filter(|reading| met.insert(reading.key))
        .collect();
    if asked.is_empty() { few.iter().filter_map(|key| reading(key)).collect() } else { asked }
}

/// The word of a kind of limit in data.
pub(crate) fn word_of(kind: StopKind) -> &'static str {
    match kind {
        StopKind::DeadPoint => "dead_point",
        StopKind::OutOfReach => "out_of_reach",
        StopKind::CannotAssemble => "cannot_assemble",
        StopKind::CannotAlign => "cannot_align",
        StopKind::NotFinite => "not_finite",
        StopKind::NoMechanism => "no_mechanism",
    }
}

/// One pose for programs.
fn row(
    car: &Car,
    axle: &AxleSolver,
    point: &SweepPoint,
    readings: &[&Reading],
    lengths: LengthUnit,
) -> Record {
    let mut record = Record::new();
    for (side, travel) in Side::BOTH.into_iter().zip(point.pose.travel) {
        record.insert(length_key(&format!("{side}_travel"), lengths), length(travel, lengths));
    }
    put_steer(&mut record, car, axle.end(), point.pose.steer, lengths);
    let values = point.result.as_ref().ok();
    for reading in readings {
        let key = key_of(reading, lengths);
        match reading.scope {
            Scope::Wheel => {
                for (side, place) in Side::BOTH.into_iter().zip(0..2) {
                    let value = values.and_then(|v| v.wheels.get(place)?.get(reading));
                    record.insert(format!("{side}_{key}"), value_of(reading, value, lengths));
                }
            }
            Scope::Axle => {
                let value = values.and_then(|v| v.axle.get(reading));
                record.insert(key, value_of(reading, value, lengths));
            }
        }
    }
    let stop = point.result.as_ref().err();
    let of = |value: &dyn Fn(&Stop) -> Value| stop.map_or(Value::Null, value);
    record.insert("stop".into(), of(&|stop| word_of(stop.kind).into()));
    record
        .insert("stop_wheel".into(), of(&|stop| stop.wheel.map_or(Value::Null, |wheel| wheel.key().into())));
    record.insert(length_key("stop_travel", lengths), of(&|stop| length(stop.travel, lengths)));
    let input = car.axle(axle.end()).steering.input();
    let steer = of(&|stop| quantity(stop.steer, unit_of(input), lengths));
    record.insert(steer_key("stop_", input, "", lengths), steer);
    record.insert("stop_links".into(), of(&|stop| stop.links.clone().into()));
    let exceeded = exceeded_at(car, axle, point);
    record.insert("exceeds".into(), exceeded.iter().map(ToString::to_string).collect::<Vec<_>>().into());
    record
}

/// Columns wrap their names at this width.
const COLUMN: usize = 12;

fn table(
    arguments: &SweepArguments,
    car: &Car,
    sweep: &[SweepPoint],
    readings: &[&Reading],
    style: &Style,
) -> String {
    let length_unit = Unit::Length.symbol(style.lengths);
    let input = car.axle(arguments.axle).steering.input();
    let steered = arguments.over != Over::Travel;
    let varied = arguments.over != Over::Steer;
    let alike = sweep.iter().all(|p| p.pose.travel[0].to_bits() == p.pose.travel[1].to_bits());
    let sides: &[&str] = match (varied, alike) {
        (false, _) => &[],
        (true, true) => &[""],
        (true, false) => &[" left", " right"],
    };
    let mut columns = Vec::new();
    if steered {
        let name = name_of(input).replace(' ', "\n");
        columns.push(format!("{name}\n{}", unit_of(input).symbol(style.lengths)));
        columns.push("steering\nwheel\n°".to_owned());
    }
    columns.extend(sides.iter().map(|side| format!("travel{side}\n{length_unit}")));
    for reading in readings {
        let name = wrap(&style.name(reading), COLUMN, "");
        let unit = style.unit(reading);
        match reading.scope {
            Scope::Wheel => columns.extend(Side::BOTH.map(|side| format!("{name}\n{side} {unit}"))),
            Scope::Axle => columns.push(format!("{name}\n{unit}")),
        }
    }
    let mut table = Table::with_columns(columns.into_iter().map(|name| (name, Align::Right)).collect());
    for point in sweep {
        let mut cells = Vec::new();
        if steered {
            cells.push(unit_of(input).write_number(point.pose.steer, style.lengths));
            cells.push(fixed(steering_wheel(car, arguments.axle, point.pose.steer), 1));
        }
        let travels = point.pose.travel.iter().take(sides.len());
        cells.extend(travels.map(|&t| Unit::Length.write_number(t, style.lengths)));
        let values = point.result.as_ref().ok();
        for reading in readings {
            match reading.scope {
                Scope::Wheel => cells.extend(
                    [0, 1].map(|i| style.number(reading, values.and_then(|v| v.wheels.get(i)?.get(reading)))),
                ),
                Scope::Axle => cells.push(style.number(reading, values.and_then(|v| v.axle.get(reading)))),
            }
        }
        table.row(cells);
    }
    format!("{}, {} axle\n\n{}", car.name, arguments.axle, table.text())
}

fn charts(
    arguments: &SweepArguments,
    car: &Car,
    sweep: &[SweepPoint],
    readings: &[&Reading],
    style: &Style,
) -> Result<String, Failure> {
    let across = match arguments.over {
        Over::Steer => Across::Steer(car.axle(arguments.axle).steering.input()),
        Over::Travel | Over::Grid => Across::Travel(wheels(arguments)),
    };
    let chart = |reading: &Reading| along(sweep, arguments.axle, across, reading, style);
    match (arguments.format, readings) {
        (SweepFormat::Svg, [one]) => Ok(chart(one).svg()),
        (SweepFormat::Svg, _) => Err(Failure::wrong_use(
            format!("an svg figure has one reading, not {}", readings.len()),
            "choose it, such as --readings toe",
        )),
        _ => Ok(readings.iter().map(|one| chart(one).text()).collect::<Vec<_>>().join("\n")),
    }
}

/// Stops of steering, dampers and joints that the pose goes beyond.
fn exceeded_at(car: &Car, axle: &AxleSolver, point: &SweepPoint) -> Vec<Exceeded> {
    let Ok(values) = &point.result else { return Vec::new() };
    let of = car.axle(axle.end());
    if Side::BOTH.iter().any(|side| !of.corner(*side).joint_limits.is_empty()) {
        // How far a joint swings is no reading: the pose itself is needed.
        let solved = axle.solve(point.pose.travel, point.pose.steer);
        return solved.map_or_else(|_| Vec::new(), |solved| axle.exceeded(&solved));
    }
    let length = reading("damper_length");
    let dampers = values.wheels.map(|wheel| length.and_then(|length| wheel.get(length)));
    exceeded_on(of, axle.end(), point.pose.steer, dampers)
}

/// Says for each stop that poses go beyond the furthest once.
fn beyond_stops(car: &Car, axle: &AxleSolver, sweep: &[SweepPoint], io: &mut Io) -> Result<(), Failure> {
    let mut furthest: Vec<(Exceeded, usize)> = Vec::new();
    for here in sweep.iter().flat_map(|point| exceeded_at(car, axle, point)) {
        match furthest.iter_mut().find(|(known, _)| known.is_same_stop(&here)) {
            Some((known, count)) => {
                *count += 1;
                if here.beyond() > known.beyond() {
                    *known = here;
                }
            }
            None => furthest.push((here, 1)),
        }
    }
    for (stop, count) in furthest {
        io.warn(
            &format!("{stop}, in {count} of {} poses", sweep.len()),
            "the links close there, but the car cannot go so far",
        )?;
    }
    Ok(())
}

/// Says each limit once and returns the exit code.
fn limits(sweep: &[SweepPoint], io: &mut Io) -> Result<u8, Failure> {
    let mut said = HashSet::new();
    let mut missed = 0;
    for stop in sweep.iter().filter_map(|point| point.result.as_ref().err()) {
        missed += 1;
        let message = stop.to_string();
        if said.insert(message.clone()) {
            io.warn(&message, hint_of(stop))?;
        }
    }
    if missed == 0 {
        return Ok(0);
    }
    io.complain(&format!("error: {missed} of {} poses cannot be reached\n", sweep.len()))?;
    Ok(1)
}
