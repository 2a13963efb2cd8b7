//! Will it fit: distances of parts, angles of joints, what is left to stops and dead points.

pub(crate) mod in_words;

use crate::arguments::subcommands::{ClearancesArguments, Format};
use crate::beside_car::Proposed;
use crate::check::counted;
use crate::clearances::in_words::in_words;
use crate::console::data::{Record, csv, given, heading, json, length, length_key, quantity};
use crate::console::failure::{Failure, hint_of};
use crate::console::pose::metres;
use crate::console::steer::{put_steer, unit_of};
use crate::console::streams::Console;
use crate::opened_car::ready;
use nalgebra::Vector3;
use serde_json::Value;
use std::collections::HashSet;
use wheelpath_geometry::{AxlePose, Car, End, LengthUnit, Part, Side, SteerInput, Unit, WheelPosition};
use wheelpath_report::folded;
use wheelpath_studies::clearance::{
    Clearance, Clearances, JointAngle, PartName, Range, Softest, StopMargin, StopOf, clearances,
};

/// Poses of a grid that are looked at at once; more take minutes.
const MOST: u64 = 200_000;
/// Threads that share the rows.
const THREADS: usize = 2;

pub(crate) fn run(arguments: &ClearancesArguments, io: &mut Console) -> Result<u8, Failure> {
    let (count, steers) = (arguments.count, arguments.steer_count);
    let asked = u64::from(count).saturating_mul(u64::from(count.max(steers.saturating_mul(2))));
    if asked > MOST {
        return Err(Failure::wrong_use(
            format!("{asked} poses are more than {MOST}"),
            "ask for fewer with --count and --steer-count",
        ));
    }
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let cars = arguments.proposal.cars(&at_hand, solver, io)?;
    let counts = [count, steers].map(|count| usize::try_from(count).unwrap_or(usize::MAX));
    let usual = io.lengths().usual_travel();
    let of = |one: &Proposed, end: End| {
        let travel = [arguments.from_mm.map_or(-usual, metres), arguments.to_mm.map_or(usual, metres)];
        let range = Range::of(one.car.axle(end), travel, counts[0], counts[1]);
        (clearances(&one.car, &one.solver, end, &range, THREADS), range)
    };
    let ends = arguments.axle.ends();
    let found = cars.map(|one| ends.iter().map(|&end| of(one, end)).collect::<Vec<_>>());
    let both = cars.with(&found);
    let lengths = arguments.output.units.lengths(io);
    match arguments.output.format {
        Format::Table => io.print(&folded(&in_words(&cars, &found, arguments.all, lengths)))?,
        Format::Json => {
            let mut out = heading("clearances");
            cars.put_names(&mut out);
            let record = |(one, found): &(&Proposed, &Vec<(Clearances, Range)>)| -> Record {
                let axles = found.iter().map(|(axle, _)| Value::Object(axle_record(&one.car, axle, lengths)));
                std::iter::once(("axles".to_owned(), axles.collect::<Vec<_>>().into())).collect()
            };
            both.map(record).put(&mut out);
            io.print(&json(out)?)?;
        }
        Format::Csv => {
            let rows = both.map(|(one, found)| {
                found.iter().flat_map(|(axle, _)| rows(&one.car, axle, lengths)).collect::<Vec<Record>>()
            });
            io.print(&csv(&rows.rows(&NAMES, false))?)?;
        }
    }
    let mut code = 0;
    for (one, name) in found.iter().zip([None, cars.after.as_ref().map(|after| after.name.as_str())]) {
        io.speak_of(name);
        one.iter().try_for_each(|(one, _)| doubts(one, lengths, io))?;
        code = code.max(unreachable(one, io)?);
    }
    // What does not fit in the car itself is not the proposals' doing.
    let found = found.last();
    let overlaps = found.iter().flat_map(|(one, _)| &one.pairs).filter(|one| one.distance < 0.0).count();
    let joints = found.iter().flat_map(|(one, _)| &one.joints);
    let beyond = joints.filter(|one| one.margin().is_some_and(|margin| margin < 0.0)).count();
    if overlaps + beyond == 0 {
        return Ok(code);
    }
    let mut said = Vec::new();
    if overlaps > 0 {
        said.push(format!("{} of parts overlap", counted(overlaps, "pair")));
    }
    if beyond > 0 {
        said.push(format!("{} beyond what the joint allows", counted(beyond, "joint angle")));
    }
    io.error(&format!("it does not fit: {}", said.join("; ")))?;
    Ok(1)
}

/// The keys that say what a row is about.
const NAMES: [&str; 9] =
    ["axle", "kind", "first_place", "first_part", "second_place", "second_part", "wheel", "joint", "stop_of"];

