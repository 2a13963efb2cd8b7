//! A wheel against the ground: contact point, wheel axes, and the steering axis at the ground.

use crate::corner::corner_motion::CornerMotion;
use crate::number::real::{Real, unit};
use nalgebra::Vector3;
use std::hint::select_unpredictable as choose;

/// Sine of the angle to the ground, 5°, below which a line has no point on it.
const FLAT: f64 = 0.087_155_742_747_658_17;

/// A wheel on a ground plane with unit normal `normal` through its own contact point.
#[derive(Clone, Copy, Debug)]
pub struct OnGround<T: Real> {
    /// Unit normal of the ground, up.
    pub normal: Vector3<T>,
    /// Contact point of the tyre, metres: its lowest point toward the ground.
    pub contact: Vector3<T>,
    /// Unit direction in which the wheel rolls, forward.
    pub forward: Vector3<T>,
    /// Unit horizontal direction square to `forward`, outboard.
    pub outboard: Vector3<T>,
    /// Spin axis (outboard) along the normal: minus the sine of camber.
    pub rise: T,
}

/// The body's forward direction laid on a ground with this normal.
#[inline(always)]
pub(crate) fn forward_on<T: Real>(normal: &Vector3<T>) -> Vector3<T> {
    let x = Vector3::new(T::one(), T::zero(), T::zero());
    unit(&(x - *normal * normal.x))
}

/// How far a tyre's lowest point stands below the wheel centre along a normal, metres.
#[inline(always)]
pub(crate) fn reach<T: Real>(corner: &CornerMotion<T>, normal: &Vector3<T>) -> T {
    let rise = corner.spin_axis.dot(normal);
    let shoulder = corner.tyre_shoulder;
    (corner.tyre_radius - shoulder) * (T::one() - rise * rise).sqrt() + shoulder
}

impl<T: Real> OnGround<T> {
    /// The wheel of a corner on a ground with this normal.
    #[inline(always)]
    pub fn of(corner: &CornerMotion<T>, normal: Vector3<T>) -> Self {
        let a = &corner.spin_axis;
        let rise = a.dot(&normal);
        let down = unit(&(a * rise - normal));
        let forward = unit(&corner.spin_axis_left().cross(&normal));
        let outboard = normal.cross(&forward) * corner.sign();
        let shoulder = corner.tyre_shoulder;
        // Down the wheel's plane to the middle of the tread's round, then straight down.
        let contact = corner.wheel_centre + down * (corner.tyre_radius - shoulder) - normal * shoulder;
        OnGround { normal, contact, forward, outboard, rise }
    }

    /// Where a line meets the ground plane through the contact point. Not finite where the line is within 5°
    /// of the plane.
    #[inline(always)]
    pub fn meets_ground(&self, point: &Vector3<T>, along: &Vector3<T>) -> Vector3<T> {
        self.meets_level(point, along, &self.contact)
    }

    /// Where a line meets the plane parallel to the ground through `level`. Not finite where the line is
    /// within 5° of the plane: there the crossing says nothing of the wheel.
    #[inline(always)]
    pub fn meets_level(&self, point: &Vector3<T>, along: &Vector3<T>, level: &Vector3<T>) -> Vector3<T> {
        let rise = along.dot(&self.normal);
        let steep = (rise * rise).value() >= FLAT * FLAT * along.dot(along).value();
        let share = (level - point).dot(&self.normal) / rise;
        let share = choose(steep, share, T::constant(f64::NAN));
        point + along * share
    }

    /// Camber to the ground, radians, + = top outboard: the angle of the wheel's plane from the normal.
    #[inline(always)]
    pub fn camber(&self) -> T {
        -self.rise.asin()
    }

    /// Steer angle to the ground, radians, + = to the left: seen along the normal, the angle of the direction
    /// in which the wheel rolls from the body's forward direction laid on the ground (ISO 8855).
    #[inline(always)]
    pub fn steer(&self) -> T {
        let ahead = forward_on(&self.normal);
        self.forward.dot(&self.normal.cross(&ahead)).atan2(self.forward.dot(&ahead))
    }

    /// Velocity per unit travel of the upright-fixed point that is at the contact now.
    #[inline(always)]
    pub fn contact_velocity(&self, corner: &CornerMotion<T>) -> Vector3<T> {
        corner.by_travel.at(&(self.contact - corner.wheel_centre))
    }
}
