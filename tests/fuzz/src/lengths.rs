//! What keeps its length when an axle moves: links, and distances within rigid parts.

use nalgebra::Vector3;
use wheelpath_geometry::{
    Axle, AxleSolver, BarKind, Component, Corner, Hardpoint, HubOn, Link, Side, SolvedAxle, Springing,
};

/// A length may be off by this, metres.
const OFF: f64 = 1e-9;

/// A point by its name, on the left, on the right or of the axle as a whole, and where it stands.
type Place = (Option<Side>, &'static str, Vector3<f64>);
type Points = [(Hardpoint, Vector3<f64>)];

fn find(points: &Points, hardpoint: Hardpoint) -> Option<Vector3<f64>> {
    points.iter().find(|(p, _)| *p == hardpoint).map(|(_, at)| *at)
}

/// Points of the body about which a part turns, or that are on it and on another part too.
fn beside(carrier: Component) -> &'static [Hardpoint] {
    use Hardpoint as P;
    match carrier {
        Component::UpperWishbone => &[P::UpperWishboneFront, P::UpperWishboneRear, P::UpperBallJoint],
        Component::LowerWishbone => &[P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint],
        Component::HArm => &[P::HArmInnerFront, P::HArmInnerRear, P::HArmOuterFront, P::HArmOuterRear],
        Component::Rocker => &[P::RockerPivot, P::RockerAxis],
        Component::BarArm => &[P::BarPivot, P::BarAxis],
        _ => &[],
    }
}

const PARTS: [Component; 7] = [
    Component::UpperWishbone,
    Component::LowerWishbone,
    Component::HArm,
    Component::Upright,
    Component::Axle,
    Component::Rocker,
    Component::BarArm,
];

/// Whether the part is there at all: points may be given that nothing uses.
fn exists(axle: &Axle, corner: &Corner, carrier: Component) -> bool {
    match carrier {
        Component::UpperWishbone | Component::LowerWishbone | Component::HArm => {
            corner.linkage.spec().carries_on(carrier)
        }
        Component::Axle => corner.linkage.spec().beam == Some(Component::Axle),
        Component::Rocker => matches!(corner.springing, Some(Springing::Rocker { .. })),
        Component::BarArm => corner.drop_link_on.is_some() && axle.bar_kind() == Some(BarKind::U),
        _ => true,
    }
}

/// The points of each rigid part of one side, as they stand. Only points that are used.
fn parts(solver: &AxleSolver, axle: &Axle, at: &SolvedAxle, side: Side) -> Vec<Vec<Place>> {
    let corner = axle.corner(side);
    let used: Vec<Hardpoint> = axle.needs(side).into_iter().map(|need| need.hardpoint).collect();
    let points = solver.points(at, side);
    let parts = PARTS.iter().filter(|part| exists(axle, corner, **part)).map(|&part| {
        let on = |hardpoint: Hardpoint| {
            used.contains(&hardpoint)
                && (corner.carrier(hardpoint) == Some(part) || beside(part).contains(&hardpoint))
        };
        let mut all: Vec<Place> = points
            .iter()
            .filter(|(hardpoint, _)| on(*hardpoint))
            .map(|(hardpoint, at)| (Some(side), hardpoint.key(), *at))
            .collect();
        if part == Component::Upright {
            let upright = solver.upright(at, side);
            all.push((Some(side), "wheel centre", upright.origin));
            let hinge = match corner.linkage.spec().hub_on {
                HubOn::Arm => Some([Hardpoint::ArmPivotInboard, Hardpoint::ArmPivotOutboard]),
                HubOn::Knuckle => Some([Hardpoint::KingPinLower, Hardpoint::KingPinUpper]),
                HubOn::Upright | HubOn::Axle => None,
            };
            for pivot in hinge.into_iter().flatten() {
                all.extend(find(&points, pivot).map(|at| (Some(side), pivot.key(), at)));
            }
        }
        all
    });
    parts.collect()
}

