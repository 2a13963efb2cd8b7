//! Two corners or a beam that carries both wheels, what hangs on both, and the car of two axles.

pub(crate) mod adjusters;
pub(crate) mod axle_limits;
pub(crate) mod axle_motion;
pub(crate) mod axle_pose;
pub(crate) mod axle_solver;
pub(crate) mod beam;
mod beam_align;
mod beam_model;
pub(crate) mod beam_solver;
pub(crate) mod car_solver;
pub(crate) mod cross_axle;
pub(crate) mod rate_by;
pub(crate) mod rear_line;
pub(crate) mod stiffness;
pub(crate) mod turn_centre;
pub(crate) mod wheel_carrier;
