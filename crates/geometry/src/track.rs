//! The quick way along a dense sweep of one corner.
//!
//! Poses followed in the guarded way of [`CornerSolver::follow`], at most 10 mm apart, give polynomials
//! that predict every pose between them so well that a single Newton step closes it; the step's own
//! matrix gives the velocities. Many poses take the step side by side. Each lane is tested on its own:
//! its step must be tiny and its determinant must keep its sign, or the guarded way takes that pose over.
//! Both give the same poses.

use crate::corner_motion::CornerMotion;
use crate::corner_solver::{CornerSolver, NEARLY_IN_LINE, SolvedCorner};
use crate::lanes::{Column, LANES, Wide, wide};
use crate::mechanism::{Elimination, Equations, Input, Pose, Poses, Stepped};
use crate::readings::WHEEL_READINGS;
use crate::stop::Stop;
use crate::stretch::{Node, Stretch};
use crate::wheel_model::FollowersAbreast;
use nalgebra::Vector3;

/// A step this small leaves an error of its square, and moves no velocity that can be seen.
const NEAR: f64 = 1e-11;
/// A step this small leaves an error of its square: less than rounding.
const NEAR_POSE: f64 = 1e-8;
/// After a step this small the next is below [`NEAR`] on any linkage of a car's size.
const NEARLY: f64 = 1e-7;
/// A pivot that has shrunk to less than this share is on its way through zero.
const STEADY: f64 = 0.05;
/// Furthest that guarded poses stand apart, metres of travel.
const APART: f64 = 0.010;
/// Share of their distance by which a block may reach beyond the next one.
const BEYOND: f64 = 0.25;

/// Poses side by side with everything that comes of them.
pub(crate) struct Block {
    travels: Column,
    poses: Poses,
    stepped: Stepped,
    followers: FollowersAbreast,
    equations: Equations,
}

/// What is wanted of a sweep.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Wanted {
    Poses,
    Motions,
}

/// Where a block is: between two guarded poses.
struct Between<'a> {
    solver: &'a CornerSolver,
    steer: f64,
    stretch: &'a Stretch,
    order: &'a Elimination,
}

struct Step<'a> {
    between: &'a Between<'a>,
    wanted: Wanted,
    block: &'a mut Block,
}

impl Wide for Step<'_> {
    type Result = ();

    #[inline(always)]
    fn work(self) {
        let (between, block) = (self.between, self.block);
        let model = &between.solver.model;
        let mechanism = &model.mechanism;
        between.stretch.predict(mechanism.height(), &block.travels, &mut block.poses);
        let (poses, equations, stepped) = (&mut block.poses, &mut block.equations, &mut block.stepped);
        if self.wanted == Wanted::Poses {
            mechanism.step_abreast::<1>(poses, between.steer, between.order, equations, stepped);
            return;
        }
        mechanism.step_abreast::<3>(poses, between.steer, between.order, equations, stepped);
        let most = stepped.moved.iter().fold(0.0, |most, &moved| if moved <= most { most } else { moved });
        if most > NEAR * NEAR && most < NEARLY * NEARLY {
            mechanism.step_abreast::<3>(poses, between.steer, between.order, equations, stepped);
        }
        model.wheel.follow_abreast(poses, &stepped.by_travel, &mut block.followers);
    }
}

impl Block {
    fn new() -> Self {
        Block {
            travels: [0.0; LANES],
            poses: Poses::NONE,
            stepped: Stepped::NONE,
            followers: FollowersAbreast::NONE,
            equations: Equations::none(),
        }
    }

    /// Whether what stands in a lane is the pose that was asked for.
    fn trusted(&self, lane: usize, wanted: Wanted) -> bool {
        let near = if wanted == Wanted::Poses { NEAR_POSE } else { NEAR };
        // Not-a-number is not trusted.
        self.stepped.moved[lane] <= near * near
            && self.stepped.pivots[lane] >= STEADY
            && (wanted == Wanted::Poses || self.followers.whole(lane))
    }

    fn set(&mut self, lane: usize, solved: &SolvedCorner) {
        let closed = &solved.traced.closed;
        self.poses.set(lane, solved.upright());
        self.stepped.by_travel.set(lane, &closed.by_travel(0, 1, 0));
        self.stepped.by_steer.set(lane, &closed.by_steer(0));
        self.followers.set(lane, &solved.motion);
    }
}