/// The rigid parts of an axle.
fn all_parts(solver: &AxleSolver, axle: &Axle, at: &SolvedAxle) -> Vec<Vec<Place>> {
    use Hardpoint as P;
    let [mut left, mut right] = Side::BOTH.map(|side| parts(solver, axle, at, side));
    let own = solver.own_points(at);
    let of_own = |hardpoints: &[Hardpoint]| -> Vec<Place> {
        hardpoints.iter().filter_map(|&p| Some((None, p.key(), find(&own, p)?))).collect()
    };
    if axle.is_beam() {
        // Both wheels and what the axle carries are one part; wheels on knuckles are parts of their own.
        let knuckles = axle.left.linkage.spec().hub_on == HubOn::Knuckle;
        let has = |part: &Vec<Place>, name: &str| part.iter().any(|(_, one, _)| *one == name);
        let is_hub = |part: &Vec<Place>| has(part, "wheel centre");
        let is_axle = |part: &Vec<Place>| {
            if knuckles { !is_hub(part) && has(part, "king_pin_upper") } else { is_hub(part) }
        };
        if knuckles {
            for (parts, arms) in [
                (&mut left, [P::TrackRodLeft, P::DragLinkLeft]),
                (&mut right, [P::TrackRodRight, P::DragLinkRight]),
            ] {
                if let Some(hub) = parts.iter_mut().find(|part| is_hub(part)) {
                    hub.append(&mut of_own(&arms));
                }
            }
        }
        let upright = |parts: &mut Vec<Vec<Place>>| {
            let at = parts.iter().position(is_axle);
            at.map(|at| parts.remove(at)).unwrap_or_default()
        };
        let mut beam = upright(&mut left);
        beam.append(&mut upright(&mut right));
        beam.append(&mut of_own(&[P::TopLinkOuter, P::PanhardRodAxle, P::TorqueArmLinkAxle]));
        let lever = [P::WattPivot, P::WattAxis];
        if let Some(on) = axle.watt_lever_on {
            let far = [P::WattRodLeft, P::WattRodRight];
            beam.append(&mut of_own(if on == Component::Upright { &lever } else { &far }));
            left.push(of_own(&[lever[0], lever[1], P::WattLeverLeft, P::WattLeverRight]));
        }
        left.push(beam);
    }
    if axle.bar_kind() == Some(BarKind::T) {
        let ends =
            |side| Some((Some(side), P::DropLinkBar.key(), find(&solver.points(at, side), P::DropLinkBar)?));
        let hung = Side::BOTH.into_iter().filter(|side| axle.corner(*side).drop_link_on.is_some());
        let mut crossbar: Vec<Place> = hung.filter_map(ends).collect();
        crossbar.append(&mut of_own(&[P::TBarHead]));
        right.push(crossbar);
        right.push(of_own(&[P::TBarPivot, P::TBarAxis, P::TBarHead]));
    }
    // Both tie rods' inner ends are on one rack or centre link.
    if axle.steering.steers() {
        let inner =
            |side| Some((Some(side), P::TieRodInner.key(), find(&solver.points(at, side), P::TieRodInner)?));
        let is_used = |side| axle.needs(side).iter().any(|need| need.hardpoint == P::TieRodInner);
        right.push(Side::BOTH.into_iter().filter(|side| is_used(*side)).filter_map(inner).collect());
    }
    left.append(&mut right);
    left
}

