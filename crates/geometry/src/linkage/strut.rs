//! A strut fixed to the upright that slides through its top mount, a lower wishbone, and a tie rod or
//! toe link.

use super::double_wishbone::LOWER_WISHBONE;
use super::spec::{AxisBy, CamberAdjuster, CamberMoves, Carrier, HubOn, LinkageSpec};
use super::{on_body, on_upright, rods, upright};
use crate::car::hardpoint::{Hardpoint as P, Link};
use crate::car::{Component, LinkageKind};
use crate::linkage::design::Design;
use crate::mechanism::{Anchor, Constraint, Frame, Mechanism, Slider, WrongFreedoms};
use crate::number::real::{Real, unit};

pub(super) const SPEC: LinkageSpec = LinkageSpec {
    kind: LinkageKind::Strut,
    word: "Strut",
    label: "strut",
    with_article: "the strut with its lower wishbone",
    required: &[
        (P::StrutTop, Component::Body),
        (P::StrutBottom, Component::Upright),
        (P::LowerWishboneFront, Component::Body),
        (P::LowerWishboneRear, Component::Body),
        (P::LowerBallJoint, Component::Upright),
    ],
    optional: &[],
    axle_required: &[],
    axle_optional: &[],
    in_a_new_file: &[],
    links: &[Link::LowerFrontLeg, Link::LowerRearLeg],
    has_toe_link: true,
    has_track_rod: false,
    has_strut: true,
    hub_on: HubOn::Upright,
    beam: None,
    axis: AxisBy::TopMount { lower: P::LowerBallJoint, top: P::StrutTop },
    camber: Some(CamberAdjuster {
        word: "TopMount",
        label: "strut top mount",
        moves: CamberMoves::PointOnBody(P::StrutTop),
    }),
    carriers: &[LOWER_WISHBONE, Carrier { word: "Upright", part: Component::Upright }],
    usual_carrier: LOWER_WISHBONE,
    suspects: &[P::StrutTop, P::LowerBallJoint, P::StrutBottom, P::LowerWishboneFront, P::LowerWishboneRear],
    frame: &[[P::LowerWishboneFront, P::StrutTop], [P::LowerWishboneFront, P::LowerWishboneRear]],
};

/// The strut's line is fixed to the upright as it lay in the design pose when the strut was made. A top mount that
/// is moved since, as an adjuster or with the links kept, tilts the strut and the upright with it.
pub(super) fn mechanism<T: Real>(design: &Design<T>) -> Result<Mechanism<T, 1, 6>, WrongFreedoms> {
    let slider = Slider {
        point: Anchor { frame: Frame::Car, at: on_body(design, P::StrutTop) },
        line: Anchor { frame: Frame::Body(0), at: on_upright(design, P::StrutBottom) },
        along: unit(&(design.made(P::StrutTop) - design.made(P::StrutBottom))),
    };
    let mut constraints = rods(design);
    constraints.push(("strut", Constraint::Slider(slider)));
    upright(design, constraints)
}
