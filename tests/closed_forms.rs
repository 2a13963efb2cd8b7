//! Readings against plane trigonometry. Steered axles have wheels without camber that turn about
//! vertical lines, their spin axes passing through those lines.

use nalgebra::Vector3;
use wheelpath_geometry::{
    AxleSolver, CarSolver, CornerMotion, End, OnGround, Side, SolvedAxle, SteerInput, Steering, reading,
    wheel_values,
};
use wheelpath_tests::planar::{FrontView, Steered, car, rack};
use wheelpath_tests::{assert_near, demo};

const BASE: f64 = 2.6;
const APART: f64 = 1.3;
/// From steering axis to wheel centre, along the spin axis.
const OFFSET: f64 = 0.08;

fn axle(steered: Steered) -> AxleSolver {
    AxleSolver::new(&car(steered.corner(), rack(), BASE), End::Front).unwrap()
}

/// A left turn and a right turn, inner and outer angle as the wheels have them.
fn turns() -> Vec<(SolvedAxle, f64, f64)> {
    let axle = axle(Steered::about_vertical(0.5 * APART, 0.13));
    let turn = |rack: f64| {
        let solved = axle.solve([0.0; 2], rack).unwrap();
        let steer = |side| solved.wheel_values(side).get(reading("steer_angle").unwrap()).unwrap();
        let (left, right) = (steer(Side::Left), steer(Side::Right));
        if rack > 0.0 { (solved, left, right) } else { (solved, -right, -left) }
    };
    [0.06, 0.03, -0.02, -0.06].map(turn).to_vec()
}

fn of(solved: &SolvedAxle, key: &str) -> f64 {
    solved.axle_values().get(reading(key).unwrap()).unwrap()
}

fn cot(angle: f64) -> f64 {
    1.0 / angle.tan()
}

