//! From a session to what the stage draws: points of the solved pose, readings as finished text.
//!
//! Promises: it computes no reading; every number on a label comes from the catalogue.

mod drag_frame;
mod drawing_board;
mod gap;
mod handles;
mod improvement;
#[cfg(test)]
mod linkage_tests;
mod map_lines;
mod overlays;
mod parts;
#[cfg(test)]
mod tests;

pub use drag_frame::Pulled;
pub use handles::{handle_key, handle_of};
#[cfg(feature = "window")]
pub(crate) use improvement::way_in_words;
pub use overlays::{OVERLAYS, overlays};
pub use parts::{Marked, car_view};

use nalgebra::Vector3;
use std::collections::BTreeSet;
use std::sync::Arc;
use wheelpath_geometry::{Assembly, Car, CarSolver, Hardpoint, SolvedCar, WheelPosition};
use wheelpath_session::derived::maps::ReadingMap;
use wheelpath_session::{About, Handle, Session, WantedReading};
use wheelpath_stage::view::{Stage, StageView, WheelSlot};

/// The stage's name of a wheel.
#[must_use]
pub fn place_of(at: WheelPosition) -> WheelSlot {
    WheelSlot::ALL[at.index()]
}

/// The wheel the stage names.
#[must_use]
pub fn wheel_of(place: WheelSlot) -> WheelPosition {
    let index = WheelSlot::ALL.iter().position(|one| *one == place).unwrap_or(0);
    WheelPosition::ALL[index]
}

/// The key of a point on the stage.
#[must_use]
pub fn key_of(assembly: Assembly, hardpoint: Hardpoint) -> String {
    format!("{}/{}", assembly.key(), hardpoint.key())
}

/// The point a key names.
#[must_use]
pub fn point_of(key: &str) -> Option<(Assembly, Hardpoint)> {
    let (assembly, hardpoint) = key.split_once('/')?;
    Some((Assembly::from_key(assembly)?, Hardpoint::from_key(hardpoint)?))
}

/// What of a session is chosen to be looked at.
#[derive(Clone, Debug)]
pub struct Chosen {
    /// The point selected.
    pub selected: Option<(Assembly, Hardpoint)>,
    /// Whether what it can be pulled by is shown.
    pub handles: bool,
    /// The handle the arrow keys act along.
    pub handle: Option<Handle>,
    /// The readings whose ways are shown at the point selected.
    pub ways: Vec<WantedReading>,
    /// Whether changes are made on both sides.
    pub mirrored: bool,
    /// The map whose lines are shown.
    pub map: Option<Arc<ReadingMap>>,
    /// Whether the car that is compared with stands beside the car, not in it.
    pub beside: bool,
    /// A distance of two parts in the pose shown: the nearest points, metres, and what it says.
    pub gap: Option<([Vector3<f64>; 2], String)>,
    /// Overlays that are switched off.
    pub hidden: BTreeSet<String>,
    /// The wheel whose overlays free views show.
    pub focus: WheelPosition,
}

impl Default for Chosen {
    fn default() -> Self {
        Chosen {
            selected: None,
            handles: false,
            handle: None,
            ways: Vec::new(),
            mirrored: true,
            map: None,
            beside: false,
            gap: None,
            hidden: BTreeSet::new(),
            focus: WheelPosition::ALL[0],
        }
    }
}

impl PartialEq for Chosen {
    fn eq(&self, other: &Self) -> bool {
        let same_map = match (&self.map, &other.map) {
            (Some(one), Some(two)) => Arc::ptr_eq(one, two),
            (None, None) => true,
            _ => false,
        };
        same_map
            && self.selected == other.selected
            && self.handles == other.handles
            && self.handle == other.handle
            && self.ways == other.ways
            && self.mirrored == other.mirrored
            && self.beside == other.beside
            && self.gap == other.gap
            && self.hidden == other.hidden
            && self.focus == other.focus
    }
}

/// All of a session that stands on the stage: the car shown, its predecessor while they differ, and
/// every overlay.
#[must_use]
pub fn stage_of(session: &Session, chosen: &Chosen) -> Stage {
    let faults = session
        .notices()
        .iter()
        .filter(|notice| notice.severe)
        .filter_map(|notice| match notice.about {
            About::Hardpoint(assembly, hardpoint) => Some((assembly, hardpoint)),
            About::Link(assembly, link) => Some((assembly, link.ends().1)),
            _ => None,
        })
        .collect();
    let marked = Marked { selected: chosen.selected, original: Some(session.original()), faults };
    let car = car_view(session.solver_car(), session.solver(), session.shown(), &marked);
    let mut ghost = session
        .baseline_shown()
        .filter(|_| session.differs())
        .map(|solved| ghost_view(session.baseline(), session.baseline_solver(), solved));
    let before = ghost.take_if(|_| chosen.beside).map(|car| before(session, chosen, car));
    let mut overlays = overlays(session.solver_car(), session.shown(), session.values(), session.units());
    overlays.extend(map_lines::map_lines(session, chosen));
    overlays.extend(gap::gap(chosen));
    Stage {
        overlays,
        handles: handles::handles(session, chosen),
        ways: improvement::ways(session, chosen),
        car,
        ghost,
        caption: before.is_some().then(|| "Now".to_owned()),
        before: before.map(Box::new),
        hidden: chosen.hidden.clone(),
        focus: Some(place_of(chosen.focus)),
    }
}

/// The predecessor of a changed car, drawn behind it: what it is made of, without its points.
#[must_use]
pub fn ghost_view(car: &Car, solver: &CarSolver, solved: &SolvedCar) -> StageView {
    let mut ghost = car_view(car, solver, solved, &Marked::default());
    ghost.points.clear();
    ghost
}

/// The car that is compared with, for a picture of its own.
fn before(session: &Session, chosen: &Chosen, car: StageView) -> Stage {
    let shown = session.baseline_shown().zip(session.baseline_values());
    Stage {
        car,
        overlays: shown.map_or_else(Vec::new, |(solved, values)| {
            overlays(session.baseline(), solved, values, session.units())
        }),
        caption: Some(format!("Before: {}", session.baseline_name())),
        hidden: chosen.hidden.clone(),
        focus: Some(place_of(chosen.focus)),
        ..Stage::default()
    }
}
