//! Cars of the calibration files: metres, X forward, Y left, Z up.

use nalgebra::Vector3;
use serde_json::Value;
use wheelpath_geometry::{
    Axle, Car, Component, Corner, Hardpoint, Hardpoints, Link, LinkageKind, Rack, Side, Springing, Steering,
    SteeringArm, SteeringBox, Wheel,
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

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

/// The axle of a calibration file, as both axles of a car.
#[must_use]
pub fn car(file: &Value) -> Car {
    let car = &file["car"];
    let axle = if car["beam"].is_object() { beam(&car["beam"]) } else { independent(car) };
    let name = car["name"].as_str().unwrap_or_default();
    Car::new(name, number(&car["vehicle"]["wheelbase"]), axle.clone(), axle)
}

fn independent(car: &Value) -> Axle {
    let steering = steering(&car["steering"]);
    let steered = steering.steers();
    let [left, right] = [0, 1].map(|i| corner(&car["corners"][i], steered));
    Axle::new(steering, left, right)
}

fn steering(value: &Value) -> Steering {
    let arm = |value: &Value| SteeringArm {
        pivot: vector(&value["pivot"]),
        axis: vector(&value["axis"]).normalize(),
        ball: vector(&value["ball"]),
    };
    match value["type"].as_str() {
        Some("rack") => Steering::Rack(Rack {
            axis: vector(&value["axis"]).normalize(),
            travel_per_turn: 0.05,
            stop_left: 0.1,
            stop_right: 0.1,
        }),
        Some("box") => Steering::Box(SteeringBox {
            pitman: arm(&value["pitman"]),
            idler: arm(&value["idler"]),
            ratio: 16.0,
            stop_left: 0.8,
            stop_right: 0.8,
        }),
        _ => Steering::Fixed,
    }
}

fn wheel(value: &Value) -> Wheel {
    Wheel {
        centre: vector(&value["centre"]),
        spin_axis: vector(&value["axis"]),
        tyre_radius: number(&value["radius"]),
        tyre_width: 0.2,
        tyre_shoulder_radius: 0.0,
        rim_radius: 0.2,
        rim_width: None,
        rim_inner_radius: None,
    }
}

/// The names of a kind's arms and points in the files.
fn points_of(kind: LinkageKind) -> Vec<(&'static str, &'static str, Hardpoint)> {
    use Hardpoint as P;
    let lower = [
        ("lower", "front", P::LowerWishboneFront),
        ("lower", "rear", P::LowerWishboneRear),
        ("lower", "outer", P::LowerBallJoint),
    ];
    let upper = [
        ("upper", "front", P::UpperWishboneFront),
        ("upper", "rear", P::UpperWishboneRear),
        ("upper", "outer", P::UpperBallJoint),
    ];
    match kind {
        LinkageKind::DoubleWishbone => [upper, lower].concat(),
        LinkageKind::Strut => {
            let strut = [("strut", "top", P::StrutTop), ("strut", "bottom", P::StrutBottom)];
            [&strut[..], &lower].concat()
        }
        LinkageKind::TrailingArm => {
            vec![("arm", "a", P::ArmPivotOutboard), ("arm", "b", P::ArmPivotInboard)]
        }
        _ => Vec::new(),
    }
}

const FIVE_LINKS: [(&str, Link); 4] = [
    ("upper_front", Link::UpperFrontLink),
    ("upper_rear", Link::UpperRearLink),
    ("lower_front", Link::LowerFrontLink),
    ("lower_rear", Link::LowerRearLink),
];

fn carrier(on: &Value) -> Component {
    match on.as_str() {
        Some("upper") => Component::UpperWishbone,
        Some("lower") => Component::LowerWishbone,
        Some("rocker") => Component::Rocker,
        _ => Component::Upright,
    }
}

fn corner(value: &Value, steered: bool) -> Corner {
    use Hardpoint as P;
    let kind = match value["topology"].as_str() {
        Some("strut") => LinkageKind::Strut,
        Some("five_link") => LinkageKind::FiveLink,
        Some("semi_trailing") => LinkageKind::TrailingArm,
        _ => LinkageKind::DoubleWishbone,
    };
    let mut hardpoints = Hardpoints::default();
    for (arm, key, hardpoint) in points_of(kind) {
        hardpoints.set(hardpoint, vector(&value[arm][key]));
    }
    for rod in value["links"].as_array().into_iter().flatten() {
        let link = FIVE_LINKS.iter().find(|(name, _)| rod["name"] == *name);
        if let Some((_, link)) = link {
            hardpoints.set(link.ends().0, vector(&rod["inner"]));
            hardpoints.set(link.ends().1, vector(&rod["outer"]));
        }
    }
    let rod = &value["tie_rod"];
    let link = if steered { Link::TieRod } else { Link::ToeLink };
    if rod.is_object() {
        hardpoints.set(link.ends().0, vector(&rod["inner"]));
        hardpoints.set(link.ends().1, vector(&rod["outer"]));
    }
    let mut corner = Corner::new(kind, wheel(&value["wheel"]), hardpoints);
    corner.lengths = rod["length"].as_f64().map(|length| (link, length)).into_iter().collect();
    let damper = &value["damper"];
    let put = |corner: &mut Corner, hardpoint, at: &Value| corner.hardpoints.set(hardpoint, vector(at));
    match damper["type"].as_str() {
        Some("direct") => {
            put(&mut corner, P::DamperRocker, &damper["outer"]);
            put(&mut corner, P::DamperBody, &damper["chassis"]);
            corner.springing = Some(Springing::Direct { on: carrier(&damper["on"]) });
        }
        Some("strut") => corner.springing = Some(Springing::Strut),
        Some("rocker") => {
            let (pushrod, rocker) = (&damper["pushrod"], &damper["rocker"]);
            put(&mut corner, P::PushrodOuter, &pushrod["outer"]);
            put(&mut corner, P::PushrodInner, &pushrod["inner"]);
            put(&mut corner, P::RockerPivot, &rocker["pivot"]);
            corner.hardpoints.set(P::RockerAxis, vector(&rocker["pivot"]) + vector(&rocker["axis"]));
            put(&mut corner, P::DamperRocker, &damper["damper_rocker"]);
            put(&mut corner, P::DamperBody, &damper["damper_chassis"]);
            corner.springing = Some(Springing::Rocker { pushrod_on: carrier(&pushrod["on"]) });
        }
        _ => {}
    }
    let bar = &value["arb"];
    if bar.is_object() {
        put(&mut corner, P::DropLinkOuter, &bar["outer"]);
        put(&mut corner, P::DropLinkBar, &bar["arm_end"]);
        put(&mut corner, P::BarPivot, &bar["bar_point"]);
        corner.hardpoints.set(P::BarAxis, vector(&bar["bar_point"]) + vector(&bar["bar_axis"]));
        corner.drop_link_on = Some(carrier(&bar["on"]));
    }
    corner
}

/// The link of an axle that a rod of the file is, and whose it is.
fn beam_link(name: &str) -> Option<(Option<Side>, Link)> {
    Some(match name {
        "lower_left" => (Some(Side::Left), Link::LowerLink),
        "lower_right" => (Some(Side::Right), Link::LowerLink),
        "upper_left" => (Some(Side::Left), Link::UpperLink),
        "upper_right" => (Some(Side::Right), Link::UpperLink),
        "upper" => (None, Link::TopLink),
        "panhard" => (None, Link::PanhardRod),
        _ => return None,
    })
}

fn beam(value: &Value) -> Axle {
    let corner =
        |side: &str| Corner::new(LinkageKind::BeamAxle, wheel(&value["wheels"][side]), Hardpoints::default());
    let mut axle = Axle::new(Steering::Fixed, corner("left"), corner("right"));
    for rod in value["links"].as_array().into_iter().flatten() {
        if let Some((side, link)) = rod["name"].as_str().and_then(beam_link) {
            let hardpoints = match side {
                Some(side) => &mut axle.corner_mut(side).hardpoints,
                None => &mut axle.hardpoints,
            };
            hardpoints.set(link.ends().0, vector(&rod["inner"]));
            hardpoints.set(link.ends().1, vector(&rod["outer"]));
        }
    }
    axle
}

/// The side a calibration file names.
#[must_use]
pub fn side(name: &str) -> Side {
    if name == "left" { Side::Left } else { Side::Right }
}
