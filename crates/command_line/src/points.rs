//! Where every point of the car stands at a pose.

use crate::arguments::{Format, PointsArguments};
use crate::car_at_hand::CarAtHand;
use crate::data::{Record, csv, heading, json, length, length_key};
use crate::failure::Failure;
use crate::io::Io;
use crate::pose::{pose_in_words, pose_record};
use serde_json::Value;
use wheelpath_geometry::{CarSolver, End, LengthUnit, SolvedCar, Unit, WheelAt};
use wheelpath_report::{Align, Table};

pub(crate) fn run(arguments: &PointsArguments, io: &mut Io) -> Result<u8, Failure> {
    let (car, solver) = CarAtHand::ready(&arguments.car, io)?;
    let car = &car.loaded.car;
    let solved = arguments.pose.solve(car, &solver, io)?;
    let lengths = arguments.output.units.lengths();
    let all = places(&solver, &solved.car);
    let text = match arguments.output.format {
        Format::Table => {
            let heading = format!(
                "{}: {}\nX forward, Y left, Z up, on the body; {}\n\n",
                car.name,
                pose_in_words(car, &solved.car.pose, lengths),
                Unit::Length.symbol(lengths)
            );
            heading + &table(&all, lengths)
        }
        Format::Json => {
            let mut record = heading("points");
            record.insert("car".into(), car.name.clone().into());
            record.insert("pose".into(), pose_record(car, &solved.car.pose, lengths).into());
            record.insert("warnings".into(), solved.warnings.into());
            let place = |place: &Place| {
                let points =
                    place.points.iter().map(|p| (p.key.to_owned(), Value::Object(p.record(lengths))));
                (place.key.to_owned(), Value::Object(points.collect()))
            };
            record.insert("points".into(), Value::Object(all.iter().map(place).collect()));
            json(record)
        }
        Format::Csv => {
            let row = |place: &Place, point: &Point| -> Record {
                let names = [("corner", place.key), ("name", point.key)];
                let names = names.map(|(key, name)| (key.to_owned(), Value::from(name)));
                names.into_iter().chain(point.record(lengths)).collect()
            };
            let rows = all.iter().flat_map(|place| place.points.iter().map(move |p| row(place, p)));
            csv(&rows.collect::<Vec<_>>())
        }
    };
    io.print(&text)?;
    Ok(0)
}

struct Point {
    key: &'static str,
    label: &'static str,
    /// Metres, vehicle axes.
    at: [f64; 3],
}

impl Point {
    fn record(&self, lengths: LengthUnit) -> Record {
        let axes = ["x", "y", "z"].iter().zip(self.at);
        axes.map(|(axis, at)| (length_key(axis, lengths), length(at, lengths))).collect()
    }
}

/// The points of a corner, or of an axle as a whole.
struct Place {
    key: &'static str,
    name: String,
    points: Vec<Point>,
}

/// All corners, then the axles that have points of their own.
fn places(solver: &CarSolver, solved: &SolvedCar) -> Vec<Place> {
    let corner =
        |at: WheelAt| Place { key: at.key(), name: at.to_string(), points: points(solver, solved, at) };
    let axle = |end: End| {
        let own = solver.axle_points(solved, end).into_iter();
        let points = own.map(|(p, at)| Point { key: p.key(), label: p.label(), at: at.into() }).collect();
        Place { key: end.name(), name: format!("{end} axle as a whole"), points }
    };
    let axles = End::BOTH.into_iter().map(axle).filter(|place| !place.points.is_empty());
    WheelAt::ALL.into_iter().map(corner).chain(axles).collect()
}

fn points(solver: &CarSolver, solved: &SolvedCar, at: WheelAt) -> Vec<Point> {
    let axle = solved.axle(at.end);
    let of_wheel = [
        ("wheel_centre", "wheel centre", axle.motion.corner(at.side).wheel_centre),
        ("contact_point", "contact point", axle.motion.wheel(at.side).contact),
    ];
    let pickups = solver.points(solved, at).into_iter().map(|(p, place)| (p.key(), p.label(), place));
    let all = of_wheel.into_iter().chain(pickups);
    all.map(|(key, label, place)| Point { key, label, at: place.into() }).collect()
}

fn table(places: &[Place], lengths: LengthUnit) -> String {
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
    table.text()
}
