//! Curves of readings over travel and steer, as data: what to draw, not how.
//!
//! Promises: a curve is computed when something it depends on has changed and else taken from the
//! [`Sweeps`] kept; where a pose cannot be reached there is a gap, never a guess.

mod curve;
mod difference;
mod from_zero;
mod spec;
mod sweeps;
#[cfg(test)]
mod tests;
mod ticks;

pub use curve::{Branch, Curve, Place, Trace, Whose};
pub use spec::{Over, Shown, Spec};
pub use sweeps::Sweeps;
pub use ticks::Ticks;
