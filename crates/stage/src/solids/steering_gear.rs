//! Steering gear: rack, steering box with its arms and centre link.

use nalgebra::{Point3, Vector3};

use crate::solids::shape::Shape;
use crate::solids::{Builder, Paint, axes_along};
use crate::view::{Tone, size};

/// A rack in its housing, with the pinion's tower.
pub(crate) fn rack(
    build: &mut Builder,
    housing: (Point3<f64>, Point3<f64>),
    rack: (Point3<f64>, Point3<f64>),
) {
    let paint = build.paint;
    let radius = size::RACK;
    let along = housing.1 - housing.0;
    build.tube(housing.0, housing.1, radius);
    let middle = housing.0 + along * 0.5;
    build.bush(middle, along, radius * 1.45, 0.075);
    build.bush(middle, Vector3::new(-0.35, 0.0, 1.0), radius * 0.8, radius * 4.2);
    for (end, other) in [(housing.0, housing.1), (housing.1, housing.0)] {
        let inward = (other - end).try_normalize(1e-9).unwrap_or_else(Vector3::y);
        build.tube(end - inward * 0.006, end + inward * 0.014, radius * 1.2);
    }
    build.paint(Paint::Part(Tone::Bright));
    build.tube(rack.0, rack.1, radius * 0.5);
    build.ball(rack.0, radius * 0.72);
    build.ball(rack.1, radius * 0.72);
    build.paint(paint);
}

/// The arm on its shaft, and over it the box, or the bracket of an idler.
pub(crate) fn steering_arm(
    build: &mut Builder,
    pivot: Point3<f64>,
    axis: Vector3<f64>,
    ball: Point3<f64>,
    gearbox: bool,
) {
    let paint = build.paint;
    let up = axis.try_normalize(1e-12).unwrap_or_else(Vector3::z);
    // The arm leaves the shaft at the ball's own height along it.
    let root = pivot + up * (ball - pivot).dot(&up);
    build.bar(Shape::Taper, root, ball, (0.020, 0.010), up.cross(&(ball - root)));
    build.bush(root, up, 0.024, 0.026);
    build.paint(Paint::Part(Tone::Bright));
    build.tube(root, pivot + up * 0.03, 0.014);
    build.ball(ball, 0.0145);
    build.paint(Paint::Part(Tone::Body));
    if gearbox {
        let above = pivot + up * 0.055;
        build.add(Shape::Block, above, axes_along(up, Vector3::x()), Vector3::new(0.115, 0.085, 0.095));
        // The worm's end, toward the column.
        let back = axes_along(up, -Vector3::x()).column(0).into_owned();
        build.bush(above + up * 0.012 + back * 0.07, back, 0.026, 0.075);
        build.paint(Paint::Part(Tone::Bright));
        build.bush(above + up * 0.012 + back * 0.125, back, 0.010, 0.05);
    } else {
        build.bush(pivot + up * 0.03, up, 0.026, 0.07);
    }
    build.paint(paint);
}

/// A rod from ball to ball with a short limb to each tie rod's joint off its line.
pub(crate) fn centre_link(build: &mut Builder, balls: [Point3<f64>; 2], joints: &[Point3<f64>]) {
    let along = balls[1] - balls[0];
    let length = along.norm();
    if length < 1e-6 {
        return;
    }
    let paint = build.paint;
    let unit = along / length;
    build.tube(balls[0], balls[1], size::CENTRE_LINK);
    for joint in joints {
        let foot = balls[0] + unit * (joint - balls[0]).dot(&unit);
        build.bush(foot, unit, size::CENTRE_LINK * 1.35, 0.04);
        if (joint - foot).norm() > size::CENTRE_LINK {
            build.tube(foot, *joint, size::CENTRE_LINK * 0.9);
        }
    }
    build.paint(Paint::Part(Tone::Bright));
    for joint in joints {
        build.ball(*joint, 0.015);
    }
    build.paint(paint);
}
