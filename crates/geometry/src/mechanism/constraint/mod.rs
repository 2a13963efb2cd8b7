//! What holds the bodies: one file a kind.

mod ball_joint;
mod fixed_length;
mod height;
mod hinge;
mod slider;
mod square;

pub use ball_joint::BallJoint;
pub use fixed_length::FixedLength;
pub use height::Height;
pub use hinge::Hinge;
pub use slider::Slider;

use super::rows::{Frame, Rows, Situation};
use crate::number::real::Real;

/// One constraint of a mechanism.
#[derive(Clone, Copy, Debug)]
pub enum Constraint<T: Real> {
    /// A rod.
    FixedLength(FixedLength<T>),
    /// A ball joint.
    BallJoint(BallJoint<T>),
    /// A hinge.
    Hinge(Hinge<T>),
    /// A point on a line.
    Slider(Slider<T>),
}

impl<T: Real> Constraint<T> {
    /// How many equations it is.
    pub fn count(&self) -> usize {
        match self {
            Constraint::FixedLength(_) => 1,
            Constraint::Slider(_) => 2,
            Constraint::BallJoint(_) => 3,
            Constraint::Hinge(_) => 5,
        }
    }

    /// Whether it is the hinge of one moving body on another.
    pub(super) fn is_hinge_between_bodies(&self) -> bool {
        matches!(self, Constraint::Hinge(hinge) if matches!(hinge.joint.seat.frame, Frame::Body(_)))
    }

    /// Writes its rows; `None` when there is no room, that is, too many constraints.
    #[inline]
    pub(super) fn write<const B: usize, const N: usize>(
        &self,
        situation: &Situation<'_, T, B>,
        rows: &mut Rows<T, N>,
    ) -> Option<()> {
        match self {
            Constraint::FixedLength(rod) => rod.write(situation, rows),
            Constraint::BallJoint(joint) => joint.write(situation, rows),
            Constraint::Hinge(hinge) => hinge.write(situation, rows),
            Constraint::Slider(slider) => slider.write(situation, rows),
        }
    }
}
