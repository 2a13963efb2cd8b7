//! Where a car's wheels stand and how they move: linkages solved, not sketched.
//!
//! A [`Car`] is points, wheels and links in the design pose. [`CarSolver::new`] makes it ready,
//! [`CarSolver::solve`] closes every link at a [`CarPose`], and the readings of [`wheel_readings`]
//! and [`axle_readings`] are taken there. Everything is `f64`, metres and radians, vehicle axes
//! (ISO 8855: X forward, Y left, Z up). Nothing here reads a file, prints, or panics on input: what
//! cannot be solved is a [`Stop`] or a [`Finding`] that says where.
//!
//! ```
//! use wheelpath_geometry::{CarPose, CarSolver, End, Side, reading};
//!
//! # let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-cars/alder.ron");
//! let car = wheelpath_car_file::load(file.as_ref())?.car;
//! let solver = CarSolver::new(&car).expect("its links meet as drawn");
//! // All wheels 20 mm in bump, the rack 10 mm toward the left.
//! let pose = CarPose { travel: [0.020; 4], steer: 0.010 };
//! let solved = solver.solve(&pose).expect("the pose is within its travel");
//! let camber = reading("camber_to_body").expect("a reading of this name");
//! let outer = solved.axle(End::Front).wheel_values(Side::Right).get(camber);
//! let inner = solved.axle(End::Front).wheel_values(Side::Left).get(camber);
//! assert!(outer < inner, "caster leans the outer wheel into the turn");
//! # Ok::<(), wheelpath_car_file::LoadError>(())
//! ```

mod axle;
mod car;
mod change;
mod check;
mod corner;
mod driven;
mod linkage;
pub mod mechanism;
mod number;
mod range;
mod readings;
mod requirement;
mod road;
mod sensitivity;
mod sweep;

pub use axle::axle_motion::{AxleContext, AxleMotion, AxleReference, SteeringGear};
pub use axle::axle_pose::{AxlePose, Travelling};
pub use axle::axle_solver::{AxleSolver, SolvedAxle};
pub use axle::car_solver::{CarPose, CarSolver, SolvedCar};
pub use axle::cross_axle::{Between, TBarMotion};
pub use axle::rear_line::RearLine;
pub use axle::stiffness::{AxleStiffness, wheel_rate};
pub use axle::turn_centre::{NoTurnCentre, SlowTurn};
pub use car::axis::Axis;
pub use car::hardpoint::{Hardpoint, Link};
pub use car::parameter::{Parameter, ScalarParameter, SpringNumber, SteeringNumber, WheelNumber};
pub use car::part::{Part, Piece, PieceEnd};
pub use car::position::{End, Side, WheelPosition};
pub use car::springing::{AntiRollBar, BarKind, DamperStops, Spring, Springing, ThirdSpring};
pub use car::static_loads::{GRAVITY, StaticLoads};
pub use car::steering::{CardanJoint, Column, Rack, SteerInput, Steering, SteeringArm, SteeringBox};
pub use car::wheel::{Wheel, spin_axis_from_angles};
pub use car::{
    Alignment, Axle, CamberBy, Car, Component, Corner, Hardpoints, LinkageKind, ToeBy, TorqueReaction,
};
pub use change::assembly::Assembly;
pub use change::bracket::{Bracket, BracketPlane, BracketReference};
pub use change::proposal::{Applied, CannotApply, Change, Elsewhere, Proposal};
pub use change::range::ParameterRange;
pub use change::selection::Selection;
pub use change::value::Value;
pub use change::wheel_number::static_angles;
pub use check::{Count, Finding, Measured, Severity, Subject, Usual, check, check_in, measures};
pub use corner::align::Adjusted;
pub use corner::corner_motion::{AsOne, CornerMotion, Reference, SteeringAxis};
pub use corner::corner_solver::{CornerSolver, FURTHEST, SolvedCorner};
pub use corner::ground::Ground;
pub use corner::on_ground::OnGround;
pub use driven::driven_motion::{DropLink, Moving, SpringState, ValueAndRate};
pub use linkage::links::Links;
pub use linkage::needs::Need;
pub use linkage::spec::{AxisBy, CamberAdjuster, CamberMoves, Carried, Carrier, HubOn, LinkageSpec};
pub use mechanism::CLOSED;
pub use mechanism::stop::{Stop, StopKind};
pub use number::real::Real;
pub use number::shown::{acts, excerpt, shown_name, shown_text};
pub use number::unit::{INCH, LengthUnit, POUND, POUND_FORCE, Unit, fixed, signed};
pub use range::exceeded::{Exceeded, exceeded, exceeded_on};
pub use range::near_dead_point::NearDeadPoint;
pub use range::reach::{EndedBy, ReachEnd};
pub use readings::{
    AXLE_READINGS, AxleValues, FARTHEST_TOLD, Group, MotionOf, NEARLY_PARALLEL, Reading, Scope,
    WHEEL_READINGS, WheelValues, axle_readings, axle_values, first_readings, reading, reading_called,
    readings_beginning, wheel_readings, wheel_values,
};
pub use requirement::{Limited, Pairs, PartKind, PoseRange, Quantity, Requirement, SteadyCorner};
pub use road::{
    AxleEstimate, BodyPose, CentreBy, Cornering, Estimate, FallsOver, Gradients, HeldBy, Holding,
    Ingredients, LEFT_OUT, Lacking, Lock, MidCorner, NoEstimate, PitchCentre, Resting, RoadAcceleration,
    RoadContact, RoadSolver, RollModelInputs, Standing, SteerRise, Support, ToRoad, Turn, TurningWheel,
};
pub use sensitivity::{ChangedOn, Sensitivity};
pub use sweep::sweep_history::SweepHistory;
pub use sweep::{SweepPoint, SweepValues, over_grid, over_steer, over_travel, spaced};
