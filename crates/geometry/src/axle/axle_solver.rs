//! One axle: two corners, each with its own linkage, or a beam that carries both wheels.

use crate::axle::axle_limits::{STRIDE, done};
use crate::axle::axle_motion::{AxleContext, AxleMotion, AxleReference};
use crate::axle::cross_axle::{CrossAxle, DEAD};
use crate::axle::rear_line::RearLine;
use crate::axle::stiffness::Springs;
use crate::axle::wheel_carrier::{AxleState, Carried, carried, start_state, wheels};
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::point_set::PointSet;
use crate::car::position::{End, Side, WheelPosition};
use crate::car::springing::BarKind;
use crate::car::steering::SteerInput;
use crate::car::{Axle, Car};
use crate::change::changed::Changed;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::corner_solver::{CornerSolver, SolvedCorner};
use crate::driven::driven_parts::CannotFollow;
use crate::linkage::design::path_of;
use crate::mechanism::Pose;
use crate::mechanism::stop::{Stop, StopKind};
use crate::number::real::Dual2OfDual;
use nalgebra::{Matrix3, Vector3};
use num_dual::Dual2_64;

/// An axle ready to solve.
#[derive(Clone, Debug)]
pub struct AxleSolver {
    pub(crate) context: AxleContext,
    pub(crate) reference: AxleReference<f64>,
    pub(crate) carried: Carried,
    pub(crate) across: CrossAxle<f64>,
    start: Box<SolvedAxle>,
    pub(crate) axle: Box<Axle>,
    /// Its springs, where they are known.
    pub(crate) springs: Option<Springs>,
}

/// An axle solved at one pose.
#[derive(Clone, Copy, Debug)]
pub struct SolvedAxle {
    pub(crate) state: AxleState,
    /// Both wheels on their ground.
    pub motion: AxleMotion<f64>,
}

impl SolvedAxle {
    /// Travel of that wheel, metres.
    #[must_use]
    pub fn travel(&self, side: Side) -> f64 {
        match &self.state {
            AxleState::Independent(corners) => corners[place(side)].travel(),
            AxleState::Beam(beam) => beam.input().travel[place(side)],
        }
    }

    /// Steering input: rack travel, metres, or turn of the pitman arm, radians.
    #[must_use]
    pub fn steer(&self) -> f64 {
        match &self.state {
            AxleState::Independent(corners) => corners[0].steer(),
            AxleState::Beam(beam) => beam.input().steer,
        }
    }

    /// Largest error of a link's length on that side, metres.
    #[must_use]
    pub fn residual(&self, side: Side) -> f64 {
        match &self.state {
            AxleState::Independent(corners) => corners[place(side)].residual(),
            AxleState::Beam(beam) => beam.residual(),
        }
    }

    /// Newton steps the last stretch took on that side.
    #[must_use]
    pub fn newton_steps(&self, side: Side) -> usize {
        match &self.state {
            AxleState::Independent(corners) => corners[place(side)].newton_steps(),
            AxleState::Beam(beam) => beam.newton_steps(),
        }
    }
}

pub(crate) fn place(side: Side) -> usize {
    usize::from(side == Side::Right)
}

impl AxleSolver {
    /// Makes one axle of a car ready.
    ///
    /// # Errors
    /// The first corner that cannot be made ready; a T-bar whose drop links do not reach.
    pub fn new(car: &Car, end: End) -> Result<Self, Stop> {
        let mut axle = car.axle(end).clone();
        if axle.bar_kind() == Some(BarKind::T) {
            // A drop link works one bar: points of the other kind say nothing.
            for side in Side::BOTH {
                axle.corner_mut(side).hardpoints.remove(Hardpoint::BarPivot);
                axle.corner_mut(side).hardpoints.remove(Hardpoint::BarAxis);
            }
        }
        let input = axle.steering.input();
        let carried = carried(&axle, end).map_err(|stop| stop.steered_by(input))?;
        let context = AxleContext::of(car, end);
        let state = start_state(&carried);
        let wheels = wheels(&carried, &state, &axle);
        let [left, right] = &wheels.own;
        let reference = AxleReference::of(left, right);
        let mut across = CrossAxle::of(&axle, &PointSet::of(&axle.hardpoints, &axle.lengths), [1.0; 2]);
        let stop = |kind| {
            let wheel = WheelPosition { end, side: Side::Left };
            Stop::new(kind, 0.0, 0.0, vec![Link::DropLink.label()], 0.0).at_wheel(wheel).steered_by(input)
        };
        if across.leverage(&axle).is_some_and(|leverage| leverage.is_nan() || leverage < DEAD) {
            return Err(stop(StopKind::DeadPoint));
        }
        let cannot = |_| stop(StopKind::CannotAssemble);
        across.count_bump_positive(&wheels).map_err(cannot)?;
        let motion = AxleMotion::new(context, &wheels, 0.0, reference, &across).map_err(cannot)?;
        let start = Box::new(SolvedAxle { state, motion });
        let axle = Box::new(axle);
        let mut solver = AxleSolver { context, reference, carried, across, start, axle, springs: None };
        solver.springs = solver.springs_under(car.wheel_loads(end).unwrap_or([0.0; 2]));
        Ok(solver)
    }

