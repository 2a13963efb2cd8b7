//! What is said, and where it points.

use nalgebra::Vector3;
use wheelpath_geometry::{Car, Finding, Hardpoint, Severity, Side, Subject, check};
use wheelpath_tests::demo::alder;

/// Moves a point of both front corners to its place in the left one's axes, metres.
fn with_front(hardpoint: Hardpoint, place: impl Fn(Vector3<f64>) -> Vector3<f64>) -> Car {
    let mut car = alder();
    for side in Side::BOTH {
        let corner = car.front.corner_mut(side);
        let at = corner.hardpoints.get(hardpoint).unwrap();
        let mut left = place(Vector3::new(at.x, at.y * side.sign(), at.z));
        left.y *= side.sign();
        corner.hardpoints.set(hardpoint, left);
    }
    car
}

fn find<'f>(found: &'f [Finding], words: &str) -> &'f Finding {
    let messages: Vec<&str> = found.iter().map(|one| one.message.as_str()).collect();
    found
        .iter()
        .find(|one| one.message.starts_with(words))
        .unwrap_or_else(|| panic!("{words}: {messages:#?}"))
}

/// A steering arm of 8 mm solves, but no car has one; under 5 mm it steers nothing.
#[test]
fn a_steering_arm_is_long_enough_to_steer_with() {
    let front = alder().front.left.hardpoints;
    let (lower, upper) =
        (front.get(Hardpoint::LowerBallJoint).unwrap(), front.get(Hardpoint::UpperBallJoint).unwrap());
    let along = (upper - lower).normalize();
    // Square to the axis, ahead of it.
    let square = (Vector3::x() - along * along.x).normalize();
    let with_arm = |arm: f64| {
        with_front(Hardpoint::TieRodOuter, |at| lower + along * (at - lower).dot(&along) + square * arm)
    };
    let found = check(&with_arm(0.008));
    let said = find(&found, "the steering arm is 8 mm");
    assert_eq!(
        said.message,
        "the steering arm is 8 mm, 46 mm less than the least that is usual, 54 mm: the wheel would steer at a touch, \
         or hardly at all"
    );
    assert_eq!(
        (said.severity, said.subject),
        (Severity::Warning, Subject::Hardpoint(Hardpoint::TieRodOuter))
    );
    assert!(said.hint.starts_with("look at `tie_rod_outer`"), "{}", said.hint);
    let found = check(&with_arm(0.004));
    assert!(found.iter().any(|one| one.severity == Severity::Fault && one.message.contains("has no length")));
}

/// One side's point 60 mm from where its twin is mirrored to.
#[test]
fn a_point_is_held_against_its_twin_on_the_other_side() {
    let mut car = alder();
    let right = &mut car.front.right.hardpoints;
    let at = right.get(Hardpoint::LowerWishboneFront).unwrap();
    right.set(Hardpoint::LowerWishboneFront, at + Vector3::new(0.06, 0.0, 0.0));
    let found = check(&car);
    let said = find(&found, "the distance of the lower wishbone, front pickup");
    assert!(
        said.message.contains(" is 60 mm, 40 mm more than the most that is usual, 20 mm"),
        "{}",
        said.message
    );
    assert_eq!(said.subject, Subject::Hardpoint(Hardpoint::LowerWishboneFront));
}

/// Of all the points that a reading is made of, the one that most of what is unusual hangs on is named first.
#[test]
fn the_likeliest_point_is_named_first() {
    let found = check(&with_front(Hardpoint::TieRodInner, |at| at + Vector3::new(0.0, 0.0, 0.1)));
    let said = find(&found, "bump steer");
    assert!(said.hint.starts_with("look at `tie_rod_inner` ("), "{}", said.hint);
    assert!(said.hint.contains("of these warnings hang on it), then at `tie_rod_outer`"), "{}", said.hint);
}

/// What is furthest out is said first, and all of it is said.
#[test]
fn warnings_rank_by_how_far_out_they_are() {
    let mut car = with_front(Hardpoint::TieRodInner, |at| at + Vector3::new(0.0, 0.0, 0.1));
    car.mass = Some(90_000.0);
    let found = check(&car);
    assert!(found.len() > 3 && found.windows(2).all(|pair| pair[0].out >= pair[1].out));
    find(&found, "the mass over wheelbase and track");
    find(&found, "bump steer");
}

