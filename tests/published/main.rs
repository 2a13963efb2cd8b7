//! Numbers from books and articles, driven through the real solver. Beside each check stands its
//! source; "from memory" where it was recalled and recomputed, not looked up.

mod caster_swing;
mod four_bar;
mod roll_and_pitch;
mod steering;

use nalgebra::Vector3;
use wheelpath_geometry::mechanism::SteeringPath;
use wheelpath_geometry::{AxleSolver, CornerMotion, CornerSolver, SolvedAxle, SolvedCorner, reading};

/// Half a unit of the last printed digit.
fn half_digit(decimals: i32) -> f64 {
    0.5 * 10_f64.powi(-decimals) * (1.0 + 1e-9)
}

/// Steering that is not used.
const STILL: SteeringPath<f64> = SteeringPath::Slide { axis: Vector3::new(0.0, 1.0, 0.0) };

/// A reading of a wheel on level ground.
fn of_wheel(motion: &CornerMotion<f64>, key: &str) -> f64 {
    let level = wheelpath_geometry::Ground::level();
    let wheel = wheelpath_geometry::OnGround::of(motion, level.normal);
    wheelpath_geometry::wheel_values(motion, &wheel).get(reading(key).unwrap()).unwrap()
}

/// A reading of a solved axle.
fn of_axle(solved: &SolvedAxle, key: &str) -> f64 {
    solved.axle_values().get(reading(key).unwrap()).unwrap()
}

/// The input at which a function has a value, by secants from two guesses.
fn root(mut a: f64, mut b: f64, value: f64, function: impl Fn(f64) -> f64) -> f64 {
    let (mut fa, mut fb) = (function(a) - value, function(b) - value);
    for _ in 0..60 {
        if fb == 0.0 || fa == fb {
            break;
        }
        let next = b - fb * (b - a) / (fb - fa);
        (a, fa) = (b, fb);
        b = next;
        fb = function(b) - value;
    }
    assert!(fb.abs() < 1e-12, "no rack travel gives {value}: off by {fb:e}");
    b
}

/// The corner steered by its rack until a reading has a value (radians).
fn steered_to(corner: &CornerSolver, key: &str, value: f64) -> SolvedCorner {
    let rack = root(0.0, 0.005, value, |rack| of_wheel(&corner.solve(0.0, rack).unwrap().motion, key));
    corner.solve(0.0, rack).unwrap()
}

/// The axle steered by its rack until a reading has a value (radians).
fn axle_steered_to(axle: &AxleSolver, key: &str, value: f64) -> SolvedAxle {
    let at = |rack| axle.solve([0.0; 2], rack).unwrap();
    at(root(0.020, 0.025, value, |rack| of_axle(&at(rack), key)))
}
