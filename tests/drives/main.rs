//! Every linkage driven at random to its ends and back: it never jumps to another assembly.

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use wheelpath_geometry::{AxleSolver, End, Hardpoint, LinkageKind, Side, SolvedAxle, Stop, StopKind, check};
use wheelpath_tests::demo::{CARS, car_of};

/// A place to drive to: shares of the furthest travels and steering input, -1 to 1, and how many steps
/// to take.
type Leg = ([f64; 2], f64, usize);

fn leg() -> impl Strategy<Value = Leg> {
    ([-1.0..1.0_f64, -1.0..1.0], -1.0..1.0_f64, 1_usize..5)
}

/// Length errors of every link of an axle in a solved pose, metres: the largest.
fn stretch(axle: &AxleSolver, solved: &SolvedAxle) -> f64 {
    let own = axle.own_points(solved);
    let mut worst = 0.0_f64;
    for side in Side::BOTH {
        let points = axle.points(solved, side);
        let start = axle.points(&axle.start(), side);
        for link in axle.links(side) {
            let length = |points: &[(Hardpoint, nalgebra::Vector3<f64>)]| {
                let at = |hardpoint| points.iter().find(|(p, _)| *p == hardpoint).unwrap().1;
                (at(link.ends().1) - at(link.ends().0)).norm()
            };
            worst = worst.max((length(&points) - length(&start)).abs());
        }
    }
    let start = axle.own_points(&axle.start());
    for link in axle.own_links() {
        let length = |points: &[(Hardpoint, nalgebra::Vector3<f64>)]| {
            let at = |hardpoint| points.iter().find(|(p, _)| *p == hardpoint).unwrap().1;
            (at(link.ends().1) - at(link.ends().0)).norm()
        };
        worst = worst.max((length(&own) - length(&start)).abs());
    }
    worst
}

/// How far two poses of an axle are apart, metres and radians.
fn apart(axle: &AxleSolver, a: &SolvedAxle, b: &SolvedAxle) -> f64 {
    let of = |side: Side| {
        let (a, b) = (axle.upright(a, side), axle.upright(b, side));
        (a.origin - b.origin).amax().max((a.car_from_body - b.car_from_body).amax())
    };
    of(Side::Left).max(of(Side::Right))
}

/// Drives along a leg in `steps` strides as far as it goes.
fn drive(
    axle: &AxleSolver,
    from: &SolvedAxle,
    travel: [f64; 2],
    steer: f64,
    steps: usize,
) -> Result<SolvedAxle, Box<(SolvedAxle, Stop)>> {
    let start = ([from.travel(Side::Left), from.travel(Side::Right)], from.steer());
    let mut here = *from;
    for step in 1..=steps {
        #[expect(clippy::cast_precision_loss, reason = "a handful of steps")]
        let share = step as f64 / steps as f64;
        let mix = |a: f64, b: f64| if step == steps { b } else { a + (b - a) * share };
        let to = [0, 1].map(|i: usize| mix(start.0[i], travel[i]));
        here = axle.follow(&here, to, mix(start.1, steer)).map_err(|stop| Box::new((here, stop)))?;
    }
    Ok(here)
}

/// How many drives came to an end of the linkage, and how many were driven.
#[derive(Default)]
struct Seen {
    ends: std::cell::Cell<usize>,
    legs: std::cell::Cell<usize>,
}

