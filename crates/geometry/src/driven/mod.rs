//! What the upright drives: swinging arms, rockers, damper, spring and bar.

pub(crate) mod driven_motion;
pub(crate) mod driven_parts;
