//! The demo car Alder, read from its file.

use crate::reference_car::vector;
use nalgebra::Vector3;
use serde_json::Value;
use std::path::Path;
use wheelpath_geometry::{
    Alignment, Axle, Car, Carrier, Corner, DamperStops, LinkageKind, Pickup, Pickups, Rack, Reacted, Side,
    Springing, Steering, Wheel, spin_axis_from_angles,
};

const MILLIMETRE: f64 = 1e-3;

/// Alder in its design pose.
///
/// # Panics
/// When the file cannot be read.
#[must_use]
pub fn alder() -> Car {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-cars/alder.ron");
    let text = std::fs::read_to_string(&path).unwrap_or_default();
    let file: Value = ron::from_str(&text).unwrap_or_default();
    let number = |key: &str| file[key].as_f64();
    Car {
        name: file["name"].as_str().unwrap_or_default().to_owned(),
        wheelbase: number("wheelbase").unwrap_or(f64::NAN) * MILLIMETRE,
        centre_of_gravity_height: number("centre_of_gravity_height").map(|h| h * MILLIMETRE),
        brake_share_front: number("brake_share_front"),
        front: axle(&file["front"], None),
        rear: axle(&file["rear"], Some(Reacted::Body)),
    }
}

fn axle(value: &Value, drive: Option<Reacted>) -> Axle {
    let rack = &value["steering"];
    let length = |key: &str| rack[key].as_f64().map(|l| l * MILLIMETRE);
    let steering = length("travel_per_turn").map_or(Steering::Fixed, |travel_per_turn| {
        Steering::Rack(Rack {
            axis: vector(&rack["axis"]),
            travel_per_turn,
            stop_left: length("stop_left").unwrap_or(f64::NAN),
            stop_right: length("stop_right").unwrap_or(f64::NAN),
        })
    });
    let left = corner(&value["left"]);
    let right = left.mirrored();
    Axle { steering, brakes: Reacted::Upright, drive, left, right }
}

fn corner(value: &Value) -> Corner {
    let mut pickups = Pickups::default();
    for &pickup in Pickup::ALL {
        if let Some(at) = point(&value["pickups"][pickup.key()]) {
            pickups.set(pickup, at);
        }
    }
    let wheel = &value["wheel"];
    let number = |value: &Value| value.as_f64().unwrap_or(f64::NAN);
    let angle = |key: &str| number(&wheel["spin_axis"][key]).to_radians();
    let stops = &value["damper"];
    Corner {
        linkage: LinkageKind::DoubleWishbone,
        wheel: Wheel {
            centre: vector(&wheel["centre"]) * MILLIMETRE,
            spin_axis: spin_axis_from_angles(Side::Left, angle("camber_deg"), angle("toe_deg")),
            tyre_radius: number(&wheel["tyre_radius"]) * MILLIMETRE,
            tyre_width: number(&wheel["tyre_width"]) * MILLIMETRE,
            rim_radius: number(&wheel["rim_radius"]) * MILLIMETRE,
        },
        pickups,
        lengths: Vec::new(),
        springing: Some(Springing::Rocker { pushrod_on: Carrier::LowerWishbone }),
        damper: Some(DamperStops {
            shortest: number(&stops["shortest"]) * MILLIMETRE,
            longest: number(&stops["longest"]) * MILLIMETRE,
        }),
        drop_link_on: Some(Carrier::Rocker),
        alignment: Alignment::FROM_POINTS,
    }
}

fn point(value: &Value) -> Option<Vector3<f64>> {
    value.as_array().map(|_| vector(value) * MILLIMETRE)
}
