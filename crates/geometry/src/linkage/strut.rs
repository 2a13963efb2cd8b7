//! A strut fixed to the upright that slides through its top mount, a lower wishbone, and a tie rod or
//! toe link.

use super::{on_body, on_upright, rods, upright};
use crate::car::hardpoint::{Hardpoint, Link};
use crate::linkage::design::Design;
use crate::mechanism::{Anchor, Constraint, Frame, Mechanism, Slider, WrongFreedoms};
use crate::number::real::{Real, unit};

/// The points beside those of the tie rod.
pub(super) const POINTS: [Hardpoint; 5] = [
    Hardpoint::StrutTop,
    Hardpoint::StrutBottom,
    Hardpoint::LowerWishboneFront,
    Hardpoint::LowerWishboneRear,
    Hardpoint::LowerBallJoint,
];

/// The legs of the wishbone.
pub(super) const LINKS: [Link; 2] = [Link::LowerFrontLeg, Link::LowerRearLeg];

/// The strut's line is fixed to the upright as it lay in the design pose when the strut was made. A top mount that
/// is moved since, as an adjuster or with the links kept, tilts the strut and the upright with it.
pub(super) fn mechanism<T: Real>(design: &Design<T>) -> Result<Mechanism<T, 1, 6>, WrongFreedoms> {
    let slider = Slider {
        point: Anchor { frame: Frame::Car, at: on_body(design, Hardpoint::StrutTop) },
        line: Anchor { frame: Frame::Body(0), at: on_upright(design, Hardpoint::StrutBottom) },
        along: unit(&(design.made(Hardpoint::StrutTop) - design.made(Hardpoint::StrutBottom))),
    };
    let mut constraints = rods(design);
    constraints.push(("strut", Constraint::Slider(slider)));
    upright(design, constraints)
}
