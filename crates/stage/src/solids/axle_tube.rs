//! A beam axle: its tube, final drive and brackets, and the torque arm.

use nalgebra::{Point3, Vector3};

use crate::solids::shape::Shape;
use crate::solids::{Builder, Paint, axes_along};
use crate::view::{Tone, size};

/// How far short of the wheel centres the tube ends, metres.
const SHORT: f64 = 0.05;

/// The tube between the hubs, the final drive in its middle, a bracket to every joint.
pub(crate) fn beam(
    build: &mut Builder,
    ends: [Point3<f64>; 2],
    forward: Vector3<f64>,
    joints: &[Point3<f64>],
    driven: bool,
) {
    let along = ends[0] - ends[1];
    let length = along.norm();
    if length < 4.0 * SHORT {
        return;
    }
    let paint = build.paint;
    let unit = along / length;
    let (left, right) = (ends[0] - unit * SHORT, ends[1] + unit * SHORT);
    let middle = ends[1] + along * 0.5;
    build.tube(left, right, size::AXLE);
    if driven {
        let axes = axes_along(unit, forward);
        // Wider than long along the tube, with the pinion's nose ahead of it.
        build.add(Shape::Ball, middle, axes, Vector3::new(0.125, 0.125, 0.105));
        let ahead = forward.try_normalize(1e-9).unwrap_or_else(Vector3::x);
        build.bar(Shape::Taper, middle, middle + ahead * 0.21, (0.085, 0.085), unit);
        build.paint(Paint::Part(Tone::Bright));
        build.bush(middle + ahead * 0.215, ahead, 0.034, 0.03);
        build.paint(paint);
    }
    for joint in joints {
        let foot = right + unit * (joint - right).dot(&unit).max(0.0).min((length - 2.0 * SHORT).max(0.0));
        let out = joint - foot;
        build.bush(foot, unit, size::AXLE * 1.22, 0.05);
        build.bar(Shape::Taper, foot, *joint, (0.030, 0.015), unit.cross(&out).cross(&out));
        build.ball(*joint, 0.0145);
    }
    for (end, inward) in [(left, -unit), (right, unit)] {
        build.tube(end + inward * 0.012, end - inward * 0.006, size::AXLE * 1.7);
    }
}

/// A long arm, deep at its root.
pub(crate) fn torque_arm(build: &mut Builder, root: Point3<f64>, end: Point3<f64>) {
    let paint = build.paint;
    build.bar(Shape::Taper, root, end, (0.046, 0.020), Vector3::z());
    build.paint(Paint::Part(Tone::Bright));
    build.ball(end, 0.016);
    build.paint(paint);
}
