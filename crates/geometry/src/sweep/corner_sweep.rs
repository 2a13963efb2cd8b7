//! The quick way along a dense sweep of one corner.
//!
//! Poses followed in the guarded way of [`CornerSolver::follow`], at most 10 mm apart, give polynomials
//! that predict every pose between them so well that a single Newton step closes it; the step's own
//! matrix gives the velocities. Many poses take the step side by side. Each lane is tested on its own:
//! its step must be tiny and its determinant must keep its sign, or the guarded way takes that pose over.
//! Both give the same poses.

use crate::corner::corner_motion::CornerMotion;
use crate::corner::corner_solver::{CornerSolver, SolvedCorner};
use crate::mechanism::Pose;
use crate::mechanism::stop::Stop;
use crate::number::lanes::LANES;
use crate::readings::WHEEL_READINGS;
use crate::sweep::hermite_segment::{HermiteSegment, Node};
use crate::sweep::pose_batch::{Between, PoseBatch, Prediction, Wanted};
use crate::sweep::sweep_direction::SweepDirection;
use crate::sweep::sweep_node::{APART, SweepNode};

/// Where a pivot has shrunk to this share the order of elimination is chosen anew.
const WORN: f64 = 0.3;
/// Share of their distance by which a block may reach beyond the next one.
const BEYOND: f64 = 0.25;

/// Runs of so few poses are followed one by one.
pub(crate) const FEW: usize = 8;

/// How many values from the first on grow, or shrink.
fn run_length(values: &[f64]) -> usize {
    let mut sense = 0.0;
    let mut count = 1;
    for pair in values.windows(2) {
        let step = pair[1] - pair[0];
        if !step.is_finite() || step * sense < 0.0 {
            break;
        }
        if step != 0.0 {
            sense = step;
        }
        count += 1;
    }
    count.min(values.len())
}

/// A sweep in progress.
struct Sweep<'a, D> {
    solver: &'a CornerSolver,
    way: SweepDirection,
    wanted: Wanted,
    block: Box<PoseBatch>,
    last: Option<SolvedCorner>,
    done: D,
}

impl<D: FnMut(usize, usize, &mut PoseBatch)> Sweep<'_, D> {
    fn guarded(&self, from: Option<&SolvedCorner>, value: f64) -> Result<SolvedCorner, Stop> {
        let [travel, steer] = self.way.at(value);
        match from {
            // A wheel that stays while its axle's other wheel travels.
            Some(from) if from.stands_at(travel, steer) => Ok(*from),
            Some(from) => self.solver.follow(from, travel, steer),
            None => self.solver.solve(travel, steer),
        }
    }

    /// Every pose in the guarded way.
    fn one_by_one(&mut self, first: usize, values: &[f64]) -> Result<(), Stop> {
        for (chunk, some) in values.chunks(LANES).enumerate() {
            let first = first + chunk * LANES;
            for (lane, &value) in some.iter().enumerate() {
                match self.guarded(self.last.as_ref(), value) {
                    Ok(solved) => {
                        self.block.set(lane, &solved);
                        self.last = Some(solved);
                    }
                    Err(stop) => {
                        (self.done)(first, lane, &mut self.block);
                        return Err(stop);
                    }
                }
            }
            (self.done)(first, some.len(), &mut self.block);
        }
        Ok(())
    }

    /// A run of values that grow, or shrink.
    fn run(&mut self, first: usize, values: &[f64]) -> Result<(), Stop> {
        let (Some(&from), Some(&to)) = (values.first(), values.last()) else { return Ok(()) };
        #[expect(clippy::cast_precision_loss, reason = "a count of poses")]
        let dense = values.len() as f64 > 2.0 * ((to - from).abs() / APART).ceil();
        if !dense || values.len() <= FEW || (to - from).abs() <= 0.0 || !self.way.moves(self.solver) {
            return self.one_by_one(first, values);
        }
        let Some(posts) = self.posts(from, to)? else { return self.one_by_one(first, values) };
        let along = |value: f64| (value - from) * (to - from).signum();
        let mut order = None;
        let mut done = 0;
        for (i, pair) in posts.windows(2).enumerate() {
            let [here, next] = pair else { break };
            let end = along(next.node.at);
            let beyond = if i + 2 < posts.len() { BEYOND * (next.node.at - here.node.at).abs() } else { 0.0 };
            // Four posts around the stretch where there are so many.
            let around = i.saturating_sub(1).min(posts.len().saturating_sub(4));
            let nodes: Vec<Node> = posts[around..].iter().take(4).map(|post| post.node).collect();
            let stretch = HermiteSegment::through(&nodes);
            self.last = Some(here.solved);
            while let Some(some) =
                values.get(done..).filter(|some| some.first().is_some_and(|&value| along(value) <= end))
            {
                let within =
                    some.iter().take(LANES).take_while(|&&value| along(value) <= end + beyond).count();
                let some = &some[..within];
                if order.is_none() {
                    let solved = &here.solved;
                    order = self.solver.model.mechanism.elimination(solved.upright(), &solved.traced.input);
                }
                let open = self.wanted != Wanted::Poses || (here.open && next.open);
                match (&stretch, &order) {
                    (Some(stretch), Some(elimination)) if open => {
                        let prediction = Prediction::HermiteSegment(stretch);
                        let between =
                            Between { solver: self.solver, way: self.way, prediction, order: elimination };
                        self.side_by_side(first + done, some, &between)?;
                        if self.block.least_pivot() < WORN {
                            order = None;
                        }
                    }
                    _ => self.one_by_one(first + done, some)?,
                }
                done += within;
            }
        }
        // Where the corner did not come to the last value, these say how far it goes.
        self.last = posts.last().map(|post| post.solved);
        self.one_by_one(first + done, &values[done..])
    }

    /// Guarded poses from one value to another; `None` where there is nothing to interpolate.
    ///
    /// # Errors
    /// The limit met on the way to the first value.
    fn posts(&self, from: f64, to: f64) -> Result<Option<Vec<SweepNode>>, Stop> {
        let (solver, way) = (self.solver, self.way);
        let mut posts = Vec::new();
        if self.last.is_none() && from * to < 0.0 {
            // The way goes through the reference height or straight ahead: out from there to both ends.
            let Some(middle) = SweepNode::new(solver, self.guarded(None, 0.0)?, way) else { return Ok(None) };
            posts.push(middle);
            if SweepNode::go_on(&mut posts, solver, way, from).is_none() {
                return Ok(None);
            }
            if let Some(last) = posts.last().filter(|post| (post.node.at - from).abs() > 0.0) {
                // It did not come so far: in so many words.
                self.guarded(Some(&last.solved), from)?;
                return Ok(None);
            }
            posts.reverse();
        } else {
            let first = self.guarded(self.last.as_ref(), from)?;
            let Some(first) = SweepNode::new(solver, first, way) else { return Ok(None) };
            posts.push(first);
        }
        let whole = SweepNode::go_on(&mut posts, solver, way, to).is_some() && posts.len() > 1;
        Ok(whole.then_some(posts))
    }

    fn side_by_side(&mut self, first: usize, values: &[f64], between: &Between<'_>) -> Result<(), Stop> {
        self.block.step(values, between, self.wanted);
        for (lane, &value) in values.iter().enumerate() {
            if self.block.trusted(lane, self.wanted, &self.solver.model.wheel.followers) {
                continue;
            }
            match self.guarded(self.last.as_ref(), value) {
                Ok(solved) => self.block.set(lane, &solved),
                Err(stop) => {
                    (self.done)(first, lane, &mut self.block);
                    return Err(stop);
                }
            }
        }
        (self.done)(first, values.len(), &mut self.block);
        Ok(())
    }
}

