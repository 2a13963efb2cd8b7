//! A sweep of an axle is its poses one by one, at the ends too.

use crate::{agree, all_values, random_car};
use proptest::prelude::*;
use wheelpath_geometry::{
    AxlePose, AxleSolver, AxleValues, End, Exceeded, Group, Hardpoint, Reading, Scope, Side, SolvedAxle,
    Stop, SweepValues, Travelling, WheelPosition, WheelValues, axle_readings, over_grid, over_steer,
    over_travel, spaced, wheel_readings,
};
use wheelpath_tests::{assert_near, demo};

type Values = ([WheelValues; 2], AxleValues);

fn values_of(axle: &AxleSolver, solved: &SolvedAxle) -> Values {
    let rated = axle.rated(solved);
    (Side::BOTH.map(|side| rated.wheel_values(side)), rated.axle_values())
}

/// A pose as single poses come to it.
struct OneByOne {
    /// Followed from the last, or else solved from the reference pose.
    forward: Result<Values, Stop>,
    /// Where both end at a dead point: followed from the next pose that is reached, if that can be done.
    backward: Option<Values>,
}

fn one_by_one_solved(axle: &AxleSolver, poses: &[AxlePose]) -> Vec<Result<SolvedAxle, Stop>> {
    let mut last: Option<SolvedAxle> = None;
    let one = |pose: &AxlePose| {
        let followed = last.and_then(|last| axle.follow(&last, pose.travel, pose.steer).ok());
        let solved = followed.map_or_else(|| axle.solve(pose.travel, pose.steer), Ok);
        last = solved.as_ref().ok().copied();
        solved
    };
    poses.iter().map(one).collect()
}

fn one_by_one(axle: &AxleSolver, poses: &[AxlePose]) -> Vec<OneByOne> {
    let forward = one_by_one_solved(axle, poses);
    let mut next: Option<SolvedAxle> = None;
    let mut all: Vec<OneByOne> = forward
        .iter()
        .zip(poses)
        .rev()
        .map(|(forward, pose)| {
            let back = match forward {
                Ok(_) => None,
                Err(_) => next.and_then(|next| axle.follow(&next, pose.travel, pose.steer).ok()),
            };
            next = forward.as_ref().ok().copied().or(back);
            let backward = back.map(|solved| values_of(axle, &solved));
            OneByOne { forward: forward.clone().map(|solved| values_of(axle, &solved)), backward }
        })
        .collect();
    all.reverse();
    all
}

/// Readings that are a quotient of two small numbers somewhere, where the last digits of both show.
fn has_pole(reading: &Reading) -> bool {
    matches!(reading.group, Group::Motion | Group::Ackermann | Group::Roll)
}

/// Compares a sweep with its poses one by one, readings with and without poles to a tolerance each; how
/// many poses were reached.
fn compare(axle: &AxleSolver, poses: &[AxlePose], plain: f64, pole: f64) -> Result<usize, TestCaseError> {
    let swept = axle.sweep(poses);
    let single = one_by_one(axle, poses);
    prop_assert_eq!(swept.len(), poses.len());
    let mut reached = 0;
    for ((point, single), pose) in swept.iter().zip(&single).zip(poses) {
        prop_assert_eq!(&point.pose, pose);
        // A pose beyond a dead point that the sweep reaches all the same is the one from its other end.
        let slow = match (&point.result, single) {
            (Ok(_), OneByOne { forward: Err(_), backward: Some(values) }) => Ok(values),
            (_, single) => single.forward.as_ref(),
        };
        match (&point.result, slow) {
            (Ok(quick), Ok((wheels, of_axle))) => {
                reached += 1;
                let quick = all_values(&quick.wheels, &quick.axle);
                let slow = all_values(wheels, of_axle);
                for ((_, reading, quick), (_, _, slow)) in quick.iter().zip(&slow) {
                    let tolerance = if has_pole(reading) { pole } else { plain };
                    prop_assert!(
                        agree(*quick, *slow, tolerance),
                        "{} at {pose:?}: {quick} {slow}",
                        reading.key
                    );
                }
            }
            (Err(quick), Err(slow)) => prop_assert_eq!(quick, slow),
            (quick, slow) => {
                prop_assert!(false, "{pose:?}: {:?} {:?}", quick.as_ref().err(), slow.as_ref().err())
            }
        }
    }
    Ok(reached)
}

