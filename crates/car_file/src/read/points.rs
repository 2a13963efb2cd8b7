//! From the tree to points and lengths, and what of them is missing, misplaced or not used.

use crate::fault::problem::Fault;
use crate::read::axis::second_point;
use crate::read::fields::Diagnostics;
use crate::read::why::{missing, unused};
use crate::text::axis_form::axis_from;
use crate::text::tree::Node;
use crate::text::units_and_axes::Measures;
use wheelpath_geometry::Assembly;
use wheelpath_geometry::{Axle, Hardpoint, Hardpoints, Link, Need};

/// The points, and those whose key is there but has a fault or was written wrong: not missing too.
#[derive(Default)]
pub(crate) struct Points {
    pub hardpoints: Hardpoints,
    faulty: Vec<Hardpoint>,
}

impl Points {
    pub fn is_absent(&self, hardpoint: Hardpoint) -> bool {
        self.hardpoints.get(hardpoint).is_none() && !self.faulty.contains(&hardpoint)
    }
}

/// The points of a corner or an axle; `axle` says which it needs, if that is known.
pub(crate) fn points(
    node: &Node,
    assembly: Assembly,
    axle: Option<&Axle>,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Points> {
    let needs = axle.map(|axle| assembly.needs(axle));
    let belongs = |hardpoint: Hardpoint| hardpoint.is_of_axle() == assembly.side().is_none();
    let used = |hardpoint: &Hardpoint| {
        needs.as_ref().is_none_or(|needs| needs.iter().any(|n| n.hardpoint == *hardpoint))
    };
    let known: Vec<_> = Hardpoint::ALL.iter().map(|hardpoint| hardpoint.key()).collect();
    let told = Hardpoint::ALL.iter().filter(|hardpoint| belongs(**hardpoint) && used(hardpoint));
    let told: Vec<_> = told.map(|hardpoint| hardpoint.key()).collect();
    let fields = notes.fields_telling(node, &format!("the {assembly} pickups"), &known, &told)?;
    let mut points = Points::default();
    for &hardpoint in Hardpoint::ALL {
        let key = hardpoint.key();
        let Some(node) = fields.get(key) else {
            if fields.was_meant(key) {
                points.faulty.push(hardpoint);
            }
            continue;
        };
        if !belongs(hardpoint) {
            notes.add(fields.key_start(key), Fault::Misplaced { assembly, key, block: "pickups" });
            continue;
        }
        let what = format!("{assembly} {hardpoint}");
        let at = match axis_from(hardpoint) {
            Some(from) => second_point(node, &what, points.hardpoints.get(from), measures, notes),
            None => notes.triple(node, &what).map(|point| measures.point(point)),
        };
        match at {
            Some(at) => points.hardpoints.set(hardpoint, at),
            None => points.faulty.push(hardpoint),
        }
    }
    if let Some(axle) = axle {
        compare_with_needs(node.span.start, Some(node), assembly, &points, axle, notes);
    }
    Some(points)
}

/// Notes points that are missing (at the start of their block) and points that are not used.
pub(crate) fn compare_with_needs(
    start: usize,
    node: Option<&Node>,
    assembly: Assembly,
    points: &Points,
    axle: &Axle,
    notes: &mut Diagnostics<'_>,
) {
    let mut needs = assembly.needs(axle);
    needs.sort_by_key(|need| need.hardpoint);
    for need in &needs {
        let because = if need.must { Some(missing(need, axle)) } else { half_a_link(need, &needs, points) };
        if let Some(because) = because.filter(|_| points.is_absent(need.hardpoint)) {
            notes.add(start, Fault::MissingPoint { assembly, hardpoint: need.hardpoint, because });
        }
    }
    for (hardpoint, _) in
        points.hardpoints.iter().filter(|(hardpoint, _)| !needs.iter().any(|n| n.hardpoint == *hardpoint))
    {
        if let Some(field) = node.and_then(|node| node.field(hardpoint.key())) {
            let (because, hint) = unused(hardpoint, assembly, axle);
            notes.add(field.key_span.start, Fault::UnusedPoint { assembly, hardpoint, because, hint });
        }
    }
}

/// A link that may be there needs both ends or none. An end that must be there says nothing of its links: a drag link
/// goes to one of two knuckles.
fn half_a_link(need: &Need, needs: &[Need], points: &Points) -> Option<String> {
    let other = |link: &Link| match link.ends() {
        (inner, outer) if inner == need.hardpoint => Some(outer),
        (inner, outer) if outer == need.hardpoint => Some(inner),
        _ => None,
    };
    let other = Link::ALL.iter().find_map(other)?;
    let is_there =
        needs.iter().any(|n| n.hardpoint == other && !n.must) && points.hardpoints.get(other).is_some();
    is_there.then(|| format!("the link's other end, `{}`, is given", other.key()))
}

pub(crate) fn lengths(
    node: &Node,
    assembly: Assembly,
    points: &Points,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Vec<(Link, f64)>> {
    let belongs = |link: Link| link.is_of_axle() == assembly.side().is_none();
    let known: Vec<_> = Link::ALL.iter().map(|link| link.key()).collect();
    let is_absent = |link: Link| {
        let (inner, outer) = link.ends();
        points.is_absent(inner) || points.is_absent(outer)
    };
    let told = Link::ALL.iter().filter(|link| belongs(**link) && !is_absent(**link));
    let told: Vec<_> = told.map(|link| link.key()).collect();
    let fields = notes.fields_telling(node, &format!("the {assembly} lengths"), &known, &told)?;
    let mut lengths = Vec::new();
    for &link in Link::ALL {
        let key = link.key();
        let Some(value) = fields.get(key) else { continue };
        if !belongs(link) {
            notes.add(fields.key_start(key), Fault::Misplaced { assembly, key, block: "lengths" });
            continue;
        }
        let length = notes.positive(value, &format!("the length of the {assembly} {link}"))?;
        if is_absent(link) {
            notes.add(fields.key_start(key), Fault::LengthOfAbsentLink { assembly, link });
        }
        lengths.push((link, measures.length(length)));
    }
    Some(lengths)
}
