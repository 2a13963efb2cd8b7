//! Numbers: plain or carrying derivatives, one or several at a time; angles, units and their words.

pub(crate) mod angle;
pub(crate) mod lanes;
pub(crate) mod real;
pub(crate) mod shown;
pub(crate) mod unit;