/// Guarded poses along a run of travels.
struct Posts {
    solved: Vec<SolvedCorner>,
    nodes: Vec<Node>,
}

impl Posts {
    /// Along the way from the first to the last travel, as far as the corner goes.
    fn along(solver: &CornerSolver, start: SolvedCorner, to: f64) -> Option<Self> {
        let from = start.travel();
        let gaps = ((to - from).abs() / APART).ceil().max(3.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some dozens")]
        let gaps_counted = gaps as usize;
        let mut posts = Posts { solved: Vec::new(), nodes: Vec::new() };
        let mut here = start;
        for post in 0..=gaps_counted {
            if post > 0 {
                #[expect(clippy::cast_precision_loss, reason = "some dozens")]
                let share = post as f64 / gaps;
                let travel = if post == gaps_counted { to } else { from + (to - from) * share };
                match solver.follow(&here, travel, start.steer()) {
                    Ok(solved) => here = solved,
                    Err(_) => break,
                }
            }
            posts.nodes.push(Node::new(here.travel(), here.upright(), &here.motion.by_travel)?);
            posts.solved.push(here);
        }
        (posts.nodes.len() > 1).then_some(posts)
    }
}

/// How many travels from the first on go one way.
fn run_length(travels: &[f64]) -> usize {
    let mut way = 0.0;
    let mut count = 1;
    for pair in travels.windows(2) {
        let step = pair[1] - pair[0];
        if !step.is_finite() || step * way < 0.0 {
            break;
        }
        if step != 0.0 {
            way = step;
        }
        count += 1;
    }
    count.min(travels.len())
}

/// A sweep in progress.
struct Sweep<'a, D> {
    solver: &'a CornerSolver,
    steer: f64,
    wanted: Wanted,
    block: Box<Block>,
    last: Option<SolvedCorner>,
    done: D,
}

