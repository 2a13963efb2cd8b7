//! Equations of many poses side by side.

use crate::number::lanes::{LANES, Lanes};
use std::array::from_fn;

/// One equation in every lane.
#[derive(Clone, Debug)]
#[repr(align(64))]
pub(super) struct Row {
    pub residual: Lanes,
    pub jacobian: [Lanes; 6],
    pub by_steer: Lanes,
}

/// Room for the equations of a step.
#[derive(Clone, Debug)]
pub(crate) struct Equations(pub(super) [Row; 5]);

impl Equations {
    /// None yet.
    pub fn none() -> Self {
        Equations(from_fn(|_| Row {
            residual: [0.0; LANES],
            jacobian: [[0.0; LANES]; 6],
            by_steer: [0.0; LANES],
        }))
    }
}
