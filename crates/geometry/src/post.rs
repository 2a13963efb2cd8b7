//! Guarded poses along a sweep, between which others are interpolated.

use crate::corner_solver::{CornerSolver, NEARLY_IN_LINE, SolvedCorner};
use crate::stretch::Node;

/// Furthest that guarded poses stand apart, metres of travel.
pub(crate) const APART: f64 = 0.010;

/// A guarded pose along a run of travels.
pub(crate) struct Post {
    /// The pose.
    pub solved: SolvedCorner,
    /// The same, to be interpolated.
    pub node: Node,
    /// Whether pushrod and drop link are far from the line of their levers.
    pub open: bool,
}

impl Post {
    /// `None` where the upright has turned too far to be interpolated.
    pub fn new(solver: &CornerSolver, solved: SolvedCorner) -> Option<Self> {
        let node = Node::new(solved.travel(), solved.upright(), &solved.motion.by_travel)?;
        let open = solver.model.openness(&solved.traced.closed) > NEARLY_IN_LINE;
        Some(Post { solved, node, open })
    }

    /// More posts after the last one, at most [`APART`], until that travel, as far as the corner goes.
    pub fn go_on(posts: &mut Vec<Post>, solver: &CornerSolver, to: f64) -> Option<()> {
        let mut here = posts.last()?.solved;
        let from = here.travel();
        let gaps = ((to - from).abs() / APART).ceil().max(1.0);
        let mut gap = 0.0;
        while gap < gaps {
            gap += 1.0;
            let travel = if gap < gaps { from + (to - from) * (gap / gaps) } else { to };
            let Ok(solved) = solver.follow(&here, travel, here.steer()) else { break };
            here = solved;
            posts.push(Post::new(solver, solved)?);
        }
        Some(())
    }
}
