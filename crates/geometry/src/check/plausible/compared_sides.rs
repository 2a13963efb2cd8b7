//! Measures that compare the two sides of an axle, or are of both: which side is to be looked at.

use super::super::usual;
use super::Measured;
use crate::car::position::{End, Side};
use crate::car::{Axle, Car};
use nalgebra::Vector3;

/// What compares one side with the other, or is a reading of the whole axle.
const OF_BOTH_SIDES: [&str; 19] = [
    usual::TWIN.what,
    usual::TWIN_AXIS.what,
    usual::SIDES_ALIKE.what,
    usual::SET_BACK.what,
    usual::GROUND_TILT.what,
    usual::WIDTHS_ALIKE.what,
    usual::RADII_ALIKE.what,
    usual::SPRINGS_ALIKE.what,
    usual::FREQUENCY_SIDES.what,
    usual::AXLE_CAMBER.what,
    usual::TOE_OPPOSED.what,
    usual::BEAM_CAMBER.what,
    usual::ROLL_CENTRE.what,
    usual::BEAM_ROLL_CENTRE.what,
    usual::ROLL_CENTRE_ASIDE.what,
    usual::ANTI_DIVE.what,
    usual::ANTI_LIFT.what,
    usual::ANTI_SQUAT.what,
    usual::ACKERMANN.what,
];

/// The same of how both wheels steer; they stand apart because a rod at either side spoils them alike.
const OF_BOTH_RODS: [&str; 1] = [usual::STEER_ALIKE.what];

/// The side that is out by more than so many times what the other is out by is the one to look at.
const TIMES: f64 = 3.0;

/// Differences below this are rounding, metres.
const SAME: f64 = 1e-9;

/// Gives each unusual measure of both sides of an axle the side that alone is out of its own ranges too: by what
/// shares a point or subject with the measure, else by anything of that corner. Where that cannot be told it has
/// no side. Sides that are mirror images of one another are wrong alike, and the left one stands for both.
pub(super) fn name_side(car: &Car, all: &mut [Measured]) {
    let alike = End::BOTH.map(|end| are_mirror_images(car.axle(end)));
    let sides: Vec<Option<Side>> = all
        .iter()
        .map(|one| {
            let mirrored = one.end.is_none_or(|end| alike[usize::from(end == End::Rear)]);
            if mirrored || one.out() <= 0.0 || !is_of_both(one) { one.side } else { guilty(one, all) }
        })
        .collect();
    for (one, side) in all.iter_mut().zip(sides) {
        one.side = side;
    }
}

fn is_of_both(one: &Measured) -> bool {
    OF_BOTH_SIDES.contains(&one.usual.what) || OF_BOTH_RODS.contains(&one.usual.what)
}

fn guilty(one: &Measured, all: &[Measured]) -> Option<Side> {
    let out_at = |side: Side, counts: &dyn Fn(&Measured) -> bool| -> f64 {
        let own = |other: &&Measured| other.end == one.end && other.side == Some(side) && !is_of_both(other);
        all.iter().filter(own).filter(|other| counts(other)).map(Measured::out).filter(|out| *out > 0.0).sum()
    };
    let more = |counts: &dyn Fn(&Measured) -> bool| {
        let [left, right] = Side::BOTH.map(|side| out_at(side, counts));
        match (left, right) {
            _ if left > TIMES * right => Some(Side::Left),
            _ if right > TIMES * left => Some(Side::Right),
            _ => None,
        }
    };
    let of_first = |other: &Measured| one.points.first().is_some_and(|first| other.points.contains(first));
    let related = |other: &Measured| {
        other.subject == one.subject || other.points.iter().any(|point| one.points.contains(point))
    };
    more(&of_first).or_else(|| more(&related)).or_else(|| more(&|_| true))
}

/// Whether each number of one side that a measure compares is the mirror image of the other's.
fn are_mirror_images(axle: &Axle) -> bool {
    let mirror = |at: Vector3<f64>| Vector3::new(at.x, -at.y, at.z);
    let [l, r] = [&axle.left, &axle.right];
    let near = |a: Vector3<f64>, b: Vector3<f64>| (a - mirror(b)).amax() <= SAME;
    let points = l.hardpoints.iter().count() == r.hardpoints.iter().count()
        && l.hardpoints.iter().all(|(point, at)| r.hardpoints.get(point).is_some_and(|twin| near(at, twin)));
    points
        && near(l.wheel.centre, r.wheel.centre)
        && near(l.wheel.spin_axis, r.wheel.spin_axis)
        && (l.wheel.tyre_radius - r.wheel.tyre_radius).abs() <= SAME
        && (l.wheel.tyre_width - r.wheel.tyre_width).abs() <= SAME
        && l.spring == r.spring
        && l.lengths == r.lengths
}
