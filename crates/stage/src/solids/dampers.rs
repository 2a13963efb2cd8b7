//! Dampers, struts and springs.

use nalgebra::{Point3, Vector3};

use crate::solids::shape::Shape;
use crate::solids::{Builder, Paint, axes_along};
use crate::view::{Tone, size};

/// A body and a rod with an eye each, and a spring between two seats.
pub(crate) fn damper(
    build: &mut Builder,
    [body_eye, moving_eye]: [Point3<f64>; 2],
    body_length: f64,
    spring: bool,
) {
    let along = moving_eye - body_eye;
    let length = along.norm();
    if length < 1e-6 {
        return;
    }
    let unit = along / length;
    let radius = size::DAMPER.min(0.16 * length);
    let body = body_length.max(0.2 * length).min(0.92 * length);
    let paint = build.paint;
    let at = |distance: f64| body_eye + unit * distance;
    build.tube(at(0.055 * length), at(body), radius * 0.78);
    build.tube(at(0.0), at(0.07 * length), radius * 0.42);
    // Spring seats.
    build.tube(at(0.16 * length), at(0.185 * length), radius * 1.22);
    build.tube(at(0.90 * length), at(0.93 * length), radius * 1.22);
    build.paint(Paint::Part(Tone::Bright));
    build.tube(at(body - 0.01), at(length), radius * 0.34);
    if spring {
        let (from, to) = (0.185 * length, 0.90 * length);
        build.add(
            Shape::Coil,
            at(from),
            axes_along(along, Vector3::z()),
            Vector3::new(radius * 1.02, radius * 1.02, to - from),
        );
    }
    let axis = axes_along(unit, Vector3::x()).column(0).into_owned();
    for end in [body_eye, moving_eye] {
        build.paint(Paint::Part(Tone::Bright));
        build.eye(end, axis, radius * 0.55);
    }
    build.paint(paint);
}

/// A tube on the upright, a rod up to the top mount, a spring between a seat on the tube and the mount.
pub(crate) fn strut(
    build: &mut Builder,
    [bottom, top]: [Point3<f64>; 2],
    tube_length: f64,
    spring: bool,
    brackets: &[Point3<f64>],
) {
    let along = top - bottom;
    let length = along.norm();
    if length < 1e-6 {
        return;
    }
    let unit = along / length;
    let at = |distance: f64| bottom + unit * distance;
    let tube = tube_length.max(0.2 * length).min(0.92 * length);
    let seat = 0.66 * tube;
    let paint = build.paint;
    let radius = size::STRUT;
    build.tube(at(-0.035), at(tube), radius);
    build.tube(at(seat - 0.004), at(seat + 0.006), radius * 2.2);
    for joint in brackets {
        let foot = at((joint - bottom).dot(&unit).max(0.0).min(tube));
        build.bar(Shape::Taper, foot, *joint, (0.016, 0.010), unit);
        build.ball(*joint, 0.010);
    }
    // The mount: a dish under the body's sheet, and the bearing in it.
    build.tube(at(length - 0.040), at(length - 0.028), radius * 2.2);
    build.tube(at(length - 0.014), at(length + 0.004), radius * 2.0);
    build.paint(Paint::Seam);
    build.tube(at(length - 0.028), at(length - 0.014), radius * 1.5);
    build.paint(Paint::Part(Tone::Bright));
    build.tube(at(tube - 0.01), at(length + 0.016), radius * 0.42);
    if spring {
        let (from, to) = (seat + 0.006, length - 0.040);
        build.add(
            Shape::Coil,
            at(from),
            axes_along(along, Vector3::z()),
            Vector3::new(radius * 1.85, radius * 1.85, to - from),
        );
    }
    build.paint(paint);
}

/// A coil between two seats.
pub(crate) fn spring(build: &mut Builder, body_end: Point3<f64>, moving_end: Point3<f64>) {
    let along = moving_end - body_end;
    let length = along.norm();
    if length < 1e-6 {
        return;
    }
    let unit = along / length;
    let paint = build.paint;
    let radius = (1.9 * size::DAMPER).min(0.3 * length);
    let thick = (0.05 * length).min(0.010);
    build.tube(body_end, body_end + unit * thick, radius * 1.15);
    build.tube(moving_end - unit * thick, moving_end, radius * 1.15);
    build.paint(Paint::Part(Tone::Bright));
    build.add(
        Shape::Coil,
        body_end + unit * thick,
        axes_along(along, Vector3::z()),
        Vector3::new(radius, radius, length - 2.0 * thick),
    );
    build.paint(paint);
}
