//! What the text of a car's file should say.

use crate::read::car::Heading;
use crate::read::fields::Diagnostics;
use crate::read::left_over::{KEY, written};
use crate::read::stand_in::{STAND_IN, is_stand_in};
use crate::read::steering::{rack_axis, shaft_axis};
use crate::read::words::{BARS, BRAKES, DRIVES, WATT_LEVERS, linkage_word, word_of, words_of_part};
use crate::text::ron_value::{Quantity, RonValue, Scale};
use crate::text::tree::Node;
use crate::text::units_and_axes::FileUnits;
use crate::write::corner::{alignment, corner, lengths, points, radii, rate_n_per_mm};
use crate::write::direction::direction;
use crate::write::static_loads::static_loads;
use nalgebra::Vector3;
use wheelpath_geometry::{
    Alignment, AntiRollBar, Axle, Car, CardanJoint, Column, End, LinkageKind, Rack, Side, Steering,
    SteeringArm, SteeringBox, ThirdSpring, WheelPosition,
};

/// The car under its heading; `old` is the file as it stands, for what is written in one of several
/// ways. Without it a car that is the same on both sides is written with one side mirrored.
pub(crate) fn item(car: &Car, heading: &Heading, old: Option<&Node>) -> RonValue {
    let units = heading.units;
    let word = |direction: crate::Direction| RonValue::Word(direction.word());
    let [x, y, z] = heading.axes.directions().map(word);
    let mut fields = vec![
        ("format", RonValue::Text(crate::FORMAT.into())),
        ("version", RonValue::Number(Quantity { core: f64::from(crate::VERSION), scale: Scale::Whole })),
        ("name", RonValue::Text(car.name.clone())),
    ];
    fields.extend(heading.about.as_ref().map(|about| ("about", RonValue::Text(about.clone()))));
    fields.extend([
        ("units", RonValue::Word(units.word())),
        ("axes", RonValue::fields(vec![("x", x), ("y", y), ("z", z)])),
        ("design_pose", RonValue::Text(heading.design_pose.clone())),
        ("wheelbase", RonValue::length(car.wheelbase, units)),
    ]);
    let height = car.centre_of_gravity_height;
    fields.extend(height.map(|height| ("centre_of_gravity_height", RonValue::length(height, units))));
    let plain = |key: &'static str, value: Option<f64>| value.map(|value| (key, RonValue::plain(value)));
    fields.extend(plain("brake_share_front", car.brake_share_front));
    fields.extend(plain("mass_kg", car.mass));
    fields.extend(plain("weight_share_front", car.weight_share_front));
    fields.extend(static_loads(car.static_loads, old));
    let left_over: Vec<RonValue> = heading.left_over.iter().map(|one| RonValue::Text(written(one))).collect();
    if !left_over.is_empty() || old.is_some_and(|node| node.field(KEY).is_some()) {
        fields.push((KEY, RonValue::List(left_over)));
    }
    for end in End::BOTH {
        let old = old.and_then(|node| node.at(&[end.name()]));
        // Only where the file says so: a measured axle may have the same numbers by chance.
        let stands_in = end == End::Rear && old.is_some_and(|node| node.is_word(STAND_IN));
        if stands_in && is_stand_in(&car.rear) {
            fields.push((end.name(), RonValue::Word(STAND_IN)));
            continue;
        }
        fields.push((end.name(), axle(car.axle(end), end, heading, old)));
    }
    RonValue::fields(fields)
}

fn axle(axle: &Axle, end: End, heading: &Heading, old: Option<&Node>) -> RonValue {
    let linkage = axle.left.linkage;
    let mut fields = vec![
        ("linkage", RonValue::Word(linkage_word(linkage))),
        ("steering", steering(&axle.steering, end, heading, old.and_then(|node| node.at(&["steering"])))),
    ];
    fields.extend(column(&axle.column).map(|item| ("column", item)));
    fields.extend([
        ("brakes", RonValue::Word(word_of(BRAKES, &axle.brakes))),
        ("drive", RonValue::Word(word_of(DRIVES, &axle.drive))),
    ]);
    fields.extend(axle.watt_lever_on.map(|on| ("watt_lever_on", RonValue::Word(word_of(WATT_LEVERS, &on)))));
    fields.extend(axle.anti_roll_bar.map(|bar| ("anti_roll_bar", anti_roll_bar(bar))));
    fields.extend(axle.third_spring.map(|spring| ("third_spring", third_spring(spring, linkage))));
    let own = points(&axle.hardpoints, heading, old.and_then(|node| node.at(&["pickups"])));
    let stands = |key: &str| old.is_some_and(|node| node.field(key).is_some());
    if axle.hardpoints.iter().next().is_some() || stands("pickups") {
        fields.push(("pickups", own));
    }
    fields.extend(lengths(&axle.lengths, heading, stands("lengths")));
    fields.extend(radii(&axle.radii, heading, stands("radii")));
    fields.extend(sides(axle, end, heading, old));
    RonValue::fields(fields)
}

