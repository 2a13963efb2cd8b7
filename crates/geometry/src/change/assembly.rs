//! The parts of a car that a change is made to: a corner, or an axle as a whole.

use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::position::{End, Side, WheelPosition};
use crate::car::{Axle, Car, Component, Hardpoints};
use crate::linkage::needs::Need;
use nalgebra::Vector3;
use std::fmt;

/// What a point, a link or a number belongs to: a corner, or an axle as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Assembly {
    /// A corner.
    Corner(WheelPosition),
    /// An axle as a whole.
    Axle(End),
}

impl Assembly {
    /// The four corners, then both axles.
    pub const ALL: [Assembly; 6] = [
        Assembly::Corner(WheelPosition::ALL[0]),
        Assembly::Corner(WheelPosition::ALL[1]),
        Assembly::Corner(WheelPosition::ALL[2]),
        Assembly::Corner(WheelPosition::ALL[3]),
        Assembly::Axle(End::Front),
        Assembly::Axle(End::Rear),
    ];

    /// The corner on that side of an axle.
    #[must_use]
    pub const fn corner(end: End, side: Side) -> Assembly {
        Assembly::Corner(WheelPosition { end, side })
    }

    /// The assembly that has a point which was found at a wheel: the corner, or its axle.
    #[must_use]
    pub fn of_point(at: WheelPosition, hardpoint: Hardpoint) -> Assembly {
        if hardpoint.is_of_axle() { Assembly::Axle(at.end) } else { Assembly::Corner(at) }
    }

    /// The assembly that has a link which was found at a wheel: the corner, or its axle.
    #[must_use]
    pub fn of_link(at: WheelPosition, link: Link) -> Assembly {
        if link.is_of_axle() { Assembly::Axle(at.end) } else { Assembly::Corner(at) }
    }

    /// The end of the car at which it is.
    #[must_use]
    pub fn end(self) -> End {
        match self {
            Assembly::Corner(at) => at.end,
            Assembly::Axle(end) => end,
        }
    }

    /// The side of a corner; `None` for an axle as a whole.
    #[must_use]
    pub fn side(self) -> Option<Side> {
        self.wheel().map(|at| at.side)
    }

    /// The corner, if it is one.
    #[must_use]
    pub fn wheel(self) -> Option<WheelPosition> {
        match self {
            Assembly::Corner(at) => Some(at),
            Assembly::Axle(_) => None,
        }
    }

    /// The corner at which it is to be seen: itself, or the left one of its axle.
    #[must_use]
    pub fn seen_at(self) -> WheelPosition {
        self.wheel().unwrap_or(WheelPosition { end: self.end(), side: Side::Left })
    }

    /// Whether it is to be seen at a corner.
    #[must_use]
    pub fn is_at(self, corner: WheelPosition) -> bool {
        match self {
            Assembly::Corner(at) => at == corner,
            Assembly::Axle(end) => end == corner.end,
        }
    }

