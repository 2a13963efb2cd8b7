//! Readings along wheel travel, steer, a grid of both, or poses from a table.

pub(crate) mod held;
pub(crate) mod poses;
pub(crate) mod record;
pub(crate) mod rows;
pub(crate) mod table;

use crate::arguments::sweep::{Over, SweepArguments, SweepFormat};
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::failure::Failure;
use crate::console::streams::Console;
use crate::console::vocabulary::ReadingOrAll;
use crate::opened_car::ready;
use crate::readings::toe_in_tables_only;
use crate::sweep::poses::Asked;
use crate::sweep::rows::Rows;
use crate::sweep::table::{charts, table};
use crate::tally::{Tally, say_of_both};
use std::collections::HashSet;
use wheelpath_geometry::{AxlePose, Reading, SweepPoint, axle_readings, reading, wheel_readings};
use wheelpath_report::folded;

pub(crate) fn run(arguments: &SweepArguments, io: &mut Console) -> Result<u8, Failure> {
    let data = matches!(arguments.format, SweepFormat::Json | SweepFormat::Csv);
    if arguments.toe.given() && data {
        return Err(toe_in_tables_only());
    }
    let asked = Asked::of(arguments)?;
    let drawn = matches!(arguments.format, SweepFormat::Chart | SweepFormat::Svg);
    if drawn && asked.over == Over::Grid {
        return Err(Failure::wrong_use(
            "a grid has no single curve to chart",
            "ask for --over travel or --over steer, or for a table",
        ));
    }
    let mut readings = readings(&asked, data);
    if let (SweepFormat::Svg, several) = (arguments.format, readings.len())
        && several != 1
    {
        return Err(Failure::wrong_use(
            format!("an svg figure has one reading, not {several}"),
            "choose it, such as --readings toe",
        ));
    }
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let cars = arguments.proposal.cars(&at_hand, solver, io)?;
    // Data has one set of keys for every car.
    let beam = cars.iter().any(|one| one.car.axle(arguments.axle).is_beam());
    if asks_all(arguments) && !data && !beam {
        readings.retain(|reading| !reading.is_of_beams());
    }
    let usual = io.lengths().usual_travel();
    let poses = cars.each(io, |one, _| asked.poses(&one.car, &cars.before.car, usual))?;
    let tallies = if data {
        let rows = Rows::of(arguments, &cars, &poses, (&readings, arguments.units.lengths(io)));
        rows.print(io)?
    } else {
        shown(&asked, &cars, &poses, &readings, io)?
    };
    say_of_both(&cars, &tallies, io)
}

/// Tables and charts: every pose is there before the first line is written.
fn shown(
    asked: &Asked<'_>,
    cars: &BeforeAfter<Proposed>,
    poses: &BeforeAfter<Vec<AxlePose>>,
    readings: &[&Reading],
    io: &mut Console,
) -> Result<BeforeAfter<Tally>, Failure> {
    let arguments = asked.arguments;
    let both = cars.with(poses);
    let mut tallies = cars.map(|_| Tally::default());
    let sweep = |one: &Proposed, poses: &[AxlePose], tally: &mut Tally| -> Vec<SweepPoint> {
        let mut points = Vec::with_capacity(poses.len());
        one.solver.axle(arguments.axle).sweep_each(poses, readings, |point, beyond| {
            tally.count(point.result.as_ref().err(), &beyond);
            points.push(point);
        });
        points
    };
    let before = sweep(&cars.before, &poses.before, &mut tallies.before);
    let after = match (both.after, &mut tallies.after) {
        (Some((one, poses)), Some(tally)) => Some(sweep(one, poses, tally)),
        _ => None,
    };
    if let (Some(after), Some(tally)) = (&after, &mut tallies.after) {
        let lost =
            |(before, after): &(&SweepPoint, &SweepPoint)| before.result.is_ok() && after.result.is_err();
        tally.lost = before.iter().zip(after).filter(lost).count();
    }
    let sweeps = BeforeAfter { before, after };
    let style = arguments.toe.style(arguments.units.lengths(io));
    let text = match arguments.format {
        SweepFormat::Chart | SweepFormat::Svg => {
            let across = asked.across(&cars.before.car, &poses.before);
            charts(arguments, (across, cars), &sweeps, readings, &style)
        }
        _ => folded(&table(asked, cars, &sweeps, readings, &style)),
    };
    io.print(&text)?;
    Ok(tallies)
}

fn asks_all(arguments: &SweepArguments) -> bool {
    arguments.readings.iter().any(|one| matches!(one, ReadingOrAll::All))
}

fn readings(asked: &Asked<'_>, data: bool) -> Vec<&'static Reading> {
    let given = &asked.arguments.readings;
    let all = asks_all(asked.arguments) || (data && given.is_empty());
    if all {
        return wheel_readings().iter().chain(axle_readings()).collect();
    }
    let few: &[&str] = match asked.over {
        Over::Travel | Over::Roll => &["toe", "camber_to_road", "half_track_change", "roll_centre_height"],
        Over::Steer => &["steer_angle", "camber_to_road", "ackermann_error", "ackermann_inner"],
        Over::Grid => &["toe", "camber_to_road"],
    };
    let mut met = HashSet::new();
    let given: Vec<_> = given
        .iter()
        .filter_map(|one| match one {
            ReadingOrAll::One(reading) => Some(*reading),
            ReadingOrAll::All => None,
        })
        .filter(|reading| met.insert(reading.key))
        .collect();
    if given.is_empty() { few.iter().filter_map(|key| reading(key)).collect() } else { given }
}
