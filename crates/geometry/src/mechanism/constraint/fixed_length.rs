//! Two points at a fixed distance: a rod.

use crate::mechanism::rows::{Anchor, Rows, Situation};
use crate::number::real::Real;
use nalgebra::Vector3;

/// A rod of fixed length with a ball joint at each end.
#[derive(Clone, Copy, Debug)]
pub struct FixedLength<T: Real> {
    /// One end.
    pub from: Anchor<T>,
    /// The other end.
    pub to: Anchor<T>,
    length: T,
    reciprocal: T,
}

impl<T: Real> FixedLength<T> {
    /// A rod between two points; its length in metres.
    pub fn new(from: Anchor<T>, to: Anchor<T>, length: T) -> Self {
        FixedLength { from, to, length, reciprocal: T::one() / length }
    }

    /// The residual for the vector between the ends, and its gradient to the end it points to. The
    /// residual is `(d·d - L²) / 2L`, which is the error of the length to first order and needs no root.
    #[inline(always)]
    pub(in crate::mechanism) fn row(&self, gap: &Vector3<T>) -> (T, Vector3<T>) {
        let residual = (gap.dot(gap) * self.reciprocal - self.length) * T::constant(0.5);
        (residual, gap * self.reciprocal)
    }

    /// One row.
    #[inline]
    pub(super) fn write<const B: usize, const N: usize>(
        &self,
        situation: &Situation<'_, T, B>,
        rows: &mut Rows<T, N>,
    ) -> Option<()> {
        let from = situation.place(&self.from);
        let to = situation.place(&self.to);
        let gap = to.at - from.at;
        let (residual, along) = self.row(&gap);
        let row = rows.start(residual)?;
        rows.by_point(row, &to, &along, situation);
        rows.by_point(row, &from, &-along, situation);
        Some(())
    }
}
