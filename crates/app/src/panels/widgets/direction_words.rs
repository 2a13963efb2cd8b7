//! A direction in the words of a car.

use nalgebra::Vector3;
use wheelpath_geometry::Axis;

/// "forward 0.31, up 0.95": the parts of a unit direction along the car's axes.
pub(in crate::panels) fn direction_in_words(direction: Vector3<f64>) -> String {
    let words = [["back", "forward"], ["right", "left"], ["down", "up"]];
    let parts = Axis::ALL.into_iter().zip(words).filter_map(|(axis, [minus, plus])| {
        let part = direction[axis.index()];
        let word = if part < 0.0 { minus } else { plus };
        (part.abs() > 0.995)
            .then(|| word.to_owned())
            .or_else(|| (part.abs() > 0.005).then(|| format!("{word} {:.2}", part.abs())))
    });
    parts.collect::<Vec<_>>().join(", ")
}
