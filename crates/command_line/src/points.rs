//! Where every point of the car stands at a pose.

use crate::arguments::{Format, PointsArguments};
use crate::car_at_hand::CarAtHand;
use crate::data::{Record, csv, heading, json, length, length_key};
use crate::failure::Failure;
use crate::io::Io;
use crate::pose::{pose_in_words, pose_record};
use serde_json::Value;
use wheelpath_geometry::{CarSolver, LengthUnit, SolvedCar, Unit, WheelAt};
use wheelpath_report::{Align, Table};

pub(crate) fn run(arguments: &PointsArguments, io: &mut Io) -> Result<u8, Failure> {
    let (car, solver) = CarAtHand::ready(&arguments.car, io)?;
    let car = &car.loaded.car;
    let solved = arguments.pose.solve(car, &solver, io)?;
    let lengths = arguments.output.units.lengths();
    let corners = WheelAt::ALL.map(|at| (at, points(&solver, &solved.car, at)));
    let text = match arguments.output.format {
        Format::Table => {
            let heading = format!(
                "{}: {}\nX forward, Y left, Z up, on the body; {}\n\n",
                car.name,
                pose_in_words(car, &solved.car.pose, lengths),
                Unit::Length.symbol(lengths)
            );
            heading + &table(&corners, lengths)
        }
        Format::Json => {
            let mut record = heading("points");
            record.insert("car".into(), car.name.clone().into());
            record.insert("pose".into(), pose_record(car, &solved.car.pose, lengths).into());
            record.insert("warnings".into(), solved.warnings.into());
            let corner = |(at, points): &(WheelAt, Vec<Point>)| {
                let points = points.iter().map(|p| (p.key.to_owned(), Value::Object(p.record(lengths))));
                (at.key().to_owned(), Value::Object(points.collect()))
            };
            record.insert("points".into(), Value::Object(corners.iter().map(corner).collect()));
            json(record)
        }
        Format::Csv => {
            let row = |at: &WheelAt, point: &Point| -> Record {
                let names = [("corner", at.key()), ("name", point.key)];
                let names = names.map(|(key, name)| (key.to_owned(), Value::from(name)));
                names.into_iter().chain(point.record(lengths)).collect()
            };
            let all = corners.iter().flat_map(|(at, points)| points.iter().map(move |p| row(at, p)));
            csv(&all.collect::<Vec<_>>())
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

fn table(corners: &[(WheelAt, Vec<Point>)], lengths: LengthUnit) -> String {
    let mut table = Table::new(&[
        ("Point", Align::Left),
        ("X", Align::Right),
        ("Y", Align::Right),
        ("Z", Align::Right),
        ("key", Align::Left),
    ]);
    for (at, points) in corners {
        table.heading(&format!("{at}"));
        for point in points {
            let mut row = vec![format!("  {}", point.label)];
            row.extend(point.at.map(|metres| Unit::Length.write_number(metres, lengths)));
            row.push(point.key.to_owned());
            table.row(row);
        }
    }
    table.text()
}
