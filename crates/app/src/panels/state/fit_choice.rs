//! Whether all of it fits: what was asked and found.

use nalgebra::Vector3;
use wheelpath_geometry::{Car, CarPose, CarSolver};
use wheelpath_session::Session;
use wheelpath_session::background_job::BackgroundJob;
use wheelpath_studies::clearance::Clearances;

/// A distance that is shown on the car, in its pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Gap {
    /// The nearest points of both surfaces, metres.
    pub at: [Vector3<f64>; 2],
    /// Which parts, and how far.
    pub text: String,
    /// Where it is so small.
    pub pose: CarPose,
    /// Of which car.
    pub revision: u64,
}

#[derive(Clone, Debug)]
pub(in crate::panels) struct Asked {
    pub(in crate::panels) car: Car,
    pub(in crate::panels) solver: CarSolver,
    pub(in crate::panels) revision: u64,
}

impl PartialEq for Asked {
    fn eq(&self, other: &Self) -> bool {
        self.revision == other.revision && self.car == other.car
    }
}

/// What was found, and of which car.
#[derive(Clone, Debug)]
pub(in crate::panels) struct Found {
    pub(in crate::panels) axles: [Clearances; 2],
    pub(in crate::panels) revision: u64,
}

/// Whether all of it fits: asked about while it is shown.
#[derive(Clone, Debug, Default)]
pub struct FitChoice {
    /// Whether it is shown.
    pub open: bool,
    /// The distance shown on the car.
    pub(in crate::panels) gap: Option<Gap>,
    pub(in crate::panels) found: BackgroundJob<Asked, Found>,
}

impl FitChoice {
    /// The distance that belongs on the stage: only in its own pose of its own car.
    #[must_use]
    pub fn gap(&self, session: &Session) -> Option<&Gap> {
        let here = session.shown().pose;
        self.gap.as_ref().filter(|gap| self.open && gap.pose == here && gap.revision == session.revision())
    }
}
