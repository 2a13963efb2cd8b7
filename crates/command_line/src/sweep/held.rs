//! What a sweep holds while something else runs: it stands in headings, since no column and no axis tells it.

use crate::chart_of::Across;
use crate::console::steer::{name_of, unit_of};
use wheelpath_geometry::{AxlePose, Car, End, LengthUnit, Side, Travelling, Unit};

/// Which quantities of a pose columns or an axis tell already.
#[derive(Clone, Copy)]
pub(crate) struct Told {
    pub steer: bool,
    /// Travel of the left and of the right wheel.
    pub travel: [bool; 2],
}

impl From<Across> for Told {
    fn from(across: Across) -> Self {
        let (steer, travel) = match across {
            Across::Travel(Travelling::One(side)) => (false, Side::BOTH.map(|one| one == side)),
            Across::Travel(_) | Across::Unlike => (false, [true; 2]),
            Across::Steer(_) => (true, [false; 2]),
            Across::Place => (false, [false; 2]),
        };
        Told { steer, travel }
    }
}

/// Words such as ", at rack 15.0 mm" for what is the same at all poses, not zero and not told otherwise.
pub(crate) fn held_in_words(
    (car, end): (&Car, End),
    poses: &[AxlePose],
    told: Told,
    lengths: LengthUnit,
) -> String {
    let held = |is_told: bool, of: &dyn Fn(&AxlePose) -> f64| {
        let first = of(poses.first()?);
        let same = poses.iter().all(|pose| of(pose).to_bits() == first.to_bits());
        (!is_told && same && first != 0.0).then_some(first)
    };
    let [left_told, right_told] = told.travel;
    let left = held(left_told, &|pose| pose.travel[0]);
    let right = held(right_told, &|pose| pose.travel[1]);
    let length = |travel: f64| Unit::Length.write(travel, lengths);
    let mut words = Vec::new();
    match (left, right) {
        (Some(left), Some(right)) if left.to_bits() == right.to_bits() => {
            words.push(format!("wheel travel {}", length(left)));
        }
        (left, right) => {
            for (side, travel) in Side::BOTH.into_iter().zip([left, right]) {
                words.extend(travel.map(|travel| format!("{side} wheel travel {}", length(travel))));
            }
        }
    }
    let input = car.axle(end).steering.input();
    let steer = held(told.steer, &|pose| pose.steer);
    words.extend(steer.map(|steer| format!("{} {}", name_of(input), unit_of(input).write(steer, lengths))));
    if words.is_empty() { String::new() } else { format!(", at {}", words.join(", ")) }
}
