//! Maps: what a reading would do if a point stood elsewhere in a plane, computed beside the window, coarse
//! at first and then finer.
//!
//! Promises: the window never waits; what is shown belongs to what was asked for, or says that it does not
//! yet; a place where the linkage does not reach every travel stays empty.

mod asked;
mod contour;
mod reading_map;
mod work;

pub use asked::Asked;
pub use contour::{Field, Piece, joined};
pub use reading_map::{Level, ReadingMap};
pub use work::Maps;

#[cfg(test)]
mod tests;