/// Fails where a link or rigid part has another length at a pose than in the design pose, or a link has
/// there another than the car says.
pub fn assert_kept(solver: &AxleSolver, axle: &Axle, start: &SolvedAxle, here: &SolvedAxle, what: &str) {
    for side in Side::BOTH {
        let corner = axle.corner(side);
        let used: Vec<Hardpoint> = axle.needs(side).into_iter().map(|need| need.hardpoint).collect();
        let points = [start, here].map(|at| solver.points(at, side));
        let adjusted = solver.adjusted(side);
        for &link in Link::ALL {
            if [link.ends().0, link.ends().1].iter().all(|end| used.contains(end)) && is_rod(corner, link) {
                let change = match link {
                    Link::TieRod | Link::ToeLink => Some(adjusted.toe_link_change),
                    _ if adjusted.camber_adjuster == 0.0 => Some(0.0),
                    // Which link the camber adjuster lengthens is the linkage's own business.
                    _ => None,
                };
                let says =
                    change.and_then(|change| Some(said(&corner.hardpoints, &corner.lengths, link)? + change));
                assert_rod(link, [&points[0], &points[1]], says, &format!("{what}, {side}"));
            }
        }
        if corner.linkage.spec().has_strut {
            strut_slides(solver, start, here, side, what);
        }
    }
    let own = [start, here].map(|at| solver.own_points(at));
    let used: Vec<Hardpoint> = axle.own_needs().into_iter().map(|need| need.hardpoint).collect();
    for link in Link::ALL.iter().copied().filter(|link| link.is_of_axle()) {
        if [link.ends().0, link.ends().1].iter().all(|end| used.contains(end)) {
            assert_rod(link, [&own[0], &own[1]], said(&axle.hardpoints, &axle.lengths, link), what);
        }
    }
    let [then, now] = [start, here].map(|at| all_parts(solver, axle, at));
    for (then, now) in then.iter().zip(&now) {
        for (i, p) in now.iter().enumerate() {
            for (j, q) in now.iter().enumerate().take(i) {
                let (Some(p_then), Some(q_then)) = (then.get(i), then.get(j)) else { continue };
                // On a rack the inner ends slide together, whatever its length.
                let off = (p.2 - q.2).norm() - (p_then.2 - q_then.2).norm();
                assert!(
                    off.abs() <= OFF,
                    "{what}: {:?} {} to {:?} {} is off by {off:e} m",
                    p.0,
                    p.1,
                    q.0,
                    q.1
                );
            }
        }
    }
}

/// The length of a link as the car says it: stated, the last one counts, or as drawn.
fn said(hardpoints: &wheelpath_geometry::Hardpoints, lengths: &[(Link, f64)], link: Link) -> Option<f64> {
    let stated = lengths.iter().rev().find(|(l, _)| *l == link).map(|(_, length)| *length);
    let (inner, outer) = link.ends();
    let drawn = (hardpoints.get(outer)? - hardpoints.get(inner)?).norm();
    Some(stated.unwrap_or(drawn))
}

fn assert_rod(link: Link, points: [&Points; 2], says: Option<f64>, what: &str) {
    let (inner, outer) = link.ends();
    let [then, now] = points.map(|points| Some((find(points, outer)? - find(points, inner)?).norm()));
    let (Some(then), Some(now)) = (then, now) else { return };
    let off = (now - then).abs();
    assert!(off <= OFF, "{what}: {link} changes by {off:e} m");
    let off = says.map_or(0.0, |says| (now - says).abs());
    assert!(off <= OFF, "{what}: {link} is {off:e} m off what the car says");
}

/// Whether the link is a rod of this corner.
fn is_rod(corner: &Corner, link: Link) -> bool {
    match link {
        Link::Pushrod => matches!(corner.springing, Some(Springing::Rocker { .. })),
        Link::DropLink => corner.drop_link_on.is_some(),
        Link::UpperLink | Link::LowerLink => corner.linkage.spec().links.contains(&link),
        _ => true,
    }
}

/// The top mount stays on the strut's line, which is fixed to the upright.
fn strut_slides(solver: &AxleSolver, start: &SolvedAxle, here: &SolvedAxle, side: Side, what: &str) {
    let line = |at: &SolvedAxle| {
        let points = solver.points(at, side);
        let along = find(&points, Hardpoint::StrutTop)? - find(&points, Hardpoint::StrutBottom)?;
        Some(solver.upright(at, side).car_from_body.transpose() * along)
    };
    if let (Some(then), Some(now)) = (line(start), line(here)) {
        let off = then.normalize().cross(&now).norm();
        assert!(off <= OFF, "{what}, {side}: the top mount is {off:e} m off the strut's line");
    }
}
