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

pub use change::change_state::ChangeState;
pub use change::plate_draft::PlateDraft;
pub use decide::decide_state::DecideState;
pub use decide::fit_choice::{FitChoice, Gap};
pub use files::files_state::FilesState;
pub use frame::layout::{StageArea, window_ui};
pub use frame::ui_state::{SteerUnit, UiState};
pub use plots::wall_state::{Card, WallState};
pub use readings::ReadingsState;
pub use state::map_choice::MapChoice;
pub use state::shared::{Front, Shared, Task};
pub use state::snaps::snaps;
