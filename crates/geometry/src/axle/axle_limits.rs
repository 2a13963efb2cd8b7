//! Where an axle goes no further.

use crate::axle::axle_solver::{AxleSolver, SolvedAxle, place};
use crate::axle::wheel_carrier::Carried;
use crate::car::position::{Side, WheelPosition};
use crate::corner::corner_solver::FURTHEST;
use crate::driven::driven_parts::CannotFollow;
use crate::mechanism::stop::{Stop, StopKind};

/// Longest stride of a pose before what reaches across the axle is looked at, metres and radians.
pub(crate) const STRIDE: f64 = 0.01;

/// How much of a stretch is done at a stop, 0 to 1; both its ends are travel and steering input.
pub(crate) fn done(stop: &Stop, from: [f64; 2], to: [f64; 2]) -> f64 {
    let [travel, steer] = [to[0] - from[0], to[1] - from[1]];
    let by_steer = steer.abs() > travel.abs();
    let share = if by_steer { (stop.steer - from[1]) / steer } else { (stop.travel - from[0]) / travel };
    // What is no number stops at once.
    if share.is_finite() { share } else { 0.0 }
}

impl AxleSolver {
    /// Where on the way to a pose what reaches across the axle reaches no further.
    pub(crate) fn furthest(
        &self,
        from: &SolvedAxle,
        travel: [f64; 2],
        steer: f64,
        cannot: CannotFollow,
    ) -> Stop {
        let before = [from.travel(Side::Left), from.travel(Side::Right)];
        let between = |a: f64, b: f64, share: f64| a + (b - a) * share;
        let at = |share: f64| {
            let travel = [0, 1].map(|i: usize| between(before[i], travel[i], share));
            (travel, between(from.steer(), steer, share))
        };
        let (mut holds, mut fails) = (0.0, 1.0);
        for _ in 0..50 {
            let middle = 0.5 * (holds + fails);
            let (travel, steer) = at(middle);
            let state = self.followed(from, travel, steer).ok().flatten();
            if state.is_some_and(|state| self.joined(state).is_ok()) {
                holds = middle;
            } else {
                fails = middle;
            }
        }
        let moved = |i: usize| (travel[i] - before[i]).abs();
        let side = if moved(1) > moved(0) { Side::Right } else { Side::Left };
        let (travel, steer) = at(holds);
        Stop::new(StopKind::OutOfReach, travel[place(side)], steer, vec![cannot.0.label()], 0.0)
            .at_wheel(WheelPosition { end: self.context.end, side })
            .steered_by(self.steer_input())
    }

    /// The stop of a linkage, or of what reaches across the axle where that comes first.
    pub(crate) fn across_before(&self, from: &SolvedAxle, travel: [f64; 2], steer: f64, stop: Stop) -> Stop {
        let side = stop.wheel.map_or(Side::Left, |at| at.side);
        let before = [from.travel(Side::Left), from.travel(Side::Right)];
        let i = place(side);
        // Just short of the stop the linkages still close.
        let share = done(&stop, [before[i], from.steer()], [travel[i], steer]) * (1.0 - 1e-6);
        let to = [0, 1].map(|i: usize| before[i] + (travel[i] - before[i]) * share);
        let steer = from.steer() + (steer - from.steer()) * share;
        match self.followed(from, to, steer) {
            Ok(Some(state)) => match self.joined(state) {
                Err(cannot) => self.furthest(from, to, steer, cannot),
                Ok(_) => stop,
            },
            _ => stop,
        }
    }

    /// The limits of one wheel's travel at a steering input, droop then bump: `None` where there is none
    /// within [`crate::FURTHEST`]. On a beam axle the other wheel stays at zero travel.
    ///
    /// # Errors
    /// The limit met on the way to that steering input.
    pub fn travel_limits(&self, side: Side, steer: f64) -> Result<[Option<Stop>; 2], Stop> {
        let at = |stop: Stop| {
            stop.at_wheel(WheelPosition { end: self.context.end, side }).steered_by(self.steer_input())
        };
        let limits = match &self.carried {
            Carried::Independent(corners) => corners[place(side)].travel_limits(steer).map_err(at)?,
            Carried::Beam(beam) => beam.travel_limits(side, steer).map_err(at)?,
        };
        let limits = limits.map(|limit| limit.map(at));
        if self.across.t_bar.is_none() {
            return Ok(limits);
        }
        let from = self.solve([0.0; 2], steer)?;
        let [droop, bump] = limits;
        Ok([(droop, -FURTHEST), (bump, FURTHEST)].map(|(limit, furthest)| {
            let travel = limit.as_ref().map_or(furthest, |stop| stop.travel);
            let to = if side == Side::Left { [travel, 0.0] } else { [0.0, travel] };
            match self.follow(&from, to, steer) {
                Err(stop) if stop.kind == StopKind::OutOfReach && stop.travel.abs() < travel.abs() => {
                    Some(stop)
                }
                _ => limit,
            }
        }))
    }

    /// The limits of the steering input at zero travel for one wheel, negative then positive; none where
    /// nothing steers it.
    #[must_use]
    pub fn steer_limits(&self, side: Side) -> [Option<Stop>; 2] {
        let at = |stop: Stop| {
            stop.at_wheel(WheelPosition { end: self.context.end, side }).steered_by(self.steer_input())
        };
        match &self.carried {
            Carried::Independent(corners) if corners[place(side)].steered() => {
                corners[place(side)].steer_limits().map(|limit| limit.map(at))
            }
            Carried::Independent(_) => [None, None],
            Carried::Beam(beam) => beam.steer_limits().map(|limit| limit.map(at)),
        }
    }
}
