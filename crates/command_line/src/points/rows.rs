//! Points of the car at many poses: a row a pose, written as it is solved, or a table a pose.

use crate::arguments::subcommands::Format;
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::data::{heading, length_key};
use crate::console::failure::Failure;
use crate::console::pose::{pose_in_words, pose_record};
use crate::console::streams::Console;
use crate::in_parts::in_parts;
use crate::points::{Place, places, table};
use crate::rows_out::{Cell, Columns, Row};
use crate::stop_values::{stop_keys, stop_values};
use crate::sweep::tally::{Tally, say_of_both};
use serde_json::Value;
use std::ops::Range;
use wheelpath_geometry::{CarPose, End, Exceeded, LengthUnit, SolvedCar, Stop, Unit};
use wheelpath_report::folded;

/// Tables that a person looks through; more are for programs.
const MOST_TABLES: usize = 1000;

/// The points of both cars at many poses.
pub(crate) struct PointsRows<'a> {
    pub cars: &'a BeforeAfter<Proposed>,
    pub poses: &'a BeforeAfter<Vec<CarPose>>,
    pub lengths: LengthUnit,
    pub format: Format,
}

/// Some poses as text, and what they come to.
struct Part {
    text: String,
    tallies: BeforeAfter<Tally>,
}

impl PointsRows<'_> {
    /// Solves and writes them, and returns the exit code.
    pub fn print(&self, io: &mut Console) -> Result<u8, Failure> {
        let poses = self.poses.before.len();
        if self.format == Format::Table && poses > MOST_TABLES {
            return Err(Failure::wrong_use(
                format!("{poses} poses are more than {MOST_TABLES} tables"),
                "ask for --format csv, a row a pose",
            ));
        }
        let columns = self.columns();
        let mut record = heading("points");
        self.cars.put_names(&mut record);
        let [start, end] = columns.around(record)?;
        if self.format != Format::Table {
            io.print(&start)?;
        }
        let mut tallies = self.cars.map(|_| Tally::default());
        let take = |part: Result<Part, Failure>| {
            let part = part?;
            io.print(&part.text)?;
            tallies.merge(part.tallies);
            Ok(())
        };
        in_parts(poses, |part| self.part(&columns, part), take)?;
        if self.format != Format::Table {
            io.print(&end)?;
        }
        say_of_both(self.cars, &tallies, io)
    }

    fn part(&self, columns: &Columns, part: Range<usize>) -> Result<Part, Failure> {
        let both = self.cars.with(self.poses);
        let solved = both.map(|(one, poses)| follow(one, poses.get(part.clone()).unwrap_or_default()));
        let mut tallies = self.cars.map(|_| Tally::default());
        let mut text = String::new();
        let mut rows = columns.rows(part.start == 0);
        for (place, before) in solved.before.iter().enumerate() {
            let first = part.start + place == 0;
            let here = BeforeAfter { before, after: solved.after.as_ref().and_then(|all| all.get(place)) };
            if let (Some(tally), Some(after)) = (&mut tallies.after, here.after) {
                tally.lost += usize::from(before.is_ok() && after.is_err());
            }
            let beyond = self.cars.with(&here).map(|(one, solved)| beyond(one, solved));
            tallies.before.count(before.as_ref().err(), &beyond.before);
            if let (Some(tally), Some(after), Some(beyond)) = (&mut tallies.after, here.after, &beyond.after)
            {
                tally.count(after.as_ref().err(), beyond);
            }
            if self.format == Format::Table {
                if !first {
                    text.push('\n');
                }
                text += &folded(&self.words(part.start + place, &here));
                continue;
            }
            let values = self
                .cars
                .with(&here)
                .with(&beyond)
                .map(|((one, solved), beyond)| self.values(one, solved, beyond));
            let pose = self.poses.before.get(part.start + place).copied().unwrap_or_default();
            let pose = pose_record(&self.cars.before.car, &pose, self.lengths);
            // A pose is numbers.
            let number = |value: Value| value.as_f64().map_or(Cell::Missing, Cell::number);
            let pose = pose.into_iter().map(|(_, value)| number(value)).collect();
            rows.put(&Row { pose, before: values.before, after: values.after })?;
        }
        Ok(Part { text: text + &rows.text()?, tallies })
    }

    fn columns(&self) -> Columns {
        let pose = pose_record(&self.cars.before.car, &CarPose::REFERENCE, self.lengths);
        let own = self.cars.map(|one| {
            let mut keys: Vec<String> = Vec::new();
            for Place { key, points, .. } in places(&one.solver, &one.solver.start()) {
                for point in &points {
                    let of_axis = |axis| length_key(&format!("{key}_{}_{axis}", point.key), self.lengths);
                    keys.extend(["x", "y", "z"].map(of_axis));
                }
            }
            let input = one.car.axle(End::Front).steering.input();
            keys.extend(stop_keys(input, self.lengths));
            keys
        });
        let pose = pose.into_iter().map(|(key, _)| key).collect();
        Columns::new(pose, own.before, own.after, self.format == Format::Csv)
    }

    fn values(&self, one: &Proposed, solved: &Result<SolvedCar, Stop>, beyond: &[Exceeded]) -> Vec<Cell> {
        let mut row: Vec<Cell> = Vec::new();
        match solved {
            Ok(solved) => {
                for place in places(&one.solver, solved) {
                    let axes = place.points.iter().flat_map(|point| point.at);
                    row.extend(axes.map(|at| Cell::number(at * Unit::Length.data_factor(self.lengths))));
                }
            }
            Err(_) => {
                let points = places(&one.solver, &one.solver.start());
                let count: usize = points.iter().map(|place| place.points.len()).sum();
                row.resize(3 * count, Cell::Missing);
            }
        }
        let input = one.car.axle(End::Front).steering.input();
        row.extend(stop_values(solved.as_ref().err(), beyond, input, self.lengths));
        row
    }

    /// One pose for people.
    fn words(&self, place: usize, here: &BeforeAfter<&Result<SolvedCar, Stop>>) -> String {
        let both = self.cars.with(self.poses);
        let pose = both.map(|(one, poses)| {
            let pose = poses.get(place).copied().unwrap_or_default();
            pose_in_words(&one.car, &pose, self.lengths)
        });
        let title = format!("{}: {}\n", self.cars.names(), pose.words(["before: ", "\nafter: "]));
        let missing = here.map(|solved| match solved {
            Ok(_) => String::new(),
            Err(stop) => format!("cannot be reached: {}\n", stop.in_words(self.lengths)),
        });
        let missing = missing.words(["before: ", "after: "]);
        let tables = self.cars.with(here).map(|(one, solved)| {
            let solved = solved.as_ref().ok()?;
            Some(table(&places(&one.solver, solved), self.lengths))
        });
        let shown = match (tables.before, tables.after) {
            (Some(before), Some(Some(after))) => before.beside(&after, 1).text(),
            (Some(one), _) | (None, Some(Some(one))) => one.text(),
            (None, _) => String::new(),
        };
        format!("{title}{missing}{shown}")
    }
}

/// Each pose, followed from the last that was reached, or where that fails from the design pose.
fn follow(one: &Proposed, poses: &[CarPose]) -> Vec<Result<SolvedCar, Stop>> {
    let mut last: Option<SolvedCar> = None;
    let mut all = Vec::with_capacity(poses.len());
    for pose in poses {
        let followed = last.as_ref().and_then(|last| one.solver.follow(last, pose).ok());
        let solved = followed.map_or_else(|| one.solver.solve(pose), Ok);
        if let Ok(solved) = &solved {
            last = Some(*solved);
        }
        all.push(solved);
    }
    all
}

/// Stops that a pose goes beyond.
fn beyond(one: &Proposed, solved: &Result<SolvedCar, Stop>) -> Vec<Exceeded> {
    let Ok(solved) = solved else { return Vec::new() };
    End::BOTH.into_iter().flat_map(|end| one.solver.axle(end).exceeded(solved.axle(end))).collect()
}
