//! Whether a wrong number matters: whether any reading of the car says so.

use crate::numbers::Number;
use wheelpath_geometry::{
    AxleSolver, Car, End, Part, Reading, Side, SolvedAxle, Unit, axle_readings, wheel_readings,
};

/// How much a wrong number changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Matter {
    /// No reading at any of the poses looked at, and none of the numbers beside the linkage.
    Nothing,
    /// Less than anyone would notice.
    Little,
    Much,
}

/// All readings of a car at some poses, and a fingerprint of its other numbers.
pub struct Signature {
    values: Vec<Option<Vec<(usize, f64)>>>,
    /// Numbers that no reading here knows: sizes, stops, rates, masses, radii.
    others: Vec<f64>,
}

fn all_readings() -> Vec<&'static Reading> {
    wheel_readings().iter().chain(wheel_readings()).chain(axle_readings()).collect()
}

fn values(at: &SolvedAxle) -> Vec<(usize, f64)> {
    let wheel = |side| {
        let values = at.wheel_values(side);
        wheel_readings().iter().map(move |r| values.get(r).unwrap_or(f64::NAN)).collect::<Vec<_>>()
    };
    let of_axle = at.axle_values();
    let of_axle = axle_readings().iter().map(|r| of_axle.get(r).unwrap_or(f64::NAN));
    let all = wheel(Side::Left).into_iter().chain(wheel(Side::Right)).chain(of_axle);
    all.enumerate().collect()
}

impl Signature {
    pub fn of(car: &Car) -> Signature {
        let mut all = Vec::new();
        for end in End::BOTH {
            let solver = AxleSolver::new(car, end);
            let input = car.axle(end).steering.input();
            let turn = if input == wheelpath_geometry::SteerInput::RackTravel { 0.02 } else { 0.15 };
            for (travel, steer) in [
                ([0.0; 2], 0.0),
                ([0.025; 2], 0.0),
                ([-0.025; 2], 0.0),
                ([0.02, -0.02], 0.0),
                ([0.0; 2], turn),
                ([0.0; 2], -turn),
            ] {
                let at = solver.as_ref().ok().and_then(|solver| solver.solve(travel, steer).ok());
                all.push(at.map(|at| values(&at)));
            }
        }
        Signature { values: all, others: others(car) }
    }
}

/// Numbers that no reading above knows.
fn others(car: &Car) -> Vec<f64> {
    let mut all = vec![
        car.wheelbase,
        car.centre_of_gravity_height.unwrap_or(0.0),
        car.brake_share_front.unwrap_or(0.0),
        car.mass.unwrap_or(0.0),
        car.weight_share_front.unwrap_or(0.0),
    ];
    for end in End::BOTH {
        let axle = car.axle(end);
        all.extend(axle.steering.stops());
        all.push(axle.steering.shaft_at(1.0));
        all.extend(axle.anti_roll_bar.and_then(|bar| bar.rate));
        all.extend(axle.third_spring.and_then(|third| third.rate));
        // A column as the driver feels it.
        all.extend((0..12).map(|i| axle.column.ratio_at(f64::from(i) * 0.5)));
        all.extend(axle.radii.iter().map(|&(part, radius)| radius + part_number(part)));
        for side in Side::BOTH {
            let corner = axle.corner(side);
            let wheel = &corner.wheel;
            all.extend([wheel.tyre_radius, wheel.tyre_width, wheel.tyre_shoulder_radius, wheel.rim_radius]);
            all.extend(wheel.rim_width.into_iter().chain(wheel.rim_inner_radius));
            all.extend(corner.damper.iter().flat_map(|stops| [stops.shortest, stops.longest]));
            all.extend(corner.radii.iter().map(|&(_, radius)| radius));
            all.extend(corner.joint_limits.iter().map(|&(_, limit)| limit));
            // A bolt has no direction, only a line.
            all.extend(corner.joint_axes.iter().flat_map(|(_, axis)| {
                let way = if axis.x + 2.0 * axis.y + 3.0 * axis.z < 0.0 { -1.0 } else { 1.0 };
                [way * axis.x, way * axis.y, way * axis.z]
            }));
            match corner.spring {
                Some(
                    wheelpath_geometry::Spring::OnDamper { rate }
                    | wheelpath_geometry::Spring::Separate { rate, .. }
                    | wheelpath_geometry::Spring::TorsionBar { rate },
                ) => all.push(rate),
                None => {}
            }
        }
    }
    all
}

fn part_number(part: Part) -> f64 {
    10.0 * part.index() as f64
}

/// The change of a reading that a person setting up a car notices, SI; `None` of a reading that is another one
/// told otherwise, or that runs away where links are nearly parallel.
fn noticed(reading: &Reading) -> Option<f64> {
    let key = reading.key;
    if ["instant_centre", "screw_", "inverse", "turn", "ideal", "percent", "steering_wheel_angle"]
        .iter()
        .any(|part| key.contains(part))
    {
        return None;
    }
    Some(match reading.unit {
        Unit::Degree => 0.1_f64.to_radians(),
        Unit::Length => 0.003,
        Unit::Ratio => 0.01,
        Unit::DegreePerMetre => 2.0_f64.to_radians(),
        Unit::Percent => 0.03,
        Unit::SpringRate => 500.0,
        _ => return None,
    })
}

/// A point that moves by less than this is as plausible where it comes to stand, millimetres: as far as the
/// random plausible cars of tests/properties move every coordinate.
const PLAUSIBLE: f64 = 15.0;

pub fn matter(before: &Signature, after: &Signature, number: &Number, wrong: f64) -> Matter {
    let readings = all_readings();
    let (mut changes, mut notices) = (false, false);
    for (a, b) in before.values.iter().zip(&after.values) {
        let (Some(a), Some(b)) = (a, b) else {
            let differ = a.is_some() != b.is_some();
            changes |= differ;
            notices |= differ;
            continue;
        };
        for (&(i, a), &(_, b)) in a.iter().zip(b) {
            let change = (a - b).abs();
            if a.is_nan() != b.is_nan() {
                changes = true;
            }
            changes |= change > 1e-9 * (1.0 + a.abs());
            notices |= noticed(readings[i]).is_some_and(|least| change > least);
        }
    }
    let other = before.others.len() != after.others.len()
        || before.others.iter().zip(&after.others).any(|(a, b)| (a - b).abs() > 1e-9 * (1.0 + a.abs()));
    if !(changes || other) {
        return Matter::Nothing;
    }
    let by = (wrong - number.value).abs();
    let is_point = number.triple.is_some() && number.is_length();
    let little = match number.key() {
        _ if is_point => !notices || by <= PLAUSIBLE,
        // The direction of a rack or shaft.
        "axis" | "pitman_axis" | "idler_axis" => !notices,
        // As much as any two cars of a kind differ by.
        "camber_deg" | "toe_deg" => by <= 0.25,
        _ => false,
    };
    if little { Matter::Little } else { Matter::Much }
}
