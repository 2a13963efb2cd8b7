//! The five equations of many poses of one body, eliminated side by side.
//!
//! One order of equations and unknowns serves for all of them: the order that took the largest pivots at
//! a pose near by. As long as every pivot keeps its sign, the determinant does.

#![expect(clippy::needless_range_loop, reason = "a lane runs through many columns at once")]

use super::equations::Equations;
use super::rows::Rows;
use crate::number::lanes::{LANES, Lanes};
use std::array::from_fn;

/// The unknowns beside the height, which the driver gives.
const UNKNOWNS: [usize; 5] = [0, 1, 3, 4, 5];

/// An order of equations and unknowns that took the largest pivots at one pose.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Elimination {
    equations: [usize; 5],
    unknowns: [usize; 5],
    /// One over the pivots there.
    reciprocal: [f64; 5],
}

impl Elimination {
    /// From the equations at one pose; `None` where a pivot is zero or no number.
    pub(super) fn of(rows: &Rows<f64, 6>) -> Option<Self> {
        let mut m: [[f64; 5]; 5] = from_fn(|r| from_fn(|c| rows.jacobian[r][UNKNOWNS[c]]));
        let mut order = Elimination { equations: from_fn(|r| r), unknowns: UNKNOWNS, reciprocal: [0.0; 5] };
        for k in 0..5 {
            let mut best = (k, k, 0.0);
            for (r, row) in m.iter().enumerate().skip(k) {
                for (c, x) in row.iter().enumerate().skip(k) {
                    if x.abs() > best.2 {
                        best = (r, c, x.abs());
                    }
                }
            }
            let (r, c, size) = best;
            if size == 0.0 {
                return None;
            }
            m.swap(k, r);
            order.equations.swap(k, r);
            for row in &mut m {
                row.swap(k, c);
            }
            order.unknowns.swap(k, c);
            let pivot_row = m[k];
            order.reciprocal[k] = 1.0 / pivot_row[k];
            for row in m.iter_mut().skip(k + 1) {
                let factor = row[k] * order.reciprocal[k];
                for (x, p) in row.iter_mut().zip(&pivot_row).skip(k) {
                    *x -= factor * p;
                }
            }
        }
        order.reciprocal.iter().all(|x| x.is_finite()).then_some(order)
    }

    /// As if the pose it was chosen at had been of another assembly.
    #[cfg(test)]
    pub(crate) fn of_other_assembly(mut self) -> Self {
        self.reciprocal[2] = -self.reciprocal[2];
        self
    }

    /// Eliminates in every lane: the unknowns for the residuals and, if asked, for unit travel and unit
    /// steering.
    #[inline(always)]
    pub(super) fn solve<const SIDES: usize>(&self, rows: &Equations, solved: &mut Solved<SIDES>) {
        let rows = self.equations.map(|equation| &rows.0[equation]);
        let matrix: [[&Lanes; 5]; 5] = rows.map(|row| self.unknowns.map(|unknown| &row.jacobian[unknown]));
        for lane in 0..LANES {
            let mut m: [[f64; 5]; 5] = from_fn(|r| from_fn(|c| matrix[r][c][lane]));
            let mut y: [[f64; SIDES]; 5] = from_fn(|r| {
                from_fn(|side| match side {
                    0 => rows[r].residual[lane],
                    1 => -rows[r].jacobian[2][lane],
                    _ => -rows[r].by_steer[lane],
                })
            });
            let mut reciprocal = [0.0; 5];
            let mut least = f64::INFINITY;
            for k in 0..5 {
                let pivot = m[k][k];
                // Not-a-number is least of all.
                let ratio = pivot * self.reciprocal[k];
                least = std::hint::select_unpredictable(ratio >= least, least, ratio);
                reciprocal[k] = 1.0 / pivot;
                for r in k + 1..5 {
                    let factor = m[r][k] * reciprocal[k];
                    for c in k + 1..5 {
                        m[r][c] -= factor * m[k][c];
                    }
                    for side in 0..SIDES {
                        y[r][side] -= factor * y[k][side];
                    }
                }
            }
            solved.pivots[lane] = least;
            for side in 0..SIDES {
                let mut x = [0.0; 5];
                for k in (0..5).rev() {
                    let mut sum = y[k][side];
                    for c in k + 1..5 {
                        sum -= m[k][c] * x[c];
                    }
                    x[k] = sum * reciprocal[k];
                    solved.x[side][k][lane] = x[k];
                }
            }
        }
    }
}

/// What an elimination gives, unknowns in its order.
#[repr(align(64))]
pub(super) struct Solved<const SIDES: usize> {
    x: [[Lanes; 5]; SIDES],
    pub pivots: Lanes,
}

impl<const SIDES: usize> Solved<SIDES> {
    pub fn none() -> Self {
        Solved { x: [[[0.0; LANES]; 5]; SIDES], pivots: [0.0; LANES] }
    }

    /// The unknowns of a side by name: X, Y, turn.
    #[inline(always)]
    pub fn named(&self, order: &Elimination, side: usize) -> [&Lanes; 5] {
        let mut named = [&self.pivots; 5];
        for (slot, unknown) in named.iter_mut().zip(UNKNOWNS) {
            for (column, &there) in self.x[side].iter().zip(&order.unknowns) {
                if there == unknown {
                    *slot = column;
                }
            }
        }
        named
    }
}
