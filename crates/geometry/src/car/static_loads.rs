//! How the car's weight stands on its four tyres in the design pose, as scales show it.

use crate::car::Car;
use crate::car::position::End;

/// Gravity, metres per second squared (standard value).
pub const GRAVITY: f64 = 9.806_65;

/// What is known of how the weight is shared between left and right.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum StaticLoads {
    /// Nothing: each axle is taken to stand equally on both its wheels.
    #[default]
    Unknown,
    /// Shares of the whole weight, 0 to 1. An absent `left` counts as a half; without `cross` both axles
    /// have the same share of their weight on the left.
    Shares {
        /// On the left wheels.
        left: Option<f64>,
        /// On the right front and the left rear wheel together, as oval crews count it.
        cross: Option<f64>,
    },
    /// The load on each tyre, newtons, in the order of [`WheelPosition::ALL`](crate::WheelPosition::ALL).
    Weighed([f64; 4]),
}

impl StaticLoads {
    /// What has to be assumed where the loads are not fully known, as a sentence without its stop; `None`
    /// where nothing is.
    #[must_use]
    pub fn assumption(&self) -> Option<&'static str> {
        match self {
            StaticLoads::Unknown => {
                Some("the static loads are not given: each axle stands equally on its left and right wheel")
            }
            StaticLoads::Shares { left: Some(_), cross: Some(_) } | StaticLoads::Weighed(_) => None,
            StaticLoads::Shares { left: Some(_), cross: None } => Some(
                "the cross weight is not given: both axles have the same share of their weight on the left",
            ),
            StaticLoads::Shares { left: None, .. } => {
                Some("the left weight is not given: half of the weight stands on the left wheels")
            }
        }
    }
}

impl Car {
    /// Mass of the car, kilograms: what the weighed wheels add up to, or else the mass given.
    #[must_use]
    pub fn whole_mass(&self) -> Option<f64> {
        match self.static_loads {
            StaticLoads::Weighed(loads) => Some(loads.iter().sum::<f64>() / GRAVITY),
            StaticLoads::Unknown | StaticLoads::Shares { .. } => self.mass,
        }
    }

    /// Share of the weight on the front wheels, 0 to 1: by the weighed wheels, or else as given.
    #[must_use]
    pub fn front_share(&self) -> Option<f64> {
        match self.static_loads {
            StaticLoads::Weighed([fl, fr, rl, rr]) => Some((fl + fr) / (fl + fr + rl + rr)),
            StaticLoads::Unknown | StaticLoads::Shares { .. } => self.weight_share_front,
        }
    }

    /// Share of the weight on each tyre in the design pose, in the order of [`WheelPosition::ALL`](crate::WheelPosition::ALL); `None`
    /// where the front wheels' share is not known.
    ///
    /// By the four sums that scales give (all, front, left, cross). A share of more than one wheel's
    /// weight can leave a negative load on another: [`check`](crate::check) calls that a fault.
    #[must_use]
    pub fn load_shares(&self) -> Option<[f64; 4]> {
        let front = self.front_share()?;
        let (left, cross) = match self.static_loads {
            StaticLoads::Weighed(loads) => {
                let sum = loads.iter().sum::<f64>();
                return Some(loads.map(|load| load / sum));
            }
            StaticLoads::Unknown => (None, None),
            StaticLoads::Shares { left, cross } => (left, cross),
        };
        let left = left.unwrap_or(0.5);
        // Both axles alike: right front and left rear together.
        let cross = cross.unwrap_or(front * (1.0 - left) + (1.0 - front) * left);
        let front_left = 0.5 * (front + left - cross);
        let front_right = front - front_left;
        let rear_left = left - front_left;
        Some([front_left, front_right, rear_left, 1.0 - front - rear_left])
    }

    /// Load on each tyre in the design pose, newtons, in the order of [`WheelPosition::ALL`](crate::WheelPosition::ALL); `None` where mass
    /// or weight share is not known.
    #[must_use]
    pub fn static_wheel_loads(&self) -> Option<[f64; 4]> {
        if let StaticLoads::Weighed(loads) = self.static_loads {
            return Some(loads);
        }
        let weight = self.whole_mass()? * GRAVITY;
        Some(self.load_shares()?.map(|share| share * weight))
    }

    /// Load on the left and the right wheel of an axle in the design pose, newtons; `None` where mass or
    /// weight share is not known.
    #[must_use]
    pub fn wheel_loads(&self, end: End) -> Option<[f64; 2]> {
        let [fl, fr, rl, rr] = self.static_wheel_loads()?;
        Some(if end == End::Front { [fl, fr] } else { [rl, rr] })
    }

    /// Shares of the weight on the left wheels, and on the right front and left rear wheel together, 0 to
    /// 1; `None` where the front wheels' share is not known.
    #[must_use]
    pub fn left_and_cross_share(&self) -> Option<[f64; 2]> {
        let [fl, fr, rl, _] = self.load_shares()?;
        Some([fl + rl, fr + rl])
    }
}
