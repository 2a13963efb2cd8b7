//! The three axes of the vehicle.

/// An axis of the vehicle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Axis {
    /// Forward.
    X,
    /// To the left.
    Y,
    /// Upward.
    Z,
}

impl Axis {
    /// All three.
    pub const ALL: [Axis; 3] = [Axis::X, Axis::Y, Axis::Z];

    /// The capital letter on the screen.
    #[must_use]
    pub fn letter(self) -> &'static str {
        ["X", "Y", "Z"][self.index()]
    }

    /// The key in data: the small letter.
    #[must_use]
    pub fn key(self) -> &'static str {
        ["x", "y", "z"][self.index()]
    }

    /// Its place in a vector.
    #[must_use]
    pub fn index(self) -> usize {
        match self {
            Axis::X => 0,
            Axis::Y => 1,
            Axis::Z => 2,
        }
    }
}
