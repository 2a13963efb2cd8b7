//! What is wrong about the static loads of the tyres.

use super::{Found, Severity, of_car};
use crate::car::Car;
use crate::car::position::WheelPosition;
use crate::car::static_loads::GRAVITY;
use crate::car::static_loads::StaticLoads;

/// A mass that differs from what the wheels weigh by no more than this share of it is the same, rounded.
const SAME_MASS: f64 = 5.000_01e-3;
/// The same of shares of the weight.
const SAME_SHARE: f64 = 5.000_01e-3;

/// Looks over the static loads.
pub(super) fn check(car: &Car, found: &mut Found) {
    match car.static_loads {
        StaticLoads::Unknown => {}
        StaticLoads::Shares { left, cross } => shares(car, left, cross, found),
        StaticLoads::Weighed(loads) => weighed(car, &loads, found),
    }
}

fn fault(found: &mut Found, what: &'static str, message: String, hint: &str) {
    of_car(found, Severity::Fault, what, message, hint);
}

fn shares(car: &Car, left: Option<f64>, cross: Option<f64>, found: &mut Found) {
    let before = found.all.len();
    for (share, key, name) in [
        (left, "weight_share_left", "left wheels' share of the weight"),
        (cross, "cross_weight", "cross weight"),
    ] {
        if let Some(share) = share
            && !(0.0..=1.0).contains(&share)
        {
            fault(found, key, format!("the {name} is {share}"), "give a share from 0 to 1: 52 % is 0.52");
        }
    }
    if found.all.len() > before {
        return;
    }
    let shares = car.load_shares().unwrap_or([0.25; 4]);
    for (wheel, share) in WheelPosition::ALL.into_iter().zip(shares) {
        // As far below nothing as rounding goes is nothing.
        if share < -1e-12 {
            let message = format!(
                "front, left and cross weight leave {:.1} % of the weight on the {wheel} wheel, which is negative",
                share * 1e2
            );
            let key = if cross.is_some() { "cross_weight" } else { "weight_share_left" };
            fault(
                found,
                key,
                message,
                "weigh the wheels again, or give the four loads themselves as wheel_loads_kg",
            );
        }
    }
}

fn weighed(car: &Car, loads: &[f64; 4], found: &mut Found) {
    const KEY: &str = "wheel_loads";
    for (wheel, load) in WheelPosition::ALL.into_iter().zip(loads) {
        if !(1e-3..=1e7).contains(load) {
            let message = format!("the load on the {wheel} wheel is {:.1} kg", load / GRAVITY);
            fault(
                found,
                KEY,
                message,
                "give what the scales show under each wheel, more than 0, driver aboard",
            );
        }
    }
    if let (Some(mass), Some(sum)) = (car.mass, car.whole_mass())
        && (sum - mass).abs() > SAME_MASS * mass
    {
        let message = format!(
            "the four wheels carry {sum:.1} kg together, but mass_kg is {mass:.1} kg: {:.1} kg {}",
            (sum - mass).abs(),
            if sum > mass { "more" } else { "less" }
        );
        fault(
            found,
            KEY,
            message,
            "correct one of the two, or leave mass_kg out; wheel_loads_kg are kilograms, wheel_loads_n newtons",
        );
    }
    if let (Some(share), Some(by_wheels)) = (car.weight_share_front, car.front_share())
        && (by_wheels - share).abs() > SAME_SHARE
    {
        let message = format!(
            "the front wheels carry {:.1} % of the weight by the four loads, but weight_share_front says {:.1} %",
            by_wheels * 1e2,
            share * 1e2
        );
        fault(found, KEY, message, "correct one of the two, or leave weight_share_front out");
    }
}