fn at_random(path: &str, end: End, far: [f64; 2], cases: u32) -> (usize, usize) {
    let car = car_of(path);
    assert!(check(&car).iter().all(|found| found.severity != wheelpath_geometry::Severity::Fault), "{path}");
    let axle = AxleSolver::new(&car, end).unwrap();
    let start = axle.start();
    let seen = Seen::default();
    let mut runner = TestRunner::new(Config { cases, failure_persistence: None, ..Config::default() });
    let legs = proptest::collection::vec(leg(), 1..6);
    let outcome = runner.run(&legs, |legs| {
        let mut here = start;
        let mut way = vec![start];
        for (travel, steer, steps) in legs {
            let steer = if axle.steered() { steer * far[1] } else { 0.0 };
            let travel = travel.map(|share| share * far[0]);
            seen.legs.set(seen.legs.get() + 1);
            match drive(&axle, &here, travel, steer, steps) {
                Ok(there) => {
                    // The same way in one stride, or in many, ends in the same pose.
                    let finer = drive(&axle, &here, travel, steer, 7 * steps);
                    let finer = finer.map_err(|ended| {
                        TestCaseError::fail(format!("{path} {end}: small strides stop: {}", ended.1))
                    })?;
                    prop_assert!(apart(&axle, &there, &finer) < 1e-8, "{path} {end}: strides differ");
                    prop_assert!(stretch(&axle, &there) < 1e-9, "{path} {end}: a link is stretched");
                    here = there;
                    way.push(here);
                }
                Err(ended) => {
                    let (last, stop) = *ended;
                    prop_assert!(matches!(stop.kind, StopKind::DeadPoint | StopKind::OutOfReach), "{stop}");
                    prop_assert!(stop.travel.is_finite() && stop.steer.is_finite());
                    prop_assert!(!stop.links.is_empty(), "{path} {end}: nothing named at {stop}");
                    prop_assert!(stretch(&axle, &last) < 1e-9);
                    seen.ends.set(seen.ends.get() + 1);
                    here = last;
                    way.push(here);
                }
            }
        }
        // Back by the same places: the way out was one assembly if it leads home.
        for place in way.iter().rev() {
            let travel = [place.travel(Side::Left), place.travel(Side::Right)];
            let Ok(back) = axle.follow(&here, travel, place.steer()) else {
                return Err(TestCaseError::fail(format!("{path} {end}: the way back is barred")));
            };
            here = back;
        }
        prop_assert!(apart(&axle, &here, &start) < 1e-8, "{path} {end}: came home in another assembly");
        Ok(())
    });
    if let Err(error) = outcome {
        panic!("{path} {end}: {error}");
    }
    (seen.ends.get(), seen.legs.get())
}

/// Within what a car can do and far beyond it.
#[test]
fn every_linkage_keeps_its_assembly() {
    let mut kinds = Vec::new();
    let mut ends = 0;
    for path in CARS {
        let car = car_of(path);
        for end in End::BOTH {
            let angle = car.axle(end).steering.steering_box().is_some();
            kinds.push(car.axle(end).left.linkage);
            at_random(path, end, [0.06, if angle { 0.6 } else { 0.05 }], 40);
            let (found, legs) = at_random(path, end, [0.5, if angle { 2.0 } else { 0.3 }], 40);
            assert!(legs > 0);
            ends += found;
        }
    }
    for kind in LinkageKind::ALL {
        assert!(kinds.contains(&kind), "{} was not driven", kind.label());
    }
    assert!(ends > 300, "only {ends} drives came to an end");
}

/// Hazel's pitman and idler arm are parallel and alike: a quarter turn brings them into line with the
/// centre link, where the idler could go on in either of two ways. That ends the motion; nothing goes
/// through it.
#[test]
fn a_parallel_idler_ends_the_steering_where_it_comes_into_line() {
    let car = car_of("demo-cars/hazel.ron");
    let axle = AxleSolver::new(&car, End::Front).unwrap();
    for side in Side::BOTH {
        let limits = axle.steer_limits(side);
        for limit in limits {
            let stop = limit.unwrap();
            assert_eq!(stop.kind, StopKind::DeadPoint);
            assert!(stop.steer.abs() < 1.6, "{stop}");
        }
    }
    let corner = axle.corner(Side::Right).unwrap();
    let over = corner.solve(0.15, 1.77).unwrap_err();
    assert_eq!(over.links, ["centre link and idler arm"], "{over}");
}
