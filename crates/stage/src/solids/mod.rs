//! From the parts of a view to solid shapes in their places.

pub(crate) mod arms;
pub(crate) mod axle_tube;
pub(crate) mod dampers;
pub mod shape;
pub(crate) mod steering_gear;
pub mod surface;
pub(crate) mod upright;

use nalgebra::{Matrix3, Point3, Vector3};

use crate::solids::arms::{bar_arm, bracket, h_arm, trailing_arm, wishbone};
use crate::solids::axle_tube::{beam, torque_arm};
use crate::solids::dampers::{damper, spring, strut};
use crate::solids::shape::Shape;
use crate::solids::steering_gear::{centre_link, rack, steering_arm};
use crate::solids::upright::upright;
use crate::view::{Emphasis, Part, PartKind, StageView, Tone, WheelView};

/// What a solid is painted with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Paint {
    /// A part, in its grey.
    Part(Tone),
    /// A tyre.
    Tyre,
    /// A wheel.
    Rim,
    /// The seam of a joint: the dark of bushes and bores.
    Seam,
}

/// A shape standing somewhere in the car.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// Its shape.
    pub shape: Shape,
    /// Where its origin stands.
    pub centre: Point3<f64>,
    /// Its axes in the car: orthonormal, right-handed columns.
    pub axes: Matrix3<f64>,
    /// How far it is stretched along each of its axes.
    pub scale: Vector3<f64>,
    /// What it is painted with.
    pub paint: Paint,
    /// How it stands out.
    pub emphasis: Emphasis,
}

/// Orthonormal axes with Z along a direction, and X as near as may be to another.
pub(super) fn axes_along(z: Vector3<f64>, x_near: Vector3<f64>) -> Matrix3<f64> {
    let z = z.try_normalize(1e-12).unwrap_or_else(Vector3::z);
    let x = (x_near - z * x_near.dot(&z))
        .try_normalize(1e-6)
        .or_else(|| z.cross(&Vector3::x()).try_normalize(1e-3))
        .unwrap_or_else(|| z.cross(&Vector3::y()).normalize());
    Matrix3::from_columns(&[x, z.cross(&x), z])
}

/// Gathers solids of one paint and emphasis.
pub(super) struct Builder<'a> {
    solids: &'a mut Vec<Solid>,
    pub(super) paint: Paint,
    emphasis: Emphasis,
}

impl Builder<'_> {
    pub(super) fn add(&mut self, shape: Shape, centre: Point3<f64>, axes: Matrix3<f64>, scale: Vector3<f64>) {
        self.solids.push(Solid { shape, centre, axes, scale, paint: self.paint, emphasis: self.emphasis });
    }

    /// What follows is painted otherwise.
    pub(super) fn paint(&mut self, paint: Paint) -> &mut Self {
        self.paint = paint;
        self
    }

    /// A bar with an elliptical section: `wide` along `flat`, `thick` across.
    pub(super) fn bar(
        &mut self,
        shape: Shape,
        a: Point3<f64>,
        b: Point3<f64>,
        (wide, thick): (f64, f64),
        flat: Vector3<f64>,
    ) {
        let along = b - a;
        if along.norm() < 1e-6 {
            return;
        }
        self.add(shape, a + along * 0.5, axes_along(along, flat), Vector3::new(wide, thick, along.norm()));
    }

    pub(super) fn tube(&mut self, a: Point3<f64>, b: Point3<f64>, radius: f64) {
        self.bar(Shape::Cylinder, a, b, (radius, radius), Vector3::z());
    }

    pub(super) fn ball(&mut self, at: Point3<f64>, radius: f64) {
        self.add(Shape::Ball, at, Matrix3::identity(), Vector3::repeat(radius));
    }

    /// A short cylinder about an axis, centred.
    pub(super) fn bush(&mut self, at: Point3<f64>, axis: Vector3<f64>, radius: f64, length: f64) {
        let half = axis.try_normalize(1e-12).unwrap_or_else(Vector3::z) * (0.5 * length);
        self.tube(at - half, at + half, radius);
    }

    /// A rod end: the eye about an axis, and its ball.
    pub(super) fn eye(&mut self, at: Point3<f64>, axis: Vector3<f64>, radius: f64) {
        self.bush(at, axis, radius, radius * 1.1);
        self.paint(Paint::Seam).bush(at, axis, radius * 0.55, radius * 1.5);
    }
}

/// All solids of a view: the wheels', then the parts', in the view's order.
#[must_use]
pub fn solids(view: &StageView) -> Vec<Solid> {
    let mut solids = Vec::new();
    for wheel in &view.wheels {
        add_wheel(&mut solids, wheel);
    }
    for part in &view.parts {
        add_part(&mut solids, part);
    }
    solids
}

