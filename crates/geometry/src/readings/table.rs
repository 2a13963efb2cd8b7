//! What is known of a reading, and the macro that keeps its words and its formula in one place.

use crate::unit::Unit;

/// What a reading belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Scope {
    /// One wheel.
    Wheel,
    /// An axle.
    Axle,
}

/// Readings that are looked at together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Group {
    /// Camber, toe, steer.
    WheelAngles,
    /// Caster, inclination, trail, scrub radius.
    SteeringAxis,
    /// Track and wheelbase.
    Place,
    /// Bump steer, camber gain, instant centres.
    Motion,
    /// What the rack does.
    SteerMotion,
    /// Springs, rocker, damper, anti-roll bar.
    Springing,
    /// Roll centre.
    Roll,
    /// Ackermann in its forms.
    Ackermann,
    /// Turn centre and turning circle.
    Turning,
    /// Anti-dive, anti-lift, anti-squat.
    Pitch,
}

impl Group {
    /// Heading in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Group::WheelAngles => "Wheel angles",
            Group::SteeringAxis => "Steering axis",
            Group::Place => "Track and wheelbase",
            Group::Motion => "Motion with travel",
            Group::SteerMotion => "Motion with steer",
            Group::Springing => "Springs, dampers, bars",
            Group::Roll => "Roll centre",
            Group::Ackermann => "Ackermann",
            Group::Turning => "Turning",
            Group::Pitch => "Braking and driving",
        }
    }
}

/// One reading of the catalogue.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Name in data; its unit is appended on the surface.
    pub key: &'static str,
    /// Name in words.
    pub name: &'static str,
    /// Unit.
    pub unit: Unit,
    /// What it belongs to.
    pub scope: Scope,
    /// What it is looked at with.
    pub group: Group,
    /// What + and - mean.
    pub sign: &'static str,
    /// What it is, in a sentence.
    pub definition: &'static str,
    /// How it is computed.
    pub formula: &'static str,
    /// Where the term or relation comes from.
    pub source: &'static str,
    /// Why there may be none; empty where there always is one.
    pub absent: &'static str,
    /// Its place among the values of its scope.
    pub index: usize,
}

/// Writes a family of readings: its table and the function that computes the values, in one order.
macro_rules! readings {
    (
        scope $scope:ident; group $group:ident;
        values($($arg:ident : $ty:ident),*) { $($before:tt)* }
        $(
            $key:literal, $name:literal, $unit:ident,
            sign $sign:literal,
            $definition:literal,
            formula $formula:literal,
            source $source:literal,
            absent $absent:literal
            => $value:expr;
        )*
    ) => {
        /// What is known of these readings.
        pub(super) const TABLE: &[crate::readings::table::Reading] = &[$(
            crate::readings::table::Reading {
                key: $key,
                name: $name,
                unit: crate::unit::Unit::$unit,
                scope: crate::readings::table::Scope::$scope,
                group: crate::readings::table::Group::$group,
                sign: $sign,
                definition: $definition,
                formula: $formula,
                source: $source,
                absent: $absent,
                index: 0,
            },
        )*];

        /// Hands the values over, each with its place among them.
        #[inline(always)]
        pub(super) fn values<T: crate::real::Real>($($arg: &$ty<T>,)* mut put: impl FnMut(usize, T)) {
            $($before)*
            let place = 0;
            $(
                put(place, $value);
                let place = place + 1;
            )*
            let _ = place;
        }
    };
}
