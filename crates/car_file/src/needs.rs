//! Which points a corner must have, and why.

use wheelpath_geometry::{LinkageKind, Pickup, Springing};

const WISHBONES: &[Pickup] = &[
    Pickup::UpperWishboneFront,
    Pickup::UpperWishboneRear,
    Pickup::UpperBallJoint,
    Pickup::LowerWishboneFront,
    Pickup::LowerWishboneRear,
    Pickup::LowerBallJoint,
];
const TIE_ROD: &[Pickup] = &[Pickup::TieRodInner, Pickup::TieRodOuter];
const TOE_LINK: &[Pickup] = &[Pickup::ToeLinkInner, Pickup::ToeLinkOuter];
const ROCKER: &[Pickup] =
    &[Pickup::PushrodOuter, Pickup::PushrodInner, Pickup::RockerPivot, Pickup::RockerAxis];
const DAMPER: &[Pickup] = &[Pickup::DamperRocker, Pickup::DamperBody];
const BAR: &[Pickup] = &[Pickup::DropLinkOuter, Pickup::DropLinkBar, Pickup::BarPivot, Pickup::BarAxis];

/// Points that go together, whether this corner uses them, and the words for either case.
pub(crate) struct Need {
    pub points: &'static [Pickup],
    pub used: bool,
    pub because: &'static str,
    /// What to do with a point that is given but not used.
    pub remedy: &'static str,
}

/// What the corner's choices ask for.
pub(crate) fn needs(
    linkage: LinkageKind,
    steered: bool,
    springing: Option<Springing>,
    has_bar: bool,
) -> Vec<Need> {
    let need =
        |points, used, yes, no, remedy| Need { points, used, because: if used { yes } else { no }, remedy };
    let rocker = matches!(springing, Some(Springing::Rocker { .. }));
    let wishbones = linkage == LinkageKind::DoubleWishbone;
    vec![
        need(
            WISHBONES,
            wishbones,
            "a double wishbone stands on it",
            "the linkage has no wishbones",
            "delete the point",
        ),
        need(
            TIE_ROD,
            steered,
            "the axle is steered by a rack",
            "the axle's steering is Fixed",
            "call it toe_link_inner or toe_link_outer, or give the axle `steering: Rack(...)`",
        ),
        need(
            TOE_LINK,
            !steered,
            "the axle's steering is Fixed, so a toe link holds the wheel",
            "the axle is steered by a rack",
            "call it tie_rod_inner or tie_rod_outer, or give the axle `steering: Fixed`",
        ),
        need(
            ROCKER,
            rocker,
            "the springing is by rocker",
            "the springing is not by rocker",
            "add `springing: Rocker(pushrod_on: LowerWishbone)`, or delete the point",
        ),
        need(
            DAMPER,
            springing.is_some(),
            "the springing works a damper",
            "no springing is given",
            "add `springing: Direct(on: LowerWishbone)` or Rocker(...), or delete the point",
        ),
        need(
            BAR,
            has_bar,
            "the corner has a drop link to an anti-roll bar",
            "no `drop_link_on` is given",
            "add `drop_link_on: Rocker` (or the part that carries it), or delete the point",
        ),
    ]
}
