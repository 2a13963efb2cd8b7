//! Where every point of the car stands at a pose.

pub(crate) mod record;
pub(crate) mod rows;

use crate::arguments::points::PointsArguments;
use crate::arguments::subcommands::Format;
use crate::console::failure::Failure;
use crate::console::pose::{pose_in_words, solve_at};
use crate::console::record::{csv, json};
use crate::console::streams::Console;
use crate::opened_car::ready;
use crate::points::record::{PointRow, PointsOutput, PointsRecord};
use crate::points::rows::PointsRows;
use wheelpath_geometry::{CarSolver, End, LengthUnit, SolvedCar, Unit, WheelPosition};
use wheelpath_report::{Align, Table, folded};

pub(crate) fn run(arguments: &PointsArguments, io: &mut Console) -> Result<u8, Failure> {
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let cars = arguments.proposal.cars(&at_hand, solver, io)?;
    let lengths = arguments.output.units.lengths(io);
    let asked = arguments.poses()?;
    let poses = cars.each(io, |one, _| asked.of(&one.car))?;
    if asked.run() {
        let format = arguments.output.format;
        return PointsRows { cars: &cars, poses: &poses, lengths, format }.print(io);
    }
    let solved = cars.each(io, |one, io| {
        let pose = asked.of(&one.car)?.first().copied().unwrap_or_default();
        solve_at(&pose, &one.solver, io)
    })?;
    let both = cars.with(&solved);
    let all = both.map(|(one, solved)| places(&one.solver, &solved.car));
    let text = match arguments.output.format {
        Format::Table => {
            let pose = both.map(|(one, solved)| pose_in_words(&one.car, &solved.car.pose, lengths));
            let heading = format!(
                "{}: {}\nX forward, Y left, Z up, on the body; {}\n\n",
                cars.names(),
                pose.words(["before: ", "\nafter: "]),
                Unit::Length.symbol(lengths)
            );
            folded(&heading) + &all.map(|all| table(all, lengths)).table(1).text()
        }
        Format::Json => {
            let both = both.map(|(one, solved)| PointsRecord::of(&one.car, &one.solver, solved));
            json(&PointsOutput { names: cars.car_names(), cars: both }, lengths)?
        }
        Format::Csv => {
            if is_elsewhere(&solved.before.car) {
                io.warn(
                    "these are the points of this pose, not of the design pose, which `import` takes them for",
                    "leave the travel and the steering out for a table to import",
                )?;
            }
            let rows = all.map(|all| PointRow::all_of(all));
            csv::<PointsOutput>(&rows.paired(&["corner", "name"], false, lengths)?, lengths)?
        }
    };
    io.print(&text)?;
    Ok(0)
}

/// Whether the car stands in another pose than the design pose.
fn is_elsewhere(solved: &SolvedCar) -> bool {
    solved.pose.steer != 0.0 || solved.pose.travel.iter().any(|travel| *travel != 0.0)
}

pub(crate) struct Point {
    pub key: &'static str,
    label: &'static str,
    /// Metres, vehicle axes.
    pub at: [f64; 3],
}

/// The points of a corner, or of an axle as a whole.
pub(crate) struct Place {
    pub key: &'static str,
    name: String,
    pub points: Vec<Point>,
}

/// All corners, then the axles that have points of their own.
pub(crate) fn places(solver: &CarSolver, solved: &SolvedCar) -> Vec<Place> {
    let corner =
        |at: WheelPosition| Place { key: at.key(), name: at.to_string(), points: points(solver, solved, at) };
    let axle = |end: End| {
        let own = solver.axle_points(solved, end).into_iter();
        let points = own.map(|(p, at)| Point { key: p.key(), label: p.label(), at: at.into() }).collect();
        Place { key: end.name(), name: format!("{end} axle as a whole"), points }
    };
    let axles = End::BOTH.into_iter().map(axle).filter(|place| !place.points.is_empty());
    WheelPosition::ALL.into_iter().map(corner).chain(axles).collect()
}

fn points(solver: &CarSolver, solved: &SolvedCar, at: WheelPosition) -> Vec<Point> {
    let axle = solved.axle(at.end);
    let of_wheel = [
        ("wheel_centre", "wheel centre", axle.motion.corner(at.side).wheel_centre),
        ("contact_point", "contact point", axle.motion.wheel(at.side).contact),
    ];
    let hardpoints = solver.points(solved, at).into_iter().map(|(p, place)| (p.key(), p.label(), place));
    let all = of_wheel.into_iter().chain(hardpoints);
    all.map(|(key, label, place)| Point { key, label, at: place.into() }).collect()
}

pub(crate) fn table(places: &[Place], lengths: LengthUnit) -> Table {
    let mut table = Table::new(&[
        ("Point", Align::Left),
        ("X", Align::Right),
        ("Y", Align::Right),
        ("Z", Align::Right),
        ("key", Align::Left),
    ]);
    for place in places {
        table.heading(&place.name);
        for point in &place.points {
            let mut row = vec![format!("  {}", point.label)];
            row.extend(point.at.map(|metres| Unit::Length.write_number(metres, lengths)));
            row.push(point.key.to_owned());
            table.row(row);
        }
    }
    table
}
