use super::rows::{Anchor, Frame, Rows, Situation};
use super::steering_path::SteeringPath;
use super::{
    BallJoint, Constraint, FixedLength, Height, Hinge, Input, Mechanism, Pose, Slider, Traced, WrongFreedoms,
};
use nalgebra::{Unit, Vector3};
use proptest::prelude::*;

/// A constraint or a driver.
enum Equation {
    Constraint(Constraint<f64>),
    Driver(Height<f64>),
}

fn rows(equation: &Equation, bodies: &[Pose<f64>; 2], rack_axis: Vector3<f64>, rack: f64) -> Rows<f64, 12> {
    let steering = SteeringPath::Slide { axis: rack_axis };
    let situation = Situation { bodies, steering: &steering, steer: rack, swung: None };
    let mut rows = Rows::empty();
    match equation {
        Equation::Constraint(constraint) => constraint.write(&situation, &mut rows),
        Equation::Driver(height) => height.write(0.02, &situation, &mut rows),
    }
    .unwrap();
    rows
}

/// Every column of an equation's gradient against central differences.
fn gradient_is_right(
    equation: &Equation,
    count: usize,
    bodies: &[Pose<f64>; 2],
    rack_axis: Vector3<f64>,
) -> Result<(), TestCaseError> {
    const STEP: f64 = 1e-5;
    let rack = 0.013;
    let exact = rows(equation, bodies, rack_axis, rack);
    prop_assert_eq!(exact.used(), count);
    for column in 0..12 {
        let at = |change: f64| {
            let mut moved = *bodies;
            let mut by = [Vector3::zeros(); 2];
            by[(column % 6) / 3][column % 3] = change;
            moved[column / 6] = moved[column / 6].moved(&by[0], &by[1]);
            rows(equation, &moved, rack_axis, rack).residual
        };
        let (ahead, behind) = (at(STEP), at(-STEP));
        for row in 0..count {
            let difference = (ahead[row] - behind[row]) / (2.0 * STEP);
            let error = (difference - exact.jacobian[row][column]).abs();
            prop_assert!(error < 1e-9, "row {}, column {}: off by {}", row, column, error);
        }
    }
    let (ahead, behind) =
        (rows(equation, bodies, rack_axis, rack + STEP), rows(equation, bodies, rack_axis, rack - STEP));
    for row in 0..count {
        let difference = (ahead.residual[row] - behind.residual[row]) / (2.0 * STEP);
        prop_assert!((difference - exact.by_steer[row]).abs() < 1e-9, "row {} by rack", row);
    }
    Ok(())
}

fn vector() -> impl Strategy<Value = Vector3<f64>> {
    prop::array::uniform3(-1.0..1.0_f64).prop_map(Vector3::from)
}

fn direction() -> impl Strategy<Value = Vector3<f64>> {
    vector().prop_filter("has a direction", |v| v.norm() > 0.1).prop_map(|v| v.normalize())
}

fn frame() -> impl Strategy<Value = Frame> {
    prop_oneof![Just(Frame::Car), Just(Frame::Steering), Just(Frame::Body(0)), Just(Frame::Body(1))]
}

fn anchor() -> impl Strategy<Value = Anchor<f64>> {
    (frame(), vector()).prop_map(|(frame, at)| Anchor { frame, at })
}

fn poses() -> impl Strategy<Value = [Pose<f64>; 2]> {
    prop::array::uniform2((vector(), vector()).prop_map(|(origin, turn)| {
        Pose::design(Vector3::zeros()).moved(&origin, &turn).straightened().straightened()
    }))
}

