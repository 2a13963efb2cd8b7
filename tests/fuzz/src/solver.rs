//! A car and its poses: checked, solved, read. What the check lets pass must solve at the design pose, every
//! pose is a pose of the links as they are or a stop with its reason, and every reading is a number or is
//! documented to be absent.

use crate::case::Case;
use crate::lengths::assert_kept;
use crate::paths::{Target, allowed, apart, assert_same_end};
use nalgebra::Vector3;
use std::sync::LazyLock;
use wheelpath_geometry::{
    Axle, AxlePose, AxleSolver, BarKind, BodyPose, CLOSED, Car, CarPose, CarSolver, ChangedOn, Corner,
    CornerSolver, Cornering, End, Hardpoint, Links, Reading, RoadSolver, Severity, Side, SolvedCar,
    Springing, SteerInput, Stop, Travelling, WheelPosition, axle_readings, check, exceeded, wheel_readings,
};

/// A car that is built from bytes goes through everything.
pub fn try_case(case: &Case) {
    let poses = case.poses.map(|pose| pose.asked());
    try_car(&case.car(), &poses);
}

/// A car goes through everything, at these poses.
pub fn try_car(car: &Car, poses: &[CarPose]) {
    let findings = check(car);
    for finding in &findings {
        assert!(!finding.message.is_empty() && !finding.hint.is_empty(), "{finding:?}");
    }
    let sound = findings.iter().all(|finding| finding.severity != Severity::Fault);
    let solver = match CarSolver::new(car) {
        Ok(solver) => solver,
        Err(stops) => {
            assert!(!sound, "check finds no fault, but: {stops:?}");
            stops.iter().for_each(assert_says);
            return;
        }
    };
    let start = solver.start();
    if sound {
        assert_whole(car, &solver, &start, &start, "the design pose");
    }
    let mut last = start;
    for pose in poses {
        let direct = solver.solve(pose);
        let chained = solver.follow(&last, pose);
        for stop in [direct.as_ref().err(), chained.as_ref().err()].into_iter().flatten() {
            assert_says(stop);
        }
        if sound {
            for solved in [&direct, &chained].into_iter().flatten() {
                assert_whole(car, &solver, &start, solved, &format!("{pose:?}"));
            }
            for end in End::BOTH {
                ways(solver.axle(end), car.axle(end), &last.pose, pose);
            }
        }
        if let Some(solved) = chained.ok().or(direct.ok()) {
            last = solved;
        }
    }
    if let Some(pose) = poses.first().filter(|_| sound) {
        on_the_road(car, &solver, pose);
    }
    for end in End::BOTH {
        the_rest(solver.axle(end), poses, sound);
    }
}

/// A stop says why in words and where in finite numbers.
fn assert_says(stop: &Stop) {
    assert!(!stop.to_string().is_empty());
    assert!(stop.travel.is_finite() && stop.steer.is_finite(), "{stop:?}");
}

