//! Where a body is.

use crate::number::real::{Real, rotation};
use nalgebra::{Matrix3, Vector3};

/// Position and orientation of a body in the car. A body's own axes are parallel to the car's in
/// the design pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose<T: Real> {
    /// The body's origin in the car, metres.
    pub origin: Vector3<T>,
    /// Rotation that takes the body's axes to the car's.
    pub car_from_body: Matrix3<T>,
}

impl<T: Real> Pose<T> {
    /// The design pose of a body whose origin is `origin`.
    pub fn design(origin: Vector3<T>) -> Self {
        let (o, i) = (T::zero(), T::one());
        Pose { origin, car_from_body: Matrix3::new(i, o, o, o, i, o, o, o, i) }
    }

    /// A point of the body in the car, metres.
    #[inline(always)]
    pub fn point(&self, in_body: &Vector3<T>) -> Vector3<T> {
        self.origin + self.car_from_body * in_body
    }

    /// A direction of the body in the car.
    #[inline(always)]
    pub fn direction(&self, in_body: &Vector3<T>) -> Vector3<T> {
        self.car_from_body * in_body
    }

    /// Moves the body by a small displacement of its origin and a small turn (axis times angle).
    #[inline(always)]
    pub fn moved(&self, shift: &Vector3<T>, turn: &Vector3<T>) -> Self {
        Pose { origin: self.origin + shift, car_from_body: rotation(turn) * self.car_from_body }
    }

    /// The same pose without derivatives, or a constant pose in another number.
    pub fn cast<U: Real>(&self) -> Pose<U> {
        Pose {
            origin: self.origin.map(|x| U::constant(x.value())),
            car_from_body: self.car_from_body.map(|x| U::constant(x.value())),
        }
    }

    /// Removes the rounding that many small turns leave in the rotation (one Newton step toward the
    /// nearest orthonormal matrix).
    #[inline(always)]
    pub fn straightened(&self) -> Self {
        let r = &self.car_from_body;
        let c = T::constant;
        let gram = r.transpose() * r;
        let half_error = Matrix3::new(
            c(1.5) - gram.m11 * c(0.5),
            -gram.m12 * c(0.5),
            -gram.m13 * c(0.5),
            -gram.m21 * c(0.5),
            c(1.5) - gram.m22 * c(0.5),
            -gram.m23 * c(0.5),
            -gram.m31 * c(0.5),
            -gram.m32 * c(0.5),
            c(1.5) - gram.m33 * c(0.5),
        );
        Pose { origin: self.origin, car_from_body: r * half_error }
    }
}

/// Velocity of a rigid body per unit of some input: `v` of its origin, `w` angular.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Twist<T: Real> {
    /// Velocity of the body's origin.
    pub v: Vector3<T>,
    /// Angular velocity, radians per unit.
    pub w: Vector3<T>,
}

impl<T: Real> Twist<T> {
    /// Velocity of a point of the body that stands `arm` away from the origin (car axes).
    #[inline(always)]
    pub fn at(&self, arm: &Vector3<T>) -> Vector3<T> {
        self.v + self.w.cross(arm)
    }
}
