//! The equations of a mechanism at one pose: a residual a constraint leaves and its gradient.

use super::pose::Pose;
use super::steering_path::SteeringPath;
use super::swinging::Swung;
use crate::number::real::Real;
use nalgebra::Vector3;

/// What carries a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Frame {
    /// The car's body.
    Car,
    /// The rack or centre link: moves with the steering input.
    Steering,
    /// A moving body, by its number.
    Body(usize),
    /// The swinging part of the mechanism; coordinates along its axis, outward and square.
    Swing,
}

/// A point (or, where it says so, a direction) in the frame that carries it.
#[derive(Clone, Copy, Debug)]
pub struct Anchor<T: Real> {
    /// What carries it.
    pub frame: Frame,
    /// Coordinates in that frame, metres: car coordinates in the design pose for the car and the steering.
    pub at: Vector3<T>,
}

/// An anchor as it stands in one pose.
#[derive(Clone, Copy, Debug)]
pub struct Placed<T: Real> {
    frame: Frame,
    /// Car coordinates.
    pub at: Vector3<T>,
    /// From the body's origin; for the steering, velocity per steering input.
    arm: Vector3<T>,
}

/// Poses and inputs for which the rows are written.
#[derive(Clone, Copy, Debug)]
pub struct Situation<'a, T: Real, const B: usize> {
    /// The moving bodies.
    pub bodies: &'a [Pose<T>; B],
    /// How the tie rods' inner ends move.
    pub steering: &'a SteeringPath<T>,
    /// Steering input: rack travel, metres, or turn of the pitman arm, radians.
    pub steer: T,
    /// The swinging part, where the mechanism has one.
    pub swung: Option<Swung<T>>,
}

impl<T: Real, const B: usize> Situation<'_, T, B> {
    /// Where a point stands.
    #[inline(always)]
    pub fn place(&self, anchor: &Anchor<T>) -> Placed<T> {
        match anchor.frame {
            Frame::Car => Placed { frame: Frame::Car, at: anchor.at, arm: Vector3::zeros() },
            Frame::Steering => {
                let (at, arm) = self.steering.place(&anchor.at, self.steer);
                Placed { frame: Frame::Steering, at, arm }
            }
            Frame::Body(b) => {
                let arm = self.bodies[b].direction(&anchor.at);
                Placed { frame: anchor.frame, at: self.bodies[b].origin + arm, arm }
            }
            Frame::Swing => {
                let at = self.swung.as_ref().map_or(anchor.at, |swung| swung.point(&anchor.at));
                Placed { frame: anchor.frame, at, arm: Vector3::zeros() }
            }
        }
    }

    /// A direction fixed in a frame.
    #[inline]
    pub fn direction(&self, frame: Frame, in_frame: &Vector3<T>) -> Vector3<T> {
        match frame {
            Frame::Body(b) => self.bodies[b].direction(in_frame),
            Frame::Swing => self.swung.as_ref().map_or(*in_frame, |swung| swung.direction(in_frame)),
            Frame::Car | Frame::Steering => *in_frame,
        }
    }
}

/// Residuals, their gradient to the bodies' displacements and turns, and to the steering input.
#[derive(Clone, Copy, Debug)]
pub struct Rows<T: Real, const N: usize> {
    /// What each constraint lacks, metres.
    pub residual: [T; N],
    /// Gradient: six columns a body, displacement of its origin then turn.
    pub jacobian: [[T; N]; N],
    /// Derivative of the residuals to the steering input.
    pub by_steer: [T; N],
    used: usize,
}

impl<T: Real, const N: usize> Rows<T, N> {
    /// No rows yet.
    #[inline(always)]
    pub fn empty() -> Self {
        let o = T::zero();
        Rows { residual: [o; N], jacobian: [[o; N]; N], by_steer: [o; N], used: 0 }
    }

    /// How many rows are written.
    pub fn used(&self) -> usize {
        self.used
    }

    /// Starts a row; `None` when all are taken (too many constraints).
    #[inline(always)]
    pub fn start(&mut self, residual: T) -> Option<usize> {
        let row = self.used;
        *self.residual.get_mut(row)? = residual;
        self.used += 1;
        Some(row)
    }

    /// The residual grows by `gradient · movement` of this point.
    #[inline(always)]
    pub fn by_point<const B: usize>(
        &mut self,
        row: usize,
        point: &Placed<T>,
        gradient: &Vector3<T>,
        situation: &Situation<'_, T, B>,
    ) {
        match point.frame {
            Frame::Car => {}
            Frame::Steering => self.by_steer[row] += gradient.dot(&point.arm),
            Frame::Swing => {
                if let Some(swung) = &situation.swung {
                    swung.by_point(&point.at, gradient, &mut self.jacobian[row][..6]);
                }
            }
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
    pub fn by_turn<const B: usize>(
        &mut self,
        row: usize,
        frame: Frame,
        gradient: &Vector3<T>,
        situation: &Situation<'_, T, B>,
    ) {
        match frame {
            Frame::Body(b) => {
                let columns = &mut self.jacobian[row][6 * b + 3..6 * b + 6];
                columns[0] += gradient.x;
                columns[1] += gradient.y;
                columns[2] += gradient.z;
            }
            Frame::Swing => {
                if let Some(swung) = &situation.swung {
                    swung.by_turn(gradient, &mut self.jacobian[row][..6]);
                }
            }
            Frame::Car | Frame::Steering => {}
        }
    }
}
