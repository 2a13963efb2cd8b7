//! Whether parts clear one another: linkages whose answer is known by hand, and every car of the project.

use nalgebra::Vector3;
use std::collections::HashSet;
use wheelpath_geometry::{
    Car, CarSolver, End, Hardpoint, Part, Side, Steering, StopKind, WheelPosition, check,
};
use wheelpath_studies::clearance::{Clearance, Clearances, PartName, Range, Solid, StopOf, clearances};
use wheelpath_tests::assert_near;
use wheelpath_tests::demo::{CARS, alder, car_of};
use wheelpath_tests::planar::{FrontView, Steered, car, rack};

fn over(car: &Car, end: End, travel: [f64; 2], counts: [usize; 2]) -> Clearances {
    let solver = CarSolver::new(car).unwrap();
    clearances(car, &solver, end, &Range::of(car.axle(end), travel, counts[0], counts[1]), 2)
}

fn piece(side: Side, part: Part, leg: &'static str) -> PartName {
    PartName { end: End::Front, side: Some(side), what: Solid::Piece { part, leg } }
}

fn tyre(side: Side) -> PartName {
    PartName { end: End::Front, side: Some(side), what: Solid::Tyre }
}

#[track_caller]
fn between(found: &Clearances, a: PartName, b: PartName) -> Clearance {
    let is = |one: &&Clearance| one.of == [a, b] || one.of == [b, a];
    *found.pairs.iter().find(is).unwrap_or_else(|| panic!("no pair of {a} and {b}"))
}

/// Two wishbones alike and level, so that the upright never turns.
const LENGTH: f64 = 0.34;
const APART: f64 = 0.25;
const PARALLELOGRAM: FrontView = FrontView {
    lower: [[0.350, 0.170], [0.690, 0.170]],
    upper: [[0.350, 0.420], [0.690, 0.420]],
    wheel_centre: [0.750, 0.300],
    tyre_radius: 0.310,
};

/// Front legs are parallel at every travel: `APART` up and down, of which what lies across the legs counts.
#[test]
fn parallel_wishbones_come_nearer_as_they_slope() {
    let mut corner = PARALLELOGRAM.corner();
    corner.radii = vec![(Part::UpperWishbone, 0.012), (Part::LowerWishbone, 0.015)];
    let found = over(&car(corner, Steering::Fixed, 2.5), End::Front, [-0.02, 0.05], [8, 1]);
    assert_eq!((found.poses, found.unreachable.len(), found.beyond_stops), (64, 0, 0));
    for side in Side::BOTH {
        let pair = between(
            &found,
            piece(side, Part::UpperWishbone, "front leg"),
            piece(side, Part::LowerWishbone, "front leg"),
        );
        let sine = 0.05 / LENGTH.hypot(0.1);
        assert_near!(pair.distance, APART * (1.0 - sine * sine).sqrt() - 0.012 - 0.015, 1e-12);
        assert_near!(pair.pose.travel[usize::from(side == Side::Right)], 0.05, 1e-15);
        assert_near!((pair.at[0] - pair.at[1]).norm(), pair.distance, 1e-12);
    }
}

/// The toe link's outer end goes with the wheel, over its tread: 0.3 m ahead of the wheel centre and 0.13 m
/// below it. In bump the link falls away from there.
#[test]
fn a_toe_link_over_the_tread() {
    let mut corner = PARALLELOGRAM.corner();
    corner.radii = vec![(Part::ToeLink, 0.008)];
    let found = over(&car(corner, Steering::Fixed, 2.5), End::Front, [0.0, 0.05], [6, 1]);
    let pair = between(&found, tyre(Side::Left), piece(Side::Left, Part::ToeLink, ""));
    assert_near!(pair.distance, 0.3_f64.hypot(0.13) - 0.31 - 0.008, 1e-12);
    let assumed: Vec<_> =
        found.assumed_radii.iter().map(|&(side, part, radius)| (side, part, radius)).collect();
    assert!(assumed.contains(&(Some(Side::Left), Part::UpperWishbone, 0.010)), "{assumed:?}");
    assert!(!assumed.iter().any(|(_, part, _)| *part == Part::ToeLink));
    // Legs of one wishbone, and what they carry, are no pairs.
    let legs = ["front leg", "rear leg"].map(|leg| piece(Side::Left, Part::LowerWishbone, leg));
    assert!(found.joined.contains(&legs), "{:?}", found.joined);
    assert!(!found.pairs.iter().any(|pair| pair.of == legs));
}

