//! What is known of a reading, and the macro that keeps its words and its formula in one place.

use crate::number::unit::Unit;
use std::borrow::Cow;

/// What a reading belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Scope {
    /// One wheel.
    Wheel,
    /// An axle.
    Axle,
}

/// Which motion of the axle a reading is a rate of.
///
/// Where each wheel moves on its own, the other wheel makes no difference. On an axle that moves as one (a beam
/// axle) it does, so a rate has to say what the other wheel does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MotionOf {
    /// None: the reading is of the pose alone, or of a motion of the steering.
    Pose,
    /// Both wheels travel together.
    Heave,
    /// The wheels travel opposite ways.
    Roll,
    /// One wheel travels, the other is held.
    OneWheel,
}

impl MotionOf {
    /// The motion in a word, for data; empty where there is none.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            MotionOf::Pose => "",
            MotionOf::Heave => "heave",
            MotionOf::Roll => "roll",
            MotionOf::OneWheel => "one_wheel",
        }
    }

    /// The motion in words; empty where there is none.
    #[must_use]
    pub fn in_words(self) -> &'static str {
        match self {
            MotionOf::Pose => "",
            MotionOf::Heave => "in heave: both wheels travel together",
            MotionOf::Roll => "in roll: the wheels travel opposite ways",
            MotionOf::OneWheel => "by one wheel: the other wheel is held",
        }
    }
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
    /// Rates of a beam axle in roll.
    BeamInRoll,
    /// Rates of a beam axle by one wheel.
    BeamByOneWheel,
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
            Group::BeamInRoll => "Beam axle in roll",
            Group::BeamByOneWheel => "Beam axle by one wheel, the other held",
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
    /// Which motion it is a rate of.
    pub motion: MotionOf,
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

impl Reading {
    /// Whether only an axle that moves as one has it.
    #[must_use]
    pub fn is_of_beams(&self) -> bool {
        matches!(self.group, Group::BeamInRoll | Group::BeamByOneWheel)
    }

    /// Whether it counts how springs load a wheel, which takes second derivatives of the wheel's motion.
    #[must_use]
    pub fn is_of_wheel_load(&self) -> bool {
        matches!(self.unit, Unit::SpringRate | Unit::SpringRateGain)
    }

    /// The motion that a name of a person's own does not say, on an axle that moves as one: ", in heave", or
    /// nothing.
    #[must_use]
    pub fn unsaid_motion(&self, name: &str, moves_as_one: bool) -> &'static str {
        let said = ["heave", "roll", "one wheel"].into_iter().any(|word| name.to_lowercase().contains(word));
        match self.motion {
            _ if said || !moves_as_one => "",
            MotionOf::Pose => "",
            MotionOf::Heave => ", in heave",
            MotionOf::Roll => ", in roll",
            MotionOf::OneWheel => ", by one wheel",
        }
    }

    /// Its name on an axle: where that moves as one, the name says which motion a rate is of.
    #[must_use]
    pub fn name_on(&self, moves_as_one: bool) -> Cow<'static, str> {
        let says = self.name.contains("heave") || self.motion != MotionOf::Heave;
        if moves_as_one && !says { format!("{}, in heave", self.name).into() } else { self.name.into() }
    }
}

/// The motion that an entry of the catalogue names.
macro_rules! motion_of {
    () => {
        crate::readings::table::MotionOf::Pose
    };
    ($motion:ident) => {
        crate::readings::table::MotionOf::$motion
    };
}

/// Writes a family of readings: its table and the function that computes the values, in one order.
macro_rules! readings {
    (
        scope $scope:ident; group $group:ident;
        values($($arg:ident : $ty:ident),*) { $($before:tt)* }
        $(
            $key:literal, $name:literal, $unit:ident $(in $motion:ident)?,
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
                unit: crate::number::unit::Unit::$unit,
                motion: motion_of!($($motion)?),
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
        pub(super) fn values<T: crate::number::real::Real>($($arg: &$ty<T>,)* mut put: impl FnMut(usize, T)) {
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
