//! What keeps its length when a corner moves.

use nalgebra::Vector3;
use wheelpath_geometry::{Carrier, Corner, CornerSolver, Link, LinkageKind, Pickup, Springing};

/// A length may be off by this, metres.
const OFF: f64 = 1e-9;

type Points = [(Pickup, Vector3<f64>)];

fn find(points: &Points, pickup: Pickup) -> Option<Vector3<f64>> {
    points.iter().find(|(p, _)| *p == pickup).map(|(_, at)| *at)
}

/// Points that one rigid part carries, part by part.
fn parts(corner: &Corner) -> Vec<Vec<Pickup>> {
    use Pickup as P;
    let carried = |carrier: Carrier, mut points: Vec<Pickup>| {
        let springing = corner.springing;
        if matches!(springing, Some(Springing::Direct { on }) if on == carrier)
            || (carrier == Carrier::Rocker && matches!(springing, Some(Springing::Rocker { .. })))
        {
            points.push(P::DamperRocker);
        }
        if matches!(springing, Some(Springing::Rocker { pushrod_on }) if pushrod_on == carrier) {
            points.push(P::PushrodOuter);
        }
        if corner.drop_link_on == Some(carrier) {
            points.push(P::DropLinkOuter);
        }
        points
    };
    let mut parts = match corner.linkage {
        LinkageKind::DoubleWishbone => vec![
            carried(Carrier::UpperWishbone, vec![P::UpperWishboneFront, P::UpperWishboneRear]),
            carried(
                Carrier::LowerWishbone,
                vec![P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint],
            ),
            carried(Carrier::Upright, vec![P::LowerBallJoint, P::TieRodOuter, P::ToeLinkOuter]),
        ],
    };
    if matches!(corner.springing, Some(Springing::Rocker { .. })) {
        parts.push(carried(Carrier::Rocker, vec![P::PushrodInner, P::RockerPivot, P::RockerAxis]));
    }
    if corner.drop_link_on.is_some() {
        parts.push(vec![P::DropLinkBar, P::BarPivot, P::BarAxis]);
    }
    parts
}

/// Fails where a link or rigid part has another length at a pose than in the design pose, or a link has
/// there another than the car says.
pub fn assert_kept(solver: &CornerSolver, start: &Points, here: &Points, what: &str) {
    let corner = solver.corner();
    let adjusted = solver.adjusted();
    let toe_link = if solver.steered() { Link::TieRod } else { Link::ToeLink };
    for &link in Link::ALL {
        let (inner, outer) = link.ends();
        let apart = |points: &Points| Some((find(points, outer)? - find(points, inner)?).norm());
        let (Some(now), Some(drawn)) = (
            apart(here),
            corner.pickups.get(inner).zip(corner.pickups.get(outer)).map(|(a, b)| (a - b).norm()),
        ) else {
            continue;
        };
        // Points that are given though nothing uses them stay where they are.
        if !is_used(corner, link, toe_link) {
            continue;
        }
        // The last length stated is the one that counts.
        let stated = corner.lengths.iter().rev().find(|(l, _)| *l == link).map(|(_, length)| *length);
        let change = if link == toe_link { adjusted.toe_link_change } else { 0.0 };
        let off = now - (stated.unwrap_or(drawn) + change);
        assert!(off.abs() <= OFF, "{what}: {link} is off by {off:e} m");
    }
    for part in parts(corner) {
        for (i, &p) in part.iter().enumerate() {
            for &q in &part[..i] {
                let apart = |points: &Points| Some((find(points, p)? - find(points, q)?).norm());
                if let (Some(now), Some(then)) = (apart(here), apart(start)) {
                    let off = now - then;
                    assert!(off.abs() <= OFF, "{what}: {p} to {q} is off by {off:e} m");
                }
            }
        }
    }
}

fn is_used(corner: &Corner, link: Link, toe_link: Link) -> bool {
    match link {
        Link::TieRod | Link::ToeLink => link == toe_link,
        Link::Pushrod => matches!(corner.springing, Some(Springing::Rocker { .. })),
        Link::DropLink => corner.drop_link_on.is_some(),
        _ => true,
    }
}
