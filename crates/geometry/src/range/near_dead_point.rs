//! How near a pose is to a dead point, and what that does to its numbers.

use crate::axle::axle_solver::{AxleSolver, SolvedAxle};
use crate::axle::beam::worst_turn;
use crate::axle::wheel_carrier::{AxleState, Carried};
use crate::car::position::{Side, WheelPosition};
use crate::number::unit::{INCH, LengthUnit};
use std::fmt;

/// A link that holds the wheel by a shorter lever than this, metres, is said to.
const SHORT_LEVER: f64 = 0.010;
/// What a link's length can be trusted to, relative: rounding of a double, twice over.
const ROUNDING: f64 = 5e-16;

/// A pose at which some link hardly holds the wheel any more.
///
/// Nothing jumps there, but a small error of that link's length turns the wheel by a large angle: the
/// car's own tolerances, and at the very end the rounding of the computation.
#[derive(Clone, Debug, PartialEq)]
pub struct NearDeadPoint {
    /// Which wheel.
    pub wheel: WheelPosition,
    /// Turn of the part that carries the wheel, radians, for a metre of error in the length of the
    /// link that holds it worst.
    pub turn_per_metre: f64,
    /// The links that come into line.
    pub links: Vec<&'static str>,
}

impl NearDeadPoint {
    /// What rounding may have done to the angles of this pose, radians: far below a gauge's, but for
    /// the last micrometres before the dead point.
    #[must_use]
    pub fn rounding(&self) -> f64 {
        ROUNDING * self.turn_per_metre
    }
}

impl NearDeadPoint {
    /// The same in words, with a small length in this unit; `Display` has millimetres.
    #[must_use]
    pub fn in_words(&self, lengths: LengthUnit) -> String {
        let (small, metres) = match lengths {
            LengthUnit::Millimetre => ("a tenth of a millimetre", 1e-4),
            LengthUnit::Inch => ("a hundredth of an inch", 0.01 * INCH),
        };
        format!(
            "{}: near a dead point, coming into line: {}; {small} in one of them turns the wheel by {:.2}°",
            self.wheel,
            self.links.join("; "),
            self.turn_per_metre.to_degrees() * metres
        )
    }
}

impl fmt::Display for NearDeadPoint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.in_words(LengthUnit::Millimetre))
    }
}

impl AxleSolver {
    /// Turn of the part that carries a wheel, radians, for a metre of error in the length of the link
    /// that holds it worst: how soft the pose is. About 3 to 10 on a sound corner; it goes to infinity
    /// toward a dead point.
    #[must_use]
    pub fn turn_per_metre(&self, at: &SolvedAxle, side: Side) -> f64 {
        match (&self.carried, &at.state) {
            (_, AxleState::Independent(corners)) => {
                worst_turn(&corners[usize::from(side == Side::Right)].traced.closed, 5)
            }
            (Carried::Beam(solver), AxleState::Beam(beam)) => solver.worst_turn(beam),
            _ => f64::NAN,
        }
    }

    /// Whether a pose is near a dead point, where its numbers are soft.
    #[must_use]
    pub fn near_dead_point(&self, at: &SolvedAxle, side: Side) -> Option<NearDeadPoint> {
        let turn_per_metre = self.turn_per_metre(at, side);
        if turn_per_metre < 1.0 / SHORT_LEVER {
            return None;
        }
        let links = match (&self.carried, &at.state) {
            (Carried::Independent(corners), AxleState::Independent(solved)) => {
                let i = usize::from(side == Side::Right);
                corners[i].model.mechanism.in_line(&solved[i].traced.closed.factors)
            }
            (Carried::Beam(beam), AxleState::Beam(solved)) => beam.in_line(solved),
            _ => Vec::new(),
        };
        Some(NearDeadPoint { wheel: WheelPosition { end: self.end(), side }, turn_per_metre, links })
    }
}
