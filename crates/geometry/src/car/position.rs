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
pub struct WheelPosition {
    /// Front or rear.
    pub end: End,
    /// Left or right.
    pub side: Side,
}

impl WheelPosition {
    /// Front left, front right, rear left, rear right.
    pub const ALL: [WheelPosition; 4] = [
        WheelPosition { end: End::Front, side: Side::Left },
        WheelPosition { end: End::Front, side: Side::Right },
        WheelPosition { end: End::Rear, side: Side::Left },
        WheelPosition { end: End::Rear, side: Side::Right },
    ];

    /// Place in [`WheelPosition::ALL`].
    #[must_use]
    pub fn index(self) -> usize {
        2 * usize::from(self.end == End::Rear) + usize::from(self.side == Side::Right)
    }

    /// The corner that a word names, in any case of letters: `front_left`, `Left front`, `FL`, `LF`, and so
    /// on. Road racing counts the axle first, oval racing the side: RL and LR are one wheel.
    #[must_use]
    pub fn from_word(word: &str) -> Option<WheelPosition> {
        let plain: String =
            word.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect();
        let parts = |wheel: &WheelPosition| {
            let (end, side) = (wheel.end.name(), wheel.side.name());
            (end, side, end.get(..1).unwrap_or_default(), side.get(..1).unwrap_or_default())
        };
        WheelPosition::ALL.into_iter().find(|wheel| {
            let (end, side, e, s) = parts(wheel);
            [format!("{end}{side}"), format!("{side}{end}"), format!("{e}{s}"), format!("{s}{e}")]
                .contains(&plain)
        })
    }

    /// `LF`, `RF`, `LR` or `RR`.
    #[must_use]
    pub fn short(self) -> &'static str {
        ["LF", "RF", "LR", "RR"][self.index()]
    }

    /// `front_left` and so on: for keys of data.
    #[must_use]
    pub fn key(self) -> &'static str {
        ["front_left", "front_right", "rear_left", "rear_right"][self.index()]
    }
}

impl fmt::Display for WheelPosition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.end, self.side)
    }
}

#[cfg(test)]
mod tests {
    use super::WheelPosition;

    #[test]
    fn a_corner_has_many_names() {
        let check = |words: &[&str], expected: Option<&str>| {
            for word in words {
                assert_eq!(WheelPosition::from_word(word).map(WheelPosition::key), expected, "{word}");
            }
        };
        check(&["front_left", "Front Left", "left-front", "LF", "lf", "Lf", "FL", "fl"], Some("front_left"));
        check(&["front_right", "RightFront", "RF", "FR", "fr"], Some("front_right"));
        check(&["rear_left", "LR", "lr", "RL", "rL", "left rear"], Some("rear_left"));
        check(&["rear_right", "RR", "rr", "right_rear"], Some("rear_right"));
        check(&["", "front", "L", "R", "FF", "LL", "fri", "front_both", "xLF"], None);
        for wheel in WheelPosition::ALL {
            assert_eq!(WheelPosition::from_word(wheel.short()), Some(wheel));
        }
    }
}
