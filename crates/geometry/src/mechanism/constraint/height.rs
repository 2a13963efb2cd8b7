//! The driver: a point of a body held at a height.

use crate::mechanism::rows::{Anchor, Rows, Situation};
use crate::number::real::{Real, up};

/// A point whose height is given: wheel travel.
#[derive(Clone, Copy, Debug)]
pub struct Height<T: Real> {
    /// The point.
    pub point: Anchor<T>,
    /// Its height in the design pose, metres; the travel is added to it.
    pub design: T,
}

impl<T: Real> Height<T> {
    /// One row: height minus the asked one.
    #[inline]
    pub(in crate::mechanism) fn write<const B: usize, const N: usize>(
        &self,
        travel: T,
        situation: &Situation<'_, T, B>,
        rows: &mut Rows<T, N>,
    ) -> Option<()> {
        let point = situation.place(&self.point);
        let row = rows.start(point.at.z - (self.design + travel))?;
        rows.by_point(row, &point, &up(), situation);
        Some(())
    }
}
