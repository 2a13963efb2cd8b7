//! Sensitivities against differences of whole cars built anew: every reading, every kind of number,
//! both ways of holding, with and without adjusters that keep the alignment.

use crate::{all_values, random_car};
use proptest::prelude::*;
use wheelpath_geometry::{
    Assembly, Axis, AxleSolver, Car, ChangedOn, Corner, End, LengthUnit, Link, Links, Parameter, Reading,
    ScalarParameter, Side, SolvedAxle, Unit,
};

const STEP: f64 = 1e-4;

fn between(corner: &Corner, link: Link) -> Option<f64> {
    let (inner, outer) = link.ends();
    Some((corner.hardpoints.get(outer)? - corner.hardpoints.get(inner)?).norm())
}

fn set_length(corner: &mut Corner, link: Link, length: f64) {
    corner.lengths.retain(|(other, _)| *other != link);
    corner.lengths.push((link, length));
}

fn stated(corner: &Corner, link: Link) -> Option<f64> {
    corner.lengths.iter().find(|(other, _)| *other == link).map(|(_, length)| *length)
}

/// The corner with one number changed, as a person would change it.
fn change(corner: &mut Corner, parameter: ScalarParameter, held: Links, by: f64) {
    match parameter {
        ScalarParameter::Coordinate(Parameter::Point(hardpoint), axis) => {
            let before = corner.clone();
            let mut at = corner.hardpoints.get(hardpoint).unwrap();
            if held == Links::Kept {
                // Parts keep their shape too: a strut its line, an arm its hinge.
                corner.made_at.push((hardpoint, at));
            }
            at[axis.index()] += by;
            corner.hardpoints.set(hardpoint, at);
            for &link in Link::ALL {
                let Some(old) = between(&before, link) else { continue };
                match (held, stated(&before, link)) {
                    (Links::Kept, length) => set_length(corner, link, length.unwrap_or(old)),
                    // A stated length is a stretch against the points: it follows them.
                    (Links::Remade, Some(length)) => {
                        let new = between(corner, link).unwrap();
                        set_length(corner, link, length + new - old);
                    }
                    (Links::Remade, None) => {}
                }
            }
        }
        ScalarParameter::Number(Parameter::Length(link)) => {
            let old = stated(corner, link).or_else(|| between(corner, link)).unwrap();
            set_length(corner, link, old + by);
        }
        ScalarParameter::Coordinate(Parameter::WheelCentre, axis) => corner.wheel.centre[axis.index()] += by,
        ScalarParameter::TYRE_RADIUS => corner.wheel.tyre_radius += by,
        other => unreachable!("no corner states {other:?}"),
    }
}

#[derive(Clone, Copy, Debug)]
struct Asked {
    end: End,
    travel: [f64; 2],
    rack: f64,
    parameter: ScalarParameter,
    on: ChangedOn,
    held: Links,
}

fn rebuilt(car: &Car, asked: &Asked, by: f64) -> Option<SolvedAxle> {
    let mut car = car.clone();
    let own = Assembly::Axle(asked.end);
    match asked.parameter {
        ScalarParameter::Coordinate(Parameter::Point(hardpoint), axis) if hardpoint.is_of_axle() => {
            let mut at = own.point(&car, hardpoint).unwrap();
            at[axis.index()] += by;
            assert!(own.move_point(&mut car, hardpoint, at, asked.held));
            return rated(&car, asked);
        }
        ScalarParameter::Number(Parameter::Length(link)) if link.is_of_axle() => {
            let stated =
                own.lengths(&car).iter().find(|(other, _)| *other == link).map(|(_, length)| *length);
            let old = stated.or_else(|| own.between_ends(&car, link)).unwrap();
            own.set_length(&mut car, link, Some(old + by));
            return rated(&car, asked);
        }
        _ => {}
    }
    let lateral = asked.parameter.axis() == Some(Axis::Y);
    for side in Side::BOTH {
        let here = match asked.on {
            ChangedOn::One(one) if one == side => by,
            ChangedOn::One(_) => continue,
            ChangedOn::Both if side == Side::Right && lateral => -by,
            ChangedOn::Both => by,
        };
        change(car.axle_mut(asked.end).corner_mut(side), asked.parameter, asked.held, here);
    }
    rated(&car, asked)
}

