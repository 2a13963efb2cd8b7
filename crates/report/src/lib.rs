//! Readings for people: tables aligned in a terminal, charts in characters or as SVG, drawings at full
//! size as SVG, PDF and DXF.
//!
//! Pure functions from values to `String`s and bytes. Nothing here reads a file, prints, solves, or knows a
//! window.

mod axle_table;
mod bracket;
mod chart;
mod drawing;
mod escape;
mod number;
mod plate;
mod table;
mod ticks;
mod wrap;

pub use axle_table::{AxleColumns, Rows, axle_table, axle_table_before_after};
pub use bracket::{
    BracketFault, BracketSheet, MovedHole, NoSheet, Placing, PointOf, ReferenceHole, SheetHoles, Tolerance,
    moved_points, rounded_down,
};
pub use chart::{Axis, Chart, Series, Stroke};
pub use drawing::{Anchor, Drawing, LineStyle, Mark, OnPage, Page, Paper};
pub use number::{Style, significant};
pub use plate::{Plate, PlateFault};
pub use table::{Align, Table};
pub use ticks::Ticks;
pub use wheelpath_geometry::fixed;
pub use wrap::{WIDEST, folded, folded_around, folded_help, wrap};
