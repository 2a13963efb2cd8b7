//! What a solid is called.

use std::fmt;
use wheelpath_geometry::{End, Pairs, Part, PartKind, Side, WheelPosition};

/// A solid of an axle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct PartName {
    /// Which axle.
    pub end: End,
    /// Which side; `None` for a part of the axle as a whole.
    pub side: Option<Side>,
    /// What it is.
    pub what: Solid,
}

/// What a solid is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Solid {
    /// A straight piece of a part.
    Piece {
        /// The part.
        part: Part,
        /// Which piece of it, in words; empty for a part of one piece.
        leg: &'static str,
    },
    /// The tyre.
    Tyre,
    /// The rim's barrel.
    Rim,
}

impl Solid {
    /// The name in data: `tie_rod`, `upper_wishbone_front_leg`, `tyre`.
    #[must_use]
    pub fn key(&self) -> String {
        match self {
            Solid::Piece { part, leg: "" } => part.key().to_owned(),
            Solid::Piece { part, leg } => format!("{}_{}", part.key(), leg.replace(' ', "_")),
            Solid::Tyre => "tyre".to_owned(),
            Solid::Rim => "rim".to_owned(),
        }
    }

    /// Which kind of part it is a piece of.
    #[must_use]
    pub fn kind(&self) -> PartKind {
        match *self {
            Solid::Piece { part, .. } => PartKind::Part(part),
            Solid::Tyre => PartKind::Tyre,
            Solid::Rim => PartKind::Rim,
        }
    }
}

/// Whether a pair is among these.
pub(crate) fn is_among(of: &[PartName; 2], pairs: Pairs) -> bool {
    let [one, other] = of.each_ref().map(|name| name.what.kind());
    match pairs {
        Pairs::All => true,
        Pairs::With(kind) => one == kind || other == kind,
        Pairs::Of(a, b) => (one, other) == (a, b) || (one, other) == (b, a),
    }
}

impl PartName {
    /// Where it belongs, in data: `front_left`, or `front` for a part of the axle as a whole.
    #[must_use]
    pub fn place(&self) -> &'static str {
        self.side.map_or_else(|| self.end.name(), |side| WheelPosition { end: self.end, side }.key())
    }
}

impl fmt::Display for Solid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Solid::Piece { part, leg: "" } => write!(f, "{part}"),
            Solid::Piece { part, leg } => write!(f, "{part}, {leg}"),
            Solid::Tyre => f.write_str("tyre"),
            Solid::Rim => f.write_str("rim"),
        }
    }
}

impl fmt::Display for PartName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.side {
            Some(side) => write!(f, "{} {side} {}", self.end, self.what),
            None => write!(f, "{} {}", self.end, self.what),
        }
    }
}
