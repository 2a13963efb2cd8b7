//! What the pointer reaches where several things lie on one another: the nearest of points and handles, then a
//! label, then tyres and parts.

use super::Surroundings;
use crate::camera::projection::{Pixel, ScreenRect};
use crate::pick::{Target, point_under, under};
use crate::view::handle::{self, HandleView};

/// So much nearer than a point, in pixels, a handle is meant and not the point: it may run right through it.
const NEARER: f64 = 3.0;

/// What of the car is under the pointer. Of a handle and a point of the car, the point, unless the handle is much
/// nearer: the handles of the point selected may run over other points.
pub(crate) fn target(around: &Surroundings, pixel: Pixel) -> Target {
    if around.only_seen {
        return match under(around.car, &around.lens, pixel) {
            Target::Point { at, .. } | Target::Tyre { at, .. } => Target::Part { at },
            other => other,
        };
    }
    small(around, pixel).unwrap_or_else(|| under(around.car, &around.lens, pixel))
}

/// The handle or the point under the pointer.
fn small(around: &Surroundings, pixel: Pixel) -> Option<Target> {
    let point = point_under(around.car, &around.lens, pixel);
    let handle = handle::nearest(around.handles, &around.lens, pixel)
        .filter(|(_, to_handle)| point.as_ref().is_none_or(|(_, to_point)| to_handle + NEARER < *to_point))
        .and_then(|(number, _)| around.handles.get(number));
    let held = |handle: &HandleView| Target::Handle { key: handle.key.clone(), at: handle.at };
    handle.map(held).or(point.map(|(point, _)| point))
}

/// The label under the pointer, by its number. A point or a handle that it covers is reached through it: they
/// are small, and the label can be clicked beside them.
pub(crate) fn label(around: &Surroundings, pixel: Pixel) -> Option<usize> {
    let number = around.labels.iter().position(|rect: &ScreenRect| rect.contains(pixel))?;
    small(around, pixel).is_none().then_some(number)
}