proptest! {
    #[test]
    fn gradient_of_a_rod(from in anchor(), to in anchor(), length in 0.3..1.0, at in poses(), rack in direction()) {
        let rod = Equation::Constraint(Constraint::FixedLength(FixedLength::new(from, to, length)));
        gradient_is_right(&rod, 1, &at, rack)?;
    }

    #[test]
    fn gradient_of_a_ball_joint(point in anchor(), seat in anchor(), at in poses(), rack in direction()) {
        let joint = Equation::Constraint(Constraint::BallJoint(BallJoint { point, seat }));
        gradient_is_right(&joint, 3, &at, rack)?;
    }

    #[test]
    fn gradient_of_a_hinge(
        point in anchor(), seat in anchor(), a in direction(), b in direction(), at in poses(), rack in direction(),
    ) {
        let joint = BallJoint { point, seat };
        let hinge = Constraint::Hinge(Hinge { joint, axis_of_point: a, axis_of_seat: b });
        gradient_is_right(&Equation::Constraint(hinge), 5, &at, rack)?;
    }

    #[test]
    fn gradient_of_a_slider(
        point in anchor(), line in anchor(), along in direction(), at in poses(), rack in direction(),
    ) {
        let slider = Equation::Constraint(Constraint::Slider(Slider { point, line, along }));
        gradient_is_right(&slider, 2, &at, rack)?;
    }

    #[test]
    fn gradient_of_a_driven_height(point in anchor(), design in -1.0..1.0, at in poses(), rack in direction()) {
        // A height on the rack would be no driver; its row is checked all the same.
        gradient_is_right(&Equation::Driver(Height { point, design }), 1, &at, rack)?;
    }

    /// A rod's residual is the error of its length, to first order.
    #[test]
    fn a_rods_residual_is_its_error_in_metres(along in direction(), error in -1e-6..1e-6_f64) {
        let body = [Pose::design(along * (0.4 + error)), Pose::design(Vector3::zeros())];
        let from = Anchor { frame: Frame::Car, at: Vector3::zeros() };
        let to = Anchor { frame: Frame::Body(0), at: Vector3::zeros() };
        let rod = Equation::Constraint(Constraint::FixedLength(FixedLength::new(from, to, 0.4)));
        let residual = rows(&rod, &body, Vector3::y(), 0.0).residual[0];
        prop_assert!((residual - error).abs() < 2.0 * error * error + 1e-15);
    }
}

#[test]
fn freedoms_that_do_not_come_out_are_counted() {
    let at = |x: f64| Anchor { frame: Frame::Car, at: Vector3::new(x, 0.0, 0.0) };
    let on_body = Anchor { frame: Frame::Body(0), at: Vector3::zeros() };
    let rod = |x: f64| ("rod", Constraint::FixedLength(FixedLength::new(at(x), on_body, 1.0)));
    let driver = Height { point: on_body, design: 0.0 };
    let make = |rods: usize, drivers: usize| {
        let rods = [0.0, 0.1, 0.2, 0.3, 0.4, 0.5].into_iter().take(rods).map(rod).collect();
        let design = [Pose::design(Vector3::zeros())];
        Mechanism::<f64, 1, 6>::new(
            design,
            rods,
            vec![driver; drivers],
            SteeringPath::Slide { axis: Vector3::y() },
        )
    };
    let wrong = |constraints, drivers| WrongFreedoms { bodies: 1, constraints, drivers };
    assert!(make(5, 1).is_ok() && make(4, 2).is_ok());
    assert_eq!(make(4, 1).unwrap_err(), wrong(4, 1));
    assert_eq!(make(6, 1).unwrap_err(), wrong(6, 1));
    assert_eq!(make(3, 3).unwrap_err(), wrong(3, 3));
    let words = make(4, 1).unwrap_err().to_string();
    assert!(words.contains("6 freedoms") && words.contains("4 constraint"), "{words}");
}

/// An arm hinged to the car, its wheel centre driven.
fn arm(pivot: Vector3<f64>, axis: Vector3<f64>, centre: Vector3<f64>) -> Mechanism<f64, 1, 6> {
    let joint = BallJoint {
        point: Anchor { frame: Frame::Body(0), at: pivot - centre },
        seat: Anchor { frame: Frame::Car, at: pivot },
    };
    let hinge = Constraint::Hinge(Hinge { joint, axis_of_point: axis, axis_of_seat: axis });
    let driver = Height { point: Anchor { frame: Frame::Body(0), at: Vector3::zeros() }, design: centre.z };
    Mechanism::new(
        [Pose::design(centre)],
        vec![("arm's hinge", hinge)],
        vec![driver],
        SteeringPath::Slide { axis: Vector3::y() },
    )
    .unwrap()
}

