//! Where the body pitches about.

use super::stand::{RoadSolver, Standing};
use crate::car::TorqueReaction;
use crate::car::position::{End, Side};

/// Slope of the two lines against each other below which they count as parallel.
const CROSSING: f64 = 1e-9;

/// The crossing of the front and the rear side-view line, on the road's axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PitchCentre {
    /// Forward movement per rise of the point that each axle's line passes through, front and rear,
    /// mean of both sides.
    pub slopes: [f64; 2],
    /// How far ahead of the middle of the wheelbase the lines cross, metres; `None` where they are
    /// parallel.
    pub ahead: Option<f64>,
    /// Height of the crossing above the road, metres; `None` where the lines are parallel.
    pub height: Option<f64>,
    /// One over [`ahead`](Self::ahead), per metre: it passes smoothly through parallel lines. Not
    /// finite where the crossing is at the middle itself.
    pub ahead_inverse: f64,
    /// Mean of the heights at which the two lines pass the middle of the wheelbase, metres.
    pub height_at_middle: f64,
}

impl Standing {
    /// The pitch centre, each axle's longitudinal force taken at its contacts (`TorqueReaction::Upright`) or at
    /// its wheel centres (`TorqueReaction::Body`); front and rear.
    ///
    /// Each line passes through that point square to its velocity in side view, mean of both sides: as
    /// the roll centre, seen from the side (common practice, no source).
    #[must_use]
    pub fn pitch_centre(&self, reacted: [TorqueReaction; 2]) -> PitchCentre {
        let line = |end: End| {
            let axle = &self.solved.axle(end).motion;
            let reacted = reacted[usize::from(end == End::Rear)];
            let place = |side: Side| {
                self.ground.road_from_body(&match reacted {
                    TorqueReaction::Upright => axle.wheel(side).contact,
                    TorqueReaction::Body => axle.corner(side).wheel_centre,
                })
            };
            let middle = (place(Side::Left) + place(Side::Right)) * 0.5;
            [middle.x, middle.z, axle.pitch_slope(reacted)]
        };
        let ([xf, hf, sf], [xr, hr, sr]) = (line(End::Front), line(End::Rear));
        let half = 0.5 * (xf - xr);
        // Heights over the middle: h = h_axle - s (x - x_axle).
        let (front, rear) = (hf + sf * half, hr - sr * half);
        let crosses = (sf - sr).abs() > CROSSING;
        let ahead = (front - rear) / (sf - sr);
        let if_crosses = |value: f64| crosses.then_some(value);
        PitchCentre {
            slopes: [sf, sr],
            ahead: if_crosses(ahead),
            height: if_crosses(front - sf * ahead),
            ahead_inverse: (sf - sr) / (front - rear),
            height_at_middle: 0.5 * (front + rear),
        }
    }
}

impl RoadSolver<'_> {
    /// The pitch centre in braking: contacts where the brakes are outboard, wheel centres where they
    /// are inboard.
    #[must_use]
    pub fn pitch_centre_in_braking(&self, standing: &Standing) -> PitchCentre {
        standing.pitch_centre([self.car.front.brakes, self.car.rear.brakes])
    }
}
