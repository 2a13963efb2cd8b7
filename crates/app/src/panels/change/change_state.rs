//! What the drawer of changes remembers.

use crate::panels::change::plate_draft::PlateDraft;
use crate::panels::state::panel::Panel;
use wheelpath_geometry::reading;
use wheelpath_session::{Goal, WantedReading};

/// The drawer of changes with what it remembers.
pub(in crate::panels) type ChangePanel<'a> = Panel<'a, ChangeState>;

/// What the drawer of changes remembers.
#[derive(Clone, Debug)]
pub struct ChangeState {
    /// The plate being described.
    pub plate: PlateDraft,
    /// Readings whose ways are shown at the point selected.
    pub ways: Vec<WantedReading>,
}

impl Default for ChangeState {
    /// Bump steer is asked about at first.
    fn default() -> Self {
        let ways = reading("bump_steer").map(|reading| WantedReading { reading, aim: Goal::Zero });
        ChangeState { plate: PlateDraft::default(), ways: ways.into_iter().collect() }
    }
}
