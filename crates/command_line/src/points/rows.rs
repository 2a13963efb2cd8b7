//! Points of the car at many poses: a row a pose, written as it is solved, or a table a pose.

use crate::arguments::subcommands::Format;
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::failure::Failure;
use crate::console::pose::{PoseRecord, pose_in_words};
use crate::console::record::keys_of;
use crate::console::streams::Console;
use crate::points::record::{PointsAtPose, PointsRunOutput};
use crate::points::{places, table};
use crate::pose_rows::{Part, print_rows};
use crate::rows_out::{Cell, Columns, Row, Streamed, cells_of};
use crate::stop_values::StopRecord;
use crate::tally::{Tally, say_of_both};
use std::ops::Range;
use wheelpath_geometry::{CarPose, End, Exceeded, LengthUnit, SolvedCar, Stop};
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
        let output = PointsRunOutput { names: self.cars.car_names(), rows: Streamed::here() };
        let around = match self.format {
            Format::Table => Default::default(),
            _ => columns.around(&output, |output| &output.rows, self.lengths)?,
        };
        let tallies = print_rows(self.cars, poses, &around, |part| self.part(&columns, part), io)?;
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
                .map(|((one, solved), beyond)| self.values(columns, one, solved, beyond));
            let pose = self.poses.before.get(part.start + place).copied().unwrap_or_default();
            let pose = PoseRecord::of(&self.cars.before.car, &pose);
            let pose = cells_of(&pose, 6, self.lengths);
            rows.put(&Row { pose, before: values.before, after: values.after })?;
        }
        Ok(Part { text: text + &rows.text()?, tallies })
    }

    fn columns(&self) -> Columns {
        let pose = PoseRecord::of(&self.cars.before.car, &CarPose::REFERENCE);
        let own = self.cars.map(|one| {
            let start = Ok(one.solver.start());
            keys_of(&self.at_pose(one, &start, &[]), self.lengths)
        });
        let is_csv = self.format == Format::Csv;
        Columns::new(keys_of(&pose, self.lengths), own.before, own.after, is_csv)
    }

    fn at_pose<'a>(
        &self,
        one: &'a Proposed,
        solved: &'a Result<SolvedCar, Stop>,
        beyond: &[Exceeded],
    ) -> PointsAtPose<'a> {
        let input = one.car.axle(End::Front).steering.input();
        PointsAtPose {
            solver: &one.solver,
            solved: solved.as_ref().ok(),
            stop: StopRecord::of(solved.as_ref().err(), beyond, input, self.lengths),
        }
    }

    fn values(
        &self,
        columns: &Columns,
        one: &Proposed,
        solved: &Result<SolvedCar, Stop>,
        beyond: &[Exceeded],
    ) -> Vec<Cell> {
        cells_of(&self.at_pose(one, solved, beyond), columns.width(), self.lengths)
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
