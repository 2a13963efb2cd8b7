//! Whether a corner can be solved.

use super::Subject;
use super::corner::CornerCheck;
use crate::car::hardpoint::Link;
use crate::corner::corner_solver::CornerSolver;
use crate::mechanism::stop::StopKind;

impl CornerCheck<'_> {
    pub(super) fn solves(&mut self) {
        let corner = self.corner().clone();
        let on = self.axle.third_spring.map(|third| third.on);
        let solved = CornerSolver::new(&corner, self.at.side, &self.axle.steering, on);
        if let Err(stop) = solved {
            let named = Link::ALL.iter().copied().find(|link| stop.links.contains(&link.label()));
            let subject = match (stop.kind, named) {
                (StopKind::CannotAlign, _) | (_, None) => Subject::Alignment,
                (_, Some(link)) => Subject::Link(link),
            };
            let hint = match stop.kind {
                StopKind::DeadPoint => "the design pose is a dead point: move one of these links out of line",
                StopKind::CannotAssemble => "correct the length, or leave it out to take it from the points",
                StopKind::CannotAlign => "ask for an angle nearer to what the points give",
                _ => "look at the points of these links",
            };
            let message = if stop.kind == StopKind::DeadPoint {
                format!(
                    "the linkage is at a dead point in its design pose; in line: {}",
                    stop.links.join("; ")
                )
            } else {
                stop.in_words(self.lengths)
            };
            self.fault(subject, message, hint);
        }
    }
}
