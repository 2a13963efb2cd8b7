//! Cars of the calibration files: metres, X forward, Y left, Z up.

use nalgebra::Vector3;
use serde_json::Value;
use wheelpath_geometry::{
    Alignment, Axle, Car, Carrier, Corner, Link, LinkageKind, Pickup, Pickups, Rack, Reacted, Side,
    Springing, Steering, Wheel,
};

/// Three numbers.
///
/// # Panics
/// When the file does not hold three numbers there.
#[must_use]
pub fn vector(value: &Value) -> Vector3<f64> {
    let at = |i: usize| value[i].as_f64().unwrap_or(f64::NAN);
    Vector3::new(at(0), at(1), at(2))
}

/// A double-wishbone front axle of a calibration file, as both axles of a car.
#[must_use]
pub fn car(file: &Value) -> Car {
    let car = &file["car"];
    let corners = &car["corners"];
    let left = corner(&corners[0]);
    let right = corner(&corners[1]);
    let rack = Rack {
        axis: vector(&car["steering"]["axis"]),
        travel_per_turn: 0.05,
        stop_left: 0.1,
        stop_right: 0.1,
    };
    let front = Axle { steering: Steering::Rack(rack), brakes: Reacted::Upright, drive: None, left, right };
    Car {
        name: car["name"].as_str().unwrap_or_default().to_owned(),
        wheelbase: car["vehicle"]["wheelbase"].as_f64().unwrap_or(f64::NAN),
        centre_of_gravity_height: None,
        brake_share_front: None,
        rear: front.clone(),
        front,
    }
}

fn corner(value: &Value) -> Corner {
    use Pickup as P;
    let mut pickups = Pickups::default();
    let mut put = |pickup: Pickup, at: &Value| pickups.set(pickup, vector(at));
    for (arm, points) in [
        ("upper", [P::UpperWishboneFront, P::UpperWishboneRear, P::UpperBallJoint]),
        ("lower", [P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint]),
    ] {
        for (key, pickup) in ["front", "rear", "outer"].iter().zip(points) {
            put(pickup, &value[arm][key]);
        }
    }
    put(P::TieRodInner, &value["tie_rod"]["inner"]);
    put(P::TieRodOuter, &value["tie_rod"]["outer"]);
    put(P::DamperRocker, &value["damper"]["outer"]);
    put(P::DamperBody, &value["damper"]["chassis"]);
    let bar = &value["arb"];
    put(P::DropLinkOuter, &bar["outer"]);
    put(P::DropLinkBar, &bar["arm_end"]);
    put(P::BarPivot, &bar["bar_point"]);
    pickups.set(P::BarAxis, vector(&bar["bar_point"]) + vector(&bar["bar_axis"]));
    let wheel = &value["wheel"];
    let lengths = value["tie_rod"]["length"].as_f64().map(|length| (Link::TieRod, length));
    Corner {
        linkage: LinkageKind::DoubleWishbone,
        wheel: Wheel {
            centre: vector(&wheel["centre"]),
            spin_axis: vector(&wheel["axis"]),
            tyre_radius: wheel["radius"].as_f64().unwrap_or(f64::NAN),
            tyre_width: 0.2,
            rim_radius: 0.2,
        },
        pickups,
        lengths: lengths.into_iter().collect(),
        springing: Some(Springing::Direct { on: Carrier::LowerWishbone }),
        damper: None,
        drop_link_on: Some(Carrier::LowerWishbone),
        alignment: Alignment::FROM_POINTS,
    }
}

/// The side a calibration file names.
#[must_use]
pub fn side(name: &str) -> Side {
    if name == "left" { Side::Left } else { Side::Right }
}