fn go<const B: usize, const N: usize>(mechanism: &Mechanism<f64, B, N>, travel: f64) -> Traced<B, N> {
    mechanism.follow(&mechanism.start().unwrap(), &Input::new(travel, 0.0)).unwrap()
}

#[test]
fn a_trailing_arm_goes_round_its_hinge() {
    let (pivot, centre) = (Vector3::new(0.4, 0.3, 0.35), Vector3::new(0.0, 0.7, 0.30));
    let arm = arm(pivot, Vector3::y(), centre);
    let radius = (centre - pivot).xz().norm();
    for travel in [-0.15, -0.04, 0.0, 0.07, 0.20] {
        let here = go(&arm, travel).closed;
        let origin = here.bodies[0].origin;
        let z = centre.z + travel - pivot.z;
        let x = pivot.x - (radius * radius - z * z).sqrt();
        let error = origin - Vector3::new(x, centre.y, centre.z + travel);
        assert!(error.amax() < 1e-14, "{travel}: {error:?}");
        // On the circle dx/dz = z / (pivot.x - x); the arm turns by 1 / (pivot.x - x).
        let twist = here.by_travel(0, 1, 0);
        assert!((twist.v - Vector3::new(z / (pivot.x - x), 0.0, 1.0)).amax() < 1e-13);
        assert!((twist.w - Vector3::new(0.0, 1.0 / (pivot.x - x), 0.0)).amax() < 1e-13);
    }
}

#[test]
fn a_semi_trailing_arm_stays_on_its_cone() {
    let axis = Vector3::new(-0.3, 0.9, 0.12).normalize();
    let (pivot, centre) = (Vector3::new(0.4, 0.3, 0.35), Vector3::new(0.0, 0.7, 0.30));
    let arm = arm(pivot, axis, centre);
    for travel in [-0.1, 0.05, 0.12] {
        let pose = go(&arm, travel).closed.bodies[0];
        // Rotation about the axis by the angle whose height is right: the closed form backwards.
        let turn = nalgebra::Rotation3::from_matrix_unchecked(pose.car_from_body);
        let (about, angle) = turn.axis_angle().unwrap();
        assert!(about.cross(&axis).norm() < 1e-12);
        let about = Unit::new_normalize(axis * about.dot(&axis).signum());
        let expected = pivot + nalgebra::Rotation3::from_axis_angle(&about, angle) * (centre - pivot);
        assert!((pose.origin - expected).amax() < 1e-13);
        assert!((pose.origin.z - centre.z - travel).abs() < 1e-15);
    }
}

/// The arm stands upright at its top: one finds the dead point there, at the radius over the pivot.
#[test]
fn an_arm_locks_where_it_stands_upright() {
    let (pivot, centre) = (Vector3::new(0.15, 0.3, 0.35), Vector3::new(0.0, 0.7, 0.30));
    let arm = arm(pivot, Vector3::y(), centre);
    let radius = (centre - pivot).xz().norm();
    let start = arm.start().unwrap();
    for (far, lock) in [(0.5, pivot.z + radius - centre.z), (-0.5, pivot.z - radius - centre.z)] {
        let limit = arm.follow(&start, &Input::new(far, 0.0)).unwrap_err();
        assert!((limit.at.travel[0] - lock).abs() < 1e-8, "{} is not {lock}", limit.at.travel[0]);
        assert_eq!(limit.links, ["arm's hinge"]);
    }
}

/// Two cranks in the plane across the car and a coupler between them, driven by the height of the
/// lower crank's pin. Each crank is two rods to points ahead and behind, as a wishbone is.
struct FourBar {
    lower: Vector3<f64>,
    upper: Vector3<f64>,
    lower_pin: Vector3<f64>,
    upper_pin: Vector3<f64>,
}

