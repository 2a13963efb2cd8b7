//! From a session to what the stage draws: points of the solved pose, readings as finished text.
//!
//! Promises: it computes no reading; every number on a label comes from the catalogue.

mod board;
mod carrier;
mod handles;
#[cfg(test)]
mod linkage_tests;
mod overlays;
mod parts;
#[cfg(test)]
mod tests;

pub use carrier::Pulled;
pub use handles::{handle_key, handle_of};
pub use overlays::{OVERLAYS, overlays};
pub use parts::{Marked, car_view};

use crate::session::{About, Handle, Owner, Session};
use crate::stage::view::{Place, Stage};
use std::collections::BTreeSet;
use wheelpath_geometry::{Pickup, WheelAt};

/// The stage's name of a wheel.
#[must_use]
pub fn place_of(at: WheelAt) -> Place {
    Place::ALL[at.index()]
}

/// The wheel the stage names.
#[must_use]
pub fn wheel_of(place: Place) -> WheelAt {
    let index = Place::ALL.iter().position(|one| *one == place).unwrap_or(0);
    WheelAt::ALL[index]
}

/// The key of a point on the stage.
#[must_use]
pub fn key_of(owner: Owner, pickup: Pickup) -> String {
    format!("{}/{}", owner.key(), pickup.key())
}

/// The point a key names.
#[must_use]
pub fn point_of(key: &str) -> Option<(Owner, Pickup)> {
    let (owner, pickup) = key.split_once('/')?;
    Some((Owner::from_key(owner)?, Pickup::from_key(pickup)?))
}

/// What of a session is chosen to be looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// The point selected.
    pub selected: Option<(Owner, Pickup)>,
    /// Whether what it can be pulled by is shown.
    pub handles: bool,
    /// The handle the arrow keys act along.
    pub handle: Option<Handle>,
    /// Overlays that are switched off.
    pub hidden: BTreeSet<String>,
    /// The wheel whose overlays free views show.
    pub focus: WheelAt,
}

impl Default for Chosen {
    fn default() -> Self {
        Chosen {
            selected: None,
            handles: false,
            handle: None,
            hidden: BTreeSet::new(),
            focus: WheelAt::ALL[0],
        }
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
            About::Pickup(owner, pickup) => Some((owner, pickup)),
            About::Link(owner, link) => Some((owner, link.ends().1)),
            _ => None,
        })
        .collect();
    let marked = Marked { selected: chosen.selected, original: Some(session.original()), faults };
    let car = car_view(session.solver_car(), session.solver(), session.shown(), &marked);
    let ghost = session.baseline_shown().filter(|_| session.differs()).map(|solved| {
        let mut ghost = car_view(session.baseline(), session.baseline_solver(), solved, &Marked::default());
        ghost.points.clear();
        ghost
    });
    Stage {
        overlays: overlays(session.solver_car(), session.shown(), session.values()),
        handles: handles::handles(session, chosen),
        car,
        ghost,
        hidden: chosen.hidden.clone(),
        focus: Some(place_of(chosen.focus)),
    }
}
