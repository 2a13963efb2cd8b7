//! What works the damper, what springs the car, and its anti-roll bars.

use crate::car::Component;

/// How the damper is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Springing {
    /// A pushrod (or pullrod) from this part to a rocker, which works the damper.
    Rocker {
        /// The part that carries the outer end.
        pushrod_on: Component,
    },
    /// The damper stands on this part.
    Direct {
        /// The part that carries the moving eye.
        on: Component,
    },
    /// The strut is the damper: from its lower point to its top mount.
    Strut,
}

/// What springs a corner, beside a third spring and anti-roll bars.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spring {
    /// A spring on the damper (or strut).
    OnDamper {
        /// Its rate, newtons per metre.
        rate: f64,
    },
    /// A spring that stands apart.
    Separate {
        /// The part that carries its moving eye.
        on: Component,
        /// Its rate, newtons per metre.
        rate: f64,
    },
    /// A torsion bar along the rocker's axis.
    TorsionBar {
        /// Its rate, newton metres per radian.
        rate: f64,
    },
}

/// What kind of anti-roll bar an axle has, and how stiff it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AntiRollBar {
    /// Its kind.
    pub kind: BarKind,
    /// Its rate, newton metres per radian of twist.
    pub rate: Option<f64>,
}

/// The two kinds of anti-roll bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BarKind {
    /// A bar across the car with an arm at each end.
    U,
    /// A stem that swings fore and aft, with a crossbar at its head; roll twists the stem.
    T,
}

/// A spring across an axle, from one side's part to the other's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThirdSpring {
    /// The part of each side that carries its end.
    pub on: Component,
    /// Its rate, newtons per metre.
    pub rate: Option<f64>,
}

/// The damper's length eye to eye at its stops, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DamperStops {
    /// Fully compressed.
    pub shortest: f64,
    /// Fully extended.
    pub longest: f64,
}