/// A solved pose is closed, its points stand somewhere, links keep their lengths, readings are numbers.
fn assert_whole(car: &Car, solver: &CarSolver, start: &SolvedCar, solved: &SolvedCar, what: &str) {
    for at in WheelPosition::ALL {
        let what = format!("{at}, {what}");
        let axle = solved.axle(at.end);
        let residual = axle.residual(at.side);
        assert!(residual <= CLOSED, "{what}: open by {residual:e}");
        let rise = solved.wheel(at).wheel_centre.z - start.wheel(at).wheel_centre.z;
        assert!((rise - solved.pose.travel_of(at)).abs() <= 1e-9, "{what}: the wheel travels {rise}");
        assert_finite(&solver.points(solved, at), &what);
        let values = axle.wheel_values(at.side);
        let own = car.axle(at.end);
        let corner = car.corner(at);
        // A wheel of the linkages without a tie rod does not steer.
        let steered = own.steering.steers() && corner.linkage.has_toe_link();
        let has = Has {
            damper: corner.springing.is_some(),
            rocker: matches!(corner.springing, Some(Springing::Rocker { .. })),
            bar: corner.drop_link_on.is_some() && own.bar_kind() == Some(BarKind::U),
            rack: steered && own.steering.input() == SteerInput::RackTravel,
            pitman: steered && own.steering.input() == SteerInput::PitmanAngle,
            beam: own.is_beam(),
            ..Has::default()
        };
        wheel_readings().iter().for_each(|r| assert_number(r, values.0.get(r.index), has, &what));
    }
    for end in End::BOTH {
        let values = solved.axle(end).axle_values();
        let what = format!("{end}, {what}");
        let own = car.axle(end);
        assert_finite(&solver.axle_points(solved, end), &what);
        assert_kept(solver.axle(end), own, start.axle(end), solved.axle(end), &what);
        let both = |has: fn(&Corner) -> bool| has(&own.left) && has(&own.right);
        let drop_links = both(|corner| corner.drop_link_on.is_some());
        let has = Has {
            twist: drop_links,
            t_bar: drop_links && own.bar_kind() == Some(BarKind::T),
            third: own.third_spring.is_some(),
            steering: own.steering.steers() && both(|corner| corner.linkage.has_toe_link()),
            ..Has::default()
        };
        axle_readings().iter().for_each(|r| assert_number(r, values.0.get(r.index), has, &what));
        for stop in solver.axle(end).exceeded(solved.axle(end)) {
            assert!(stop.beyond() > 0.0 && !stop.to_string().is_empty() && !stop.part().is_empty());
        }
    }
    for stop in exceeded(car, solved) {
        assert!(stop.beyond() > 0.0 && !stop.to_string().is_empty());
    }
}

fn assert_finite(points: &[(Hardpoint, Vector3<f64>)], what: &str) {
    for (hardpoint, place) in points {
        assert!(place.iter().all(|x| x.is_finite()), "{what}: {hardpoint} stands at {place}");
    }
}

/// What a corner or axle has, where readings may be absent for want of it.
#[derive(Clone, Copy, Default)]
struct Has {
    damper: bool,
    rocker: bool,
    bar: bool,
    twist: bool,
    t_bar: bool,
    third: bool,
    steering: bool,
    rack: bool,
    pitman: bool,
    beam: bool,
}

/// Reasons of the catalogue for an absent reading that end where the corner or axle has the thing.
const FOR_WANT: [(&str, fn(Has) -> bool); 10] = [
    ("the corner has no damper", |has| has.damper),
    ("the corner has no rocker", |has| has.rocker),
    ("the corner hangs on no anti-roll bar with arms", |has| has.bar),
    ("the axle has no anti-roll bar with a drop link on both sides", |has| has.twist),
    ("the axle has no T-bar", |has| has.t_bar),
    ("the axle has no third spring", |has| has.third),
    ("the wheel is not steered, or a steering box steers it", |has| has.rack),
    ("the wheel is not steered, or a rack steers it", |has| has.pitman),
    ("each wheel of this axle moves on its own, so the other makes no difference", |has| has.beam),
    ("the axle is not steered", |has| has.steering),
];

/// The catalogue's words may change: then the list above must.
static WORDS: LazyLock<()> = LazyLock::new(|| {
    for (reason, _) in FOR_WANT {
        let mut all = wheel_readings().iter().chain(axle_readings());
        assert!(all.any(|reading| reading.absent == reason), "no reading is absent because {reason}");
    }
});

fn assert_number(reading: &Reading, value: Option<&f64>, has: Has, what: &str) {
    LazyLock::force(&WORDS);
    let value = value.copied().unwrap_or(f64::NAN);
    let there = FOR_WANT.iter().any(|(reason, has_it)| *reason == reading.absent && has_it(has));
    assert!(
        value.is_finite() || !(reading.absent.is_empty() || there),
        "{what}: {} is {value}, though it is never absent here",
        reading.key
    );
}

fn target(pose: &CarPose, end: End) -> Target {
    let [a, b, c, d] = pose.travel;
    match end {
        End::Front => ([a, b], pose.steer),
        // Rear steering stays centred.
        End::Rear => ([c, d], 0.0),
    }
}

