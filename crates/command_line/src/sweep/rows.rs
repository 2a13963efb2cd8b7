//! A sweep for programs: a row a pose, written as it is solved.

use crate::arguments::sweep::{SweepArguments, SweepFormat};
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::failure::Failure;
use crate::console::pose::AxlePoseRecord;
use crate::console::record::keys_of;
use crate::console::steer::SteerRecord;
use crate::console::streams::Console;
use crate::pose_rows::{Part, print_rows};
use crate::rows_out::{Columns, Row, Streamed, cells_of};
use crate::stop_values::StopRecord;
use crate::sweep::record::{SweepOutput, SweptValues};
use crate::tally::Tally;
use std::collections::VecDeque;
use std::ops::Range;
use wheelpath_geometry::{AxlePose, End, Exceeded, LengthUnit, Reading, SweepPoint};

/// The rows of a sweep.
pub(crate) struct Rows<'a> {
    cars: &'a BeforeAfter<Proposed>,
    poses: &'a BeforeAfter<Vec<AxlePose>>,
    readings: &'a [&'static Reading],
    end: End,
    lengths: LengthUnit,
    format: SweepFormat,
    /// Whether the proposals change how the steering stands in the same pose: then the second car has its
    /// own steering in its rows.
    own_steering: bool,
}

impl<'a> Rows<'a> {
    pub fn of(
        arguments: &SweepArguments,
        cars: &'a BeforeAfter<Proposed>,
        poses: &'a BeforeAfter<Vec<AxlePose>>,
        (readings, lengths): (&'a [&'static Reading], LengthUnit),
    ) -> Self {
        let end = arguments.axle;
        let own_steering = match (&cars.after, &poses.after) {
            (Some(after), Some(later)) => {
                cars.before.car.axle(end).steering != after.car.axle(end).steering || *later != poses.before
            }
            _ => false,
        };
        Rows { cars, poses, readings, end, lengths, format: arguments.format, own_steering }
    }

    /// Solves and writes them.
    pub fn print(&self, io: &mut Console) -> Result<BeforeAfter<Tally>, Failure> {
        let columns = self.columns();
        let output =
            SweepOutput { names: self.cars.car_names(), axle: self.end.name(), rows: Streamed::here() };
        let around = columns.around(&output, |output| &output.rows, self.lengths)?;
        print_rows(self.cars, self.poses.before.len(), &around, |part| self.part(&columns, part), io)
    }

    fn part(&self, columns: &Columns, part: Range<usize>) -> Result<Part, Failure> {
        let mut tallies = self.cars.map(|_| Tally::default());
        let mut rows = columns.rows(part.start == 0);
        let room = columns.width() + 2;
        let mut done = Ok(());
        let mut put = |row: &Row| {
            if done.is_ok() {
                done = rows.put(row);
            }
        };
        let sweep = |one: &Proposed, poses: &[AxlePose], each: &mut dyn FnMut(&SweepPoint, &[Exceeded])| {
            let poses = poses.get(part.clone()).unwrap_or_default();
            let each = |point, beyond: Vec<Exceeded>| each(&point, &beyond);
            one.solver.axle(self.end).sweep_each(poses, self.readings, each);
        };
        // A row of two cars waits until the second has come to its pose.
        let mut waiting = VecDeque::new();
        let one = &self.cars.before;
        sweep(one, &self.poses.before, &mut |point, beyond| {
            tallies.before.count(point.result.as_ref().err(), beyond);
            let pose = AxlePoseRecord::of(&one.car, self.end, &point.pose);
            let pose = cells_of(&pose, 4, self.lengths);
            let before = cells_of(&self.swept(one, point, beyond, false), room, self.lengths);
            let row = Row { pose, before, after: None };
            match &self.cars.after {
                Some(_) => waiting.push_back((row, point.result.is_ok())),
                None => put(&row),
            }
        });
        if let (Some(one), Some(poses), Some(tally)) =
            (&self.cars.after, &self.poses.after, &mut tallies.after)
        {
            sweep(one, poses, &mut |point, beyond| {
                let Some((mut row, reached)) = waiting.pop_front() else { return };
                tally.count(point.result.as_ref().err(), beyond);
                tally.lost += usize::from(reached && point.result.is_err());
                let swept = self.swept(one, point, beyond, self.own_steering);
                row.after = Some(cells_of(&swept, room, self.lengths));
                put(&row);
            });
        }
        waiting.iter().for_each(|(row, _)| put(row));
        done?;
        Ok(Part { text: rows.text()?, tallies })
    }

    fn columns(&self) -> Columns {
        let pose =
            AxlePoseRecord::of(&self.cars.before.car, self.end, &AxlePose { travel: [0.0; 2], steer: 0.0 });
        let keys = |one: &Proposed, own_steering: bool| {
            let input = one.car.axle(self.end).steering.input();
            let swept = SweptValues {
                own_steering: own_steering.then(|| SteerRecord::of(&one.car, self.end, 0.0)),
                readings: self.readings,
                values: None,
                stop: StopRecord::of(None, &[], input, self.lengths),
            };
            keys_of(&swept, self.lengths)
        };
        let after = self.cars.after.as_ref().map(|one| keys(one, self.own_steering));
        let is_csv = self.format == SweepFormat::Csv;
        Columns::new(keys_of(&pose, self.lengths), keys(&self.cars.before, false), after, is_csv)
    }

    /// What one car gives at a pose.
    fn swept<'p>(
        &'p self,
        one: &Proposed,
        point: &'p SweepPoint,
        beyond: &[Exceeded],
        own_steering: bool,
    ) -> SweptValues<'p> {
        let input = one.car.axle(self.end).steering.input();
        SweptValues {
            own_steering: own_steering.then(|| SteerRecord::of(&one.car, self.end, point.pose.steer)),
            readings: self.readings,
            values: point.result.as_ref().ok(),
            stop: StopRecord::of(point.result.as_ref().err(), beyond, input, self.lengths),
        }
    }
}
