//! How the front axle's steering input is named and counted on the screen.

use wheelpath_geometry::{Car, LengthUnit, SteerInput, Unit};

/// Words and unit of a steering input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteerWords {
    /// The part that the input moves.
    pub part: &'static str,
    /// The same in one word, for the start of an axis.
    pub axis: &'static str,
    /// What its movement is counted in.
    pub unit: Unit,
    /// Unit and part, short, for a button.
    pub short: &'static str,
    /// What is typed, with its unit and sign.
    pub field: &'static str,
    /// Which way the part goes where the input is positive.
    pub positive: &'static str,
    /// +1 where a positive input is a left turn of the steering wheel, or −1.
    pub left_turn: f64,
}

impl SteerWords {
    /// Those of a car that is counted in these lengths.
    #[must_use]
    pub fn of(car: &Car, lengths: LengthUnit) -> Self {
        let [short, field] = match lengths {
            LengthUnit::Millimetre => ["mm rack", "Rack in mm, + left"],
            LengthUnit::Inch => ["in rack", "Rack in in, + left"],
        };
        let steering = &car.front.steering;
        let left_turn = if steering.shaft_at(1.0) < 0.0 { -1.0 } else { 1.0 };
        match steering.input() {
            SteerInput::RackTravel => SteerWords {
                part: "rack",
                axis: "rack",
                unit: Unit::Length,
                short,
                field,
                positive: "left",
                left_turn,
            },
            SteerInput::PitmanAngle => SteerWords {
                part: "pitman arm",
                axis: "pitman",
                unit: Unit::Degree,
                short: "° pitman",
                field: "Pitman arm in degrees, + against the clock from above",
                positive: if left_turn > 0.0 { "left turn" } else { "right turn" },
                left_turn,
            },
        }
    }
}
