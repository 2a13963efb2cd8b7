//! Whose a point is.

use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::position::{End, Side, WheelPosition};
use crate::car::{Axle, Car, Hardpoints};
use crate::linkage::needs::Need;
use nalgebra::Vector3;
use std::fmt;

/// Whose a point or a link is: a corner's, or an axle's as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Owner {
    /// The axle.
    pub end: End,
    /// The side of the corner; `None` for the axle as a whole.
    pub side: Option<Side>,
}

impl Owner {
    /// The four corners, then both axles.
    pub const ALL: [Owner; 6] = [
        Owner { end: End::Front, side: Some(Side::Left) },
        Owner { end: End::Front, side: Some(Side::Right) },
        Owner { end: End::Rear, side: Some(Side::Left) },
        Owner { end: End::Rear, side: Some(Side::Right) },
        Owner { end: End::Front, side: None },
        Owner { end: End::Rear, side: None },
    ];

    /// The corner, if it is one.
    #[must_use]
    pub fn wheel(self) -> Option<WheelPosition> {
        self.side.map(|side| WheelPosition { end: self.end, side })
    }

    /// `front_left` and so on, or `front`, `rear`: for keys of data.
    #[must_use]
    pub fn key(self) -> &'static str {
        self.wheel().map_or(self.end.name(), WheelPosition::key)
    }

    /// The points that the owner uses.
    #[must_use]
    pub fn needs(self, axle: &Axle) -> Vec<Need> {
        self.side.map_or_else(|| axle.own_needs(), |side| axle.needs(side))
    }

    /// The points that the owner has.
    #[must_use]
    pub fn hardpoints(self, car: &Car) -> &Hardpoints {
        let axle = car.axle(self.end);
        self.side.map_or(&axle.hardpoints, |side| &axle.corner(side).hardpoints)
    }

    /// The points that the owner has.
    pub fn hardpoints_mut(self, car: &mut Car) -> &mut Hardpoints {
        let axle = car.axle_mut(self.end);
        match self.side {
            Some(side) => &mut axle.corner_mut(side).hardpoints,
            None => &mut axle.hardpoints,
        }
    }

    /// Lengths of the owner's links that do not follow from its points, metres.
    #[must_use]
    pub fn lengths(self, car: &Car) -> &[(Link, f64)] {
        let axle = car.axle(self.end);
        self.side.map_or(&axle.lengths, |side| &axle.corner(side).lengths)
    }

    /// Gives a link a length of its own, metres, or lets it follow from its points again.
    pub fn set_length(self, car: &mut Car, link: Link, length: Option<f64>) {
        let axle = car.axle_mut(self.end);
        let lengths = match self.side {
            Some(side) => &mut axle.corner_mut(side).lengths,
            None => &mut axle.lengths,
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

    /// The other side of the axle; `None` for an axle as a whole.
    #[must_use]
    pub fn opposite(self) -> Option<Owner> {
        self.side.map(|side| Owner { end: self.end, side: Some(side.other()) })
    }

    /// Where a point of the owner stands in the design pose, metres.
    #[must_use]
    pub fn point(self, car: &Car, hardpoint: Hardpoint) -> Option<Vector3<f64>> {
        self.hardpoints(car).get(hardpoint)
    }
}

impl From<WheelPosition> for Owner {
    fn from(at: WheelPosition) -> Owner {
        Owner { end: at.end, side: Some(at.side) }
    }
}

impl fmt::Display for Owner {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.wheel() {
            Some(wheel) => wheel.fmt(f),
            None => write!(f, "{} axle", self.end),
        }
    }
}
