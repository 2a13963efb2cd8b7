//! The panels round the stage: plain functions from a session to what is on the screen and to edits.
//!
//! Promises: no Bevy in any signature; reading a session never changes it, what is done comes out as
//! [`Edit`](crate::session::Edit)s; at rest nothing asks to be drawn again. [`window_ui`] lays all of
//! them out.

mod arrangement;
mod body_bar;
mod changes;
mod compare_table;
mod curve_card;
mod curve_plot;
mod curve_wall;
mod decide;
mod drawer;
mod files;
mod fit;
mod fit_limit;
mod layout;
mod lazy_layout;
mod limit_rows;
mod map_card;
mod map_plot;
mod meant;
mod message_cards;
mod notices;
mod number_field;
mod other_files;
mod overlay_switches;
mod parameter_rows;
mod points;
mod pose_bar;
mod pull;
mod readings;
mod save;
mod scroll_anchor;
mod sheets;
mod stage_strip;
#[cfg(test)]
mod tests;
pub mod theme;
mod ui_state;
mod verdict_cache;
mod which_way;

pub use fit::{FitChoice, Gap};
pub use layout::{StageArea, window_ui};
pub use map_card::MapChoice;
pub use pull::{PlateDraft, snaps};
pub use ui_state::{Card, Front, SteerUnit, Task, UiState};