/// The axle at the pose, with the rates of its springs.
fn rated(car: &Car, asked: &Asked) -> Option<SolvedAxle> {
    let axle = AxleSolver::new(car, asked.end).ok()?;
    Some(axle.rated(&axle.solve(asked.travel, asked.rack).ok()?))
}

fn values(solved: &SolvedAxle) -> Vec<(usize, &'static Reading, f64)> {
    all_values(&Side::BOTH.map(|side| solved.wheel_values(side)), &solved.axle_values())
}

/// Readings that must be among those compared, wherever they exist.
const MUST: [&str; 7] = [
    "wheel_rate",
    "toe",
    "bump_steer",
    "camber_gain",
    "motion_ratio",
    "roll_centre_mean_height",
    "ackermann_error",
];

/// Compares every reading; gives how many were sharp enough to count.
fn compare(car: &Car, axle: &AxleSolver, asked: &Asked) -> Result<usize, TestCaseError> {
    let Some(here) = rated(car, asked) else { return Ok(0) };
    let Some(exact) = axle.sensitivity(&here, asked.parameter, asked.on, asked.held) else {
        return Err(TestCaseError::fail(format!("no sensitivity for {asked:?}")));
    };
    let exact = all_values(&exact.wheels, &exact.axle);
    let mut around = Vec::new();
    for share in [-2.0, -1.0, -0.5, 0.5, 1.0, 2.0] {
        let Some(there) = rebuilt(car, asked, share * STEP) else { return Ok(0) };
        around.push(values(&there));
    }
    let mut compared = 0;
    // Straight ahead inner and outer wheel change places: Ackermann's numbers have a corner there.
    let mean = here.axle_values().get(wheelpath_geometry::reading("mean_steer").unwrap()).unwrap();
    let straight = mean.abs() < 0.01;
    for (i, (_, reading, value)) in values(&here).into_iter().enumerate() {
        // Newtons per metre are large numbers: springs count in newtons per millimetre.
        let scale = match reading.unit {
            Unit::SpringRate | Unit::SpringRateGain => reading.unit.data_factor(LengthUnit::Millimetre),
            _ => 1.0,
        };
        let value = value * scale;
        let of = |k: usize| around[k][i].2 * scale;
        let coarse = (8.0 * (of(4) - of(1)) - (of(5) - of(0))) / (12.0 * STEP);
        let fine = (8.0 * (of(3) - of(2)) - (of(4) - of(1))) / (6.0 * STEP);
        let (exact, doubt) = (exact[i].2 * scale, (fine - coarse).abs());
        if value.is_nan() {
            prop_assert!(exact.is_nan(), "{} is none, its derivative {}", reading.key, exact);
            continue;
        }
        prop_assert!(exact.is_finite(), "{} is {}, but has no derivative ({:?})", reading.key, value, asked);
        let must = MUST.contains(&reading.key) && !(straight && reading.key == "ackermann_error");
        // Near a pole the differences say nothing: an instant centre a kilometre away.
        if !(doubt < 1e-5 * (1.0 + fine.abs() + value.abs()) && value.abs() < 1e3) {
            prop_assert!(!must, "{}: differences are in doubt by {:e}", reading.key, doubt);
            continue;
        }
        let tolerance = 1e-7 * (1.0 + fine.abs() + value.abs()) + 4.0 * doubt;
        let error = (fine - exact).abs();
        prop_assert!(
            error < tolerance,
            "{} {}: {} is not {} ({:?})",
            asked.end,
            reading.key,
            exact,
            fine,
            asked
        );
        compared += 1;
    }
    Ok(compared)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn sensitivities_are_differences_of_cars(
        car in random_car::car(), end in random_car::end(), (travel, rack) in random_car::pose(),
        side in random_car::side(), which in any::<prop::sample::Index>(), both in any::<bool>(), lengths in any::<bool>(),
    ) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Err(TestCaseError::reject("not a car")) };
        let parameter = which.get(&axle.parameters(side)).to_owned();
        let on = if both { ChangedOn::Both } else { ChangedOn::One(side) };
        let held = if lengths { Links::Kept } else { Links::Remade };
        let compared = compare(&car, &axle, &Asked { end, travel, rack, parameter, on, held })?;
        prop_assert!(compared == 0 || compared > 70, "only {} readings were sharp", compared);
    }
}

