//! Every number of the calibration cars that this linkage has. The cars were solved by rod-length
//! Newton in 40-digit arithmetic, cross-checked with MuJoCo, independently of this project.

use nalgebra::Vector3;
use serde_json::Value;
use std::path::Path;
use wheelpath_geometry::{
    AxleSolver, Car, CornerMotion, End, Ground, OnGround, Pickup, Severity, Side, SolvedCorner, StopKind,
    Subject, check, reading, wheel_values,
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
    let get = |key: &str| values.get(reading(key).unwrap()).unwrap();
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
        ("arb_ratio", "bar_arm_rate", 1.0, GRADIENT),
        ("caster", "caster", 1.0, ANGLE),
        ("kpi", "steering_axis_inclination", 1.0, ANGLE),
        ("arb_angle", "bar_arm_angle", 1.0, ANGLE),
    ] {
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
    let stored = |metric: &str| &metrics[metric][i][j];
    // The virtual axis' angles and offsets from the file's own axis, contact and steer angle.
    let (axis, on_axis, contact) =
        (vector(stored("vsa_dir")), vector(stored("vsa_point")), vector(stored("cp")));
    let foot = on_axis + axis * ((contact.z - on_axis.z) / axis.z) - contact;
    let (sin, cos) = stored("steer").as_f64().unwrap_or(f64::NAN).to_radians().sin_cos();
    let outboard = motion.side.sign();
    for (key, theirs) in [
        ("virtual_caster", (-axis.x).atan2(axis.z)),
        ("virtual_steering_axis_inclination", (-outboard * axis.y).atan2(axis.z)),
        ("virtual_trail", foot.x * cos + foot.y * sin),
        ("virtual_scrub_radius", outboard * (foot.x * sin - foot.y * cos)),
        ("motion_ratio_inverse", 1.0 / stored("motion_ratio").as_f64().unwrap_or(f64::NAN)),
    ] {
        assert_near!(get(key), theirs, 1e-10, "{key} {i} {j} {}", motion.side);
    }
    let screw = |kind: &str| Vector3::from(["x", "y", "z"].map(|axis| get(&format!("screw_{kind}_{axis}"))));
    let (point, direction) = (screw("point"), screw("direction"));
    let twist = motion.by_steer.unwrap();
    let virtual_direction = twist.w.normalize() * twist.w.z.signum();
    let virtual_point = motion.wheel_centre + twist.w.cross(&twist.v) / twist.w.norm_squared();
    let front = [get("front_view_instant_centre_y"), get("front_view_instant_centre_z")];
    let lateral = [get("side_view_instant_centre_x"), get("side_view_instant_centre_z")];
    let foot = wheel.meets_ground(&motion.lower_ball, &motion.steering_axis());
    let mut list = |metric: &str, ours: &[f64], tolerance: f64| {
        let theirs = numbers(&metrics[metric][i][j]);
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
    list("axis_point", motion.lower_ball.as_slice(), POSITION);
    list("axis_dir", motion.steering_axis().as_slice(), POSITION);
    list("axis_ground", foot.as_slice(), POSITION);
    // The file leaves the direction's sign open; ours is that of w.
    let theirs = vector(&metrics["screw_dir"][i][j]);
    list("screw_dir", (direction * direction.dot(&theirs).signum()).as_slice(), 1e-10);
    list("screw_point", point.as_slice(), 1e-9);
    list("vsa_dir", virtual_direction.as_slice(), 1e-10);
    list("vsa_point", virtual_point.as_slice(), 1e-10);
    list("fvic", &front, 1e-8);
    list("svic", &lateral, 1e-8);
    compared
}

fn points(expected: &Value, i: usize, j: usize, solved: &[(Pickup, Vector3<f64>)]) {
    let at = |pickup| solved.iter().find(|(p, _)| *p == pickup).unwrap().1;
    for (name, pickup) in [
        ("upper_outer", Pickup::UpperBallJoint),
        ("lower_outer", Pickup::LowerBallJoint),
        ("tie_rod_outer", Pickup::TieRodOuter),
        ("tie_rod_inner", Pickup::TieRodInner),
        ("damper_outer", Pickup::DamperRocker),
        ("arb_outer", Pickup::DropLinkOuter),
        ("arb_arm_end", Pickup::DropLinkBar),
    ] {
        let theirs = &expected[name];
        if theirs.is_null() {
            continue;
        }
        let error = (at(pickup) - vector(&theirs[i][j])).norm();
        assert!(error < POSITION, "{name} at {i} {j}: off by {error:e} m");
    }
}

#[test]
fn every_metric_of_a_front_corner_over_travel_and_steer() {
    let file = file("dw01_front_rack_behind.json");
    let axle = front(&car(&file));
    let mut compared = 0;
    for name in ["left", "right"] {
        let corner = axle.corner(side(name));
        let grid = &file["expected"]["corner_grid"][name];
        for (i, rack) in numbers(&grid["steer_input"]).into_iter().enumerate() {
            for (j, travel) in numbers(&grid["travel"]).into_iter().enumerate() {
                assert_eq!(grid["status"][i][j], "ok");
                let solved: SolvedCorner = corner.solve(travel, rack).unwrap();
                assert!(solved.residual() < 1e-12);
                compared += compare(&grid["metrics"], i, j, &solved.motion);
                points(&grid["metrics"]["points"], i, j, &corner.points(&solved));
                let rotation = &grid["metrics"]["upright_rotation"][i][j];
                for row in 0..3 {
                    let ours = solved.upright().car_from_body.row(row).transpose();
                    assert!((ours - vector(&rotation[row])).amax() < POSITION);
                }
            }
        }
    }
    // 2 sides, 11 racks, 13 travels, 28 scalars and 37 numbers of vectors at least.
    assert!(compared >= 2 * 11 * 13 * 60, "only {compared} numbers were compared");
}

#[test]
fn roll_centre_and_ground_of_an_axle() {
    let file = file("dw01_front_rack_behind.json");
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
    let file = file("dw01_front_rack_behind.json");
    let axle = front(&car(&file));
    let expected = &file["expected"]["axle"]["steer_sweep"];
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
        compare("ackermann_pct_kp", ours("ackermann_percent").map(|x| 100.0 * x), 1e-8);
        compare("ackermann_pct_track", ours("ackermann_percent_contact").map(|x| 100.0 * x), 1e-8);
        // The file's contacts stand on ground parallel to the body, ours on the axle's common ground.
        compare("turn_diameter_outer", ours("turning_circle_outer_axis"), 1e-7);
        compare("turn_diameter_mean", ours("turning_circle"), 1e-7);
    }
}