    /// The front axle of a car whose rear wheels have this line.
    pub(crate) fn ahead_of(mut self, line: RearLine) -> Self {
        self.context.rear_line = Some(line);
        self.start.motion.context.rear_line = Some(line);
        self
    }

    /// Whether it says the same as another one at every pose: made of the same axle, in as far as its
    /// readings need to know in the same car.
    #[must_use]
    pub fn says_the_same(&self, other: &AxleSolver) -> bool {
        self.context == other.context && self.springs == other.springs && self.axle == other.axle
    }

    /// The corner on that side; `None` on a beam axle, which is solved as a whole.
    #[must_use]
    pub fn corner(&self, side: Side) -> Option<&CornerSolver> {
        match &self.carried {
            Carried::Independent(corners) => Some(&corners[place(side)]),
            Carried::Beam(_) => None,
        }
    }

    /// Whether its wheels are steered.
    #[must_use]
    pub fn steered(&self) -> bool {
        match &self.carried {
            Carried::Independent(corners) => corners.iter().any(CornerSolver::steered),
            Carried::Beam(beam) => beam.steered(),
        }
    }

    /// What its steering input counts.
    #[must_use]
    pub fn steer_input(&self) -> SteerInput {
        self.axle.steering.input()
    }

    /// Front or rear.
    #[must_use]
    pub fn end(&self) -> End {
        self.context.end
    }

    /// Each wheel's motion per unit of the other wheel's travel; `None` where one wheel's travel does not
    /// move the other.
    pub(crate) fn crossed(&self, at: &SolvedAxle) -> Option<[CornerMotion<f64>; 2]> {
        match (&self.carried, &at.state) {
            (Carried::Beam(beam), AxleState::Beam(solved)) => beam.crossed(solved),
            _ => None,
        }
    }

    /// Both wheels' motion at a solved pose with first and second derivatives along a line on which the
    /// travels grow by `rates` per unit.
    pub(crate) fn motions_along(
        &self,
        at: &SolvedAxle,
        rates: [f64; 2],
    ) -> Option<[CornerMotion<Dual2_64>; 2]> {
        match (&self.carried, &at.state) {
            (Carried::Independent(corners), AxleState::Independent(solved)) => {
                let of = |i: usize| {
                    corners[i].motion_along(solved[i].upright(), &solved[i].traced.input, rates[i])
                };
                Some([of(0)?, of(1)?])
            }
            (Carried::Beam(beam), AxleState::Beam(solved)) => beam.motions_along(solved, rates),
            _ => None,
        }
    }

    /// The same with the derivative of everything to a number that is changed.
    pub(crate) fn motions_along_by(
        &self,
        at: &SolvedAxle,
        rates: [f64; 2],
        changed: &Changed,
    ) -> Option<[CornerMotion<Dual2OfDual>; 2]> {
        match (&self.carried, &at.state) {
            (Carried::Independent(corners), AxleState::Independent(solved)) => {
                let of = |side: Side| {
                    let i = place(side);
                    corners[i].motion_along_by(&solved[i], rates[i], changed.on(side))
                };
                Some([of(Side::Left)?, of(Side::Right)?])
            }
            (Carried::Beam(beam), AxleState::Beam(solved)) => beam.motions_along_by(solved, rates, changed),
            _ => None,
        }
    }

    pub(crate) fn joined(&self, state: AxleState) -> Result<SolvedAxle, CannotFollow> {
        let wheels = wheels(&self.carried, &state, &self.axle);
        let steer = match &state {
            AxleState::Independent(corners) => corners[0].steer(),
            AxleState::Beam(beam) => beam.input().steer,
        };
        let motion = AxleMotion::new(self.context, &wheels, steer, self.reference, &self.across)?;
        Ok(SolvedAxle { state, motion })
    }