/// The wheelbase is that of the middles of the axles: a car whose right side is longer is no blunder of the left.
#[test]
fn the_wheelbase_is_taken_between_the_middles_of_the_axles() {
    let mut car = alder();
    car.front.left.wheel.centre.x += 0.005;
    car.front.right.wheel.centre.x -= 0.005;
    assert!(!check(&car).iter().any(|one| one.subject == Subject::Car("wheelbase")));
    car.front.right.wheel.centre.x += 0.010;
    assert!(check(&car).iter().any(|one| one.subject == Subject::Car("wheelbase")));
}

/// A file of the project, read with one passage of it replaced.
fn with_passage(car: &str, passage: &str, other: &str) -> Car {
    let text = super::text_of(car);
    assert!(text.contains(passage), "{passage}");
    let text = text.replacen(passage, other, 1);
    wheelpath_car_file::parse(&text, car).unwrap_or_else(|error| panic!("{error}")).car
}

const HAZEL: &str = "demo-cars/hazel.ron";

/// Loads that the scales showed in pounds, typed as kilograms without a mass that would contradict: no car of that size
/// weighs so much. Kilograms typed as newtons: none weighs so little.
#[test]
fn loads_are_held_against_springs() {
    let loads =
        "wheel_loads_kg: (front_left: 342.0, front_right: 303.0, rear_left: 368.0, rear_right: 277.0)";
    let bare = |other: &str| {
        let car = with_passage(HAZEL, "mass_kg: 1290.0,", "");
        assert!(check(&car).is_empty(), "sound without the mass");
        let text = super::text_of(HAZEL).replacen("mass_kg: 1290.0,", "", 1).replacen(loads, other, 1);
        check(&wheelpath_car_file::parse(&text, HAZEL).unwrap_or_else(|error| panic!("{error}")).car)
    };
    // Twice the load by 2.2046: a car of 2844 kg on a saloon's wheelbase.
    let pounds =
        bare("wheel_loads_kg: (front_left: 754.0, front_right: 668.0, rear_left: 811.3, rear_right: 610.7)");
    let said = find(&pounds, "the mass over wheelbase and track is 692 kg/m², 42 kg/m² more");
    assert_eq!(said.subject, Subject::Car("wheel_loads"));
    // Kilograms in the key for newtons: a car of 132 kg.
    let newtons =
        bare("wheel_loads_n: (front_left: 342.0, front_right: 303.0, rear_left: 368.0, rear_right: 277.0)");
    find(&newtons, "the mass over wheelbase and track is 32 kg/m²");
}

/// Springs of the two axles that changed places.
#[test]
fn springs_that_changed_places_are_told_of() {
    let mut car = wheelpath_tests::demo::car_of(HAZEL);
    assert!(check(&car).is_empty());
    for side in Side::BOTH {
        let front = car.front.corner(side).spring;
        car.front.corner_mut(side).spring = car.rear.corner(side).spring;
        car.rear.corner_mut(side).spring = front;
    }
    let found = check(&car);
    let said = find(&found, "the front wheels' natural frequency over the rear ones'");
    assert!(
        said.message.ends_with("springs or loads of the two axles may have changed places"),
        "{}",
        said.message
    );
    // Without loads their rates at the wheels are beside one another.
    car.mass = None;
    car.static_loads = wheelpath_geometry::StaticLoads::Unknown;
    let found = check(&car);
    find(&found, "the front springs' rate at the wheel over the rear ones'");
}

/// One wheel toes in, the other out by as much: a sign.
#[test]
fn toe_of_opposite_signs_is_told_of() {
    let mut car = alder();
    let angles =
        |toe: f64| wheelpath_geometry::spin_axis_from_angles(Side::Right, (-2.5_f64).to_radians(), toe);
    car.front.right.wheel.spin_axis = angles(0.1_f64.to_radians());
    let found = check(&car);
    let said = find(&found, "what one wheel toes in while the other toes out");
    assert_eq!((said.end, said.subject), (Some(wheelpath_geometry::End::Front), Subject::Wheel("spin_axis")));
    car.front.right.wheel.spin_axis = angles((-0.1_f64).to_radians());
    assert!(check(&car).is_empty());
}

