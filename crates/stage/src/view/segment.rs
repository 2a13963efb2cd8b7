//! A straight piece between two places.

use nalgebra::Point3;

/// The place on a straight piece that is nearest to a point; its first end where it has no length.
#[must_use]
pub fn nearest_on([from, to]: [Point3<f64>; 2], point: Point3<f64>) -> Point3<f64> {
    let along = to - from;
    from + along * ((point - from).dot(&along) / along.norm_squared().max(1e-12)).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::nearest_on;
    use nalgebra::Point3;

    #[test]
    fn beside_it_beyond_its_ends_and_without_length() {
        let ends = [Point3::new(0.0, 1.0, 0.0), Point3::new(2.0, 1.0, 0.0)];
        for (point, nearest) in [([0.5, 3.0, 4.0], 0.5), ([-1.0, 1.0, 0.0], 0.0), ([9.0, 9.0, 9.0], 2.0)] {
            let found = nearest_on(ends, Point3::from(point));
            assert!((found - Point3::new(nearest, 1.0, 0.0)).norm() < 1e-12, "{found}");
        }
        assert!((nearest_on([ends[0]; 2], ends[1]) - ends[0]).norm() < 1e-12);
    }
}
