//! Which curve is meant.

use crate::session::SteerWords;
use wheelpath_geometry::{CarPose, End, Reading, Scope, Side, Travelling, Unit, WheelPosition, reading};

/// What a curve runs over.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Over {
    /// Travel of the axle's wheels; steering is held.
    Travel(Travelling),
    /// The steering input: rack travel or turn of the pitman arm; wheel travel is held.
    Steer,
}

/// What a curve shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shown {
    /// A reading.
    Reading(&'static Reading),
    /// The outer wheel's angle over the inner's, beside the ideal.
    OuterOverInner,
}

/// One curve of the wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spec {
    /// Of which axle.
    pub end: End,
    /// Over what.
    pub over: Over,
    /// What the curve shows.
    pub shown: Shown,
}

impl Spec {
    /// A reading, by its key, over both wheels' travel.
    #[must_use]
    pub fn over_travel(end: End, key: &str) -> Option<Self> {
        Some(Spec { end, over: Over::Travel(Travelling::Both), shown: Shown::Reading(reading(key)?) })
    }

    /// A reading, by its key, over steer.
    #[must_use]
    pub fn over_steer(key: &str) -> Option<Self> {
        Some(Spec { end: End::Front, over: Over::Steer, shown: Shown::Reading(reading(key)?) })
    }

    /// The curves a car starts with.
    #[must_use]
    pub fn usual(steered: bool) -> Vec<Self> {
        let outer = Spec { end: End::Front, over: Over::Steer, shown: Shown::OuterOverInner };
        let mut all =
            vec![Spec::over_travel(End::Front, "toe"), Spec::over_travel(End::Front, "camber_to_body")];
        if steered {
            all.extend([Some(outer), Spec::over_steer("ackermann_error")]);
        }
        all.extend([Spec::over_travel(End::Rear, "toe"), Spec::over_travel(End::Rear, "camber_to_body")]);
        all.into_iter().flatten().collect()
    }

    /// Name in words: "Toe over travel, front".
    #[must_use]
    pub fn title(&self) -> String {
        let [title, ..] = self.titles(false, false);
        title
    }

    /// The name from long to short, for a place that is narrow; `change` where the change from zero
    /// travel is shown, `moves_as_one` where the axle is a beam.
    #[must_use]
    pub fn titles(&self, change: bool, moves_as_one: bool) -> [String; 3] {
        match self.shown {
            Shown::OuterOverInner => {
                ["Outer over inner wheel angle", "Outer over inner angle", "Outer over inner"]
                    .map(str::to_owned)
            }
            Shown::Reading(reading) => {
                let over = match self.over {
                    Over::Travel(Travelling::Opposite) => "over roll travel",
                    Over::Travel(_) => "over travel",
                    Over::Steer => "over steer",
                };
                let what = if change { " change" } else { "" };
                let name = reading.name_on(moves_as_one);
                let short = name.replace(" the ", " ");
                let end = self.end;
                [
                    format!("{name}{what} {over}, {end}"),
                    format!("{short}{what} {over}, {end}"),
                    format!("{short}{what}, {end}"),
                ]
            }
        }
    }

    /// What it runs over in a car that is steered so: its name, which way is positive, and the unit.
    #[must_use]
    pub fn runs_over(&self, steer: &SteerWords) -> (&'static str, &'static str, Unit) {
        match self.over {
            Over::Travel(Travelling::Opposite) => ("roll", "left bump", Unit::Length),
            Over::Travel(_) => ("travel", "bump", Unit::Length),
            Over::Steer => (steer.axis, steer.positive, steer.unit),
        }
    }

    /// The key of the reading whose colour it has.
    #[must_use]
    pub fn colour_key(&self) -> &'static str {
        match self.shown {
            Shown::Reading(reading) => reading.key,
            Shown::OuterOverInner => "outer_steer",
        }
    }

    /// Whether left and right are told apart.
    #[must_use]
    pub fn has_sides(&self) -> bool {
        matches!(self.shown, Shown::Reading(reading) if reading.scope == Scope::Wheel)
    }

    /// The pose of the car at a place along the curve: the rest of it as held.
    #[must_use]
    pub fn pose(&self, held: &CarPose, along: f64) -> CarPose {
        let mut pose = *held;
        match self.over {
            Over::Travel(travelling) => {
                for (side, travel) in Side::BOTH.into_iter().zip(travelling.travels(along)) {
                    pose.travel[WheelPosition { end: self.end, side }.index()] = travel;
                }
            }
            Over::Steer => pose.steer = along,
        }
        pose
    }
}