#[test]
fn sweeps_of_every_car_are_its_poses_one_by_one() {
    let ways = [Travelling::Both, Travelling::Opposite, Travelling::One(Side::Right)];
    for path in demo::CARS {
        let car = demo::car_of(path);
        for end in End::BOTH {
            let axle = AxleSolver::new(&car, end).unwrap();
            let case = |what: &str, poses: &[AxlePose]| {
                compare(&axle, poses, 1e-12, 1e-10)
                    .unwrap_or_else(|error| panic!("{path} {end:?} {what}: {error}"))
            };
            for way in ways {
                for (from, to, count, steer) in [
                    (-0.3, 0.3, 125, 0.0),
                    (0.05, -0.04, 81, -0.012),
                    (0.0, 0.3, 70, 0.01),
                    (-0.03, 0.03, 9, 0.0),
                ] {
                    let poses = over_travel(way, &spaced(from, to, count), steer);
                    let reached = case(&format!("{way:?} {from} {to} {steer}"), &poses);
                    assert!(reached > count / 20, "{path} {end:?} {way:?} {from}: {reached} reached");
                }
            }
            for (from, to, count) in [(-0.3, 0.3, 125), (0.03, -0.04, 81), (0.0, 0.05, 41)] {
                let reached = case(
                    &format!("steer {from} {to}"),
                    &over_steer([0.012, -0.006], &spaced(from, to, count)),
                );
                assert!(reached > count / 20, "{path} {end:?} steer {from}: {reached} reached");
            }
            case("grid", &over_grid(Travelling::Both, &spaced(-0.03, 0.03, 31), &spaced(-0.02, 0.02, 3)));
        }
    }
}

/// Nothing of what is asked for beside the readings is another pose's: the stops a pose goes beyond are those of
/// the pose on its own, and a reading is the same to the last bit whichever others are asked for with it.
#[test]
fn stops_and_chosen_readings_of_a_sweep_are_those_of_its_poses_one_by_one() {
    let mut met = [0; 2];
    for path in demo::CARS {
        let mut car = demo::car_of(path);
        for wheel in WheelPosition::ALL {
            let corner = car.corner_mut(wheel);
            corner.joint_limits = Hardpoint::ALL.iter().map(|&joint| (joint, 0.08)).collect();
        }
        for end in End::BOTH {
            let axle = AxleSolver::new(&car, end).unwrap();
            for poses in [
                over_travel(Travelling::Both, &spaced(-0.25, 0.25, 125), 0.005),
                over_travel(Travelling::One(Side::Right), &spaced(0.05, -0.04, 81), 0.0),
                over_steer([0.012, -0.006], &spaced(-0.05, 0.05, 81)),
            ] {
                let all: Vec<&Reading> = wheel_readings().iter().chain(axle_readings()).collect();
                let whole = axle.sweep(&poses);
                let single = one_by_one_solved(&axle, &poses);
                for asked in all.chunks(1).step_by(7).chain([all.as_slice()]) {
                    let mut swept = Vec::new();
                    axle.sweep_each(&poses, asked, |point, beyond| swept.push((point, beyond)));
                    assert_eq!(swept.len(), poses.len());
                    for (((point, beyond), known), single) in swept.iter().zip(&whole).zip(&single) {
                        let (values, known) = match (&point.result, &known.result) {
                            (Ok(values), Ok(known)) => (values, known),
                            (Err(stop), Err(known)) => {
                                assert!(stop == known && beyond.is_empty(), "{path} {end:?} {stop}");
                                continue;
                            }
                            _ => panic!("{path} {end:?} {:?}: reached once and not again", point.pose),
                        };
                        for reading in asked {
                            let of = |v: &SweepValues| match reading.scope {
                                Scope::Wheel => [0, 1].map(|i: usize| v.wheels[i].get(reading)),
                                Scope::Axle => [v.axle.get(reading); 2],
                            };
                            let bits = |v| of(v).map(|one| one.map(f64::to_bits));
                            assert_eq!(bits(values), bits(known), "{path} {end:?} {}", reading.key);
                        }
                        // Beyond a dead point a single pose may not be reached.
                        let Ok(single) = single else { continue };
                        let expected = axle.exceeded(single);
                        assert_eq!(beyond.len(), expected.len(), "{path} {end:?} {:?}", point.pose);
                        for (here, there) in beyond.iter().zip(&expected) {
                            assert!(here.is_same_stop(there), "{path} {end:?}: {here}; {there}");
                            assert_near!(here.beyond(), there.beyond(), 1e-11);
                            met[usize::from(matches!(here, Exceeded::Joint { .. }))] += 1;
                        }
                    }
                }
            }
        }
    }
    assert!(met.iter().all(|&count| count > 1000), "{met:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(30))]

    #[test]
    fn sweeps_of_random_cars_are_their_poses_one_by_one(
        car in random_car::car(), end in random_car::end(), held in -0.02..0.02_f64,
        from in -0.2..0.2_f64, to in -0.2..0.2_f64, count in 2..200_usize, steers in prop::bool::ANY,
    ) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Ok(()) };
        let along = spaced(from, to, count);
        let poses = if steers {
            over_steer([held, -0.5 * held], &along)
        } else {
            over_travel(Travelling::Opposite, &along, held)
        };
        compare(&axle, &poses, 1e-11, 1e-9)?;
    }
}
