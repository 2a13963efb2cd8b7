//! Sensitivities against differences of whole cars built anew: every reading, every kind of number,
//! both ways of holding, with and without adjusters that keep the alignment.

use crate::{all_values, random_car};
use proptest::prelude::*;
use wheelpath_geometry::{
    AxleSolver, Car, ChangedOn, Corner, End, Held, Link, Parameter, Reading, Side, SolvedAxle,
};

const STEP: f64 = 1e-4;

fn between(corner: &Corner, link: Link) -> Option<f64> {
    let (inner, outer) = link.ends();
    Some((corner.pickups.get(outer)? - corner.pickups.get(inner)?).norm())
}

fn set_length(corner: &mut Corner, link: Link, length: f64) {
    corner.lengths.retain(|(other, _)| *other != link);
    corner.lengths.push((link, length));
}

fn stated(corner: &Corner, link: Link) -> Option<f64> {
    corner.lengths.iter().find(|(other, _)| *other == link).map(|(_, length)| *length)
}

/// The corner with one number changed, as a person would change it.
fn change(corner: &mut Corner, parameter: Parameter, held: Held, by: f64) {
    match parameter {
        Parameter::Pickup(pickup, axis) => {
            let before = corner.clone();
            let mut at = corner.pickups.get(pickup).unwrap();
            at[axis] += by;
            corner.pickups.set(pickup, at);
            for &link in Link::ALL {
                let Some(old) = between(&before, link) else { continue };
                match (held, stated(&before, link)) {
                    (Held::LinkLengths, length) => set_length(corner, link, length.unwrap_or(old)),
                    // A stated length is a stretch against the points: it follows them.
                    (Held::DesignPose, Some(length)) => {
                        let new = between(corner, link).unwrap();
                        set_length(corner, link, length + new - old);
                    }
                    (Held::DesignPose, None) => {}
                }
            }
        }
        Parameter::Length(link) => {
            let old = stated(corner, link).or_else(|| between(corner, link)).unwrap();
            set_length(corner, link, old + by);
        }
        Parameter::WheelCentre(axis) => corner.wheel.centre[axis] += by,
        Parameter::TyreRadius => corner.wheel.tyre_radius += by,
        Parameter::CamberAdjuster => unreachable!("a car states no shim"),
    }
}

#[derive(Clone, Copy, Debug)]
struct Asked {
    end: End,
    travel: [f64; 2],
    rack: f64,
    parameter: Parameter,
    on: ChangedOn,
    held: Held,
}

fn rebuilt(car: &Car, asked: &Asked, by: f64) -> Option<SolvedAxle> {
    let mut car = car.clone();
    if let Parameter::Pickup(pickup, axis) = asked.parameter
        && pickup.is_of_axle()
    {
        let own = &mut car.axle_mut(asked.end).pickups;
        let mut at = own.get(pickup).unwrap();
        at[axis] += by;
        own.set(pickup, at);
        return AxleSolver::new(&car, asked.end).ok()?.solve(asked.travel, asked.rack).ok();
    }
    let lateral = matches!(asked.parameter, Parameter::Pickup(_, 1) | Parameter::WheelCentre(1));
    for side in Side::BOTH {
        let here = match asked.on {
            ChangedOn::One(one) if one == side => by,
            ChangedOn::One(_) => continue,
            ChangedOn::Both if side == Side::Right && lateral => -by,
            ChangedOn::Both => by,
        };
        change(car.axle_mut(asked.end).corner_mut(side), asked.parameter, asked.held, here);
    }
    AxleSolver::new(&car, asked.end).ok()?.solve(asked.travel, asked.rack).ok()
}

fn values(solved: &SolvedAxle) -> Vec<(usize, &'static Reading, f64)> {
    all_values(&Side::BOTH.map(|side| solved.wheel_values(side)), &solved.axle_values())
}

/// Readings that must be among those compared, wherever they exist.
const MUST: [&str; 6] =
    ["toe", "bump_steer", "camber_gain", "motion_ratio", "roll_centre_mean_height", "ackermann_error"];

/// Compares every reading; gives how many were sharp enough to count.
fn compare(car: &Car, axle: &AxleSolver, asked: &Asked) -> Result<usize, TestCaseError> {
    let Ok(here) = axle.solve(asked.travel, asked.rack) else { return Ok(0) };
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
        let of = |k: usize| around[k][i].2;
        let coarse = (8.0 * (of(4) - of(1)) - (of(5) - of(0))) / (12.0 * STEP);
        let fine = (8.0 * (of(3) - of(2)) - (of(4) - of(1))) / (6.0 * STEP);
        let (exact, doubt) = (exact[i].2, (fine - coarse).abs());
        if value.is_nan() {
            prop_assert!(exact.is_nan(), "{} is none, its derivative {}", reading.key, exact);
            continue;
        }
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
        let held = if lengths { Held::LinkLengths } else { Held::DesignPose };
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
            for held in [Held::DesignPose, Held::LinkLengths] {
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
        for held in [Held::DesignPose, Held::LinkLengths] {
            let on = ChangedOn::One(Side::Left);
            let asked = Asked { end, travel: [0.021, -0.013], rack: 0.017, parameter, on, held };
            let compared = compare(&car, &axle, &asked).unwrap();
            assert!(compared > 80, "{parameter:?}: only {compared} readings were sharp");
        }
    }
}

/// The shim has no number in a car: asked for as an adjuster, it brings camber where it should.
#[test]
fn the_shims_sensitivity_predicts_the_shim() {
    use wheelpath_geometry::{CamberBy, reading};
    let mut car = wheelpath_tests::demo::alder();
    let axle = AxleSolver::new(&car, End::Front).unwrap();
    let (on, held) = (ChangedOn::One(Side::Left), Held::DesignPose);
    let slopes = axle.sensitivity(&axle.start(), Parameter::CamberAdjuster, on, held).unwrap();
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
    use wheelpath_geometry::Pickup;
    let car = wheelpath_tests::demo::alder();
    let axle = AxleSolver::new(&car, End::Front).unwrap();
    for parameter in [
        Parameter::Pickup(Pickup::TieRodInner, 3),
        Parameter::Pickup(Pickup::ToeLinkInner, 0),
        Parameter::WheelCentre(3),
        Parameter::Length(Link::ToeLink),
    ] {
        for on in [ChangedOn::Both, ChangedOn::One(Side::Right)] {
            let none = axle.sensitivity(&axle.start(), parameter, on, Held::LinkLengths).is_none();
            assert!(none, "{parameter:?}");
        }
    }
}
