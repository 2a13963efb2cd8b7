//! Points that must stand apart do.

use super::corner::CornerCheck;
use super::{SAME, SHORTEST_ARM, Subject};
use crate::car::hardpoint::{Hardpoint, Link};

impl CornerCheck<'_> {
    /// Points that must stand apart do.
    pub(super) fn apart(&mut self) {
        use Hardpoint as P;
        let corner = self.corner().clone();
        let at = |p: Hardpoint| corner.hardpoints.get(p);
        for &link in Link::ALL {
            let (inner, outer) = link.ends();
            if let (Some(a), Some(b)) = (at(inner), at(outer))
                && (a - b).norm() < SAME
            {
                self.fault(
                    Subject::Link(link),
                    format!(
                        "{link}: its ends stand {} apart: no length",
                        self.lengths.say((a - b).norm(), 3)
                    ),
                    format!("look at `{}` and `{}`", inner.key(), outer.key()),
                );
            }
        }
        let pairs = [
            (
                P::UpperWishboneFront,
                P::UpperWishboneRear,
                "the upper wishbone's two inner points coincide: it has no hinge line",
            ),
            (
                P::LowerWishboneFront,
                P::LowerWishboneRear,
                "the lower wishbone's two inner points coincide: it has no hinge line",
            ),
            (P::StrutTop, P::StrutBottom, "the strut's two points coincide: it has no line"),
            (
                P::ArmPivotOutboard,
                P::ArmPivotInboard,
                "the trailing arm's two pivots coincide: it has no hinge line",
            ),
            (
                P::HArmInnerFront,
                P::HArmInnerRear,
                "the H-arm's two inner points coincide: it has no hinge line",
            ),
            (
                P::HArmOuterFront,
                P::HArmOuterRear,
                "the H-arm's two outer joints coincide: it has no outer hinge",
            ),
            (P::SpringMoving, P::SpringBody, "the spring's two eyes coincide: it has no length"),
            (P::UpperBallJoint, P::LowerBallJoint, "the ball joints coincide: there is no steering axis"),
            (P::RockerPivot, P::RockerAxis, "the rocker's two axis points coincide: it has no axis"),
            (P::BarPivot, P::BarAxis, "the anti-roll bar's two axis points coincide: it has no axis"),
            (P::DamperRocker, P::DamperBody, "the damper's two eyes coincide: it has no length"),
        ];
        for (a, b, what) in pairs {
            if let (Some(pa), Some(pb)) = (at(a), at(b))
                && (pa - pb).norm() < SAME
            {
                self.fault(
                    Subject::Hardpoint(a),
                    what.to_owned(),
                    format!("look at `{}` and `{}`", a.key(), b.key()),
                );
            }
        }
        // Distance of a point from the line through two others.
        let off = |p: Hardpoint, a: Hardpoint, b: Hardpoint| {
            let (p, a, b) = (at(p)?, at(a)?, at(b)?);
            let along = (b - a).try_normalize(SAME)?;
            Some((p - a).cross(&along).norm())
        };
        let levers = [
            (
                P::UpperBallJoint,
                P::UpperWishboneFront,
                P::UpperWishboneRear,
                SAME,
                "stands on the wishbone's own hinge line",
            ),
            (
                P::LowerBallJoint,
                P::LowerWishboneFront,
                P::LowerWishboneRear,
                SAME,
                "stands on the wishbone's own hinge line",
            ),
            (
                P::TieRodOuter,
                P::LowerBallJoint,
                P::UpperBallJoint,
                SHORTEST_ARM,
                "stands on the steering axis: the steering arm has no length",
            ),
            (
                P::ToeLinkOuter,
                P::LowerBallJoint,
                P::UpperBallJoint,
                SHORTEST_ARM,
                "stands on the line through the ball joints: it cannot hold the wheel's toe",
            ),
            (
                P::TieRodOuter,
                P::LowerBallJoint,
                P::StrutTop,
                SHORTEST_ARM,
                "stands on the steering axis: the steering arm has no length",
            ),
            (
                P::ToeLinkOuter,
                P::LowerBallJoint,
                P::StrutTop,
                SHORTEST_ARM,
                "stands on the line from ball joint to top mount: it cannot hold the wheel's toe",
            ),
            (
                P::HArmOuterFront,
                P::HArmInnerFront,
                P::HArmInnerRear,
                SAME,
                "stands on the H-arm's own inner hinge line",
            ),
            (
                P::UpperLinkOuter,
                P::HArmOuterFront,
                P::HArmOuterRear,
                SHORTEST_ARM,
                "stands on the H-arm's outer hinge line: the upper link cannot hold the wheel's camber",
            ),
            (
                P::PushrodInner,
                P::RockerPivot,
                P::RockerAxis,
                SAME,
                "stands on the rocker's own axis: it cannot turn it",
            ),
            (
                P::DamperRocker,
                P::RockerPivot,
                P::RockerAxis,
                SAME,
                "stands on the rocker's own axis: the rocker cannot move it",
            ),
            (
                P::DropLinkBar,
                P::BarPivot,
                P::BarAxis,
                SAME,
                "stands on the anti-roll bar's own axis: it cannot twist it",
            ),
        ];
        for (p, a, b, least, what) in levers {
            if let Some(distance) = off(p, a, b)
                && distance < least
            {
                self.fault(
                    Subject::Hardpoint(p),
                    format!("{p}: {what} ({} off it)", self.lengths.say(distance, 2)),
                    format!("look at `{}`, `{}` and `{}`", p.key(), a.key(), b.key()),
                );
            }
        }
    }
}
