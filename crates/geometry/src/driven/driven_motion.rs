//! What the upright drives, as it stands and moves.

use crate::number::real::Real;
use nalgebra::Vector3;

/// A length or angle and its rate per unit wheel travel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ValueAndRate<T: Real> {
    /// The value.
    pub value: T,
    /// Its derivative to wheel travel, steering held.
    pub per_travel: T,
}

/// A point as it stands and moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moving<T: Real> {
    /// Its place, metres.
    pub at: Vector3<T>,
    /// Its velocity per unit wheel travel, steering held.
    pub per_travel: Vector3<T>,
}

/// The drop link of a T-bar on one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DropLink<T: Real> {
    /// Its outer end.
    pub outer: Moving<T>,
    /// The place of its end on the crossbar in the design pose, metres.
    pub bar: Vector3<T>,
    /// Its length, metres.
    pub length: T,
}

/// How far a spring is pressed, and what it answers with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpringState<T: Real> {
    /// Its rate, newtons per metre; newton metres per radian of a torsion bar.
    pub rate: f64,
    /// How far pressed, metres shorter or radians turned, up to a constant; and its rate per unit wheel
    /// travel, + = bump presses it.
    pub by: ValueAndRate<T>,
}

/// All that one upright drives; what a corner does not have is `None`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct DrivenMotion<T: Real> {
    /// Turn of the rocker from the design pose, radians.
    pub rocker: Option<ValueAndRate<T>>,
    /// Length of the damper, metres.
    pub damper: Option<ValueAndRate<T>>,
    /// Length of a spring that stands apart from the damper, metres.
    pub spring: Option<ValueAndRate<T>>,
    /// Turn of the anti-roll bar's arm from the design pose, radians.
    pub bar: Option<ValueAndRate<T>>,
    /// The drop link of a T-bar.
    pub drop_link: Option<DropLink<T>>,
    /// This side's end of a third spring.
    pub third_spring_end: Option<Moving<T>>,
}
