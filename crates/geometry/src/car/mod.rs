//! What a car is: its points, wheels, links and adjusters in the design pose, in metres and radians,
//! vehicle axes (X forward, Y left, Z up).

mod alignment;
pub(crate) mod axis;
mod axle;
mod carrier;
pub(crate) mod column;
mod corner;
pub(crate) mod hardpoint;
mod hardpoints;
mod linkage_kind;
pub(crate) mod parameter;
pub(crate) mod part;
pub(crate) mod point_set;
pub(crate) mod position;
pub(crate) mod springing;
pub(crate) mod static_loads;
pub(crate) mod steering;
pub(crate) mod wheel;

pub use alignment::{Alignment, CamberBy, ToeBy};
pub use axle::{Axle, TorqueReaction};
pub use carrier::Component;
pub use corner::Corner;
pub use hardpoints::Hardpoints;
pub use linkage_kind::LinkageKind;

use position::{End, WheelPosition};
use static_loads::StaticLoads;

/// A car in its design pose: zero wheel travel, rack centred.
#[derive(Clone, Debug, PartialEq)]
pub struct Car {
    /// Its name.
    pub name: String,
    /// Distance between the axles, metres.
    pub wheelbase: f64,
    /// Height of the centre of gravity over the ground, metres.
    pub centre_of_gravity_height: Option<f64>,
    /// Share of the braking force at the front, 0 to 1.
    pub brake_share_front: Option<f64>,
    /// Mass, kilograms.
    pub mass: Option<f64>,
    /// Share of the weight on the front wheels, 0 to 1.
    pub weight_share_front: Option<f64>,
    /// How the weight stands on the four tyres in the design pose.
    pub static_loads: StaticLoads,
    /// The front axle.
    pub front: Axle,
    /// The rear axle.
    pub rear: Axle,
}

impl Car {
    /// Diameter of the front left tyre, metres: over it toe is said as a length where nobody says another.
    #[must_use]
    pub fn tyre_diameter(&self) -> f64 {
        2.0 * self.front.left.wheel.tyre_radius
    }

    /// A car of two axles of which nothing else is known.
    #[must_use]
    pub fn new(name: &str, wheelbase: f64, front: Axle, rear: Axle) -> Car {
        Car {
            name: name.to_owned(),
            wheelbase,
            centre_of_gravity_height: None,
            brake_share_front: None,
            mass: None,
            weight_share_front: None,
            static_loads: StaticLoads::Unknown,
            front,
            rear,
        }
    }

    /// The axle at that end.
    #[must_use]
    pub fn axle(&self, end: End) -> &Axle {
        match end {
            End::Front => &self.front,
            End::Rear => &self.rear,
        }
    }

    /// The axle at that end.
    pub fn axle_mut(&mut self, end: End) -> &mut Axle {
        match end {
            End::Front => &mut self.front,
            End::Rear => &mut self.rear,
        }
    }

    /// That corner.
    #[must_use]
    pub fn corner(&self, at: WheelPosition) -> &Corner {
        self.axle(at.end).corner(at.side)
    }

    /// That corner.
    pub fn corner_mut(&mut self, at: WheelPosition) -> &mut Corner {
        self.axle_mut(at.end).corner_mut(at.side)
    }
}
