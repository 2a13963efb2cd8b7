//! Small dense linear systems, generic in the number so that derivatives pass through.

use crate::real::Real;

/// A square matrix split into triangular factors, rows exchanged for the largest pivot.
#[derive(Clone, Copy, Debug)]
pub struct Factors<T: Real, const N: usize> {
    rows: [[T; N]; N],
    reciprocal_pivots: [T; N],
    order: [usize; N],
    odd: bool,
}

impl<T: Real, const N: usize> Factors<T, N> {
    /// Factors the matrix. A pivot of zero gives infinities, which [`Factors::sign`] and the
    /// callers' residual tests catch.
    #[inline]
    pub fn of(mut rows: [[T; N]; N]) -> Self {
        let mut order = [0; N];
        for (i, place) in order.iter_mut().enumerate() {
            *place = i;
        }
        let mut odd = false;
        let mut reciprocal_pivots = [T::zero(); N];
        for k in 0..N {
            let mut best = k;
            let mut size = rows[k][k].value().abs();
            for (i, row) in rows.iter().enumerate().skip(k + 1) {
                let here = row[k].value().abs();
                if here > size {
                    best = i;
                    size = here;
                }
            }
            if best != k {
                rows.swap(best, k);
                order.swap(best, k);
                odd = !odd;
            }
            let pivot_row = rows[k];
            let reciprocal = T::one() / pivot_row[k];
            reciprocal_pivots[k] = reciprocal;
            for row in rows.iter_mut().skip(k + 1) {
                let factor = row[k] * reciprocal;
                row[k] = factor;
                for j in k + 1..N {
                    row[j] -= factor * pivot_row[j];
                }
            }
        }
        Factors { rows, reciprocal_pivots, order, odd }
    }

    /// Solves for one right-hand side.
    #[inline]
    pub fn solve(&self, right: &[T; N]) -> [T; N] {
        let mut x = [T::zero(); N];
        for i in 0..N {
            let mut sum = right[self.order[i]];
            for (factor, solved) in self.rows[i].iter().zip(&x).take(i) {
                sum -= *factor * *solved;
            }
            x[i] = sum;
        }
        for i in (0..N).rev() {
            let mut sum = x[i];
            for (factor, solved) in self.rows[i].iter().zip(&x).skip(i + 1) {
                sum -= *factor * *solved;
            }
            x[i] = sum * self.reciprocal_pivots[i];
        }
        x
    }

    /// Solves the transposed system: which constraints push against each other.
    pub fn solve_transposed(&self, right: &[T; N]) -> [T; N] {
        let mut y = *right;
        for i in 0..N {
            let mut sum = y[i];
            for (row, solved) in self.rows.iter().zip(&y).take(i) {
                sum -= row[i] * *solved;
            }
            y[i] = sum * self.reciprocal_pivots[i];
        }
        for i in (0..N).rev() {
            let mut sum = y[i];
            for (row, solved) in self.rows.iter().zip(&y).skip(i + 1) {
                sum -= row[i] * *solved;
            }
            y[i] = sum;
        }
        let mut x = [T::zero(); N];
        for i in 0..N {
            x[self.order[i]] = y[i];
        }
        x
    }

    /// Sign of the determinant: -1, 0 (or not finite), +1.
    #[inline]
    pub fn sign(&self) -> i8 {
        let mut negative = self.odd;
        for k in 0..N {
            let pivot = self.rows[k][k].value();
            if pivot == 0.0 || !pivot.is_finite() {
                return 0;
            }
            negative ^= pivot < 0.0;
        }
        if negative { -1 } else { 1 }
    }

    /// Smallest pivot over the largest: a cheap measure of how near the matrix is to singular.
    pub fn pivot_ratio(&self) -> f64 {
        let sizes = (0..N).map(|k| self.rows[k][k].value().abs());
        let (least, most) = sizes.fold((f64::INFINITY, 0.0_f64), |(a, b), s| (a.min(s), b.max(s)));
        least / most
    }
}

#[cfg(test)]
mod tests {
    use super::Factors;
    use nalgebra::{Matrix4, Vector4};

    #[test]
    fn agrees_with_nalgebra() {
        let rows =
            [[0.0, 2.0, -1.0, 4.0], [3.0, 1.0, 0.5, -2.0], [1.0, -7.0, 2.0, 0.0], [5.0, 5.0, 1.0, 1.5]];
        let right = [1.0, -2.0, 0.25, 8.0];
        let matrix = Matrix4::from_fn(|i, j| rows[i][j]);
        let factors = Factors::of(rows);
        let ours = Vector4::from(factors.solve(&right));
        let theirs = matrix.lu().solve(&Vector4::from(right)).unwrap();
        assert!((ours - theirs).amax() < 1e-13);
        let ours = Vector4::from(factors.solve_transposed(&right));
        let theirs = matrix.transpose().lu().solve(&Vector4::from(right)).unwrap();
        assert!((ours - theirs).amax() < 1e-13);
        assert_eq!(factors.sign() > 0, matrix.determinant() > 0.0);
    }

    #[test]
    fn a_singular_matrix_has_no_sign() {
        assert_eq!(Factors::of([[1.0, 2.0], [0.5, 1.0]]).sign(), 0);
    }
}
