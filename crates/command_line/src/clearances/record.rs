//! What `clearances` finds, for programs.

use crate::before_after::{BeforeAfter, CarNames, Paired};
use crate::console::field::{Among, LeftOut, Words};
use crate::console::pose::AxlePoseRecord;
use crate::console::quantity::{Degree, DegreePerMillimetre, Length};
use crate::console::record::{Output, record};
use wheelpath_geometry::{Car, End, Part, Side, SteerInput, WheelPosition};
use wheelpath_studies::clearance::{
    Clearance, Clearances, JointAngle, PartName, Softest, StopMargin, StopOf,
};

record! {
    /// What is found of a car, or of two.
    pub(crate) struct ClearancesOutput {
        names: Among<CarNames>,
        cars: BeforeAfter<ClearancesRecord>,
    }
}

impl Output for ClearancesOutput {
    const NAME: &'static str = "clearances";
    type Row = Paired<ClearancesRow>;
}

record! {
    /// What is found of a car.
    pub(crate) struct ClearancesRecord {
        /// What was found of each axle that was asked for.
        axles: Vec<AxleClearancesRecord>,
    }
}

record! {
    /// What is found of an axle.
    pub(crate) struct AxleClearancesRecord {
        /// front or rear.
        axle: &'static str,
        /// How many poses were asked for.
        poses: usize,
        /// How many of them cannot be reached; they are left out.
        unreachable: usize,
        /// How many stand beyond a stop of steering or damper; they are left out of all but `stops`.
        beyond_stops: usize,
        /// The smallest distance of every pair, the smallest first.
        distances: Vec<DistanceRecord>,
        /// The greatest angle of every joint at a link's end.
        joints: Vec<JointRecord>,
        /// What is left to each stop.
        stops: Vec<StopMarginRecord>,
        /// Wheels that come near a dead point, where worst.
        near_dead_points: Vec<DeadPointRecord>,
        /// Parts whose radius the file does not give.
        assumed_radii: Vec<AssumedRadiusRecord>,
        /// Wheels of whose rim's barrel the file says nothing: the tyre's bore stands for it.
        assumed_rims: Words,
        /// Pairs left out because they are joined to one another.
        joined: Vec<PairRecord>,
    }
}

record! {
    /// Two parts.
    pub(crate) struct PairRecord {
        /// Whose the first part of the pair is: front_left, or front.
        first_place: &'static str,
        /// The first part: a part of the car file, perhaps with its leg; tyre; rim.
        first_part: String,
        /// Whose the second part is.
        second_place: &'static str,
        /// The second part.
        second_part: String,
    }
}

record! {
    /// The smallest distance of two parts.
    pub(crate) struct DistanceRecord {
        /// Whose the first part of the pair is: front_left, or front.
        first_place: &'static str,
        /// The first part: a part of the car file, perhaps with its leg; tyre; rim.
        first_part: String,
        /// The nearest point of its surface, + forward.
        first_x: Length,
        /// The nearest point of its surface, + left.
        first_y: Length,
        /// The nearest point of its surface, + up.
        first_z: Length,
        /// Whose the second part is.
        second_place: &'static str,
        /// The second part.
        second_part: String,
        /// The nearest point of its surface, + forward.
        second_x: Length,
        /// The nearest point of its surface, + left.
        second_y: Length,
        /// The nearest point of its surface, + up.
        second_z: Length,
        /// Between the surfaces; - = they overlap by that much.
        distance: Length,
        /// true: the pose was searched for between the nodes of the grid; false: it is a node.
        searched: bool,
        pose: Among<AxlePoseRecord>,
    }
}

record! {
    /// The greatest angle of a joint.
    pub(crate) struct JointRecord {
        /// The wheel whose joint, stop or dead point it is; null for a stop of the axle's steering.
        wheel: &'static str,
        /// The joint: a point of the car file.
        joint: &'static str,
        /// Misalignment on its bolt, or swing from the design pose.
        angle: Degree,
        /// Whether it is the misalignment on a bolt.
        on_bolt: bool,
        /// How far it may go; null where the file does not say.
        limit: Option<Degree>,
        /// What is left to a joint's limit or a pitman arm's stop; - = beyond.
        margin: Option<Degree>,
        /// The same as `margin_deg`, by its older name.
        reserve: Option<Degree>,
        pose: Among<AxlePoseRecord>,
    }
}

