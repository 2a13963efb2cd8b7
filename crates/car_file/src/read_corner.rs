//! From the tree to one corner.

use crate::convert::{Axes, FileUnits};
use crate::error::Fault;
use crate::fields::Notes;
use crate::needs::needs;
use crate::read::{alignment, optional};
use crate::tree::{Kind, Node};
use nalgebra::Vector3;
use wheelpath_geometry::{
    Alignment, Carrier, Corner, DamperStops, LengthUnit, Link, LinkageKind, Pickup, Pickups, Springing,
    Wheel, WheelAt, spin_axis_from_angles,
};

pub(crate) const CORNER: &[&str] =
    &["wheel", "pickups", "lengths", "springing", "damper", "drop_link_on", "alignment"];
pub(crate) const WHEEL: &[&str] = &["centre", "spin_axis", "tyre_radius", "tyre_width", "rim_radius"];
pub(crate) const CARRIERS: &[(&str, Carrier)] = &[
    ("UpperWishbone", Carrier::UpperWishbone),
    ("LowerWishbone", Carrier::LowerWishbone),
    ("Upright", Carrier::Upright),
    ("Rocker", Carrier::Rocker),
];

#[expect(clippy::too_many_arguments, reason = "all of it is the axle's word on the corner")]
pub(crate) fn corner(
    node: &Node,
    at: WheelAt,
    linkage: Option<LinkageKind>,
    steered: Option<bool>,
    shared: Option<Alignment>,
    units: LengthUnit,
    axes: Axes,
    notes: &mut Notes<'_>,
) -> Option<Corner> {
    let fields = notes.fields(node, &format!("the {at} corner"), CORNER)?;
    let wheel = notes.need(&fields, "wheel").and_then(|n| wheel(n, at, units, axes, notes));
    let springing = optional(&fields, "springing", |n| springing(n, at, notes));
    let damper = optional(&fields, "damper", |n| damper(n, at, units, notes));
    let drop_link_on =
        optional(&fields, "drop_link_on", |n| notes.word(n, &format!("the {at} drop link"), CARRIERS));
    if let (Some(Some(Carrier::Rocker)), Some(springing), Some(node)) =
        (drop_link_on, springing, fields.get("drop_link_on"))
        && !matches!(springing, Some(Springing::Rocker { .. }))
    {
        let what = format!("the {at} drop link");
        notes.add(node.span.start, Fault::NoRocker { what, why: "the springing is not by rocker" });
    }
    let own = optional(&fields, "alignment", |n| alignment(n, &format!("the {at} alignment"), notes));

    let pickups = notes.need(&fields, "pickups").and_then(|n| pickups(n, at, units, axes, notes));
    if let (Some(pickups), Some(node)) = (&pickups, fields.get("pickups"))
        && let (Some(linkage), Some(steered), Some(springing), Some(bar)) =
            (linkage, steered, springing, drop_link_on)
    {
        compare_with_needs(node, at, pickups, linkage, steered, springing, bar.is_some(), notes);
    }
    let lengths = match (fields.get("lengths"), &pickups) {
        (Some(node), Some(pickups)) => lengths(node, at, pickups, units, notes),
        (Some(_), None) => None,
        (None, _) => Some(Vec::new()),
    };
    Some(Corner {
        linkage: linkage?,
        wheel: wheel?,
        pickups: pickups?.0,
        lengths: lengths?,
        springing: springing?,
        damper: damper?,
        drop_link_on: drop_link_on?,
        joint_limits: Vec::new(),
        spring: None,
        alignment: own?.or(shared)?,
    })
}

fn wheel(node: &Node, at: WheelAt, units: LengthUnit, axes: Axes, notes: &mut Notes<'_>) -> Option<Wheel> {
    let fields = notes.fields(node, &format!("the {at} wheel"), WHEEL)?;
    let centre = notes
        .need(&fields, "centre")
        .and_then(|n| notes.triple(n, &format!("the {at} wheel centre")))
        .map(|point| axes.point_to_vehicle(point, units));
    let spin_axis =
        notes.need(&fields, "spin_axis").and_then(|n| spin_axis(n, at, centre, units, axes, notes));
    let [tyre_radius, tyre_width, rim_radius] = ["tyre_radius", "tyre_width", "rim_radius"].map(|key| {
        let node = notes.need(&fields, key)?;
        let what = format!("the {at} {}", key.replace('_', " "));
        notes.positive(node, &what).map(|length| units.to_metres(length))
    });
    Some(Wheel {
        centre: centre?,
        spin_axis: spin_axis?,
        tyre_radius: tyre_radius?,
        tyre_width: tyre_width?,
        tyre_shoulder_radius: 0.0,
        rim_radius: rim_radius?,
    })
}

pub(crate) fn spin_axis(
    node: &Node,
    at: WheelAt,
    centre: Option<Vector3<f64>>,
    units: LengthUnit,
    axes: Axes,
    notes: &mut Notes<'_>,
) -> Option<Vector3<f64>> {
    let what = format!("the {at} spin axis");
    if notes.choice(node, &what, &[("Angles", true), ("Point", false)])? {
        let fields = notes.fields_after_word(node, &what, &["camber_deg", "toe_deg"])?;
        let [camber, toe] = ["camber_deg", "toe_deg"].map(|key| {
            let node = notes.need(&fields, key)?;
            let what = format!("the {at} wheel's {}", key.trim_end_matches("_deg"));
            notes.number_in(node, &what, "between -45 and 45 degrees", |angle| angle.abs() < 45.0)
        });
        return Some(spin_axis_from_angles(at.side, camber?.to_radians(), toe?.to_radians()));
    }
    let what = format!("the {at} second point on the spin axis");
    let point = match &node.kind {
        // `Point(x, y, z)` and `Point((x, y, z))` say the same.
        Kind::Row(row) => match row.as_slice() {
            [point] => notes.triple(point, &what)?,
            row => notes.row_of_three(node, row, &what)?,
        },
        _ => {
            notes.wrong_shape(node, &what, "Point((x, y, z))");
            return None;
        }
    };
    let along = axes.point_to_vehicle(point, units) - centre?;
    let Some(unit) = along.try_normalize(1e-9).filter(|unit| unit.iter().all(|c| c.is_finite())) else {
        let why = "its second point is the wheel centre";
        notes.add(node.span.start, Fault::NoDirection { what: format!("the {at} spin axis"), why });
        return None;
    };
    if unit.y * at.side.sign() <= 0.0 {
        let why = "the second point is to be outboard of the wheel centre";
        let hint = "put the point on the other side of the wheel centre";
        notes.add(node.span.start, Fault::WrongWay { what: format!("the {at} spin axis"), why, hint });
        return None;
    }
    Some(unit)
}

