//! A sweep for programs: a row a pose, written as it is solved.

use crate::arguments::sweep::{SweepArguments, SweepFormat};
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::data::{as_given, heading, key_of, length_key};
use crate::console::failure::Failure;
use crate::console::steer::{steer_key, steering_wheel, unit_of};
use crate::console::streams::Console;
use crate::in_parts::in_parts;
use crate::rows_out::{Cell, Columns, Row};
use crate::stop_values::{stop_keys, stop_values};
use crate::sweep::tally::Tally;
use std::collections::VecDeque;
use std::ops::Range;
use wheelpath_geometry::{AxlePose, End, Exceeded, LengthUnit, Reading, Scope, Side, SweepPoint, Unit};

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

/// Some rows, and what they come to.
struct Part {
    text: String,
    tallies: BeforeAfter<Tally>,
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
        let mut record = heading("sweep");
        self.cars.put_names(&mut record);
        record.insert("axle".into(), self.end.name().into());
        let [start, end] = columns.around(record)?;
        io.print(&start)?;
        let mut tallies = self.cars.map(|_| Tally::default());
        let take = |part: Result<Part, Failure>| {
            let part = part?;
            io.print(&part.text)?;
            tallies.merge(part.tallies);
            Ok(())
        };
        in_parts(self.poses.before.len(), |part| self.part(&columns, part), take)?;
        io.print(&end)?;
        Ok(tallies)
    }

    fn part(&self, columns: &Columns, part: Range<usize>) -> Result<Part, Failure> {
        let mut tallies = self.cars.map(|_| Tally::default());
        let mut rows = columns.rows(part.start == 0);
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
            let row =
                Row { pose: self.pose(one, point), before: self.values(one, point, beyond), after: None };
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
                let mut values = Vec::new();
                if self.own_steering {
                    values.extend(self.steering(one, point));
                }
                values.extend(self.values(one, point, beyond));
                row.after = Some(values);
                put(&row);
            });
        }
        waiting.iter().for_each(|(row, _)| put(row));
        done?;
        Ok(Part { text: rows.text()?, tallies })
    }

    fn columns(&self) -> Columns {
        let input = self.cars.before.car.axle(self.end).steering.input();
        let steering = [steer_key("", input, "", self.lengths), "steering_wheel_deg".to_owned()];
        let travel = |side: Side| length_key(&format!("{side}_travel"), self.lengths);
        let pose = Side::BOTH.into_iter().map(travel).chain(steering.clone()).collect();
        let mut own = Vec::new();
        for reading in self.readings {
            let key = key_of(reading, self.lengths);
            match reading.scope {
                Scope::Wheel => own.extend(Side::BOTH.map(|side| format!("{side}_{key}"))),
                Scope::Axle => own.push(key),
            }
        }
        own.extend(stop_keys(input, self.lengths));
        let after = self.cars.after.as_ref().map(|_| {
            let steering = if self.own_steering { steering.to_vec() } else { Vec::new() };
            steering.into_iter().chain(own.clone()).collect()
        });
        Columns::new(pose, own, after, self.format == SweepFormat::Csv)
    }

    fn pose(&self, one: &Proposed, point: &SweepPoint) -> Vec<Cell> {
        let travels =
            point.pose.travel.map(|travel| Cell::number(as_given(travel, Unit::Length, self.lengths)));
        travels.into_iter().chain(self.steering(one, point)).collect()
    }

    fn steering(&self, one: &Proposed, point: &SweepPoint) -> [Cell; 2] {
        let unit = unit_of(one.car.axle(self.end).steering.input());
        let steer = point.pose.steer;
        let wheel = steering_wheel(&one.car, self.end, steer);
        [Cell::number(as_given(steer, unit, self.lengths)), Cell::number(wheel)]
    }

    /// What one car gives at a pose.
    fn values(&self, one: &Proposed, point: &SweepPoint, beyond: &[Exceeded]) -> Vec<Cell> {
        let lengths = self.lengths;
        let values = point.result.as_ref().ok();
        let mut row = Vec::with_capacity(2 * self.readings.len() + 6);
        for reading in self.readings {
            let factor = reading.unit.data_factor(lengths);
            let cell = |value: Option<f64>| value.map_or(Cell::Missing, |value| Cell::number(value * factor));
            match reading.scope {
                Scope::Wheel => row.extend([0, 1].map(|place| {
                    let value = values.and_then(|v| v.wheels.get(place)?.get(reading));
                    cell(value)
                })),
                Scope::Axle => row.push(cell(values.and_then(|v| v.axle.get(reading)))),
            }
        }
        let input = one.car.axle(self.end).steering.input();
        row.extend(stop_values(point.result.as_ref().err(), beyond, input, lengths));
        row
    }
}