impl FourBar {
    fn mechanism(&self) -> Mechanism<f64, 1, 6> {
        let x = Vector3::x();
        let rod = |name, inner: Vector3<f64>, outer: Vector3<f64>| {
            let from = Anchor { frame: Frame::Car, at: inner };
            let to = Anchor { frame: Frame::Body(0), at: outer - self.lower_pin };
            (name, Constraint::FixedLength(FixedLength::new(from, to, (outer - inner).norm())))
        };
        let rods = vec![
            rod("upper front", self.upper + x * 0.1, self.upper_pin),
            rod("upper rear", self.upper - x * 0.1, self.upper_pin),
            rod("lower front", self.lower + x * 0.1, self.lower_pin),
            rod("lower rear", self.lower - x * 0.1, self.lower_pin),
            // Beside the lower crank and parallel to it: keeps the coupler in the plane.
            rod("guide", self.lower + x * 0.3, self.lower_pin + x * 0.3),
        ];
        let point = Anchor { frame: Frame::Body(0), at: Vector3::zeros() };
        let driver = Height { point, design: self.lower_pin.z };
        Mechanism::new(
            [Pose::design(self.lower_pin)],
            rods,
            vec![driver],
            SteeringPath::Slide { axis: Vector3::y() },
        )
        .unwrap()
    }
}

/// The lower crank goes down until coupler and upper crank are in one line: the pin is then as far from
/// the upper pivot as both are long together.
#[test]
fn a_four_bar_locks_where_two_links_are_in_line() {
    let at = |y, z| Vector3::new(0.0, y, z);
    let linkage = FourBar {
        lower: at(0.30, 0.20),
        upper: at(0.35, 0.45),
        lower_pin: at(0.65, 0.18),
        upper_pin: at(0.60, 0.40),
    };
    let mechanism = linkage.mechanism();
    let crank = (linkage.lower_pin - linkage.lower).norm();
    let reach = (linkage.lower_pin - linkage.upper_pin).norm() + (linkage.upper_pin - linkage.upper).norm();
    // Triangle of pivots and pin: the angle at the lower pivot, from the line to the upper one.
    let ground = linkage.upper - linkage.lower;
    let base = ground.norm();
    let cosine = (crank * crank + base * base - reach * reach) / (2.0 * crank * base);
    let to_upper = ground.y.atan2(ground.z);
    let lock = linkage.lower.z + crank * (to_upper + cosine.acos()).cos() - linkage.lower_pin.z;
    let start = mechanism.start().unwrap();
    let limit = mechanism.follow(&start, &Input::new(-0.6, 0.0)).unwrap_err();
    assert!((limit.at.travel[0] - lock).abs() < 1e-8, "{} is not {lock}", limit.at.travel[0]);
    // The force at the pin goes through both cranks, and none through the guide.
    assert_eq!(limit.links, ["upper front", "upper rear", "lower front", "lower rear"]);
}

