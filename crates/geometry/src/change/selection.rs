//! Where a parameter is changed: on one assembly, or on both sides of an axle.

use crate::car::position::{End, Side};
use crate::change::assembly::Assembly;
use std::fmt;

/// Where a parameter is changed: on one assembly, or on both sides of an axle alike, Y mirrored.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Selection {
    /// One corner's, or an axle's as a whole.
    One(Assembly),
    /// Both corners' of an axle; what is said holds for the left one.
    Both(End),
}

impl Selection {
    /// The assemblies, the left one first.
    #[must_use]
    pub fn assemblies(self) -> Vec<Assembly> {
        match self {
            Selection::One(assembly) => vec![assembly],
            Selection::Both(end) => Side::BOTH.map(|side| Assembly::corner(end, side)).to_vec(),
        }
    }

    /// The assembly of which it is said: the one, or the left one.
    #[must_use]
    pub fn first(self) -> Assembly {
        match self {
            Selection::One(assembly) => assembly,
            Selection::Both(end) => Assembly::corner(end, Side::Left),
        }
    }

    /// `front_left`, `front_both`, `front`, and so on.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Selection::One(assembly) => assembly.key(),
            Selection::Both(End::Front) => "front_both",
            Selection::Both(End::Rear) => "rear_both",
        }
    }

    /// All that there are.
    #[must_use]
    pub fn all() -> Vec<Selection> {
        let one = Assembly::ALL.into_iter().map(Selection::One);
        End::BOTH.into_iter().map(Selection::Both).chain(one).collect()
    }
}

impl fmt::Display for Selection {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Selection::One(assembly) => assembly.fmt(f),
            Selection::Both(end) => write!(f, "{end} both"),
        }
    }
}
