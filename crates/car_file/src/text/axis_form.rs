//! How an axis is written: a direction, or the second point of one.

use wheelpath_geometry::Hardpoint;

/// The word before a direction.
pub(crate) const DIRECTION: &str = "Direction";
/// The word before a second point.
pub(crate) const POINT: &str = "Point";

/// The first point of the axis whose second point this is.
pub(crate) fn axis_from(hardpoint: Hardpoint) -> Option<Hardpoint> {
    match hardpoint {
        Hardpoint::RockerAxis => Some(Hardpoint::RockerPivot),
        Hardpoint::BarAxis => Some(Hardpoint::BarPivot),
        Hardpoint::WattAxis => Some(Hardpoint::WattPivot),
        Hardpoint::TBarAxis => Some(Hardpoint::TBarPivot),
        _ => None,
    }
}