record! {
    /// What is left to a stop.
    pub(crate) struct StopMarginRecord {
        /// The wheel whose joint, stop or dead point it is; null for a stop of the axle's steering.
        wheel: Option<&'static str>,
        /// steering_negative or steering_positive end, damper_short (compressed) or damper_long (extended).
        stop_of: &'static str,
        /// What is left to a rack's or damper's stop; - = beyond.
        margin: LeftOut<Length>,
        /// The same as `margin`, by its older name.
        reserve: LeftOut<Length>,
        /// What is left to a joint's limit or a pitman arm's stop; - = beyond.
        margin_of_arm = "margin": LeftOut<Degree>,
        /// The same as `margin_deg`, by its older name.
        reserve_of_arm = "reserve": LeftOut<Degree>,
        pose: Among<AxlePoseRecord>,
    }
}

record! {
    /// A wheel near a dead point.
    pub(crate) struct DeadPointRecord {
        /// The wheel whose joint, stop or dead point it is; null for a stop of the axle's steering.
        wheel: &'static str,
        /// Turn of the wheel's carrier for an error in the length of the link that holds it worst.
        turn: DegreePerMillimetre,
        /// The links that come into line.
        links: Words,
        pose: Among<AxlePoseRecord>,
    }
}

record! {
    /// A part whose radius is not known.
    pub(crate) struct AssumedRadiusRecord {
        /// The wheel or axle.
        place: &'static str,
        /// The part.
        part: &'static str,
        /// What it counts as: this program's own figures.
        radius: Length,
    }
}

record! {
    /// A distance, joint, stop or dead point.
    pub(crate) struct ClearancesRow {
        /// front or rear.
        axle: &'static str,
        /// CSV: distance, joint, stop or dead_point.
        kind: &'static str,
        distance: LeftOut<Among<DistanceRecord>>,
        joint: LeftOut<Among<JointRecord>>,
        stop: LeftOut<Among<StopMarginRecord>>,
        dead_point: LeftOut<Among<DeadPointRecord>>,
    }
}

impl PairRecord {
    pub fn of([first, second]: &[PartName; 2]) -> Self {
        PairRecord {
            first_place: first.place(),
            first_part: first.what.key(),
            second_place: second.place(),
            second_part: second.what.key(),
        }
    }
}

impl DistanceRecord {
    fn of(car: &Car, one: &Clearance) -> Self {
        let PairRecord { first_place, first_part, second_place, second_part } = PairRecord::of(&one.of);
        let [first, second] = &one.at;
        DistanceRecord {
            first_place,
            first_part,
            first_x: Length(first.x),
            first_y: Length(first.y),
            first_z: Length(first.z),
            second_place,
            second_part,
            second_x: Length(second.x),
            second_y: Length(second.y),
            second_z: Length(second.z),
            distance: Length(one.distance),
            searched: one.refined,
            pose: Among(AxlePoseRecord::of(car, one.of[0].end, &one.pose)),
        }
    }
}

impl JointRecord {
    fn of(car: &Car, one: &JointAngle) -> Self {
        JointRecord {
            wheel: one.wheel.key(),
            joint: one.joint.key(),
            angle: Degree(one.angle),
            on_bolt: one.on_bolt,
            limit: one.limit.map(Degree),
            margin: one.margin().map(Degree),
            reserve: one.margin().map(Degree),
            pose: Among(AxlePoseRecord::of(car, one.wheel.end, &one.pose)),
        }
    }
}

