//! The ground: one plane, seen from the body.

use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::{OnGround, forward_on, reach};
use crate::number::real::{Real, up};
use nalgebra::Vector3;

/// A plane: the points `X` with `normal · X = height`, in body axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ground<T: Real> {
    /// Its unit normal, up.
    pub normal: Vector3<T>,
    /// Its distance from the body's origin along the normal, metres, + = above the origin.
    pub height: T,
}

impl<T: Real> Ground<T> {
    /// The body's XY plane.
    pub fn level() -> Self {
        Ground { normal: up(), height: T::zero() }
    }

    /// At this angle about X through the body's origin, + = the ground's left side is up.
    pub fn tilted(angle: T) -> Self {
        let (s, c) = angle.sin_cos();
        Ground { normal: Vector3::new(T::zero(), -s, c), height: T::zero() }
    }

    /// The ground that both tyres of an axle touch, parallel to X.
    ///
    /// A tyre's lowest point stands `(R - r) sqrt(1 - (n·a)²) + r` below its centre, so the angle is
    /// the root of one smooth equation; Newton from level converges in a few steps on any car.
    pub fn under(left: &CornerMotion<T>, right: &CornerMotion<T>) -> Self {
        let mut angle = T::zero();
        for _ in 0..8 {
            let (s, c) = angle.sin_cos();
            let normal = Vector3::new(T::zero(), -s, c);
            let turned = Vector3::new(T::zero(), -c, -s);
            let mut height = T::zero();
            let mut slope = T::zero();
            for (corner, sign) in [(left, 1.0), (right, -1.0)] {
                let sign = T::constant(sign);
                // The lowest point moves square to the normal as the normal turns: its place is the
                // gradient of its height.
                let contact = OnGround::of(corner, normal).contact;
                height += sign * (corner.wheel_centre.dot(&normal) - reach(corner, &normal));
                slope += sign * contact.dot(&turned);
            }
            let step = height / slope;
            angle -= step;
            // One more step after the value has settled carries the derivative.
            if step.value().abs() < 1e-17 {
                break;
            }
        }
        let ground = Ground::tilted(angle);
        let half = T::constant(0.5);
        let foot = |corner| ground.normal.dot(&OnGround::of(corner, ground.normal).contact);
        Ground { height: (foot(left) + foot(right)) * half, ..ground }
    }

    /// Its angle about X seen from the body, radians, + = the ground's left side is up: the body has
    /// rolled to its left. Minus the body's roll.
    pub fn angle(&self) -> T {
        (-self.normal.y).atan2(self.normal.z)
    }

    /// The body's forward direction laid on the ground: unit, square to the normal.
    #[inline]
    pub fn forward(&self) -> Vector3<T> {
        forward_on(&self.normal)
    }

    /// The direction on the ground to the left of [`forward`](Self::forward).
    #[inline]
    pub fn left(&self) -> Vector3<T> {
        self.normal.cross(&self.forward())
    }

    /// Height of a point of the body above the ground, metres.
    #[inline]
    pub fn above(&self, point: &Vector3<T>) -> T {
        self.normal.dot(point) - self.height
    }

    /// Gap between a corner's tyre and the ground, metres; negative where the tyre would be in it.
    #[inline]
    pub fn gap(&self, corner: &CornerMotion<T>) -> T {
        self.above(&corner.wheel_centre) - reach(corner, &self.normal)
    }

    /// A point of the body in the road's axes: forward, left, up, from the foot of the body's origin.
    pub fn road_from_body(&self, point: &Vector3<T>) -> Vector3<T> {
        Vector3::new(self.forward().dot(point), self.left().dot(point), self.above(point))
    }
}
