//! Whether a corner can be solved, and looks plausible when it is.

use super::Subject;
use super::corner::CornerCheck;
use crate::car::LinkageKind;
use crate::corner_solver::CornerSolver;
use crate::pickup::{Link, Pickup};
use crate::stop::StopKind;

/// The point at the steering axis' upper end, or the nearest to one.
fn upper_end(linkage: LinkageKind) -> Pickup {
    match linkage {
        LinkageKind::Strut => Pickup::StrutTop,
        LinkageKind::FiveLink => Pickup::UpperFrontLinkOuter,
        _ => Pickup::UpperBallJoint,
    }
}

impl CornerCheck<'_> {
    pub(super) fn solves(&mut self) {
        let corner = self.corner().clone();
        let on = self.axle.third_spring.map(|third| third.on);
        let solver = match CornerSolver::new(&corner, self.at.side, &self.axle.steering, on) {
            Ok(solver) => solver,
            Err(stop) => {
                let named = Link::ALL.iter().copied().find(|link| stop.links.contains(&link.label()));
                let subject = match (stop.kind, named) {
                    (StopKind::CannotAlign, _) | (_, None) => Subject::Alignment,
                    (_, Some(link)) => Subject::Link(link),
                };
                let hint = match stop.kind {
                    StopKind::DeadPoint => {
                        "the design pose is a dead point: move one of these links out of line"
                    }
                    StopKind::CannotAssemble => {
                        "correct the length, or leave it out to take it from the points"
                    }
                    StopKind::CannotAlign => "ask for an angle nearer to what the points give",
                    _ => "look at the points of these links",
                };
                let message = if stop.kind == StopKind::DeadPoint {
                    format!(
                        "the linkage is at a dead point in its design pose; in line: {}",
                        stop.links.join("; ")
                    )
                } else {
                    stop.to_string()
                };
                self.fault(subject, message, hint);
                return;
            }
        };
        let motion = &solver.start().motion;
        let camber = -motion.spin_axis.z.asin().to_degrees();
        if camber.abs() > 8.0 {
            self.warn(
                Subject::Wheel("spin_axis"),
                format!("static camber is {camber:.1}°"),
                "race cars run about −4° to +2° (common practice)",
            );
        }
        let Some(k) = motion.steering_axis.map(|axis| axis.along) else { return };
        let caster = (-k.x).atan2(k.z).to_degrees();
        if solver.steered() && !(-1.0..=15.0).contains(&caster) {
            self.warn(
                Subject::Pickup(upper_end(corner.linkage)),
                format!("caster is {caster:.1}°"),
                "steered wheels run about 3° to 12° (common practice): look at the x of both ends of the steering axis",
            );
        }
    }
}
