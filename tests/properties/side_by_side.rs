//! Poses solved side by side are the poses solved one by one.

use crate::{agree, random_car};
use proptest::prelude::*;
use wheelpath_geometry::{AxleSolver, CornerSolver, Ground, OnGround, spaced, wheel_readings, wheel_values};

/// Compares every sweep of a corner with poses solved on their own, at every `stride`th travel; how many
/// were compared.
fn compare(
    corner: &CornerSolver,
    travels: &[f64],
    steer: f64,
    stride: usize,
) -> Result<usize, TestCaseError> {
    let normal = Ground::level().normal;
    let mut poses = Vec::new();
    let posed = corner.sweep_poses(travels, steer, |i, pose| poses.push((i, *pose)));
    let mut motions = Vec::new();
    let moved = corner.sweep_travel(travels, steer, |i, motion| motions.push((i, *motion)));
    let mut values = vec![Vec::new(); wheel_readings().len()];
    let read = corner.sweep_values(travels, steer, |first, some| {
        assert_eq!(first, values[0].len());
        for (all, some) in values.iter_mut().zip(some) {
            all.extend_from_slice(some);
        }
    });
    prop_assert_eq!(posed.is_ok(), moved.is_ok());
    prop_assert_eq!(read.is_ok(), moved.is_ok());
    prop_assert!(poses.iter().map(|p| p.0).eq(0..poses.len()));
    prop_assert!(motions.iter().map(|m| m.0).eq(0..motions.len()));
    prop_assert_eq!(poses.len(), motions.len());
    prop_assert_eq!(values[0].len(), motions.len());
    let mut compared = 0;
    for (i, motion) in motions.iter().step_by(stride) {
        // The way to a pose may be longer than the sweep's, and lead past a limit; but not often.
        let Ok(single) = corner.solve(travels[*i], steer) else { continue };
        let upright = single.upright();
        prop_assert!((poses[*i].1.origin - upright.origin).amax() < 1e-12);
        prop_assert!((poses[*i].1.car_from_body - upright.car_from_body).amax() < 1e-12);
        prop_assert!((motion.wheel_centre - upright.origin).amax() < 1e-12);
        let quick = wheel_values(motion, &OnGround::of(motion, normal));
        let slow = wheel_values(&single.motion, &OnGround::of(&single.motion, normal));
        for reading in wheel_readings() {
            let number = |value: Option<f64>| value.unwrap_or(f64::NAN);
            let (quick, slow) = (number(quick.get(reading)), number(slow.get(reading)));
            let swept = values[reading.index][*i];
            let swept = if swept.is_finite() { swept } else { f64::NAN };
            prop_assert!(agree(quick, slow, 1e-8), "{} at {}: {quick} {slow}", reading.key, travels[*i]);
            prop_assert!(agree(swept, slow, 1e-8), "{} at {}: {swept} {slow}", reading.key, travels[*i]);
        }
        compared += 1;
    }
    Ok(compared)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn sweeps_of_random_cars_agree_with_single_poses(
        car in random_car::car(), end in random_car::end(), side in random_car::side(),
        from in -0.05..0.05_f64, to in -0.05..0.05_f64, count in 2..400_usize, steer in -0.02..0.02_f64,
    ) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Ok(()) };
        let corner = axle.corner(side).expect("no beam");
        compare(corner, &spaced(from, to, count), steer, 17)?;
    }
}

#[test]
fn sweeps_of_every_linkage_agree_with_single_poses() {
    for path in wheelpath_tests::demo::CARS {
        let car = wheelpath_tests::demo::car_of(path);
        for end in wheelpath_geometry::End::BOTH {
            let axle = AxleSolver::new(&car, end).unwrap();
            for side in wheelpath_geometry::Side::BOTH {
                let Some(corner) = axle.corner(side) else { continue };
                for (from, to, count) in [(-0.04, 0.04, 321), (0.03, -0.02, 40), (0.02, 0.05, 1001)] {
                    for steer in [0.0, 0.01] {
                        let compared = compare(corner, &spaced(from, to, count), steer, 7).unwrap();
                        assert!(compared * 7 >= count, "{path} {end:?} {side:?}: {compared} of {count} / 7");
                    }
                }
            }
        }
    }
}

#[test]
fn a_grid_is_its_rows_whatever_the_threads() {
    let car = wheelpath_tests::demo::alder();
    let axle = AxleSolver::new(&car, wheelpath_geometry::End::Front).unwrap();
    let corner = axle.corner(wheelpath_geometry::Side::Left).unwrap();
    // The last row is beyond the corner's reach, not-a-number is no steering at all.
    let (travels, steers) = (spaced(-0.05, 0.05, 101), [-0.02, 0.0, 0.015, 0.03, f64::NAN, 0.29]);
    let grid = |threads| {
        let all = std::sync::Mutex::new(vec![vec![]; steers.len()]);
        let rows = corner.grid_values(&travels, &steers, threads, |row, first, values| {
            let mut all = all.lock().unwrap();
            assert_eq!(all[row].len(), first);
            all[row].extend_from_slice(values[7]);
        });
        (rows, all.into_inner().unwrap())
    };
    let (rows, values) = grid(1);
    for (row, &steer) in steers.iter().enumerate() {
        let mut alone = Vec::new();
        let swept = corner.sweep_values(&travels, steer, |_, values| alone.extend_from_slice(values[7]));
        assert_eq!(swept, rows[row]);
        assert_eq!(alone, values[row]);
    }
    assert!(rows[..4].iter().all(Result::is_ok) && rows[4].is_err() && rows[5].is_err());
    assert_eq!(values[0].len(), 101);
    for threads in [0, 2, 5, 40] {
        assert_eq!(grid(threads), (rows.clone(), values.clone()));
    }
}
