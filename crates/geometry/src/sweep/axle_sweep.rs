//! Readings of an axle along a path of poses.

use crate::axle::axle_motion::AxleMotion;
use crate::axle::axle_solver::{AxleSolver, SolvedAxle, place};
use crate::axle::cross_axle::Wheels;
use crate::axle::wheel_carrier::Carried;
use crate::car::position::Side;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::corner_solver::CornerSolver;
use crate::mechanism::{Input, Pose};
use crate::range::exceeded::{Exceeded, exceeded_on};
use crate::range::joint::Standing;
use crate::range::reach::FOUND;
use crate::readings::{Chosen, Reading};
use crate::sweep::corner_sweep::FEW;
use crate::sweep::sweep_direction::SweepDirection;
use crate::sweep::{AxlePose, SweepPoint, SweepValues};
use std::borrow::Cow;

/// Which way the first poses of a list go at each corner, and how many of them.
fn first_run(poses: &[AxlePose]) -> ([SweepDirection; 2], usize) {
    let bits = |pose: &AxlePose| (pose.travel.map(f64::to_bits), pose.steer.to_bits());
    let Some(first) = poses.first() else { return ([SweepDirection::Travel { steer: 0.0 }; 2], 0) };
    let (travel, steer) = bits(first);
    let steered = poses.iter().take_while(|pose| bits(pose).0 == travel).count();
    let travelled = poses.iter().take_while(|pose| bits(pose).1 == steer).count();
    if steered > travelled {
        (first.travel.map(|travel| SweepDirection::Steer { travel }), steered)
    } else {
        ([SweepDirection::Travel { steer: first.steer }; 2], travelled)
    }
}

/// What is asked of a sweep beside the poses.
#[derive(Clone, Copy)]
struct Asked {
    /// Which readings.
    chosen: Chosen,
    /// The stops and joint limits that a pose goes beyond.
    exceeded: bool,
}

/// A corner at a pose of the quick way.
#[derive(Clone, Copy)]
struct Found {
    upright: Pose<f64>,
    motion: CornerMotion<f64>,
}

/// A sweep in progress.
struct Sweep<'a, D> {
    solver: &'a AxleSolver,
    asked: Asked,
    /// Takes each point as it comes, and the stops it goes beyond, where they are asked for.
    each: D,
    /// The last pose, where it was reached.
    reached: Option<AxlePose>,
    /// The axle at the last point, where it came there in the guarded way.
    last: Option<SolvedAxle>,
}

impl<D: FnMut(SweepPoint, Vec<Exceeded>)> Sweep<'_, D> {
    /// Poses along which one thing changes.
    fn run(&mut self, poses: &[AxlePose], ways: [SweepDirection; 2]) {
        let mut rest = poses;
        while !rest.is_empty() {
            rest = &rest[self.side_by_side(rest, ways)..];
            // What that did not come to goes one by one, until one is reached.
            while let Some((&pose, more)) = rest.split_first() {
                rest = more;
                if self.guarded(pose) && rest.len() > FEW {
                    break;
                }
            }
        }
    }

    /// A pose followed from the last one, or from the reference pose; whether it was reached.
    fn guarded(&mut self, pose: AxlePose) -> bool {
        let solver = self.solver;
        let last = self.last.take().or_else(|| {
            let reached = self.reached?;
            solver.solve(reached.travel, reached.steer).ok()
        });
        let followed = last.and_then(|last| solver.follow(&last, pose.travel, pose.steer).ok());
        let solved = followed.map_or_else(|| solver.solve(pose.travel, pose.steer), Ok);
        self.last = solved.as_ref().ok().copied();
        self.reached = self.last.map(|_| pose);
        let asked = self.last.as_ref().filter(|_| self.asked.exceeded);
        let exceeded = asked.map_or_else(Vec::new, |axle| solver.exceeded(axle));
        let chosen = &self.asked.chosen;
        let result = solved.map(|axle| match chosen.wheel_load {
            true => values(&solver.rated(&axle).motion, chosen),
            false => values(&axle.motion, chosen),
        });
        (self.each)(SweepPoint { pose, result }, exceeded);
        self.last.is_some()
    }

    /// Both corners, each by the quick way of a corner, as far as both go; how many poses that is.
    fn side_by_side(&mut self, poses: &[AxlePose], ways: [SweepDirection; 2]) -> usize {
        let solver = self.solver;
        let Carried::Independent(corners) = &solver.carried else { return 0 };
        if solver.across.t_bar.is_some() || poses.len() <= FEW {
            return 0;
        }
        let mut swept = 0;
        let along = |i: usize| -> Vec<f64> {
            poses.iter().map(|pose| ways[i].value(pose.travel[i], pose.steer)).collect()
        };
        let mut lefts = Vec::with_capacity(poses.len());
        // Where a corner stops, the poses before it stand.
        let _ = corners[0].sweep_along(&along(0), ways[0], |_, upright, motion| {
            lefts.push(Found { upright, motion });
        });
        let _ = corners[1].sweep_along(&along(1), ways[1], |i, upright, motion| {
            let (Some(left), Some(&pose)) = (lefts.get(i), poses.get(i)) else { return };
            let found = [left, &Found { upright, motion }];
            match joined(solver, corners, &pose, found, self.asked.chosen.wheel_load) {
                Some(axle) if i == swept => {
                    let beyond = match self.asked.exceeded {
                        true => exceeded(solver, corners, &axle, found),
                        false => Vec::new(),
                    };
                    (self.each)(SweepPoint { pose, result: Ok(values(&axle, &self.asked.chosen)) }, beyond);
                    self.reached = Some(pose);
                    swept += 1;
                }
                _ => {}
            }
        });
        if swept > 0 {
            self.last = None;
        }
        swept
    }
}

