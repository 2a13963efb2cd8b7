//! The whole car: its proportions, its tyres on the ground, its wheels.

use super::Measured;
use crate::car::Car;
use crate::car::position::{End, Side, WheelPosition};
use crate::car::static_loads::StaticLoads;
use crate::car::wheel::Wheel;
use crate::change::wheel_number::static_angles;
use crate::check::Subject;
use crate::check::usual::{self, Usual};
use nalgebra::Vector3;

/// The lowest point of a tyre.
fn lowest(wheel: &Wheel) -> Vector3<f64> {
    let a = wheel.spin_axis;
    let down = (a * a.z - Vector3::z()).try_normalize(0.0).unwrap_or(-Vector3::z());
    wheel.centre + down * (wheel.tyre_radius - wheel.tyre_shoulder_radius)
        - Vector3::z() * wheel.tyre_shoulder_radius
}

/// Two heights nearer than this are one, metres.
const LEVEL: f64 = 1.000_1e-3;

/// Wrong radii and wrong heights of wheel centres: of an axle beside one that stands on Z = 0, as files that count
/// heights from the ground have it, and of one wheel beside the other three.
fn one_off_the_ground(car: &Car, lows: [Vector3<f64>; 4], all: &mut Vec<Measured>) {
    let mut add = |usual: Usual, value: f64, wheel: WheelPosition| {
        let axle = car.axle(wheel.end);
        let [own, twin] = [wheel.side, wheel.side.other()].map(|side| &axle.corner(side).wheel);
        // Whichever of the two differs from its twin; of wheels that are alike either may be wrong.
        let alike = (own.tyre_radius - twin.tyre_radius).abs() <= LEVEL;
        let level = (own.centre.z - twin.centre.z).abs() <= LEVEL;
        let key = if alike && !level { "centre" } else { "tyre_radius" };
        all.push(Measured {
            usual,
            value,
            tyre_radius: own.tyre_radius,
            end: Some(wheel.end),
            side: Some(wheel.side),
            subject: Subject::Wheel(key),
            points: vec![],
        });
    };
    let [fl, fr, rl, rr] = lows;
    for (end, own, other) in [(End::Front, [fl, fr], [rl, rr]), (End::Rear, [rl, rr], [fl, fr])] {
        let on_ground = |lows: [Vector3<f64>; 2]| lows.iter().all(|low| low.z.abs() <= LEVEL);
        if on_ground(other) {
            for (side, low) in Side::BOTH.into_iter().zip(own) {
                add(usual::OFF_ZERO, low.z, WheelPosition { end, side });
            }
            continue;
        }
        // Where the other axle stands on no zero but level, one wheel of a tilted axle is told from its twin by the
        // height of the other axle's wheel on its own side, as far as one of the two keeps to that.
        let is_level = |lows: [Vector3<f64>; 2]| (lows[0].z - lows[1].z).abs() <= 2.0 * LEVEL;
        if is_level(own) || !is_level(other) {
            continue;
        }
        let off = [own[0].z - other[0].z, own[1].z - other[1].z];
        let odd = usize::from(off[1].abs() > off[0].abs());
        if off[1 - odd].abs() <= 2.0 * LEVEL {
            let side = if odd == 0 { Side::Left } else { Side::Right };
            add(usual::ONE_OFF_GROUND, off[odd], WheelPosition { end, side });
        }
    }
}

