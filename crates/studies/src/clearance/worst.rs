//! The worst of everything over many poses.

use super::capsule::Gap;
use super::layout::Layout;
use super::result::{JointAngle, Softest, StopMargin, StopOf};
use wheelpath_geometry::{
    AxlePose, AxleSolver, Hardpoint, Side, SolvedAxle, Stop, WheelPosition, exceeded_on,
};

/// A pose and its place in the list of all poses: of equals the first counts, whichever thread met it.
#[derive(Clone, Copy)]
pub(super) struct Node {
    pub place: usize,
    pub pose: AxlePose,
}

/// The worst so far.
pub(super) struct Worst {
    pub pairs: Vec<Option<(Gap, Node)>>,
    joints: Vec<(JointAngle, Node)>,
    stops: Vec<(StopMargin, Node)>,
    soft: Vec<(Softest, Node)>,
    unreachable: Vec<(Stop, Node)>,
    pub beyond_stops: usize,
}

impl Worst {
    pub fn new(layout: &Layout<'_>) -> Self {
        Worst {
            pairs: vec![None; layout.pairs()],
            joints: Vec::new(),
            stops: Vec::new(),
            soft: Vec::new(),
            unreachable: Vec::new(),
            beyond_stops: 0,
        }
    }

    /// All poses of a row, each followed from the one before, or from the design pose where that fails.
    pub fn row(&mut self, layout: &Layout<'_>, solver: &AxleSolver, first: usize, row: &[AxlePose]) {
        let mut last: Option<SolvedAxle> = None;
        for (pose, place) in row.iter().zip(first..) {
            let followed = last.as_ref().and_then(|last| solver.follow(last, pose.travel, pose.steer).ok());
            let solved = followed.map_or_else(|| solver.solve(pose.travel, pose.steer), Ok);
            let node = Node { place, pose: *pose };
            match &solved {
                Ok(solved) => self.pose(layout, solver, solved, node),
                Err(stop) => self.unreachable.push((stop.clone(), node)),
            }
            last = solved.ok();
        }
    }

    fn pose(&mut self, layout: &Layout<'_>, solver: &AxleSolver, at: &SolvedAxle, node: Node) {
        self.stops(layout, at, node);
        if is_beyond_stops(layout, at) {
            self.beyond_stops += 1;
            return;
        }
        let solids = layout.solids(solver, at);
        for (pair, worst) in self.pairs.iter_mut().enumerate() {
            let gap = layout.gap(&solids, pair);
            if worst.as_ref().is_none_or(|(least, _)| gap.distance < least.distance) {
                *worst = Some((gap, node));
            }
        }
        for side in Side::BOTH {
            let wheel = WheelPosition { end: layout.end, side };
            let corner = layout.axle.corner(side);
            for (joint, angle) in solver.joint_angles(at, side) {
                let of = |&(one, limit): &(Hardpoint, f64)| (one == joint).then_some(limit);
                let limit = corner.joint_limits.iter().find_map(of);
                let on_bolt = corner.joint_axes.iter().any(|(one, _)| *one == joint);
                let here = JointAngle { wheel, joint, angle, on_bolt, limit, pose: node.pose };
                self.take_joint(here, node);
            }
            if let Some(near) = solver.near_dead_point(at, side) {
                self.take_soft(Softest { near, pose: node.pose }, node);
            }
        }
    }

    fn stops(&mut self, layout: &Layout<'_>, at: &SolvedAxle, node: Node) {
        let (end, pose) = (layout.end, node.pose);
        if layout.axle.steering.steers() {
            let [negative, positive] = layout.axle.steering.stops();
            for (positive, margin) in [(false, at.steer() - negative), (true, positive - at.steer())] {
                self.take_stop(StopMargin { stop: StopOf::Steering { end, positive }, margin, pose }, node);
            }
        }
        for side in Side::BOTH {
            let wheel = WheelPosition { end, side };
            let length = at.motion.corner(side).damper.map(|damper| damper.value);
            let Some((stops, length)) = layout.axle.corner(side).damper.zip(length) else { continue };
            let short =
                StopMargin { stop: StopOf::DamperShort(wheel), margin: length - stops.shortest, pose };
            let long = StopMargin { stop: StopOf::DamperLong(wheel), margin: stops.longest - length, pose };
            self.take_stop(short, node);
            self.take_stop(long, node);
        }
    }

