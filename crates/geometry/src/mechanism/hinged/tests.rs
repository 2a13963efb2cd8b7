use super::{Arm, Swing};
use nalgebra::{Rotation3, Unit, Vector3};
use proptest::prelude::*;

fn vector() -> impl Strategy<Value = Vector3<f64>> {
    prop::array::uniform3(-1.0..1.0_f64).prop_map(Vector3::from)
}

fn about(axis: &Vector3<f64>, angle: f64) -> Rotation3<f64> {
    Rotation3::from_axis_angle(&Unit::new_normalize(*axis), angle)
}

/// A rocker in the plane x = 0: law of cosines in the triangle of pivot, tip and moving point.
#[test]
fn a_rocker_follows_the_law_of_cosines() {
    let at = |y: f64, z: f64| Vector3::new(0.0, y, z);
    let (pivot, tip, mover) = (at(0.2, 0.5), at(0.2, 0.58), at(0.55, 0.30));
    let rod = (tip - mover).norm();
    let swing = Swing::new(pivot, pivot + Vector3::x(), tip, mover, rod);
    let radius = 0.08;
    for (dy, dz, dx) in [(0.0, 0.0, 0.0), (0.01, 0.03, 0.0), (-0.02, -0.04, 0.0), (0.01, 0.02, 0.015)] {
        let mover = mover + Vector3::new(dx, dy, dz);
        let pose = swing.pose(&mover, &Vector3::z()).unwrap();
        let out = mover - pivot;
        let distance = out.yz().norm();
        // The rod leans out of the plane by dx: in the plane it is that much shorter.
        let in_plane = rod * rod - dx * dx;
        let between = ((radius * radius + distance * distance - in_plane) / (2.0 * radius * distance)).acos();
        // From Y toward Z is right-handed about X; the tip stands at 90 degrees in the design pose.
        let angle = out.z.atan2(out.y) + between - std::f64::consts::FRAC_PI_2;
        assert!((pose.angle() - angle).abs() < 1e-13, "{} is not {angle}", pose.angle());
        let moved = swing.point(&pose, &tip);
        assert!(((moved - mover).norm() - rod).abs() < 1e-14);
    }
    // Further than rod and tip reach together, and nearer than their difference.
    assert!(swing.pose(&(pivot + Vector3::y() * (rod + radius + 1e-9)), &Vector3::z()).is_none());
    assert!(swing.pose(&(pivot + Vector3::y() * (rod + radius - 1e-9)), &Vector3::z()).is_some());
    assert!(swing.pose(&(pivot + Vector3::y() * (rod - radius - 1e-9)), &Vector3::z()).is_none());
}

#[test]
fn leverage_is_none_where_rod_and_tip_are_in_line() {
    let (pivot, tip) = (Vector3::zeros(), Vector3::new(0.0, 0.1, 0.0));
    let leverage = |mover: Vector3<f64>| {
        Swing::new(pivot, Vector3::x(), tip, mover, (tip - mover).norm()).leverage(&mover)
    };
    assert!(leverage(Vector3::new(0.0, 0.5, 0.0)) < 1e-15);
    assert!((leverage(Vector3::new(0.0, 0.1, 0.5)) - 1.0).abs() < 1e-15);
    // A rod along the axis turns nothing, whatever rounding says of its direction across it.
    let along = tip + Vector3::new(0.3, 1e-17, 2e-17);
    assert!(leverage(along) < 1e-12);
    // At half a right angle to the axis, it does so by the sine.
    assert!((leverage(tip + Vector3::new(0.3, 0.0, 0.3)) - 0.5_f64.sqrt()).abs() < 1e-15);
}

proptest! {
    /// The rod keeps its length, the tip its circle, the design pose its place; the rate is the
    /// derivative of the turn.
    #[test]
    fn a_rocker_keeps_rod_and_circle(
        pivot in vector(), axis in vector(), tip in vector(), mover in vector(), by in vector(), share in -0.02..0.02,
    ) {
        prop_assume!(axis.norm() > 0.2);
        let off = |p: &Vector3<f64>| (p - pivot).cross(&axis.normalize()).norm();
        prop_assume!(off(&tip) > 0.1 && off(&mover) > 0.1);
        let rod = (tip - mover).norm();
        prop_assume!(rod > 0.1);
        let swing = Swing::new(pivot, pivot + axis, tip, mover, rod);
        prop_assume!(swing.leverage(&mover) > 0.3);
        let design = swing.pose(&mover, &by).unwrap();
        prop_assert!(design.angle().abs() < 1e-12);
        let at = mover + by * share;
        let Some(pose) = swing.pose(&at, &by) else { return Ok(()) };
        let moved = swing.point(&pose, &tip);
        prop_assert!(((moved - at).norm() - rod).abs() < 1e-12);
        let expected = pivot + about(&axis, pose.angle()) * (tip - pivot);
        prop_assert!((moved - expected).amax() < 1e-12);
        let step = 1e-6;
        let near = |d: f64| swing.pose(&(at + by * d), &by).map(|p| p.angle());
        if let (Some(ahead), Some(behind)) = (near(step), near(-step)) {
            let difference = (ahead - behind) / (2.0 * step);
            prop_assert!((difference - pose.rate).abs() < 1e-6 * (1.0 + pose.rate.abs().powi(3)));
        }
        let velocity = swing.velocity(&pose, &moved);
        // A rod of fixed length: both ends move alike along it.
        prop_assert!(((moved - at).dot(&(velocity - by))).abs() < 1e-9 * (1.0 + pose.rate.abs()));
    }

    /// What a wishbone carries turns about its hinge by the angle its ball joint does.
    #[test]
    fn a_wishbone_turns_about_its_hinge(
        rear in vector(), axis in vector(), ball in vector(), carried in vector(), angle in -1.5..1.5,
        stretch in 0.9..1.1,
    ) {
        prop_assume!(axis.norm() > 0.2);
        prop_assume!((ball - rear).cross(&axis.normalize()).norm() > 0.1);
        let arm = Arm::new(rear + axis, rear, ball, carried);
        let turn = |p: &Vector3<f64>| rear + about(&axis, angle) * (p - rear);
        // A stated leg length puts the ball joint further out than it was drawn.
        let out = ball - rear - axis * (axis.dot(&(ball - rear)) / axis.norm_squared());
        let ball = ball + out * (stretch - 1.0);
        let pose = arm.pose(&turn(&ball));
        let at = arm.point(&pose);
        prop_assert!((at - turn(&carried)).amax() < 1e-13);
        let spin = axis.normalize() * 0.7;
        let velocity = arm.velocity(&pose, &spin.cross(&(turn(&ball) - rear)));
        prop_assert!((velocity - spin.cross(&(at - rear))).amax() < 1e-12);
    }
}
