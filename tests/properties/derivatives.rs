//! Rates are the derivatives of what they say they are, and of nothing else.

use crate::random_car;
use proptest::prelude::*;
use wheelpath_geometry::{
    AxleSolver, CornerSolver, Ground, Hardpoint, OnGround, SolvedCorner, WheelValues, reading, wheel_values,
};

/// Each rate, what it is the rate of, and its sign.
const RATES: [(&str, &str, f64); 9] = [
    ("bump_steer", "toe", 1.0),
    ("camber_gain", "camber_to_body", 1.0),
    ("caster_gain", "caster", 1.0),
    ("steering_axis_inclination_gain", "steering_axis_inclination", 1.0),
    ("half_track_gain", "half_track", 1.0),
    ("recession_gain", "recession", 1.0),
    ("motion_ratio", "damper_length", -1.0),
    ("bar_arm_rate", "bar_arm_angle", 1.0),
    ("rocker_rate", "rocker_angle", 1.0),
];

const STEP: f64 = 2e-4;

fn bench(solved: &SolvedCorner) -> WheelValues {
    wheel_values(&solved.motion, &OnGround::of(&solved.motion, Ground::level().normal))
}

/// Slope at zero by five points, and about how wrong it is.
fn slope(at: impl Fn(f64) -> Option<f64>) -> Option<(f64, f64)> {
    let five = |h: f64| Some((8.0 * (at(h)? - at(-h)?) - (at(2.0 * h)? - at(-2.0 * h)?)) / (12.0 * h));
    let (coarse, fine) = (five(STEP)?, five(0.5 * STEP)?);
    Some((fine, (fine - coarse).abs()))
}

fn value(values: &WheelValues, key: &str) -> Option<f64> {
    values.get(reading(key).unwrap())
}

fn at(solver: &CornerSolver, from: &SolvedCorner, travel: f64, rack: f64) -> Option<SolvedCorner> {
    solver.follow(from, from.travel() + travel, from.steer() + rack).ok()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn rates_are_slopes_of_the_sweep(
        car in random_car::car(), end in random_car::end(), side in random_car::side(),
        (travel, rack) in random_car::pose(),
    ) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Err(TestCaseError::reject("not a car")) };
        let solver = axle.corner(side).unwrap();
        let Ok(here) = solver.solve(travel[0], rack) else { return Ok(()) };
        let values = bench(&here);
        // Within a step of a limit there are no differences.
        if at(solver, &here, 2.0 * STEP, 0.0).is_none() || at(solver, &here, -2.0 * STEP, 0.0).is_none() {
            return Ok(());
        }
        let mut compared = 0;
        for (rate, of, sign) in RATES {
            let Some(exact) = value(&values, rate) else { continue };
            let by_travel = slope(|h| value(&bench(&at(solver, &here, h, 0.0)?), of));
            let Some((difference, doubt)) = by_travel else { continue };
            let tolerance = 1e-8 * (1.0 + exact.abs()) + 4.0 * doubt;
            let error = (sign * difference - exact).abs();
            prop_assert!(error < tolerance, "{}: {} is not {}", rate, exact, sign * difference);
            // Differences that say nothing prove nothing: near the end of a rocker's or bar's reach.
            compared += usize::from(doubt < 1e-5 * (1.0 + exact.abs()));
        }
        prop_assert!(compared >= 6, "only {} rates were compared", compared);
        if solver.steered() {
            let exact = value(&values, "steer_gain").unwrap();
            let by_steer = slope(|h| value(&bench(&at(solver, &here, 0.0, h)?), "steer_angle"));
            let Some((difference, doubt)) = by_steer else { return Ok(()) };
            prop_assert!((difference - exact).abs() < 1e-8 * (1.0 + exact.abs()) + 4.0 * doubt);
        } else {
            prop_assert!(value(&values, "steer_gain").is_none());
        }
    }

    /// The twist behind instant centres and screw axis, by three points of the upright; and that the
    /// readings are what they say of it.
    #[test]
    fn instant_centres_and_screw_axis_belong_to_the_motion(
        car in random_car::car(), end in random_car::end(), side in random_car::side(),
        (travel, rack) in random_car::pose(),
    ) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Err(TestCaseError::reject("not a car")) };
        let solver = axle.corner(side).unwrap();
        let Ok(here) = solver.solve(travel[0], rack) else { return Ok(()) };
        let motion = here.motion;
        for hardpoint in [Hardpoint::UpperBallJoint, Hardpoint::LowerBallJoint] {
            let place = |h: f64| {
                let there = at(solver, &here, h, 0.0)?;
                Some(solver.points(&there).into_iter().find(|(p, _)| *p == hardpoint)?.1)
            };
            let exact = motion.by_travel.at(&(place(0.0).unwrap() - motion.wheel_centre));
            for axis in 0..3 {
                let Some((difference, doubt)) = slope(|h| Some(place(h)?[axis])) else { return Ok(()) };
                prop_assert!((difference - exact[axis]).abs() < 1e-8 + 4.0 * doubt, "{} {}", hardpoint, axis);
            }
        }
        let values = bench(&here);
        let get = |key: &str| value(&values, key).unwrap();
        let velocity = |p: nalgebra::Vector3<f64>| motion.by_travel.at(&(p - motion.wheel_centre));
        let centre = motion.wheel_centre;
        let front = nalgebra::Vector3::new(
            centre.x, get("front_view_instant_centre_y"), get("front_view_instant_centre_z"));
        let there = velocity(front);
        prop_assert!(there.y.abs().max(there.z.abs()) < 1e-12 * (1.0 + front.norm()));
        let lateral = nalgebra::Vector3::new(
            get("side_view_instant_centre_x"), centre.y, get("side_view_instant_centre_z"));
        let there = velocity(lateral);
        prop_assert!(there.x.abs().max(there.z.abs()) < 1e-12 * (1.0 + lateral.norm()));
        let arm = get("front_view_swing_arm_inverse") * side.sign() * (centre.y - front.y);
        prop_assert!((arm - 1.0).abs() < 1e-12);
        prop_assert!((get("side_view_swing_arm_inverse") * (lateral.x - centre.x) - 1.0).abs() < 1e-12);
        let triple = |of: &str| nalgebra::Vector3::from(["x", "y", "z"].map(|a| get(&format!("screw_{of}_{a}"))));
        let (point, along) = (triple("point"), triple("direction"));
        let slide = velocity(point);
        prop_assert!((along.norm() - 1.0).abs() < 1e-14);
        prop_assert!(slide.cross(&along).norm() < 1e-12 * (1.0 + point.norm()));
        prop_assert!((slide.dot(&along) - get("screw_pitch") * motion.by_travel.w.norm()).abs() < 1e-12);
        prop_assert!((point - centre).dot(&along).abs() < 1e-11 * (1.0 + point.norm()));
    }
}
