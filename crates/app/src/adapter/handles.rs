//! The handles of the point selected, where they stand in the pose shown.

use super::{Chosen, Pulled, key_of, point_of};
use nalgebra::Point3;
use wheelpath_geometry::{Assembly, Hardpoint};
use wheelpath_session::{Guide, Handle, Session};
use wheelpath_stage::view::HandleView;

/// The key of a handle on the stage.
#[must_use]
pub fn handle_key(assembly: Assembly, hardpoint: Hardpoint, handle: Handle) -> String {
    format!("{}/{}", key_of(assembly, hardpoint), handle.key())
}

/// The handle a key names.
#[must_use]
pub fn handle_of(key: &str) -> Option<(Assembly, Hardpoint, Handle)> {
    let (point, handle) = key.rsplit_once('/')?;
    let (assembly, hardpoint) = point_of(point)?;
    Some((assembly, hardpoint, Handle::from_key(handle)?))
}

pub(super) fn handles(session: &Session, chosen: &Chosen) -> Vec<HandleView> {
    let Some((assembly, hardpoint)) = chosen.selected.filter(|_| chosen.handles) else { return Vec::new() };
    let Some(held) = Pulled::begin(session, assembly, hardpoint) else { return Vec::new() };
    let view = |guide: Guide| {
        let is_chosen = chosen.handle == Some(guide.handle);
        let by = session.pulled(assembly, hardpoint, &guide);
        let moved = is_chosen && by.iter().any(|distance| distance.abs() > 5e-6);
        HandleView {
            key: handle_key(assembly, hardpoint, guide.handle),
            label: if moved { guide.in_words(by, session.units()) } else { guide.handle.label() },
            at: Point3::from(held.posed()),
            along: held.in_pose(guide.along),
            across: guide.across.map(|across| held.in_pose(across)),
            chosen: is_chosen,
        }
    };
    session.handles(assembly, hardpoint).into_iter().map(view).collect()
}
