//! Axles with king pins: the example's with every point moved, at random travels and steering. Links keep their
//! lengths, knuckles their shape, and velocities are slopes.

use nalgebra::Vector3;
use proptest::prelude::*;
use wheelpath_geometry::{
    Alignment, AxleSolver, CLOSED, CamberBy, Car, End, Hardpoint as P, Side, SolvedAxle, ToeBy, reading,
};
use wheelpath_tests::demo;

const MOVED: f64 = 0.012;
const STEP: f64 = 1e-4;

fn offset() -> impl Strategy<Value = [f64; 3]> {
    prop::array::uniform3(-MOVED..MOVED)
}

fn car() -> impl Strategy<Value = Car> {
    let toes = prop::option::of([-0.008..0.008_f64, -0.008..0.008]);
    (prop::collection::vec(offset(), 3 * P::COUNT + 2), toes, any::<bool>()).prop_map(
        |(by, toes, to_right)| {
            let mut car = demo::car_of("examples/linkages/steered_beam_axle.ron");
            let axle = &mut car.front;
            if to_right {
                let at = axle.hardpoints.get(P::DragLinkLeft).unwrap();
                axle.hardpoints.remove(P::DragLinkLeft);
                axle.hardpoints.set(P::DragLinkRight, Vector3::new(at.x, -at.y, at.z));
            }
            let move_all = |hardpoints: &mut wheelpath_geometry::Hardpoints, from: usize| {
                let old: Vec<_> = hardpoints.iter().collect();
                for (hardpoint, at) in old {
                    hardpoints.set(hardpoint, at + Vector3::from(by[from + hardpoint.index()]));
                }
            };
            move_all(&mut axle.hardpoints, 0);
            for (i, side) in Side::BOTH.into_iter().enumerate() {
                let corner = axle.corner_mut(side);
                move_all(&mut corner.hardpoints, (1 + i) * P::COUNT);
                corner.wheel.centre += Vector3::from(by[3 * P::COUNT + i]);
                if let Some(toes) = toes {
                    corner.alignment =
                        Alignment { toe: ToeBy::TieRodLength(toes[i]), camber: CamberBy::Points };
                }
            }
            car
        },
    )
}

fn all_points(axle: &AxleSolver, at: &SolvedAxle) -> impl Fn(Option<Side>, P) -> Vector3<f64> {
    let own = axle.own_points(at);
    let sides = Side::BOTH.map(|side| axle.points(at, side));
    move |side, hardpoint| {
        let list = match side {
            None => &own,
            Some(side) => &sides[usize::from(side == Side::Right)],
        };
        list.iter().find(|(one, _)| *one == hardpoint).unwrap().1
    }
}

/// What keeps its length, by name.
fn lengths(axle: &AxleSolver, at: &SolvedAxle) -> Vec<(String, f64)> {
    let place = all_points(axle, at);
    let mut all = Vec::new();
    for link in axle.own_links() {
        let (inner, outer) = link.ends();
        all.push((link.key().to_owned(), (place(None, outer) - place(None, inner)).norm()));
    }
    for (side, track) in [(Side::Left, P::TrackRodLeft), (Side::Right, P::TrackRodRight)] {
        for link in axle.links(side) {
            let (inner, outer) = link.ends();
            let length = (place(Some(side), outer) - place(Some(side), inner)).norm();
            all.push((format!("{side} {link}"), length));
        }
        let upright = axle.upright(at, side);
        for pin in [P::KingPinLower, P::KingPinUpper] {
            let pin_at = place(Some(side), pin);
            all.push((format!("{side} knuckle"), (place(None, track) - pin_at).norm()));
            all.push((format!("{side} hub"), (upright.origin - pin_at).norm()));
            all.push((format!("{side} axle"), (place(None, P::TopLinkOuter) - pin_at).norm()));
            let other = place(Some(side.other()), pin);
            all.push((format!("axle at {}", pin.key()), (other - pin_at).norm()));
        }
    }
    all
}

