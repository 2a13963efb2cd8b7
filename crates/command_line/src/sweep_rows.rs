//! A sweep for programs: a row a pose, written as it is solved.

use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::data::{given, heading, key_of, length_key, number, value_of};
use crate::failure::Failure;
use crate::in_parts::in_parts;
use crate::io::Console;
use crate::rows_out::{Columns, Row};
use crate::steer::{steer_key, steering_wheel, unit_of};
use crate::stop_values::{stop_keys, stop_values};
use crate::sweep_arguments::{SweepArguments, SweepFormat};
use crate::sweep_tally::Tally;
use serde_json::Value;
use std::ops::Range;
use wheelpath_geometry::{AxlePose, End, LengthUnit, Reading, Scope, Side, SweepPoint, Unit};

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
        io.print(&columns.start(record))?;
        let mut tallies = self.cars.map(|_| Tally::default());
        let take = |part: Part| {
            io.print(&part.text)?;
            tallies.merge(part.tallies);
            Ok(())
        };
        in_parts(self.poses.before.len(), |part| self.part(&columns, part), take)?;
        io.print(columns.end())?;
        Ok(tallies)
    }

    fn part(&self, columns: &Columns, part: Range<usize>) -> Part {
        let both = self.cars.with(self.poses);
        let sweeps = both
            .map(|(one, poses)| one.solver.axle(self.end).sweep(poses.get(part.clone()).unwrap_or_default()));
        let mut tallies = self.cars.map(|_| Tally::default());
        let mut text = String::new();
        for (place, point) in sweeps.before.iter().enumerate() {
            let later = sweeps.after.as_ref().and_then(|sweep| sweep.get(place));
            let after = match (&self.cars.after, later, &mut tallies.after) {
                (Some(one), Some(later), Some(tally)) => {
                    tally.lost += usize::from(point.result.is_ok() && later.result.is_err());
                    let mut values = Vec::new();
                    if self.own_steering {
                        values.extend(self.steering(one, later));
                    }
                    values.extend(self.values(one, later, tally));
                    Some(values)
                }
                _ => None,
            };
            let row = Row {
                pose: self.pose(&self.cars.before, point),
                before: self.values(&self.cars.before, point, &mut tallies.before),
                after,
            };
            columns.put(&mut text, &row, part.start + place == 0);
        }
        Part { text, tallies }
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

    fn pose(&self, one: &Proposed, point: &SweepPoint) -> Vec<Value> {
        let travels = point.pose.travel.map(|travel| given(travel, Unit::Length, self.lengths));
        travels.into_iter().chain(self.steering(one, point)).collect()
    }

    fn steering(&self, one: &Proposed, point: &SweepPoint) -> [Value; 2] {
        let unit = unit_of(one.car.axle(self.end).steering.input());
        let steer = point.pose.steer;
        [given(steer, unit, self.lengths), number(steering_wheel(&one.car, self.end, steer))]
    }

    /// What one car gives at a pose; it is counted.
    fn values(&self, one: &Proposed, point: &SweepPoint, tally: &mut Tally) -> Vec<Value> {
        let lengths = self.lengths;
        let values = point.result.as_ref().ok();
        let mut row = Vec::with_capacity(2 * self.readings.len() + 6);
        for reading in self.readings {
            match reading.scope {
                Scope::Wheel => row.extend([0, 1].map(|place| {
                    let value = values.and_then(|v| v.wheels.get(place)?.get(reading));
                    value_of(reading, value, lengths)
                })),
                Scope::Axle => {
                    row.push(value_of(reading, values.and_then(|v| v.axle.get(reading)), lengths));
                }
            }
        }
        let input = one.car.axle(self.end).steering.input();
        let exceeded = tally.add(&one.car, one.solver.axle(self.end), point);
        row.extend(stop_values(point.result.as_ref().err(), &exceeded, input, lengths));
        row
    }
}
