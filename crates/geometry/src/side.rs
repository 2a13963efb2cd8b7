//! Left and right, front and rear.

use std::fmt;

/// One side of the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// y > 0.
    Left,
    /// y < 0.
    Right,
}

impl Side {
    /// Both sides, left first.
    pub const BOTH: [Side; 2] = [Side::Left, Side::Right];

    /// +1 on the left, -1 on the right: outboard is this times +Y.
    #[must_use]
    pub fn sign(self) -> f64 {
        match self {
            Side::Left => 1.0,
            Side::Right => -1.0,
        }
    }

    /// The other side.
    #[must_use]
    pub fn other(self) -> Side {
        match self {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
        }
    }

    /// `left` or `right`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Right => "right",
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// One end of the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum End {
    /// The front axle.
    Front,
    /// The rear axle.
    Rear,
}

impl End {
    /// Both ends, front first.
    pub const BOTH: [End; 2] = [End::Front, End::Rear];

    /// `front` or `rear`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            End::Front => "front",
            End::Rear => "rear",
        }
    }
}

impl fmt::Display for End {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// One of the four corners.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct WheelAt {
    /// Front or rear.
    pub end: End,
    /// Left or right.
    pub side: Side,
}

impl WheelAt {
    /// Front left, front right, rear left, rear right.
    pub const ALL: [WheelAt; 4] = [
        WheelAt { end: End::Front, side: Side::Left },
        WheelAt { end: End::Front, side: Side::Right },
        WheelAt { end: End::Rear, side: Side::Left },
        WheelAt { end: End::Rear, side: Side::Right },
    ];

    /// Place in [`WheelAt::ALL`].
    #[must_use]
    pub fn index(self) -> usize {
        2 * usize::from(self.end == End::Rear) + usize::from(self.side == Side::Right)
    }

    /// `front_left` and so on: for keys of data.
    #[must_use]
    pub fn key(self) -> &'static str {
        ["front_left", "front_right", "rear_left", "rear_right"][self.index()]
    }
}

impl fmt::Display for WheelAt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.end, self.side)
    }
}