    /// The key in data: `front_left` and so on, or `front`, `rear`.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Assembly::Corner(at) => at.key(),
            Assembly::Axle(end) => end.name(),
        }
    }

    /// The one with this [`key`](Self::key); an axle may be called `front_axle` and `rear_axle` too.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Assembly> {
        match key {
            "front_axle" => Some(Assembly::Axle(End::Front)),
            "rear_axle" => Some(Assembly::Axle(End::Rear)),
            _ => Assembly::ALL.into_iter().find(|one| one.key() == key),
        }
    }

    /// The points that it uses.
    #[must_use]
    pub fn needs(self, axle: &Axle) -> Vec<Need> {
        self.side().map_or_else(|| axle.own_needs(), |side| axle.needs(side))
    }

    /// The points that it has.
    #[must_use]
    pub fn hardpoints(self, car: &Car) -> &Hardpoints {
        match self {
            Assembly::Corner(at) => &car.corner(at).hardpoints,
            Assembly::Axle(end) => &car.axle(end).hardpoints,
        }
    }

    /// The points that it has.
    pub fn hardpoints_mut(self, car: &mut Car) -> &mut Hardpoints {
        match self {
            Assembly::Corner(at) => &mut car.corner_mut(at).hardpoints,
            Assembly::Axle(end) => &mut car.axle_mut(end).hardpoints,
        }
    }

    /// The part that carries one of its points; `None` where it is not known.
    #[must_use]
    pub fn carrier(self, car: &Car, hardpoint: Hardpoint) -> Option<Component> {
        match self {
            Assembly::Corner(at) => car.corner(at).carrier(hardpoint),
            Assembly::Axle(end) => Some(car.axle(end).carrier(hardpoint)),
        }
    }

    /// Lengths of its links that do not follow from its points, metres.
    #[must_use]
    pub fn lengths(self, car: &Car) -> &[(Link, f64)] {
        match self {
            Assembly::Corner(at) => &car.corner(at).lengths,
            Assembly::Axle(end) => &car.axle(end).lengths,
        }
    }

    /// Gives a link a length of its own, metres, or lets it follow from its points again.
    pub fn set_length(self, car: &mut Car, link: Link, length: Option<f64>) {
        let lengths = match self {
            Assembly::Corner(at) => &mut car.corner_mut(at).lengths,
            Assembly::Axle(end) => &mut car.axle_mut(end).lengths,
        };
        lengths.retain(|(one, _)| *one != link);
        if let Some(length) = length {
            lengths.push((link, length));
            lengths.sort_by_key(|(link, _)| *link);
        }
    }

    /// The distance between a link's end points, metres, if both are there.
    #[must_use]
    pub fn between_ends(self, car: &Car, link: Link) -> Option<f64> {
        let (inner, outer) = link.ends();
        let points = self.hardpoints(car);
        Some((points.get(outer)? - points.get(inner)?).norm())
    }

    /// The length of a link in the design pose, metres: as stated, or the distance between its points;
    /// `None` where a point of it is missing.
    #[must_use]
    pub fn length(self, car: &Car, link: Link) -> Option<f64> {
        let between = self.between_ends(car, link)?;
        let stated = self.lengths(car).iter().find(|(one, _)| *one == link);
        Some(stated.map_or(between, |(_, length)| *length))
    }

    /// The other side of the axle; `None` for an axle as a whole.
    #[must_use]
    pub fn opposite(self) -> Option<Assembly> {
        self.wheel().map(|at| Assembly::corner(at.end, at.side.other()))
    }

    /// Itself, and the other side of the axle where a change is made on both, the left one first; an axle
    /// has no other side.
    #[must_use]
    pub fn with_mirrored(self, mirrored: bool) -> Vec<Assembly> {
        match self {
            Assembly::Corner(at) if mirrored => {
                Side::BOTH.map(|side| Assembly::corner(at.end, side)).to_vec()
            }
            _ => vec![self],
        }
    }

    /// Where a point of it stands in the design pose, metres.
    #[must_use]
    pub fn point(self, car: &Car, hardpoint: Hardpoint) -> Option<Vector3<f64>> {
        self.hardpoints(car).get(hardpoint)
    }
}

impl From<WheelPosition> for Assembly {
    fn from(at: WheelPosition) -> Assembly {
        Assembly::Corner(at)
    }
}

impl fmt::Display for Assembly {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Assembly::Corner(at) => at.fmt(f),
            Assembly::Axle(end) => write!(f, "{end} axle"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Assembly;
    use crate::car::position::End;

    #[test]
    fn every_key_is_read_and_so_is_the_longer_one_of_an_axle() {
        for assembly in Assembly::ALL {
            assert_eq!(Assembly::from_key(assembly.key()), Some(assembly));
        }
        assert_eq!(Assembly::from_key("front_axle"), Some(Assembly::Axle(End::Front)));
        assert_eq!(Assembly::from_key("rear_axle"), Some(Assembly::Axle(End::Rear)));
        assert_eq!(Assembly::from_key("middle"), None);
    }
}