/// What is known by hand of the joints of the same linkage: the wishbones turn by the angle whose sine is
/// travel over length, and the upright does not.
#[test]
fn joints_on_bolts() {
    let mut corner = PARALLELOGRAM.corner();
    let slope = (0.05 / LENGTH).asin();
    let check =
        |joint: Hardpoint, axis: Vector3<f64>, expected: f64, corner: &mut wheelpath_geometry::Corner| {
            corner.joint_axes = vec![(joint, axis)];
            let found = over(&car(corner.clone(), Steering::Fixed, 2.5), End::Front, [-0.01, 0.05], [7, 1]);
            let left = WheelPosition { end: End::Front, side: Side::Left };
            let one = found.joints.iter().find(|one| (one.wheel, one.joint) == (left, joint)).unwrap();
            assert!(one.on_bolt);
            assert_near!(one.angle, expected, 1e-7, "{joint}");
        };
    let corner = &mut corner;
    check(Hardpoint::ToeLinkOuter, Vector3::z(), slope, corner);
    check(Hardpoint::ToeLinkInner, Vector3::z(), slope, corner);
    check(Hardpoint::ToeLinkOuter, Vector3::x(), 0.0, corner);
    // A wishbone turns on a bolt along its hinge, and tilts on one across it, splayed legs or not.
    check(Hardpoint::LowerWishboneFront, Vector3::x(), 0.0, corner);
    check(Hardpoint::LowerWishboneFront, Vector3::z(), slope, corner);
    check(Hardpoint::LowerBallJoint, Vector3::x(), 0.0, corner);
    check(Hardpoint::LowerBallJoint, Vector3::z(), slope, corner);
    check(Hardpoint::LowerBallJoint, Vector3::y(), slope, corner);
}

/// Steering turns the ball joint about its upright bolt, which is no misalignment, but swings the links.
#[test]
fn a_kingpin_may_turn() {
    let mut corner = Steered::about_vertical(0.6, 0.12).corner();
    let plain = over(&car(corner.clone(), rack(), 2.5), End::Front, [0.0, 0.0], [1, 5]);
    corner.joint_axes =
        vec![(Hardpoint::LowerBallJoint, Vector3::z()), (Hardpoint::TieRodOuter, Vector3::z())];
    corner.joint_limits = vec![(Hardpoint::LowerBallJoint, 0.1)];
    let bolted = car(corner, rack(), 2.5);
    assert!(check(&bolted).iter().all(|finding| !finding.message.contains("joint")));
    let found = over(&bolted, End::Front, [0.0, 0.0], [1, 5]);
    let angle = |found: &Clearances, joint| found.joints.iter().find(|one| one.joint == joint).unwrap().angle;
    assert!(angle(&plain, Hardpoint::LowerBallJoint) > 0.3);
    assert_near!(angle(&found, Hardpoint::LowerBallJoint), 0.0, 1e-7);
    assert_near!(found.joints[0].margin().unwrap(), 0.1, 1e-7);
    // The same counts where poses are limited.
    let solver = CarSolver::new(&bolted).unwrap();
    let axle = solver.axle(End::Front);
    let turned = axle.solve([0.0; 2], 0.05).unwrap();
    assert!(axle.exceeded(&turned).is_empty());
    assert!(axle.joint_swing(&turned, Side::Left, Hardpoint::LowerBallJoint).unwrap() > 0.1);
}

#[test]
fn poses_out_of_reach_and_beyond_stops_are_counted_and_left_out() {
    let car = alder();
    let found = over(&car, End::Front, [0.0, 0.2], [9, 3]);
    assert_eq!(found.poses, 54);
    assert!(!found.unreachable.is_empty() && found.beyond_stops > 0);
    assert!(found.unreachable.iter().all(|stop| stop.kind != StopKind::NotFinite));
    assert!(found.unreachable.iter().any(|stop| stop.links.contains(&"pushrod")));
    // All distances are of poses within the stops, all that is left to them is not.
    let within = over(&car, End::Front, [0.0, 0.025], [9, 3]);
    assert_eq!((within.beyond_stops, within.unreachable.len()), (0, 0));
    let least = |found: &Clearances, is: &dyn Fn(&StopOf) -> bool| {
        found.stops.iter().filter(|one| is(&one.stop)).map(|one| one.margin).fold(f64::INFINITY, f64::min)
    };
    let short = |stop: &StopOf| matches!(stop, StopOf::DamperShort(_));
    assert!(least(&found, &short) < 0.0 && least(&within, &short) >= 0.0);
    assert_near!(least(&within, &|stop| matches!(stop, StopOf::Steering { .. })), 0.0, 1e-12);
    for pair in &found.pairs {
        assert!(pair.pose.travel.iter().all(|travel| travel.abs() < 0.1), "{pair:?}");
    }
}

