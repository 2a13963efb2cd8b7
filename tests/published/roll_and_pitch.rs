//! Instant centres, roll centres and pitch geometry.

use super::{STILL, half_digit, of_axle, of_wheel};
use nalgebra::Vector3;
use wheelpath_geometry::mechanism::{
    Anchor, Constraint, FixedLength, Frame, Height, Input, Mechanism, Pose, Slider,
};
use wheelpath_geometry::{AxleSolver, Corner, CornerSolver, End, Hardpoint, Side, Steering, TorqueReaction};
use wheelpath_tests::assert_near;
use wheelpath_tests::planar::{FrontView, bare_corner, car, wheel};

/// Front-view line equations: Blundell & Harty, The Multibody Systems Approach to Vehicle Dynamics,
/// eq. 4.33-4.43 (read); numbers computed three ways. Upper arm (400, 420)-(640, 440), lower arm
/// (350, 170)-(690, 160), contact (750, 0), mm.
#[test]
fn wishbones_in_front_view() {
    let linkage = FrontView {
        upper: [[0.400, 0.420], [0.640, 0.440]],
        lower: [[0.350, 0.170], [0.690, 0.160]],
        wheel_centre: [0.750, 0.310],
        tyre_radius: 0.310,
    };
    let car = car(linkage.corner(), Steering::Fixed, 2.5);
    let axle = AxleSolver::new(&car, End::Front).unwrap().start();
    for side in Side::BOTH {
        let corner = axle.motion.corner(side);
        let centre_y = side.sign() * 1e3 * of_wheel(corner, "front_view_instant_centre_y");
        assert_near!(centre_y, -1_830.434_783, 1e-6);
        assert_near!(1e3 * of_wheel(corner, "front_view_instant_centre_z"), 234.130_435, 1e-6);
    }
    assert_near!(1e3 * of_axle(&axle, "roll_centre_height"), 68.049_705, 1e-6);
    assert_near!(1e3 * of_axle(&axle, "roll_centre_lateral"), 0.0, 1e-9);
    assert_near!(1e3 * of_axle(&axle, "roll_centre_mean_height"), 68.049_705, 1e-6);
}

/// A strut in front view (construction: SAE J670, read about): top (560, 840), axis point (615, 400),
/// ball joint (690, 160), inner (350, 170), contact (750, 0), mm. A point of the car slides along a
/// line of the upright.
#[test]
fn strut_in_front_view() {
    let at = |x: f64, y: f64, z: f64| Vector3::new(x, y, z);
    let (top, on_axis) = (at(0.0, 0.560, 0.840), at(0.0, 0.615, 0.400));
    let (ball, inner) = (at(0.0, 0.690, 0.160), at(0.0, 0.350, 0.170));
    let centre = at(0.0, 0.750, 0.310);
    let contact = at(0.0, 0.750, 0.0);
    let on_car = |p: Vector3<f64>| Anchor { frame: Frame::Car, at: p };
    let on_upright = |p: Vector3<f64>| Anchor { frame: Frame::Body(0), at: p - centre };
    let rod = |x: f64, outer: f64| {
        let (from, to) = (inner + at(x, 0.0, 0.0), ball + at(outer, 0.0, 0.0));
        let length = (to - from).norm();
        Constraint::FixedLength(FixedLength::new(on_car(from), on_upright(to), length))
    };
    let slider = Slider { point: on_car(top), line: on_upright(on_axis), along: (top - on_axis).normalize() };
    let constraints = vec![
        ("lower leg", rod(0.1, 0.0)),
        ("lower leg", rod(-0.1, 0.0)),
        ("tie rod", rod(0.3, 0.3)),
        ("strut", Constraint::Slider(slider)),
    ];
    let driver = Height { point: on_upright(centre), design: centre.z };
    let mechanism =
        Mechanism::<f64, 1, 6>::new([Pose::design(centre)], constraints, vec![driver], STILL).unwrap();
    let start = mechanism.start().unwrap();
    let twist = start.closed.by_travel(0, 1, 0);
    assert!(twist.w.y.abs() < 1e-12 && twist.w.z.abs() < 1e-12 && twist.v.x.abs() < 1e-12);
    let (y, z) = (centre.y - twist.v.z / twist.w.x, centre.z + twist.v.y / twist.w.x);
    assert_near!(1e3 * y, -3_819.047_619, 1e-6);
    assert_near!(1e3 * z, 292.619_048, 1e-6);
    // Square to the contact's velocity, up to the middle of the car.
    let u = twist.at(&(contact - centre));
    assert_near!(1e3 * u.y / u.z * contact.y, 48.032_830, 1e-6);
    // The same line after a trip: the strut is back where it was.
    let away = mechanism.follow(&start, &Input::new(0.06, 0.0)).unwrap();
    let back = mechanism.follow(&away, &Input::new(0.0, 0.0)).unwrap();
    assert!((back.closed.bodies[0].origin - centre).amax() < 1e-12);
}

