//! Whether all of it fits: what of it is shown.

use nalgebra::Vector3;
use wheelpath_geometry::CarPose;
use wheelpath_session::Session;
use wheelpath_session::keep::CarRevision;

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
    pub revision: CarRevision,
}

/// Whether all of it fits: asked about while it is shown.
#[derive(Clone, Debug, Default)]
pub struct FitChoice {
    /// Whether it is shown.
    pub open: bool,
    /// The distance shown on the car.
    pub(in crate::panels) gap: Option<Gap>,
}

impl FitChoice {
    /// The distance that belongs on the stage: only in its own pose of its own car.
    #[must_use]
    pub fn gap(&self, session: &Session) -> Option<&Gap> {
        let here = session.shown().pose;
        self.gap.as_ref().filter(|gap| self.open && gap.pose == here && gap.revision == session.revision())
    }
}
