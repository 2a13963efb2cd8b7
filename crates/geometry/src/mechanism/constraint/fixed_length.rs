//! Two points at a fixed distance: a rod.

use crate::mechanism::rows::{Anchor, Rows, Situation};
use crate::real::Real;

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

    /// One row. The residual is `(d·d - L²) / 2L`, which is the error of the length to first order
    /// and needs no root.
    #[inline]
    pub(super) fn write<const B: usize, const N: usize>(
        &self,
        situation: &Situation<'_, T, B>,
        rows: &mut Rows<T, N>,
    ) -> Option<()> {
        let from = situation.place(&self.from);
        let to = situation.place(&self.to);
        let gap = to.at - from.at;
        let half = T::constant(0.5);
        let row = rows.start((gap.dot(&gap) * self.reciprocal - self.length) * half)?;
        let along = gap * self.reciprocal;
        rows.by_point(row, &to, &along, situation);
        rows.by_point(row, &from, &-along, situation);
        Some(())
    }
}
