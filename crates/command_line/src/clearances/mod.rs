//! Will it fit: distances of parts, angles of joints, what is left to stops and dead points.

pub(crate) mod in_words;
pub(crate) mod record;

use crate::arguments::subcommands::{ClearancesArguments, Format};
use crate::beside_car::Proposed;
use crate::check::counted;
use crate::clearances::in_words::in_words;
use crate::clearances::record::{AxleClearancesRecord, ClearancesOutput, ClearancesRecord, ClearancesRow};
use crate::console::failure::{Failure, hint_of};
use crate::console::pose::metres;
use crate::console::record::{csv, json};
use crate::console::streams::Console;
use crate::opened_car::ready;
use std::collections::HashSet;
use wheelpath_geometry::{End, LengthUnit, Unit};
use wheelpath_report::folded;
use wheelpath_studies::clearance::{Clearances, Range, clearances};

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
            let record = |(one, found): &(&Proposed, &Vec<(Clearances, Range)>)| {
                let axles = found.iter().map(|(axle, _)| AxleClearancesRecord::of(&one.car, axle));
                ClearancesRecord { axles: axles.collect() }
            };
            let output = ClearancesOutput { names: cars.car_names(), cars: both.map(record) };
            io.print(&json(&output, lengths)?)?;
        }
        Format::Csv => {
            let rows = both.map(|(one, found)| {
                found.iter().flat_map(|(axle, _)| ClearancesRow::all_of(&one.car, axle)).collect::<Vec<_>>()
            });
            io.print(&csv::<ClearancesOutput>(&rows.paired(&NAMES, false, lengths)?, lengths)?)?;
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