/// The stops and joint limits that an axle of these corners goes beyond.
fn exceeded(
    solver: &AxleSolver,
    corners: &[CornerSolver; 2],
    axle: &AxleMotion<f64>,
    found: [&Found; 2],
) -> Vec<Exceeded> {
    let dampers = [axle.left.damper, axle.right.damper].map(|damper| damper.map(|d| d.value));
    let mut beyond = exceeded_on(&solver.axle, solver.end(), axle.steer, dampers);
    if solver.has_joint_limits() {
        for side in Side::BOTH {
            let (upright, wheel) = (&found[place(side)].upright, &corners[place(side)].model.wheel);
            let steer = if corners[place(side)].steered() { axle.steer } else { 0.0 };
            let standing = Standing {
                solver,
                side,
                now: wheel.places(upright, steer),
                upright: upright.car_from_body,
                axle: None,
                steer: axle.steer,
                t_bar: None,
                own: Cow::Borrowed(&solver.axle.hardpoints),
                wishbones: Default::default(),
            };
            standing.beyond(FOUND, &mut beyond);
        }
    }
    beyond
}

/// An axle of these corners; what the springs load the wheels by only where it is asked for.
fn joined(
    solver: &AxleSolver,
    corners: &[CornerSolver; 2],
    pose: &AxlePose,
    found: [&Found; 2],
    wheel_load: bool,
) -> Option<AxleMotion<f64>> {
    let steer = if solver.steered() { pose.steer } else { 0.0 };
    let along_own = |side| {
        let i = place(side);
        corners[i].motion_along(&found[i].upright, &Input::new(pose.travel[i], steer), 1.0)
    };
    let rates = if wheel_load { solver.wheel_rates(along_own) } else { None };
    let mut wheels = Wheels { own: found.map(|found| found.motion), crossed: None };
    for (wheel, i) in wheels.own.iter_mut().zip(0..) {
        wheel.wheel_rate = rates.map(|rates: [_; 2]| rates[i]);
    }
    AxleMotion::new(solver.context, &wheels, steer, solver.reference, &solver.across).ok()
}

fn values(motion: &AxleMotion<f64>, chosen: &Chosen) -> SweepValues {
    let wheel = |side| chosen.wheel_values(motion.corner(side), motion.wheel(side));
    SweepValues { wheels: [wheel(Side::Left), wheel(Side::Right)], axle: chosen.axle_values(motion) }
}

impl AxleSolver {
    /// Readings along a list of poses. Each is followed from the last one that could be reached, or,
    /// where that fails, from the reference pose. Where only the travel or only the steering input
    /// changes from pose to pose, in small steps, the corners of the axle go the quick way.
    #[must_use]
    pub fn sweep(&self, poses: &[AxlePose]) -> Vec<SweepPoint> {
        let mut points = Vec::with_capacity(poses.len());
        let asked = Asked { chosen: Chosen::ALL, exceeded: false };
        self.swept(poses, asked, |point, _| points.push(point));
        points
    }

    /// The same, each pose handed over as it is solved, in the order of the list, with the stops and joint limits
    /// that it goes beyond, where it is reached. None but these readings are sure to be there: others may be absent.
    pub fn sweep_each(
        &self,
        poses: &[AxlePose],
        readings: &[&Reading],
        each: impl FnMut(SweepPoint, Vec<Exceeded>),
    ) {
        self.swept(poses, Asked { chosen: Chosen::of(readings), exceeded: true }, each);
    }

    fn swept(&self, poses: &[AxlePose], asked: Asked, each: impl FnMut(SweepPoint, Vec<Exceeded>)) {
        let mut sweep = Sweep { solver: self, asked, each, reached: None, last: None };
        let mut rest = poses;
        while !rest.is_empty() {
            let (ways, count) = first_run(rest);
            let (run, after) = rest.split_at(count);
            sweep.run(run, ways);
            rest = after;
        }
    }
}
