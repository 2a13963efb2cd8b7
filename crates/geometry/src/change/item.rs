//! What of a car can be changed, one thing at a time: where it is kept, and what it says.

use crate::car::Car;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::position::{End, Side};
use crate::car::steering::Steering;
use crate::change::owner::Owner;
use crate::change::wheel_number::WheelNumber;
use crate::number::unit::{LengthUnit, Unit};
use nalgebra::Vector3;
use std::fmt;

/// Differences below this, metres or radians, are rounding.
pub(crate) const SAME: f64 = 1e-12;

/// One thing of a corner or an axle that can be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Item {
    /// A point in the design pose.
    Point(Hardpoint),
    /// The wheel centre in the design pose.
    WheelCentre,
    /// The length of a link that does not follow from its points.
    Length(Link),
    /// A number of the wheel.
    Wheel(WheelNumber),
    /// A number of the axle's steering.
    Steering(SteeringNumber),
}

/// A number of a rack or steering box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SteeringNumber {
    /// Rack travel for one turn of the steering wheel, metres.
    TravelPerTurn,
    /// Turns of the steering wheel for one of the pitman arm.
    Ratio,
    /// To the stop toward the left, metres or radians.
    StopLeft,
    /// To the stop toward the right, metres or radians.
    StopRight,
}

/// What a thing is: a place, a number, or left to follow from the points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// A point, metres.
    Place(Vector3<f64>),
    /// A number: metres, radians, or plain.
    Number(f64),
    /// The length of a link is the distance between its points.
    FromPoints,
}

impl SteeringNumber {
    /// Every number of the steering.
    pub const ALL: [SteeringNumber; 4] = [
        SteeringNumber::TravelPerTurn,
        SteeringNumber::Ratio,
        SteeringNumber::StopLeft,
        SteeringNumber::StopRight,
    ];

    /// Key of data.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            SteeringNumber::TravelPerTurn => "travel_per_turn",
            SteeringNumber::Ratio => "ratio",
            SteeringNumber::StopLeft => "stop_left",
            SteeringNumber::StopRight => "stop_right",
        }
    }

    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            SteeringNumber::TravelPerTurn => "rack travel per turn",
            SteeringNumber::Ratio => "steering box ratio",
            SteeringNumber::StopLeft => "steering stop, left",
            SteeringNumber::StopRight => "steering stop, right",
        }
    }

    fn place(self, steering: &mut Steering) -> Option<&mut f64> {
        match (self, steering) {
            (SteeringNumber::TravelPerTurn, Steering::Rack(rack)) => Some(&mut rack.travel_per_turn),
            (SteeringNumber::StopLeft, Steering::Rack(rack)) => Some(&mut rack.stop_left),
            (SteeringNumber::StopRight, Steering::Rack(rack)) => Some(&mut rack.stop_right),
            (SteeringNumber::Ratio, Steering::Box(one)) => Some(&mut one.ratio),
            (SteeringNumber::StopLeft, Steering::Box(one)) => Some(&mut one.stop_left),
            (SteeringNumber::StopRight, Steering::Box(one)) => Some(&mut one.stop_right),
            _ => None,
        }
    }
}

impl Item {
    /// Everything that owner may have; absent things have no [`value`](Self::value).
    pub fn all(owner: Owner) -> Vec<Item> {
        let of_axle = owner.side.is_none();
        let points = Hardpoint::ALL.iter().filter(|p| p.is_of_axle() == of_axle).map(|&p| Item::Point(p));
        let links = Link::ALL.iter().filter(|l| l.is_of_axle() == of_axle).map(|&l| Item::Length(l));
        let mut all: Vec<Item> = points.chain(links).collect();
        if of_axle {
            all.extend(SteeringNumber::ALL.map(Item::Steering));
        } else {
            all.push(Item::WheelCentre);
            all.extend(WheelNumber::ALL.map(Item::Wheel));
        }
        all
    }

    /// What it is on that car; `None` where the owner has no such thing.
    #[must_use]
    pub fn value(self, car: &Car, owner: Owner) -> Option<Value> {
        let side = owner.side;
        match self {
            Item::Point(hardpoint) => owner.point(car, hardpoint).map(Value::Place),
            Item::WheelCentre => Some(Value::Place(car.axle(owner.end).corner(side?).wheel.centre)),
            Item::Length(link) => {
                owner.between_ends(car, link)?;
                let given = owner.lengths(car).iter().find(|(one, _)| *one == link);
                Some(given.map_or(Value::FromPoints, |&(_, length)| Value::Number(length)))
            }
            Item::Wheel(number) => {
                let side = side?;
                Some(Value::Number(number.of(car.axle(owner.end).corner(side), side)))
            }
            Item::Steering(number) if side.is_none() => {
                let mut steering = car.axle(owner.end).steering;
                number.place(&mut steering).map(|value| Value::Number(*value))
            }
            Item::Steering(_) => None,
        }
    }

