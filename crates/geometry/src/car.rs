//! What a car is: its points, wheels, links and adjusters in the design pose, in metres and radians,
//! vehicle axes (X forward, Y left, Z up).

use crate::pickup::{Link, Pickup};
use crate::side::{End, Side, WheelAt};
use nalgebra::Vector3;
use std::f64::consts::TAU;

/// The named points of one corner; absent ones are `None`.
#[derive(Clone, Debug, PartialEq)]
pub struct Pickups([Option<Vector3<f64>>; Pickup::COUNT]);

impl Default for Pickups {
    fn default() -> Self {
        Pickups([None; Pickup::COUNT])
    }
}

impl Pickups {
    /// The point, metres, if the corner has it.
    #[must_use]
    pub fn get(&self, pickup: Pickup) -> Option<Vector3<f64>> {
        self.0[pickup.index()]
    }

    /// Puts the point there.
    pub fn set(&mut self, pickup: Pickup, at: Vector3<f64>) {
        self.0[pickup.index()] = Some(at);
    }

    /// Takes the point away.
    pub fn remove(&mut self, pickup: Pickup) {
        self.0[pickup.index()] = None;
    }

    /// The points the corner has, in the order of [`Pickup::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (Pickup, Vector3<f64>)> + '_ {
        Pickup::ALL.iter().filter_map(|&pickup| Some((pickup, self.get(pickup)?)))
    }
}

/// A wheel in the design pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Wheel {
    /// Wheel centre, metres.
    pub centre: Vector3<f64>,
    /// Unit spin axis pointing outboard.
    pub spin_axis: Vector3<f64>,
    /// Radius of the tyre, metres.
    pub tyre_radius: f64,
    /// Width of the tyre, metres (pictures only; the tyre touches as a disc).
    pub tyre_width: f64,
    /// Radius of the rim, metres (pictures only).
    pub rim_radius: f64,
}

/// The unit spin axis, pointing outboard, of a wheel with this camber and toe (radians; + = top
/// outboard, + = toe-in).
#[must_use]
pub fn spin_axis_from_angles(side: Side, camber: f64, toe: f64) -> Vector3<f64> {
    let steer = -side.sign() * toe;
    let left = Vector3::new(-steer.sin() * camber.cos(), steer.cos() * camber.cos(), 0.0) * side.sign();
    Vector3::new(left.x, left.y, -camber.sin())
}

/// Which linkage carries the wheel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkageKind {
    /// Two wishbones, and a tie rod (steered) or toe link.
    DoubleWishbone,
}

/// The part of a corner that carries a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Carrier {
    /// The upper wishbone.
    UpperWishbone,
    /// The lower wishbone.
    LowerWishbone,
    /// The upright.
    Upright,
    /// The rocker.
    Rocker,
}

impl Carrier {
    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Carrier::UpperWishbone => "upper wishbone",
            Carrier::LowerWishbone => "lower wishbone",
            Carrier::Upright => "upright",
            Carrier::Rocker => "rocker",
        }
    }
}

/// How the damper is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Springing {
    /// A pushrod (or pullrod) from this part to a rocker, which works the damper.
    Rocker {
        /// The part that carries the outer end.
        pushrod_on: Carrier,
    },
    /// The damper stands on this part.
    Direct {
        /// The part that carries the moving eye.
        on: Carrier,
    },
}

/// The damper's length eye to eye at its stops, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DamperStops {
    /// Fully compressed.
    pub shortest: f64,
    /// Fully extended.
    pub longest: f64,
}

/// What sets the static toe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ToeBy {
    /// The points as they stand.
    Points,
    /// The length of the tie rod (toe link) is adjusted until toe is this (radians, + = in).
    TieRodLength(f64),
}

/// What sets the static camber.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CamberBy {
    /// The points as they stand.
    Points,
    /// Shims between upright and upper ball joint, along the wheel's spin axis, are adjusted until
    /// camber to the body is this (radians, + = top outboard).
    UpperShim(f64),
}

/// How toe and camber at zero travel and straight ahead come about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alignment {
    /// Toe.
    pub toe: ToeBy,
    /// Camber.
    pub camber: CamberBy,
}