    fn take_joint(&mut self, here: JointAngle, node: Node) {
        let same = |one: &JointAngle| (one.wheel, one.joint) == (here.wheel, here.joint);
        take(&mut self.joints, (here, node), same, |one| -one.angle);
    }

    fn take_stop(&mut self, here: StopMargin, node: Node) {
        take(&mut self.stops, (here, node), |one| one.stop == here.stop, |one| one.margin);
    }

    fn take_soft(&mut self, here: Softest, node: Node) {
        let wheel = here.near.wheel;
        take(&mut self.soft, (here, node), |one| one.near.wheel == wheel, |one| -one.near.turn_per_metre);
    }

    /// With what another thread found.
    pub fn merged(mut self, other: Worst) -> Worst {
        for (here, there) in self.pairs.iter_mut().zip(other.pairs) {
            let nearer =
                |a: &(Gap, Node), b: &(Gap, Node)| (a.0.distance, a.1.place) < (b.0.distance, b.1.place);
            if let Some(there) = there
                && here.as_ref().is_none_or(|here| nearer(&there, here))
            {
                *here = Some(there);
            }
        }
        other.joints.into_iter().for_each(|(one, node)| self.take_joint(one, node));
        other.stops.into_iter().for_each(|(one, node)| self.take_stop(one, node));
        other.soft.into_iter().for_each(|(one, node)| self.take_soft(one, node));
        self.unreachable.extend(other.unreachable);
        self.beyond_stops += other.beyond_stops;
        self
    }

    pub fn joints(&self) -> Vec<JointAngle> {
        let mut joints: Vec<_> = self.joints.iter().map(|(one, _)| *one).collect();
        let key = |one: &JointAngle| (one.margin().is_none(), one.margin().unwrap_or(-one.angle));
        joints.sort_by(|a, b| {
            let ((a_free, a_left), (b_free, b_left)) = (key(a), key(b));
            a_free.cmp(&b_free).then(a_left.total_cmp(&b_left)).then(order(a).cmp(&order(b)))
        });
        joints
    }

    pub fn stops_left(&self) -> Vec<StopMargin> {
        let mut stops: Vec<_> = self.stops.iter().map(|(one, _)| *one).collect();
        stops.sort_by(|a, b| a.margin.total_cmp(&b.margin));
        stops
    }

    pub fn near_dead_points(&self) -> Vec<Softest> {
        let mut soft: Vec<_> = self.soft.iter().map(|(one, _)| one.clone()).collect();
        soft.sort_by_key(|one| one.near.wheel);
        soft
    }

    pub fn unreachable(mut self) -> Vec<Stop> {
        self.unreachable.sort_by_key(|(_, node)| node.place);
        self.unreachable.into_iter().map(|(stop, _)| stop).collect()
    }
}

fn order(one: &JointAngle) -> (WheelPosition, Hardpoint) {
    (one.wheel, one.joint)
}

/// Keeps the worse of two that are about the same thing; of equals the one met first.
fn take<T>(known: &mut Vec<(T, Node)>, here: (T, Node), same: impl Fn(&T) -> bool, left: impl Fn(&T) -> f64) {
    match known.iter_mut().find(|(one, _)| same(one)) {
        Some(one) => {
            let key = |one: &(T, Node)| (left(&one.0), one.1.place);
            if key(&here) < key(one) {
                *one = here;
            }
        }
        None => known.push(here),
    }
}

/// Whether steering or a damper stands beyond a stop: the links close there, the car does not go there.
pub(super) fn is_beyond_stops(layout: &Layout<'_>, at: &SolvedAxle) -> bool {
    let dampers = [at.motion.left.damper, at.motion.right.damper].map(|damper| damper.map(|d| d.value));
    !exceeded_on(layout.axle, layout.end, at.steer(), dampers).is_empty()
}