/// Steering first, travel first, both at once, in one stride or many, by way of another pose: all one pose.
fn ways(solver: &AxleSolver, axle: &Axle, before: &CarPose, pose: &CarPose) {
    let end = solver.end();
    let (travel, steer) = target(pose, end);
    if !(travel[0].abs().max(travel[1].abs()) <= 0.35 && steer.abs() <= 0.35) {
        return;
    }
    let part = |share: f64| (travel.map(|t| t * share), steer * share);
    let straight = [part(0.5), part(1.0)];
    let what = format!("{end} axle");
    // Which of the ways is left to the input: all of them would take the time of many inputs.
    let by_way_of = match pose.travel[1].to_bits() % 3 {
        0 => ([0.0; 2], steer),
        1 => (travel, 0.0),
        _ => target(before, end),
    };
    assert_same_end(solver, &straight, &[by_way_of, part(1.0)], &what);
    // One stride or many: what stops one stops the other.
    let great = solver.follow(&solver.start(), travel, steer);
    let mut small = Ok(solver.start());
    for i in 1..=12 {
        let (travel, steer) = if i == 12 { (travel, steer) } else { part(f64::from(i) / 12.0) };
        small = small.and_then(|here| solver.follow(&here, travel, steer));
    }
    // How much of the way is done at a stop.
    let share = |stop: &Stop| {
        let side = stop.wheel.map_or(Side::Left, |at| at.side);
        let own = travel[usize::from(side == Side::Right)];
        if own == 0.0 { stop.steer / steer } else { stop.travel / own }
    };
    match (great, small) {
        (Ok(great), Ok(small)) => {
            let off = apart(solver, &great, &small);
            assert!(off <= allowed(&great, &small), "{what}: strides end {off:e} apart at {pose:?}");
            // And the way back ends at the start.
            let back = solver.follow(&great, [0.0; 2], 0.0).unwrap_or_else(|stop| panic!("{what}: {stop}"));
            let off = apart(solver, &back, &solver.start());
            assert!(off <= allowed(&back, &solver.start()), "{what}: back, but {off:e} off from {pose:?}");
        }
        // Where a T-bar reaches no further is looked for a hundredth of a metre at a time: of two gaps in its
        // reach that near to one another, one stride may find the one and another the other.
        _ if axle.bar_kind() == Some(BarKind::T) => {}
        (Err(a), Err(b)) => {
            let named = |stop: &Stop| stop.wheel.map(|at| at.side);
            let off = (a.travel - b.travel).abs().max((a.steer - b.steer).abs());
            // Of two corners that stop at nearly one place, either may be named.
            let off = if named(&a) == named(&b) { off } else { (share(&a) - share(&b)).abs() };
            // Near a dead point rounding decides where it ends: a hundredth of a millimetre does not matter.
            assert!(off <= 1e-5, "{what}: strides stop {off:e} m apart: {a}; {b}");
        }
        (Ok(_), Err(stop)) => panic!("{what}: a great stride passes where small ones stop: {stop}"),
        (Err(stop), Ok(_)) => panic!("{what}: small strides pass where a great one stops: {stop}"),
    }
}