/// The demo car at a pose off its design: every number of a corner, both ways of holding.
#[test]
fn every_number_of_alder() {
    let car = wheelpath_tests::demo::alder();
    for end in End::BOTH {
        let axle = AxleSolver::new(&car, end).unwrap();
        for parameter in axle.parameters(Side::Left) {
            for held in [Links::Remade, Links::Kept] {
                let on = ChangedOn::One(Side::Left);
                let asked = Asked { end, travel: [0.021, -0.013], rack: 0.017, parameter, on, held };
                let compared = compare(&car, &axle, &asked).unwrap();
                assert!(compared > 80, "{parameter:?}: only {compared} readings were sharp");
            }
        }
    }
}

/// Every number that a T-bar, a third spring and a torsion bar have a say in.
#[test]
fn every_number_of_the_car_with_a_t_bar() {
    let car = wheelpath_tests::demo::car_of("examples/linkages/pullrod_t_bar.ron");
    let end = End::Front;
    let axle = AxleSolver::new(&car, end).unwrap();
    let own = axle.own_parameters();
    assert_eq!(own.len(), 9, "{own:?}");
    for parameter in axle.parameters(Side::Left).into_iter().chain(own) {
        for held in [Links::Remade, Links::Kept] {
            let on = ChangedOn::One(Side::Left);
            let asked = Asked { end, travel: [0.021, -0.013], rack: 0.017, parameter, on, held };
            let compared = compare(&car, &axle, &asked).unwrap();
            assert!(compared > 80, "{parameter:?}: only {compared} readings were sharp");
        }
    }
}

/// Hazel with pushrods and rockers on its beam: those of Alder's rear wheels, moved to where the dampers stood.
fn beam_with_rockers() -> Car {
    use wheelpath_geometry::{Component, Hardpoint as P, Springing};
    let donor = wheelpath_tests::demo::alder();
    let mut car = wheelpath_tests::demo::car_of("demo-cars/hazel.ron");
    for side in Side::BOTH {
        let from = &donor.axle(End::Rear).corner(side).hardpoints;
        let to = car.axle_mut(End::Rear).corner_mut(side);
        let by = to.hardpoints.get(P::DamperRocker).unwrap() - from.get(P::PushrodOuter).unwrap();
        let moved =
            [P::PushrodOuter, P::PushrodInner, P::RockerPivot, P::RockerAxis, P::DamperRocker, P::DamperBody];
        for hardpoint in moved {
            to.hardpoints.set(hardpoint, from.get(hardpoint).unwrap() + by);
        }
        to.springing = Some(Springing::Rocker { pushrod_on: Component::Upright });
    }
    car
}

/// The steered beam axle with drag link and track rod set to a toe: they follow every number.
fn steered_beam_with_its_toe_set() -> Car {
    use wheelpath_geometry::{Alignment, CamberBy, ToeBy};
    let mut car = wheelpath_tests::demo::car_of("examples/linkages/steered_beam_axle.ron");
    for (side, toe) in [(Side::Left, 0.004), (Side::Right, -0.001)] {
        car.front.corner_mut(side).alignment =
            Alignment { toe: ToeBy::TieRodLength(toe), camber: CamberBy::Points };
    }
    car
}

