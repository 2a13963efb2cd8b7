//! Where each parameter of a car is kept, and what it says.

use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::parameter::{Parameter, SpringNumber, SteeringNumber, WheelNumber};
use crate::car::position::Side;
use crate::car::springing::Spring;
use crate::car::steering::Steering;
use crate::car::{Axle, Car};
use crate::change::assembly::Assembly;
use crate::change::value::Value;
use crate::number::unit::Unit;

impl SteeringNumber {
    fn place(self, steering: &mut Steering) -> Option<&mut f64> {
        match (self, steering) {
            (SteeringNumber::TravelPerTurn, Steering::Rack(rack)) => Some(&mut rack.travel_per_turn),
            (SteeringNumber::StopLeft, Steering::Rack(rack)) => Some(&mut rack.stop_left),
            (SteeringNumber::StopRight, Steering::Rack(rack)) => Some(&mut rack.stop_right),
            (SteeringNumber::Ratio, Steering::Box(one)) => Some(&mut one.ratio),
            (SteeringNumber::StopLeftAngle, Steering::Box(one)) => Some(&mut one.stop_left),
            (SteeringNumber::StopRightAngle, Steering::Box(one)) => Some(&mut one.stop_right),
            _ => None,
        }
    }
}

impl SpringNumber {
    /// Its rate on an axle, or on the corner of that side, where it is there and has one.
    fn place(self, axle: &mut Axle, side: Option<Side>) -> Option<&mut f64> {
        match (self, side) {
            (number, Some(side)) => match (number, axle.corner_mut(side).spring.as_mut()?) {
                (SpringNumber::SpringRate, Spring::OnDamper { rate } | Spring::Separate { rate, .. })
                | (SpringNumber::TorsionBarRate, Spring::TorsionBar { rate }) => Some(rate),
                _ => None,
            },
            (SpringNumber::BarRate, None) => axle.anti_roll_bar.as_mut()?.rate.as_mut(),
            (SpringNumber::ThirdSpringRate, None) => axle.third_spring.as_mut()?.rate.as_mut(),
            _ => None,
        }
    }

    /// Its rate, newtons per metre or newton metres per radian.
    fn rate(self, axle: &Axle, side: Option<Side>) -> Option<f64> {
        match (self, side) {
            (number, Some(side)) => match (number, axle.corner(side).spring?) {
                (SpringNumber::SpringRate, Spring::OnDamper { rate } | Spring::Separate { rate, .. })
                | (SpringNumber::TorsionBarRate, Spring::TorsionBar { rate }) => Some(rate),
                _ => None,
            },
            (SpringNumber::BarRate, None) => axle.anti_roll_bar?.rate,
            (SpringNumber::ThirdSpringRate, None) => axle.third_spring?.rate,
            _ => None,
        }
    }
}

impl Parameter {
    /// Everything that an assembly may have; absent things have no [`value`](Self::value).
    pub fn all(assembly: Assembly) -> Vec<Parameter> {
        let of_axle = assembly.side().is_none();
        let points =
            Hardpoint::ALL.iter().filter(|p| p.is_of_axle() == of_axle).map(|&p| Parameter::Point(p));
        let links = Link::ALL.iter().filter(|l| l.is_of_axle() == of_axle).map(|&l| Parameter::Length(l));
        let mut all: Vec<Parameter> = points.chain(links).collect();
        if of_axle {
            all.extend(SteeringNumber::ALL.map(Parameter::Steering));
        } else {
            all.push(Parameter::WheelCentre);
            all.extend(WheelNumber::ALL.map(Parameter::Wheel));
        }
        all.extend(
            SpringNumber::ALL.into_iter().filter(|one| one.is_of_axle() == of_axle).map(Parameter::Spring),
        );
        all
    }

    /// What it is on that car; `None` where the assembly has no such thing.
    #[must_use]
    pub fn value(self, car: &Car, assembly: Assembly) -> Option<Value> {
        let side = assembly.side();
        match self {
            Parameter::Point(hardpoint) => assembly.point(car, hardpoint).map(Value::Place),
            Parameter::WheelCentre => Some(Value::Place(car.axle(assembly.end()).corner(side?).wheel.centre)),
            Parameter::Length(link) => {
                assembly.between_ends(car, link)?;
                let given = assembly.lengths(car).iter().find(|(one, _)| *one == link);
                Some(given.map_or(Value::FromPoints, |&(_, length)| Value::Number(length)))
            }
            Parameter::Wheel(number) => {
                let side = side?;
                Some(Value::Number(number.of(car.axle(assembly.end()).corner(side), side)))
            }
            Parameter::Steering(number) if side.is_none() => {
                let mut steering = car.axle(assembly.end()).steering;
                number.place(&mut steering).map(|value| Value::Number(*value))
            }
            Parameter::Steering(_) => None,
            Parameter::Spring(of) => of.rate(car.axle(assembly.end()), side).map(Value::Number),
        }
    }

    /// Sets it; false where the assembly has no such thing, or the value is none it could have.
    pub fn set(self, car: &mut Car, assembly: Assembly, to: Value) -> bool {
        if self.value(car, assembly).is_none() || !to.is_finite() {
            return false;
        }
        let axle = car.axle_mut(assembly.end());
        match (self, to, assembly.side()) {
            (Parameter::Point(hardpoint), Value::Place(at), _) => {
                assembly.hardpoints_mut(car).set(hardpoint, at)
            }
            (Parameter::WheelCentre, Value::Place(at), Some(side)) => axle.corner_mut(side).wheel.centre = at,
            (Parameter::Length(link), Value::Number(length), _) => {
                assembly.set_length(car, link, Some(length))
            }
            (Parameter::Length(link), Value::FromPoints, _) => assembly.set_length(car, link, None),
            (Parameter::Wheel(number), Value::Number(to), Some(side)) => {
                number.set(axle.corner_mut(side), side, to);
            }
            (Parameter::Steering(number), Value::Number(to), None) => {
                match number.place(&mut axle.steering) {
                    Some(place) => *place = to,
                    None => return false,
                }
            }
            (Parameter::Spring(of), Value::Number(to), side) => match of.place(axle, side) {
                Some(place) => *place = to,
                None => return false,
            },
            _ => return false,
        }
        true
    }

    /// The unit of its number.
    #[must_use]
    pub fn unit(self) -> Unit {
        match self {
            Parameter::Point(_) | Parameter::WheelCentre | Parameter::Length(_) => Unit::Length,
            Parameter::Wheel(number) => number.unit(),
            Parameter::Steering(SteeringNumber::StopLeftAngle | SteeringNumber::StopRightAngle) => {
                Unit::Degree
            }
            Parameter::Steering(SteeringNumber::Ratio) => Unit::Ratio,
            Parameter::Steering(_) => Unit::Length,
            Parameter::Spring(SpringNumber::BarRate | SpringNumber::TorsionBarRate) => Unit::TorsionRate,
            Parameter::Spring(SpringNumber::SpringRate | SpringNumber::ThirdSpringRate) => Unit::SpringRate,
        }
    }
}