impl StopMarginRecord {
    fn of(car: &Car, one: &StopMargin) -> Self {
        let (stop_of, end, wheel, input) = match one.stop {
            StopOf::Steering { end, positive } => {
                let word = if positive { "steering_positive" } else { "steering_negative" };
                (word, end, None, car.axle(end).steering.input())
            }
            StopOf::DamperShort(wheel) => ("damper_short", wheel.end, Some(wheel), SteerInput::RackTravel),
            StopOf::DamperLong(wheel) => ("damper_long", wheel.end, Some(wheel), SteerInput::RackTravel),
        };
        let (length, angle) = match input {
            SteerInput::RackTravel => (Some(Length(one.margin)), None),
            SteerInput::PitmanAngle => (None, Some(Degree(one.margin))),
        };
        StopMarginRecord {
            wheel: wheel.map(WheelPosition::key),
            stop_of,
            margin: LeftOut(length),
            reserve: LeftOut(length),
            margin_of_arm: LeftOut(angle),
            reserve_of_arm: LeftOut(angle),
            pose: Among(AxlePoseRecord::of(car, end, &one.pose)),
        }
    }
}

impl DeadPointRecord {
    fn of(car: &Car, one: &Softest) -> Self {
        DeadPointRecord {
            wheel: one.near.wheel.key(),
            // Radians for a metre: degrees for a millimetre.
            turn: DegreePerMillimetre((one.near.turn_per_metre / 1e3).to_degrees()),
            links: Words::of(&one.near.links),
            pose: Among(AxlePoseRecord::of(car, one.near.wheel.end, &one.pose)),
        }
    }
}

impl AssumedRadiusRecord {
    fn of(end: End, &(side, part, radius): &(Option<Side>, Part, f64)) -> Self {
        AssumedRadiusRecord {
            place: side.map_or_else(|| end.name(), |side| WheelPosition { end, side }.key()),
            part: part.key(),
            radius: Length(radius),
        }
    }
}

impl AxleClearancesRecord {
    pub fn of(car: &Car, found: &Clearances) -> Self {
        AxleClearancesRecord {
            axle: found.end.name(),
            poses: found.poses,
            unreachable: found.unreachable.len(),
            beyond_stops: found.beyond_stops,
            distances: found.pairs.iter().map(|one| DistanceRecord::of(car, one)).collect(),
            joints: found.joints.iter().map(|one| JointRecord::of(car, one)).collect(),
            stops: found.stops.iter().map(|one| StopMarginRecord::of(car, one)).collect(),
            near_dead_points: found
                .near_dead_points
                .iter()
                .map(|one| DeadPointRecord::of(car, one))
                .collect(),
            assumed_radii: found
                .assumed_radii
                .iter()
                .map(|one| AssumedRadiusRecord::of(found.end, one))
                .collect(),
            assumed_rims: Words::of(found.assumed_rims.iter().map(|wheel| wheel.key())),
            joined: found.joined.iter().map(PairRecord::of).collect(),
        }
    }
}

impl ClearancesRow {
    fn empty(found: &Clearances, kind: &'static str) -> Self {
        ClearancesRow {
            axle: found.end.name(),
            kind,
            distance: LeftOut(None),
            joint: LeftOut(None),
            stop: LeftOut(None),
            dead_point: LeftOut(None),
        }
    }

    /// A row a distance, joint, stop and dead point.
    pub fn all_of(car: &Car, found: &Clearances) -> Vec<Self> {
        let distance = |one| ClearancesRow {
            distance: LeftOut(Some(Among(DistanceRecord::of(car, one)))),
            ..ClearancesRow::empty(found, "distance")
        };
        let joint = |one| ClearancesRow {
            joint: LeftOut(Some(Among(JointRecord::of(car, one)))),
            ..ClearancesRow::empty(found, "joint")
        };
        let stop = |one| ClearancesRow {
            stop: LeftOut(Some(Among(StopMarginRecord::of(car, one)))),
            ..ClearancesRow::empty(found, "stop")
        };
        let dead_point = |one| ClearancesRow {
            dead_point: LeftOut(Some(Among(DeadPointRecord::of(car, one)))),
            ..ClearancesRow::empty(found, "dead_point")
        };
        let distances = found.pairs.iter().map(distance);
        let joints = found.joints.iter().map(joint);
        let stops = found.stops.iter().map(stop);
        let dead_points = found.near_dead_points.iter().map(dead_point);
        distances.chain(joints).chain(stops).chain(dead_points).collect()
    }
}
