//! Arms: wishbone, trailing arm, H-arm, the arm of an anti-roll bar.

use nalgebra::{Matrix3, Point3, Vector3};

use crate::solids::shape::Shape;
use crate::solids::{Builder, Paint};
use crate::view::Tone;

/// Two legs, a gusset near the outer joint.
pub(crate) fn wishbone(build: &mut Builder, inner: [Point3<f64>; 2], outer: Point3<f64>, radius: f64) {
    let paint = build.paint;
    let axis = inner[0] - inner[1];
    let middle = inner[0] + (inner[1] - inner[0]) * 0.5;
    // The legs lie flat in the wishbone's own plane.
    let flat = axis.cross(&(outer - middle)).cross(&(outer - middle));
    for end in inner {
        build.paint(paint);
        build.bar(Shape::Taper, end, outer, (radius * 1.15, radius * 0.8), flat);
        build.paint(Paint::Part(Tone::Bright));
        build.bush(end, axis, radius * 1.35, radius * 2.4);
        build.paint(Paint::Seam);
        build.bush(end, axis, radius * 0.75, radius * 3.0);
    }
    build.paint(paint);
    let normal = axis.cross(&(outer - middle));
    // A gusset between the legs near the outer joint, so that it reads as one part.
    let apex_share = 0.26;
    let legs = inner.map(|end| outer + (end - outer) * apex_share);
    let cross_over = legs[1] - legs[0];
    if cross_over.norm() > 2.0 * radius {
        build.bar(Shape::Cylinder, legs[0], legs[1], (radius * 0.55, radius * 0.5), outer - middle);
    }
    build.bush(outer, normal, radius * 1.25, radius * 1.5);
    build.paint(Paint::Part(Tone::Bright));
    build.ball(outer, radius * 1.05);
}

/// A bush on a hinge line: bright sleeve, dark bore.
fn hinge_bush(build: &mut Builder, at: Point3<f64>, axis: Vector3<f64>, radius: f64) {
    let paint = build.paint;
    build.paint(Paint::Part(Tone::Bright));
    build.bush(at, axis, radius * 1.35, radius * 2.4);
    build.paint(Paint::Seam);
    build.bush(at, axis, radius * 0.75, radius * 3.0);
    build.paint(paint);
}

/// A pressed arm: two deep legs from the pivots to the hub's inboard face, a web between them.
pub(crate) fn trailing_arm(
    build: &mut Builder,
    pivots: [Point3<f64>; 2],
    wheel_centre: Point3<f64>,
    spin_axis: Vector3<f64>,
) {
    let outboard = spin_axis.try_normalize(1e-12).unwrap_or_else(Vector3::y);
    let hub = wheel_centre - outboard * 0.085;
    let axis = pivots[1] - pivots[0];
    let middle = pivots[0] + axis * 0.5;
    let normal = axis.cross(&(hub - middle));
    for pivot in pivots {
        // The legs stand deep across the arm's plane: that is what carries the wheel.
        build.bar(Shape::Taper, hub, pivot, (0.040, 0.026), normal);
        hinge_bush(build, pivot, axis, 0.020);
    }
    // The web keeps its outline: its axes lie in the arm.
    let x = (pivots[0] - hub).try_normalize(1e-9);
    let z = normal.try_normalize(1e-9);
    if let (Some(x), Some(z)) = (x, z) {
        let y = z.cross(&x);
        let shares = pivots.map(|pivot| (pivot - hub) * 0.62);
        let flat = |v: Vector3<f64>| (v.dot(&x), v.dot(&y));
        build.add(
            Shape::Plate {
                circles: vec![((0.0, 0.0), 0.030), (flat(shares[0]), 0.014), (flat(shares[1]), 0.014)],
                thickness: 0.012,
            },
            hub,
            Matrix3::from_columns(&[x, y, z]),
            Vector3::repeat(1.0),
        );
    }
    // Up to the hub's housing, and a little thinner where it enters it.
    build.bush(wheel_centre - outboard * 0.062, outboard, 0.044, 0.055);
}

/// Two legs with a broad crossbar, hinged at both sides.
pub(crate) fn h_arm(build: &mut Builder, inner: [Point3<f64>; 2], outer: [Point3<f64>; 2], radius: f64) {
    let middle = |ends: [Point3<f64>; 2]| ends[0] + (ends[1] - ends[0]) * 0.5;
    let across = middle(outer) - middle(inner);
    let normal = (inner[0] - inner[1]).cross(&across);
    let flat = normal.cross(&across);
    let halfway = [0, 1].map(|leg: usize| inner[leg] + (outer[leg] - inner[leg]) * 0.5);
    for (from, to) in inner.into_iter().zip(outer) {
        build.bar(Shape::Cylinder, from, to, (radius * 1.1, radius * 0.85), flat);
        hinge_bush(build, from, inner[0] - inner[1], radius);
        hinge_bush(build, to, outer[0] - outer[1], radius);
    }
    build.bar(Shape::Cylinder, halfway[0], halfway[1], (radius * 2.6, radius * 0.6), across);
}

/// A short lug with an eye.
pub(crate) fn bracket(build: &mut Builder, foot: Point3<f64>, joint: Point3<f64>) {
    build.bar(Shape::Taper, foot, joint, (0.014, 0.011), Vector3::z());
    build.ball(joint, 0.011);
}

/// The flat arm of an anti-roll bar.
pub(crate) fn bar_arm(build: &mut Builder, pivot: Point3<f64>, end: Point3<f64>) {
    let paint = build.paint;
    build.bar(Shape::Taper, pivot, end, (0.013, 0.006), Vector3::z());
    build.ball(pivot, 0.014);
    build.paint(Paint::Part(Tone::Bright));
    build.ball(end, 0.009);
    build.paint(paint);
}
