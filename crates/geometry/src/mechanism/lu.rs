//! Small dense linear systems, generic in the number so that derivatives pass through.

use crate::number::real::Real;
use nalgebra::{Matrix3, Vector3};

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

/// An order of rows that gave good pivots once, and serves for matrices near that one.
#[derive(Clone, Copy, Debug)]
pub struct PivotOrder<const N: usize> {
    order: [usize; N],
    odd: bool,
}

/// A determinant of three unit directions smaller than this is not trusted.
const GOOD_DIRECTIONS: f64 = 1e-3;
/// A determinant of three levers, cubic metres, smaller than this is not trusted.
const GOOD_LEVERS: f64 = 1e-8;

impl<const N: usize> PivotOrder<N> {
    /// The order that this factoring found.
    pub fn of<T: Real>(factors: &Factors<T, N>) -> Self {
        PivotOrder { order: factors.order, odd: factors.odd }
    }
}

/// Inverse and determinant by cross products: one division, and nothing waits for another.
#[inline]
fn inverse<T: Real>(m: &Matrix3<T>) -> (Matrix3<T>, T) {
    let row = |i: usize| Vector3::new(m[(i, 0)], m[(i, 1)], m[(i, 2)]);
    let (a, b, c) = (row(0), row(1), row(2));
    let first = b.cross(&c);
    let determinant = a.dot(&first);
    let columns = [first, c.cross(&a), a.cross(&b)];
    (Matrix3::from_columns(&columns) * (T::one() / determinant), determinant)
}

impl PivotOrder<6> {
    /// Solves the six equations of one body for three right-hand sides at once (`right[row][side]`),
    /// and gives the sign of their determinant: -1 or +1, and 0 where this order does not serve.
    ///
    /// Two by two blocks of three: displacement first, then turn. Eliminating row by row would wait
    /// six times for a division; this waits twice.
    #[inline]
    pub fn solve<T: Real>(&self, matrix: &[[T; 6]; 6], right: &[[T; 3]; 6]) -> ([[T; 3]; 6], i8) {
        let rows = self.order.map(|from| &matrix[from]);
        let block = |i: usize, j: usize| Matrix3::from_fn(|r, c| rows[3 * i + r][3 * j + c]);
        let sides = |i: usize| Matrix3::from_fn(|r, c| right[self.order[3 * i + r]][c]);
        let (upper, directions) = inverse(&block(0, 0));
        let coupling = upper * block(0, 1);
        let lower = block(1, 0);
        let (turn, levers) = inverse(&(block(1, 1) - lower * coupling));
        let shift = upper * sides(0);
        let turned = turn * (sides(1) - lower * shift);
        let shifted = shift - coupling * turned;
        let mut x = [[T::zero(); 3]; 6];
        for (r, row) in x.iter_mut().enumerate() {
            let (from, r) = if r < 3 { (&shifted, r) } else { (&turned, r - 3) };
            *row = [from[(r, 0)], from[(r, 1)], from[(r, 2)]];
        }
        let (directions, levers) = (directions.value(), levers.value());
        // Not-a-number is not good.
        let good = directions.abs() > GOOD_DIRECTIONS && levers.abs() > GOOD_LEVERS;
        let negative = self.odd ^ (directions < 0.0) ^ (levers < 0.0);
        let sign = if negative { -1 } else { 1 };
        (x, if good { sign } else { 0 })
    }
}

#[cfg(test)]
mod tests {
    use super::{Factors, PivotOrder};
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
    fn blocks_agree_with_factors() {
        let rows: [[f64; 6]; 6] = [
            [0.1, 0.9, -0.2, 0.1, 0.0, 0.3],
            [0.8, 0.1, 0.3, -0.2, 0.1, 0.1],
            [0.0, 0.0, 1.0, 0.0, 0.0, 0.0],
            [0.4, -0.9, 0.1, 0.2, 0.3, -0.1],
            [-0.3, 0.9, 0.2, 0.1, -0.2, 0.2],
            [0.1, 1.0, 0.05, -0.05, 0.02, 0.13],
        ];
        let right = [1.0, -2.0, 0.25, 0.5, 3.0, -1.0].map(|x| [x, x * x, 1.0 - x]);
        let factors = Factors::of(rows);
        let (x, sign) = PivotOrder::of(&factors).solve(&rows, &right);
        assert_eq!(sign, factors.sign());
        for side in 0..3 {
            let one = factors.solve(&right.map(|row| row[side]));
            for row in 0..6 {
                assert!((x[row][side] - one[row]).abs() < 1e-12 * (1.0 + one[row].abs()), "{row} {side}");
            }
        }
    }

    #[test]
    fn blocks_of_a_singular_matrix_are_not_trusted() {
        let mut rows = [[0.0; 6]; 6];
        for (i, row) in rows.iter_mut().enumerate() {
            row[i] = if i < 5 { 1.0 } else { 1e-12 };
        }
        let factors = Factors::of(rows);
        assert_eq!(PivotOrder::of(&factors).solve(&rows, &[[1.0; 3]; 6]).1, 0);
    }

    #[test]
    fn a_singular_matrix_has_no_sign() {
        assert_eq!(Factors::of([[1.0, 2.0], [0.5, 1.0]]).sign(), 0);
    }
}
