//! How far the parts of a car go, and what ends each motion.

use wheelpath_geometry::{
    AxleSolver, Component, CornerSolver, EndedBy, Exceeded, FURTHEST, Hardpoint, Side, Springing, Steering,
    StopKind, Travelling,
};
use wheelpath_geometry::{Car, End, Link, WheelPosition, check};
use wheelpath_tests::assert_near;
use wheelpath_tests::demo::alder;
use wheelpath_tests::planar::{FrontView, car};

fn front(car: &Car) -> AxleSolver {
    AxleSolver::new(car, End::Front).unwrap()
}

#[test]
fn a_damper_ends_the_travel_at_its_stops() {
    let car = alder();
    let axle = front(&car);
    let stops = car.front.left.damper.unwrap();
    for (end, length) in
        axle.travel_reach(Travelling::Both, 0.0).unwrap().iter().zip([stops.longest, stops.shortest])
    {
        let EndedBy::Stop(found) = &end.by else { panic!("{end:?}") };
        assert!(matches!(found, Exceeded::DamperLong { .. } | Exceeded::DamperShort { .. }));
        let there = axle.solve([end.at; 2], 0.0).unwrap();
        assert_near!(there.motion.left.damper.unwrap().value, length, 1e-8);
        assert!(axle.exceeded(&there).is_empty());
        let beyond = axle.solve([end.at * (1.0 + 1e-6); 2], 0.0).unwrap();
        assert!(!axle.exceeded(&beyond).is_empty());
    }
}

#[test]
fn the_rack_s_stops_end_the_steering() {
    let car = alder();
    let [right, left] = front(&car).steer_reach([0.0; 2]).unwrap();
    let rack = car.front.steering.rack().unwrap();
    assert_near!(left.at, rack.stop_left, 1e-8);
    assert_near!(right.at, -rack.stop_right, 1e-8);
    assert_eq!(left.by.to_string(), "the rack's stop");
}

#[test]
fn without_stops_the_links_end_it_at_their_dead_point() {
    let mut car = alder();
    for at in WheelPosition::ALL {
        let corner = car.corner_mut(at);
        (corner.damper, corner.springing, corner.drop_link_on) = (None, None, None);
    }
    car.front.steering = match car.front.steering {
        Steering::Rack(mut rack) => {
            (rack.stop_left, rack.stop_right) = (1.0, 1.0);
            Steering::Rack(rack)
        }
        other => other,
    };
    let axle = front(&car);
    let limits = axle.steer_limits(Side::Left);
    let ends = axle.steer_reach([0.0; 2]).unwrap();
    let mut found = 0;
    for (end, limit) in ends.iter().zip(&limits) {
        match (&end.by, limit) {
            (EndedBy::Linkage(stop), Some(limit)) => {
                assert_eq!(stop.kind, StopKind::DeadPoint);
                assert!(!stop.links.is_empty());
                // The right wheel may be the one that ends it sooner.
                assert!(end.at.abs() <= limit.steer.abs() + 1e-8, "{end:?} {limit:?}");
                found += 1;
            }
            (EndedBy::Nothing, _) => assert_near!(end.at.abs(), FURTHEST, 1e-12),
            other => panic!("{other:?}"),
        }
    }
    assert!(found > 0);
}

/// In a front view whose links lie in one plane the joint's swing is the difference of two angles of a
/// four-bar linkage: wishbone against upright.
#[test]
fn a_joint_s_swing_is_the_angle_between_its_parts() {
    let linkage = FrontView {
        upper: [[0.400, 0.420], [0.640, 0.440]],
        lower: [[0.350, 0.170], [0.690, 0.160]],
        wheel_centre: [0.750, 0.310],
        tyre_radius: 0.310,
    };
    let mut plain = car(linkage.corner(), Steering::Fixed, 2.5);
    let axle = front(&plain);
    for travel in [-0.05, -0.01, 0.03, 0.06] {
        let solved = axle.solve([travel, 0.0], 0.0).unwrap();
        let points = axle.points(&solved, Side::Left);
        let at = |hardpoint| points.iter().find(|(p, _)| *p == hardpoint).unwrap().1;
        let angle = |a: Hardpoint, b: Hardpoint| (at(b).z - at(a).z).atan2(at(b).y - at(a).y);
        let wishbone =
            angle(Hardpoint::LowerWishboneFront, Hardpoint::LowerBallJoint) - (-0.010_f64).atan2(0.340);
        let upright = angle(Hardpoint::LowerBallJoint, Hardpoint::UpperBallJoint) - 0.280_f64.atan2(-0.050);
        let swing = axle.joint_swing(&solved, Side::Left, Hardpoint::LowerBallJoint).unwrap();
        // The legs are splayed: seen along a leg the turn is less than the turn of the plane.
        let leg = plain.front.left.hardpoints.get(Hardpoint::LowerWishboneFront).unwrap()
            - plain.front.left.hardpoints.get(Hardpoint::LowerBallJoint).unwrap();
        let off_axis = leg.yz().norm() / leg.norm();
        let turn: f64 = (wishbone - upright).abs();
        let chord = 2.0 * (off_axis * (0.5 * turn).sin()).asin();
        assert_near!(swing, chord, 1e-12, "{travel}");
        assert_near!(axle.joint_swing(&solved, Side::Right, Hardpoint::LowerBallJoint).unwrap(), 0.0, 1e-12);
        assert!(axle.joint_swing(&solved, Side::Left, Hardpoint::PushrodOuter).is_none());
    }
    let limit = 0.1;
    plain.front.left.joint_limits.push((Hardpoint::LowerBallJoint, limit));
    let axle = front(&plain);
    let [droop, bump] = axle.travel_reach(Travelling::Both, 0.0).unwrap();
    for end in [droop, bump] {
        assert!(
            matches!(end.by, EndedBy::Stop(Exceeded::Joint { joint: Hardpoint::LowerBallJoint, .. })),
            "{end:?}"
        );
        let there = axle.solve([end.at; 2], 0.0).unwrap();
        assert_near!(axle.joint_swing(&there, Side::Left, Hardpoint::LowerBallJoint).unwrap(), limit, 1e-7);
    }
    plain.front.left.joint_limits[0].1 = -1.0;
    assert!(check(&plain).iter().any(|finding| finding.message.contains("its joint limit is")));
}

