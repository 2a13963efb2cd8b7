//! How an axle is steered: rack or box, and the column above it.

use crate::car::Axle;
use nalgebra::Vector3;
use std::f64::consts::TAU;

/// A steering rack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rack {
    /// Unit direction of positive rack travel, toward the left end.
    pub axis: Vector3<f64>,
    /// Rack travel for one turn of the steering wheel, metres. Negative where a left turn of the
    /// steering wheel moves the rack to the right.
    pub travel_per_turn: f64,
    /// Travel to the stop toward the left, metres.
    pub stop_left: f64,
    /// Travel to the stop toward the right, metres, as a positive number.
    pub stop_right: f64,
}

impl Rack {
    /// Rack travel, metres, at a steering-wheel angle (radians, + = left turn).
    #[must_use]
    pub fn travel_at(&self, steering_wheel: f64) -> f64 {
        self.travel_per_turn * steering_wheel / TAU
    }

    /// Steering-wheel angle, radians (+ = left turn), at a rack travel; not finite where the
    /// steering wheel does not move the rack.
    #[must_use]
    pub fn steering_wheel_at(&self, travel: f64) -> f64 {
        TAU * travel / self.travel_per_turn
    }
}

/// An arm that turns about a fixed shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteeringArm {
    /// A point on the shaft, metres.
    pub pivot: Vector3<f64>,
    /// Unit direction of the shaft, upward.
    pub axis: Vector3<f64>,
    /// The joint at the arm's end, metres.
    pub ball: Vector3<f64>,
}

/// A steering box: its pitman arm moves a centre link that an idler arm guides at the other end. The
/// tie rods' inner ends are on the centre link.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteeringBox {
    /// The arm on the box's shaft.
    pub pitman: SteeringArm,
    /// The arm that guides the centre link's other end.
    pub idler: SteeringArm,
    /// Turns of the steering wheel for one of the pitman arm. Negative where a left turn of the
    /// steering wheel turns the arm left-handed about its axis.
    pub ratio: f64,
    /// Turn of the pitman arm to the stop in the sense of a left turn of the steering wheel, radians,
    /// as a positive number.
    pub stop_left: f64,
    /// Turn to the stop in the sense of a right turn, radians, as a positive number.
    pub stop_right: f64,
}

/// How an axle is steered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Steering {
    /// Not at all.
    Fixed,
    /// By a rack.
    Rack(Rack),
    /// By a steering box.
    Box(SteeringBox),
}

impl Steering {
    /// Whether it steers.
    #[must_use]
    pub fn steers(&self) -> bool {
        !matches!(self, Steering::Fixed)
    }

    /// What the steering input counts: a length (rack travel) or an angle (turn of the pitman arm).
    #[must_use]
    pub fn input(&self) -> SteerInput {
        match self {
            Steering::Box(_) => SteerInput::PitmanAngle,
            Steering::Fixed | Steering::Rack(_) => SteerInput::RackTravel,
        }
    }

    /// The steering input at its stops, right (or the negative end) then left: metres or radians.
    /// Both zero where nothing steers.
    #[must_use]
    pub fn stops(&self) -> [f64; 2] {
        match self {
            Steering::Fixed => [0.0; 2],
            Steering::Rack(rack) => [-rack.stop_right, rack.stop_left],
            Steering::Box(one) if one.ratio < 0.0 => [-one.stop_left, one.stop_right],
            Steering::Box(one) => [-one.stop_right, one.stop_left],
        }
    }

    /// The steering input for a turn of the shaft that enters the rack or box, radians, + = left turn.
    #[must_use]
    pub fn input_at(&self, shaft: f64) -> f64 {
        match self {
            Steering::Fixed => 0.0,
            Steering::Rack(rack) => rack.travel_at(shaft),
            Steering::Box(one) => shaft / one.ratio,
        }
    }

    /// Turn of the shaft that enters the rack or box, radians, + = left turn, at a steering input; not
    /// finite where the shaft does not move it, zero where nothing steers.
    #[must_use]
    pub fn shaft_at(&self, input: f64) -> f64 {
        match self {
            Steering::Fixed => 0.0,
            Steering::Rack(rack) => rack.steering_wheel_at(input),
            Steering::Box(one) => input * one.ratio,
        }
    }

    /// The steering box, if there is one.
    #[must_use]
    pub fn steering_box(&self) -> Option<&SteeringBox> {
        match self {
            Steering::Box(one) => Some(one),
            _ => None,
        }
    }

    /// The rack, if there is one.
    #[must_use]
    pub fn rack(&self) -> Option<&Rack> {
        match self {
            Steering::Rack(rack) => Some(rack),
            Steering::Fixed | Steering::Box(_) => None,
        }
    }
}

impl Axle {
    /// The steering input at a steering-wheel angle (radians, + = left turn), through column and rack or
    /// box: metres or radians; zero where nothing steers.
    #[must_use]
    pub fn steer_at(&self, steering_wheel: f64) -> f64 {
        self.steering.input_at(self.column.shaft_at(steering_wheel))
    }

    /// The steering-wheel angle, radians (+ = left turn), at a steering input; zero where nothing steers,
    /// not finite where the steering wheel does not move it.
    #[must_use]
    pub fn steering_wheel_at(&self, steer: f64) -> f64 {
        self.column.wheel_at(self.steering.shaft_at(steer))
    }
}

/// What a steering input counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SteerInput {
    /// Travel of the rack, metres, + toward its left end.
    RackTravel,
    /// Turn of the pitman arm, radians, right-handed about its upward axis.
    PitmanAngle,
}

/// One Cardan joint of a steering column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CardanJoint {
    /// Angle between the two shafts, radians, 0 = straight.
    pub bend: f64,
    /// Angle, at straight ahead, by which the driving yoke's pin is turned from the plane of the bend,
    /// about the driving shaft in the sense of a left turn, radians.
    pub phase: f64,
}

/// A steering column: from none to two Cardan joints, from the steering wheel downward.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Column {
    /// The joints in their order.
    pub joints: [Option<CardanJoint>; 2],
}

#[cfg(test)]
mod tests {
    use super::Rack;
    use nalgebra::Vector3;

    #[test]
    fn a_rack_and_its_steering_wheel_turn_together() {
        let rack =
            |travel_per_turn| Rack { axis: Vector3::y(), travel_per_turn, stop_left: 0.04, stop_right: 0.04 };
        assert!((rack(0.08).travel_at(90_f64.to_radians()) - 0.02).abs() < 1e-15);
        assert!((rack(-0.08).travel_at(90_f64.to_radians()) + 0.02).abs() < 1e-15);
        assert!((rack(-0.08).steering_wheel_at(0.02).to_degrees() + 90.0).abs() < 1e-12);
        assert!(!rack(0.0).steering_wheel_at(0.02).is_finite());
    }
}
