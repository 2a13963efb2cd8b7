//! One corner at one pose, with its exact first derivatives: what every reading is made from.

use crate::mechanism::Twist;
use crate::real::Real;
use crate::side::Side;
use nalgebra::Vector3;

/// A length or angle and its rate per unit wheel travel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Followed<T: Real> {
    /// The value.
    pub value: T,
    /// Its derivative to wheel travel, steering held.
    pub per_travel: T,
}

/// A corner as it stands and moves.
#[derive(Clone, Copy, Debug)]
pub struct CornerMotion<T: Real> {
    /// Its side.
    pub side: Side,
    /// Wheel centre, metres.
    pub wheel_centre: Vector3<T>,
    /// Unit spin axis pointing outboard.
    pub spin_axis: Vector3<T>,
    /// Tyre radius, metres.
    pub tyre_radius: T,
    /// Lower ball joint, metres.
    pub lower_ball: Vector3<T>,
    /// Upper ball joint, metres.
    pub upper_ball: Vector3<T>,
    /// Outer end of the tie rod or toe link, metres.
    pub toe_link_outer: Vector3<T>,
    /// Velocity of the upright, at the wheel centre, per unit wheel travel, steering held.
    pub by_travel: Twist<T>,
    /// Velocity of the upright per unit rack travel, wheel-centre height held.
    pub by_rack: Option<Twist<T>>,
    /// Damper length, metres.
    pub damper: Option<Followed<T>>,
    /// Turn of the anti-roll bar's arm from the design pose, radians, + = the way bump turns it at design.
    pub bar: Option<Followed<T>>,
    /// The reference pose (zero travel, straight ahead).
    pub reference: Reference<T>,
}

/// What changes are counted from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reference<T: Real> {
    /// Wheel centre, metres.
    pub wheel_centre: Vector3<T>,
    /// Lateral place of the contact point, the ground parallel to the body's XY plane, metres.
    pub contact_y: T,
}

impl<T: Real> CornerMotion<T> {
    /// Unit steering axis, lower to upper ball joint.
    #[inline]
    pub fn steering_axis(&self) -> Vector3<T> {
        let k = self.upper_ball - self.lower_ball;
        k * (T::one() / k.dot(&k).sqrt())
    }

    /// +1 left, -1 right.
    #[inline]
    pub fn sign(&self) -> T {
        T::constant(self.side.sign())
    }

    /// The spin axis pointing to +Y on either side.
    #[inline]
    pub fn spin_axis_left(&self) -> Vector3<T> {
        self.spin_axis * self.sign()
    }
}
