//! What the tests share.

pub mod demo;
pub mod near;
pub mod outside;
pub mod planar;
pub mod reference_car;
pub mod sources;