    /// The axle at zero travel, straight ahead.
    #[must_use]
    pub fn start(&self) -> SolvedAxle {
        *self.start
    }

    /// Solves from the reference pose: steering first, then travel (left, right), metres.
    ///
    /// # Errors
    /// The limit met on the way.
    pub fn solve(&self, travel: [f64; 2], steer: f64) -> Result<SolvedAxle, Stop> {
        let state = match &self.carried {
            Carried::Independent(corners) => self
                .both(
                    |side| corners[place(side)].solve(travel[place(side)], steer),
                    |side, stop| {
                        let i = place(side);
                        if corners[i].steered() && (stop.steer - steer).abs() > 0.0 {
                            return done(stop, [0.0; 2], [0.0, steer]);
                        }
                        1.0 + done(stop, [0.0, steer], [travel[i], steer])
                    },
                )
                .map(AxleState::Independent),
            Carried::Beam(beam) => {
                beam.solve(travel, steer).map(AxleState::Beam).map_err(|stop| self.of_beam(stop))
            }
        };
        match state.map(|state| self.joined(state)) {
            Ok(Ok(solved)) => return Ok(solved),
            Err(stop) if !self.has_t_bar() => return Err(stop),
            // What reaches across may have come to its end first.
            _ => {}
        }
        let turned = self.follow(&self.start, [0.0; 2], steer)?;
        self.follow(&turned, travel, steer)
    }

    fn has_t_bar(&self) -> bool {
        self.axle.bar_kind() == Some(BarKind::T)
    }

    /// Follows in a straight line from a solved pose.
    ///
    /// # Errors
    /// The limit met on the way; a pose that another axle solved.
    pub fn follow(&self, from: &SolvedAxle, travel: [f64; 2], steer: f64) -> Result<SolvedAxle, Stop> {
        if !self.has_t_bar() {
            return self.stride(from, travel, steer);
        }
        // A great stride could pass over a stretch that a T-bar does not reach.
        let before = [from.travel(Side::Left), from.travel(Side::Right)];
        let far = (0..2).map(|i| (travel[i] - before[i]).abs()).fold((steer - from.steer()).abs(), f64::max);
        let count = (1..64).find(|count| f64::from(*count) * STRIDE >= far).unwrap_or(64);
        let mut here = *from;
        for i in 1..count {
            let share = f64::from(i) / f64::from(count);
            let part = |a: f64, b: f64| a + (b - a) * share;
            let to = [0, 1].map(|i: usize| part(before[i], travel[i]));
            here = self.stride(&here, to, part(from.steer(), steer))?;
        }
        self.stride(&here, travel, steer)
    }

    fn stride(&self, from: &SolvedAxle, travel: [f64; 2], steer: f64) -> Result<SolvedAxle, Stop> {
        match self.followed(from, travel, steer) {
            Ok(Some(state)) => {
                self.joined(state).map_err(|cannot| self.furthest(from, travel, steer, cannot))
            }
            Ok(None) => self.solve(travel, steer),
            Err(stop) => {
                Err(if self.has_t_bar() { self.across_before(from, travel, steer, stop) } else { stop })
            }
        }
    }

    /// The linkages followed; `None` from a pose that another axle solved.
    pub(crate) fn followed(
        &self,
        from: &SolvedAxle,
        travel: [f64; 2],
        steer: f64,
    ) -> Result<Option<AxleState>, Stop> {
        Ok(match (&self.carried, &from.state) {
            (Carried::Independent(corners), AxleState::Independent(from)) => {
                let follow = |side| {
                    let i = place(side);
                    corners[i].follow(&from[i], travel[i], steer)
                };
                Some(AxleState::Independent(self.both(follow, |side, stop| {
                    let (i, at) = (place(side), &from[place(side)]);
                    let to = if corners[i].steered() { steer } else { at.steer() };
                    done(stop, [at.travel(), at.steer()], [travel[i], to])
                })?))
            }
            (Carried::Beam(beam), AxleState::Beam(from)) => {
                beam.follow(from, travel, steer).map_err(|stop| self.of_beam(stop))?.map(AxleState::Beam)
            }
            _ => None,
        })
    }

