//! A number between two bounds, whatever they are.

/// The number, brought between two bounds; the greater bound where the lesser is above it, as it may be in
/// a window too small for both. `f32::clamp` would end the program there.
pub fn between<T: PartialOrd + Copy>(x: T, least: T, most: T) -> T {
    let x = if x < least { least } else { x };
    if x > most { most } else { x }
}

#[cfg(test)]
mod tests {
    use super::between;

    #[test]
    fn bounds_that_cross_give_the_greater() {
        for (x, least, most, is) in [
            (1.0_f64, 0.0, 2.0, 1.0),
            (-1.0, 0.0, 2.0, 0.0),
            (3.0, 0.0, 2.0, 2.0),
            (1.0, 300.0, 288.0, 288.0),
            (400.0, 300.0, 288.0, 288.0),
        ] {
            assert!((between(x, least, most) - is).abs() < 1e-12, "{x} between {least} and {most}");
        }
        assert!(between(1.0, f64::NAN, f64::NAN).is_finite());
    }
}