pub(super) fn measure(car: &Car, all: &mut Vec<Measured>) {
    let radius = WheelPosition::ALL.iter().map(|at| car.corner(*at).wheel.tyre_radius).sum::<f64>() / 4.0;
    let mut of_car = |usual: Usual, value: f64, key: &'static str| {
        let subject = Subject::Car(key);
        all.push(Measured {
            usual,
            value,
            tyre_radius: radius,
            end: None,
            side: None,
            subject,
            points: vec![],
        });
    };
    let half = |end: End| {
        let axle = car.axle(end);
        0.5 * (axle.left.wheel.centre.y - axle.right.wheel.centre.y)
    };
    let halves = End::BOTH.map(half);
    of_car(usual::WHEELBASE, car.wheelbase, "wheelbase");
    of_car(usual::WHEELBASE_SHARE, 0.5 * (halves[0] + halves[1]) / car.wheelbase, "wheelbase");
    if let Some(height) = car.centre_of_gravity_height {
        of_car(usual::GRAVITY_HEIGHT, height, "centre_of_gravity_height");
    }
    if let Some(share) = car.brake_share_front {
        of_car(usual::BRAKE_SHARE, share, "brake_share_front");
    }
    let is_weighed = matches!(car.static_loads, StaticLoads::Weighed(_));
    let given = |key| if is_weighed { "wheel_loads" } else { key };
    if let Some(share) = car.front_share() {
        of_car(usual::WEIGHT_SHARE, share, given("weight_share_front"));
    }
    if let Some(mass) = car.whole_mass() {
        let key = if car.mass.is_some() { "mass_kg" } else { "wheel_loads" };
        of_car(usual::MASS, mass / (car.wheelbase * (halves[0] + halves[1])), key);
    }
    if let Some([left, cross]) = car.left_and_cross_share() {
        of_car(usual::LEFT_SHARE, left, given("weight_share_left"));
        of_car(usual::CROSS_WEIGHT, cross, given("cross_weight"));
    }
    let lows = WheelPosition::ALL.map(|at| lowest(&car.corner(at).wheel));
    let [fl, fr, rl, rr] = lows;
    let (front, rear) = ((fl + fr) * 0.5, (rl + rr) * 0.5);
    let mut of_both = |usual: Usual, value: f64, side: Side, key: &'static str| {
        let tyre_radius = car.front.corner(side).wheel.tyre_radius;
        let (subject, points) = (Subject::Wheel(key), vec![]);
        all.push(Measured { usual, value, tyre_radius, end: None, side: None, subject, points });
    };
    let twist = (fl.z - fr.z) - (rl.z - rr.z) * (fl.y - fr.y) / (rl.y - rr.y);
    of_both(usual::RAKE, (front.z - rear.z).atan2(front.x - rear.x), Side::Left, "centre");
    of_both(usual::TRACKS_ALIKE, halves[0] / halves[1], Side::Left, "centre");
    of_both(usual::GROUND_TWIST, 0.5 * twist, Side::Left, "centre");
    for side in Side::BOTH {
        let [front, rear] = End::BOTH.map(|end| car.axle(end).corner(side).wheel.tyre_width);
        of_both(usual::FRONT_WIDTH, front / rear, side, "tyre_width");
    }
    one_off_the_ground(car, lows, all);
    let mut at_wheel = |usual: Usual, value: f64, end: End, side: Side, key: &'static str| {
        let tyre_radius = car.axle(end).corner(side).wheel.tyre_radius;
        let (end, side) = (Some(end), Some(side));
        all.push(Measured {
            usual,
            value,
            tyre_radius,
            end,
            side,
            subject: Subject::Wheel(key),
            points: vec![],
        });
    };
    for (end, [left, right]) in [(End::Front, [fl, fr]), (End::Rear, [rl, rr])] {
        let axle = car.axle(end);
        let [l, r] = [&axle.left.wheel, &axle.right.wheel];
        at_wheel(usual::GROUND_TILT, (left.z - right.z).atan2(left.y - right.y), end, Side::Left, "centre");
        at_wheel(usual::SIDES_ALIKE, 0.5 * (l.centre.y + r.centre.y), end, Side::Left, "centre");
        at_wheel(usual::SET_BACK, l.centre.x - r.centre.x, end, Side::Left, "centre");
        at_wheel(usual::WIDTHS_ALIKE, l.tyre_width / r.tyre_width, end, Side::Left, "tyre_width");
        at_wheel(usual::RADII_ALIKE, l.tyre_radius / r.tyre_radius, end, Side::Left, "tyre_radius");
        let angles = [static_angles(&l.spin_axis, Side::Left), static_angles(&r.spin_axis, Side::Right)];
        let mean = 0.5 * (angles[0].0 + angles[1].0);
        at_wheel(usual::AXLE_CAMBER, mean, end, Side::Left, "spin_axis");
        let toes = [angles[0].1, angles[1].1];
        let opposed = if toes[0] * toes[1] < 0.0 { toes[0].abs().min(toes[1].abs()) } else { 0.0 };
        at_wheel(usual::TOE_OPPOSED, opposed, end, Side::Left, "spin_axis");
        if axle.is_beam() {
            // A straight axle shows its own slope as camber, as much to one side as to the other.
            let slope = (l.centre.z - r.centre.z).atan2(l.centre.y - r.centre.y);
            let built_in = (angles[0].0 + slope) - (angles[1].0 - slope);
            at_wheel(usual::BEAM_CAMBER, built_in, end, Side::Left, "spin_axis");
        }
        for (side, (camber, toe)) in Side::BOTH.into_iter().zip(angles) {
            let wheel = &axle.corner(side).wheel;
            at_wheel(usual::CAMBER, camber, end, side, "spin_axis");
            at_wheel(usual::TOE, toe, end, side, "spin_axis");
            at_wheel(usual::HALF_TRACK, side.sign() * wheel.centre.y, end, side, "centre");
            at_wheel(usual::TYRE_RADIUS, wheel.tyre_radius, end, side, "tyre_radius");
            at_wheel(usual::TYRE_WIDTH, wheel.tyre_width, end, side, "tyre_width");
            at_wheel(usual::RIM, wheel.rim_radius, end, side, "rim_radius");
            at_wheel(usual::SHOULDER, wheel.tyre_shoulder_radius, end, side, "tyre_shoulder_radius");
            if let Some(width) = wheel.rim_width {
                at_wheel(usual::RIM_WIDTH, width / wheel.tyre_width, end, side, "rim_width");
            }
            if let Some(inner) = wheel.rim_inner_radius {
                at_wheel(usual::RIM_INSIDE, inner / wheel.rim_radius, end, side, "rim_inner_radius");
            }
        }
    }
}
