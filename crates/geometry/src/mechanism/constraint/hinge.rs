//! Two bodies that turn about a common axis.

use super::ball_joint::BallJoint;
use super::square::square_to;
use crate::mechanism::rows::{Frame, Rows, Situation};
use crate::number::real::Real;
use nalgebra::Vector3;

/// A hinge: a ball joint at one point, and an axis common to both frames.
#[derive(Clone, Copy, Debug)]
pub struct Hinge<T: Real> {
    /// The common point.
    pub joint: BallJoint<T>,
    /// Unit axis in the frame of `joint.point`.
    pub axis_of_point: Vector3<T>,
    /// Unit axis in the frame of `joint.seat`.
    pub axis_of_seat: Vector3<T>,
}

impl<T: Real> Hinge<T> {
    /// Five rows. The last two are multiplied by a metre, so that they are lengths too.
    pub(super) fn write<const B: usize, const N: usize>(
        &self,
        situation: &Situation<'_, T, B>,
        rows: &mut Rows<T, N>,
    ) -> Option<()> {
        self.joint.write(situation, rows)?;
        let (moving, seat): (Frame, Frame) = (self.joint.point.frame, self.joint.seat.frame);
        let axis = situation.direction(moving, &self.axis_of_point);
        for side in square_to(&self.axis_of_seat) {
            let side = situation.direction(seat, &side);
            let row = rows.start(side.dot(&axis))?;
            let turn = side.cross(&axis);
            rows.by_turn(row, seat, &turn, situation);
            rows.by_turn(row, moving, &-turn, situation);
        }
        Some(())
    }
}
