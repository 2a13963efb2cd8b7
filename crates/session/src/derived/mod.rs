//! What is derived from a session and kept: curves, maps, verdicts on limits, whether all of it fits.
//!
//! Each is asked for with a question that names the car by its [`CarRevision`](crate::keep::CarRevision), and
//! kept by the rule of [`crate::keep`]. Another car that is opened makes every question another.

pub mod curves;
pub mod fit;
pub mod maps;
pub mod verdicts;

/// Everything that is derived from a session for a window.
#[derive(Clone, Debug, Default)]
pub struct Derived {
    /// Sweeps, and the curves made of them.
    pub curves: curves::Sweeps,
    /// The map for the point selected.
    pub map: maps::Maps,
    /// Verdicts on the limits.
    pub verdicts: verdicts::Verdicts,
    /// Distances, joints and stops.
    pub fit: fit::Fit,
}
