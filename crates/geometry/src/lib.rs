//! Where a car's wheels stand and how they move: linkages solved, not sketched.
//!
//! A [`Car`] is points, wheels and links in the design pose. [`CarSolver::new`] makes it ready,
//! [`CarSolver::solve`] closes every link at a [`CarPose`], and the readings of [`wheel_readings`]
//! and [`axle_readings`] are taken there. Everything is `f64`, metres and radians, vehicle axes
//! (ISO 8855: X forward, Y left, Z up). Nothing here reads a file, prints, or panics on input: what
//! cannot be solved is a [`Stop`] or a [`Finding`] that says where.

mod axle_motion;
mod car;
mod car_solver;
mod check;
mod corner_model;
mod corner_motion;
mod corner_solver;
mod design;
mod exceeded;
mod follower;
mod ground;
mod linkage;
pub mod mechanism;
mod on_ground;
mod pickup;
mod readings;
mod real;
mod road;
mod sensitivity;
mod side;
mod stop;
mod sweep;
mod track;
mod unit;

pub use axle_motion::{AxleContext, AxleMotion, AxleReference};
pub use car::{
    Alignment, Axle, CamberBy, Car, Carrier, Corner, DamperStops, LinkageKind, Pickups, Rack, Reacted,
    Springing, Steering, ToeBy, Wheel, spin_axis_from_angles,
};
pub use car_solver::{AxleSolver, CarPose, CarSolver, SolvedAxle, SolvedCar};
pub use check::{Finding, Severity, Subject, check};
pub use corner_motion::{CornerMotion, Followed, Reference};
pub use corner_solver::{Adjusted, CornerSolver, FURTHEST, SolvedCorner};
pub use design::Parameter;
pub use exceeded::{Exceeded, exceeded, exceeded_on};
pub use ground::Ground;
pub use mechanism::CLOSED;
pub use on_ground::OnGround;
pub use pickup::{Link, Pickup};
pub use readings::{
    AXLE_READINGS, AxleValues, Group, Reading, Scope, WHEEL_READINGS, WheelValues, axle_readings,
    axle_values, reading, wheel_readings, wheel_values,
};
pub use real::Real;
pub use road::{
    AxleEstimate, AxleIngredients, BodyPose, CentreBy, Cornering, Estimate, FallsOver, Footing, GRAVITY,
    Gradients, HeldBy, Holding, Ingredients, LEFT_OUT, Lock, MidCorner, PitchCentre, Resting, RoadSolver,
    Standing, SteerRise, Support, ToRoad, Turn, TurningWheel,
};
pub use sensitivity::{ChangedOn, Held, Sensitivity};
pub use side::{End, Side, WheelAt};
pub use stop::{Stop, StopKind};
pub use sweep::{AxlePose, SweepPoint, SweepValues, Travelling, over_grid, over_steer, over_travel, spaced};
pub use unit::{INCH, LengthUnit, Unit};
