//! Where a car's wheels stand and how they move: linkages solved, not sketched.
//!
//! A [`Car`] is points, wheels and links in the design pose. [`CarSolver::new`] makes it ready,
//! [`CarSolver::solve`] closes every link at a [`CarPose`], and the readings of [`wheel_readings`]
//! and [`axle_readings`] are taken there. Everything is `f64`, metres and radians, vehicle axes
//! (ISO 8855: X forward, Y left, Z up). Nothing here reads a file, prints, or panics on input: what
//! cannot be solved is a [`Stop`] or a [`Finding`] that says where.

mod across;
mod adjusters;
mod align;
mod angle;
mod assemble;
mod axle_limits;
mod axle_motion;
mod axle_solver;
mod axle_sweep;
mod beam_solver;
mod block;
mod bracket;
mod car;
mod car_solver;
mod carried;
mod changed;
mod check;
mod column;
mod corner_model;
mod corner_motion;
mod corner_solver;
mod design;
mod exceeded;
mod follower;
mod followers;
mod grid;
mod ground;
mod item;
mod joint;
mod lanes;
mod limit;
mod linkage;
mod links;
pub mod mechanism;
mod near_dead_point;
mod needs;
mod on_ground;
mod owner;
mod part;
mod pickup;
mod point_set;
mod post;
mod proposal;
mod reach;
mod readings;
mod real;
mod road;
mod sensitivity;
mod shown;
mod side;
mod springing;
mod static_loads;
mod steering;
mod stop;
mod stretch;
mod sweep;
mod track;
mod trail;
mod turn_centre;
mod unit;
mod way;
mod wheel;
mod wheel_model;
mod wheel_number;
mod whole;

pub use across::{Between, TBarMotion};
pub use axle_motion::{AxleContext, AxleMotion, AxleReference, SteeringGear};
pub use axle_solver::{AxleSolver, SolvedAxle};
pub use bracket::{Bracket, BracketPlane, BracketReference};
pub use car::{Alignment, Axle, CamberBy, Car, Carrier, Corner, LinkageKind, Pickups, Reacted, ToeBy};
pub use car_solver::{CarPose, CarSolver, SolvedCar};
pub use check::{Count, Finding, Measured, Severity, Subject, Usual, check, check_in, measures};
pub use corner_motion::{AsOne, CornerMotion, DropLink, Followed, Moving, Pressed, Reference, SteeringAxis};
pub use corner_solver::{Adjusted, CornerSolver, FURTHEST, SolvedCorner};
pub use design::Parameter;
pub use exceeded::{Exceeded, exceeded, exceeded_on};
pub use ground::Ground;
pub use item::{Item, Of, SteeringNumber, Value};
pub use limit::{Bend, Limit, Limited, Over, Pairs, PartKind, Taken};
pub use links::Links;
pub use mechanism::CLOSED;
pub use near_dead_point::NearDeadPoint;
pub use needs::Need;
pub use on_ground::OnGround;
pub use owner::Owner;
pub use part::{Part, Piece, PieceEnd};
pub use pickup::{Link, Pickup};
pub use proposal::{Applied, CannotApply, Change, Elsewhere, Proposal};
pub use reach::{EndedBy, ReachEnd};
pub use readings::{
    AXLE_READINGS, AxleValues, Group, MotionOf, Reading, Scope, WHEEL_READINGS, WheelValues, axle_readings,
    axle_values, first_readings, reading, reading_called, readings_beginning, wheel_readings, wheel_values,
};
pub use real::Real;
pub use road::{
    AxleEstimate, AxleIngredients, AxleStiffness, BodyPose, CentreBy, Cornering, Estimate, FallsOver,
    Footing, GRAVITY, Gradients, HeldBy, Holding, Ingredients, LEFT_OUT, Lacking, Lock, MidCorner,
    NoEstimate, PitchCentre, Resting, RoadAcceleration, RoadSolver, Standing, SteerRise, Support, ToRoad,
    Turn, TurningWheel, wheel_rate,
};
pub use sensitivity::{ChangedOn, Sensitivity};
pub use shown::{acts, excerpt, shown_name, shown_text};
pub use side::{End, Side, WheelAt};
pub use springing::{AntiRollBar, BarKind, DamperStops, Spring, Springing, ThirdSpring};
pub use static_loads::StaticLoads;
pub use steering::{CardanJoint, Column, Rack, SteerInput, Steering, SteeringArm, SteeringBox};
pub use stop::{Stop, StopKind};
pub use sweep::{AxlePose, SweepPoint, SweepValues, Travelling, over_grid, over_steer, over_travel, spaced};
pub use trail::Trail;
pub use turn_centre::{NoTurnCentre, RearLine, SlowTurn};
pub use unit::{INCH, LengthUnit, POUND, POUND_FORCE, Unit, fixed, signed};
pub use wheel::{Wheel, spin_axis_from_angles};
pub use wheel_number::{WheelNumber, static_angles};