impl<D: FnMut(usize, usize, &mut Block)> Sweep<'_, D> {
    fn guarded(&self, from: Option<&SolvedCorner>, travel: f64) -> Result<SolvedCorner, Stop> {
        match from {
            Some(from) => self.solver.follow(from, travel, self.steer),
            None => self.solver.solve(travel, self.steer),
        }
    }

    /// Every pose in the guarded way.
    fn one_by_one(&mut self, first: usize, travels: &[f64]) -> Result<(), Stop> {
        for (chunk, some) in travels.chunks(LANES).enumerate() {
            let first = first + chunk * LANES;
            for (lane, &travel) in some.iter().enumerate() {
                match self.guarded(self.last.as_ref(), travel) {
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

    /// A run of travels that go one way.
    fn run(&mut self, first: usize, travels: &[f64]) -> Result<(), Stop> {
        let (Some(&from), Some(&to)) = (travels.first(), travels.last()) else { return Ok(()) };
        #[expect(clippy::cast_precision_loss, reason = "a count of poses")]
        let dense = travels.len() as f64 > 2.0 * ((to - from).abs() / APART).ceil().max(4.0);
        if !dense || from == to || !self.solver.model.mechanism.goes_abreast() {
            return self.one_by_one(first, travels);
        }
        let start = self.guarded(self.last.as_ref(), from)?;
        self.last = Some(start);
        let Some(posts) = Posts::along(self.solver, start, to) else {
            return self.one_by_one(first, travels);
        };
        let along = |travel: f64| (travel - from) * (to - from).signum();
        let count = posts.nodes.len();
        let mut done = 0;
        for post in 0..count - 1 {
            let (here, next) = (posts.nodes[post].travel, posts.nodes[post + 1].travel);
            let last = along(next) + if post + 2 < count { BEYOND * (next - here).abs() } else { 0.0 };
            // Four posts around the stretch where there are so many.
            let around = post.saturating_sub(1).min(count.saturating_sub(4));
            let stretch = posts.nodes.get(around..(around + 4).min(count)).and_then(Stretch::through);
            let input = Input::new(here, start.steer());
            let order = self.solver.model.mechanism.elimination(posts.solved[post].upright(), &input);
            let open = self.wanted == Wanted::Motions
                || posts.solved[post..post + 2].iter().all(|solved| self.open(solved));
            self.last = Some(posts.solved[post]);
            while let Some(some) = travels.get(done..).filter(|some| some.first().is_some_and(|&t| along(t) <= along(next))) {
                let some = &some[..some.len().min(LANES)];
                let within = some.iter().take_while(|&&travel| along(travel) <= last).count();
                let some = &some[..within];
                match (&stretch, &order) {
                    (Some(stretch), Some(order)) if open => {
                        let between = Between { solver: self.solver, steer: start.steer(), stretch, order };
                        self.side_by_side(first + done, some, &between)?;
                    }
                    _ => self.one_by_one(first + done, some)?,
                }
                done += some.len();
            }
        }
        // Where the corner did not come to the last travel, these say how far it goes.
        self.last = posts.solved.last().copied();
        self.one_by_one(first + done, &travels[done..])
    }

    /// Whether pushrod and drop link are far from the line of their levers.
    fn open(&self, solved: &SolvedCorner) -> bool {
        self.solver.model.openness(&solved.traced.closed) > NEARLY_IN_LINE
    }

    fn side_by_side(&mut self, first: usize, travels: &[f64], between: &Between<'_>) -> Result<(), Stop> {
        let Some(&last) = travels.last() else { return Ok(()) };
        self.block.travels = [last; LANES];
        self.block.travels[..travels.len()].copy_from_slice(travels);
        wide(Step { between, wanted: self.wanted, block: &mut self.block });
        for (lane, &travel) in travels.iter().enumerate() {
            if self.block.trusted(lane, self.wanted) {
                continue;
            }
            match self.guarded(self.last.as_ref(), travel) {
                Ok(solved) => self.block.set(lane, &solved),
                Err(stop) => {
                    (self.done)(first, lane, &mut self.block);
                    return Err(stop);
                }
            }
        }
        (self.done)(first, travels.len(), &mut self.block);
        Ok(())
    }
}

struct Read<'a> {
    solver: &'a CornerSolver,
    normal: Vector3<f64>,
    block: &'a Block,
    readings: &'a mut [Column; WHEEL_READINGS],
}

impl Wide for Read<'_> {
    type Result = ();

    #[inline(always)]
    fn work(self) {
        let (block, reference) = (self.block, &self.solver.reference);
        let wheel = &self.solver.model.wheel;
        let (poses, stepped, followers) = (&block.poses, &block.stepped, &block.followers);
        wheel.read_abreast(poses, stepped, followers, reference, self.normal, self.readings);
    }
}

impl CornerSolver {
    fn sweep_blocks(
        &self,
        travels: &[f64],
        steer: f64,
        wanted: Wanted,
        done: impl FnMut(usize, usize, &mut Block),
    ) -> Result<(), Stop> {
        let block = Box::new(Block::new());
        let mut sweep = Sweep { solver: self, steer, wanted, block, last: None, done };
        let mut first = 0;
        while let Some(rest) = travels.get(first..).filter(|rest| !rest.is_empty()) {
            let count = run_length(rest);
            sweep.run(first, &rest[..count])?;
            first += count;
        }
        Ok(())
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
        self.sweep_blocks(travels, steer, Wanted::Motions, |first, count, block| {
            for lane in 0..count {
                let (poses, stepped, followers) = (&block.poses, &block.stepped, &block.followers);
                let wheel = &self.model.wheel;
                each(first + lane, &wheel.motion_abreast(lane, poses, stepped, followers, &self.reference));
            }
        })
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
        self.sweep_blocks(travels, steer, Wanted::Poses, |first, count, block| {
            for lane in 0..count {
                each(first + lane, &block.poses.at(lane));
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
        let normal = crate::real::up();
        let mut readings = Box::new([[f64::NAN; LANES]; WHEEL_READINGS]);
        self.sweep_blocks(travels, steer, Wanted::Motions, |first, count, block| {
            wide(Read { solver: self, normal, block, readings: &mut readings });
            each(first, &std::array::from_fn(|i| &readings[i][..count]));
        })
    }
}
