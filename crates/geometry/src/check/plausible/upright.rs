//! Joints on the upright: near the wheel, inboard of it, inside the rim.

use super::{Place, axis_from, off_line};
use crate::car::Component;
use crate::car::hardpoint::Hardpoint as P;
use crate::check::usual;
use crate::linkage::spec::{AxisBy, HubOn};

impl Place<'_> {
    pub(super) fn upright(&mut self) {
        let spec = self.corner.linkage.spec();
        let no_upright = matches!(spec.hub_on, HubOn::Arm | HubOn::Axle);
        for (hardpoint, _) in self.corner.hardpoints.iter() {
            if self.axle.carrier_at(self.side, hardpoint) != Some(Component::Upright) || no_upright {
                continue;
            }
            let Some(at) = self.at(hardpoint) else { continue };
            let up = at.z - self.size;
            let rod = matches!(hardpoint, P::TieRodOuter | P::ToeLinkOuter);
            self.of_points(if rod { usual::ROD_OUT } else { usual::JOINT_OUT }, at.y, &[hardpoint]);
            match hardpoint {
                P::UpperBallJoint | P::UpperFrontLinkOuter | P::UpperRearLinkOuter | P::UpperLinkOuter => {
                    self.of_points(usual::UPPER_JOINT_UP, up, &[hardpoint]);
                    self.of_points(usual::BALL_JOINT_AHEAD, at.x, &[hardpoint]);
                }
                P::LowerBallJoint | P::LowerFrontLinkOuter | P::LowerRearLinkOuter => {
                    self.of_points(usual::LOWER_JOINT_UP, up, &[hardpoint]);
                    self.of_points(usual::BALL_JOINT_AHEAD, at.x, &[hardpoint]);
                }
                P::HArmOuterFront | P::HArmOuterRear => {
                    self.of_points(usual::LOWER_JOINT_UP, up, &[hardpoint])
                }
                _ => self.of_points(usual::JOINT_FROM_CENTRE, at.x.hypot(up), &[hardpoint]),
            }
        }
        let lower = self.at(P::LowerBallJoint);
        let upper = self.at(P::UpperBallJoint).or_else(|| self.at(P::StrutTop));
        if let (Some(lower), Some(upper)) = (lower, upper) {
            let top = if spec.has_strut { P::StrutTop } else { P::UpperBallJoint };
            for rod in [P::TieRodOuter, P::ToeLinkOuter] {
                if let Some(at) = self.at(rod) {
                    self.of_points(
                        usual::STEERING_ARM,
                        off_line(&at, &lower, &upper),
                        &[rod, P::LowerBallJoint, top],
                    );
                    // Seen from the front, where the line between the joints passes the rod's height.
                    let share = (at.z - lower.z) / (upper.z - lower.z);
                    let beside = at.y - (lower.y + (upper.y - lower.y) * share);
                    self.of_points(usual::ROD_BESIDE_AXIS, beside, &[rod, P::LowerBallJoint, top]);
                }
            }
            if matches!(spec.axis, AxisBy::Joints { .. }) {
                self.of_points(usual::BALL_JOINTS_APART, (upper - lower).norm(), &[top, P::LowerBallJoint]);
            }
        }
        if let (Some(top), Some(bottom)) = (self.at(P::StrutTop), self.at(P::StrutBottom)) {
            let line = top - bottom;
            let pair = [P::StrutBottom, P::StrutTop];
            self.of_points(usual::STRUT_LEANS_IN, (-line.y).atan2(line.z), &pair);
            self.of_points(usual::STRUT_LEANS_BACK, (-line.x).atan2(line.z), &pair);
            self.of_points(usual::STRUT_LENGTH, line.norm(), &pair);
            self.of_points(usual::STRUT_TOP_UP, top.z, &[P::StrutTop]);
        }
        for (hardpoint, _) in
            self.corner.hardpoints.iter().filter(|&(hardpoint, _)| axis_from(hardpoint).is_none())
        {
            if let Some(at) = self.at(hardpoint) {
                self.of_points(usual::HEIGHT, at.z, &[hardpoint]);
                self.of_points(usual::ALONG, at.x, &[hardpoint]);
                let half = self.side.sign() * self.corner.wheel.centre.y;
                if half > 0.0 {
                    self.of_points(usual::SIDE, 1.0 + at.y / half, &[hardpoint]);
                }
            }
        }
    }
}