    /// Both corners; of two that stop, the one that stops first, by how far each has come.
    fn both(
        &self,
        solve: impl Fn(Side) -> Result<SolvedCorner, Stop>,
        done: impl Fn(Side, &Stop) -> f64,
    ) -> Result<[SolvedCorner; 2], Stop> {
        let (side, stop) = match Side::BOTH.map(&solve) {
            [Ok(left), Ok(right)] => return Ok([left, right]),
            [Err(left), Err(right)] if done(Side::Right, &right) < done(Side::Left, &left) => {
                (Side::Right, right)
            }
            [Err(left), _] => (Side::Left, left),
            [_, Err(right)] => (Side::Right, right),
        };
        Err(stop.at_wheel(WheelPosition { end: self.context.end, side }).steered_by(self.steer_input()))
    }

    fn of_beam(&self, stop: Stop) -> Stop {
        stop.at_wheel(WheelPosition { end: self.context.end, side: Side::Left })
            .steered_by(self.steer_input())
    }

    /// Pose of the part that carries the wheel on that side: its origin is the wheel centre, its rotation
    /// counts from the design pose.
    #[must_use]
    pub fn upright(&self, at: &SolvedAxle, side: Side) -> Pose<f64> {
        match (&self.carried, &at.state) {
            (Carried::Beam(solver), AxleState::Beam(beam)) => solver.upright(beam, side),
            (_, AxleState::Independent(corners)) => *corners[place(side)].upright(),
            (_, AxleState::Beam(beam)) => *beam.body(),
        }
    }

    /// Rotation of a beam axle itself from its design pose; `None` on any other axle.
    #[must_use]
    pub fn axle_turn(&self, at: &SolvedAxle) -> Option<Matrix3<f64>> {
        match (&self.carried, &at.state) {
            (Carried::Beam(solver), AxleState::Beam(beam)) => Some(solver.axle_turn(beam)),
            _ => None,
        }
    }

    /// Where the points of one side stand, metres.
    #[must_use]
    pub fn points(&self, at: &SolvedAxle, side: Side) -> Vec<(Hardpoint, Vector3<f64>)> {
        let mut points = match (&self.carried, &at.state) {
            (Carried::Independent(corners), AxleState::Independent(solved)) => {
                corners[place(side)].points(&solved[place(side)])
            }
            (Carried::Beam(solver), AxleState::Beam(beam)) => solver.points(beam, side),
            _ => Vec::new(),
        };
        if self.across.t_bar.is_some() {
            self.place_on_t_bar(at, Hardpoint::DropLinkBar, &mut points);
        }
        points
    }

    /// Puts a point of the T-bar, which stands in its design place, to where the T-bar carries it.
    fn place_on_t_bar(
        &self,
        at: &SolvedAxle,
        hardpoint: Hardpoint,
        points: &mut [(Hardpoint, Vector3<f64>)],
    ) {
        if let Some((_, place)) = points.iter_mut().find(|(one, _)| *one == hardpoint) {
            *place = self.across.place(place, at.motion.t_bar.as_ref());
        }
    }

    /// Where the points of the axle as a whole stand, metres.
    #[must_use]
    pub fn own_points(&self, at: &SolvedAxle) -> Vec<(Hardpoint, Vector3<f64>)> {
        let mut points = match (&self.carried, &at.state) {
            (Carried::Beam(solver), AxleState::Beam(beam)) => solver.own_points(beam),
            _ => self.axle.hardpoints.iter().collect(),
        };
        self.place_on_t_bar(at, Hardpoint::TBarHead, &mut points);
        points
    }

    /// Where a point that the rack or the centre link of a steering box carries stands, metres, given in
    /// the design pose; `None` where the linkage of the box cannot go.
    #[must_use]
    pub fn steered_place(&self, at: &SolvedAxle, design: &Vector3<f64>) -> Option<Vector3<f64>> {
        self.steered_to(at.steer(), design)
    }

    /// The same at a steering input.
    pub(crate) fn steered_to(&self, steer: f64, design: &Vector3<f64>) -> Option<Vector3<f64>> {
        let (place, _) = path_of::<f64>(&self.axle.steering).place(design, steer);
        place.iter().all(|x| x.is_finite()).then_some(place)
    }

    /// The links a beam axle is held by: of the left side, of the right side, its own; empty on any other
    /// axle.
    #[must_use]
    pub fn beam_links(&self) -> [Vec<Link>; 3] {
        match &self.carried {
            Carried::Beam(beam) => beam.links(),
            Carried::Independent(_) => [Vec::new(), Vec::new(), Vec::new()],
        }
    }
}