/// Sweeps, limits, reach, sensitivities: no panic; the quick sweep is the slow one.
fn the_rest(axle: &AxleSolver, poses: &[CarPose], sound: bool) {
    let asked: Vec<AxlePose> = poses
        .iter()
        .map(|pose| target(pose, axle.end()))
        .map(|(travel, steer)| AxlePose { travel, steer })
        .collect();
    assert_eq!(axle.sweep(&asked).len(), asked.len());
    let bits = poses.first().map_or(0, |pose| pose.travel[0].to_bits() ^ pose.steer.to_bits() >> 3);
    let which = usize::try_from(bits % 1009).unwrap_or_default();
    let of_side = axle.parameters(Side::Left).into_iter().map(|parameter| (parameter, false));
    let parameters: Vec<_> =
        of_side.chain(axle.own_parameters().into_iter().map(|parameter| (parameter, true))).collect();
    if let Some(&(parameter, own)) = parameters.get(which % parameters.len().max(1)) {
        let held = if which % 2 == 0 { Links::Kept } else { Links::Remade };
        let on = if which % 3 == 0 || own { ChangedOn::Both } else { ChangedOn::One(Side::Left) };
        let _ = axle.sensitivity(&axle.start(), parameter, on, held);
    }
    let Some(AxlePose { travel, steer }) = asked.first().copied() else { return };
    let near = |x: f64| x.abs() < 0.35;
    let (travel, steer) =
        (travel.map(|t| if near(t) { t } else { 0.1 }), if near(steer) { steer } else { 0.0 });
    let side = Side::BOTH[which % 2];
    match which % 8 {
        0 => {
            let limits = axle.travel_limits(side, steer).into_iter().flatten().chain(axle.steer_limits(side));
            limits.flatten().for_each(|stop| assert_says(&stop));
        }
        1 => drop(axle.travel_reach(Travelling::One(side), steer)),
        2 => drop(axle.travel_reach(Travelling::Opposite, steer)),
        3 => drop(axle.steer_reach(travel)),
        _ => {}
    }
    if let Some(corner) = axle.corner(side) {
        quick_sweep(corner, travel[which % 2], steer, sound);
    }
}

/// The quick way along a dense sweep gives what the guarded way gives.
fn quick_sweep(corner: &CornerSolver, reach: f64, steer: f64, sound: bool) {
    let travels: Vec<f64> = (0..=20).map(|n| reach * f64::from(n) / 20.0).collect();
    let mut quick = Vec::new();
    let swept = corner.sweep_travel(&travels, steer, |at, motion| quick.push((at, *motion)));
    assert!(swept.is_err() || quick.len() == travels.len());
    for (at, motion) in quick.into_iter().filter(|_| sound) {
        let Some(&travel) = travels.get(at) else { continue };
        let slow = corner
            .solve(travel, steer)
            .unwrap_or_else(|stop| panic!("only the quick sweep gets to {travel}, steer {steer}: {stop}"));
        let off = (slow.motion.wheel_centre - motion.wheel_centre).norm();
        let off = off.max((slow.motion.spin_axis - motion.spin_axis).norm());
        let rate = slow.motion.by_travel.w.norm().max(slow.motion.by_travel.v.norm());
        let allowed = 1e-9 * (1.0 + rate * rate);
        assert!(off <= allowed, "the quick sweep is {off:e} off at {travel}, steer {steer}");
    }
}

/// The car on a road: it stands, rests and leans, or says why not; what it says is finite.
fn on_the_road(car: &Car, solver: &CarSolver, pose: &CarPose) {
    let road = RoadSolver::new(car, solver);
    let [front, rear, roll, share] = pose.travel;
    let body = BodyPose { front, rear, roll };
    if let Ok(standing) = road.stand(&body, pose.steer) {
        for wheel in WheelPosition::ALL {
            let to = standing.to_road(wheel);
            let numbers = [to.camber, to.inclination, to.steer, to.toe, standing.travel(wheel)];
            assert!(numbers.iter().all(|x| x.is_finite()), "{wheel} to the road: {to:?} at {body:?}");
            assert!(standing.contact(wheel).iter().all(|x| x.is_finite()), "{wheel} at {body:?}");
            assert!(standing.footing(wheel).gap() >= 0.0);
        }
    }
    if let Ok(resting) = road.rest(pose.travel, pose.steer) {
        let _ = format!("{resting:?}");
    }
    let bend = Cornering { banking: 0.7 * roll, ..Cornering::level(200.0 * share, 100.0 * roll) };
    match road.mid_corner_by_estimate(&bend, pose.steer) {
        Ok((mid, estimate)) => {
            let numbers = mid.wheels.iter().flat_map(|to| [to.camber, to.steer]);
            assert!(numbers.chain(estimate.loads(&bend)).all(|x| x.is_finite()), "{estimate:?} at {bend:?}");
        }
        Err(why) => assert!(!why.to_string().is_empty()),
    }
}
