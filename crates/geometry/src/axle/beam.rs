//! A beam axle of either kind, ready to solve: one body, or an axle with a knuckle for each wheel.

use crate::axle::beam_solver::{BeamSolver, SolvedBeam};
use crate::axle::cross_axle::Wheels;
use crate::car::Axle;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::position::Side;
use crate::change::changed::Changed;
use crate::corner::corner_motion::CornerMotion;
use crate::mechanism::stop::Stop;
use crate::mechanism::{Closed, Input, Pose};
use crate::number::real::Dual2OfDual;
use nalgebra::{Matrix3, Vector3};
use num_dual::{Dual2_64, Dual64};

/// A beam axle ready to solve.
#[derive(Clone, Debug)]
pub(crate) enum BeamAxle {
    /// One body carries both wheels.
    Rigid(Box<BeamSolver<1, 6>>),
    /// Each wheel stands on a knuckle.
    WithKnuckles(Box<BeamSolver<3, 18>>),
}

/// A beam axle at one pose.
#[derive(Clone, Copy, Debug)]
#[expect(clippy::large_enum_variant, reason = "states are copied about, not kept in bulk")]
pub(crate) enum SolvedBeamAxle {
    Rigid(SolvedBeam<1, 6>),
    WithKnuckles(SolvedBeam<3, 18>),
}

/// Asks the solver of a beam axle, whichever it is.
macro_rules! ask {
    ($axle:expr, $solver:ident => $answer:expr) => {
        match $axle {
            BeamAxle::Rigid($solver) => $answer,
            BeamAxle::WithKnuckles($solver) => $answer,
        }
    };
}

/// Asks the solver of a beam axle about a pose that it solved; the other answer where another axle solved it.
macro_rules! ask_at {
    ($axle:expr, $at:expr, $solver:ident, $solved:ident => $answer:expr, otherwise $other:expr) => {
        match ($axle, $at) {
            (BeamAxle::Rigid($solver), SolvedBeamAxle::Rigid($solved)) => $answer,
            (BeamAxle::WithKnuckles($solver), SolvedBeamAxle::WithKnuckles($solved)) => $answer,
            _ => $other,
        }
    };
}

/// Asks about a solved pose itself.
macro_rules! ask_pose {
    ($at:expr, $solved:ident => $answer:expr) => {
        match $at {
            SolvedBeamAxle::Rigid($solved) => $answer,
            SolvedBeamAxle::WithKnuckles($solved) => $answer,
        }
    };
}

/// Turn for a metre of error in the worst of the first `rows` equations. Not-a-number counts as all.
pub(crate) fn worst_turn<const B: usize, const N: usize>(closed: &Closed<f64, B, N>, rows: usize) -> f64 {
    (0..rows)
        .map(|row| closed.turn_by_row(row))
        .fold(0.0, |most, here| if here <= most { most } else { here })
}

impl SolvedBeamAxle {
    /// Travels and steering input.
    pub fn input(&self) -> &Input<f64> {
        ask_pose!(self, solved => &solved.traced.input)
    }

    /// Largest residual left, metres.
    pub fn residual(&self) -> f64 {
        ask_pose!(self, solved => solved.traced.closed.residual)
    }

    /// Newton steps the last stretch took.
    pub fn newton_steps(&self) -> usize {
        ask_pose!(self, solved => solved.traced.closed.steps)
    }

    /// Both wheels.
    pub fn motions(&self) -> &[CornerMotion<f64>; 2] {
        ask_pose!(self, solved => &solved.motions)
    }

    /// The pose of the axle itself.
    pub fn body(&self) -> &Pose<f64> {
        ask_pose!(self, solved => &solved.traced.closed.bodies[0])
    }
}

impl BeamAxle {
    /// Makes an axle ready: closes it in its design pose.
    pub fn new(axle: &Axle) -> Result<Self, Stop> {
        Ok(if axle.left.linkage.spec().has_track_rod {
            BeamAxle::WithKnuckles(Box::new(BeamSolver::new(axle)?))
        } else {
            BeamAxle::Rigid(Box::new(BeamSolver::new(axle)?))
        })
    }

    /// The axle at zero travel, straight ahead.
    pub fn start(&self) -> SolvedBeamAxle {
        match self {
            BeamAxle::Rigid(solver) => SolvedBeamAxle::Rigid(*solver.start()),
            BeamAxle::WithKnuckles(solver) => SolvedBeamAxle::WithKnuckles(*solver.start()),
        }
    }

    /// Whether the steering steers it.
    pub fn steered(&self) -> bool {
        ask!(self, solver => solver.steered())
    }

    /// The links that set the toe of the left and of the right wheel; `None` where none do.
    pub fn toe_links(&self) -> Option<[Link; 2]> {
        ask!(self, solver => solver.toe_links())
    }

    /// By how much the links that set its toe are longer than the axle says, metres.
    pub fn adjusted(&self) -> &[(Link, f64)] {
        ask!(self, solver => solver.adjusted())
    }