fn add_wheel(solids: &mut Vec<Solid>, wheel: &WheelView) {
    let axes = axes_along(wheel.spin_axis, Vector3::x());
    let mut build = Builder { solids, paint: Paint::Tyre, emphasis: Emphasis::Plain };
    build.add(
        Shape::Tyre { radius: wheel.radius, width: wheel.width, rim_radius: wheel.rim_radius },
        wheel.centre,
        axes,
        Vector3::repeat(1.0),
    );
    build.paint(Paint::Rim).add(
        Shape::Rim { radius: wheel.rim_radius, width: wheel.width },
        wheel.centre,
        axes,
        Vector3::repeat(1.0),
    );
}

fn add_part(solids: &mut Vec<Solid>, part: &Part) {
    let mut build = Builder { solids, paint: Paint::Part(part.tone), emphasis: part.emphasis };
    match &part.kind {
        PartKind::Rod { a, b, radius } => rod(&mut build, *a, *b, *radius, part.tone),
        PartKind::Wishbone { inner_front, inner_rear, outer, radius } => {
            wishbone(&mut build, [*inner_front, *inner_rear], *outer, *radius)
        }
        PartKind::TrailingArm { pivots, wheel_centre, spin_axis } => {
            trailing_arm(&mut build, *pivots, *wheel_centre, *spin_axis)
        }
        PartKind::HArm { inner, outer, radius } => h_arm(&mut build, *inner, *outer, *radius),
        PartKind::Strut { top, bottom, tube_length, spring, brackets } => {
            strut(&mut build, [*bottom, *top], *tube_length, *spring, brackets)
        }
        PartKind::Beam { ends, forward, joints, driven } => {
            beam(&mut build, *ends, *forward, joints, *driven)
        }
        PartKind::Bracket { foot, joint } => bracket(&mut build, *foot, *joint),
        PartKind::TorqueArm { root, end } => torque_arm(&mut build, *root, *end),
        PartKind::SteeringArm { pivot, axis, ball, gearbox } => {
            steering_arm(&mut build, *pivot, *axis, *ball, *gearbox)
        }
        PartKind::CentreLink { balls, joints } => centre_link(&mut build, *balls, joints),
        PartKind::Spring { body_end, moving_end } => spring(&mut build, *body_end, *moving_end),
        PartKind::Upright { wheel_centre, spin_axis, joints } => {
            upright(&mut build, *wheel_centre, *spin_axis, joints)
        }
        PartKind::Rocker { pivot, axis, points } => rocker(&mut build, *pivot, *axis, points),
        PartKind::Damper { body_eye, moving_eye, body_length, spring } => {
            damper(&mut build, [*body_eye, *moving_eye], *body_length, *spring)
        }
        PartKind::Tube { a, b, radius } => build.tube(*a, *b, *radius),
        PartKind::BarArm { pivot, end } => bar_arm(&mut build, *pivot, *end),
        PartKind::Rack { housing_left, housing_right, rack_left, rack_right } => {
            rack(&mut build, (*housing_left, *housing_right), (*rack_left, *rack_right))
        }
        PartKind::Mount { at, into_body } => mount(&mut build, *at, *into_body),
        PartKind::Frame { corners } => frame(&mut build, corners),
    }
}

/// A rod thickest over its middle, with a threaded neck and an eye at each end.
fn rod(build: &mut Builder, a: Point3<f64>, b: Point3<f64>, radius: f64, tone: Tone) {
    let along = b - a;
    let length = along.norm();
    if length < 1e-6 {
        return;
    }
    let unit = along / length;
    let neck = (4.0 * radius).min(0.25 * length);
    build.tube(a + unit * neck, b - unit * neck, radius);
    build.paint(Paint::Part(Tone::Bright));
    build.tube(a, a + unit * (neck * 1.05), radius * 0.55);
    build.tube(b - unit * (neck * 1.05), b, radius * 0.55);
    // The eyes' axes stand upright as far as the rod lets them.
    let axis = axes_along(unit, Vector3::z()).column(0).into_owned();
    for end in [a, b] {
        build.paint(Paint::Part(Tone::Bright));
        build.eye(end, axis, radius * 1.35);
    }
    build.paint(Paint::Part(tone));
}