fn toe(at: &SolvedAxle, side: Side) -> f64 {
    at.wheel_values(side).get(reading("toe").unwrap()).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn links_keep_their_lengths_and_velocities_are_slopes(
        car in car(), travel in prop::array::uniform2(-0.04..0.04_f64), steer in -0.3..0.3_f64,
    ) {
        let Ok(axle) = AxleSolver::new(&car, End::Front) else { return Err(TestCaseError::reject("no car")) };
        for side in Side::BOTH {
            if let ToeBy::TieRodLength(asked) = car.front.corner(side).alignment.toe {
                prop_assert!((toe(&axle.start(), side) - asked).abs() < 1e-10);
            }
        }
        let Ok(here) = axle.solve(travel, steer) else { return Ok(()) };
        prop_assert!(here.residual(Side::Left) <= CLOSED);
        for ((name, before), (_, after)) in lengths(&axle, &axle.start()).into_iter().zip(lengths(&axle, &here)) {
            prop_assert!((before - after).abs() < 1e-11, "{}: {} becomes {}", name, before, after);
        }
        // Five-point differences of the hub's place and its spin axis, by this wheel's travel and by the steering.
        let go = |by: [f64; 3]| axle.follow(&here, [travel[0] + by[0], travel[1] + by[1]], steer + by[2]);
        for (way, side) in [(0, Side::Left), (1, Side::Right), (2, Side::Left), (2, Side::Right)] {
            let at = |h: f64| {
                let mut by = [0.0; 3];
                by[way] = h * STEP;
                go(by).ok()
            };
            let (Some(a), Some(b), Some(c), Some(d)) = (at(-2.0), at(-1.0), at(1.0), at(2.0)) else {
                return Ok(());
            };
            let of = |pose: &SolvedAxle| {
                let motion = pose.motion.corner(side);
                [motion.wheel_centre, motion.spin_axis]
            };
            let slope =
                |i: usize| ((of(&c)[i] - of(&b)[i]) * 8.0 - (of(&d)[i] - of(&a)[i])) / (12.0 * STEP);
            let motion = here.motion.corner(side);
            let twist = if way == 2 { motion.by_steer.unwrap() } else { motion.by_travel };
            prop_assert!((slope(0) - twist.v).amax() < 1e-8, "{} {}", way, side);
            prop_assert!((slope(1) - twist.w.cross(&motion.spin_axis)).amax() < 1e-8, "{} {}", way, side);
        }
    }
}

/// Drag link and track rod bring back the toe that a moved point takes away; as built, they do not.
#[test]
fn realigned_brings_toe_back_and_as_built_does_not() {
    use wheelpath_geometry::{Assembly, CarSolver, Links};
    let car = demo::car_of("examples/linkages/steered_beam_axle.ron");
    let solver = CarSolver::new(&car).unwrap();
    let assembly = Assembly::Axle(End::Front);
    let moved = |mut car: Car| {
        let to = assembly.point(&car, P::TrackRodRight).unwrap() + Vector3::new(0.0, 0.004, 0.0);
        assert!(assembly.move_point(&mut car, P::TrackRodRight, to, Links::Kept));
        AxleSolver::new(&car, End::Front).unwrap()
    };
    let before = Side::BOTH.map(|side| toe(&solver.axle(End::Front).start(), side));
    let again = moved(car.realigned(&solver));
    for (side, before) in Side::BOTH.into_iter().zip(before) {
        assert!((toe(&again.start(), side) - before).abs() < 1e-11, "{side}");
    }
    assert!(again.adjusted(Side::Right).toe_link_change.abs() > 1e-3);
    let built = moved(car.as_built(&solver));
    // The drag link holds the left wheel; four millimetres on an arm of 0.15 m turn the right one by 1.5 degrees.
    assert!((toe(&built.start(), Side::Left) - before[0]).abs() < 1e-3);
    assert!((toe(&built.start(), Side::Right) - before[1]).abs() > 0.02);
    // What the adjusters came to stays when they are fixed.
    let fixed = again_fixed(&car, &solver);
    for (side, before) in Side::BOTH.into_iter().zip(before) {
        assert!((toe(&fixed.start(), side) - before).abs() < 1e-11, "{side}");
    }
}

/// The car with a toe that is asked for, then with its adjusters fixed where they came to stand.
fn again_fixed(car: &Car, solver: &wheelpath_geometry::CarSolver) -> AxleSolver {
    let free = car.realigned(solver);
    let solver = wheelpath_geometry::CarSolver::new(&free).unwrap();
    AxleSolver::new(&free.as_built(&solver), End::Front).unwrap()
}
