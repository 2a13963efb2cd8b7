//! From the tree to one corner.

use crate::fault::problem::Fault;
use crate::read::alignment::alignment;
use crate::read::axle::AxleWords;
use crate::read::car::optional;
use crate::read::fields::Diagnostics;
use crate::read::joints::{joint_axes, joint_limits};
use crate::read::points::{lengths, points};
use crate::read::radii::radii;
use crate::read::springing::{damper, drop_link, spring, springing};
use crate::read::why::Choices;
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::Measures;
use nalgebra::Vector3;
use wheelpath_geometry::Assembly;
use wheelpath_geometry::{Corner, Wheel, WheelPosition, spin_axis_from_angles, static_angles};

pub(crate) const CORNER: &[&str] = &[
    "wheel",
    "pickups",
    "lengths",
    "joint_limits_deg",
    "joint_axes",
    "radii",
    "springing",
    "damper",
    "spring",
    "drop_link_on",
    "alignment",
];
pub(crate) const WHEEL: &[&str] = &[
    "centre",
    "spin_axis",
    "tyre_radius",
    "tyre_width",
    "tyre_shoulder_radius",
    "rim_radius",
    "rim_width",
    "rim_inner_radius",
];

pub(crate) fn corner(
    node: &Node,
    at: WheelPosition,
    words: &AxleWords,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Corner> {
    let linkage = words.linkage;
    let fields = notes.fields(node, &format!("the {at} corner"), CORNER)?;
    let wheel = notes.need(&fields, "wheel").and_then(|n| wheel(n, at, measures, notes));
    let springing = optional(&fields, "springing", |n| springing(n, at, linkage, notes));
    let damper = optional(&fields, "damper", |n| damper(n, at, measures, notes));
    let spring = optional(&fields, "spring", |n| spring(n, at, linkage, notes));
    let drop_link_on = optional(&fields, "drop_link_on", |n| drop_link(n, at, linkage, springing, notes));
    let own =
        optional(&fields, "alignment", |n| alignment(n, &format!("the {at} alignment"), linkage, notes));

    let asked = match (springing, spring, drop_link_on) {
        (Some(springing), Some(spring), Some(drop_link_on)) => {
            words.with(Choices { springing, spring, drop_link_on })
        }
        _ => None,
    };
    let assembly = Assembly::from(at);
    let points =
        notes.need(&fields, "pickups").and_then(|n| points(n, assembly, asked.as_ref(), measures, notes));
    let lengths = match (fields.get("lengths"), &points) {
        (Some(node), Some(points)) => lengths(node, assembly, points, measures, notes),
        (Some(_), None) => None,
        (None, _) => Some(Vec::new()),
    };
    let joint_limits = match (fields.get("joint_limits_deg"), &points) {
        (Some(node), Some(points)) => joint_limits(node, assembly, points, notes),
        (Some(_), None) => None,
        (None, _) => Some(Vec::new()),
    };
    let joint_axes = match (fields.get("joint_axes"), &points) {
        (Some(node), Some(points)) => joint_axes(node, assembly, points, measures, notes),
        (Some(_), None) => None,
        (None, _) => Some(Vec::new()),
    };
    let radii =
        optional(&fields, "radii", |n| radii(n, assembly, measures, notes)).map(Option::unwrap_or_default);
    Some(Corner {
        linkage: linkage?,
        wheel: wheel?,
        hardpoints: points?.hardpoints,
        lengths: lengths?,
        made_at: Vec::new(),
        springing: springing?,
        damper: damper?,
        drop_link_on: drop_link_on?,
        joint_limits: joint_limits?,
        joint_axes: joint_axes?,
        radii: radii?,
        spring: spring?,
        alignment: own?.or(words.alignment)?,
    })
}

fn wheel(node: &Node, at: WheelPosition, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<Wheel> {
    let fields = notes.fields(node, &format!("the {at} wheel"), WHEEL)?;
    let centre = notes
        .need(&fields, "centre")
        .and_then(|n| notes.triple(n, &format!("the {at} wheel centre")))
        .map(|point| measures.point(point));
    let spin_axis = notes.need(&fields, "spin_axis").and_then(|n| spin_axis(n, at, centre, measures, notes));
    let [tyre_radius, tyre_width, rim_radius] = ["tyre_radius", "tyre_width", "rim_radius"].map(|key| {
        let node = notes.need(&fields, key)?;
        let what = format!("the {at} {}", key.replace('_', " "));
        notes.positive(node, &what).map(|length| measures.length(length))
    });
    let shoulder = optional(&fields, "tyre_shoulder_radius", |n| {
        let what = format!("the {at} tyre shoulder radius");
        notes.number_in(n, &what, "0 or more", |radius| radius >= 0.0).map(|radius| measures.length(radius))
    });
    let [rim_width, rim_inner_radius] = ["rim_width", "rim_inner_radius"].map(|key| {
        optional(&fields, key, |n| {
            let what = format!("the {at} {}", key.replace('_', " "));
            notes.positive(n, &what).map(|length| measures.length(length))
        })
    });
    Some(Wheel {
        centre: centre?,
        spin_axis: spin_axis?,
        tyre_radius: tyre_radius?,
        tyre_width: tyre_width?,
        tyre_shoulder_radius: shoulder?.unwrap_or(0.0),
        rim_radius: rim_radius?,
        rim_width: rim_width?,
        rim_inner_radius: rim_inner_radius?,
    })
}

pub(crate) fn spin_axis(
    node: &Node,
    at: WheelPosition,
    centre: Option<Vector3<f64>>,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Vector3<f64>> {
    let what = format!("the {at} spin axis");
    if notes.choice(node, &what, &[("Angles", true), ("Point", false)])? {
        let fields = notes.fields_after_word(node, &what, &["camber_deg", "toe_deg"])?;
        let [camber, toe] = ["camber_deg", "toe_deg"].map(|key| {
            let node = notes.need(&fields, key)?;
            notes.angle(node, &format!("the {at} wheel's {}", key.trim_end_matches("_deg")))
        });
        return Some(spin_axis_from_angles(at.side, camber?, toe?));
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
    let along = measures.point(point) - centre?;
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
    // What two angles could not say is no wheel that stands on a road.
    let (camber, toe) = static_angles(&unit, at.side);
    for (name, angle) in [("camber", camber), ("toe", toe)] {
        let value = angle.to_degrees();
        if value.abs() >= 45.0 - 1e-9 {
            let what = format!("the {at} wheel's {name}, by the second point on its spin axis,");
            let range = "between -45 and 45 degrees";
            notes.add(node.span.start, Fault::OutOfRange { what, value, range });
            return None;
        }
    }
    Some(unit)
}
