//! What a point or a link belongs to.

use std::fmt;
use wheelpath_geometry::{Car, Component, End, Hardpoint, Hardpoints, Link, Side, WheelPosition};

/// A corner, or an axle as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Owner {
    /// A corner.
    Corner(WheelPosition),
    /// An axle as a whole.
    Axle(End),
}

impl From<WheelPosition> for Owner {
    fn from(at: WheelPosition) -> Self {
        Owner::Corner(at)
    }
}

impl fmt::Display for Owner {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Owner::Corner(at) => at.fmt(f),
            Owner::Axle(end) => write!(f, "{end} axle"),
        }
    }
}

impl Owner {
    /// The four corners, then both axles.
    pub const ALL: [Owner; 6] = [
        Owner::Corner(WheelPosition::ALL[0]),
        Owner::Corner(WheelPosition::ALL[1]),
        Owner::Corner(WheelPosition::ALL[2]),
        Owner::Corner(WheelPosition::ALL[3]),
        Owner::Axle(End::Front),
        Owner::Axle(End::Rear),
    ];

    /// Whose a point is that was found at a wheel: the corner's, or its axle's.
    #[must_use]
    pub fn of_point(at: WheelPosition, hardpoint: Hardpoint) -> Self {
        if hardpoint.is_of_axle() { Owner::Axle(at.end) } else { Owner::Corner(at) }
    }

    /// Whose a link is that was found at a wheel.
    #[must_use]
    pub fn of_link(at: WheelPosition, link: Link) -> Self {
        if link.is_of_axle() { Owner::Axle(at.end) } else { Owner::Corner(at) }
    }

    /// At which end it is.
    #[must_use]
    pub fn end(self) -> End {
        match self {
            Owner::Corner(at) => at.end,
            Owner::Axle(end) => end,
        }
    }

    /// The corner, if it is one.
    #[must_use]
    pub fn wheel(self) -> Option<WheelPosition> {
        match self {
            Owner::Corner(at) => Some(at),
            Owner::Axle(_) => None,
        }
    }

    /// A corner at which it is to be seen: itself, or the left one of its axle.
    #[must_use]
    pub fn seen_at(self) -> WheelPosition {
        self.wheel().unwrap_or(WheelPosition { end: self.end(), side: Side::Left })
    }

    /// Whether it is to be seen at a corner.
    #[must_use]
    pub fn is_at(self, corner: WheelPosition) -> bool {
        match self {
            Owner::Corner(at) => at == corner,
            Owner::Axle(end) => end == corner.end,
        }
    }

    /// `front_left` and so on for a corner, `front_axle` and `rear_axle`.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Owner::Corner(at) => at.key(),
            Owner::Axle(End::Front) => "front_axle",
            Owner::Axle(End::Rear) => "rear_axle",
        }
    }

    /// The one with this [`key`](Self::key).
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Owner::ALL.into_iter().find(|one| one.key() == key)
    }

    /// Its points.
    #[must_use]
    pub fn hardpoints(self, car: &Car) -> &Hardpoints {
        match self {
            Owner::Corner(at) => &car.corner(at).hardpoints,
            Owner::Axle(end) => &car.axle(end).hardpoints,
        }
    }

    pub(super) fn hardpoints_mut(self, car: &mut Car) -> &mut Hardpoints {
        match self {
            Owner::Corner(at) => &mut car.corner_mut(at).hardpoints,
            Owner::Axle(end) => &mut car.axle_mut(end).hardpoints,
        }
    }

    /// The part that carries one of its points; `None` where it is not known.
    #[must_use]
    pub fn carrier(self, car: &Car, hardpoint: Hardpoint) -> Option<Component> {
        match self {
            Owner::Corner(at) => car.corner(at).carrier(hardpoint),
            Owner::Axle(end) => Some(car.axle(end).carrier(hardpoint)),
        }
    }

    /// The length of one of its links in the design pose, metres, if it has it.
    #[must_use]
    pub fn length(self, car: &Car, link: Link) -> Option<f64> {
        let (inner, outer) = link.ends();
        let hardpoints = self.hardpoints(car);
        let between = (hardpoints.get(outer)? - hardpoints.get(inner)?).norm();
        let lengths = match self {
            Owner::Corner(at) => &car.corner(at).lengths,
            Owner::Axle(end) => &car.axle(end).lengths,
        };
        let given = lengths.iter().find(|(one, _)| *one == link);
        Some(given.map_or(between, |(_, length)| *length))
    }

    pub(super) fn set_length(self, car: &mut Car, link: Link, length: f64) {
        let lengths = match self {
            Owner::Corner(at) => &mut car.corner_mut(at).lengths,
            Owner::Axle(end) => &mut car.axle_mut(end).lengths,
        };
        match lengths.iter_mut().find(|(one, _)| *one == link) {
            Some((_, given)) => *given = length,
            None => {
                lengths.push((link, length));
                lengths.sort_by_key(|(link, _)| *link);
            }
        }
    }

    /// Itself, and the other side of the axle where a change is made on both; an axle has no other side.
    #[must_use]
    pub fn with_mirrored(self, mirrored: bool) -> Vec<Owner> {
        match self {
            Owner::Corner(at) if mirrored => {
                Side::BOTH.map(|side| Owner::Corner(WheelPosition { end: at.end, side })).to_vec()
            }
            _ => vec![self],
        }
    }

    /// The other side of the axle, if it has one.
    #[must_use]
    pub fn opposite(self) -> Option<Owner> {
        self.wheel().map(|at| Owner::Corner(WheelPosition { end: at.end, side: at.side.other() }))
    }
}