/// Says what overlaps, what goes too far, and which poses were left out.
fn doubts(found: &Clearances, lengths: LengthUnit, io: &mut Console) -> Result<(), Failure> {
    for one in found.pairs.iter().filter(|one| one.distance < 0.0) {
        let [a, b] = one.of;
        let deep = Unit::Length.write(-one.distance, lengths);
        io.warn(
            &format!("{a} and {b} overlap by {deep}"),
            "look at the points and at the radii of both parts; a radius that is not given is a guess",
        )?;
    }
    for one in &found.joints {
        if let (Some(margin), Some(limit)) = (one.margin(), one.limit)
            && margin < 0.0
        {
            let write = |angle: f64| Unit::Degree.write(angle, lengths);
            let (beyond, limit) = (write(-margin), write(limit));
            io.warn(
                &format!(
                    "{}: the joint at {} goes {beyond} beyond its limit of {limit}",
                    one.wheel, one.joint
                ),
                "take a joint that goes further, or turn its bolt",
            )?;
        }
    }
    if found.beyond_stops > 0 {
        let (beyond, poses, end) = (found.beyond_stops, found.poses, found.end);
        io.warn(
            &format!("{end} axle: {beyond} of {poses} poses stand beyond a stop and are left out"),
            "the links close there, but the car cannot go so far; ask for less travel",
        )?;
    }
    for one in &found.near_dead_points {
        io.warn(
            &one.near.in_words(io.lengths()),
            "the numbers are soft there; `wheelpath check` lists how far each wheel goes",
        )?;
    }
    Ok(())
}

/// Says each limit once and returns the exit code.
fn unreachable(found: &[(Clearances, Range)], io: &mut Console) -> Result<u8, Failure> {
    let mut said = HashSet::new();
    for stop in found.iter().flat_map(|(one, _)| &one.unreachable) {
        let message = stop.in_words(io.lengths());
        if said.insert(message.clone()) {
            io.warn(&message, hint_of(stop))?;
        }
    }
    let missed: usize = found.iter().map(|(one, _)| one.unreachable.len()).sum();
    if missed == 0 {
        return Ok(0);
    }
    let poses: usize = found.iter().map(|(one, _)| one.poses).sum();
    io.error(&format!("{missed} of {poses} poses cannot be reached"))?;
    Ok(1)
}

fn put_pose(record: &mut Record, car: &Car, end: End, pose: &AxlePose, lengths: LengthUnit) {
    let [left, right] = pose.travel;
    record.insert(length_key("left_travel", lengths), given(left, Unit::Length, lengths));
    record.insert(length_key("right_travel", lengths), given(right, Unit::Length, lengths));
    put_steer(record, car, end, pose.steer, lengths);
}

fn put_point(record: &mut Record, name: &str, at: &Vector3<f64>, lengths: LengthUnit) {
    for (axis, value) in ["x", "y", "z"].into_iter().zip(at.iter()) {
        record.insert(length_key(&format!("{name}_{axis}"), lengths), length(*value, lengths));
    }
}

pub(crate) fn put_part(record: &mut Record, name: &str, part: &PartName) {
    record.insert(format!("{name}_place"), part.place().into());
    record.insert(format!("{name}_part"), part.what.key().into());
}

fn distance_record(car: &Car, one: &Clearance, lengths: LengthUnit) -> Record {
    let mut record = Record::new();
    for (name, (part, at)) in ["first", "second"].into_iter().zip(one.of.iter().zip(&one.at)) {
        put_part(&mut record, name, part);
        put_point(&mut record, name, at, lengths);
    }
    record.insert(length_key("distance", lengths), length(one.distance, lengths));
    record.insert("searched".into(), one.refined.into());
    put_pose(&mut record, car, one.of[0].end, &one.pose, lengths);
    record
}

fn joint_record(car: &Car, one: &JointAngle, lengths: LengthUnit) -> Record {
    let degrees = |angle: f64| quantity(angle, Unit::Degree, lengths);
    let mut record = Record::new();
    record.insert("wheel".into(), one.wheel.key().into());
    record.insert("joint".into(), one.joint.key().into());
    record.insert("angle_deg".into(), degrees(one.angle));
    record.insert("on_bolt".into(), one.on_bolt.into());
    record.insert("limit_deg".into(), one.limit.map(degrees).into());
    record.insert("margin_deg".into(), one.margin().map(degrees).into());
    record.insert("reserve_deg".into(), one.margin().map(degrees).into());
    put_pose(&mut record, car, one.wheel.end, &one.pose, lengths);
    record
}