/// Chassis article, worked example (read; recomputed 5.5993 degrees): 25 % anti-dive with 60 % front
/// brakes, wheelbase 2550 mm and centre of gravity at 600 mm need tan = 0.098, 5.6 degrees, of the line
/// from the contact to the side-view instant centre, rising rearward.
#[test]
fn a_quarter_of_the_dive() {
    let slope: f64 = 0.25 * 0.600 / (0.60 * 2.550);
    assert_near!(slope, 0.098, half_digit(3));
    assert_near!(slope.atan().to_degrees(), 5.5993, half_digit(4));
    // Wherever on that line the instant centre is, the share is the same.
    for behind in [0.8, 2.0, 12.0] {
        let corner = with_side_view_centre(Vector3::new(-behind, 0.0, behind * slope));
        let mut car = car(corner, Steering::Fixed, 2.550);
        car.centre_of_gravity_height = Some(0.600);
        car.brake_share_front = Some(0.60);
        let axle = AxleSolver::new(&car, End::Front).unwrap().start();
        assert_near!(100.0 * of_axle(&axle, "anti_dive"), 25.0, 1e-9, "{behind} m behind");
    }
}

/// The same construction (chassis article, read) at either axle and for either way of taking the
/// torque: the line goes from the contact where the upright takes it, from the wheel centre where the
/// body does.
#[test]
fn pitch_lines_from_contact_and_from_wheel_centre() {
    let (length, height, share) = (2.550, 0.600, 0.60);
    // Where the line starts over the ground; the wheel centre stands 0.3 m high.
    for (reacted, start) in [(TorqueReaction::Upright, 0.0), (TorqueReaction::Body, 0.300)] {
        for (along, up) in [(0.9, 0.12), (1.7, 0.45), (4.0, 0.20)] {
            let tangent = (up - start) / along;
            let axle = |end: End, centre_x: f64| {
                let corner = with_side_view_centre(Vector3::new(centre_x, 0.0, up));
                let mut car = car(corner, Steering::Fixed, length);
                car.centre_of_gravity_height = Some(height);
                car.brake_share_front = Some(share);
                car.front.brakes = reacted;
                car.rear.brakes = reacted;
                car.rear.drive = Some(reacted);
                AxleSolver::new(&car, end).unwrap().start()
            };
            let front = axle(End::Front, -along);
            assert_near!(of_axle(&front, "anti_dive"), tangent * share * length / height, 1e-11);
            let rear = axle(End::Rear, along);
            assert_near!(of_axle(&rear, "anti_lift"), tangent * (1.0 - share) * length / height, 1e-11);
            assert_near!(of_axle(&rear, "anti_squat"), tangent * length / height, 1e-11);
        }
    }
}

/// A corner whose instant centre in side view is this point: level arms straight across, each hinge's
/// line through the centre in side view.
fn with_side_view_centre(centre: Vector3<f64>) -> Corner {
    let arm = |ball: Vector3<f64>, inboard: f64| {
        let inner = ball - Vector3::new(0.0, inboard, 0.0);
        let along = Vector3::new(centre.x - ball.x, 0.0, centre.z - ball.z).normalize();
        [inner - along * 0.15, inner + along * 0.15]
    };
    let (lower, upper) = (Vector3::new(0.01, 0.70, 0.16), Vector3::new(-0.02, 0.66, 0.42));
    let ([lower_front, lower_rear], [upper_front, upper_rear]) = (arm(lower, 0.38), arm(upper, 0.30));
    let toe_outer = Vector3::new(0.12, 0.68, 0.20);
    let corner = bare_corner(
        wheel(Vector3::new(0.0, 0.75, 0.30), Vector3::y(), 0.30),
        &[
            (Hardpoint::LowerWishboneFront, lower_front),
            (Hardpoint::LowerWishboneRear, lower_rear),
            (Hardpoint::LowerBallJoint, lower),
            (Hardpoint::UpperWishboneFront, upper_front),
            (Hardpoint::UpperWishboneRear, upper_rear),
            (Hardpoint::UpperBallJoint, upper),
            (Hardpoint::ToeLinkInner, toe_outer - Vector3::new(0.0, 0.4, 0.0)),
            (Hardpoint::ToeLinkOuter, toe_outer),
        ],
    );
    let solver = CornerSolver::new(&corner, Side::Left, &Steering::Fixed, None).unwrap();
    assert_near!(of_wheel(&solver.start().motion, "side_view_instant_centre_x"), centre.x, 1e-9);
    assert_near!(of_wheel(&solver.start().motion, "side_view_instant_centre_z"), centre.z, 1e-9);
    corner
}
