//! From the car to the screen: the turntable, the projection, what of a line can be seen.

pub mod line_clipping;
pub mod projection;
pub mod turntable;
