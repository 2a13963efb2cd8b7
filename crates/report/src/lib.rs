//! Readings for people as text: tables aligned in a terminal, charts in characters
//! or as SVG.
//!
//! Pure functions from values to `String`s. Nothing here reads a file, prints, solves, or knows a
//! window.

mod axle_table;
mod chart;
mod number;
mod table;
mod ticks;
mod wrap;

pub use axle_table::{AxleColumns, axle_table};
pub use chart::{Axis, Chart, Series};
pub use number::{Style, fixed, significant};
pub use table::{Align, Table};
pub use wrap::wrap;