/// In plane geometry the upper wishbone of a four-bar holds the upright by the distance of its line from
/// the crossing of the lower wishbone's line with the level through the wheel centre's path; toward the
/// dead point that lever goes to zero as the square root of the travel left.
#[test]
fn a_pose_near_a_dead_point_says_how_soft_it_is() {
    let linkage = FrontView {
        upper: [[0.400, 0.420], [0.640, 0.440]],
        lower: [[0.350, 0.170], [0.690, 0.160]],
        wheel_centre: [0.750, 0.310],
        tyre_radius: 0.310,
    };
    let car = car(linkage.corner(), Steering::Fixed, 2.5);
    let axle = front(&car);
    assert!(axle.near_dead_point(&axle.start(), Side::Left).is_none());
    let [droop, bump] = axle.travel_limits(Side::Left, 0.0).unwrap();
    let end = droop.or(bump).unwrap().travel;
    let soft = |left: f64| {
        let solved = axle.solve([end * (1.0 - left), 0.0], 0.0).unwrap();
        (axle.turn_per_metre(&solved, Side::Left), axle.near_dead_point(&solved, Side::Left))
    };
    let (a, _) = soft(1e-4);
    let (b, near) = soft(1e-6);
    // A hundredth of the way left: ten times as soft.
    assert_near!(b / a, 10.0, 0.05);
    let near = near.unwrap();
    assert!(near.links.iter().any(|link| link.contains("wishbone")), "{near}");
    assert!(near.rounding() < 1e-10 && near.to_string().contains("tenth of a millimetre"));
    // And so it is: a link made longer by ten nanometres turns the wheel by as much.
    let mut changed = car.clone();
    let side = Side::Left;
    let length = |car: &Car, link: Link| {
        let at = |hardpoint| car.front.left.hardpoints.get(hardpoint).unwrap();
        (at(link.ends().1) - at(link.ends().0)).norm()
    };
    let mut most = 0.0_f64;
    let far = end * (1.0 - 1e-3);
    let softness = axle.turn_per_metre(&axle.solve([far, 0.0], 0.0).unwrap(), side);
    for link in axle.links(side) {
        changed.front.left.lengths = vec![(link, length(&car, link) + 1e-8)];
        let moved = front(&changed);
        let turn =
            |axle: &AxleSolver| axle.upright(&axle.solve([far, 0.0], 0.0).unwrap(), side).car_from_body;
        let difference = turn(&moved) * turn(&axle).transpose();
        let angle = (difference - difference.transpose()).norm() / 8.0_f64.sqrt();
        most = most.max(angle / 1e-8);
    }
    assert_near!(most / softness, 1.0, 1e-2);
}

/// A limit that a rod to the damper's rocker sets is a rod out of reach, with the rod's name.
#[test]
fn a_pushrod_that_cannot_reach_ends_the_travel() {
    let mut car = alder();
    for side in Side::BOTH {
        let corner = car.front.corner_mut(side);
        corner.damper = None;
        assert_eq!(corner.springing, Some(Springing::Rocker { pushrod_on: Component::LowerWishbone }));
        corner.drop_link_on = None;
        corner.joint_limits.clear();
    }
    let axle = front(&car);
    let [_, bump] = axle.travel_reach(Travelling::Both, 0.0).unwrap();
    let EndedBy::Linkage(stop) = &bump.by else { panic!("{bump:?}") };
    assert_eq!(stop.kind, StopKind::OutOfReach);
    assert_eq!(bump.by.to_string(), "pushrod");
    let corner: &CornerSolver = axle.corner(Side::Left).unwrap();
    assert_near!(bump.at, corner.travel_limits(0.0).unwrap()[1].as_ref().unwrap().travel, 1e-6);
}
