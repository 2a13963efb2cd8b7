//! Lists of poses, and what comes of them.

pub(crate) mod axle_sweep;
pub(crate) mod corner_sweep;
pub(crate) mod grid;
pub(crate) mod hermite_segment;
pub(crate) mod pose_batch;
pub(crate) mod sweep_direction;
pub(crate) mod sweep_history;
pub(crate) mod sweep_node;
pub(crate) mod wheel_batch;

use crate::axle::axle_pose::{AxlePose, Travelling};
use crate::mechanism::stop::Stop;
use crate::readings::{AxleValues, WheelValues};

/// `count` values from `from` to `to`, both ends exact; one value is `from`. Between whole ends what is whole is
/// exact too.
#[must_use]
pub fn spaced(from: f64, to: f64, count: usize) -> Vec<f64> {
    #[expect(clippy::cast_precision_loss, reason = "counts are far below 2^52")]
    let between = |i: usize| {
        let (steps, done) = ((count - 1) as f64, i as f64);
        // The products of whole numbers are whole; a share of the way would be rounded first.
        let exact = (from * (steps - done) + to * done) / steps;
        if exact.is_finite() { exact } else { from + (to - from) * (done / steps) }
    };
    (0..count)
        .map(|i| match i {
            0 => from,
            i if i + 1 == count => to,
            i => between(i),
        })
        .collect()
}

/// A sweep over wheel travel, metres, at a fixed steering input.
#[must_use]
pub fn over_travel(travelling: Travelling, travels: &[f64], steer: f64) -> Vec<AxlePose> {
    travels.iter().map(|&t| AxlePose { travel: travelling.travels(t), steer }).collect()
}

/// A sweep over the steering input at fixed wheel travels, metres.
#[must_use]
pub fn over_steer(travel: [f64; 2], steers: &[f64]) -> Vec<AxlePose> {
    steers.iter().map(|&steer| AxlePose { travel, steer }).collect()
}

/// A grid: for each steering input, all wheel travels; every other row runs backward so that
/// neighbours in the list are neighbours in the grid.
#[must_use]
pub fn over_grid(travelling: Travelling, travels: &[f64], steers: &[f64]) -> Vec<AxlePose> {
    let mut poses = Vec::with_capacity(travels.len() * steers.len());
    for (row, &steer) in steers.iter().enumerate() {
        let mut line = over_travel(travelling, travels, steer);
        if row % 2 == 1 {
            line.reverse();
        }
        poses.append(&mut line);
    }
    poses
}

/// Readings at one pose of a sweep.
#[derive(Clone, Copy, Debug)]
pub struct SweepValues {
    /// Left and right wheel.
    pub wheels: [WheelValues; 2],
    /// The axle.
    pub axle: AxleValues,
}

/// One pose of a sweep: its readings, or the limit that keeps it from being reached.
#[derive(Clone, Debug)]
pub struct SweepPoint {
    /// What was asked.
    pub pose: AxlePose,
    /// What came of it.
    pub result: Result<SweepValues, Stop>,
}