    /// Sets it; false where the owner has no such thing, or the value is none it could have.
    pub fn set(self, car: &mut Car, owner: Owner, to: Value) -> bool {
        if self.value(car, owner).is_none() || !to.is_finite() {
            return false;
        }
        let axle = car.axle_mut(owner.end);
        match (self, to, owner.side) {
            (Item::Point(hardpoint), Value::Place(at), _) => owner.hardpoints_mut(car).set(hardpoint, at),
            (Item::WheelCentre, Value::Place(at), Some(side)) => axle.corner_mut(side).wheel.centre = at,
            (Item::Length(link), Value::Number(length), _) => owner.set_length(car, link, Some(length)),
            (Item::Length(link), Value::FromPoints, _) => owner.set_length(car, link, None),
            (Item::Wheel(number), Value::Number(to), Some(side)) => {
                number.set(axle.corner_mut(side), side, to);
            }
            (Item::Steering(number), Value::Number(to), None) => match number.place(&mut axle.steering) {
                Some(place) => *place = to,
                None => return false,
            },
            _ => return false,
        }
        true
    }

    /// The unit of its number.
    #[must_use]
    pub fn unit(self, car: &Car, end: End) -> Unit {
        match self {
            Item::Point(_) | Item::WheelCentre | Item::Length(_) => Unit::Length,
            Item::Wheel(number) => number.unit(),
            Item::Steering(SteeringNumber::TravelPerTurn) => Unit::Length,
            Item::Steering(SteeringNumber::Ratio) => Unit::Ratio,
            Item::Steering(_) if car.axle(end).steering.steering_box().is_some() => Unit::Degree,
            Item::Steering(_) => Unit::Length,
        }
    }

    /// Key of data.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Item::Point(hardpoint) => hardpoint.key(),
            Item::WheelCentre => "wheel_centre",
            Item::Length(link) => link.key(),
            Item::Wheel(number) => number.key(),
            Item::Steering(number) => number.key(),
        }
    }
}

impl fmt::Display for Item {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Item::Point(hardpoint) => hardpoint.fmt(f),
            Item::WheelCentre => f.write_str("wheel centre"),
            Item::Length(link) => write!(f, "{link}, length"),
            Item::Wheel(number) => f.write_str(number.label()),
            Item::Steering(number) => f.write_str(number.label()),
        }
    }
}

impl Value {
    fn is_finite(self) -> bool {
        match self {
            Value::Place(at) => at.iter().all(|x| x.is_finite()),
            Value::Number(number) => number.is_finite(),
            Value::FromPoints => true,
        }
    }

    /// Whether it is the other but for rounding.
    #[must_use]
    pub fn is(self, other: Value) -> bool {
        match (self, other) {
            (Value::Place(a), Value::Place(b)) => (a - b).amax() <= SAME,
            (Value::Number(a), Value::Number(b)) => (a - b).abs() <= SAME.max(a.abs() * 1e-15),
            (a, b) => a == b,
        }
    }

    /// As it is on the other side of the car: a place has its Y negated.
    #[must_use]
    pub fn mirrored(self) -> Value {
        match self {
            Value::Place(at) => Value::Place(Vector3::new(at.x, -at.y, at.z)),
            other => other,
        }
    }

    /// In words, with its unit.
    #[must_use]
    pub fn written(self, unit: Unit, lengths: LengthUnit) -> String {
        self.written_to(unit, lengths, unit.decimals(lengths))
    }

    /// In words, with its unit and so many decimals.
    #[must_use]
    pub fn written_to(self, unit: Unit, lengths: LengthUnit, decimals: usize) -> String {
        match self {
            Value::Place(at) => {
                let [x, y, z] = [at.x, at.y, at.z].map(|c| unit.write_number_to(c, lengths, decimals));
                format!("({x}, {y}, {z}) {}", unit.symbol(lengths))
            }
            Value::Number(number) => unit.write_to(number, lengths, decimals),
            Value::FromPoints => "the distance between its points".to_owned(),
        }
    }
}

/// Whose thing is changed: one owner's, or both sides' of an axle alike, Y mirrored.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Selection {
    /// One corner's, or an axle's as a whole.
    One(Owner),
    /// Both corners' of an axle; what is said holds for the left one.
    Both(End),
}

impl Selection {
    /// The owners, the left one first.
    #[must_use]
    pub fn owners(self) -> Vec<Owner> {
        match self {
            Selection::One(owner) => vec![owner],
            Selection::Both(end) => Side::BOTH.map(|side| Owner { end, side: Some(side) }).to_vec(),
        }
    }

    /// Whose what is said is: the one owner's, or the left one's.
    #[must_use]
    pub fn first(self) -> Owner {
        match self {
            Selection::One(owner) => owner,
            Selection::Both(end) => Owner { end, side: Some(Side::Left) },
        }
    }

    /// `front_left`, `front_both`, `front`, and so on.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Selection::One(owner) => owner.key(),
            Selection::Both(End::Front) => "front_both",
            Selection::Both(End::Rear) => "rear_both",
        }
    }

    /// All that there are.
    #[must_use]
    pub fn all() -> Vec<Selection> {
        let one = Owner::ALL.into_iter().map(Selection::One);
        End::BOTH.into_iter().map(Selection::Both).chain(one).collect()
    }
}

impl fmt::Display for Selection {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Selection::One(owner) => owner.fmt(f),
            Selection::Both(end) => write!(f, "{end} both"),
        }
    }
}