/// Every reading of every car, a wheel's and an axle's, to a coordinate of each point: either it has no value, or
/// its derivative is that of cars built anew.
#[test]
fn every_reading_of_every_car() {
    let mut met = std::collections::HashSet::new();
    let shipped = wheelpath_tests::demo::CARS.iter().map(|path| (*path, wheelpath_tests::demo::car_of(path)));
    let more = [
        ("a beam with rockers", beam_with_rockers()),
        ("a beam with its toe set", steered_beam_with_its_toe_set()),
    ];
    for (path, car) in shipped.chain(more) {
        for end in End::BOTH {
            let axle = AxleSolver::new(&car, end).unwrap();
            let rack = if !axle.steered() {
                0.0
            } else if axle.steer_input() == wheelpath_geometry::SteerInput::RackTravel {
                0.011
            } else {
                0.07
            };
            for (n, parameter) in
                axle.parameters(Side::Left).into_iter().chain(axle.own_parameters()).enumerate()
            {
                // Of each point one coordinate in turn.
                if matches!(parameter, ScalarParameter::Coordinate(Parameter::Point(_), _))
                    && (n + n / 3) % 3 != 0
                {
                    continue;
                }
                for held in [Links::Remade, Links::Kept] {
                    let asked = Asked {
                        end,
                        travel: [0.008, -0.005],
                        rack,
                        parameter,
                        on: ChangedOn::One(Side::Left),
                        held,
                    };
                    let compared =
                        compare(&car, &axle, &asked).unwrap_or_else(|error| panic!("{path}: {error}"));
                    assert!(compared > 40, "{path} {end} {parameter:?}: only {compared} readings were sharp");
                }
            }
            let here = rated(
                &car,
                &Asked {
                    end,
                    travel: [0.008, -0.005],
                    rack,
                    parameter: ScalarParameter::TYRE_RADIUS,
                    on: ChangedOn::Both,
                    held: Links::Kept,
                },
            )
            .unwrap();
            met.extend(
                values(&here)
                    .into_iter()
                    .filter(|(_, _, value)| value.is_finite())
                    .map(|(_, reading, _)| reading.key),
            );
        }
    }
    let all = wheelpath_geometry::wheel_readings().iter().chain(wheelpath_geometry::axle_readings());
    let never: Vec<_> = all.map(|reading| reading.key).filter(|key| !met.contains(key)).collect();
    assert!(never.is_empty(), "no car has {never:?}");
}

/// The shim has no number in a car: asked for as an adjuster, it brings camber where it should.
#[test]
fn the_shims_sensitivity_predicts_the_shim() {
    use wheelpath_geometry::{CamberBy, reading};
    let mut car = wheelpath_tests::demo::alder();
    let axle = AxleSolver::new(&car, End::Front).unwrap();
    let (on, held) = (ChangedOn::One(Side::Left), Links::Remade);
    let slopes = axle.sensitivity(&axle.start(), ScalarParameter::CamberAdjuster, on, held).unwrap();
    let per_shim = slopes.wheels[0].get(reading("camber_to_body").unwrap()).unwrap();
    let camber = |axle: &AxleSolver| -axle.corner(Side::Left).unwrap().start().motion.spin_axis.z.asin();
    let change = 1e-6;
    car.front.left.alignment.camber = CamberBy::Adjuster(camber(&axle) + change);
    let shimmed = AxleSolver::new(&car, End::Front).unwrap();
    let shim = shimmed.corner(Side::Left).unwrap().adjusted().camber_adjuster;
    assert!((shim * per_shim - change).abs() < 1e-5 * change, "{shim} times {per_shim}");
    assert!(per_shim > 0.0, "a thicker shim brings the wheel's top outboard");
}

#[test]
fn a_number_that_is_not_there_has_no_sensitivity() {
    use wheelpath_geometry::Hardpoint;
    let car = wheelpath_tests::demo::alder();
    let axle = AxleSolver::new(&car, End::Front).unwrap();
    for parameter in [
        ScalarParameter::Coordinate(Parameter::Length(Link::TieRod), Axis::X),
        ScalarParameter::point(Hardpoint::ToeLinkInner, Axis::X),
        ScalarParameter::Number(Parameter::WheelCentre),
        ScalarParameter::length(Link::ToeLink),
    ] {
        for on in [ChangedOn::Both, ChangedOn::One(Side::Right)] {
            let none = axle.sensitivity(&axle.start(), parameter, on, Links::Kept).is_none();
            assert!(none, "{parameter:?}");
        }
    }
}
