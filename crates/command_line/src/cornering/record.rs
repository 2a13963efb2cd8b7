//! A car cornering, for programs.

use crate::before_after::{BeforeAfter, CarNames, Paired};
use crate::console::field::{Among, ByWheel, Under, Words};
use crate::console::pose::PoseRecord;
use crate::console::quantity::{Degree, DegreePerG, G, InDegrees, Length, LengthPerG, Newton};
use crate::console::record::{Output, record};
use crate::cornering::CorneringCar;
use crate::cornering::estimate_record::EstimateRecord;
use crate::on_road::{BodyRecord, GapRecord};
use wheelpath_geometry::{Car, GRAVITY, Gradients, WheelPosition};

record! {
    /// A car, or two, cornering.
    pub(crate) struct CorneringOutput {
        names: Among<CarNames>,
        /// Horizontal lateral acceleration, + in a left turn.
        lateral: G,
        /// Longitudinal acceleration, + gaining speed.
        longitudinal: G,
        /// Banking of the road, + lowers the inside of a left turn.
        banking: InDegrees,
        /// What the tyres hold along the road across the car: lateral_g cos(banking) - sin(banking).
        lateral_on_road: G,
        /// What presses the car onto the road: cos(banking) + lateral_g sin(banking).
        normal_on_road: G,
        cars: BeforeAfter<CorneringRecord>,
    }
}

impl Output for CorneringOutput {
    const NAME: &'static str = "cornering";
    type Row = Paired<CorneringRow>;
}

record! {
    /// A car cornering.
    pub(crate) struct CorneringRecord {
        /// The pose: the travel of each wheel, rack or pitman arm, steering wheel.
        pose: Under<PoseRecord>,
        /// What is doubtful: stops of steering, damper or joint that the pose exceeds and dead points it is near, in
        /// words.
        warnings: Words,
        /// How the roll came about: given, or estimate.
        lean: &'static str,
        /// How the body moves per g.
        gradients: Under<GradientsRecord>,
        /// The body over the road, against the design pose.
        body: Under<BodyRecord>,
        /// Readings of each wheel: front_left, front_right, rear_left, rear_right.
        wheels: Under<ByWheel<CorneringWheelRecord>>,
        /// What the estimate stands on and gives; null where the roll was given.
        estimate: Option<Under<EstimateRecord>>,
        /// What had to be assumed because the car or the words do not say it.
        assumed: Words,
    }
}

record! {
    /// How the body moves per g.
    pub(crate) struct GradientsRecord {
        /// Roll per g lateral, + outward.
        roll: DegreePerG,
        /// Ride-height change at the front axle per g longitudinal; by an estimate in braking or gaining speed, as
        /// longitudinal_g is.
        front: LengthPerG,
        /// Ride-height change at the rear axle per g longitudinal.
        rear: LengthPerG,
    }
}

record! {
    /// A wheel in a corner.
    pub(crate) struct CorneringWheelRecord {
        /// Travel of the wheel against the body, + bump.
        travel: Length,
        gap: Among<GapRecord>,
        camber_to_road: Degree,
        /// Inclination to the road, + top to the right.
        inclination_to_road: Degree,
        steer_to_road: Degree,
        toe_to_road: Degree,
        /// Load on the tyre in the design pose; null where mass or weight share is not given.
        static_load: Option<Newton>,
        /// Load on the tyre by the estimate; null where the roll was given.
        load: Option<Newton>,
    }
}

record! {
    /// A wheel in a corner, and which.
    pub(crate) struct CorneringRow {
        /// CSV: the wheel or axle of the row.
        place: &'static str,
        wheel: Among<CorneringWheelRecord>,
    }
}

impl GradientsRecord {
    fn of(gradients: &Gradients) -> Self {
        GradientsRecord {
            roll: DegreePerG(gradients.roll.to_degrees() * GRAVITY),
            front: LengthPerG(gradients.front * GRAVITY),
            rear: LengthPerG(gradients.rear * GRAVITY),
        }
    }
}

impl CorneringRecord {
    pub fn of(car: &Car, cornering: &CorneringCar) -> Self {
        let standing = &cornering.car.standing;
        CorneringRecord {
            pose: Under(PoseRecord::of(car, &standing.solved.pose)),
            warnings: Words(cornering.warnings.clone()),
            lean: if cornering.estimate.is_some() { "estimate" } else { "given" },
            gradients: Under(GradientsRecord::of(&cornering.car.gradients)),
            body: Under(BodyRecord::of(&standing.body, standing.pitch)),
            wheels: Under(ByWheel(WheelPosition::ALL.map(|at| cornering.wheel_record(at)))),
            estimate: cornering.estimate.as_ref().map(|estimate| Under(EstimateRecord::of(estimate, car))),
            assumed: Words(cornering.assumed.clone()),
        }
    }
}

impl CorneringRow {
    /// A row a wheel.
    pub fn all_of(cornering: &CorneringCar) -> Vec<Self> {
        let row =
            |at: WheelPosition| CorneringRow { place: at.key(), wheel: Among(cornering.wheel_record(at)) };
        WheelPosition::ALL.into_iter().map(row).collect()
    }
}

impl CorneringCar {
    fn wheel_record(&self, at: WheelPosition) -> CorneringWheelRecord {
        let to_road = &self.car.wheels[at.index()];
        let of = |loads: Option<[f64; 4]>| loads.map(|loads| Newton(loads[at.index()]));
        CorneringWheelRecord {
            travel: Length(self.car.standing.travel(at)),
            gap: Among(GapRecord::of(&self.hanging, at)),
            camber_to_road: Degree(to_road.camber),
            inclination_to_road: Degree(to_road.inclination),
            steer_to_road: Degree(to_road.steer),
            toe_to_road: Degree(to_road.toe),
            static_load: of(self.static_loads),
            load: of(self.loads()),
        }
    }
}
