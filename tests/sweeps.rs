//! The quick way along a sweep gives the poses of the guarded way.

use std::path::Path;
use wheelpath_geometry::{
    AxleSolver, End, Ground, OnGround, Side, StopKind, Travelling, over_travel, spaced, wheel_readings,
    wheel_values,
};
use wheelpath_tests::{assert_near, reference_car};

fn front() -> AxleSolver {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("calibration/dw01_front_rack_behind.json");
    let file = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    AxleSolver::new(&reference_car::car(&file), End::Front).unwrap()
}

#[test]
fn dense_coarse_and_broken_sweeps_agree_with_single_poses() {
    let axle = front();
    let mut broken = spaced(-0.06, 0.02, 31);
    broken.extend([0.02, 0.02, -0.05, 0.06, 0.0, 1e-9, 0.03]);
    let normal = Ground::level().normal;
    for side in Side::BOTH {
        for travels in [spaced(-0.06, 0.06, 1001), spaced(0.06, -0.06, 9), broken.clone()] {
            for rack in [0.0, 0.04] {
                let corner = axle.corner(side).unwrap();
                let mut seen = 0;
                let swept = corner.sweep_travel(&travels, rack, |i, motion| {
                    assert_eq!(i, seen);
                    seen += 1;
                    let single = corner.solve(travels[i], rack).unwrap().motion;
                    assert!((motion.wheel_centre - single.wheel_centre).norm() < 1e-12);
                    assert!((motion.spin_axis - single.spin_axis).norm() < 1e-12);
                    let quick = wheel_values(motion, &OnGround::of(motion, normal));
                    let slow = wheel_values(&single, &OnGround::of(&single, normal));
                    for reading in wheel_readings() {
                        match (quick.get(reading), slow.get(reading)) {
                            (Some(a), Some(b)) => {
                                let size = b.abs().max(1.0).powi(2);
                                assert_near!(a, b, 1e-9 * size, "{} at {}", reading.key, travels[i]);
                            }
                            (a, b) => assert_eq!(a.is_some(), b.is_some(), "{}", reading.key),
                        }
                    }
                });
                assert!(swept.is_ok());
                assert_eq!(seen, travels.len());
            }
        }
    }
}

#[test]
fn a_sweep_ends_at_the_limit() {
    let axle = front();
    let corner = axle.corner(Side::Left).unwrap();
    let travels = spaced(0.0, -0.29, 2901);
    let mut last = 0.0;
    let stop = corner.sweep_travel(&travels, 0.0, |i, _| last = travels[i]).unwrap_err();
    // Its drop link runs out of reach before the wishbones do.
    assert_eq!((stop.kind, stop.links.as_slice()), (StopKind::OutOfReach, &["drop link"][..]));
    let [droop, _] = corner.travel_limits(0.0).unwrap();
    let limit = droop.unwrap().travel;
    assert_near!(stop.travel, limit, 1e-7);
    assert!(last >= limit && last - limit < 1e-4, "stopped at {last}, limit {limit}");
}

#[test]
fn an_axle_sweep_marks_what_it_cannot_reach_and_goes_on() {
    let axle = front();
    let travels = [-0.28, -0.26, -0.1, 0.0, 0.1];
    let points = axle.sweep(&over_travel(Travelling::Both, &travels, 0.0));
    let reached: Vec<bool> = points.iter().map(|point| point.result.is_ok()).collect();
    assert_eq!(reached, [false, false, true, true, true]);
}
