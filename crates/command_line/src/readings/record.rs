//! Readings for programs.

use crate::before_after::{BeforeAfter, CarNames, Paired};
use crate::console::field::{Among, ByAxle, ByWheel, LeftOut, Under, Words};
use crate::console::pose::{PoseRecord, Solved};
use crate::console::reading_field::{AxleReadings, WheelReadings};
use crate::console::record::{Output, record};
use wheelpath_geometry::{Car, End, SolvedCar, WheelPosition, axle_readings, wheel_readings};

record! {
    /// The readings of a car, or of two.
    pub(crate) struct ReadingsOutput {
        names: Among<CarNames>,
        cars: BeforeAfter<ReadingsRecord>,
    }
}

impl Output for ReadingsOutput {
    const NAME: &'static str = "readings";
    type Row = Paired<ReadingsRow>;
}

record! {
    /// The readings of a car.
    pub(crate) struct ReadingsRecord {
        /// The pose: the travel of each wheel, rack or pitman arm, steering wheel.
        pose: Under<PoseRecord>,
        /// What is doubtful: stops of steering, damper or joint that the pose exceeds and dead points it is near, in
        /// words.
        warnings: Words,
        /// Readings of each wheel: front_left, front_right, rear_left, rear_right.
        wheels: Under<ByWheel<WheelReadings>>,
        /// Readings of each axle: front, rear.
        axles: Under<ByAxle<AxleReadings>>,
    }
}

record! {
    /// The readings of one wheel, or of one axle.
    pub(crate) struct ReadingsRow {
        /// CSV: the wheel or axle of the row.
        place: &'static str,
        wheel: LeftOut<Among<WheelReadings>>,
        axle: LeftOut<Among<AxleReadings>>,
    }
}

impl ReadingsRecord {
    pub fn of(car: &Car, solved: &Solved) -> Self {
        ReadingsRecord {
            pose: Under(PoseRecord::of(car, &solved.car.pose)),
            warnings: Words(solved.warnings.clone()),
            wheels: Under(ByWheel(WheelPosition::ALL.map(|at| of_wheel(&solved.car, at)))),
            axles: Under(ByAxle(End::BOTH.map(|end| of_axle(&solved.car, end)))),
        }
    }
}

impl ReadingsRow {
    /// A row a wheel, then a row an axle.
    pub fn all_of(solved: &SolvedCar) -> Vec<Self> {
        let wheel = |at: WheelPosition| ReadingsRow {
            place: at.key(),
            wheel: LeftOut(Some(Among(of_wheel(solved, at)))),
            axle: LeftOut(None),
        };
        let axle = |end: End| ReadingsRow {
            place: end.name(),
            wheel: LeftOut(None),
            axle: LeftOut(Some(Among(of_axle(solved, end)))),
        };
        WheelPosition::ALL.into_iter().map(wheel).chain(End::BOTH.into_iter().map(axle)).collect()
    }
}

/// The readings of a wheel.
pub(crate) fn of_wheel(solved: &SolvedCar, at: WheelPosition) -> WheelReadings {
    let values = solved.axle(at.end).wheel_values(at.side);
    WheelReadings(wheel_readings().iter().map(|reading| (reading, values.get(reading))).collect())
}

/// The readings of an axle.
pub(crate) fn of_axle(solved: &SolvedCar, end: End) -> AxleReadings {
    let values = solved.axle(end).axle_values();
    AxleReadings(axle_readings().iter().map(|reading| (reading, values.get(reading))).collect())
}