    /// Both wheels' motion per unit of the other wheel's travel, their own held.
    pub fn crossed(&self, at: &SolvedBeamAxle) -> Option<[CornerMotion<f64>; 2]> {
        ask_at!(self, at, solver, solved => solver.crossed(solved), otherwise None)
    }

    /// Solves at both travels, metres, and a steering input, coming from the reference pose.
    pub fn solve(&self, travel: [f64; 2], steer: f64) -> Result<SolvedBeamAxle, Stop> {
        Ok(match self {
            BeamAxle::Rigid(solver) => SolvedBeamAxle::Rigid(solver.solve(travel, steer)?),
            BeamAxle::WithKnuckles(solver) => SolvedBeamAxle::WithKnuckles(solver.solve(travel, steer)?),
        })
    }

    /// Follows the axle in a straight line; `None` from a pose that another axle solved.
    pub fn follow(
        &self,
        from: &SolvedBeamAxle,
        travel: [f64; 2],
        steer: f64,
    ) -> Result<Option<SolvedBeamAxle>, Stop> {
        Ok(match (self, from) {
            (BeamAxle::Rigid(solver), SolvedBeamAxle::Rigid(from)) => {
                Some(SolvedBeamAxle::Rigid(solver.follow(from, travel, steer)?))
            }
            (BeamAxle::WithKnuckles(solver), SolvedBeamAxle::WithKnuckles(from)) => {
                Some(SolvedBeamAxle::WithKnuckles(solver.follow(from, travel, steer)?))
            }
            _ => None,
        })
    }

    /// The limits of one wheel's travel at a steering input with the other at zero, droop then bump.
    ///
    /// # Errors
    /// The limit met on the way to that steering input.
    pub fn travel_limits(&self, side: Side, steer: f64) -> Result<[Option<Stop>; 2], Stop> {
        ask!(self, solver => solver.travel_limits(side, steer))
    }

    /// The limits of the steering input at zero travel, negative then positive; none where nothing steers.
    pub fn steer_limits(&self) -> [Option<Stop>; 2] {
        ask!(self, solver => solver.steer_limits())
    }

    /// The pose of the body that carries the wheel on that side, its origin at the wheel centre.
    pub fn upright(&self, at: &SolvedBeamAxle, side: Side) -> Pose<f64> {
        ask_at!(self, at, solver, solved => solver.upright(solved, side), otherwise *at.body())
    }

    /// Rotation of the axle itself from the design pose.
    pub fn axle_turn(&self, at: &SolvedBeamAxle) -> Matrix3<f64> {
        at.body().car_from_body
    }

    /// Where the points of one side stand, metres.
    pub fn points(&self, at: &SolvedBeamAxle, side: Side) -> Vec<(Hardpoint, Vector3<f64>)> {
        ask_at!(self, at, solver, solved => solver.points(solved, side), otherwise Vec::new())
    }

    /// Where the axle's own points stand, metres.
    pub fn own_points(&self, at: &SolvedBeamAxle) -> Vec<(Hardpoint, Vector3<f64>)> {
        ask_at!(self, at, solver, solved => solver.own_points(solved), otherwise Vec::new())
    }

    /// The links that come into line where the axle is near a dead point.
    pub fn in_line(&self, at: &SolvedBeamAxle) -> Vec<&'static str> {
        ask_at!(self, at, solver, solved => solver.in_line(solved), otherwise Vec::new())
    }

    /// Turn of the fastest body for a metre of error in the worst of its links.
    pub fn worst_turn(&self, at: &SolvedBeamAxle) -> f64 {
        ask_at!(self, at, solver, solved => worst_turn(&solved.traced.closed, solver.rods()), otherwise f64::NAN)
    }

    /// The links that hold and steer the axle: of the left side, of the right side, its own.
    pub fn links(&self) -> [Vec<Link>; 3] {
        ask!(self, solver => solver.links())
    }

    /// Both wheels' motion at a solved pose with first and second derivatives along a line on which the travels grow by
    /// `rates` per unit.
    pub fn motions_along(&self, at: &SolvedBeamAxle, rates: [f64; 2]) -> Option<[CornerMotion<Dual2_64>; 2]> {
        ask_at!(self, at, solver, solved => solver.motions_along(solved, rates), otherwise None)
    }

    /// The same with the derivative of everything to a number that is changed.
    pub fn motions_along_by(
        &self,
        at: &SolvedBeamAxle,
        rates: [f64; 2],
        changed: &Changed,
    ) -> Option<[CornerMotion<Dual2OfDual>; 2]> {
        ask_at!(self, at, solver, solved => solver.motions_along_by(solved, rates, changed), otherwise None)
    }

    /// Both wheels, in the reference pose and at a solved one, with their derivative to one number; if asked, by each
    /// other's travel too.
    pub fn motions_by(
        &self,
        at: &SolvedBeamAxle,
        changed: &Changed,
        crossed: bool,
    ) -> Option<[Wheels<Dual64>; 2]> {
        ask_at!(self, at, solver, solved => solver.motions_by(solved, changed, crossed), otherwise None)
    }
}
