//! Lines of a map where they lie in the pose shown.

use super::{Chosen, Pulled, place_of};
use nalgebra::Point3;
use wheelpath_geometry::Assembly;
use wheelpath_session::Session;
use wheelpath_session::derived::maps::{Piece, ReadingMap};
use wheelpath_stage::view::{LineStyle, Overlay, OverlayShape, Plane};

/// The line where the reading stays as it is over the travel, and round the map its edge.
pub(super) fn map_lines(session: &Session, chosen: &Chosen) -> Vec<Overlay> {
    let Some(sheet) = chosen.map.as_deref() else { return Vec::new() };
    let (at, hardpoint) = (sheet.asked.wheel, sheet.asked.hardpoint);
    let Some(held) = Pulled::begin(session, Assembly::Corner(at), hardpoint) else { return Vec::new() };
    let middle = sheet.asked.patch.centre - held.design_before();
    let place = |uv: [f64; 2]| Point3::from(held.posed() + held.in_pose(middle + sheet.off(uv)));
    let overlay = |pieces: Vec<Piece>, label: Option<String>, line| Overlay {
        id: "map".into(),
        reading: sheet.asked.reading.key.into(),
        place: Some(place_of(at)),
        plane: Plane::Any,
        shape: OverlayShape::Pieces(pieces.into_iter().map(|piece| piece.map(place)).collect()),
        label,
        line,
    };
    let pairs = |line: &[[f64; 2]]| line.windows(2).map(|pair| [pair[0], pair[1]]).collect::<Vec<_>>();
    let zero: Vec<Piece> = sheet.zero().flat_map(pairs).collect();
    let name = format!("No {} change", sheet.asked.reading.name.to_lowercase());
    let mut all = vec![overlay(edge(sheet), None, LineStyle::Thin)];
    if !zero.is_empty() {
        all.push(overlay(zero, Some(name), LineStyle::Solid));
    }
    all
}

fn edge(sheet: &ReadingMap) -> Vec<Piece> {
    let [u, v] = sheet.asked.patch.half;
    let corners = [[-u, -v], [u, -v], [u, v], [-u, v]];
    (0..4).map(|n| [corners[n], corners[(n + 1) % 4]]).collect()
}