fn springing(node: &Node, at: WheelAt, notes: &mut Notes<'_>) -> Option<Springing> {
    let what = format!("the {at} springing");
    let by_rocker = notes.choice(node, &what, &[("Rocker", true), ("Direct", false)])?;
    let (key, carried) =
        if by_rocker { ("pushrod_on", "pushrod's outer end") } else { ("on", "damper's moving eye") };
    let fields = notes.fields_after_word(node, &what, &[key])?;
    let part = notes.need(&fields, key)?;
    let what = format!("the {at} {carried}");
    let on = notes.word(part, &what, CARRIERS)?;
    if on == Carrier::Rocker {
        let why = if by_rocker {
            "the pushrod moves the rocker"
        } else {
            "a damper on a rocker is `springing: Rocker(pushrod_on: ...)`"
        };
        notes.add(part.span.start, Fault::NoRocker { what, why });
        return None;
    }
    Some(if by_rocker { Springing::Rocker { pushrod_on: on } } else { Springing::Direct { on } })
}

fn damper(node: &Node, at: WheelAt, units: LengthUnit, notes: &mut Notes<'_>) -> Option<DamperStops> {
    let fields = notes.fields(node, &format!("the {at} damper"), &["shortest", "longest"])?;
    let [shortest, longest] = ["shortest", "longest"].map(|key| {
        let node = notes.need(&fields, key)?;
        notes.positive(node, &format!("the {at} damper's {key} length"))
    });
    let (shortest, longest) = (shortest?, longest?);
    if shortest >= longest {
        notes.add(node.span.start, Fault::DamperStops { wheel: at, shortest, longest });
        return None;
    }
    Some(DamperStops { shortest: units.to_metres(shortest), longest: units.to_metres(longest) })
}

/// The points, and those whose key is there but has a fault or was written wrong: not missing too.
fn pickups(
    node: &Node,
    at: WheelAt,
    units: LengthUnit,
    axes: Axes,
    notes: &mut Notes<'_>,
) -> Option<(Pickups, Vec<Pickup>)> {
    let keys: Vec<_> = Pickup::ALL.iter().map(|pickup| pickup.key()).collect();
    let fields = notes.fields(node, &format!("the {at} pickups"), &keys)?;
    let mut points = Pickups::default();
    let mut faulty = Vec::new();
    for &pickup in Pickup::ALL {
        let Some(node) = fields.get(pickup.key()) else {
            if fields.was_meant(pickup.key()) {
                faulty.push(pickup);
            }
            continue;
        };
        match notes.triple(node, &format!("{at} {pickup}")) {
            Some(point) => points.set(pickup, axes.point_to_vehicle(point, units)),
            None => faulty.push(pickup),
        }
    }
    Some((points, faulty))
}

#[expect(clippy::too_many_arguments, reason = "the choices of a corner that ask for points")]
fn compare_with_needs(
    node: &Node,
    at: WheelAt,
    (points, faulty): &(Pickups, Vec<Pickup>),
    linkage: LinkageKind,
    steered: bool,
    springing: Option<Springing>,
    has_bar: bool,
    notes: &mut Notes<'_>,
) {
    for need in needs(linkage, steered, springing, has_bar) {
        for &pickup in need.points {
            let given = points.get(pickup).is_some();
            if need.used && !given && !faulty.contains(&pickup) {
                let fault = Fault::MissingPoint { wheel: at, pickup, because: need.because };
                notes.add(node.span.start, fault);
            }
            if !need.used
                && given
                && let Some(field) = node.field(pickup.key())
            {
                let hint = need.remedy.to_owned();
                let fault = Fault::UnusedPoint { wheel: at, pickup, because: need.because, hint };
                notes.add(field.key_span.start, fault);
            }
        }
    }
}

fn lengths(
    node: &Node,
    at: WheelAt,
    (points, faulty): &(Pickups, Vec<Pickup>),
    units: LengthUnit,
    notes: &mut Notes<'_>,
) -> Option<Vec<(Link, f64)>> {
    let keys: Vec<_> = Link::ALL.iter().map(|link| link.key()).collect();
    let fields = notes.fields(node, &format!("the {at} lengths"), &keys)?;
    let mut lengths = Vec::new();
    for &link in Link::ALL {
        let Some(value) = fields.get(link.key()) else { continue };
        let length = notes.positive(value, &format!("the length of the {at} {link}"))?;
        let absent = |end: &Pickup| points.get(*end).is_none() && !faulty.contains(end);
        if <[Pickup; 2]>::from(link.ends()).iter().any(absent) {
            let byte = node.field(link.key()).map_or(node.span.start, |field| field.key_span.start);
            notes.add(byte, Fault::LengthOfAbsentLink { wheel: at, link });
        }
        lengths.push((link, units.to_metres(length)));
    }
    Some(lengths)
}
