//! What follows a body stays whole along its way: no rod is led past its reach.

use crate::car::hardpoint::Link;
use crate::corner::wheel_model::CannotFollow;
use crate::mechanism::{IN_LINE, Pose, clear_of_line};

/// A body's way so far.
pub(crate) struct DrivenPartGuard {
    last: Pose<f64>,
    /// The rod that could not follow to the pose last asked about.
    pub cannot: Option<CannotFollow>,
}

impl DrivenPartGuard {
    /// At the start of the way.
    pub fn from(start: &Pose<f64>) -> Self {
        DrivenPartGuard { last: *start, cannot: None }
    }

    /// Whether the parts that follow the body are whole here, given the rod that could not follow and how
    /// far the nearest rod is from the line of its lever. A great stride could pass over a stretch in
    /// which a rod cannot reach: near a line only short ones count.
    pub fn holds(
        &mut self,
        here: &Pose<f64>,
        cannot: Option<CannotFollow>,
        (open, link): (f64, Link),
    ) -> bool {
        let turned = (here.car_from_body - self.last.car_from_body).amax();
        let moved = turned.max((here.origin - self.last.origin).amax());
        self.cannot = cannot.or((open < IN_LINE).then_some(CannotFollow(link)));
        let holds = self.cannot.is_none() && clear_of_line(open, moved);
        if holds {
            self.last = *here;
        }
        holds
    }
}
