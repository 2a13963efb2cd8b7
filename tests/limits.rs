//! Where a corner stops, against plane geometry.

use nalgebra::{Vector2, Vector3};
use wheelpath_geometry::{
    AxleSolver, Component, Corner, CornerSolver, End, Hardpoint, Link, Side, Springing, Steering, StopKind,
};
use wheelpath_tests::planar::FrontView;
use wheelpath_tests::{assert_near, demo};

const HINGE: [f64; 2] = [0.350, 0.170];
const BALL: [f64; 2] = [0.690, 0.160];
const PIVOT: [f64; 2] = [0.450, 0.550];

/// Wishbones in a plane, the wheel centre at the lower ball joint, and a pushrod from that joint to a
/// rocker about X with its tip there.
fn with_rocker(tip: [f64; 2]) -> Corner {
    let linkage = FrontView {
        lower: [HINGE, BALL],
        upper: [[0.400, 0.420], [0.640, 0.440]],
        wheel_centre: BALL,
        tyre_radius: 0.3,
    };
    let mut corner = linkage.corner();
    let at = |x: f64, [y, z]: [f64; 2]| Vector3::new(x, y, z);
    for (hardpoint, place) in [
        (Hardpoint::PushrodOuter, at(0.0, BALL)),
        (Hardpoint::PushrodInner, at(0.0, tip)),
        (Hardpoint::RockerPivot, at(0.0, PIVOT)),
        (Hardpoint::RockerAxis, at(0.1, PIVOT)),
        (Hardpoint::DamperRocker, at(0.0, [0.45, 0.62])),
        (Hardpoint::DamperBody, at(0.0, [0.20, 0.60])),
    ] {
        corner.hardpoints.set(hardpoint, place);
    }
    corner.springing = Some(Springing::Rocker { pushrod_on: Component::LowerWishbone });
    corner
}

/// Travel at which the lower ball joint stands this far from the rocker's pivot, below its hinge.
fn travel_at(distance: f64) -> f64 {
    let (hinge, ball, pivot) = (Vector2::from(HINGE), Vector2::from(BALL), Vector2::from(PIVOT));
    let (radius, across) = ((ball - hinge).norm(), pivot - hinge);
    let along = (radius.powi(2) - distance.powi(2) + across.norm_squared()) / (2.0 * across.norm());
    let off = (radius.powi(2) - along.powi(2)).sqrt();
    let unit = across.normalize();
    (hinge + unit * along + Vector2::new(unit.y, -unit.x) * off - ball).y
}

/// Rod and tip in one line reach no further.
#[test]
fn a_pushrod_out_of_reach_in_droop() {
    let tip = [0.518, 0.592];
    let solver = CornerSolver::new(&with_rocker(tip), Side::Left, &Steering::Fixed, None).unwrap();
    let rod = (Vector2::from(tip) - Vector2::from(BALL)).norm();
    let lever = (Vector2::from(tip) - Vector2::from(PIVOT)).norm();
    let stop = solver.solve(-0.25, 0.0).unwrap_err();
    assert_eq!(stop.kind, StopKind::OutOfReach);
    assert_eq!(stop.links, ["pushrod"]);
    assert_near!(stop.travel, travel_at(rod + lever), 1e-8);
    let [droop, _] = solver.travel_limits(0.0).unwrap();
    assert_near!(droop.unwrap().travel, stop.travel, 1e-8);
    assert!(stop.to_string().contains("pushrod cannot reach further"), "{stop}");
}

/// Rod folded over the tip: the wheel comes too near the pivot.
#[test]
fn a_pushrod_out_of_reach_in_bump() {
    // The tip stands beyond the pivot, seen from the ball joint.
    let tip = [0.375, 0.600];
    let solver = CornerSolver::new(&with_rocker(tip), Side::Left, &Steering::Fixed, None).unwrap();
    let rod = (Vector2::from(tip) - Vector2::from(BALL)).norm();
    let lever = (Vector2::from(tip) - Vector2::from(PIVOT)).norm();
    let stop = solver.solve(0.25, 0.0).unwrap_err();
    assert_eq!((stop.kind, stop.links.as_slice()), (StopKind::OutOfReach, ["pushrod"].as_slice()));
    assert_near!(stop.travel, travel_at(rod - lever), 1e-8);
}