#[test]
fn limits_of_travel() {
    let file = file("dw01_front_rack_behind.json");
    let mut car = car(&file);
    // The file's limits are the upright's; its drop link would run out of reach sooner.
    for side in Side::BOTH {
        car.front.corner_mut(side).drop_link_on = None;
    }
    let axle = front(&car);
    for name in ["left", "right"] {
        let expected = &file["expected"]["travel_limits"][name];
        let [droop, bump] = axle.corner(side(name)).travel_limits(0.0).unwrap();
        let droop = droop.unwrap();
        assert_eq!(droop.kind, StopKind::DeadPoint);
        assert_near!(droop.travel, expected["rebound"].as_f64().unwrap(), 1e-7);
        assert!(!droop.links.is_empty());
        assert!(expected["bump"].is_null() && bump.is_none());
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
    assert!(fault.message.contains("lacks"), "{}", fault.message);
    assert_eq!(AxleSolver::new(&car, End::Front).unwrap_err().kind, StopKind::CannotAssemble);
}

#[test]
fn a_wrong_sign_of_one_y_is_found_though_the_links_close() {
    let car = car(&file("bad05_mirrored_y.json"));
    let found = check(&car);
    assert!(found.iter().any(|f| {
        f.severity == Severity::Fault
            && f.side == Some(Side::Left)
            && f.subject == Subject::Pickup(Pickup::TieRodOuter)
    }));
    // The right side is sound.
    assert!(!found.iter().any(|f| f.severity == Severity::Fault && f.side == Some(Side::Right)));
}