/// A bar from a ball joint through a ring on the car, as a strut: it always points at the ring.
#[test]
fn a_slider_goes_along_its_line() {
    let (foot, ring) = (Vector3::new(0.0, 0.70, 0.16), Vector3::new(-0.03, 0.56, 0.84));
    let along = (ring - foot).normalize();
    let tip = Vector3::new(0.0, 0.75, 0.30);
    let seat = |at| Anchor { frame: Frame::Car, at };
    let on_body = |at: Vector3<f64>| Anchor { frame: Frame::Body(0), at: at - tip };
    let lower = |side: f64| {
        let inner = Vector3::new(side, 0.35, 0.17);
        let rod = FixedLength::new(seat(inner), on_body(foot), (foot - inner).norm());
        ("lower leg", Constraint::FixedLength(rod))
    };
    let (steer_inner, steer_outer) = (Vector3::new(0.14, 0.3, 0.2), Vector3::new(0.13, 0.7, 0.22));
    let steer = FixedLength::new(seat(steer_inner), on_body(steer_outer), (steer_outer - steer_inner).norm());
    let slider = Slider { point: seat(ring), line: on_body(foot), along };
    let constraints = vec![
        lower(0.15),
        lower(-0.15),
        ("steering rod", Constraint::FixedLength(steer)),
        ("strut", Constraint::Slider(slider)),
    ];
    let driver = Height { point: on_body(tip), design: tip.z };
    let strut = Mechanism::<f64, 1, 6>::new(
        [Pose::design(tip)],
        constraints,
        vec![driver],
        SteeringPath::Slide { axis: Vector3::y() },
    )
    .unwrap();
    for travel in [-0.08, -0.03, 0.04, 0.09] {
        let pose = go(&strut, travel).closed.bodies[0];
        let foot_now = pose.point(&(foot - tip));
        let direction = pose.direction(&along);
        let off = (ring - foot_now).cross(&direction).norm();
        assert!(off < 1e-12, "the ring is {off:e} off the bar");
        let inner = Vector3::new(0.0, 0.35, 0.17);
        let radius = (foot - inner).norm();
        assert!(((foot_now - inner).norm() - radius).abs() < 1e-12 && foot_now.x.abs() < 1e-12);
        assert!((pose.origin.z - tip.z - travel).abs() < 1e-14);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The twist is the derivative of the pose, and a trace there and back ends where it began.
    #[test]
    fn twists_are_derivatives(axis in direction(), travel in -0.02..0.02) {
        let (pivot, centre) = (Vector3::new(0.4, 0.3, 0.35), Vector3::new(0.0, 0.7, 0.30));
        // An axis near to square to the climb is a dead point from the start.
        prop_assume!(axis.cross(&(centre - pivot)).z.abs() > 0.15);
        let arm = arm(pivot, axis, centre);
        let start = arm.start().unwrap();
        let Ok(here) = arm.follow(&start, &Input::new(travel, 0.0)) else { return Ok(()) };
        let step = 1e-6;
        let near = |d: f64| arm.follow(&here, &Input::new(travel + d, 0.0)).unwrap().closed.bodies[0];
        let (ahead, behind) = (near(step), near(-step));
        let twist = here.closed.by_travel(0, 1, 0);
        let v = (ahead.origin - behind.origin) / (2.0 * step);
        prop_assert!((v - twist.v).amax() < 1e-7 * (1.0 + twist.w.norm().powi(3)));
        let spin = (ahead.car_from_body - behind.car_from_body) / (2.0 * step)
            * here.closed.bodies[0].car_from_body.transpose();
        let w = Vector3::new(spin.m32, spin.m13, spin.m21);
        prop_assert!((w - twist.w).amax() < 1e-7 * (1.0 + twist.w.norm().powi(3)));
        let back = arm.follow(&here, &Input::new(0.0, 0.0)).unwrap();
        prop_assert!((back.closed.bodies[0].origin - centre).amax() < 1e-12);
    }
}

/// The same height can be had with the arm past upright. A pose there is no next pose of this one,
/// however well it closes and however near it is asked for.
#[test]
fn a_pose_of_another_assembly_is_refused() {
    let (pivot, centre) = (Vector3::new(0.4, 0.3, 0.35), Vector3::new(0.0, 0.7, 0.30));
    let arm = arm(pivot, Vector3::y(), centre);
    let start = arm.start().unwrap();
    let lean = (centre.z - pivot.z).atan2(pivot.x - centre.x);
    let over = nalgebra::Rotation3::from_axis_angle(&Vector3::y_axis(), std::f64::consts::PI - 2.0 * lean);
    let pose = Pose { origin: pivot + over * (centre - pivot), car_from_body: *over.matrix() };
    let past = arm.close(&[pose], &start.input).unwrap();
    assert!((past.bodies[0].origin.x - (2.0 * pivot.x - centre.x)).abs() < 1e-12);
    assert!((past.bodies[0].origin.z - centre.z).abs() < 1e-15);
    assert_eq!(past.factors.sign(), -start.closed.factors.sign());
    let mut strayed = start;
    strayed.closed.bodies = past.bodies;
    assert!(arm.follow(&start, &start.input).is_ok());
    assert!(arm.follow(&strayed, &strayed.input).is_err());
}
