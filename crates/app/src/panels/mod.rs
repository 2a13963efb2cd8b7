//! The panels round the stage: plain functions from a session to what is on the screen and to edits.
//!
//! Promises: no Bevy in any signature; reading a session never changes it, what is done comes out as
//! [`Edit`](wheelpath_session::Edit)s; at rest nothing asks to be drawn again. [`window_ui`] lays all of
//! them out.

mod change;
mod decide;
mod files;
mod frame;
mod plots;
mod readings;
mod state;
#[cfg(test)]
mod tests;
mod widgets;

pub use frame::layout::{StageArea, window_ui};
pub use state::fit_choice::{FitChoice, Gap};
pub use state::map_choice::MapChoice;
pub use state::plate_draft::{PlateDraft, snaps};
pub use state::ui_state::{Card, Front, SteerUnit, Task, UiState};
