//! What many poses of a car say together: verdicts on limits, distances between parts, maps over the
//! places a point could have.
//!
//! Pure functions from a car to values. Nothing here reads a file, prints, or knows a window.

pub mod clearance;
mod least;
mod map;
pub mod side_by_side;
mod tolerance;
mod verdict;

pub use map::{Cell, MapOf, Patch};
pub use tolerance::{Hole, Placing, Tolerance, WIDEST, tolerance};
pub use verdict::{FIT_STEERS, FIT_TRAVELS, Outcome, Place, Verdict, Worst, verdict, verdicts};
