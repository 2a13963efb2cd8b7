//! Over which steering inputs a sweep goes.

use crate::arguments::{Over, SweepArguments};
use crate::failure::Failure;
use crate::pose::metres;
use crate::steer::{steering_of, wrong_word};
use wheelpath_geometry::{Car, SteerInput, spaced};

/// Steering inputs of a grid where nobody says how many.
const STEERS: u32 = 5;

/// A word and the number that was given with it.
type Word<T> = (&'static str, Option<T>);

/// Those of two kinds of words that are for this axle; any of the other kind is an error.
fn own<T: Copy, const N: usize>(
    arguments: &SweepArguments,
    car: &Car,
    of_rack: [Word<T>; N],
    of_box: [Word<T>; N],
) -> Result<[Option<T>; N], Failure> {
    let steering = steering_of(car, arguments.axle, "sweep over travel, or the other axle")?;
    let (own, other) = match steering.input() {
        SteerInput::RackTravel => (of_rack, of_box),
        SteerInput::PitmanAngle => (of_box, of_rack),
    };
    if let Some((word, _)) = other.iter().find(|(_, given)| given.is_some()) {
        let words = own.map(|(word, _)| word).join(" and ");
        return Err(wrong_word(car, arguments.axle, word, &format!("give {words}")));
    }
    Ok(own.map(|(_, given)| given))
}

/// How many steering inputs a grid has.
pub(crate) fn steer_count(arguments: &SweepArguments, car: &Car) -> Result<u32, Failure> {
    let of_rack = [("--rack-count", arguments.rack_count)];
    let of_box = [("--pitman-count", arguments.pitman_count)];
    let [count] = own(arguments, car, of_rack, of_box)?;
    Ok(count.unwrap_or(STEERS))
}

/// The steering inputs, from stop to stop where nothing else is asked.
pub(crate) fn steers(arguments: &SweepArguments, car: &Car, count: u32) -> Result<Vec<f64>, Failure> {
    let of_rack = match arguments.over {
        // In a grid --from-mm and --to-mm count wheel travel.
        Over::Grid => [("--rack-from-mm", arguments.rack_from_mm), ("--rack-to-mm", arguments.rack_to_mm)],
        _ => [("--from-mm", arguments.from_mm), ("--to-mm", arguments.to_mm)],
    };
    let of_box =
        [("--pitman-from-deg", arguments.pitman_from_deg), ("--pitman-to-deg", arguments.pitman_to_deg)];
    let [from, to] = own(arguments, car, of_rack, of_box)?;
    let steering = &car.axle(arguments.axle).steering;
    let inside = |given: f64| match steering.input() {
        SteerInput::RackTravel => metres(given),
        SteerInput::PitmanAngle => given.to_radians(),
    };
    let [first, last] = steering.stops();
    let (from, to) = (from.map_or(first, inside), to.map_or(last, inside));
    Ok(spaced(from, to, usize::try_from(count).unwrap_or(usize::MAX)))
}
