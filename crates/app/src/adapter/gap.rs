//! A distance of two parts, where it stands on the car.

use super::Chosen;
use nalgebra::Point3;
use wheelpath_stage::view::{LineStyle, MarkerSign, Overlay, OverlayShape, Plane};

pub(super) fn gap(chosen: &Chosen) -> Vec<Overlay> {
    let Some((at, text)) = &chosen.gap else { return Vec::new() };
    let [a, b] = at.map(Point3::from);
    let overlay = |shape, label| Overlay {
        id: "gap".into(),
        reading: String::new(),
        place: None,
        plane: Plane::Any,
        shape,
        label,
        line: LineStyle::Solid,
    };
    vec![
        overlay(OverlayShape::Line { a, b }, None),
        overlay(OverlayShape::Marker { at: a, sign: MarkerSign::Open }, None),
        overlay(OverlayShape::Marker { at: b, sign: MarkerSign::Open }, Some(text.clone())),
    ]
}
