//! A point that stays on a line of another body: a slider with a ball joint, as in a strut.

use super::square::square_to;
use crate::mechanism::rows::{Anchor, Rows, Situation};
use crate::number::real::Real;
use nalgebra::Vector3;

/// A point held on a line.
#[derive(Clone, Copy, Debug)]
pub struct Slider<T: Real> {
    /// The point.
    pub point: Anchor<T>,
    /// A point of the line.
    pub line: Anchor<T>,
    /// The line's direction in the frame of `line`.
    pub along: Vector3<T>,
}

impl<T: Real> Slider<T> {
    /// Two rows: the point's distance from the line along two directions square to it.
    pub(super) fn write<const B: usize, const N: usize>(
        &self,
        situation: &Situation<'_, T, B>,
        rows: &mut Rows<T, N>,
    ) -> Option<()> {
        let point = situation.place(&self.point);
        let line = situation.place(&self.line);
        let gap = point.at - line.at;
        for side in square_to(&self.along) {
            let side = situation.direction(self.line.frame, &side);
            let row = rows.start(side.dot(&gap))?;
            rows.by_point(row, &point, &side, situation);
            rows.by_point(row, &line, &-side, situation);
            rows.by_turn(row, self.line.frame, &side.cross(&gap), situation);
        }
        Some(())
    }
}
