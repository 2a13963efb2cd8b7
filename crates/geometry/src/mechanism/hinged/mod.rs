//! Parts that follow the upright in closed form: wishbones about their hinge, rockers and bar arms
//! worked by a rod.

mod arm;
mod swing;

pub use arm::Arm;
pub use swing::{Swing, SwingPose};

#[cfg(test)]
mod tests;
