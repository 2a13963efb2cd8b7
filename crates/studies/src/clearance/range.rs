//! The poses that are looked at.

use wheelpath_geometry::{Axle, AxlePose, spaced};

/// From where to where an axle is moved, and in how many steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Wheel travel, metres, first and last.
    pub travel: [f64; 2],
    /// How many travels.
    pub travel_count: usize,
    /// Steering input, first and last: rack travel, metres, or turn of the pitman arm, radians.
    pub steer: [f64; 2],
    /// How many steering inputs.
    pub steer_count: usize,
}

impl Range {
    /// The travels asked for, and steer from stop to stop.
    #[must_use]
    pub fn of(axle: &Axle, travel: [f64; 2], travel_count: usize, steer_count: usize) -> Range {
        Range { travel, travel_count, steer: axle.steering.stops(), steer_count }
    }

    /// Rows of poses. Of a steered axle: every travel at every steering input, both wheels alike, then in
    /// opposition, the one going up its range as the other goes down it. Of any other: every travel of one wheel with every travel of the other.
    pub(super) fn rows(&self, axle: &Axle) -> Vec<Vec<AxlePose>> {
        let travels = spaced(self.travel[0], self.travel[1], self.travel_count);
        let pose = |(&left, &right): (&f64, &f64), steer: f64| AxlePose { travel: [left, right], steer };
        if axle.steering.steers() {
            let steers = spaced(self.steer[0], self.steer[1], self.steer_count);
            let alike = |steer: f64| travels.iter().zip(&travels).map(|both| pose(both, steer)).collect();
            let opposed =
                |steer: f64| travels.iter().zip(travels.iter().rev()).map(|both| pose(both, steer)).collect();
            return steers.into_iter().flat_map(|steer| [alike(steer), opposed(steer)]).collect();
        }
        let row = |left: &f64| travels.iter().map(|right| pose((left, right), 0.0)).collect();
        travels.iter().map(row).collect()
    }

    /// Least and greatest of travel left, travel right, and steering input, and the grid's step there.
    pub(super) fn bounds(&self, axle: &Axle) -> [[f64; 3]; 3] {
        let sorted = |[a, b]: [f64; 2]| [a.min(b), a.max(b)];
        #[expect(clippy::cast_precision_loss, reason = "counts are far below 2^52")]
        let step = |[a, b]: [f64; 2], count: usize| (b - a) / (count.max(2) - 1) as f64;
        let along = |range: [f64; 2], count: usize| {
            let [least, most] = sorted(range);
            [least, most, step([least, most], count)]
        };
        let travel = along(self.travel, self.travel_count);
        let steer = if axle.steering.steers() { self.steer } else { [0.0; 2] };
        [travel, travel, along(steer, self.steer_count)]
    }
}
