//! Steering: the ideal turn, the trapezoid of a straight axle, the rack.

use super::{STILL, axle_steered_to, half_digit, of_axle, of_wheel, steered_to};
use nalgebra::Vector3;
use wheelpath_geometry::mechanism::{
    Anchor, BallJoint, Constraint, FixedLength, Frame, Height, Hinge, Input, Mechanism, Pose,
};
use wheelpath_geometry::{AxleSolver, CardanJoint, Column, CornerSolver, End, Side, spin_axis_from_angles};
use wheelpath_tests::assert_near;
use wheelpath_tests::planar::{Steered, car, rack};

fn axle(pivots_apart: f64, wheelbase: f64) -> AxleSolver {
    let corner = Steered::about_vertical(0.5 * pivots_apart, 0.13).corner();
    AxleSolver::new(&car(corner, rack(), wheelbase), End::Front).unwrap()
}

/// University examination question with solution (read): wheelbase 280 cm, pivots 140 cm apart, outer
/// wheel at 30 degrees, cot of the inner angle 1.232.
#[test]
fn ideal_turn_for_an_outer_angle_of_30_degrees() {
    let axle = axle(1.40, 2.80);
    let turned = axle_steered_to(&axle, "outer_ideal", 30_f64.to_radians());
    let inner = of_axle(&turned, "inner_steer");
    assert_near!(1.0 / inner.tan(), 1.232, half_digit(3));
    assert_near!(1.0 / inner.tan(), 1.232_051, half_digit(6));
    assert_near!(inner.to_degrees(), 39.0647, half_digit(4));
    // By contacts the ideal is another one: the wheels stand 80 mm outboard of their axes.
    let by_contact = of_axle(&turned, "outer_ideal_contact");
    assert_near!(1.0 / by_contact.tan() - 1.0 / inner.tan(), 1.56 / 2.80, 1e-12);
}

/// Rattan, Theory of Machines, ch. 6 (from memory): pivots over wheelbase 0.44, inner wheel at 18
/// degrees, outer 15.9.
#[test]
fn ideal_turn_for_an_inner_angle_of_18_degrees() {
    let axle = axle(0.44 * 2.80, 2.80);
    let left = axle_steered_to(&axle, "inner_steer", 18_f64.to_radians());
    assert_near!(of_wheel(&left.motion.left, "steer_angle").to_degrees(), 18.0, 1e-9);
    let outer = of_axle(&left, "outer_ideal").to_degrees();
    assert_near!(outer, 15.9, half_digit(1));
    assert_near!(outer, 15.869_284, half_digit(6));
    // The same to the right.
    let right = axle.solve([0.0; 2], -left.steer()).unwrap();
    assert_near!(of_wheel(&right.motion.right, "steer_angle").to_degrees(), -18.0, 1e-9);
    assert_near!(of_axle(&right, "outer_ideal").to_degrees(), 15.869_284, half_digit(6));
}

/// A track-rod trapezoid (question read, no printed answer; both numbers computed independently):
/// pivots 1.37 m apart, arms 0.17 m, rod 1.17 m behind the axle, inner wheel at 30 degrees. The exact
/// linkage gives 19.479138 degrees outside. The text-book relation, which leaves out the rod's tilt,
/// gives 20.801609.
///
/// Two knuckles hinged to the car and a rod between them. The plan lies in the plane across the car
/// (its forward is up), so that the height of a point of the inner knuckle drives it.
#[test]
fn track_rod_trapezoid() {
    let (apart, arm, rod_length): (f64, f64, f64) = (1.37, 0.17, 1.17);
    let inset = 0.5 * (apart - rod_length);
    let back = (arm * arm - inset * inset).sqrt();
    let side = [1.0, -1.0];
    let pivots = side.map(|s| Vector3::new(0.0, s * 0.5 * apart, 0.0));
    let on_knuckle = |body: usize, at: Vector3<f64>| Anchor { frame: Frame::Body(body), at };
    let hinge = |body: usize| {
        let joint = BallJoint {
            point: on_knuckle(body, Vector3::zeros()),
            seat: Anchor { frame: Frame::Car, at: pivots[body] },
        };
        Constraint::Hinge(Hinge { joint, axis_of_point: Vector3::x(), axis_of_seat: Vector3::x() })
    };
    let end = |body: usize| on_knuckle(body, Vector3::new(0.0, -side[body] * inset, -back));
    let track_rod = FixedLength::new(end(0), end(1), rod_length);
    let constraints = vec![
        ("left pivot", hinge(0)),
        ("right pivot", hinge(1)),
        ("track rod", Constraint::FixedLength(track_rod)),
    ];
    // A point a metre to the left goes back by the sine of a left turn.
    let driver = Height { point: on_knuckle(0, Vector3::y()), design: 0.0 };
    let mechanism =
        Mechanism::<f64, 2, 12>::new(pivots.map(Pose::design), constraints, vec![driver], STILL).unwrap();
    let travel = -30_f64.to_radians().sin();
    let there = mechanism.follow(&mechanism.start().unwrap(), &Input::new(travel, 0.0)).unwrap();
    let turned = there.closed.bodies.map(|body| {
        let forward = body.direction(&Vector3::z());
        forward.y.atan2(forward.z)
    });
    let [inner, outer] = turned.map(f64::to_degrees);
    assert_near!(inner, 30.0, 1e-10);
    assert_near!(outer, 19.479_138, half_digit(6));
    let alpha = (inset / arm).asin();
    let relation = |outer: f64| (alpha + turned[0]).sin() + (alpha - outer).sin() - 2.0 * alpha.sin();
    assert_near!(relation(20.801_609_f64.to_radians()), 0.0, 1e-8);
    assert!(relation(turned[1]).abs() > 0.01, "the exact linkage does not obey the approximate relation");
}

