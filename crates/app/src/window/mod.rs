//! The window: the session, the panels and the stage put together.
//!
//! Promises: systems only carry values between them; what is done anywhere becomes an
//! [`Edit`](wheelpath_session::Edit) and goes through [`Session::apply`]; while nothing happens nothing is
//! drawn.

mod answer;
mod display;
mod open;
#[expect(clippy::needless_pass_by_value, reason = "systems take their parameters by value")]
mod remembered;
mod screen;
#[cfg(test)]
mod tests;
mod work;
mod workbench;
mod zoom;

pub use answer::DragOrigin;
pub use open::{NoWindow, open_window, window_app};
pub use work::{Panels, Work};
pub use workbench::Workbench;

#[cfg(doc)]
use wheelpath_session::Session;
