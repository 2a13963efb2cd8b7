//! Every number of the calibration cars that this linkage has. The cars were solved by rod-length
//! Newton in 40-digit arithmetic, cross-checked with MuJoCo, independently of this project.

use nalgebra::Vector3;
use serde_json::Value;
use std::path::Path;
use wheelpath_geometry::{
    AxleSolver, Car, CornerMotion, End, Ground, Hardpoint, LinkageKind, OnGround, Severity, Side, SolvedAxle,
    SolvedCorner, StopKind, Subject, check, mechanism::Twist, reading, wheel_values,
};
use wheelpath_tests::assert_near;
use wheelpath_tests::reference_car::{car, side, vector};

const POSITION: f64 = 1e-11;
const ANGLE: f64 = 1e-9;
const GRADIENT: f64 = 1e-8;
const INVERSE: f64 = 1e-9;

fn file(name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("calibration").join(name);
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn front(car: &Car) -> AxleSolver {
    AxleSolver::new(car, End::Front).unwrap()
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(|x| x.as_f64().unwrap_or(f64::NAN)).collect()
}

/// One corner at one pose against every metric of the file.
fn compare(metrics: &Value, i: usize, j: usize, motion: &CornerMotion<f64>) -> usize {
    let wheel = OnGround::of(motion, Ground::level().normal);
    let values = wheel_values(motion, &wheel);
    let mut compared = 0;
    let mut scalar = |metric: &str, ours: f64, tolerance: f64| {
        let Some(theirs) = metrics[metric][i][j].as_f64() else { return };
        assert_near!(ours, theirs, tolerance * theirs.abs().max(1.0), "{metric} {i} {j} {}", motion.side);
        compared += 1;
    };
    let maybe = |key: &str| values.get(reading(key).unwrap());
    // What the file has, the catalogue has too.
    let get = |key: &str| maybe(key).unwrap_or(f64::NAN);
    // The file turns right-handed about +Y, we in the sense of bump at design.
    let bar_sense = metrics["arb_ratio"][i][j].as_f64().unwrap_or(1.0).signum();
    for (metric, key, factor, tolerance) in [
        ("camber", "camber_to_road", 1.0, ANGLE),
        ("camber", "camber_to_body", 1.0, ANGLE),
        ("inclination", "inclination_angle", 1.0, ANGLE),
        ("steer", "steer_angle", 1.0, ANGLE),
        ("toe", "toe", 1.0, ANGLE),
        ("camber_gain", "camber_gain", 1.0, GRADIENT),
        ("bump_toe", "bump_steer", 1.0, GRADIENT),
        ("caster_gain", "caster_gain", 1.0, GRADIENT),
        ("kpi_gain", "steering_axis_inclination_gain", 1.0, GRADIENT),
        ("steer_gain", "steer_gain", 1.0, GRADIENT),
        ("arb_ratio", "bar_arm_rate", bar_sense, GRADIENT),
        ("caster", "caster", 1.0, ANGLE),
        ("kpi", "steering_axis_inclination", 1.0, ANGLE),
        ("arb_angle", "bar_arm_angle", bar_sense, ANGLE),
    ] {
        // An unsteered wheel has no steer gain in the catalogue; its toe link's is compared below.
        if metric == "steer_gain" && !motion.steered {
            continue;
        }
        scalar(metric, get(key).to_degrees() * factor, tolerance);
    }
    for (metric, key, tolerance) in [
        ("half_track", "half_track", POSITION),
        ("half_track_change", "half_track_change", POSITION),
        ("half_track_grad", "half_track_gain", GRADIENT),
        ("recession", "recession", POSITION),
        ("recession_grad", "recession_gain", GRADIENT),
        ("dxdz_cp", "contact_slope_side", GRADIENT),
        ("scrub_radius", "scrub_radius", POSITION),
        ("mech_trail", "trail", POSITION),
        ("kingpin_offset_wc", "wheel_centre_offset_lateral", POSITION),
        ("castor_offset_wc", "wheel_centre_offset_longitudinal", POSITION),
        ("damper_length", "damper_length", POSITION),
        ("motion_ratio", "motion_ratio", GRADIENT),
        ("fvsa_inv", "front_view_swing_arm_inverse", INVERSE),
        ("svsa_inv", "side_view_swing_arm_inverse", INVERSE),
        ("screw_pitch", "screw_pitch", 1e-9),
    ] {
        scalar(metric, get(key), tolerance);
    }
    let screw = |kind: &str| Vector3::from(["x", "y", "z"].map(|axis| get(&format!("screw_{kind}_{axis}"))));
    let (point, direction) = (screw("point"), screw("direction"));
    let front = [get("front_view_instant_centre_y"), get("front_view_instant_centre_z")];
    let lateral = [get("side_view_instant_centre_x"), get("side_view_instant_centre_z")];
    let mut list = |metric: &str, ours: &[f64], tolerance: f64| {
        let Some(theirs) = metrics.get(metric).map(|all| numbers(&all[i][j])) else { return };
        assert_eq!(ours.len(), theirs.len());
        for (a, b) in ours.iter().zip(&theirs) {
            assert_near!(*a, *b, tolerance * b.abs().max(1.0), "{metric} {i} {j} {}", motion.side);
        }
        compared += ours.len();
    };
    list("wc", motion.wheel_centre.as_slice(), POSITION);
    list("cp", wheel.contact.as_slice(), POSITION);
    list("spin_axis", motion.spin_axis.as_slice(), POSITION);
    list("v_cp", wheel.contact_velocity(motion).as_slice(), GRADIENT);
    // The file leaves the direction's sign open; ours is that of w.
    let theirs = vector(&metrics["screw_dir"][i][j]);
    list("screw_dir", (direction * direction.dot(&theirs).signum()).as_slice(), 1e-10);
    list("screw_point", point.as_slice(), 1e-9);
    // Far instant centres are compared by their reciprocals.
    for (metric, ours) in [("fvic", &front), ("svic", &lateral)] {
        if ours.iter().all(|x| x.abs() < 1e3) {
            list(metric, ours, 1e-8);
        }
    }
    match motion.steering_axis {
        None => {
            assert!(maybe("caster").is_none() && maybe("trail").is_none() && maybe("caster_gain").is_none());
            assert!(metrics["caster"].is_null() || metrics["caster"][i][j].is_null());
        }
        Some(axis) => {
            let foot = wheel.meets_ground(&axis.point, &axis.along);
            list("axis_point", axis.point.as_slice(), 1e-10);
            list("axis_dir", axis.direction().as_slice(), 1e-10);
            list("axis_ground", foot.as_slice(), 1e-10);
        }
    }
    if let Some(twist) = motion.by_steer {
        compared += compare_virtual_axis(metrics, i, j, motion, &twist);
    }
    compared
}

/// The axis the upright turns about as its tie rod's inner end moves, against the file's own axis, contact
/// and steer angle.
fn compare_virtual_axis(
    metrics: &Value,
    i: usize,
    j: usize,
    motion: &CornerMotion<f64>,
    twist: &Twist<f64>,
) -> usize {
    let stored = |metric: &str| &metrics[metric][i][j];
    let values = wheel_values(motion, &OnGround::of(motion, Ground::level().normal));
    let get = |key: &str| values.get(reading(key).unwrap()).unwrap();
    let virtual_direction = twist.w.normalize() * twist.w.z.signum();
    let virtual_point = motion.wheel_centre + twist.w.cross(&twist.v) / twist.w.norm_squared();
    let (axis, on_axis) = (vector(stored("vsa_dir")), vector(stored("vsa_point")));
    assert!((virtual_direction - axis).amax() < 1e-10 && (virtual_point - on_axis).amax() < 1e-10);
    let contact = vector(stored("cp"));
    let foot = on_axis + axis * ((contact.z - on_axis.z) / axis.z) - contact;
    let (sin, cos) = stored("steer").as_f64().unwrap_or(f64::NAN).to_radians().sin_cos();
    let outboard = motion.side.sign();
    for (key, theirs) in [
        ("virtual_caster", (-axis.x).atan2(axis.z)),
        ("virtual_steering_axis_inclination", (-outboard * axis.y).atan2(axis.z)),
        ("virtual_trail", foot.x * cos + foot.y * sin),
        ("virtual_scrub_radius", outboard * (foot.x * sin - foot.y * cos)),
    ] {
        assert_near!(get(key), theirs, 1e-10, "{key} {i} {j} {}", motion.side);
    }
    // Rate of steer about Z with the wheel centre's height held.
    let t = motion.spin_axis_left().cross(&Vector3::z());
    let rate = twist.w.cross(&motion.spin_axis_left()).cross(&Vector3::z());
    let gain = (t.x * rate.y - t.y * rate.x) / t.norm_squared();
    let theirs = stored("steer_gain").as_f64().unwrap();
    assert_near!(gain.to_degrees(), theirs, GRADIENT * theirs.abs().max(1.0), "steer gain {i} {j}");
    11
}

fn points(
    expected: &Value,
    i: usize,
    j: usize,
    solved: &[(Hardpoint, Vector3<f64>)],
    steered: bool,
) -> usize {
    let at = |hardpoint| solved.iter().find(|(p, _)| *p == hardpoint).map(|(_, at)| *at);
    let [inner, outer] = if steered {
        [Hardpoint::TieRodInner, Hardpoint::TieRodOuter]
    } else {
        [Hardpoint::ToeLinkInner, Hardpoint::ToeLinkOuter]
    };
    let mut compared = 0;
    for (name, hardpoint) in [
        ("upper_outer", Hardpoint::UpperBallJoint),
        ("lower_outer", Hardpoint::LowerBallJoint),
        ("tie_rod_outer", outer),
        ("tie_rod_inner", inner),
        ("strut_bottom", Hardpoint::StrutBottom),
        ("upper_front_outer", Hardpoint::UpperFrontLinkOuter),
        ("upper_rear_outer", Hardpoint::UpperRearLinkOuter),
        ("lower_front_outer", Hardpoint::LowerFrontLinkOuter),
        ("lower_rear_outer", Hardpoint::LowerRearLinkOuter),
        ("damper_moving_end", Hardpoint::DamperRocker),
        ("arb_outer", Hardpoint::DropLinkOuter),
        ("arb_arm_end", Hardpoint::DropLinkBar),
    ] {
        let theirs = &expected[name];
        if theirs.is_null() {
            continue;
        }
        // The strut's moving end is its lower point.
        let ours = at(hardpoint).or_else(|| at(Hardpoint::StrutBottom)).unwrap();
        let error = (ours - vector(&theirs[i][j])).norm();
        assert!(error < POSITION, "{name} at {i} {j}: off by {error:e} m");
        compared += 1;
    }
    compared
}

/// Every stored pose of both corners of a file; how many numbers and points were compared.
fn corners_of(name: &str, numbers_a_pose: usize, points_a_pose: usize) {
    let file = file(name);
    let axle = front(&car(&file));
    let (mut compared, mut placed, mut poses) = (0, 0, 0);
    for name in ["left", "right"] {
        let corner = axle.corner(side(name)).unwrap();
        let grid = &file["expected"]["corner_grid"][name];
        for (i, rack) in numbers(&grid["steer_input"]).into_iter().enumerate() {
            for (j, travel) in numbers(&grid["travel"]).into_iter().enumerate() {
                assert_eq!(grid["status"][i][j], "ok");
                let solved: SolvedCorner = corner.solve(travel, rack).unwrap();
                assert!(solved.residual() < 1e-12);
                let metrics = &grid["metrics"];
                compared += compare(metrics, i, j, &solved.motion);
                placed += points(&metrics["points"], i, j, &corner.points(&solved), corner.steered());
                let rotation = &metrics["upright_rotation"][i][j];
                for row in 0..3 {
                    let ours = solved.upright().car_from_body.row(row).transpose();
                    assert!((ours - vector(&rotation[row])).amax() < POSITION);
                }
                poses += 1;
            }
        }
    }
    assert!(compared >= poses * numbers_a_pose, "only {compared} numbers in {poses} poses");
    assert!(placed >= poses * points_a_pose, "only {placed} points in {poses} poses");
}

#[test]
fn every_metric_of_a_double_wishbone() {
    corners_of("dw01_front_rack_behind.json", 60, 6);
}

#[test]
fn every_metric_of_a_strut() {
    corners_of("st10_front_rack_behind.json", 60, 6);
}

#[test]
fn every_metric_of_five_links() {
    corners_of("fl14_rear.json", 60, 8);
}

#[test]
fn every_metric_of_a_semi_trailing_arm() {
    corners_of("sa17_rear_15deg.json", 35, 1);
}

#[test]
fn roll_centre_and_ground_of_an_axle() {
    for name in [
        "dw01_front_rack_behind.json",
        "st10_front_rack_behind.json",
        "fl14_rear.json",
        "sa17_rear_15deg.json",
    ] {
        roll_centre_of(name);
    }
}

fn roll_centre_of(name: &str) {
    let file = file(name);
    let axle = front(&car(&file));
    for motion in ["symmetric", "roll", "mixed"] {
        let expected = &file["expected"]["axle"][motion];
        let left = numbers(&expected["travel_left"]);
        let right = numbers(&expected["travel_right"]);
        let rack = numbers(&expected["steer_input"]);
        for k in 0..left.len() {
            let solved = axle.solve([left[k], right[k]], rack[k]).unwrap();
            let (values, of) = (solved.axle_values(), |key: &str| reading(key).unwrap());
            let wheel = |side| solved.wheel_values(side).get(of("camber_to_road")).unwrap().to_degrees();
            let axle = |key: &str| values.get(of(key)).unwrap_or(f64::NAN);
            let theirs = |key: &str| expected[key][k].as_f64().unwrap();
            assert_near!(axle("ground_angle").to_degrees(), theirs("ground_angle"), ANGLE, "{motion} {k}");
            assert_near!(axle("track"), theirs("track"), POSITION, "{motion} {k}");
            assert_near!(wheel(Side::Left), theirs("camber_ground_left"), ANGLE, "{motion} {k}");
            assert_near!(wheel(Side::Right), theirs("camber_ground_right"), ANGLE, "{motion} {k}");
            assert_near!(axle("roll_centre_mean_height"), theirs("rc_height_mid"), 1e-9, "{motion} {k}");
            // Where the lines are nearly parallel their crossing is far off and ill-conditioned.
            let tolerance = 1e-9 * (1.0 + theirs("rc_lateral").powi(2));
            assert_near!(axle("roll_centre_height"), theirs("rc_height"), tolerance, "{motion} {k}");
            let lateral = theirs("rc_lateral");
            assert_near!(axle("roll_centre_lateral"), lateral, tolerance, "{motion} {k}");
        }
    }
}

#[test]
fn ackermann_and_turning_circle() {
    for name in ["dw01_front_rack_behind.json", "st10_front_rack_behind.json"] {
        ackermann_of(name);
    }
}

fn ackermann_of(name: &str) {
    let file = file(name);
    let axle = front(&car(&file));
    let expected = &file["expected"]["axle"]["steer_sweep"];
    let mut turns = 0;
    for (k, rack) in numbers(&expected["steer_input"]).into_iter().enumerate() {
        let solved = axle.solve([0.0; 2], rack).unwrap();
        let values = solved.axle_values();
        let ours = |key: &str| values.get(reading(key).unwrap());
        let compare = |key: &str, ours: Option<f64>, tolerance: f64| {
            let Some(theirs) = expected[key][k].as_f64() else { return };
            assert_near!(ours.unwrap(), theirs, tolerance * theirs.abs().max(1.0), "{key} at {rack}");
        };
        let deg = |key: &str| ours(key).map(f64::to_degrees);
        compare("inner", deg("inner_steer"), ANGLE);
        compare("outer", deg("outer_steer"), ANGLE);
        compare("outer_ideal_kp", deg("outer_ideal"), ANGLE);
        compare("outer_ideal_track", deg("outer_ideal_contact"), ANGLE);
        compare("ackermann_pct_kp", ours("ackermann_inner").map(|x| 100.0 * x), 1e-8);
        compare("ackermann_pct_track", ours("ackermann_contact").map(|x| 100.0 * x), 1e-8);
        // The file's contacts stand on ground parallel to the body, where ours stand on the axle's common ground.
        let mut level = solved;
        level.motion = level.motion.over(Ground::level());
        let outer = reading("turning_circle_outer_axis").unwrap();
        compare("turn_diameter_outer", level.axle_values().get(outer), 1e-9);
        // The file's other circle is about the mean of both crossings, which is no turn centre; with the
        // circle above it says where each axis crosses, and so how much each wheel asks for.
        let stored = |key: &str| expected[key][k].as_f64();
        if let (Some(outer), Some(mean)) = (stored("turn_diameter_outer"), stored("turn_diameter_mean")) {
            let centre = level.axle_values().get(reading("turn_centre_y").unwrap()).unwrap();
            let wheel = level.motion.wheel(if centre > 0.0 { Side::Right } else { Side::Left });
            let rear = level.motion.rear_line().middle.x;
            let crossing = |diameter: f64| {
                let aside = (0.25 * diameter * diameter - (wheel.contact.x - rear).powi(2)).sqrt();
                wheel.contact.y + centre.signum() * aside
            };
            let (own, middle) = (crossing(outer), crossing(mean));
            let curvature = 0.5 * (1.0 / own + 1.0 / (2.0 * middle - own));
            assert_near!(1.0 / centre, curvature, 1e-8, "turn centre at {rack}");
            turns += 1;
        }
    }
    assert!(turns >= 4, "{turns} turns in {name}");
}

#[test]
fn limits_of_travel() {
    for (name, stops) in [
        ("dw01_front_rack_behind.json", [true, false]),
        ("st10_front_rack_behind.json", [false, false]),
        ("fl14_rear.json", [true, true]),
    ] {
        let file = file(name);
        let mut car = car(&file);
        // The file's limits are the upright's; its drop link would run out of reach sooner.
        for side in Side::BOTH {
            car.front.corner_mut(side).drop_link_on = None;
        }
        let axle = front(&car);
        for side_name in ["left", "right"] {
            let expected = &file["expected"]["travel_limits"][side_name];
            let limits = axle.corner(side(side_name)).unwrap().travel_limits(0.0).unwrap();
            for ((key, limit), is_there) in ["rebound", "bump"].iter().zip(limits).zip(stops) {
                assert_eq!(limit.is_some(), is_there, "{name} {key}");
                let Some(limit) = limit else {
                    assert!(expected[key].is_null());
                    continue;
                };
                assert_eq!(limit.kind, StopKind::DeadPoint);
                assert_near!(limit.travel, expected[key].as_f64().unwrap(), 1e-7, "{name} {key}");
                assert!(!limit.links.is_empty());
            }
        }
    }
}

/// A vector of an axle's state.
fn near(ours: Vector3<f64>, theirs: &Value, what: &str) {
    let error = (ours - vector(theirs)).amax();
    assert!(error < POSITION, "{what}: off by {error:e} m");
}

/// Twist of the axle for both wheels' travel with these weights, at the left wheel centre.
fn together(solved: &SolvedAxle, left: f64, right: f64) -> Twist<f64> {
    let (a, b) = (&solved.motion.left, &solved.motion.right);
    let arm = a.wheel_centre - b.wheel_centre;
    let of_right = &b.by_travel;
    Twist {
        v: a.by_travel.v * left + of_right.at(&arm) * right,
        w: a.by_travel.w * left + of_right.w * right,
    }
}

#[test]
fn every_state_of_a_beam_axle() {
    let file = file("ba20_panhard_three_link.json");
    let car = car(&file);
    assert_eq!(car.front.left.linkage, LinkageKind::BeamAxle);
    let axle = front(&car);
    let states = file["expected"]["beam_states"].as_array().unwrap();
    assert_eq!(states.len(), 49);
    for state in states {
        let get = |value: &Value| value.as_f64().unwrap();
        let travel = [get(&state["travel_left"]), get(&state["travel_right"])];
        let solved = axle.solve(travel, 0.0).unwrap();
        assert!(solved.residual(Side::Left) < 1e-12);
        let own = axle.own_points(&solved);
        for side in Side::BOTH {
            let theirs = &state[side.name()];
            let (motion, ground) = (solved.motion.corner(side), solved.motion.wheel(side));
            near(motion.wheel_centre, &theirs["wc"], "wheel centre");
            near(motion.spin_axis, &theirs["spin_axis"], "spin axis");
            let level = OnGround::of(motion, Ground::level().normal);
            near(level.contact, &theirs["cp"], "contact");
            let values = solved.wheel_values(side);
            let deg = |key: &str| values.get(reading(key).unwrap()).unwrap().to_degrees();
            for (key, metric) in [
                ("camber_to_body", "camber"),
                ("camber_to_road", "camber_ground"),
                ("steer_angle", "steer"),
                ("toe", "toe"),
            ] {
                assert_near!(deg(key), get(&theirs[metric]), ANGLE, "{key} {travel:?} {side}");
            }
            assert_near!(-ground.rise.asin().to_degrees(), get(&theirs["camber_ground"]), ANGLE);
            // Rates with both wheels up together, and one up as the other goes down.
            let spin = motion.spin_axis_left();
            let steer = spin.cross(&Vector3::z());
            for (way, weights) in [("heave", [1.0, 1.0]), ("roll", [1.0, -1.0])] {
                let w = together(&solved, weights[0], weights[1]).w;
                let rate = w.cross(&spin);
                let steer_rate = rate.cross(&Vector3::z());
                let bump = (steer.x * steer_rate.y - steer.y * steer_rate.x) / steer.norm_squared();
                let camber = -w.cross(&motion.spin_axis).z / (1.0 - motion.spin_axis.z.powi(2)).sqrt();
                let of = |name: &str| get(&theirs[format!("{name}_{way}")]);
                assert_near!(bump.to_degrees(), of("bump_steer"), GRADIENT, "{way} {travel:?} {side}");
                assert_near!(camber.to_degrees(), of("camber_gain"), GRADIENT, "{way} {travel:?} {side}");
            }
            let name = format!("lower_{}_outer", side.name());
            let points = axle.points(&solved, side);
            let (_, at) = points.iter().find(|(p, _)| *p == Hardpoint::LowerLinkOuter).unwrap();
            near(*at, &state["points"][&name], &name);
        }
        for (name, hardpoint) in
            [("upper_outer", Hardpoint::TopLinkOuter), ("panhard_outer", Hardpoint::PanhardRodAxle)]
        {
            let (_, at) = own.iter().find(|(p, _)| *p == hardpoint).unwrap();
            near(*at, &state["points"][name], name);
        }
        let (values, of) = (solved.axle_values(), |key: &str| reading(key).unwrap());
        let reading = |key: &str| values.get(of(key)).unwrap_or(f64::NAN);
        assert_near!(reading("ground_angle").to_degrees(), get(&state["ground_angle"]), ANGLE);
        assert_near!(reading("track"), get(&state["track"]), POSITION);
        assert_near!(reading("roll_centre_height"), get(&state["rc_height"]), 1e-9, "{travel:?}");
        assert_near!(reading("roll_centre_lateral"), get(&state["rc_lateral"]), 1e-9, "{travel:?}");
        let middle = (solved.motion.left.wheel_centre + solved.motion.right.wheel_centre) * 0.5;
        near(middle, &state["axle_mid"], "middle");
    }
}

#[test]
fn a_tie_rod_that_cannot_reach_is_a_fault_that_says_so() {
    let car = car(&file("bad02_unreachable_tie_rod.json"));
    let found = check(&car);
    let fault = found.iter().find(|f| {
        f.severity == Severity::Fault && f.subject == Subject::Link(wheelpath_geometry::Link::TieRod)
    });
    let fault = fault.unwrap();
    assert!(fault.message.contains("is too short by"), "{}", fault.message);
    assert_eq!(AxleSolver::new(&car, End::Front).unwrap_err().kind, StopKind::CannotAssemble);
}

#[test]
fn a_wrong_sign_of_one_y_is_found_though_the_links_close() {
    let car = car(&file("bad05_mirrored_y.json"));
    let found = check(&car);
    assert!(found.iter().any(|f| {
        f.severity == Severity::Fault
            && f.side == Some(Side::Left)
            && f.subject == Subject::Hardpoint(Hardpoint::TieRodOuter)
    }));
    // The right side is sound.
    assert!(!found.iter().any(|f| f.severity == Severity::Fault && f.side == Some(Side::Right)));
}
