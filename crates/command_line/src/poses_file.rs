//! Poses from a table in a file, or from standard input.

use crate::console::failure::{Complaint, Failure};
use crate::console::steer::{steering_of, wrong_word};
use std::io::Read;
use std::path::Path;
use wheelpath_car_file::{PoseColumn, PoseQuantity, PoseTable, parse_poses, system_words};
use wheelpath_geometry::{AxlePose, Car, CarPose, End, Side, SteerInput, WheelPosition};

/// A table of poses, and where it came from.
pub(crate) struct PosesFile {
    pub table: PoseTable,
    file: String,
}

impl PosesFile {
    /// Reads a table; `-` is standard input.
    pub fn read(path: &Path) -> Result<Self, Failure> {
        let (file, bytes) = if path == Path::new("-") {
            let mut bytes = Vec::new();
            let read = std::io::stdin().lock().read_to_end(&mut bytes);
            ("standard input".to_owned(), read.map(|_| bytes))
        } else {
            (path.display().to_string(), std::fs::read(path))
        };
        let bytes = bytes.map_err(|error| {
            Failure::wrong_use(
                format!("cannot read {file}: {}", system_words(&error)),
                "give the path of a table saved as CSV, or - for standard input",
            )
        })?;
        let text = String::from_utf8(bytes).map_err(|error| {
            let message = format!("{file}: byte {} is not UTF-8", error.utf8_error().valid_up_to() + 1);
            Failure::Fault(vec![Complaint::new(message, "save the table as CSV in UTF-8")])
        })?;
        Ok(PosesFile { table: parse_poses(&text, &file)?, file })
    }

    /// How each column's steering becomes the steering input of this axle.
    fn steering<'a>(&'a self, car: &Car, end: End) -> Result<Option<(usize, &'a PoseColumn)>, Failure> {
        let steers = |column: &PoseColumn| !matches!(column.quantity, PoseQuantity::Travel { .. });
        let found = self.table.columns.iter().enumerate().find(|(_, column)| steers(column));
        let Some((place, column)) = found else { return Ok(None) };
        let hint = format!("take the column {} out of {}", column.heading, self.file);
        let steering = steering_of(car, end, &hint)?;
        match (column.quantity, steering.input()) {
            (PoseQuantity::Rack, SteerInput::PitmanAngle) => {
                let hint = "name the column pitman_deg or steering_wheel_deg";
                Err(wrong_word(car, end, &format!("the column {}", column.heading), hint))
            }
            (PoseQuantity::Pitman, SteerInput::RackTravel) => {
                let hint = "name the column rack_mm or steering_wheel_deg";
                Err(wrong_word(car, end, &format!("the column {}", column.heading), hint))
            }
            _ => Ok(Some((place, column))),
        }
    }
}

/// The steering input of a row.
fn steer_of(row: &[f64], steering: Option<(usize, &PoseColumn)>, car: &Car, end: End) -> f64 {
    let Some((place, column)) = steering else { return 0.0 };
    let value = row.get(place).copied().unwrap_or(0.0);
    match column.quantity {
        PoseQuantity::SteeringWheel => car.axle(end).steer_at(value),
        _ => value,
    }
}

/// The travel of a wheel in a row; 0 where no column gives it.
fn travel_of(row: &[f64], columns: &[PoseColumn], wheel: WheelPosition) -> f64 {
    let own = columns.iter().position(|column| column.quantity.moves(wheel));
    own.and_then(|place| row.get(place)).copied().unwrap_or(0.0)
}

/// The poses of one axle.
pub(crate) fn of_axle(poses: &PosesFile, car: &Car, end: End) -> Result<Vec<AxlePose>, Failure> {
    let columns = &poses.table.columns;
    let idle = columns.iter().find(|column| match column.quantity {
        PoseQuantity::Travel { end: of, .. } => of.is_some_and(|of| of != end),
        _ => false,
    });
    if let Some(column) = idle {
        return Err(Failure::wrong_use(
            format!("{}: the column {} is not of the {end} axle, which is swept", poses.file, column.heading),
            "take the column out, or sweep the other axle with --axle",
        ));
    }
    let steering = poses.steering(car, end)?;
    let wheels = Side::BOTH.map(|side| WheelPosition { end, side });
    let pose = |row: &[f64]| AxlePose {
        travel: wheels.map(|wheel| travel_of(row, columns, wheel)),
        steer: steer_of(row, steering, car, end),
    };
    Ok(poses.table.rows().map(pose).collect())
}

/// The poses of a car.
pub(crate) fn of_car(poses: &PosesFile, car: &Car) -> Result<Vec<CarPose>, Failure> {
    let columns = &poses.table.columns;
    let steering = poses.steering(car, End::Front)?;
    let pose = |row: &[f64]| CarPose {
        travel: WheelPosition::ALL.map(|wheel| travel_of(row, columns, wheel)),
        steer: steer_of(row, steering, car, End::Front),
    };
    Ok(poses.table.rows().map(pose).collect())
}