/// Two plates about the pivot's axis with a boss between them.
fn rocker(build: &mut Builder, pivot: Point3<f64>, axis: Vector3<f64>, points: &[Point3<f64>]) {
    let Some(first) = points.first() else {
        return;
    };
    let paint = build.paint;
    // X toward the first joint: the plate's own axes turn with the rocker, so its
    // outline stays the same from pose to pose.
    let axes = axes_along(axis, first - pivot);
    let local = axes.transpose();
    let seen: Vec<Vector3<f64>> = points.iter().map(|point| local * (point - pivot)).collect();
    let mut circles = vec![((0.0, 0.0), 0.019)];
    circles.extend(seen.iter().map(|p| ((p.x, p.y), 0.0125)));
    let thickness = 0.0055;
    let gap = 0.011;
    let unit = axes.column(2).into_owned();
    for side in [-1.0, 1.0] {
        build.add(
            Shape::Plate { circles: circles.clone(), thickness },
            pivot + unit * (side * gap),
            axes,
            Vector3::repeat(1.0),
        );
    }
    build.paint(Paint::Part(Tone::Bright));
    build.bush(pivot, unit, 0.013, 0.042);
    for p in &seen {
        build.bush(pivot + axes * Vector3::new(p.x, p.y, 0.0), unit, 0.007, 0.034);
    }
    // A joint off the plates' plane stands on a pin.
    for (p, point) in seen.iter().zip(points) {
        if p.z.abs() > 0.02 {
            build.tube(pivot + axes * Vector3::new(p.x, p.y, 0.0), *point, 0.006);
        }
    }
    build.paint(paint);
}

fn mount(build: &mut Builder, at: Point3<f64>, into_body: Vector3<f64>) {
    let unit = into_body.try_normalize(1e-12).unwrap_or_else(Vector3::z);
    let axes = axes_along(unit, Vector3::x());
    build.add(Shape::Block, at + unit * 0.026, axes, Vector3::new(0.044, 0.030, 0.012));
    build.add(Shape::Block, at + unit * 0.010, axes, Vector3::new(0.030, 0.012, 0.028));
}

fn frame(build: &mut Builder, corners: &[Point3<f64>]) {
    if corners.len() < 2 {
        return;
    }
    for (number, corner) in corners.iter().enumerate() {
        build.tube(*corner, corners[(number + 1) % corners.len()], 0.0085);
        build.ball(*corner, 0.0095);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Rotation3;

    fn rotated(part: &PartKind, by: &Rotation3<f64>) -> PartKind {
        match part {
            PartKind::Rocker { pivot, axis, points } => PartKind::Rocker {
                pivot: by * pivot,
                axis: by * axis,
                points: points.iter().map(|p| by * p).collect(),
            },
            PartKind::Upright { wheel_centre, spin_axis, joints } => PartKind::Upright {
                wheel_centre: by * wheel_centre,
                spin_axis: by * spin_axis,
                joints: joints.iter().map(|p| by * p).collect(),
            },
            other => other.clone(),
        }
    }

    fn of(kind: PartKind) -> Vec<Solid> {
        solids(&StageView { parts: vec![Part::new(kind)], ..StageView::default() })
    }

    #[test]
    fn a_rigid_part_keeps_its_shapes_in_every_pose() {
        let parts = [
            PartKind::Rocker {
                pivot: Point3::new(0.1, 0.2, 0.4),
                axis: Vector3::new(0.2, 0.5, 1.0),
                points: vec![Point3::new(0.1, 0.28, 0.41), Point3::new(0.17, 0.2, 0.4)],
            },
            PartKind::Upright {
                wheel_centre: Point3::new(0.0, 0.75, 0.26),
                spin_axis: Vector3::y(),
                joints: vec![
                    Point3::new(-0.01, 0.7, 0.38),
                    Point3::new(0.01, 0.71, 0.14),
                    Point3::new(0.1, 0.69, 0.2),
                ],
            },
        ];
        let turn = Rotation3::from_euler_angles(0.3, -0.2, 0.5);
        for part in parts {
            let before = of(part.clone());
            let after = of(rotated(&part, &turn));
            assert_eq!(before.len(), after.len());
            for (a, b) in before.iter().zip(&after) {
                assert!(a.shape.matches(&b.shape), "{a:?} became {b:?}");
                assert!((a.scale - b.scale).norm() < 1e-9);
                assert!((turn * a.centre - b.centre).norm() < 1e-9);
            }
        }
    }

    #[test]
    fn solids_stand_in_right_handed_axes() {
        let solids = of(PartKind::Wishbone {
            inner_front: Point3::new(0.15, 0.25, 0.15),
            inner_rear: Point3::new(-0.2, 0.25, 0.15),
            outer: Point3::new(0.0, 0.7, 0.13),
            radius: 0.012,
        });
        assert!(solids.len() >= 8);
        for solid in solids {
            assert!((solid.axes.determinant() - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn coincident_ends_draw_nothing_and_break_nothing() {
        let p = Point3::new(0.1, 0.2, 0.3);
        for kind in [
            PartKind::Rod { a: p, b: p, radius: 0.01 },
            PartKind::Damper { body_eye: p, moving_eye: p, body_length: 0.1, spring: true },
            PartKind::Frame { corners: vec![p] },
            PartKind::Rocker { pivot: p, axis: Vector3::zeros(), points: vec![p] },
        ] {
            for solid in of(kind) {
                assert!(solid.axes.iter().all(|x| x.is_finite()));
                assert!(solid.scale.iter().all(|x| x.is_finite()));
            }
        }
    }
}
