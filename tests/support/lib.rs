//! What the tests share.

pub mod near;
pub mod reference_car;
