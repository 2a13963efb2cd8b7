//! A car being worked on: what is known of it, what can be done to it as values, and what is derived from it.
//!
//! [`Session`] is the one truth of a window: the car, its changes and their undo, the pose, the limits, the open
//! proposal. What is [`derived`] from it (curves, maps, verdicts, whether all of it fits) is kept by one rule:
//! [`keep`]. Nothing here draws, and nothing knows a window.
//!
//! ```
//! use wheelpath_geometry::{End, Side, WheelPosition, reading};
//! use wheelpath_session::{Edit, Session, Values, Wheels};
//!
//! let mut session = Session::of(wheelpath_project::demo_car()?.loaded).expect("the demo car is solved");
//! session.apply(Edit::SetTravel { wheels: Wheels::All, travel: 0.020 });
//! let front_left = WheelPosition { end: End::Front, side: Side::Left };
//! let camber = reading("camber_to_body").expect("a reading of this name");
//! let in_bump = Values::of(session.shown()).wheel(front_left, camber);
//! session.apply(Edit::ResetPose);
//! assert!(in_bump < Values::of(session.shown()).wheel(front_left, camber), "it gains negative camber in bump");
//! # Ok::<(), wheelpath_car_file::LoadError>(())
//! ```

#[cfg(test)]
extern crate self as wheelpath_session;

pub mod between;
pub mod derived;
pub mod keep;
mod session;
#[cfg(test)]
mod test_cars;

pub use session::*;
