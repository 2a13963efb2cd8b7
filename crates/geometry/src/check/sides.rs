//! Points and links on the wrong side of the car.

use super::corner::CornerCheck;
use super::{SAME, Subject};
use crate::car::hardpoint::Hardpoint;
use crate::linkage;

impl CornerCheck<'_> {
    /// No sign of a y is wrong: the links would still close, so only this can tell.
    pub(super) fn sides(&mut self) {
        use Hardpoint as P;
        let corner = self.corner().clone();
        let side = self.at.side;
        let outer = [
            P::UpperBallJoint,
            P::LowerBallJoint,
            P::TieRodOuter,
            P::ToeLinkOuter,
            P::PushrodOuter,
            P::StrutBottom,
            P::StrutTop,
            P::UpperFrontLinkOuter,
            P::UpperRearLinkOuter,
            P::LowerFrontLinkOuter,
            P::LowerRearLinkOuter,
            P::HArmOuterFront,
            P::HArmOuterRear,
            P::ArmPivotOutboard,
            P::LowerLinkOuter,
            P::KingPinUpper,
            P::KingPinLower,
        ];
        let half = side.sign() * corner.wheel.centre.y;
        for (hardpoint, at) in corner.hardpoints.iter() {
            let out = side.sign() * at.y;
            if outer.contains(&hardpoint) && out < SAME {
                self.fault(
                    Subject::Hardpoint(hardpoint),
                    format!(
                        "{hardpoint}: y = {} stands on the other side of the car's centre plane",
                        self.lengths.say(at.y, 1)
                    ),
                    "look at the sign of y",
                );
            } else if out < -0.5 * half {
                self.warn(
                    Subject::Hardpoint(hardpoint),
                    format!(
                        "{hardpoint}: y = {} stands far across the car's centre plane",
                        self.lengths.say(at.y, 1)
                    ),
                    "look at the sign of y",
                );
            }
        }
        // Links of an axle that splay outward toward the body hold it sideways.
        if corner.linkage.spec().is_beam() {
            return;
        }
        for link in linkage::links(corner.linkage, self.axle.steering.steers()) {
            let (inner, outer) = link.ends();
            let (Some(a), Some(b)) = (corner.hardpoints.get(inner), corner.hardpoints.get(outer)) else {
                continue;
            };
            let (a, b) = (side.sign() * a.y, side.sign() * b.y);
            if b > 0.0 && b < a {
                self.warn(
                    Subject::Link(link),
                    format!(
                        "{link}: its outer end stands {} inboard of its inner end",
                        self.lengths.say(a - b, 1)
                    ),
                    "look at the two y coordinates",
                );
            }
        }
    }
}
