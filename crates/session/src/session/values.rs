//! All readings of a car at one pose.

use wheelpath_geometry::{AxleValues, End, Reading, Scope, Side, SolvedCar, WheelPosition, WheelValues};

/// Values of every reading of four wheels and two axles, SI units and radians.
#[derive(Clone, Debug)]
pub struct Values {
    wheels: [WheelValues; 4],
    axles: [AxleValues; 2],
}

impl Values {
    /// Takes all readings of a solved car.
    #[must_use]
    pub fn of(solved: &SolvedCar) -> Self {
        Values {
            wheels: WheelPosition::ALL.map(|at| solved.axle(at.end).wheel_values(at.side)),
            axles: End::BOTH.map(|end| solved.axle(end).axle_values()),
        }
    }

    /// A reading of a wheel; `None` where there is none here.
    #[must_use]
    pub fn wheel(&self, at: WheelPosition, reading: &Reading) -> Option<f64> {
        self.wheels[at.index()].get(reading)
    }

    /// A reading of an axle as a person is told it; `None` where there is none here.
    #[must_use]
    pub fn axle(&self, end: End, reading: &Reading) -> Option<f64> {
        self.axles[usize::from(end == End::Rear)].told(reading).ok()
    }

    /// A reading of either scope; the side counts for nothing where it is the axle's.
    #[must_use]
    pub fn get(&self, end: End, side: Side, reading: &Reading) -> Option<f64> {
        match reading.scope {
            Scope::Wheel => self.wheel(WheelPosition { end, side }, reading),
            Scope::Axle => self.axle(end, reading),
        }
    }
}
