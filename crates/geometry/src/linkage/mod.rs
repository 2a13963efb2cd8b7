//! The kinds of linkage: which bodies, which constraints. One file a kind.

pub(crate) mod assemble;
pub(crate) mod design;
pub(crate) mod links;
pub(crate) mod needs;
pub(crate) mod spec;

mod beam_axle;
mod double_wishbone;
mod five_link;
mod h_arm;
mod steered_beam_axle;
mod strut;
mod trailing_arm;

pub(crate) use beam_axle::{Beam, WATT, beam_links, beam_mechanism, carrier_on_axle, locating_rods};
pub(crate) use steered_beam_axle::{lacks_to_steer, on_knuckle, toe_links};

use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::{Component, LinkageKind};
use crate::linkage::design::Design;
use crate::linkage::spec::CamberMoves;
use crate::mechanism::{Anchor, Constraint, FixedLength, Frame, Height, Mechanism, Pose, WrongFreedoms};
use crate::number::real::Real;
use nalgebra::Vector3;

/// The points a linkage must have.
pub(crate) fn required(kind: LinkageKind, steered: bool) -> Vec<Hardpoint> {
    let spec = kind.spec();
    let mut all: Vec<Hardpoint> = spec.required.iter().map(|&(hardpoint, _)| hardpoint).collect();
    if spec.has_toe_link {
        all.extend(toe_points(steered));
    }
    all
}

/// Both ends of what holds the wheel's toe.
pub(crate) fn toe_points(steered: bool) -> [Hardpoint; 2] {
    if steered {
        [Hardpoint::TieRodInner, Hardpoint::TieRodOuter]
    } else {
        [Hardpoint::ToeLinkInner, Hardpoint::ToeLinkOuter]
    }
}

/// The links of fixed length that hold the wheel, in the order of the equations.
pub(crate) fn links(kind: LinkageKind, steered: bool) -> Vec<Link> {
    let spec = kind.spec();
    let mut all = spec.links.to_vec();
    if spec.has_toe_link {
        all.push(if steered { Link::TieRod } else { Link::ToeLink });
    }
    all
}

/// The part that carries a point by the linkage alone; `None` where springing decides. A point that the linkage has
/// not is where the linkage carries it that has.
pub(crate) fn carrier(kind: LinkageKind, hardpoint: Hardpoint) -> Option<Component> {
    match hardpoint {
        Hardpoint::TieRodInner => Some(Component::Steering),
        Hardpoint::ToeLinkInner => Some(Component::Body),
        Hardpoint::TieRodOuter | Hardpoint::ToeLinkOuter => Some(Component::Upright),
        _ => {
            let own = kind.spec().carrier(hardpoint);
            own.or_else(|| LinkageKind::specs().find_map(|spec| spec.carrier(hardpoint)))
        }
    }
}

/// A point of a corner on its upright: its place from the wheel centre, adjusters included.
pub(crate) fn on_upright<T: Real>(design: &Design<T>, hardpoint: Hardpoint) -> Vector3<T> {
    let from_centre = design.point(hardpoint) - design.centre;
    if design.camber_moves() == Some(CamberMoves::JointOnUpright(hardpoint)) {
        from_centre - design.spin_axis * design.camber_adjuster
    } else {
        from_centre
    }
}

/// Where a point that the body carries stands, adjusters included.
pub(crate) fn on_body<T: Real>(design: &Design<T>, hardpoint: Hardpoint) -> Vector3<T> {
    let mut at = design.point(hardpoint);
    if design.camber_moves() == Some(CamberMoves::PointOnBody(hardpoint)) {
        at.y += design.camber_adjuster * T::constant(design.side.sign());
    }
    at
}

/// A rod from body or steering to the upright.
fn rod<T: Real>(design: &Design<T>, link: Link) -> (&'static str, Constraint<T>) {
    let (inner, outer) = link.ends();
    let by_steering = matches!(link, Link::TieRod | Link::ToeLink);
    let frame = if by_steering { Frame::Steering } else { Frame::Car };
    let rod = FixedLength::new(
        Anchor { frame, at: design.point(inner) },
        Anchor { frame: Frame::Body(0), at: on_upright(design, outer) },
        design.length(link),
    );
    (link.label(), Constraint::FixedLength(rod))
}

fn rods<T: Real>(design: &Design<T>) -> Vec<(&'static str, Constraint<T>)> {
    links(design.linkage, design.steered).into_iter().map(|link| rod(design, link)).collect()
}

/// The mechanism of an upright whose origin is the wheel centre, driven by its height.
fn upright<T: Real>(
    design: &Design<T>,
    constraints: Vec<(&'static str, Constraint<T>)>,
) -> Result<Mechanism<T, 1, 6>, WrongFreedoms> {
    let centre = Anchor { frame: Frame::Body(0), at: Vector3::zeros() };
    let height = Height { point: centre, design: design.centre.z };
    Mechanism::new([Pose::design(design.centre)], constraints, vec![height], design.steering)
}

/// The mechanism of one corner.
pub(crate) fn mechanism<T: Real>(design: &Design<T>) -> Result<Mechanism<T, 1, 6>, WrongFreedoms> {
    match design.linkage {
        LinkageKind::DoubleWishbone | LinkageKind::FiveLink => upright(design, rods(design)),
        LinkageKind::Strut => strut::mechanism(design),
        LinkageKind::TrailingArm => trailing_arm::mechanism(design),
        LinkageKind::HArm => h_arm::mechanism(design),
        // An axle is no corner.
        LinkageKind::BeamAxle | LinkageKind::SteeredBeamAxle => {
            Err(WrongFreedoms { bodies: 1, constraints: 0, drivers: 1 })
        }
    }
}
