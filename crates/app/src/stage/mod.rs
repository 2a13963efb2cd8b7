//! The stage: the car in 3D, the camera, and the dimensions drawn over it.
//!
//! It draws what a [`view::StageView`] says and reports what was grabbed; it knows
//! no linkage and computes no reading.

pub mod view;
