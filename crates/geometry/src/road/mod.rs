//! The car on the road: one plane under all four tyres, level or banked, the body above it.
//!
//! [`RoadSolver`] puts a car on a road. [`RoadSolver::stand`] holds the body in a [`BodyPose`] and
//! brings every wheel to the road; [`RoadSolver::rest`] holds the wheels against the body and lays it
//! down on them; [`RoadSolver::turn`] is the slow turn, [`RoadSolver::mid_corner`] the
//! steady corner.

mod body_pose;
mod estimate;
mod gradients;
mod ingredients;
mod mid_corner;
mod pitch_centre;
mod rest;
mod settle;
mod stand;
mod steer_rise;
mod touch;
mod turn;

pub use body_pose::BodyPose;
pub use estimate::{AxleEstimate, Estimate, FallsOver, Ingredients, LEFT_OUT, RollModelInputs};
pub use gradients::{Cornering, Gradients, RoadAcceleration};
pub use ingredients::{Lacking, NoEstimate};
pub use mid_corner::{MidCorner, ToRoad};
pub use pitch_centre::PitchCentre;
pub use rest::{Resting, Support};
pub use settle::{Holding, RoadContact};
pub use stand::{RoadSolver, Standing};
pub use steer_rise::{HeldBy, SteerRise};
pub use turn::{CentreBy, Lock, Turn, TurningWheel};
