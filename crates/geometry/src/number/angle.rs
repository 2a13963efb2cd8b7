//! Angles from sides, in plain arithmetic.
//!
//! The C library's functions differ from one platform to another in the last digit, and keep the
//! compiler from taking several poses at a time. These do neither.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};
use std::hint::select_unpredictable as choose;

/// Coefficients of (atan z / z - 1) / z², in powers of z², for |z| up to tan 22.5°: by interpolation at
/// Chebyshev's points; the angle's relative error is below 7e-18, less than its rounding.
const SERIES: [f64; 11] = [
    -0.333_333_333_333_333_3,
    0.199_999_999_999_955_13,
    -0.142_857_142_846_648_2,
    0.111_111_110_151_176_26,
    -0.090_909_045_724_873_47,
    0.076_921_830_598_941_14,
    -0.066_645_096_032_553_86,
    0.058_581_328_944_279_22,
    -0.050_853_659_223_442_48,
    0.039_229_237_138_359_43,
    -0.019_173_922_285_547_93,
];

/// tan 22.5°.
const EIGHTH: f64 = 0.414_213_562_373_095_05;

/// What a double lacks of half pi.
const FRAC_PI_2_REST: f64 = 6.123_233_995_736_766e-17;

/// Angle of the point (`x`, `y`) from the x axis, radians, to two units in the last place. Not a number
/// where either is not, or is infinite.
#[inline(always)]
pub(crate) fn atan2(y: f64, x: f64) -> f64 {
    let (across, up) = (x.abs(), y.abs());
    let steep = up > across;
    let (near, far) = (choose(steep, across, up), choose(steep, up, across));
    let wide = near > EIGHTH * far;
    let (numerator, denominator) = (choose(wide, near - far, near), choose(wide, near + far, far));
    let z = choose(denominator == 0.0, 0.0, numerator / denominator);
    let s = z * z;
    let s2 = s * s;
    // Even and odd powers apart: half as long a chain.
    let c = &SERIES;
    let even = c[0] + s2 * (c[2] + s2 * (c[4] + s2 * (c[6] + s2 * (c[8] + s2 * c[10]))));
    let odd = c[1] + s2 * (c[3] + s2 * (c[5] + s2 * (c[7] + s2 * c[9])));
    let turn = z + z * s * (even + s * odd);
    let turn = choose(wide, FRAC_PI_4 + (turn + 0.5 * FRAC_PI_2_REST), turn);
    let turn = choose(steep, FRAC_PI_2 - (turn - FRAC_PI_2_REST), turn);
    let turn = choose(x < 0.0, PI - (turn - 2.0 * FRAC_PI_2_REST), turn);
    turn.copysign(y)
}

/// Arc sine, radians.
#[inline(always)]
pub(crate) fn asin(x: f64) -> f64 {
    atan2(x, ((1.0 - x) * (1.0 + x)).sqrt())
}

#[cfg(test)]
mod tests {
    use super::{asin, atan2};
    use proptest::prelude::*;

    /// Units in the last place between two numbers of one sign.
    fn apart(a: f64, b: f64) -> u64 {
        a.to_bits().abs_diff(b.to_bits())
    }

    #[test]
    fn axes_and_diagonals() {
        for (y, x) in [
            (0.0, 1.0),
            (-0.0, 1.0),
            (0.0, -1.0),
            (-0.0, -1.0),
            (1.0, 0.0),
            (-1.0, 0.0),
            (0.0, 0.0),
            (2.0, 2.0),
            (-2.0, 2.0),
            (3.0, -3.0),
            (-3.0, -3.0),
            (1e-300, 1.0),
            (1.0, 1e-300),
            (1e-300, -1.0),
        ] {
            let (ours, theirs) = (atan2(y, x), f64::atan2(y, x));
            assert_eq!(ours.is_sign_negative(), theirs.is_sign_negative(), "{y} {x}");
            assert!(apart(ours, theirs) <= 1, "{y} {x}: {ours} {theirs}");
        }
        for (y, x) in [(f64::NAN, 1.0), (1.0, f64::NAN), (f64::NAN, f64::NAN)] {
            assert!(atan2(y, x).is_nan());
        }
        assert!(asin(1.0 + 1e-15).is_nan() && asin(f64::NAN).is_nan());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(20_000))]
        #[test]
        fn agrees_with_the_library(y in -1.0..1.0_f64, x in -1.0..1.0_f64, scale in -30..30_i32) {
            let y = y * f64::powi(2.0, scale);
            prop_assert!(apart(atan2(y, x), y.atan2(x)) <= 2, "{} {}", atan2(y, x), y.atan2(x));
        }

        #[test]
        fn arc_sine_agrees_with_the_library(x in -1.0..1.0_f64, scale in -20..=0_i32) {
            let x = x * f64::powi(2.0, scale);
            prop_assert!((asin(x) - x.asin()).abs() <= 3e-16 * (1.0 + x.asin().abs()));
        }
    }
}
