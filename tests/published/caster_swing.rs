//! Camber through steer, exactly: `k · s` (steering axis, spin axis) stays while steering. SAE 850219
//! treats the same relation (existence read); the numbers were computed two ways.

use super::{half_digit, of_wheel, steered_to};
use nalgebra::Vector3;
use wheelpath_geometry::{CornerSolver, Side};
use wheelpath_tests::assert_near;
use wheelpath_tests::planar::{Steered, rack};

/// A wheel without camber whose centre lies on its steering axis, so that steering at a held centre
/// height turns it about that axis and the wishbones stand still.
fn corner(caster: f64, inclination: f64) -> CornerSolver {
    let axis = Vector3::new(-caster.to_radians().tan(), -inclination.to_radians().tan(), 1.0);
    let wheel_centre = Vector3::new(0.0, 0.75, 0.3);
    let steered = Steered {
        wheel_centre,
        spin_axis: Vector3::y(),
        lower_ball: wheel_centre - axis * 0.12,
        upper_ball: wheel_centre + axis * 0.15,
        tie_rod_outer: wheel_centre + Vector3::new(0.14, -0.03, -0.04),
    };
    CornerSolver::new(&steered.corner(), Side::Left, &rack(), None).unwrap()
}

/// Camber in degrees with the wheel steered to this toe.
fn camber(solver: &CornerSolver, toe: f64) -> f64 {
    let solved = steered_to(solver, "toe", toe.to_radians());
    let start = solver.start().motion;
    assert!((solved.motion.wheel_centre - start.wheel_centre).amax() < 1e-12);
    assert!(
        (solved.motion.steering_axis.unwrap().upper() - start.steering_axis.unwrap().upper()).amax() < 1e-12
    );
    of_wheel(&solved.motion, "camber_to_body").to_degrees()
}

#[test]
fn camber_at_20_degrees_either_way() {
    let solver = corner(5.0, 12.0);
    let start = solver.start();
    assert_near!(of_wheel(&start.motion, "caster").to_degrees(), 5.0, 1e-12);
    assert_near!(of_wheel(&start.motion, "steering_axis_inclination").to_degrees(), 12.0, 1e-12);
    assert_near!(camber(&solver, -20.0), 2.458_625, half_digit(6));
    assert_near!(camber(&solver, 20.0), -0.978_126, half_digit(6));
}

/// The right wheel does the same.
#[test]
fn camber_on_the_other_side() {
    let left = corner(5.0, 12.0);
    let right = CornerSolver::new(&left.corner().mirrored(), Side::Right, &rack(), None).unwrap();
    assert_near!(camber(&right, -20.0), 2.458_625, half_digit(6));
    assert_near!(camber(&right, 20.0), -0.978_126, half_digit(6));
}

/// The workshop formula (read in a trade article) takes caster from camber at 20 degrees either way
/// and is not exact: 4.9978 for 5 degrees.
#[test]
fn caster_swing_without_inclination() {
    let solver = corner(5.0, 0.0);
    let (out, inward) = (camber(&solver, -20.0), camber(&solver, 20.0));
    assert_near!(out, 1.713_944, half_digit(6));
    assert_near!(inward, -1.713_944, half_digit(6));
    let swing = out.to_radians().sin() - inward.to_radians().sin();
    let workshop = (swing / (2.0 * 20_f64.to_radians().sin())).atan().to_degrees();
    assert_near!(workshop, 4.9978, half_digit(4));
    assert_near!(of_wheel(&solver.start().motion, "caster").to_degrees(), 5.0, 1e-12);
}

#[test]
fn the_angle_between_steering_axis_and_spin_axis_stays() {
    let solver = corner(5.0, 12.0);
    let product = |rack: f64| {
        let motion = solver.solve(0.0, rack).unwrap().motion;
        motion.steering_axis.unwrap().direction().dot(&motion.spin_axis)
    };
    let straight = product(0.0);
    for rack in [-0.05, -0.02, 0.01, 0.03, 0.05] {
        assert_near!(product(rack), straight, 1e-13, "rack {rack}");
    }
}