/// Barton & Fieldhouse, Automotive Chassis Engineering, p. 87 (read; misprinted 40 there): a steering
/// arm of 140 mm swings 37 degrees to either side for 168.5 mm of rack travel.
#[test]
fn rack_travel_from_lock_to_lock() {
    let corner = Steered::about_vertical(0.70, 0.140).corner();
    let solver = CornerSolver::new(&corner, Side::Left, &rack(), None).unwrap();
    let [left, right] = [37.0_f64, -37.0].map(|d| steered_to(&solver, "steer_angle", d.to_radians()).steer());
    assert_near!(1e3 * (left - right), 168.5, half_digit(1));
    assert_near!(1e3 * (left - right), 168.508, half_digit(3));
}

fn toe_by_tape(toe: f64, diameter: f64) -> f64 {
    let mut steered = Steered::about_vertical(0.70, 0.13);
    steered.spin_axis = spin_axis_from_angles(Side::Left, 0.0, toe);
    let car = car(steered.corner(), rack(), 2.5);
    let axle = AxleSolver::new(&car, End::Front).unwrap().start();
    assert_near!(of_axle(&axle, "total_toe"), 2.0 * toe, 1e-15);
    // Between the rims' faces at hub height, behind minus in front: what a tape measures.
    let [left, right] = [Side::Left, Side::Right].map(|side| {
        let (motion, wheel) = (axle.motion.corner(side), axle.motion.wheel(side));
        let reach = wheel.forward * (0.5 * diameter);
        [motion.wheel_centre + reach, motion.wheel_centre - reach]
    });
    (left[1].y - right[1].y) - (left[0].y - right[0].y)
}

/// Alignment discussion (read): 4 mm in total over 727.7 mm are 0.31 degrees. Workshop page (read):
/// 0.15 degrees over 24 in are 0.062832 in.
#[test]
fn toe_measured_by_tape() {
    let total = super::root(0.001, 0.002, 4e-3, |toe| toe_by_tape(toe, 0.7277));
    assert_near!(2.0 * total.to_degrees(), 0.31, half_digit(2));
    let one_wheel = 0.5 * toe_by_tape(0.15_f64.to_radians(), 24.0 * wheelpath_geometry::INCH);
    assert_near!(one_wheel / wheelpath_geometry::INCH, 0.062_832, half_digit(6));
}

fn joint(bend: f64) -> Column {
    Column { joints: [Some(CardanJoint { bend, phase: 0.0 }), None] }
}

/// Khurmi & Gupta, Theory of Machines, Hooke's joint (speeds read, angle from memory): 1200 rpm, a total
/// fluctuation of 100 rpm, so 1251 and 1151 rpm; the shafts at 16.4 degrees.
#[test]
fn cardan_joint_by_its_fluctuation() {
    let fluctuation = |bend: f64| {
        let column = joint(bend);
        let speeds = (0..=3600).map(|k| 1200.0 * column.ratio_at(f64::from(k).to_radians() * 0.05));
        speeds.fold([f64::INFINITY, 0.0_f64], |[least, most], speed| [least.min(speed), most.max(speed)])
    };
    let bend = super::root(0.2, 0.3, 100.0, |bend| fluctuation(bend)[1] - fluctuation(bend)[0]);
    assert_near!(bend.to_degrees(), 16.4, half_digit(1));
    assert_near!(bend.to_degrees(), 16.422_908, half_digit(6));
    let [least, most] = fluctuation(bend);
    assert_near!(most, 1251.0, half_digit(0));
    assert_near!(least, 1151.0, half_digit(0));
}

/// The same (from memory): at 18 degrees both shafts turn equally fast at 44.3 and 135.7 degrees.
#[test]
fn cardan_joint_as_fast_as_its_drive() {
    let column = joint(18_f64.to_radians());
    for (guess, printed, digits) in [(0.7, 44.3, 44.2813), (2.3, 135.7, 135.7187)] {
        let at = super::root(guess, guess + 0.1, 1.0, |turn| column.ratio_at(turn)).to_degrees();
        assert_near!(at, printed, half_digit(1));
        assert_near!(at, digits, half_digit(4));
    }
}
