//! The number the equations are written in.
//!
//! Every formula of this crate is written once, over [`Real`]. With `f64` it gives the value; with
//! [`Dual64`] it gives the value and its exact derivative to one chosen input, with [`Dual2_64`] the
//! second derivative too, and with [`Dual2OfDual`] the derivative of all three to another input. Branches look at the value alone, so all take the same path.

use nalgebra::{ClosedAddAssign, ClosedDivAssign, ClosedMulAssign, ClosedSubAssign, Matrix3, Vector3};
use num_dual::{Dual2, Dual2_64, Dual64, DualNum};
use num_traits::{One, Zero};
use std::ops::Neg;

/// A real number, or one that carries a derivative beside its value.
pub trait Real:
    nalgebra::Scalar
    + Copy
    + Zero
    + One
    + Neg<Output = Self>
    + ClosedAddAssign
    + ClosedSubAssign
    + ClosedMulAssign
    + ClosedDivAssign
{
    /// A constant: no derivative.
    fn constant(value: f64) -> Self;
    /// The value without its derivative.
    fn value(self) -> f64;
    /// Square root.
    fn sqrt(self) -> Self;
    /// Sine and cosine of an angle in radians.
    fn sin_cos(self) -> (Self, Self);
    /// Arc sine, radians.
    fn asin(self) -> Self;
    /// Angle of the point (`x`, `self`) from the x axis, radians.
    fn atan2(self, x: Self) -> Self;
}

impl Real for f64 {
    #[inline(always)]
    fn constant(value: f64) -> Self {
        value
    }
    #[inline(always)]
    fn value(self) -> f64 {
        self
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        f64::sqrt(self)
    }
    #[inline(always)]
    fn sin_cos(self) -> (Self, Self) {
        f64::sin_cos(self)
    }
    #[inline(always)]
    fn asin(self) -> Self {
        crate::number::angle::asin(self)
    }
    #[inline(always)]
    fn atan2(self, x: Self) -> Self {
        crate::number::angle::atan2(self, x)
    }
}

macro_rules! real_that_derives {
    ($dual:ty) => {
        impl Real for $dual {
            #[inline(always)]
            fn constant(value: f64) -> Self {
                <$dual>::from_re(Real::constant(value))
            }
            #[inline(always)]
            fn value(self) -> f64 {
                self.re.value()
            }
            #[inline(always)]
            fn sqrt(self) -> Self {
                DualNum::sqrt(&self)
            }
            #[inline(always)]
            fn sin_cos(self) -> (Self, Self) {
                DualNum::sin_cos(&self)
            }
            #[inline(always)]
            fn asin(self) -> Self {
                let mut angle = DualNum::asin(&self);
                angle.re = Real::asin(self.re);
                angle
            }
            #[inline(always)]
            fn atan2(self, x: Self) -> Self {
                let mut angle = DualNum::atan2(&self, x);
                angle.re = Real::atan2(self.re, x.re);
                angle
            }
        }
    };
}

real_that_derives!(Dual64);
real_that_derives!(Dual2_64);
real_that_derives!(Dual2OfDual);

/// A value with its first and second derivative along a line, and the derivative of each to a number that is
/// changed.
pub(crate) type Dual2OfDual = Dual2<Dual64>;

/// Length of a vector.
#[inline(always)]
pub(crate) fn length<T: Real>(v: &Vector3<T>) -> T {
    v.dot(v).sqrt()
}

/// The vector scaled to length one. A vector of length zero gives not-a-number.
#[inline(always)]
pub(crate) fn unit<T: Real>(v: &Vector3<T>) -> Vector3<T> {
    *v * (T::one() / length(v))
}

/// The vector with constant entries.
#[inline(always)]
pub(crate) fn lift<T: Real>(v: &Vector3<f64>) -> Vector3<T> {
    v.map(T::constant)
}

/// The vector without derivatives.
#[inline(always)]
pub(crate) fn values<T: Real>(v: &Vector3<T>) -> Vector3<f64> {
    v.map(T::value)
}

/// The unit vector along Z, up.
#[inline(always)]
pub(crate) fn up<T: Real>() -> Vector3<T> {
    Vector3::new(T::zero(), T::zero(), T::one())
}

/// The matrix that takes the cross product with `v` from the left.
#[inline(always)]
pub(crate) fn cross_matrix<T: Real>(v: &Vector3<T>) -> Matrix3<T> {
    let o = T::zero();
    Matrix3::new(o, -v.z, v.y, v.z, o, -v.x, -v.y, v.x, o)
}

/// Rotation by the vector `turn` (axis times angle, radians): Rodrigues' formula, with its series
/// near zero so that the derivative there is right too.
pub(crate) fn rotation<T: Real>(turn: &Vector3<T>) -> Matrix3<T> {
    let squared = turn.dot(turn);
    let (a, b) = if squared.value() < 1e-6 {
        let c = T::constant;
        (
            c(1.0) - squared * c(1.0 / 6.0) * (c(1.0) - squared * c(1.0 / 20.0)),
            c(0.5) - squared * c(1.0 / 24.0) * (c(1.0) - squared * c(1.0 / 30.0)),
        )
    } else {
        let angle = squared.sqrt();
        let (s, c) = angle.sin_cos();
        (s / angle, (T::one() - c) / squared)
    };
    let k = cross_matrix(turn);
    let o = T::zero();
    Matrix3::new(T::one(), o, o, o, T::one(), o, o, o, T::one()) + k * a + k * k * b
}
