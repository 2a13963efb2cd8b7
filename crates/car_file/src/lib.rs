//! Car files and point tables: read without half-loading, written without losing anything.
//!
//! A car file is RON text in declared units and axes. [`load`] gives a whole car or every fault with
//! its line and column; [`save`] changes only the numbers that changed, keeps comments, and replaces
//! the old file in one step or not at all.
//!
//! ```text
//! (format: "wheelpath car", version: 1, name: "...", units: Millimetre,
//!  axes: (x: Forward, y: Left, z: Up), design_pose: "...", wheelbase: 2650.0,
//!  front: (linkage: DoubleWishbone, steering: Rack(...), brakes: Outboard, drive: None,
//!          left: (wheel: (...), pickups: (...), ...), right: Mirrored), rear: (...))
//! ```

mod convert;
mod difference;
mod document;
mod edit;
mod error;
mod fields;
mod item;
mod nearest;
mod needs;
mod place;
mod read;
mod read_corner;
mod save;
mod syntax;
mod tree;
mod write;

pub use convert::{Axes, AxesFault, Direction, Units};
pub use document::{Document, Loaded, load, parse};
pub use error::{Fault, LoadError, Problem, SaveError};
pub use place::Place;
pub use save::save;

/// What `format` says in every car file.
pub const FORMAT: &str = "wheelpath car";
/// The version of the file format that is read and written.
pub const VERSION: u32 = 1;
