//! The state of all panels.

use crate::adapter::OVERLAYS;
use crate::panels::change::change_state::{ChangePanel, ChangeState};
use crate::panels::decide::decide_state::{Decide, DecideState};
use crate::panels::files::files_state::{Files, FilesState};
use crate::panels::plots::wall_state::{Wall, WallState};
use crate::panels::readings::{Readings, ReadingsState};
use crate::panels::state::panel::Panel;
use crate::panels::state::shared::Shared;
use std::collections::BTreeSet;
use std::ops::{Deref, DerefMut};
use wheelpath_session::{Session, Wheels};
use wheelpath_stage::view::standard_views::StandardView;

/// In what steering is typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SteerUnit {
    /// Movement of the rack, mm or inches, or of the pitman arm, degrees.
    #[default]
    Input,
    /// Angle of the steering wheel, degrees.
    SteeringWheel,
}

/// The overlays that are switched off at first.
fn hidden_at_first() -> BTreeSet<String> {
    OVERLAYS.iter().filter(|(.., on)| !on).map(|(id, ..)| (*id).to_owned()).collect()
}

/// The state of all panels: what each owns, what they share, read and written as fields of this, and what the
/// frame round them remembers.
#[derive(Clone, Debug)]
pub struct UiState {
    shared: Shared,
    /// Of the readings.
    pub readings: ReadingsState,
    /// Of the drawer of changes.
    pub change: ChangeState,
    /// Of the drawer of decisions.
    pub decide: DecideState,
    /// Of the panels about files.
    pub files: FilesState,
    /// Of the wall of curves.
    pub wall: WallState,
    /// Which wheels the travel control moves.
    pub moving: Wheels,
    /// In what steering is typed.
    pub steer_unit: SteerUnit,
    /// Whether the car that is compared with stands beside the car, not in it.
    pub beside: bool,
    /// Overlays that are switched off.
    pub hidden: BTreeSet<String>,
    /// A view asked for; whoever moves the camera takes it.
    pub view: Option<StandardView>,
    /// How high the drawer of changes was to be in the last frame, so that nothing in it overlaps, points.
    pub(in crate::panels) change_height: f32,
    /// Whether the whole drawer scrolls, its window being too small for it.
    pub(in crate::panels) drawer_scrolls: bool,
    /// Of which session all this is.
    serial: u64,
}

impl Deref for UiState {
    type Target = Shared;

    fn deref(&self) -> &Shared {
        &self.shared
    }
}

impl DerefMut for UiState {
    fn deref_mut(&mut self) -> &mut Shared {
        &mut self.shared
    }
}

impl UiState {
    /// How the panels stand at first for a car.
    #[must_use]
    pub fn new(session: &Session) -> Self {
        UiState::around(session, Shared::new(session))
    }

    fn around(session: &Session, shared: Shared) -> Self {
        UiState {
            readings: ReadingsState::default(),
            change: ChangeState::default(),
            decide: DecideState::new(shared.lengths),
            files: FilesState::default(),
            wall: WallState::usual(session.car().front.steering.steers()),
            moving: Wheels::All,
            steer_unit: SteerUnit::default(),
            beside: false,
            hidden: hidden_at_first(),
            view: None,
            change_height: 0.0,
            drawer_scrolls: false,
            serial: session.serial(),
            shared,
        }
    }

    /// Starts anew where another car was opened; what belongs to the person and not to the car stays.
    pub fn follow(&mut self, session: &Session) {
        if self.serial != session.serial() {
            let fresh = UiState::around(session, self.shared.for_another_car(session));
            let old = std::mem::replace(self, fresh);
            self.hidden = old.hidden;
            self.decide.bracket_sheet = old.decide.bracket_sheet;
        }
        self.shared.follow_axle();
    }

    pub(in crate::panels) fn for_readings(&mut self) -> Readings<'_> {
        Panel::new(&mut self.readings, &mut self.shared)
    }

    pub(in crate::panels) fn for_change(&mut self) -> ChangePanel<'_> {
        Panel::new(&mut self.change, &mut self.shared)
    }

    pub(in crate::panels) fn for_decide(&mut self) -> Decide<'_> {
        Panel::new(&mut self.decide, &mut self.shared)
    }

    pub(in crate::panels) fn for_files(&mut self) -> Files<'_> {
        Panel::new(&mut self.files, &mut self.shared)
    }

    pub(in crate::panels) fn for_wall(&mut self) -> Wall<'_> {
        Panel::new(&mut self.wall, &mut self.shared)
    }
}