/// A beam axle is one body: one end's camber is the other's with the other sign, but for what is built in.
#[test]
fn the_camber_of_a_beam_is_one_at_both_ends() {
    let found = check(&with_passage(
        HAZEL,
        "spin_axis: Angles(camber_deg: 0.37, toe_deg: 0.0)",
        "spin_axis: Angles(camber_deg: 3.7, toe_deg: 0.0)",
    ));
    let said = find(&found, "the camber built into the axle's left end over that of its right one is 3.3°");
    assert_eq!(said.subject, Subject::Wheel("spin_axis"));
}

/// One wrong radius, one wrong height of a wheel centre, of one wheel or of an axle: named with its number.
#[test]
fn a_wheel_off_the_ground_is_named() {
    let named = |spoil: &dyn Fn(&mut Car), words: &str, side: Side, key: &'static str| {
        let mut car = alder();
        spoil(&mut car);
        let found = check(&car);
        let about = found.iter().filter(|one| one.message.contains("tyre's lowest point over"));
        let about: Vec<_> = about.filter(|one| one.side == Some(side)).collect();
        assert_eq!(about.len(), 1, "{found:#?}");
        assert_eq!(about[0].subject, Subject::Wheel(key));
        assert!(about[0].message.contains(words), "{}", about[0].message);
    };
    named(
        &|car| car.front.right.wheel.tyre_radius -= 0.05,
        "is 50 mm, 35 mm more",
        Side::Right,
        "tyre_radius",
    );
    named(&|car| car.front.left.wheel.centre.z += 0.02, "is 20 mm, 5 mm more", Side::Left, "centre");
    // Both of an axle, as a mirrored corner has it: the rear stands on Z = 0, and the front does not.
    let both = |car: &mut Car| {
        for side in Side::BOTH {
            car.front.corner_mut(side).wheel.tyre_radius -= 0.025;
        }
    };
    named(&both, "is 25 mm, 10 mm more", Side::Left, "tyre_radius");
    // Where Z is counted from elsewhere, one wheel is told by the other three.
    let mut car = alder();
    for wheel in wheelpath_geometry::WheelPosition::ALL {
        let corner = car.axle_mut(wheel.end).corner_mut(wheel.side);
        corner.wheel.centre.z += 0.1;
        let points: Vec<_> = corner.hardpoints.iter().collect();
        points
            .into_iter()
            .for_each(|(hardpoint, at)| corner.hardpoints.set(hardpoint, at + Vector3::z() * 0.1));
    }
    car.rear.left.wheel.tyre_radius += 0.02;
    let found = check(&car);
    let said =
        find(&found, "the height of this one tyre's lowest point over that of the other three is −20 mm");
    assert_eq!((said.side, said.subject), (Some(Side::Left), Subject::Wheel("tyre_radius")));
}

/// What does not hang on a fault is said beside it.
#[test]
fn what_is_unusual_is_said_beside_a_fault() {
    let mut car = with_front(Hardpoint::TieRodInner, |at| at + Vector3::new(-0.4, 0.0, 0.0));
    let alone = check(&car);
    assert!(!alone.is_empty() && alone.iter().all(|one| one.severity == Severity::Warning));
    let joint = car.rear.left.hardpoints.get(Hardpoint::LowerBallJoint).unwrap();
    car.rear.left.hardpoints.set(Hardpoint::UpperBallJoint, joint);
    let found = check(&car);
    let faults = found.iter().filter(|one| one.severity == Severity::Fault).count();
    assert!(faults > 0 && found.iter().take(faults).all(|one| one.severity == Severity::Fault), "{found:#?}");
    let beside: Vec<&str> = found.iter().skip(faults).map(|one| one.message.as_str()).collect();
    for one in alone.iter().filter(|one| one.end == Some(wheelpath_geometry::End::Front)) {
        assert!(beside.contains(&one.message.as_str()), "{}: {beside:#?}", one.message);
    }
    // Nothing is said of the joint that is at fault.
    assert!(!beside.iter().any(|said| said.contains("upper ball joint")), "{beside:#?}");
    // A car in the wrong units has everything out: that is one fault, not a hundred warnings.
    car.wheelbase *= 1e3;
    assert!(check(&car).iter().all(|one| one.severity == Severity::Fault || one.out == 0.0));
}
