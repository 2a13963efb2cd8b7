//! Readings of an axle along a path of poses.

use crate::axle::axle_motion::AxleMotion;
use crate::axle::axle_solver::{AxleSolver, SolvedAxle, place};
use crate::axle::cross_axle::Wheels;
use crate::axle::wheel_carrier::Carried;
use crate::car::position::Side;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::corner_solver::CornerSolver;
use crate::mechanism::{Input, Pose};
use crate::readings::{axle_values, wheel_values};
use crate::sweep::corner_sweep::FEW;
use crate::sweep::sweep_direction::SweepDirection;
use crate::sweep::{AxlePose, SweepPoint, SweepValues};

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

/// A corner at a pose of the quick way.
#[derive(Clone, Copy)]
struct Found {
    upright: Pose<f64>,
    motion: CornerMotion<f64>,
}

/// A sweep in progress.
struct Sweep<'a> {
    solver: &'a AxleSolver,
    points: Vec<SweepPoint>,
    /// The axle at the last point, where it came there in the guarded way.
    last: Option<SolvedAxle>,
}

impl Sweep<'_> {
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
            let reached = self.points.last().filter(|point| point.result.is_ok())?.pose;
            solver.solve(reached.travel, reached.steer).ok()
        });
        let followed = last.and_then(|last| solver.follow(&last, pose.travel, pose.steer).ok());
        let solved = followed.map_or_else(|| solver.solve(pose.travel, pose.steer), Ok);
        self.last = solved.as_ref().ok().copied();
        let result = solved.map(|axle| values(&solver.rated(&axle).motion));
        self.points.push(SweepPoint { pose, result });
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
            match joined(solver, corners, &pose, [left, &Found { upright, motion }]) {
                Some(axle) if i == swept => {
                    self.points.push(SweepPoint { pose, result: Ok(values(&axle)) });
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

/// An axle of these corners.
fn joined(
    solver: &AxleSolver,
    corners: &[CornerSolver; 2],
    pose: &AxlePose,
    found: [&Found; 2],
) -> Option<AxleMotion<f64>> {
    let steer = if solver.steered() { pose.steer } else { 0.0 };
    let rates = solver.wheel_rates(|side| {
        let i = place(side);
        corners[i].motion_along(&found[i].upright, &Input::new(pose.travel[i], steer), 1.0)
    });
    let mut wheels = Wheels { own: found.map(|found| found.motion), crossed: None };
    for (wheel, i) in wheels.own.iter_mut().zip(0..) {
        wheel.wheel_rate = rates.map(|rates: [_; 2]| rates[i]);
    }
    AxleMotion::new(solver.context, &wheels, steer, solver.reference, &solver.across).ok()
}

fn values(motion: &AxleMotion<f64>) -> SweepValues {
    let wheel = |side| wheel_values(motion.corner(side), motion.wheel(side));
    SweepValues { wheels: [wheel(Side::Left), wheel(Side::Right)], axle: axle_values(motion) }
}

impl AxleSolver {
    /// Readings along a list of poses. Each is followed from the last one that could be reached, or,
    /// where that fails, from the reference pose. Where only the travel or only the steering input
    /// changes from pose to pose, in small steps, the corners of the axle go the quick way.
    #[must_use]
    pub fn sweep(&self, poses: &[AxlePose]) -> Vec<SweepPoint> {
        let mut sweep = Sweep { solver: self, points: Vec::with_capacity(poses.len()), last: None };
        let mut rest = poses;
        while !rest.is_empty() {
            let (ways, count) = first_run(rest);
            let (run, after) = rest.split_at(count);
            sweep.run(run, ways);
            rest = after;
        }
        sweep.points
    }
}
