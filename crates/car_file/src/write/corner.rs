//! What the text of a corner should say.

use crate::read::alignment::TIE_ROD_LENGTH;
use crate::read::axis::{direction as read_direction, second_point};
use crate::read::car::Heading;
use crate::read::corner::spin_axis;
use crate::read::fields::Diagnostics;
use crate::read::words::{camber_word, words_of_part};
use crate::text::axis_form::POINT;
use crate::text::axis_form::axis_from;
use crate::text::ron_value::{RonValue, Scale};
use crate::text::tree::Node;
use crate::write::direction::direction;
use nalgebra::Vector3;
use wheelpath_geometry::{
    Alignment, CamberBy, Component, Corner, Hardpoint, Hardpoints, Link, LinkageKind, Part, Spring,
    Springing, ToeBy, Wheel, WheelPosition, static_angles,
};

pub(crate) fn alignment(alignment: &Alignment, linkage: LinkageKind) -> RonValue {
    let set = |name, key, angle| RonValue::Fields { name, fields: vec![(key, RonValue::degrees(angle))] };
    let toe = match alignment.toe {
        ToeBy::Points => RonValue::Word("FromPoints"),
        ToeBy::TieRodLength(toe) => set(TIE_ROD_LENGTH, "toe_deg", toe),
    };
    let camber = match (alignment.camber, camber_word(linkage)) {
        (CamberBy::Adjuster(camber), Some(word)) => set(word, "camber_deg", camber),
        // Without an adjuster there is no word for it: what is saved is then found to differ.
        (CamberBy::Points | CamberBy::Adjuster(_), _) => RonValue::Word("FromPoints"),
    };
    RonValue::fields(vec![("toe", toe), ("camber", camber)])
}

pub(crate) fn points(hardpoints: &Hardpoints, heading: &Heading, old: Option<&Node>) -> RonValue {
    let (units, axes) = (heading.units, heading.axes);
    let point = |(hardpoint, at): (Hardpoint, Vector3<f64>)| {
        let bare = RonValue::point(&at, units, axes);
        let Some(from) = axis_from(hardpoint) else { return (hardpoint.key(), bare) };
        // An axis stays as it is written as long as it says the same.
        let read = |node: &Node| {
            second_point(node, "", hardpoints.get(from), heading.measures(), &mut Diagnostics::new("", ""))
        };
        let said = old.and_then(|node| node.at(&[hardpoint.key()])).and_then(read);
        let item = match bare {
            _ if said.is_some_and(|said| (said - at).norm() < 1e-13) => RonValue::Keep,
            RonValue::Row { values, .. } => RonValue::Row { name: POINT, values },
            other => other,
        };
        (hardpoint.key(), item)
    };
    RonValue::fields(hardpoints.iter().map(point).collect())
}

/// The lengths in the order of all links; an empty block only where one stands.
pub(crate) fn lengths(
    lengths: &[(Link, f64)],
    heading: &Heading,
    stands: bool,
) -> Option<(&'static str, RonValue)> {
    let length = |&(link, length): &(Link, f64)| (link.key(), RonValue::length(length, heading.units));
    let fields: Vec<_> = lengths.iter().map(length).collect();
    (stands || !fields.is_empty()).then(|| ("lengths", RonValue::fields(fields)))
}

/// The radii in the order of all parts; an empty block only where one stands.
pub(crate) fn radii(
    radii: &[(Part, f64)],
    heading: &Heading,
    stands: bool,
) -> Option<(&'static str, RonValue)> {
    let radius = |&(part, radius): &(Part, f64)| (part.key(), RonValue::length(radius, heading.units));
    let fields: Vec<_> = radii.iter().map(radius).collect();
    (stands || !fields.is_empty()).then(|| ("radii", RonValue::fields(fields)))
}

fn joint_axes(
    joints: &[(Hardpoint, Vector3<f64>)],
    hardpoints: &Hardpoints,
    heading: &Heading,
    old: Option<&Node>,
) -> RonValue {
    let axis = |(joint, axis): &(Hardpoint, Vector3<f64>)| {
        let joint = *joint;
        let old = old.and_then(|node| node.at(&[joint.key()]));
        let from = (hardpoints.get(joint), None);
        let read =
            |node: &Node| read_direction(node, "", from, heading.measures(), &mut Diagnostics::new("", ""));
        (joint.key(), direction(axis, old.and_then(read), heading))
    };
    RonValue::fields(joints.iter().map(axis).collect())
}

pub(crate) fn rate_n_per_mm(rate: f64) -> (&'static str, RonValue) {
    ("rate_n_per_mm", RonValue::scaled(rate, Scale::PerMillimetre))
}

fn spring(spring: &Spring, part: impl Fn(Component) -> RonValue) -> RonValue {
    let (name, fields) = match *spring {
        Spring::OnDamper { rate } => ("OnDamper", vec![rate_n_per_mm(rate)]),
        Spring::Separate { on, rate } => ("Separate", vec![("on", part(on)), rate_n_per_mm(rate)]),
        Spring::TorsionBar { rate } => {
            ("TorsionBar", vec![("rate_nm_per_deg", RonValue::scaled(rate, Scale::PerDegree))])
        }
    };
    RonValue::Fields { name, fields }
}

