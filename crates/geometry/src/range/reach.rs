//! How far an axle can be moved, and what ends each motion.

use crate::axle::axle_pose::{AxlePose, Travelling};
use crate::axle::axle_solver::{AxleSolver, SolvedAxle};
use crate::car::position::Side;
use crate::car::steering::SteerInput;
use crate::corner::corner_solver::FURTHEST;
use crate::mechanism::stop::Stop;
use crate::range::exceeded::{Exceeded, exceeded_on};
use std::f64::consts::PI;
use std::fmt;

/// Step of the search, metres or radians.
const STEP: f64 = 0.004;
/// An end is found to within this, metres or radians.
pub(crate) const FOUND: f64 = 1e-9;

/// What ends a motion.
#[derive(Clone, Debug, PartialEq)]
pub enum EndedBy {
    /// The linkage itself: links in line, or a rod that cannot reach.
    Linkage(Stop),
    /// A stop of the rack or a damper, or a joint that swings no further.
    Stop(Exceeded),
    /// Nothing within the range looked at.
    Nothing,
}

/// One end of a motion.
#[derive(Clone, Debug, PartialEq)]
pub struct ReachEnd {
    /// Where it is: travel, metres, or steering input, metres or radians.
    pub at: f64,
    /// What it is.
    pub by: EndedBy,
}

impl fmt::Display for EndedBy {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            EndedBy::Linkage(stop) if stop.links.is_empty() => f.write_str("the links"),
            EndedBy::Linkage(stop) => f.write_str(&stop.links.join("; ")),
            EndedBy::Stop(exceeded) => f.write_str(&exceeded.part()),
            EndedBy::Nothing => f.write_str("nothing"),
        }
    }
}

impl AxleSolver {
    /// The stops and joint limits that a solved pose goes beyond.
    #[must_use]
    pub fn exceeded(&self, at: &SolvedAxle) -> Vec<Exceeded> {
        let dampers = [at.motion.left.damper, at.motion.right.damper].map(|damper| damper.map(|d| d.value));
        let mut found = exceeded_on(&self.axle, self.end(), at.steer(), dampers);
        if self.has_joint_limits() {
            Side::BOTH.iter().for_each(|&side| self.standing(at, side).beyond(FOUND, &mut found));
        }
        found
    }

    /// Whether a joint of it can go only so far.
    pub(crate) fn has_joint_limits(&self) -> bool {
        Side::BOTH.iter().any(|side| !self.axle.corner(*side).joint_limits.is_empty())
    }

    /// How far the wheels travel from zero at a steering input, droop (of the left wheel) then bump, and
    /// what ends it, within [`FURTHEST`].
    ///
    /// # Errors
    /// The limit met on the way to that steering input.
    pub fn travel_reach(&self, travelling: Travelling, steer: f64) -> Result<[ReachEnd; 2], Stop> {
        let start = self.solve([0.0; 2], steer)?;
        let pose = |travel: f64| AxlePose { travel: travelling.travels(travel), steer };
        Ok([-1.0, 1.0].map(|way| self.reach(&start, way, FURTHEST, pose)))
    }

    /// How far the steering goes from straight ahead at these travels, negative then positive input, and
    /// what ends it.
    ///
    /// # Errors
    /// The limit met on the way to those travels.
    pub fn steer_reach(&self, travel: [f64; 2]) -> Result<[ReachEnd; 2], Stop> {
        let start = self.solve(travel, 0.0)?;
        let furthest = match self.steer_input() {
            SteerInput::RackTravel => FURTHEST,
            SteerInput::PitmanAngle => PI,
        };
        Ok([-1.0, 1.0].map(|way| self.reach(&start, way, furthest, |steer| AxlePose { travel, steer })))
    }

    fn reach(&self, start: &SolvedAxle, way: f64, furthest: f64, pose: impl Fn(f64) -> AxlePose) -> ReachEnd {
        let mut here = *start;
        let to = |from: &SolvedAxle, along: f64| -> Result<SolvedAxle, EndedBy> {
            let pose = pose(way * along);
            let solved = self.follow(from, pose.travel, pose.steer).map_err(EndedBy::Linkage)?;
            match self.exceeded(&solved).into_iter().next() {
                Some(exceeded) => Err(EndedBy::Stop(exceeded)),
                None => Ok(solved),
            }
        };
        let (mut good, mut bad) = (0.0_f64, None);
        while good < furthest && bad.is_none() {
            let next = (good + STEP).min(furthest);
            match to(&here, next) {
                Ok(solved) => {
                    good = next;
                    here = solved;
                }
                Err(by) => bad = Some((next, by)),
            }
        }
        let Some((mut beyond, mut by)) = bad else {
            return ReachEnd { at: way * good, by: EndedBy::Nothing };
        };
        while beyond - good > FOUND {
            let middle = 0.5 * (good + beyond);
            match to(&here, middle) {
                Ok(solved) => {
                    good = middle;
                    here = solved;
                }
                Err(ended) => {
                    beyond = middle;
                    by = ended;
                }
            }
        }
        ReachEnd { at: way * good, by }
    }
}