/// A stretch of travel narrower than a stride, in which the pushrod cannot reach: the ball joint goes
/// a little further from the pivot than rod and lever reach, and comes back. A stride must not pass it.
#[test]
fn a_gap_in_the_pushrods_reach_is_not_stepped_over() {
    let (hinge, ball) = (Vector2::from(HINGE), Vector2::from(BALL));
    // The ball joint is furthest from a pivot that lies beyond the hinge where all three are in line.
    let radius = (ball - hinge).norm();
    let direction = (Vector2::new(radius, -0.04)).normalize();
    let pivot = hinge - direction * 0.05;
    let lever = 0.07;
    let furthest = radius + 0.05;
    // Rod and lever lack a hair of that.
    let gap = 2e-6;
    let rod = furthest - lever - gap;
    let out = ball - pivot;
    let cosine = (lever * lever + out.norm_squared() - rod * rod) / (2.0 * lever * out.norm());
    let angle = out.y.atan2(out.x) + cosine.acos();
    let tip = pivot + Vector2::new(angle.cos(), angle.sin()) * lever;
    let mut corner = with_rocker([tip.x, tip.y]);
    for (hardpoint, x) in [(Hardpoint::RockerPivot, 0.0), (Hardpoint::RockerAxis, 0.1)] {
        corner.hardpoints.set(hardpoint, Vector3::new(x, pivot.x, pivot.y));
    }
    let solver = CornerSolver::new(&corner, Side::Left, &Steering::Fixed, None).unwrap();
    let middle = (hinge + direction * radius - ball).y;
    let stop = solver.solve(2.0 * middle, 0.0).unwrap_err();
    assert_eq!((stop.kind, stop.links.as_slice()), (StopKind::OutOfReach, ["pushrod"].as_slice()));
    // The edge of the gap: law of cosines at the pivot, the triangle of hinge, pivot and ball joint.
    let half = ((0.05_f64.powi(2) + radius.powi(2) - (rod + lever).powi(2)) / (2.0 * 0.05 * radius)).acos();
    let turn = direction.y.atan2(direction.x) + (std::f64::consts::PI - half);
    let edge = (hinge + Vector2::new(turn.cos(), turn.sin()) * radius - ball).y;
    assert!((edge - middle).abs() < 0.005, "the gap is {} wide", 2.0 * (edge - middle));
    assert_near!(stop.travel, edge, 1e-8);
}

/// Stated lengths of the upper wishbone, all the way to where it and the upright come into one line,
/// and beyond: there the links cannot be put together, and it is said by how much.
#[test]
fn stated_lengths_as_far_as_they_close() {
    let upper = [[0.400, 0.420], [0.640, 0.440]];
    let linkage = FrontView { lower: [HINGE, BALL], upper, wheel_centre: BALL, tyre_radius: 0.3 };
    let (ball, pivot, pin) = (Vector2::from(BALL), Vector2::from(upper[0]), Vector2::from(upper[1]));
    let (upright, across) = ((pin - ball).norm(), ball - pivot);
    // The legs go to points 0.1 m ahead and behind.
    let solver = |arm: f64| {
        let mut corner = linkage.corner();
        corner.lengths =
            [Link::UpperFrontLeg, Link::UpperRearLeg].map(|link| (link, arm.hypot(0.1))).to_vec();
        CornerSolver::new(&corner, Side::Left, &Steering::Fixed, None)
    };
    let shortest = across.norm() - upright;
    for arm in [0.26, 0.35, 0.60, 0.20, shortest + 0.01, shortest + 1e-5] {
        let solved = *solver(arm).unwrap().start();
        // The wheel centre, at the lower ball joint, is held: circles about it and about the pivot.
        let along = (arm.powi(2) - upright.powi(2) + across.norm_squared()) / (2.0 * across.norm());
        let off = (arm.powi(2) - along.powi(2)).sqrt();
        let unit = across.normalize();
        let expected = pivot + unit * along + Vector2::new(-unit.y, unit.x) * off;
        let reached = solved.motion.steering_axis.unwrap().upper().yz();
        // The root makes little of much where the links are nearly in line.
        assert!((reached - expected).amax() < 1e-14 / off, "{arm}: {reached} is not {expected}");
        assert_near!((solved.motion.wheel_centre.yz() - ball).amax(), 0.0, 1e-12);
    }
    let stop = solver(shortest - 0.03).unwrap_err();
    assert_eq!(stop.kind, StopKind::CannotAssemble);
    assert_eq!(stop.links, ["upper wishbone, front leg", "upper wishbone, rear leg"]);
    assert_near!(stop.lacking, shortest.hypot(0.1) - (shortest - 0.03).hypot(0.1), 1e-6);
}

