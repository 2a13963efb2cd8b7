//! Whose a point is.

use std::fmt;
use wheelpath_geometry::{Axle, Car, End, Need, Pickups, Side, WheelAt};

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
    pub fn wheel(self) -> Option<WheelAt> {
        self.side.map(|side| WheelAt { end: self.end, side })
    }

    /// `front_left` and so on, or `front`, `rear`: for keys of data.
    #[must_use]
    pub fn key(self) -> &'static str {
        self.wheel().map_or(self.end.name(), WheelAt::key)
    }

    /// The points that the owner uses.
    pub(crate) fn needs(self, axle: &Axle) -> Vec<Need> {
        self.side.map_or_else(|| axle.own_needs(), |side| axle.needs(side))
    }

    /// The points that the owner has.
    #[must_use]
    pub fn pickups(self, car: &Car) -> &Pickups {
        let axle = car.axle(self.end);
        self.side.map_or(&axle.pickups, |side| &axle.corner(side).pickups)
    }

    /// The points that the owner has.
    pub(crate) fn pickups_mut(self, car: &mut Car) -> &mut Pickups {
        let axle = car.axle_mut(self.end);
        match self.side {
            Some(side) => &mut axle.corner_mut(side).pickups,
            None => &mut axle.pickups,
        }
    }
}

impl From<WheelAt> for Owner {
    fn from(at: WheelAt) -> Owner {
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
