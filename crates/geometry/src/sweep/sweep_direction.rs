//! What changes along a run of poses of one corner, and what stays.

use crate::corner::corner_solver::CornerSolver;

/// The way a run of poses goes.
#[derive(Clone, Copy, Debug)]
pub(crate) enum SweepDirection {
    /// Along the wheel travel, metres.
    Travel {
        /// The steering input, which stays.
        steer: f64,
    },
    /// Along the steering input.
    Steer {
        /// The wheel travel, metres, which stays.
        travel: f64,
    },
}

impl SweepDirection {
    /// As this corner sees it: where nothing steers it, the steering input counts for nothing.
    pub fn of(self, corner: &CornerSolver) -> Self {
        match self {
            SweepDirection::Travel { steer } if steer.is_finite() && !corner.steered() => {
                SweepDirection::Travel { steer: 0.0 }
            }
            way => way,
        }
    }

    /// Travel and steering input where what changes has this value.
    pub fn at(self, value: f64) -> [f64; 2] {
        match self {
            SweepDirection::Travel { steer } => [value, steer],
            SweepDirection::Steer { travel } => [travel, value],
        }
    }

    /// Whether what changes moves this corner by itself.
    pub fn moves(self, corner: &CornerSolver) -> bool {
        corner.model.mechanism.goes_abreast()
            && (matches!(self, SweepDirection::Travel { .. }) || corner.steered())
    }

    /// What changes, at this travel and steering input.
    pub fn value(self, travel: f64, steer: f64) -> f64 {
        match self {
            SweepDirection::Travel { .. } => travel,
            SweepDirection::Steer { .. } => steer,
        }
    }
}
