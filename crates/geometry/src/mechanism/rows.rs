//! The equations of a mechanism at one pose: a residual a constraint leaves and its gradient.

use super::pose::Pose;
use crate::real::Real;
use nalgebra::Vector3;

/// What carries a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Frame {
    /// The car's body.
    Car,
    /// The steering rack: moves along its axis by the rack travel.
    Rack,
    /// A moving body, by its number.
    Body(usize),
}

/// A point (or, where it says so, a direction) in the frame that carries it.
#[derive(Clone, Copy, Debug)]
pub struct Anchor<T: Real> {
    /// What carries it.
    pub frame: Frame,
    /// Coordinates in that frame, metres: car coordinates for the car and the rack.
    pub at: Vector3<T>,
}

/// An anchor as it stands in one pose.
#[derive(Clone, Copy, Debug)]
pub struct Placed<T: Real> {
    frame: Frame,
    /// Car coordinates.
    pub at: Vector3<T>,
    arm: Vector3<T>,
}

/// Poses and inputs for which the rows are written.
#[derive(Clone, Copy, Debug)]
pub struct Situation<'a, T: Real, const B: usize> {
    /// The moving bodies.
    pub bodies: &'a [Pose<T>; B],
    /// Rack travel times rack axis, metres.
    pub rack_shift: Vector3<T>,
    /// Unit rack axis.
    pub rack_axis: Vector3<T>,
}

impl<T: Real, const B: usize> Situation<'_, T, B> {
    /// Where a point stands.
    #[inline]
    pub fn place(&self, anchor: &Anchor<T>) -> Placed<T> {
        match anchor.frame {
            Frame::Car => Placed { frame: Frame::Car, at: anchor.at, arm: Vector3::zeros() },
            Frame::Rack => {
                Placed { frame: Frame::Rack, at: anchor.at + self.rack_shift, arm: Vector3::zeros() }
            }
            Frame::Body(b) => {
                let arm = self.bodies[b].direction(&anchor.at);
                Placed { frame: anchor.frame, at: self.bodies[b].origin + arm, arm }
            }
        }
    }

    /// A direction fixed in a frame.
    #[inline]
    pub fn direction(&self, frame: Frame, in_frame: &Vector3<T>) -> Vector3<T> {
        match frame {
            Frame::Body(b) => self.bodies[b].direction(in_frame),
            Frame::Car | Frame::Rack => *in_frame,
        }
    }
}

/// Residuals, their gradient to the bodies' displacements and turns, and to the rack travel.
#[derive(Clone, Copy, Debug)]
pub struct Rows<T: Real, const N: usize> {
    /// What each constraint lacks, metres.
    pub residual: [T; N],
    /// Gradient: six columns a body, displacement of its origin then turn.
    pub jacobian: [[T; N]; N],
    /// Derivative of the residuals to the rack travel.
    pub by_rack: [T; N],
    used: usize,
}

impl<T: Real, const N: usize> Rows<T, N> {
    /// No rows yet.
    #[inline]
    pub fn empty() -> Self {
        let o = T::zero();
        Rows { residual: [o; N], jacobian: [[o; N]; N], by_rack: [o; N], used: 0 }
    }

    /// How many rows are written.
    pub fn used(&self) -> usize {
        self.used
    }

    /// Starts a row; `None` when all are taken (too many constraints).
    #[inline]
    pub fn start(&mut self, residual: T) -> Option<usize> {
        let row = self.used;
        *self.residual.get_mut(row)? = residual;
        self.used += 1;
        Some(row)
    }

    /// The residual grows by `gradient · movement` of this point.
    #[inline]
    pub fn by_point(&mut self, row: usize, point: &Placed<T>, gradient: &Vector3<T>, rack_axis: &Vector3<T>) {
        match point.frame {
            Frame::Car => {}
            Frame::Rack => self.by_rack[row] += gradient.dot(rack_axis),
            Frame::Body(b) => {
                let turn = point.arm.cross(gradient);
                let columns = &mut self.jacobian[row][6 * b..6 * b + 6];
                columns[0] += gradient.x;
                columns[1] += gradient.y;
                columns[2] += gradient.z;
                columns[3] += turn.x;
                columns[4] += turn.y;
                columns[5] += turn.z;
            }
        }
    }

    /// The residual grows by `gradient · turn` of this frame.
    #[inline]
    pub fn by_turn(&mut self, row: usize, frame: Frame, gradient: &Vector3<T>) {
        if let Frame::Body(b) = frame {
            let columns = &mut self.jacobian[row][6 * b + 3..6 * b + 6];
            columns[0] += gradient.x;
            columns[1] += gradient.y;
            columns[2] += gradient.z;
        }
    }
}
