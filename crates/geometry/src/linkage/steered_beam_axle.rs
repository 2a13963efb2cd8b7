//! An axle whose wheels stand on knuckles. Each knuckle turns about a king pin of the axle; a drag link from rack,
//! centre link or pitman arm turns one of them, and a track rod between both turns the other.
//!
//! Axle and knuckles are three bodies: four constraints locate the axle, a hinge each (five constraints) the knuckles,
//! drag link and track rod are one constraint each, and the heights of both wheel centres drive them.

use super::beam_axle::{Beam, FRAME, OWN_POINTS, SIDE_LINKS, SUSPECTS};
use super::spec::{AxisBy, Carrier, HubOn, LinkageSpec};
use crate::car::hardpoint::{Hardpoint as P, Link};
use crate::car::{Component, LinkageKind};
use crate::mechanism::{Anchor, BallJoint, Constraint, FixedLength, Frame, Hinge};
use crate::number::real::{Real, unit};
use nalgebra::Vector3;

pub(super) const SPEC: LinkageSpec = LinkageSpec {
    kind: LinkageKind::SteeredBeamAxle,
    word: "SteeredBeamAxle",
    label: "steered beam axle",
    with_article: "the steered beam axle",
    required: &[(P::KingPinUpper, Component::Axle), (P::KingPinLower, Component::Axle)],
    optional: &[
        (P::LowerLinkInner, Component::Body),
        (P::LowerLinkOuter, Component::Axle),
        (P::UpperLinkInner, Component::Body),
        (P::UpperLinkOuter, Component::Axle),
    ],
    axle_required: &[P::DragLinkInner, P::TrackRodLeft, P::TrackRodRight],
    axle_optional: &MAY_HAVE,
    in_a_new_file: &[
        P::LowerLinkInner,
        P::LowerLinkOuter,
        P::TopLinkInner,
        P::TopLinkOuter,
        P::PanhardRodBody,
        P::PanhardRodAxle,
        P::DragLinkLeft,
    ],
    links: &SIDE_LINKS,
    has_toe_link: false,
    has_track_rod: true,
    has_strut: false,
    hub_on: HubOn::Knuckle,
    beam: Some(Component::Axle),
    axis: AxisBy::Joints { lower: P::KingPinLower, upper: P::KingPinUpper },
    camber: None,
    // What stands on a knuckle turns with the wheel: no spring does.
    carriers: &[AXLE],
    usual_carrier: AXLE,
    suspects: &ALL_SUSPECTS,
    frame: &FRAME,
};

const AXLE: Carrier = Carrier { word: "Axle", part: Component::Axle };

/// What the axle as a whole may have: one of two drag links, and what locates it.
const MAY_HAVE: [P; 14] = {
    let mut all = [P::DragLinkLeft; 14];
    all[1] = P::DragLinkRight;
    let mut i = 0;
    while i < OWN_POINTS.len() {
        all[2 + i] = OWN_POINTS[i];
        i += 1;
    }
    all
};

const ALL_SUSPECTS: [P; 15] = {
    let mut all = [P::KingPinUpper; 15];
    all[1] = P::KingPinLower;
    let mut i = 0;
    while i < SUSPECTS.len() {
        all[2 + i] = SUSPECTS[i];
        i += 1;
    }
    all
};

/// The links that steer, drag link first, of those that are there.
pub(super) fn steering_links<T: Real>(beam: &Beam<T>) -> Vec<Link> {
    if !beam.has_knuckles() {
        return Vec::new();
    }
    let all = [Link::DragLinkToLeft, Link::DragLinkToRight, Link::TrackRod];
    all.into_iter().filter(|&link| beam.own.has_link(link)).collect()
}

/// What an axle with knuckles lacks that they turn and are steered in one way, in words; `None` where it has all, or no
/// knuckles.
pub(crate) fn lacks_to_steer<T: Real>(beam: &Beam<T>) -> Option<&'static str> {
    if !beam.has_knuckles() {
        return None;
    }
    let of_side = |hardpoint: &&P| beam.sides.iter().any(|side| side.get(**hardpoint).is_none());
    let of_axle = |hardpoint: &&P| !beam.own.has(**hardpoint);
    let pins = [P::KingPinUpper, P::KingPinLower];
    let lacking = pins.iter().find(of_side).or_else(|| SPEC.axle_required.iter().find(of_axle));
    match [Link::DragLinkToLeft, Link::DragLinkToRight].map(|link| beam.own.has_link(link)) {
        _ if lacking.is_some() => lacking.map(|hardpoint| hardpoint.label()),
        [false, false] => Some("a drag link to one of the knuckles"),
        [true, true] => Some("one drag link too many: it is to go to one of the knuckles"),
        _ => None,
    }
}

/// The links that set the toe of the left and of the right wheel: the drag link that of the knuckle that it steers,
/// the track rod that of the other. `None` where the axle has none.
pub(crate) fn toe_links<T: Real>(beam: &Beam<T>) -> Option<[Link; 2]> {
    let to_left = beam.own.has_link(Link::DragLinkToLeft);
    let own = [Link::DragLinkToLeft, Link::TrackRod];
    let other = [Link::TrackRod, Link::DragLinkToRight];
    beam.has_knuckles().then_some(if to_left { own } else { other })
}

/// The side of the knuckle on which a point of the axle as a whole stands: 0 is left, 1 is right.
pub(crate) fn on_knuckle(hardpoint: P) -> Option<usize> {
    match hardpoint {
        P::DragLinkLeft | P::TrackRodLeft => Some(0),
        P::DragLinkRight | P::TrackRodRight => Some(1),
        _ => None,
    }
}

/// What steers the knuckles, then what holds them on the axle. The knuckles' origins are the wheel centres, and the
/// axle's is given.
pub(super) fn knuckles<T: Real>(beam: &Beam<T>, origin: &Vector3<T>) -> Vec<(&'static str, Constraint<T>)> {
    let end = |hardpoint: P| {
        let at = beam.own.point(hardpoint);
        match on_knuckle(hardpoint) {
            Some(side) => Anchor { frame: Frame::Body(1 + side), at: at - beam.sides[side].centre },
            None => Anchor { frame: Frame::Steering, at },
        }
    };
    let rods = steering_links(beam).into_iter().map(|link| {
        let (inner, outer) = link.ends();
        let rod = FixedLength::new(end(inner), end(outer), beam.own.length(link));
        (link.label(), Constraint::FixedLength(rod))
    });
    let pins = ["left king pin", "right king pin"].into_iter().zip(&beam.sides).enumerate();
    let pins = pins.map(|(side, (name, corner))| {
        let [lower, upper] = [P::KingPinLower, P::KingPinUpper].map(|hardpoint| corner.point(hardpoint));
        let along = unit(&(upper - lower));
        let hinge = Hinge {
            joint: BallJoint {
                point: Anchor { frame: Frame::Body(1 + side), at: lower - corner.centre },
                seat: Anchor { frame: Frame::Body(0), at: lower - origin },
            },
            axis_of_point: along,
            axis_of_seat: along,
        };
        (name, Constraint::Hinge(hinge))
    });
    rods.chain(pins).collect()
}
