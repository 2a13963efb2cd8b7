//! The catalogue of linkages: what a kind of linkage is, said once. Every surface that wants to know something of a
//! linkage asks its entry here.

use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::{Axle, Component, LinkageKind};

/// What the wheel's hub is part of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HubOn {
    /// An upright, held by links or arms.
    Upright,
    /// An arm hinged to the body.
    Arm,
    /// An axle that carries both wheels.
    Axle,
    /// A knuckle that turns about a king pin of an axle.
    Knuckle,
}

/// Which points the steering axis passes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AxisBy {
    /// Two points that the part with the hub carries.
    Joints {
        /// The lower one.
        lower: Hardpoint,
        /// The upper one.
        upper: Hardpoint,
    },
    /// A point of the upright and, above it, one of the body.
    TopMount {
        /// The upright's.
        lower: Hardpoint,
        /// The body's.
        top: Hardpoint,
    },
    /// The screw axis of the upright as the tie rod's or toe link's inner end moves.
    Screw,
    /// The wheel does not steer on its own.
    None,
}

/// What the camber adjuster moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CamberMoves {
    /// Shims move this joint inboard on the upright, along the spin axis.
    JointOnUpright(Hardpoint),
    /// This point of the body moves outboard.
    PointOnBody(Hardpoint),
    /// This link becomes longer.
    Length(Link),
}

/// What adjusts static camber.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CamberAdjuster {
    /// The word for it in files.
    pub word: &'static str,
    /// The name in words.
    pub label: &'static str,
    /// What it moves.
    pub moves: CamberMoves,
}

/// A part that can carry pushrod, damper, spring or drop link.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Carrier {
    /// The word for it in files.
    pub word: &'static str,
    /// The part.
    pub part: Component,
}

/// A point, and the part that carries it.
pub type Carried = (Hardpoint, Component);

/// What a kind of linkage is.
#[derive(Debug)]
pub struct LinkageSpec {
    /// The kind that this is the entry of.
    pub kind: LinkageKind,
    /// The word for it in files.
    pub word: &'static str,
    /// The name in words.
    pub label: &'static str,
    /// The name in words with an article.
    pub with_article: &'static str,
    /// The points that each corner must have, beside both ends of the tie rod or toe link.
    pub required: &'static [Carried],
    /// The points that each corner may have.
    pub optional: &'static [Carried],
    /// The points that the axle as a whole must have.
    pub axle_required: &'static [Hardpoint],
    /// The points that the axle as a whole may have.
    pub axle_optional: &'static [Hardpoint],
    /// Of the points that may be there, those that a new car file asks for.
    pub in_a_new_file: &'static [Hardpoint],
    /// The links of fixed length in the order of the equations, beside the tie rod or toe link.
    pub links: &'static [Link],
    /// Whether a tie rod or toe link of each side holds the wheel's toe.
    pub has_toe_link: bool,
    /// Whether a track rod between both wheels holds their toe.
    pub has_track_rod: bool,
    /// Whether it has a strut that can be the damper.
    pub has_strut: bool,
    /// What the wheel's hub is part of.
    pub hub_on: HubOn,
    /// The part that a beam axle is; `None` for two corners, each with a linkage of its own.
    pub beam: Option<Component>,
    /// Which points the steering axis passes through.
    pub axis: AxisBy,
    /// What adjusts static camber.
    pub camber: Option<CamberAdjuster>,
    /// The parts that can carry springing and drop links, beside the rocker; the best word for a part first.
    pub carriers: &'static [Carrier],
    /// The word of the part that carries springing where nothing else is said.
    pub usual_carrier: Carrier,
    /// The points that make the readings, those first that a reading is most likely spoilt by.
    pub suspects: &'static [Hardpoint],
    /// Pairs of pickups through which a frame of the body passes, up one side and down the other, where the linkage
    /// is drawn.
    pub frame: &'static [[Hardpoint; 2]],
}

impl LinkageSpec {
    /// Whether one axle carries both wheels, so that the travel of one moves the other.
    #[must_use]
    pub fn is_beam(&self) -> bool {
        self.beam.is_some()
    }

    /// Whether steering can turn its wheels: by tie rods, or by a drag link and a track rod.
    #[must_use]
    pub fn can_steer(&self) -> bool {
        self.has_toe_link || self.has_track_rod
    }

    /// Whether springing and drop links can be carried by this part of it; the rocker is none of the linkage.
    #[must_use]
    pub fn carries_on(&self, part: Component) -> bool {
        self.carriers.iter().any(|carrier| carrier.part == part)
    }

