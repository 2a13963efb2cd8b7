//! No number makes the library panic or hang: it answers, or says what is wrong.

use nalgebra::Vector3;
use proptest::prelude::*;
use wheelpath_geometry::{
    Alignment, AxlePose, CamberBy, Car, CarPose, CarSolver, ChangedOn, Component, Corner, DamperStops, End,
    Hardpoint, Link, Links, Severity, Side, Springing, Steering, ToeBy, WheelPosition, check,
};
use wheelpath_tests::demo::alder;

/// Numbers that break things.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        Just(0.0),
        Just(-0.0),
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(f64::NEG_INFINITY),
        Just(f64::MAX),
        Just(f64::MIN_POSITIVE),
        Just(1e-310),
        Just(1e9),
        Just(-40.0),
        -1.0..1.0_f64,
        any::<f64>(),
    ]
}

/// One thing wrong with a corner.
#[derive(Clone, Debug)]
enum Wrong {
    Coordinate(usize, usize, f64),
    SameAs(usize, usize),
    Missing(usize),
    Centre(usize, f64),
    SpinAxis(usize, f64),
    Tyre(usize, f64),
    Length(usize, f64),
    Toe(f64),
    Camber(f64),
    Stops(f64, f64),
    PushrodOn(usize),
    DamperOn(usize),
    DropLinkOn(usize),
}

fn wrong() -> impl Strategy<Value = Wrong> {
    let point = 0..Hardpoint::COUNT;
    prop_oneof![
        (point.clone(), 0..3_usize, number()).prop_map(|(p, axis, x)| Wrong::Coordinate(p, axis, x)),
        (point.clone(), point.clone()).prop_map(|(a, b)| Wrong::SameAs(a, b)),
        point.prop_map(Wrong::Missing),
        (0..3_usize, number()).prop_map(|(axis, x)| Wrong::Centre(axis, x)),
        (0..3_usize, number()).prop_map(|(axis, x)| Wrong::SpinAxis(axis, x)),
        (0..3_usize, number()).prop_map(|(which, x)| Wrong::Tyre(which, x)),
        (0..Link::COUNT, number()).prop_map(|(link, x)| Wrong::Length(link, x)),
        number().prop_map(Wrong::Toe),
        number().prop_map(Wrong::Camber),
        (number(), number()).prop_map(|(a, b)| Wrong::Stops(a, b)),
        (0..4_usize).prop_map(Wrong::PushrodOn),
        (0..4_usize).prop_map(Wrong::DamperOn),
        (0..4_usize).prop_map(Wrong::DropLinkOn),
    ]
}

fn spoil(corner: &mut Corner, wrong: &Wrong) {
    let carriers =
        [Component::UpperWishbone, Component::LowerWishbone, Component::Upright, Component::Rocker];
    match *wrong {
        Wrong::Coordinate(p, axis, x) => {
            let hardpoint = Hardpoint::ALL[p];
            let mut at = corner.hardpoints.get(hardpoint).unwrap_or_else(Vector3::zeros);
            at[axis] = x;
            corner.hardpoints.set(hardpoint, at);
        }
        Wrong::SameAs(a, b) => {
            if let Some(at) = corner.hardpoints.get(Hardpoint::ALL[b]) {
                corner.hardpoints.set(Hardpoint::ALL[a], at);
            }
        }
        Wrong::Missing(p) => corner.hardpoints.remove(Hardpoint::ALL[p]),
        Wrong::Centre(axis, x) => corner.wheel.centre[axis] = x,
        Wrong::SpinAxis(axis, x) => corner.wheel.spin_axis[axis] = x,
        Wrong::Tyre(0, x) => corner.wheel.tyre_radius = x,
        Wrong::Tyre(1, x) => corner.wheel.tyre_width = x,
        Wrong::Tyre(_, x) => corner.wheel.rim_radius = x,
        Wrong::Length(link, x) => corner.lengths.push((Link::ALL[link], x)),
        Wrong::Toe(x) => corner.alignment = Alignment { toe: ToeBy::TieRodLength(x), ..corner.alignment },
        Wrong::Camber(x) => {
            corner.alignment = Alignment { camber: CamberBy::Adjuster(x), ..corner.alignment }
        }
        Wrong::Stops(shortest, longest) => corner.damper = Some(DamperStops { shortest, longest }),
        Wrong::PushrodOn(c) => corner.springing = Some(Springing::Rocker { pushrod_on: carriers[c] }),
        Wrong::DamperOn(c) => corner.springing = Some(Springing::Direct { on: carriers[c] }),
        Wrong::DropLinkOn(c) => corner.drop_link_on = Some(carriers[c]),
    }
}

/// Everything the library does with a car.
fn everything(car: &Car, pose: &CarPose) {
    let faulty = check(car).iter().any(|finding| finding.severity == Severity::Fault);
    let solver = match CarSolver::new(car) {
        Ok(solver) => solver,
        Err(stops) => {
            assert!(faulty, "{stops:?}, though check finds no fault");
            assert!(stops.iter().all(|stop| !stop.to_string().is_empty()));
            return;
        }
    };
    let travels = [0.0, pose.travel[0], 0.01, pose.travel[1]];
    let poses = travels.map(|t| AxlePose { travel: [t, -t], steer: pose.steer });
    for end in End::BOTH {
        let axle = solver.axle(end);
        assert_eq!(axle.sweep(&poses).len(), poses.len());
        for parameter in axle.parameters(Side::Left) {
            let _ = axle.sensitivity(&axle.start(), parameter, ChangedOn::One(Side::Left), Links::Kept);
        }
        for side in Side::BOTH {
            let _ = axle.corner(side).unwrap().travel_limits(pose.steer);
            let _ = axle.corner(side).unwrap().steer_limits();
        }
    }
    match solver.solve(pose) {
        Err(stop) => assert!(!stop.to_string().is_empty()),
        Ok(solved) => {
            for at in WheelPosition::ALL {
                assert!(solved.axle(at.end).residual(at.side) < 1e-12);
                let _ = solver.points(&solved, at);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, max_shrink_time: 20_000, ..ProptestConfig::default() })]

    #[test]
    fn spoiled_corners(
        faults in prop::collection::vec((0..4_usize, wrong()), 1..4), travel in prop::array::uniform4(number()), rack in number(),
    ) {
        let mut car = alder();
        for (corner, wrong) in &faults {
            spoil(car.corner_mut(WheelPosition::ALL[*corner]), wrong);
        }
        everything(&car, &CarPose { travel, steer: rack });
    }

    #[test]
    fn spoiled_cars(
        numbers in prop::array::uniform9(number()), travel in prop::array::uniform4(-0.05..0.05), rack in number(),
    ) {
        let mut car = alder();
        let [wheelbase, height, share, x, y, z, turn, left, right] = numbers;
        car.wheelbase = wheelbase;
        car.centre_of_gravity_height = Some(height);
        car.brake_share_front = Some(share);
        if let Steering::Rack(rack) = &mut car.front.steering {
            rack.axis = Vector3::new(x, y, z);
            (rack.travel_per_turn, rack.stop_left, rack.stop_right) = (turn, left, right);
        }
        everything(&car, &CarPose { travel, steer: rack });
    }
}

#[test]
fn poses_that_are_no_numbers_are_refused() {
    let solver = CarSolver::new(&alder()).unwrap();
    for x in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        for pose in [CarPose::heave(x), CarPose::steered(x)] {
            let stop = solver.solve(&pose).unwrap_err();
            assert_eq!(stop.kind, wheelpath_geometry::StopKind::NotFinite);
            assert!(stop.to_string().contains("not a finite number"), "{stop}");
        }
    }
}
