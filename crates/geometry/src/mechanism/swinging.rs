//! A part that turns about one axis and needs no unknowns of its own: a point of the first body, or a
//! rod to it, says how far it has turned.

use super::pose::Pose;
use crate::mechanism::hinged::{Arm, Swing};
use crate::number::real::Real;
use nalgebra::Vector3;

/// A swinging part of a mechanism.
#[derive(Clone, Copy, Debug)]
pub enum Swinging<T: Real> {
    /// An arm hinged to the car; its joint on the body shows its angle.
    ByJoint {
        /// The arm.
        arm: Arm<T>,
        /// The joint, on the body.
        joint: Vector3<T>,
    },
    /// A lever hinged to the car, worked by a rod from a point of the body.
    LeverOnCar {
        /// The lever.
        lever: Swing<T>,
        /// The rod's end on the body.
        rod: Vector3<T>,
    },
    /// A lever hinged to the body, worked by a rod from a point of the car.
    LeverOnBody {
        /// The lever, in the body.
        lever: Swing<T>,
        /// The rod's end in the car.
        rod: Vector3<T>,
    },
}

/// A swinging part as it stands, car coordinates.
#[derive(Clone, Copy, Debug)]
pub struct Swung<T: Real> {
    /// A point of the axis.
    base: Vector3<T>,
    /// Unit axis, and two unit directions square to it that turn with the part.
    basis: [Vector3<T>; 3],
    /// Turn about the axis per displacement and turn of the body.
    by_body: [T; 6],
    /// The body that carries the axis moves with it.
    on_body: bool,
    /// From the body's origin to the base.
    base_arm: Vector3<T>,
}

impl<T: Real> Swung<T> {
    /// Where a point of the part stands, by its coordinates along axis, outward and square.
    #[inline]
    pub fn point(&self, local: &Vector3<T>) -> Vector3<T> {
        self.base + self.direction(local)
    }

    /// A direction of the part.
    #[inline]
    pub fn direction(&self, local: &Vector3<T>) -> Vector3<T> {
        let [axis, outward, square] = &self.basis;
        axis * local.x + outward * local.y + square * local.z
    }

    /// Adds to six columns the gradient of `gradient · movement` of the point at `at`.
    #[inline]
    pub(super) fn by_point(&self, at: &Vector3<T>, gradient: &Vector3<T>, columns: &mut [T]) {
        let from_base = at - self.base;
        self.by_angle(gradient.dot(&self.basis[0].cross(&from_base)), columns);
        if self.on_body {
            let turn = (from_base + self.base_arm).cross(gradient);
            for (column, g) in columns.iter_mut().zip(gradient.iter().chain(turn.iter())) {
                *column += *g;
            }
        }
    }

    /// Adds to six columns the gradient of `gradient · turn` of the part.
    #[inline]
    pub(super) fn by_turn(&self, gradient: &Vector3<T>, columns: &mut [T]) {
        self.by_angle(gradient.dot(&self.basis[0]), columns);
        if self.on_body {
            for (column, g) in columns.iter_mut().skip(3).zip(gradient.iter()) {
                *column += *g;
            }
        }
    }

    #[inline]
    fn by_angle(&self, factor: T, columns: &mut [T]) {
        for (column, rate) in columns.iter_mut().zip(&self.by_body) {
            *column += factor * *rate;
        }
    }
}

/// Displacement then turn of a body for a unit gradient at a point `arm` from its origin.
#[inline]
fn six<T: Real>(gradient: &Vector3<T>, arm: &Vector3<T>) -> [T; 6] {
    let turn = arm.cross(gradient);
    [gradient.x, gradient.y, gradient.z, turn.x, turn.y, turn.z]
}

impl<T: Real> Swinging<T> {
    /// Coordinates along axis, outward and square of a point given in the design pose, in the
    /// coordinates of what carries the axis.
    pub fn local(&self, design: &Vector3<T>) -> Vector3<T> {
        match self {
            Swinging::ByJoint { arm, .. } => arm.local(design),
            Swinging::LeverOnCar { lever, .. } | Swinging::LeverOnBody { lever, .. } => lever.local(design),
        }
    }

    /// Sine of the angle between a lever and the rod that turns it, 0 to 1: zero where they come into line.
    /// 1 where no rod turns the part.
    pub fn openness(&self, body: &Pose<T>) -> f64 {
        let of = |lever: &Swing<T>, rod: &Vector3<T>| {
            lever.pose(rod, &Vector3::zeros()).map_or(0.0, |pose| lever.openness(&pose, rod))
        };
        match self {
            Swinging::ByJoint { .. } => 1.0,
            Swinging::LeverOnCar { lever, rod } => of(lever, &body.point(rod)),
            Swinging::LeverOnBody { lever, rod } => {
                of(lever, &(body.car_from_body.transpose() * (rod - body.origin)))
            }
        }
    }

    /// The part for a pose of the body. Where a rod does not reach, everything is not-a-number.
    #[inline]
    pub fn at(&self, body: &Pose<T>) -> Swung<T> {
        match self {
            Swinging::ByJoint { arm, joint } => {
                let from_origin = body.direction(joint);
                let (base, basis, gradient) = arm.basis(&(body.origin + from_origin));
                let by_body = six(&gradient, &from_origin);
                Swung { base, basis, by_body, on_body: false, base_arm: Vector3::zeros() }
            }
            Swinging::LeverOnCar { lever, rod } => {
                let from_origin = body.direction(rod);
                let (base, basis, gradient) = lever.basis(&(body.origin + from_origin));
                let by_body = six(&gradient, &from_origin);
                Swung { base, basis, by_body, on_body: false, base_arm: Vector3::zeros() }
            }
            Swinging::LeverOnBody { lever, rod } => {
                let from_origin = rod - body.origin;
                let (base, basis, gradient) = lever.basis(&(body.car_from_body.transpose() * from_origin));
                // Seen from the body, the rod's far end moves the other way.
                let by_body = six(&-body.direction(&gradient), &from_origin);
                let base_arm = body.direction(&base);
                Swung {
                    base: body.origin + base_arm,
                    basis: basis.map(|along| body.direction(&along)),
                    by_body,
                    on_body: true,
                    base_arm,
                }
            }
        }
    }
}
