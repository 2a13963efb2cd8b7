//! The wheels held against the body, the car laid down on them.

use crate::roads::{ARM, BASE, HINGE, heights, parallel_car};
use nalgebra::Vector3;
use proptest::prelude::*;
use wheelpath_geometry::{BodyPose, CarSolver, RoadSolver, Side, Support, WheelPosition};
use wheelpath_tests::{assert_near, demo};

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    /// Travels at which all four tyres touch one road lay the car down on that road.
    #[test]
    fn standing_and_resting_agree(front in -0.02..0.02, rear in -0.02..0.02, roll in -0.02..0.02, steer in -0.03..0.03) {
        let car = demo::alder();
        let solver = CarSolver::new(&car).unwrap();
        let road = RoadSolver::new(&car, &solver);
        let standing = road.stand(&BodyPose { front, rear, roll }, steer).unwrap();
        let resting = road.rest(standing.solved.pose.travel, steer).unwrap();
        assert_eq!(resting.support, Support::Four);
        assert_near!(resting.body.front, front, 1e-12);
        assert_near!(resting.body.rear, rear, 1e-12);
        assert_near!(resting.body.roll, roll, 1e-12);
        assert_near!(resting.pitch, standing.pitch, 1e-12);
    }

    /// Any travels: no tyre is in the road, three touch it, and the centre of gravity is between them.
    #[test]
    fn the_car_stands_on_three_or_four(travel in prop::array::uniform4(-0.02..0.02)) {
        let car = demo::alder();
        let solver = CarSolver::new(&car).unwrap();
        let road = RoadSolver::new(&car, &solver);
        let resting = road.rest(travel, 0.0).unwrap();
        let touching: Vec<usize> = (0..4).filter(|&i| resting.gaps[i] == 0.0).collect();
        prop_assert!(touching.len() >= 3, "{:?}", resting.gaps);
        prop_assert!(resting.gaps.iter().all(|&gap| gap >= 0.0), "{:?}", resting.gaps);
        // In the road's own axes, built anew.
        let turn = crate::roads::road_from_body(resting.body.roll, -resting.ground.normal.x.asin());
        let lowest = WheelPosition::ALL.map(|at| crate::roads::lowest(&turn, resting.solved.axle(at.end).motion.corner(at.side)));
        let road_height = lowest[touching[0]].z;
        for (i, point) in lowest.iter().enumerate() {
            assert_near!(point.z - road_height, resting.gaps[i], 3e-12);
        }
        let centre = turn * road.centre_of_gravity();
        let sides: Vec<f64> = [(0, 1), (1, 2), (2, 0)]
            .iter()
            .map(|&(i, j)| {
                let (a, b) = (lowest[touching[i]].xy(), lowest[touching[j]].xy());
                (b - a).normalize().perp(&(centre.xy() - a))
            })
            .collect();
        if !matches!(resting.support, Support::Rocks { .. }) {
            let all_one_way = sides.iter().all(|&s| s > -1e-6) || sides.iter().all(|&s| s < 1e-6);
            prop_assert!(all_one_way, "{sides:?} {:?}", resting.support);
        }
    }
}

/// One wheel of a rectangular car pulled up by `x`: it rocks about the other diagonal, on which its
/// middle stands, and the free wheel hangs by `x`, as in any parallelogram (`x` to first order).
#[test]
fn a_rectangular_car_rocks_on_its_diagonal() {
    let car = parallel_car();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let x = 1e-4;
    let resting = road.rest([x, 0.0, 0.0, 0.0], 0.0).unwrap();
    let Support::Rocks { lifted, second } = resting.support else { panic!("{:?}", resting.support) };
    assert_eq!(lifted.map(|(wheel, _)| wheel.index()), [0, 3]);
    for (_, gap) in lifted {
        assert_near!(gap, x, 1e-7);
    }
    // With the left front wheel in the air the plane is the design's; on it, it is tipped by x over
    // half the base and half the track.
    let track = 2.0 * (HINGE + ARM);
    assert_near!(resting.body.roll, 0.0, 1e-12);
    assert_near!((-second.normal.y).atan2(second.normal.z), x / track, 1e-8);
    assert_near!(-second.normal.x, x / BASE, 1e-8);
}

/// All wheels up alike: the body comes down, level.
#[test]
fn wheels_up_is_body_down() {
    let car = parallel_car();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let resting = road.rest([0.02; 4], 0.0).unwrap();
    assert_eq!(resting.support, Support::Four);
    assert_near!(resting.body.front, -0.02, 1e-13);
    assert_near!(resting.body.rear, -0.02, 1e-13);
    // Left wheels up, right wheels down: the left side comes down.
    let resting = road.rest([0.02, -0.02, 0.02, -0.02], 0.0).unwrap();
    assert_eq!(resting.support, Support::Four);
    let standing = road.stand(&resting.body, 0.0).unwrap();
    assert!(resting.body.roll < -0.03, "{}", resting.body.roll);
    for at in WheelPosition::ALL {
        assert_near!(standing.travel(at), 0.02 * Side::sign(at.side), 1e-12);
    }
    let feet = [Vector3::zeros(), Vector3::new(-BASE, 0.0, 0.0)];
    for height in heights(&standing, feet).0 {
        assert_near!(height, 0.0, 1e-12);
    }
}

/// With more weight in front the same car stands on its front wheels and the rear one across: no choice.
#[test]
fn the_heavier_end_stays_down() {
    let mut car = parallel_car();
    let x = 1e-3;
    for (share, lifted) in [(0.6, 3), (0.4, 0)] {
        car.weight_share_front = Some(share);
        let solver = CarSolver::new(&car).unwrap();
        let resting = RoadSolver::new(&car, &solver).rest([x, 0.0, 0.0, 0.0], 0.0).unwrap();
        let Support::Three { lifted: wheel, gap } = resting.support else { panic!("{:?}", resting.support) };
        assert_eq!(wheel.index(), lifted);
        assert_near!(gap, x, 1e-5);
        assert_near!(resting.gaps[lifted], gap, 0.0);
    }
    // Weight behind the rear axle falls over its line.
    car.weight_share_front = Some(-0.1);
    let solver = CarSolver::new(&car).unwrap();
    let resting = RoadSolver::new(&car, &solver).rest([0.0; 4], 0.0).unwrap();
    let Support::Falls { outside } = resting.support else { panic!("{:?}", resting.support) };
    assert_near!(outside, 0.1 * BASE, 1e-9);
}
