//! Where a car's wheels stand and how they move: linkages solved, not sketched.
#![allow(dead_code)]
mod car;
mod mechanism;
mod pickup;
mod real;
mod side;
