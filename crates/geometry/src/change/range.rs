//! Between which values a parameter of a car must lie.

use crate::car::parameter::{Parameter, SteeringNumber, WheelNumber};
use crate::change::value::Value;
use crate::number::unit::{LengthUnit, Unit, fixed};

/// Further from the origin than this no point of a car stands, and nothing of it is as long, metres.
const FURTHEST: f64 = 50.0;
/// Angles that a file can state, radians.
const LARGEST_ANGLE: f64 = 170.0 * std::f64::consts::PI / 180.0;
/// Turns of a steering wheel for one of a pitman arm: far more than any steering box has.
const LARGEST_RATIO: f64 = 1000.0;

/// Stiffer than this no spring is, newtons per metre.
const LARGEST_RATE: f64 = 1e9;
/// Stiffer than this no bar is, newton metres per degree of twist.
const LARGEST_TORSION_RATE: f64 = 1e6;

/// The values that a parameter can have: those that a car's file can state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ParameterRange {
    /// The least value: metres, radians or plain; of a place, of each coordinate.
    pub least: f64,
    /// The largest value.
    pub most: f64,
    /// Whether it can be 0.
    pub takes_zero: bool,
    unit: Unit,
    is_place: bool,
}

impl Parameter {
    /// The values that it can have.
    #[must_use]
    pub fn range(self) -> ParameterRange {
        let unit = self.unit();
        let largest = match unit {
            Unit::Degree => LARGEST_ANGLE,
            Unit::Length => FURTHEST,
            Unit::SpringRate => LARGEST_RATE,
            Unit::TorsionRate => LARGEST_TORSION_RATE.to_degrees(),
            _ => LARGEST_RATIO,
        };
        let (least, takes_zero) = match self {
            Parameter::Point(_)
            | Parameter::WheelCentre
            | Parameter::Wheel(WheelNumber::Camber | WheelNumber::Toe) => (-largest, true),
            Parameter::Steering(SteeringNumber::TravelPerTurn | SteeringNumber::Ratio) => (-largest, false),
            Parameter::Wheel(WheelNumber::TyreShoulderRadius)
            | Parameter::Steering(
                SteeringNumber::StopLeft
                | SteeringNumber::StopRight
                | SteeringNumber::StopLeftAngle
                | SteeringNumber::StopRightAngle,
            ) => (0.0, true),
            Parameter::Length(_)
            | Parameter::Spring(_)
            | Parameter::Wheel(WheelNumber::TyreRadius | WheelNumber::TyreWidth | WheelNumber::RimRadius) => {
                (0.0, false)
            }
        };
        ParameterRange { least, most: largest, takes_zero, unit, is_place: self.is_place() }
    }
}

impl ParameterRange {
    /// Whether a number lies in it; one that is not finite does not.
    #[must_use]
    pub fn holds(&self, number: f64) -> bool {
        (self.least..=self.most).contains(&number) && (self.takes_zero || number != 0.0)
    }

    /// Why a value is not one that the parameter can have, in words to stand behind its name: "must lie between 0 and
    /// 50 m"; `None` where it can be.
    #[must_use]
    pub fn refusal(&self, value: Value, lengths: LengthUnit) -> Option<String> {
        let is_held = match value {
            Value::Place(at) => at.iter().all(|coordinate| self.holds(*coordinate)),
            Value::Number(number) => self.holds(number),
            Value::FromPoints => true,
        };
        (!is_held).then(|| self.in_words(lengths))
    }

    fn in_words(&self, lengths: LengthUnit) -> String {
        let unit = if self.unit == Unit::Length { Unit::Metre } else { self.unit };
        let number = |value: f64| fixed(unit.shown(value, lengths), 0);
        let most = unit.with_symbol(number(self.most), lengths);
        let what = if self.is_place { "each coordinate must" } else { "must" };
        let not = if self.takes_zero || self.least == 0.0 { "" } else { ", and not be 0" };
        format!("{what} lie between {} and {most}{not}", number(self.least))
    }
}
