//! A car as it stands, for programs.

use crate::attitude::{Stood, word_of};
use crate::before_after::{BeforeAfter, CarNames, Paired};
use crate::console::field::{Among, ByAxle, ByWheel, LeftOut, Under, Words};
use crate::console::pose::PoseRecord;
use crate::console::quantity::{Length, Plain};
use crate::console::reading_field::{AxleReadings, WheelReadings};
use crate::console::record::{Output, record};
use crate::on_road::{BodyRecord, GapRecord};
use crate::readings::record::{of_axle, of_wheel};
use wheelpath_geometry::{Car, End, WheelPosition};

record! {
    /// A car, or two, standing.
    pub(crate) struct AttitudeOutput {
        names: Among<CarNames>,
        cars: BeforeAfter<AttitudeRecord>,
    }
}

impl Output for AttitudeOutput {
    const NAME: &'static str = "attitude";
    type Row = Paired<AttitudeRow>;
}

record! {
    /// A car as it stands.
    pub(crate) struct AttitudeRecord {
        /// The pose: the travel of each wheel, rack or pitman arm, steering wheel.
        pose: Under<PoseRecord>,
        /// What is doubtful: stops of steering, damper or joint that the pose exceeds and dead points it is near, in
        /// words.
        warnings: Words,
        /// The body over the road, against the design pose.
        body: Under<BodyRecord>,
        /// The road, seen from the body.
        ground: Under<GroundRecord>,
        /// Wheels held: four, three, rocks (either of two wheels in the air), falls; null where the body was held.
        support: Option<&'static str>,
        /// Readings of each wheel: front_left, front_right, rear_left, rear_right.
        wheels: Under<ByWheel<StandingWheelRecord>>,
        /// Readings of each axle: front, rear.
        axles: Under<ByAxle<AxleReadings>>,
    }
}

record! {
    /// The road, seen from the body.
    pub(crate) struct GroundRecord {
        /// The road's unit normal, upward, in the body's axes: its X.
        normal_x: Plain,
        /// Its Y.
        normal_y: Plain,
        /// Its Z.
        normal_z: Plain,
        /// Height of the body's origin above the road.
        origin_height: Length,
    }
}

record! {
    /// A wheel of a car that stands.
    pub(crate) struct StandingWheelRecord {
        /// Travel of the wheel against the body, + bump.
        travel: Length,
        gap: Among<GapRecord>,
        readings: Among<WheelReadings>,
    }
}

record! {
    /// A wheel, or an axle, of a car that stands.
    pub(crate) struct AttitudeRow {
        /// CSV: the wheel or axle of the row.
        place: &'static str,
        wheel: LeftOut<Among<StandingWheelRecord>>,
        axle: LeftOut<Among<AxleReadings>>,
    }
}

impl AttitudeRecord {
    pub fn of(car: &Car, stood: &Stood) -> Self {
        let normal = stood.ground.normal;
        AttitudeRecord {
            pose: Under(PoseRecord::of(car, &stood.solved.pose)),
            warnings: Words(stood.warnings.clone()),
            body: Under(BodyRecord::of(&stood.body, stood.pitch)),
            ground: Under(GroundRecord {
                normal_x: Plain(normal.x),
                normal_y: Plain(normal.y),
                normal_z: Plain(normal.z),
                origin_height: Length(stood.origin_height()),
            }),
            support: stood.support.as_ref().map(word_of),
            wheels: Under(ByWheel(WheelPosition::ALL.map(|at| stood.wheel_record(at)))),
            axles: Under(ByAxle(End::BOTH.map(|end| of_axle(&stood.solved, end)))),
        }
    }
}

impl AttitudeRow {
    /// A row a wheel, then a row an axle.
    pub fn all_of(stood: &Stood) -> Vec<Self> {
        let wheel = |at: WheelPosition| AttitudeRow {
            place: at.key(),
            wheel: LeftOut(Some(Among(stood.wheel_record(at)))),
            axle: LeftOut(None),
        };
        let axle = |end: End| AttitudeRow {
            place: end.name(),
            wheel: LeftOut(None),
            axle: LeftOut(Some(Among(of_axle(&stood.solved, end)))),
        };
        WheelPosition::ALL.into_iter().map(wheel).chain(End::BOTH.into_iter().map(axle)).collect()
    }
}

impl Stood {
    fn wheel_record(&self, at: WheelPosition) -> StandingWheelRecord {
        StandingWheelRecord {
            travel: Length(self.solved.pose.travel_of(at)),
            gap: Among(GapRecord::of(&self.hanging, at)),
            readings: Among(of_wheel(&self.solved, at)),
        }
    }
}
