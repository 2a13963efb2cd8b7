//! From the tree to what is said of joints; a joint is a point where a link ends.

use crate::read::axis::direction;
use crate::read::fields::Diagnostics;
use crate::read::points::Points;
use crate::text::tree::Node;
use crate::text::units_and_axes::Measures;
use nalgebra::Vector3;
use wheelpath_geometry::Assembly;
use wheelpath_geometry::{Hardpoint, Link};

/// The joints that are there, with what is written of each.
fn written<'n>(
    node: &'n Node,
    assembly: Assembly,
    what: &str,
    points: &Points,
    notes: &mut Diagnostics<'_>,
) -> Option<Vec<(Hardpoint, &'n Node)>> {
    let is_joint = |hardpoint: Hardpoint| {
        let ends_at = |link: &Link| <[Hardpoint; 2]>::from(link.ends()).contains(&hardpoint);
        !points.is_absent(hardpoint) && Link::ALL.iter().any(ends_at)
    };
    let joints: Vec<Hardpoint> =
        Hardpoint::ALL.iter().copied().filter(|hardpoint| is_joint(*hardpoint)).collect();
    let known: Vec<_> = joints.iter().map(|hardpoint| hardpoint.key()).collect();
    let fields = notes.fields(node, &format!("the {assembly} {what}"), &known)?;
    Some(joints.into_iter().filter_map(|joint| Some((joint, fields.get(joint.key())?))).collect())
}

/// How far joints swing, radians.
pub(crate) fn joint_limits(
    node: &Node,
    assembly: Assembly,
    points: &Points,
    notes: &mut Diagnostics<'_>,
) -> Option<Vec<(Hardpoint, f64)>> {
    let mut limits = Vec::new();
    for (joint, value) in written(node, assembly, "joint limits", points, notes)? {
        let what = format!("the swing of the {assembly} {joint}");
        let within = |limit: f64| limit > 0.0 && limit <= 180.0;
        let limit = notes.number_in(value, &what, "more than 0 and at most 180 degrees", within)?;
        limits.push((joint, limit.to_radians()));
    }
    Some(limits)
}

/// Unit directions of the joints' bolts.
pub(crate) fn joint_axes(
    node: &Node,
    assembly: Assembly,
    points: &Points,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Vec<(Hardpoint, Vector3<f64>)>> {
    let mut axes = Vec::new();
    for (joint, value) in written(node, assembly, "joint axes", points, notes)? {
        let what = format!("the bolt of the {assembly} {joint}");
        axes.push((joint, direction(value, &what, (points.hardpoints.get(joint), None), measures, notes)?));
    }
    Some(axes)
}