/// Zero of a falling function between two angles.
fn bisect(mut low: f64, mut high: f64, function: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if function(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[test]
fn ackermann_in_its_forms() {
    let ratio = APART / BASE;
    for (solved, inner, outer) in turns() {
        assert!(inner > 0.1 && outer > 0.1);
        let spread = inner - outer;
        let ideal_outer = bisect(1e-3, 1.5, |o| cot(o) - cot(inner) - ratio);
        let ideal_inner = bisect(1e-3, 1.5, |i| cot(i) - (cot(outer) - ratio));
        let mean = 0.5 * (inner + outer);
        // The pair with this mean: wider apart, the difference of the cotangents grows.
        let half = bisect(0.0, mean - 1e-3, |e| ratio - (cot(mean - e) - cot(mean + e)));
        for (key, expected) in [
            ("inner_steer", inner),
            ("outer_steer", outer),
            ("outer_ideal", ideal_outer),
            ("ackermann_error", outer - ideal_outer),
            ("ackermann_inner", spread / (inner - ideal_outer)),
            ("ackermann_outer", spread / (ideal_inner - outer)),
            ("ackermann_mean", spread / (2.0 * half)),
            // The axes cross at x behind the axle where the cotangents differ by w / x.
            ("ackermann_crossing", (cot(outer) - cot(inner)) / ratio),
        ] {
            assert_near!(of(&solved, key), expected, 1e-11, "{key} at {inner}");
        }
        let contacts = (APART + 2.0 * OFFSET) / BASE;
        let by_contact = bisect(1e-3, 1.5, |o| cot(o) - cot(inner) - contacts);
        assert_near!(of(&solved, "outer_ideal_contact"), by_contact, 1e-11);
        assert_near!(of(&solved, "ackermann_contact"), spread / (inner - by_contact), 1e-11);
    }
}

/// Steering arms whose lines meet on the rear axle: 100 %. Meeting half-way: 200 %. Arms that point
/// ahead and outboard, so that the lines meet behind all the same, count alike; straight ones: 0 %.
#[test]
fn arm_lines_at_design() {
    let half = 0.5 * APART;
    for (behind, length) in [(BASE, 0.05), (BASE, -0.05), (0.5 * BASE, 0.06), (3.0 * BASE, -0.04)] {
        let mut steered = Steered::about_vertical(half, 0.0);
        steered.tie_rod_outer.x = -behind * length;
        steered.tie_rod_outer.y = half - half * length;
        let percent = of(&axle(steered).start(), "ackermann_arm_line");
        assert_near!(percent, BASE / behind, 1e-12);
    }
    let straight = axle(Steered::about_vertical(half, 0.13)).start();
    assert_near!(of(&straight, "ackermann_arm_line"), 0.0, 1e-12);
}

#[test]
fn the_slow_turn() {
    for (solved, inner, outer) in turns() {
        let left = of(&solved, "mean_steer") > 0.0;
        // Each wheel's axis goes through its steering axis and meets the rear axle's line L cot(steer)
        // to the side of it: one over that place is the curvature the wheel asks for.
        let [near, far] = [BASE * cot(inner) + 0.5 * APART, BASE * cot(outer) - 0.5 * APART];
        let radius = 2.0 / (1.0 / near + 1.0 / far);
        assert_near!(of(&solved, "turn_radius"), radius, 1e-10);
        assert_near!(of(&solved, "turn_centre_y"), if left { radius } else { -radius }, 1e-10);
        // About its own axis' crossing the outer contact runs on L / sin(outer) + offset.
        let own = 2.0 * (BASE / outer.sin() + OFFSET);
        assert_near!(of(&solved, "turning_circle_outer_axis"), own, 1e-10);
        let from = |offset: f64| {
            let (forward, out) = (BASE + offset * outer.sin(), radius + 0.5 * APART + offset * outer.cos());
            2.0 * forward.hypot(out)
        };
        assert_near!(of(&solved, "turning_circle"), from(OFFSET), 1e-10);
        // Tyres are 0.2 m wide.
        assert_near!(of(&solved, "turning_circle_tyre_edge"), from(OFFSET + 0.1), 1e-10);
    }
}

/// Straight ahead the percentages are 0/0: none, never noise; angles and errors stay.
#[test]
fn straight_ahead_there_is_no_percentage() {
    let axle = axle(Steered::about_vertical(0.5 * APART, 0.13));
    for rack in [0.0, 1e-9, -1e-4] {
        let values = axle.solve([0.0; 2], rack).unwrap().axle_values();
        let get = |key: &str| values.get(reading(key).unwrap());
        for key in ["_inner", "_contact", "_outer", "_mean", "_crossing"] {
            assert_eq!(get(&format!("ackermann{key}")), None, "{key} at {rack}");
        }
        assert!(get("ackermann_error").unwrap().abs() < 1e-6);
        assert_eq!(get("turn_radius"), None);
    }
}

/// Where the ideal difference between the wheels is less than 0.05° they differ by their toe, and a person is told no
/// percentage of it: 2° of inner angle is near there, 6° is not. The ideal by trigonometry.
#[test]
fn a_percentage_of_hardly_any_difference_is_not_told() {
    let axle = axle(Steered::about_vertical(0.5 * APART, 0.13));
    let (mut with, mut without) = (0, 0);
    for step in 1..=60 {
        let values = axle.solve([0.0; 2], 0.0005 * f64::from(step)).unwrap().axle_values();
        let get = |key: &str| values.get(reading(key).unwrap());
        let inner = get("inner_steer").unwrap();
        let difference = inner - (1.0 / (1.0 / inner.tan() + APART / BASE)).atan();
        let told = |key: &str| values.told(reading(key).unwrap()).ok();
        let percent = get("ackermann_inner").filter(|_| difference.to_degrees() >= 0.05);
        assert_eq!(told("ackermann_inner"), percent, "{:.3}°", inner.to_degrees());
        with += usize::from(percent.is_some());
        without += usize::from(percent.is_none() && get("ackermann_inner").is_some());
        assert_eq!(told("ackermann_error"), get("ackermann_error"));
        assert_eq!(told("ackermann_arm_line"), get("ackermann_arm_line"));
    }
    assert!(with > 5 && without > 5, "{with} and {without}");
}

/// The bar twists by the difference of its arms' angles.
#[test]
fn bar_twist_in_roll() {
    let car = wheelpath_tests::demo::alder();
    let axle = AxleSolver::new(&car, End::Rear).unwrap();
    let solved = axle.solve([0.02, -0.02], 0.0).unwrap();
    let arm = |side| solved.wheel_values(side).get(reading("bar_arm_angle").unwrap()).unwrap();
    let twist = of(&solved, "anti_roll_bar_twist");
    assert_near!(twist, arm(Side::Left) - arm(Side::Right), 1e-15);
    assert!(twist > 0.1, "the left wheel in bump turns its arm further: {twist}");
    let heave = axle.solve([0.02, 0.02], 0.0).unwrap();
    assert_near!(of(&heave, "anti_roll_bar_twist"), 0.0, 1e-12);
}

/// Parallel wishbones of one length: the upright does not turn, its instant centre is at infinity, and
/// the roll centre is where lines along the arms through the contacts meet.
#[test]
fn parallel_wishbones() {
    for slope in [-0.1, 0.0, 0.05] {
        let arm = |y: f64, z: f64| [[y, z], [y + 0.3, z + 0.3 * slope]];
        let linkage = FrontView {
            lower: arm(0.37, 0.17),
            upper: arm(0.33, 0.40),
            wheel_centre: [0.72, 0.3],
            tyre_radius: 0.3,
        };
        let axle = AxleSolver::new(&car(linkage.corner(), Steering::Fixed, BASE), End::Front).unwrap();
        let start = axle.start();
        let wheel = |key: &str| start.wheel_values(Side::Left).get(reading(key).unwrap());
        assert_near!(wheel("front_view_swing_arm_inverse").unwrap(), 0.0, 1e-12);
        for key in ["front_view_instant_centre_y", "front_view_instant_centre_z", "screw_pitch"] {
            assert_eq!(wheel(key), None, "{key}");
        }
        // The arm rises outboard by `slope`, so its line comes down to the middle.
        assert_near!(of(&start, "roll_centre_height"), -0.72 * slope, 1e-12);
        assert_near!(of(&start, "roll_centre_mean_height"), -0.72 * slope, 1e-12);
        let lateral = start.axle_values().get(reading("roll_centre_lateral").unwrap());
        if slope == 0.0 {
            assert_eq!(lateral, None, "both lines lie in the ground");
        } else {
            assert_near!(lateral.unwrap(), 0.0, 1e-12);
        }
    }
}

/// A strut in front view, points (y, z): hinge and ball joint of the lower arm, lower point of the strut, top mount,
/// wheel centre.
const STRUT: [[f64; 2]; 5] = [[0.34, 0.21], [0.69, 0.19], [0.65, 0.34], [0.59, 0.84], [0.75, 0.31]];

fn strut() -> wheelpath_geometry::Car {
    use wheelpath_geometry::{Corner, Hardpoint as P, LinkageKind};
    let [hinge, ball, bottom, top, centre] = STRUT;
    let at = |x: f64, [y, z]: [f64; 2]| nalgebra::Vector3::new(x, y, z);
    let wheel = wheelpath_tests::planar::wheel(at(0.0, centre), nalgebra::Vector3::y(), 0.31);
    let points = [
        (P::LowerWishboneFront, at(0.15, hinge)),
        (P::LowerWishboneRear, at(-0.15, hinge)),
        (P::LowerBallJoint, at(0.0, ball)),
        (P::StrutBottom, at(0.0, bottom)),
        (P::StrutTop, at(0.0, top)),
        // The tie rod is the arm again, further forward: the wheel stays in its plane.
        (P::TieRodInner, at(0.2, hinge)),
        (P::TieRodOuter, at(0.2, ball)),
    ];
    car(Corner::new(LinkageKind::Strut, wheel, points.into_iter().collect()), rack(), BASE)
}

/// Camber of that strut with its top mount further out by `out`, by plane geometry alone: the upright, a rigid piece
/// of the plane, has its ball joint on the arm's circle, its wheel centre at the old height, and its strut's line
/// through the mount.
fn camber_by_plane_geometry(out: f64) -> f64 {
    let [hinge, ball, bottom, top, centre] = STRUT;
    let minus = |a: [f64; 2], b: [f64; 2]| [a[0] - b[0], a[1] - b[1]];
    let arm = minus(ball, hinge)[0].hypot(minus(ball, hinge)[1]);
    let lack = |tilt: f64| {
        let (s, c) = tilt.sin_cos();
        let turned = |v: [f64; 2]| [c * v[0] - s * v[1], s * v[0] + c * v[1]];
        let ball_z = centre[1] - turned(minus(centre, ball))[1];
        let ball_y = hinge[0] + (arm * arm - (ball_z - hinge[1]).powi(2)).sqrt();
        let [y, z] = turned(minus(bottom, ball));
        let along = turned(minus(top, bottom));
        let to_mount = minus([top[0] + out, top[1]], [ball_y + y, ball_z + z]);
        along[0] * to_mount[1] - along[1] * to_mount[0]
    };
    // A positive tilt lays the top inboard: negative camber.
    let falling = if lack(-0.1) > 0.0 { 1.0 } else { -1.0 };
    -bisect(-0.1, 0.1, |tilt| falling * lack(tilt))
}

/// A top mount that is moved across the car tilts the strut, and the wheel with it: a camber plate. Links made anew
/// leave the wheel as it was.
#[test]
fn a_top_mount_moved_with_the_links_kept_tilts_the_wheel() {
    use wheelpath_geometry::{Assembly, Axis, ChangedOn, Hardpoint, Links, ScalarParameter};
    let plain = strut();
    let camber = |car: &wheelpath_geometry::Car| {
        let solved = AxleSolver::new(car, End::Front).unwrap().start();
        solved.wheel_values(Side::Left).get(reading("camber_to_body").unwrap()).unwrap()
    };
    let assembly = Assembly::corner(End::Front, Side::Left);
    let moved = |out: f64, links: Links| {
        let mut car = plain.clone();
        let top = assembly.point(&car, Hardpoint::StrutTop).unwrap() + nalgebra::Vector3::new(0.0, out, 0.0);
        assert!(assembly.move_point(&mut car, Hardpoint::StrutTop, top, links));
        car
    };
    for out in [-0.012, -0.001, 0.001, 0.004, 0.015] {
        assert_near!(camber(&moved(out, Links::Kept)), camber_by_plane_geometry(out), 1e-12, "{out}");
        assert_near!(camber(&moved(out, Links::Remade)), 0.0, 1e-12, "{out}");
    }
    let axle = AxleSolver::new(&plain, End::Front).unwrap();
    let slope = |links| {
        let by = ScalarParameter::point(Hardpoint::StrutTop, Axis::Y);
        let slopes = axle.sensitivity(&axle.start(), by, ChangedOn::One(Side::Left), links).unwrap();
        slopes.wheels[0].get(reading("camber_to_body").unwrap()).unwrap()
    };
    let by_plane = (camber_by_plane_geometry(1e-5) - camber_by_plane_geometry(-1e-5)) / 2e-5;
    assert_near!(slope(Links::Kept), by_plane, 1e-6);
    assert_near!(slope(Links::Remade), 0.0, 1e-12);
    // A plate that goes out by a millimetre brings about a twelfth of a degree.
    let per_mm = slope(Links::Kept).to_degrees() * 1e-3;
    assert!((0.05..0.15).contains(&per_mm.abs()), "{per_mm}");
}

/// A trailing arm whose hinge is in line with its wheel's spin axis carries that line along: a bracket that is moved
/// up at one end tilts the wheel by the hinge's own angle.
#[test]
fn a_trailing_arm_goes_with_its_hinge() {
    use wheelpath_geometry::{Assembly, Corner, Hardpoint, LinkageKind, Links, Steering};
    let at = nalgebra::Vector3::new;
    let wheel = wheelpath_tests::planar::wheel(at(-0.4, 0.7, 0.3), nalgebra::Vector3::y(), 0.3);
    let points = [
        (Hardpoint::ArmPivotInboard, at(0.0, 0.35, 0.33)),
        (Hardpoint::ArmPivotOutboard, at(0.0, 0.60, 0.33)),
    ];
    let corner = Corner::new(LinkageKind::TrailingArm, wheel, points.into_iter().collect());
    let plain = car(corner, Steering::Fixed, BASE);
    let assembly = Assembly::corner(End::Rear, Side::Left);
    for (hardpoint, sign) in [(Hardpoint::ArmPivotOutboard, 1.0), (Hardpoint::ArmPivotInboard, -1.0)] {
        for up in [-0.006, 0.001, 0.01] {
            let mut moved = plain.clone();
            let to = assembly.point(&moved, hardpoint).unwrap() + at(0.0, 0.0, up);
            assert!(assembly.move_point(&mut moved, hardpoint, to, Links::Kept));
            let solved = AxleSolver::new(&moved, End::Rear).unwrap().start();
            let camber = solved.wheel_values(Side::Left).get(reading("camber_to_body").unwrap()).unwrap();
            assert_near!(camber, -(sign * up / 0.25_f64).atan(), 1e-12, "{hardpoint} {up}");
        }
    }
}

/// What changes counts from the reference pose: there it is nothing, on every car, unlike sides too. Away from it
/// the change is the difference of the readings themselves.
#[test]
fn changes_are_nothing_in_the_reference_pose() {
    for name in demo::CARS {
        let solver = CarSolver::new(&demo::car_of(name)).unwrap();
        for end in End::BOTH {
            let axle = solver.axle(end);
            let start = axle.start();
            let moved = axle.solve([0.012, -0.007], 0.0).unwrap();
            for side in Side::BOTH {
                let of =
                    |at: &SolvedAxle, key: &str| at.wheel_values(side).get(reading(key).unwrap()).unwrap();
                for key in ["half_track_change", "recession"] {
                    assert_near!(of(&start, key), 0.0, 1e-15, "{name} {end} {side} {key}");
                }
                let change = of(&moved, "half_track") - of(&start, "half_track");
                assert_near!(of(&moved, "half_track_change"), change, 1e-14, "{name} {end} {side}");
            }
        }
    }
}

/// A steering axis that leans so far that it is within 5° of horizontal has no point on the ground or at wheel
/// height worth a number; a little steeper, the numbers are those of the line.
#[test]
fn a_flat_steering_axis_has_no_ground_point() {
    let start = axle(Steered::about_vertical(0.65, 0.13)).start();
    let leaning = |degrees: f64| -> CornerMotion<f64> {
        let mut motion = start.motion.left;
        let (s, c) = degrees.to_radians().sin_cos();
        let along = Vector3::new(-c, 0.0, s);
        let mut axis = motion.steering_axis.unwrap();
        axis.along = along * 0.2;
        motion.steering_axis = Some(axis);
        let mut twist = motion.by_steer.unwrap();
        twist.w = along * 2.0;
        twist.v = Vector3::zeros();
        motion.by_steer = Some(twist);
        motion
    };
    let keys = [
        "scrub_radius",
        "trail",
        "wheel_centre_offset_lateral",
        "wheel_centre_offset_longitudinal",
        "virtual_scrub_radius",
        "virtual_trail",
    ];
    for degrees in [0.0, 1e-14, -1e-14, 3.0, -4.99, 4.99, 5.01, 30.0] {
        let motion = leaning(degrees);
        let wheel = OnGround::of(&motion, Vector3::z());
        let values = wheel_values(&motion, &wheel);
        let get = |key: &str| values.get(reading(key).unwrap());
        for key in keys {
            assert_eq!(get(key).is_some(), degrees.abs() > 5.0, "{key} at {degrees}°: {:?}", get(key));
        }
        // Its direction has a meaning all the same.
        assert!(get("caster").is_some() && get("virtual_caster").is_some());
        if degrees == 30.0 {
            let point = motion.steering_axis.unwrap().point;
            let ahead = point.x + point.z / degrees.to_radians().tan() - wheel.contact.x;
            assert_near!(get("trail").unwrap(), ahead, 1e-12);
        }
    }
}

/// Anti-dive, anti-lift and anti-squat come of the slopes that are shown beside them, by the formulas that the
/// catalogue states, on every car and in roll too.
#[test]
fn what_is_shown_gives_the_anti_features() {
    let mut compared = 0;
    for name in demo::CARS {
        let car = demo::car_of(name);
        let solver = CarSolver::new(&car).unwrap();
        let (Some(height), Some(front)) = (car.centre_of_gravity_height, car.brake_share_front) else {
            continue;
        };
        for (end, key, share) in [(End::Front, "anti_dive", front), (End::Rear, "anti_lift", front - 1.0)] {
            for travel in [[0.0; 2], [0.02, 0.02], [0.015, -0.015]] {
                let solved = solver.axle(end).solve(travel, 0.0).unwrap();
                let slope = |key: &str| {
                    let of = |side| solved.wheel_values(side).get(reading(key).unwrap()).unwrap();
                    0.5 * (of(Side::Left) + of(Side::Right))
                };
                let outboard = car.axle(end).brakes == wheelpath_geometry::TorqueReaction::Upright;
                // Minus the wheelbase gain is the slope on level ground only.
                if !outboard && travel[0] != travel[1] {
                    continue;
                }
                let slope = if outboard { slope("contact_slope_side") } else { -slope("recession_gain") };
                assert_near!(
                    of(&solved, key),
                    slope * share * car.wheelbase / height,
                    1e-12,
                    "{name} {end} {travel:?}"
                );
                compared += 1;
            }
        }
    }
    assert!(compared >= 12, "{compared}");
}

/// A rack's gain is per its travel, a steering box's per turn of its pitman arm: each axle has one of them, and it
/// is the slope of the steer angle.
#[test]
fn steer_gain_in_its_own_unit() {
    let mut seen = [0, 0];
    for name in demo::CARS {
        let car = demo::car_of(name);
        if !car.front.steering.steers() {
            continue;
        }
        let axle = AxleSolver::new(&car, End::Front).unwrap();
        let h = 1e-5;
        let [up, down] = [h, -h].map(|steer| axle.solve([0.0; 2], steer).unwrap());
        for side in Side::BOTH {
            let of = |at: &SolvedAxle, key: &str| at.wheel_values(side).get(reading(key).unwrap());
            let slope = (of(&up, "steer_angle").unwrap() - of(&down, "steer_angle").unwrap()) / (2.0 * h);
            let start = axle.start();
            let is_box = car.front.steering.input() == SteerInput::PitmanAngle;
            let keys = ["steer_gain", "steer_gain_pitman"];
            let [own, other] = if is_box { [keys[1], keys[0]] } else { keys };
            assert_near!(of(&start, own).unwrap(), slope, 1e-6 * slope.abs(), "{name} {side}");
            assert_eq!(of(&start, other), None, "{name} {side}");
            seen[usize::from(is_box)] += 1;
        }
    }
    assert!(seen[0] >= 4 && seen[1] >= 4, "{seen:?}");
    let pitman = reading("steer_gain_pitman").unwrap();
    assert_eq!(pitman.unit.symbol(wheelpath_geometry::LengthUnit::Inch), "°/°");
    assert_eq!(pitman.unit.key_suffix(wheelpath_geometry::LengthUnit::Inch), "_deg_per_deg");
}