impl CornerSolver {
    pub(crate) fn sweep_blocks(
        &self,
        values: &[f64],
        way: SweepDirection,
        wanted: Wanted,
        done: impl FnMut(usize, usize, &mut PoseBatch),
    ) -> Result<(), Stop> {
        let block = Box::new(PoseBatch::new());
        let way = way.of(self);
        let mut sweep = Sweep { solver: self, way, wanted, block, last: None, done };
        let mut first = 0;
        while let Some(rest) = values.get(first..).filter(|rest| !rest.is_empty()) {
            let count = run_length(rest);
            sweep.run(first, &rest[..count])?;
            first += count;
        }
        Ok(())
    }

    /// Solves along a list of values as exactly as one by one, and hands pose and motion over, each with
    /// its place in the list.
    ///
    /// # Errors
    /// The limit at which the sweep ends; the values before it have been handed over.
    pub(crate) fn sweep_along(
        &self,
        values: &[f64],
        way: SweepDirection,
        mut each: impl FnMut(usize, Pose<f64>, CornerMotion<f64>),
    ) -> Result<(), Stop> {
        self.sweep_blocks(values, way, Wanted::ExactMotions, |first, count, block| {
            for lane in 0..count {
                each(first + lane, block.pose(lane), block.motion(lane, self));
            }
        })
    }

    /// Solves at every travel of a list, metres, at one steering input, and hands each motion over with
    /// its place in the list.
    ///
    /// # Errors
    /// The limit at which the sweep ends; the travels before it have been handed over.
    pub fn sweep_travel(
        &self,
        travels: &[f64],
        steer: f64,
        mut each: impl FnMut(usize, &CornerMotion<f64>),
    ) -> Result<(), Stop> {
        self.sweep_blocks(
            travels,
            SweepDirection::Travel { steer },
            Wanted::Motions,
            |first, count, block| {
                for lane in 0..count {
                    each(first + lane, &block.motion(lane, self));
                }
            },
        )
    }

    /// The same with nothing but the pose of the upright.
    ///
    /// # Errors
    /// The limit at which the sweep ends; the travels before it have been handed over.
    pub fn sweep_poses(
        &self,
        travels: &[f64],
        steer: f64,
        mut each: impl FnMut(usize, &Pose<f64>),
    ) -> Result<(), Stop> {
        self.sweep_blocks(travels, SweepDirection::Travel { steer }, Wanted::Poses, |first, count, block| {
            for lane in 0..count {
                each(first + lane, &block.pose(lane));
            }
        })
    }

    /// The same with all readings of the wheel, on ground parallel to the body's XY plane: for every
    /// reading in the order of [`crate::wheel_readings`], its values at some poses of the list that
    /// follow one another, with the place of the first.
    ///
    /// # Errors
    /// The limit at which the sweep ends; the travels before it have been handed over.
    pub fn sweep_values(
        &self,
        travels: &[f64],
        steer: f64,
        mut each: impl FnMut(usize, &[&[f64]; WHEEL_READINGS]),
    ) -> Result<(), Stop> {
        let mut readings = Box::new([[f64::NAN; LANES]; WHEEL_READINGS]);
        self.sweep_blocks(
            travels,
            SweepDirection::Travel { steer },
            Wanted::Motions,
            |first, count, block| {
                block.read(self, None, &mut readings);
                each(first, &std::array::from_fn(|i| &readings[i][..count]));
            },
        )
    }
}