    /// The part that carries a point, where the linkage says so.
    pub(super) fn carrier(&self, hardpoint: Hardpoint) -> Option<Component> {
        let own = self.required.iter().chain(self.optional);
        own.copied().find(|(one, _)| *one == hardpoint).map(|(_, part)| part)
    }
}

impl LinkageKind {
    /// The entry of the catalogue.
    #[must_use]
    pub const fn spec(self) -> &'static LinkageSpec {
        match self {
            LinkageKind::DoubleWishbone => &super::double_wishbone::SPEC,
            LinkageKind::Strut => &super::strut::SPEC,
            LinkageKind::FiveLink => &super::five_link::SPEC,
            LinkageKind::TrailingArm => &super::trailing_arm::SPEC,
            LinkageKind::HArm => &super::h_arm::SPEC,
            LinkageKind::BeamAxle => &super::beam_axle::SPEC,
            LinkageKind::SteeredBeamAxle => &super::steered_beam_axle::SPEC,
        }
    }

    /// The catalogue.
    pub fn specs() -> impl Iterator<Item = &'static LinkageSpec> {
        LinkageKind::ALL.into_iter().map(LinkageKind::spec)
    }

    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        self.spec().label
    }

    /// The name in words with an article.
    #[must_use]
    pub fn with_article(self) -> &'static str {
        self.spec().with_article
    }

    /// Whether a tie rod or toe link holds the wheel's toe.
    #[must_use]
    pub fn has_toe_link(self) -> bool {
        self.spec().has_toe_link
    }

    /// What adjusts static camber, in words; `None` where nothing does.
    #[must_use]
    pub fn camber_adjuster(self) -> Option<&'static str> {
        self.spec().camber.map(|adjuster| adjuster.label)
    }
}

impl Axle {
    /// Whether both wheels are on one axle.
    #[must_use]
    pub fn is_beam(&self) -> bool {
        self.left.linkage == self.right.linkage && self.left.linkage.spec().is_beam()
    }
}

#[cfg(test)]
mod tests {
    use super::LinkageSpec;
    use crate::car::LinkageKind;
    use crate::car::hardpoint::Hardpoint;

    fn points(spec: &LinkageSpec) -> Vec<Hardpoint> {
        let of_corner = spec.required.iter().chain(spec.optional).map(|&(hardpoint, _)| hardpoint);
        of_corner.chain(spec.axle_required.iter().chain(spec.axle_optional).copied()).collect()
    }

    #[test]
    fn every_kind_has_an_entry_of_its_own() {
        for kind in LinkageKind::ALL {
            assert_eq!(kind.spec().kind, kind);
        }
        for unlike in [
            |spec: &LinkageSpec| spec.word,
            |spec: &LinkageSpec| spec.label,
            |spec: &LinkageSpec| spec.with_article,
        ] {
            let mut all: Vec<_> = LinkageKind::specs().map(unlike).collect();
            all.sort_unstable();
            all.dedup();
            assert_eq!(all.len(), LinkageKind::ALL.len());
        }
    }

    #[test]
    fn an_entry_speaks_of_points_and_parts_that_it_has() {
        for spec in LinkageKind::specs() {
            let own = points(spec);
            let has = |hardpoint: &Hardpoint| {
                assert!(own.contains(hardpoint), "{}: {hardpoint} is none of its points", spec.label);
            };
            spec.links.iter().for_each(|link| [link.ends().0, link.ends().1].iter().for_each(has));
            spec.suspects.iter().for_each(has);
            spec.in_a_new_file.iter().for_each(has);
            spec.frame.iter().flatten().for_each(has);
            assert!(spec.carriers.contains(&spec.usual_carrier), "{}", spec.label);
            for (hardpoint, of_axle) in spec
                .required
                .iter()
                .chain(spec.optional)
                .map(|(one, _)| (one, false))
                .chain(spec.axle_required.iter().chain(spec.axle_optional).map(|one| (one, true)))
            {
                assert_eq!(hardpoint.is_of_axle(), of_axle, "{}: {hardpoint}", spec.label);
            }
        }
    }

    #[test]
    fn one_point_is_on_one_part() {
        // Where a car has a point that its own linkage does not use, another kind's entry says what carries it.
        for spec in LinkageKind::specs().filter(|spec| !spec.is_beam()) {
            for &(hardpoint, part) in spec.required.iter().chain(spec.optional) {
                for other in LinkageKind::specs().filter(|other| !other.is_beam()) {
                    assert!(other.carrier(hardpoint).is_none_or(|on| on == part), "{hardpoint}");
                }
            }
        }
    }
}
