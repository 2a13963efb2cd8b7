//! Two points that coincide: a ball joint.

use crate::mechanism::rows::{Anchor, Rows, Situation};
use crate::number::real::Real;
use nalgebra::Vector3;

/// A point of one frame held on a point of another.
#[derive(Clone, Copy, Debug)]
pub struct BallJoint<T: Real> {
    /// The point that is held.
    pub point: Anchor<T>,
    /// Where it is held.
    pub seat: Anchor<T>,
}

impl<T: Real> BallJoint<T> {
    /// Three rows: the gap along X, Y, Z.
    pub(super) fn write<const B: usize, const N: usize>(
        &self,
        situation: &Situation<'_, T, B>,
        rows: &mut Rows<T, N>,
    ) -> Option<()> {
        let point = situation.place(&self.point);
        let seat = situation.place(&self.seat);
        let gap = point.at - seat.at;
        for axis in 0..3 {
            let mut along = Vector3::zeros();
            along[axis] = T::one();
            let row = rows.start(gap[axis])?;
            rows.by_point(row, &point, &along, situation);
            rows.by_point(row, &seat, &-along, situation);
        }
        Some(())
    }
}