/// Both corners, and the alignment they share.
fn sides(axle: &Axle, end: End, heading: &Heading, old: Option<&Node>) -> Vec<(&'static str, RonValue)> {
    let written = |side: Side| old.and_then(|node| node.at(&[side.name()]));
    let same = axle.right == axle.left.mirrored();
    let mirrored = |side: Side| {
        same && match old {
            Some(_) => written(side).is_some_and(|node| node.is_word("Mirrored")),
            None => side == Side::Right,
        }
    };
    // A side with an alignment of its own keeps it there; the axle's is that of the first side without.
    let has_own = |side: Side| {
        let source = if mirrored(side) { side.other() } else { side };
        written(source).is_some_and(|node| node.field("alignment").is_some())
    };
    let shared = Side::BOTH.into_iter().find(|side| !has_own(*side)).map(|side| axle.corner(side).alignment);
    let side = |side: Side| {
        if mirrored(side) {
            return RonValue::Word("Mirrored");
        }
        let corner_of = axle.corner(side);
        let own = has_own(side) || shared != Some(corner_of.alignment);
        corner(corner_of, WheelPosition { end, side }, heading, written(side), own)
    };
    let mut fields = vec![("left", side(Side::Left)), ("right", side(Side::Right))];
    let stands = old.is_some_and(|node| node.field("alignment").is_some());
    match shared {
        Some(shared) if stands || shared != Alignment::FROM_POINTS => {
            fields.push(("alignment", alignment(&shared, axle.left.linkage)));
        }
        None if stands => fields.push(("alignment", RonValue::Keep)),
        _ => {}
    }
    fields
}

fn steering(steering: &Steering, end: End, heading: &Heading, old: Option<&Node>) -> RonValue {
    match steering {
        Steering::Fixed => RonValue::Word("Fixed"),
        Steering::Rack(own) => rack(own, end, heading, old),
        Steering::Box(own) => steering_box(own, heading, old),
    }
}

fn rack(rack: &Rack, end: End, heading: &Heading, old: Option<&Node>) -> RonValue {
    let units = heading.units;
    let old = old.and_then(|node| node.at(&["axis"]));
    let written =
        old.and_then(|node| rack_axis(node, end, heading.measures(), &mut Diagnostics::new("", "")));
    let fields = vec![
        ("axis", direction(&rack.axis, written, heading)),
        ("travel_per_turn", RonValue::length(rack.travel_per_turn, units)),
        ("stop_left", RonValue::length(rack.stop_left, units)),
        ("stop_right", RonValue::length(rack.stop_right, units)),
    ];
    RonValue::Fields { name: "Rack", fields }
}

fn steering_box(own: &SteeringBox, heading: &Heading, old: Option<&Node>) -> RonValue {
    let point = |at: &Vector3<f64>| RonValue::point(at, heading.units, heading.axes);
    let axis = |arm: &SteeringArm, key: &str| {
        let old = old.and_then(|node| node.at(&[key]));
        let read = |node: &Node| {
            shaft_axis(node, "", Some(arm.pivot), heading.measures(), &mut Diagnostics::new("", ""))
        };
        direction(&arm.axis, old.and_then(read), heading)
    };
    let fields = vec![
        ("pitman_pivot", point(&own.pitman.pivot)),
        ("pitman_axis", axis(&own.pitman, "pitman_axis")),
        ("pitman_ball", point(&own.pitman.ball)),
        ("idler_pivot", point(&own.idler.pivot)),
        ("idler_axis", axis(&own.idler, "idler_axis")),
        ("idler_ball", point(&own.idler.ball)),
        ("ratio", RonValue::plain(own.ratio)),
        ("stop_left_deg", RonValue::degrees(own.stop_left)),
        ("stop_right_deg", RonValue::degrees(own.stop_right)),
    ];
    RonValue::Fields { name: "Box", fields }
}

fn column(column: &Column) -> Option<RonValue> {
    let joint = |joint: &CardanJoint| {
        let bend = ("bend_deg", RonValue::degrees(joint.bend));
        RonValue::fields(vec![bend, ("phase_deg", RonValue::degrees(joint.phase))])
    };
    let joints: Vec<RonValue> = column.joints.iter().flatten().map(joint).collect();
    (!joints.is_empty()).then(|| RonValue::fields(vec![("joints", RonValue::List(joints))]))
}

fn anti_roll_bar(bar: AntiRollBar) -> RonValue {
    let name = word_of(BARS, &bar.kind);
    match bar.rate {
        None => RonValue::Word(name),
        Some(rate) => {
            let fields = vec![("rate_nm_per_deg", RonValue::scaled(rate, Scale::PerDegree))];
            RonValue::Fields { name, fields }
        }
    }
}

fn third_spring(spring: ThirdSpring, linkage: LinkageKind) -> RonValue {
    let mut fields = vec![("on", RonValue::AnyOf(words_of_part(linkage, spring.on)))];
    fields.extend(spring.rate.map(rate_n_per_mm));
    RonValue::fields(fields)
}