impl Alignment {
    /// Both follow from the points.
    pub const FROM_POINTS: Alignment = Alignment { toe: ToeBy::Points, camber: CamberBy::Points };
}

/// One corner in the design pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Corner {
    /// The linkage.
    pub linkage: LinkageKind,
    /// The wheel.
    pub wheel: Wheel,
    /// The points.
    pub pickups: Pickups,
    /// Lengths of links that do not follow from the points, metres.
    pub lengths: Vec<(Link, f64)>,
    /// How the damper is worked, if there is one.
    pub springing: Option<Springing>,
    /// Stops of the damper.
    pub damper: Option<DamperStops>,
    /// The part that carries the drop link's outer end, if there is an anti-roll bar.
    pub drop_link_on: Option<Carrier>,
    /// How static toe and camber come about.
    pub alignment: Alignment,
}

impl Corner {
    /// The corner as it stands on the other side.
    #[must_use]
    pub fn mirrored(&self) -> Corner {
        let mirror = |v: Vector3<f64>| Vector3::new(v.x, -v.y, v.z);
        let mut other = self.clone();
        other.wheel.centre = mirror(self.wheel.centre);
        other.wheel.spin_axis = mirror(self.wheel.spin_axis);
        for (pickup, at) in self.pickups.iter() {
            other.pickups.set(pickup, mirror(at));
        }
        other
    }
}

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

/// How an axle is steered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Steering {
    /// Not at all.
    Fixed,
    /// By a rack.
    Rack(Rack),
}

impl Steering {
    /// The rack, if there is one.
    #[must_use]
    pub fn rack(&self) -> Option<&Rack> {
        match self {
            Steering::Fixed => None,
            Steering::Rack(rack) => Some(rack),
        }
    }
}

/// Where a torque is reacted: decides the line for anti-dive, anti-lift and anti-squat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reacted {
    /// By the upright (outboard brakes).
    Upright,
    /// By the body (inboard brakes, sprung final drive).
    Body,
}

/// One axle.
#[derive(Clone, Debug, PartialEq)]
pub struct Axle {
    /// How it is steered.
    pub steering: Steering,
    /// Where the brakes are.
    pub brakes: Reacted,
    /// Where the drive torque is reacted; `None` for an undriven axle.
    pub drive: Option<Reacted>,
    /// The left corner.
    pub left: Corner,
    /// The right corner.
    pub right: Corner,
}

impl Axle {
    /// The corner on that side.
    #[must_use]
    pub fn corner(&self, side: Side) -> &Corner {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }

    /// The corner on that side.
    pub fn corner_mut(&mut self, side: Side) -> &mut Corner {
        match side {
            Side::Left => &mut self.left,
            Side::Right => &mut self.right,
        }
    }
}

/// A car in its design pose: zero wheel travel, rack centred.
#[derive(Clone, Debug, PartialEq)]
pub struct Car {
    /// Its name.
    pub name: String,
    /// Distance between the axles, metres.
    pub wheelbase: f64,
    /// Height of the centre of gravity over the ground, metres.
    pub centre_of_gravity_height: Option<f64>,
    /// Share of the braking force at the front, 0 to 1.
    pub brake_share_front: Option<f64>,
    /// The front axle.
    pub front: Axle,
    /// The rear axle.
    pub rear: Axle,
}

impl Car {
    /// The axle at that end.
    #[must_use]
    pub fn axle(&self, end: End) -> &Axle {
        match end {
            End::Front => &self.front,
            End::Rear => &self.rear,
        }
    }

    /// The axle at that end.
    pub fn axle_mut(&mut self, end: End) -> &mut Axle {
        match end {
            End::Front => &mut self.front,
            End::Rear => &mut self.rear,
        }
    }

    /// That corner.
    #[must_use]
    pub fn corner(&self, at: WheelAt) -> &Corner {
        self.axle(at.end).corner(at.side)
    }

    /// That corner.
    pub fn corner_mut(&mut self, at: WheelAt) -> &mut Corner {
        self.axle_mut(at.end).corner_mut(at.side)
    }
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