fn springing(springing: Springing, part: impl Fn(Component) -> RonValue) -> RonValue {
    let (name, key, on) = match springing {
        Springing::Rocker { pushrod_on } => ("Rocker", "pushrod_on", pushrod_on),
        Springing::Direct { on } => ("Direct", "on", on),
        Springing::Strut => return RonValue::Word("Strut"),
    };
    RonValue::Fields { name, fields: vec![(key, part(on))] }
}

pub(crate) fn corner(
    corner: &Corner,
    at: WheelPosition,
    heading: &Heading,
    old: Option<&Node>,
    own: bool,
) -> RonValue {
    let units = heading.units;
    let part = |part: Component| RonValue::AnyOf(words_of_part(corner.linkage, part));
    let mut fields = vec![
        ("wheel", wheel(&corner.wheel, at, heading, old.and_then(|node| node.at(&["wheel"])))),
        ("pickups", points(&corner.hardpoints, heading, old.and_then(|node| node.at(&["pickups"])))),
    ];
    let stands = old.is_some_and(|node| node.field("lengths").is_some());
    fields.extend(lengths(&corner.lengths, heading, stands));
    let limit = |&(joint, limit): &(Hardpoint, f64)| (joint.key(), RonValue::degrees(limit));
    let limits: Vec<_> = corner.joint_limits.iter().map(limit).collect();
    if !limits.is_empty() || old.is_some_and(|node| node.field("joint_limits_deg").is_some()) {
        fields.push(("joint_limits_deg", RonValue::fields(limits)));
    }
    let stands = |key: &str| old.is_some_and(|node| node.field(key).is_some());
    if !corner.joint_axes.is_empty() || stands("joint_axes") {
        let written = old.and_then(|node| node.field("joint_axes")).map(|field| &field.value);
        fields.push(("joint_axes", joint_axes(&corner.joint_axes, &corner.hardpoints, heading, written)));
    }
    fields.extend(radii(&corner.radii, heading, stands("radii")));
    fields.extend(corner.springing.map(|own| ("springing", springing(own, part))));
    fields.extend(corner.damper.map(|stops| {
        let shortest = ("shortest", RonValue::length(stops.shortest, units));
        ("damper", RonValue::fields(vec![shortest, ("longest", RonValue::length(stops.longest, units))]))
    }));
    fields.extend(corner.spring.map(|own| ("spring", spring(&own, part))));
    fields.extend(corner.drop_link_on.map(|on| ("drop_link_on", part(on))));
    if own {
        fields.push(("alignment", alignment(&corner.alignment, corner.linkage)));
    }
    RonValue::fields(fields)
}

fn wheel(wheel: &Wheel, at: WheelPosition, heading: &Heading, old: Option<&Node>) -> RonValue {
    let (units, axes) = (heading.units, heading.axes);
    let old_axis = old.and_then(|node| node.at(&["spin_axis"]));
    let read = |node: &Node| {
        spin_axis(node, at, Some(wheel.centre), heading.measures(), &mut Diagnostics::new("", ""))
    };
    let axis = if old_axis.and_then(read).is_some_and(|axis| (axis - wheel.spin_axis).norm() < 1e-15) {
        RonValue::Keep
    } else if old_axis.is_some_and(|node| node.name.as_deref() == Some("Point")) {
        let reach = wheel.tyre_width.max(0.1);
        let point = RonValue::point(&(wheel.centre + wheel.spin_axis * reach), units, axes);
        RonValue::Row { name: "Point", values: vec![point] }
    } else {
        let (camber, toe) = static_angles(&wheel.spin_axis, at.side);
        let fields = vec![("camber_deg", RonValue::degrees(camber)), ("toe_deg", RonValue::degrees(toe))];
        RonValue::Fields { name: "Angles", fields }
    };
    let mut fields = vec![
        ("centre", RonValue::point(&wheel.centre, units, axes)),
        ("spin_axis", axis),
        ("tyre_radius", RonValue::length(wheel.tyre_radius, units)),
        ("tyre_width", RonValue::length(wheel.tyre_width, units)),
    ];
    // A disc needs no word.
    let stands = old.is_some_and(|node| node.field("tyre_shoulder_radius").is_some());
    if stands || wheel.tyre_shoulder_radius != 0.0 {
        fields.push(("tyre_shoulder_radius", RonValue::length(wheel.tyre_shoulder_radius, units)));
    }
    fields.push(("rim_radius", RonValue::length(wheel.rim_radius, units)));
    fields.extend(wheel.rim_width.map(|width| ("rim_width", RonValue::length(width, units))));
    fields.extend(wheel.rim_inner_radius.map(|radius| ("rim_inner_radius", RonValue::length(radius, units))));
    RonValue::fields(fields)
}
