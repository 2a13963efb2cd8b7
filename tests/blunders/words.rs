//! What is said, and where it points.

use nalgebra::Vector3;
use wheelpath_geometry::{Car, Finding, Pickup, Severity, Side, Subject, check};
use wheelpath_tests::demo::alder;

/// Moves a point of both front corners to its place in the left one's axes, metres.
fn with_front(pickup: Pickup, place: impl Fn(Vector3<f64>) -> Vector3<f64>) -> Car {
    let mut car = alder();
    for side in Side::BOTH {
        let corner = car.front.corner_mut(side);
        let at = corner.pickups.get(pickup).unwrap();
        let mut left = place(Vector3::new(at.x, at.y * side.sign(), at.z));
        left.y *= side.sign();
        corner.pickups.set(pickup, left);
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
    let front = alder().front.left.pickups;
    let (lower, upper) =
        (front.get(Pickup::LowerBallJoint).unwrap(), front.get(Pickup::UpperBallJoint).unwrap());
    let along = (upper - lower).normalize();
    // Square to the axis, ahead of it.
    let square = (Vector3::x() - along * along.x).normalize();
    let with_arm = |arm: f64| {
        with_front(Pickup::TieRodOuter, |at| lower + along * (at - lower).dot(&along) + square * arm)
    };
    let found = check(&with_arm(0.008));
    let said = find(&found, "the steering arm is 8 mm");
    assert_eq!(
        said.message,
        "the steering arm is 8 mm, 46 mm less than the least that is usual, 54 mm: the wheel would steer at a touch, \
         or hardly at all"
    );
    assert_eq!((said.severity, said.subject), (Severity::Warning, Subject::Pickup(Pickup::TieRodOuter)));
    assert!(said.hint.starts_with("look at `tie_rod_outer`"), "{}", said.hint);
    let found = check(&with_arm(0.004));
    assert!(found.iter().any(|one| one.severity == Severity::Fault && one.message.contains("has no length")));
}

/// One side's point 60 mm from where its twin is mirrored to.
#[test]
fn a_point_is_held_against_its_twin_on_the_other_side() {
    let mut car = alder();
    let right = &mut car.front.right.pickups;
    let at = right.get(Pickup::LowerWishboneFront).unwrap();
    right.set(Pickup::LowerWishboneFront, at + Vector3::new(0.06, 0.0, 0.0));
    let found = check(&car);
    let said = find(&found, "the distance of the lower wishbone, front pickup");
    assert!(
        said.message.contains(" is 60 mm, 40 mm more than the most that is usual, 20 mm"),
        "{}",
        said.message
    );
    assert_eq!(said.subject, Subject::Pickup(Pickup::LowerWishboneFront));
}

/// Of all the points that a reading is made of, the one that most of what is unusual hangs on is named first.
#[test]
fn the_likeliest_point_is_named_first() {
    let found = check(&with_front(Pickup::TieRodInner, |at| at + Vector3::new(0.0, 0.0, 0.1)));
    let said = find(&found, "bump steer");
    assert!(said.hint.starts_with("look at `tie_rod_inner` ("), "{}", said.hint);
    assert!(said.hint.contains("of these warnings hang on it), then at `tie_rod_outer`"), "{}", said.hint);
}

/// What is furthest out is said first, and all of it is said.
#[test]
fn warnings_rank_by_how_far_out_they_are() {
    let mut car = with_front(Pickup::TieRodInner, |at| at + Vector3::new(0.0, 0.0, 0.1));
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