/// What of a stop, whose it is, and what its margin is counted in.
fn stop_words(car: &Car, stop: StopOf) -> (&'static str, End, Option<WheelPosition>, SteerInput) {
    match stop {
        StopOf::Steering { end, positive } => {
            let word = if positive { "steering_positive" } else { "steering_negative" };
            (word, end, None, car.axle(end).steering.input())
        }
        StopOf::DamperShort(wheel) => ("damper_short", wheel.end, Some(wheel), SteerInput::RackTravel),
        StopOf::DamperLong(wheel) => ("damper_long", wheel.end, Some(wheel), SteerInput::RackTravel),
    }
}

fn stop_record(car: &Car, one: &StopMargin, lengths: LengthUnit) -> Record {
    let (word, end, wheel, input) = stop_words(car, one.stop);
    let unit = unit_of(input);
    let mut record = Record::new();
    record.insert("wheel".into(), wheel.map(WheelPosition::key).into());
    record.insert("stop_of".into(), word.into());
    for key in ["margin", "reserve"] {
        record.insert(format!("{key}{}", unit.key_suffix(lengths)), quantity(one.margin, unit, lengths));
    }
    put_pose(&mut record, car, end, &one.pose, lengths);
    record
}

fn soft_record(car: &Car, one: &Softest, lengths: LengthUnit) -> Record {
    let mut record = Record::new();
    record.insert("wheel".into(), one.near.wheel.key().into());
    // Radians for a metre: degrees for a millimetre.
    let turn = quantity(one.near.turn_per_metre / 1e3, Unit::Degree, lengths);
    record.insert("turn_deg_per_mm".into(), turn);
    record.insert("links".into(), one.near.links.clone().into());
    put_pose(&mut record, car, one.near.wheel.end, &one.pose, lengths);
    record
}

fn axle_record(car: &Car, found: &Clearances, lengths: LengthUnit) -> Record {
    let list = |records: Vec<Record>| -> Value { records.into_iter().map(Value::Object).collect() };
    let mut record = Record::new();
    record.insert("axle".into(), found.end.name().into());
    record.insert("poses".into(), found.poses.into());
    record.insert("unreachable".into(), found.unreachable.len().into());
    record.insert("beyond_stops".into(), found.beyond_stops.into());
    let distances = found.pairs.iter().map(|one| distance_record(car, one, lengths)).collect();
    record.insert("distances".into(), list(distances));
    record.insert(
        "joints".into(),
        list(found.joints.iter().map(|one| joint_record(car, one, lengths)).collect()),
    );
    record
        .insert("stops".into(), list(found.stops.iter().map(|one| stop_record(car, one, lengths)).collect()));
    let soft = found.near_dead_points.iter().map(|one| soft_record(car, one, lengths)).collect();
    record.insert("near_dead_points".into(), list(soft));
    let assumed = |&(side, part, radius): &(Option<Side>, Part, f64)| {
        let mut record = Record::new();
        let place =
            side.map_or_else(|| found.end.name(), |side| WheelPosition { end: found.end, side }.key());
        record.insert("place".into(), place.into());
        record.insert("part".into(), part.key().into());
        record.insert(length_key("radius", lengths), length(radius, lengths));
        record
    };
    record.insert("assumed_radii".into(), list(found.assumed_radii.iter().map(assumed).collect()));
    let rims: Vec<&str> = found.assumed_rims.iter().map(|wheel| wheel.key()).collect();
    record.insert("assumed_rims".into(), rims.into());
    let joined = |[a, b]: &[PartName; 2]| {
        let mut record = Record::new();
        put_part(&mut record, "first", a);
        put_part(&mut record, "second", b);
        record
    };
    record.insert("joined".into(), list(found.joined.iter().map(joined).collect()));
    record
}

/// A row a distance, joint, stop and dead point.
fn rows(car: &Car, found: &Clearances, lengths: LengthUnit) -> Vec<Record> {
    let of = |kind: &'static str, record: Record| -> Record {
        let start = [("axle".to_owned(), found.end.name().into()), ("kind".to_owned(), kind.into())];
        start.into_iter().chain(record).collect()
    };
    let distances = found.pairs.iter().map(|one| of("distance", distance_record(car, one, lengths)));
    let joints = found.joints.iter().map(|one| of("joint", joint_record(car, one, lengths)));
    let stops = found.stops.iter().map(|one| of("stop", stop_record(car, one, lengths)));
    let soft = found.near_dead_points.iter().map(|one| of("dead_point", soft_record(car, one, lengths)));
    distances.chain(joints).chain(stops).chain(soft).collect()
}
