//! Guarded poses along a sweep, between which others are interpolated.

use crate::corner::corner_solver::{CornerSolver, SolvedCorner};
use crate::mechanism::NEARLY_IN_LINE;
use crate::sweep::hermite_segment::Node;
use crate::sweep::sweep_direction::SweepDirection;

/// Furthest that guarded poses stand apart, metres of travel or units of the steering input.
pub(crate) const APART: f64 = 0.010;

/// A guarded pose along a run.
pub(crate) struct SweepNode {
    /// The pose.
    pub solved: SolvedCorner,
    /// The same, to be interpolated.
    pub node: Node,
    /// Whether pushrod and drop link are far from the line of their levers.
    pub open: bool,
}

impl SweepNode {
    /// `None` where the upright has turned too far to be interpolated.
    pub fn new(solver: &CornerSolver, solved: SolvedCorner, way: SweepDirection) -> Option<Self> {
        let rate = match way {
            SweepDirection::Travel { .. } => &solved.motion.by_travel,
            SweepDirection::Steer { .. } => solved.motion.by_steer.as_ref()?,
        };
        let node = Node::new(way.value(solved.travel(), solved.steer()), solved.upright(), rate)?;
        let open = solver.model.openness(&solved.traced.closed).0 > NEARLY_IN_LINE;
        Some(SweepNode { solved, node, open })
    }

    /// More posts after the last one, at most [`APART`], until that value, as far as the corner goes.
    pub fn go_on(
        posts: &mut Vec<SweepNode>,
        solver: &CornerSolver,
        way: SweepDirection,
        to: f64,
    ) -> Option<()> {
        let mut here = posts.last()?.solved;
        let from = way.value(here.travel(), here.steer());
        let gaps = ((to - from).abs() / APART).ceil().max(1.0);
        let mut gap = 0.0;
        while gap < gaps {
            gap += 1.0;
            let [travel, steer] = way.at(if gap < gaps { from + (to - from) * (gap / gaps) } else { to });
            let Ok(solved) = solver.follow(&here, travel, steer) else { break };
            here = solved;
            posts.push(SweepNode::new(solver, solved, way)?);
        }
        Some(())
    }
}