/// Near the dead point of a Watt's lever its equation bends so sharply that Newton's last small step leaves an
/// error that can be seen. One more closes it: a hundredth of a millimetre short of the end is not the end.
#[test]
fn an_axle_closes_near_the_dead_point_of_its_lever() {
    use Hardpoint as P;
    let mut car = demo::car_of("examples/linkages/watt_on_axle.ron");
    let axle = &mut car.rear;
    axle.left.wheel.centre = Vector3::new(-2.5008, 0.7153, 0.3495);
    for (hardpoint, x, y, z) in
        [(P::LowerLinkInner, -2.0304, 0.2549, 0.0970), (P::LowerLinkOuter, -2.4058, 0.6304, 0.4244)]
    {
        axle.left.hardpoints.set(hardpoint, Vector3::new(x, y, z));
    }
    axle.right = axle.left.mirrored();
    for (hardpoint, x, y, z) in [
        (P::TopLinkInner, -2.3904, 0.1015, 0.4733),
        (P::TopLinkOuter, -2.3598, -0.0537, 0.5820),
        (P::WattPivot, -2.8263, 0.1491, 0.4097),
        (P::WattAxis, -2.8647, 0.0335, 0.2618),
        (P::WattLeverLeft, -2.8311, -0.0212, 0.3505),
        (P::WattLeverRight, -2.8695, 0.1137, 0.1191),
        (P::WattRodLeft, -2.7820, 0.6407, 0.2650),
        (P::WattRodRight, -2.6899, -0.4872, 0.2611),
    ] {
        axle.hardpoints.set(hardpoint, Vector3::new(x, y, z));
    }
    let axle = AxleSolver::new(&car, End::Rear).unwrap();
    let stop = axle.solve([0.15, 0.0], 0.0).unwrap_err();
    assert_near!(stop.travel, 0.041_926, 1e-6);
    axle.solve([0.041_925, 0.0], 0.0).unwrap();
}

/// Of two unlike corners the one that stops first is named, on either side.
#[test]
fn an_axle_stops_where_its_first_corner_does() {
    for shorter in Side::BOTH {
        let mut car = demo::alder();
        let corner = car.front.corner_mut(shorter);
        for hardpoint in [Hardpoint::UpperWishboneFront, Hardpoint::UpperWishboneRear] {
            let at = corner.hardpoints.get(hardpoint).unwrap();
            corner.hardpoints.set(hardpoint, Vector3::new(at.x, at.y, at.z + 0.06));
        }
        let axle = AxleSolver::new(&car, End::Front).unwrap();
        for (travel, steer) in [(0.3, 0.0), (-0.3, 0.01), (0.0, 0.3), (0.01, -0.3)] {
            let own = Side::BOTH.map(|side| axle.corner(side).unwrap().solve(travel, steer).unwrap_err());
            let far = own.each_ref().map(|stop| stop.travel.abs() + stop.steer.abs());
            assert!((far[0] - far[1]).abs() > 1e-3, "{own:?} are too near to tell");
            let first = if far[0] < far[1] { Side::Left } else { Side::Right };
            let stop = axle.solve([travel; 2], steer).unwrap_err();
            assert_eq!(stop.wheel.map(|at| at.side), Some(first), "{stop}, but {own:?}");
            let followed = axle.follow(&axle.start(), [travel; 2], steer).unwrap_err();
            let own = Side::BOTH.map(|side| {
                let corner = axle.corner(side).unwrap();
                corner.follow(corner.start(), travel, steer).unwrap_err().travel.abs()
            });
            if travel != 0.0 {
                assert_near!(followed.travel.abs(), own[0].min(own[1]), 1e-9);
            }
        }
    }
}

/// A T-bar's drop link that reaches no further is the end, however far the wheels are sent.
#[test]
fn an_axle_stops_where_its_t_bar_does() {
    let mut car = demo::car_of("examples/linkages/pullrod_t_bar.ron");
    // A foot so near its crossbar that it soon swings no further.
    car.front.hardpoints.set(Hardpoint::TBarPivot, Vector3::new(-0.036, 0.0, 0.268));
    car.front.hardpoints.set(Hardpoint::TBarAxis, Vector3::new(-0.036, 0.05, 0.268));
    let axle = AxleSolver::new(&car, End::Front).unwrap();
    let mut ends = 0;
    for i in 0..24 {
        let angle = f64::from(i) * std::f64::consts::TAU / 24.0;
        let stops = [0.15, 0.25, 0.4, 0.9]
            .map(|far| axle.solve([far * angle.cos(), far * angle.sin()], 0.0).err())
            .map(|stop| stop.filter(|stop| stop.links == ["drop link"]));
        let [Some(near), rest @ ..] = stops else { continue };
        ends += 1;
        for far in rest {
            let far = far.unwrap_or_else(|| panic!("{near}, but further on something else is told"));
            assert_near!(far.travel, near.travel, 1e-6);
        }
    }
    assert!(ends > 5, "the T-bar ends only {ends} of the ways");
}