#[test]
fn no_finer_grid_finds_the_nearest_pairs_nearer() {
    let car = alder();
    for end in End::BOTH {
        let found = over(&car, end, [-0.03, 0.03], [11, 11]);
        let fine = over(&car, end, [-0.03, 0.03], [61, 21]);
        for pair in found.pairs.iter().filter(|pair| pair.refined) {
            let there = fine.pairs.iter().find(|one| one.of == pair.of).unwrap();
            assert!(pair.distance < there.distance + 1e-7, "{pair:?} but {there:?}");
            assert!(pair.distance > there.distance - 5e-4, "{pair:?} but {there:?}");
        }
    }
}

/// The same on the left as on the right where both sides are alike, and however many threads.
#[test]
fn both_sides_and_any_number_of_threads_say_the_same() {
    let car = alder();
    let solver = CarSolver::new(&car).unwrap();
    for end in End::BOTH {
        let range = Range::of(car.axle(end), [-0.02, 0.03], 5, 5);
        let [one, three] = [1, 3].map(|threads| clearances(&car, &solver, end, &range, threads));
        assert_eq!(one, three);
        for pair in &one.pairs {
            let other = pair.of.map(|name| PartName { side: name.side.map(Side::other), ..name });
            let mirrored = one
                .pairs
                .iter()
                .find(|one| one.of == other || one.of == [other[1], other[0]])
                .unwrap_or_else(|| panic!("no pair {other:?}"));
            // Searched pairs end within the search's step of one another.
            assert_near!(mirrored.distance, pair.distance, 1e-6, "{:?}", pair.of);
        }
    }
}

#[test]
fn a_rim_s_barrel_is_inside_the_tyre() {
    let mut car = alder();
    let before = over(&car, End::Front, [-0.02, 0.02], [5, 5]);
    for side in Side::BOTH {
        let wheel = &mut car.front.corner_mut(side).wheel;
        wheel.rim_inner_radius = Some(wheel.rim_radius - 0.012);
        wheel.rim_width = Some(wheel.tyre_width);
    }
    assert!(check(&car).is_empty());
    let after = over(&car, End::Front, [-0.02, 0.02], [5, 5]);
    assert_eq!(before.assumed_rims.len(), 2);
    assert!(after.assumed_rims.is_empty());
    let mut bored = 0;
    for pair in after.pairs.iter().filter(|pair| pair.of[0].what == Solid::Rim) {
        let tyre = between(&before, PartName { what: Solid::Tyre, ..pair.of[0] }, pair.of[1]);
        // In the barrel it takes its thickness.
        if tyre.distance > 0.0 && pair.distance < tyre.distance - 0.0119 {
            assert_near!(pair.distance, tyre.distance - 0.012, 1e-3, "{:?}", pair.of);
            bored += 1;
        }
    }
    assert!(bored > 0, "nothing of the demo car is in its wheel");
}

/// Every linkage: no pair twice, none of a part with itself, every number a number.
#[test]
fn every_car_goes_through() {
    for path in CARS {
        let car = car_of(path);
        for end in End::BOTH {
            let found = over(&car, end, [-0.02, 0.02], [3, 3]);
            assert_eq!(found.unreachable.len(), 0, "{path}");
            let mut names = HashSet::new();
            for pair in &found.pairs {
                assert!(pair.of[0] != pair.of[1] && names.insert(pair.of), "{path}: {:?}", pair.of);
                assert!(pair.distance.is_finite() && pair.at.iter().flatten().all(|x| x.is_finite()));
                assert_near!((pair.at[0] - pair.at[1]).norm(), pair.distance.abs(), 1e-8, "{path}");
            }
            assert!(found.pairs.windows(2).all(|two| two[0].distance <= two[1].distance));
            assert!(found.joints.iter().all(|one| one.angle.is_finite()));
            assert_eq!(car.axle(end).pieces().is_empty(), found.pairs.is_empty(), "{path}");
        }
    }
}

/// What the demo cars teach is geometry, not parts in one another's way: at any steer between the stops, 30 mm
/// up and down, everything stays 5 mm clear, and no radius is a guess.
#[test]
fn demo_cars_clear_themselves() {
    for name in CARS.into_iter().filter(|name| name.starts_with("demo-cars/")) {
        let car = car_of(name);
        for end in End::BOTH {
            let found = over(&car, end, [-0.03, 0.03], [13, 13]);
            assert_eq!((found.unreachable.len(), found.beyond_stops), (0, 0), "{name} {end}");
            assert!(found.assumed_radii.is_empty(), "{name} {end}: {:?}", found.assumed_radii);
            let Some(nearest) = found.pairs.first() else {
                assert_eq!((name, end), ("demo-cars/sorrel.ron", End::Rear));
                continue;
            };
            let [a, b] = nearest.of;
            assert!(nearest.distance >= 0.005, "{name}: {a} and {b}: {} m", nearest.distance);
        }
    }
}
