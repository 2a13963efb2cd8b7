//! The ways of the point selected, where they lead in the pose shown.

use super::{Chosen, Pulled};
use nalgebra::Point3;
use wheelpath_geometry::LengthUnit;
use wheelpath_session::{ImprovementDirection, Session, noticeable, signed_finely};
use wheelpath_stage::view::WayView;

/// Longest and shortest arrow, in pixels: the shorter ones as their readings move less.
const LENGTHS: [f64; 2] = [34.0, 104.0];

/// What a way says: the reading and what a small step on it does.
pub(crate) fn way_in_words(way: &ImprovementDirection, lengths: LengthUnit) -> String {
    let unit = way.wanted.reading.unit;
    let slope = unit.shown_slope(way.value, way.slope, lengths) * lengths.small_step();
    let (name, step) = (way.wanted.reading.name, lengths.small_step_in_words());
    format!("{name} {} per {step}", signed_finely(unit, slope, lengths))
}

pub(super) fn ways(session: &Session, chosen: &Chosen) -> Vec<WayView> {
    let Some((assembly, hardpoint)) = chosen.selected.filter(|_| chosen.handles) else { return Vec::new() };
    let Some(held) = Pulled::begin(session, assembly, hardpoint) else { return Vec::new() };
    let ways = session.ways(assembly, hardpoint, &chosen.ways, chosen.mirrored);
    let weight = |way: &ImprovementDirection| way.slope.abs() / noticeable(way.wanted.reading.unit);
    let most = ways.iter().map(weight).fold(0.0, f64::max);
    let view = |way: &ImprovementDirection| WayView {
        reading: way.wanted.reading.key.into(),
        label: way_in_words(way, session.units()),
        at: Point3::from(held.posed()),
        along: held.in_pose(way.along),
        length: (LENGTHS[1] * weight(way) / most).max(LENGTHS[0]),
    };
    ways.iter().map(view).collect()
}
