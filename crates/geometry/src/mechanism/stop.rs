//! A linkage that goes no further: where, and which links are the reason.

use crate::car::position::WheelPosition;
use crate::car::steering::SteerInput;
use crate::number::unit::LengthUnit;
use std::fmt;

/// Why a linkage stops.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StopKind {
    /// The links named come into line: a dead point.
    DeadPoint,
    /// The rod named cannot reach its rocker or bar arm any further.
    OutOfReach,
    /// The links do not close at all with these lengths.
    CannotAssemble,
    /// The adjuster named does not reach the asked alignment.
    CannotAlign,
    /// An input is not a finite number.
    NotFinite,
    /// A point, link or freedom is missing: the corner is no mechanism.
    NoMechanism,
}

/// A limit of a motion, with its position.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// Which corner, where it is known.
    pub wheel: Option<WheelPosition>,
    /// What ends the motion.
    pub kind: StopKind,
    /// Wheel travel of the last pose that closes, metres.
    pub travel: f64,
    /// Steering input of the last pose that closes: rack travel, metres, or turn of the pitman arm,
    /// radians.
    pub steer: f64,
    /// The links concerned, in words.
    pub links: Vec<&'static str>,
    /// By how much the links fail to meet, metres; zero at a dead point.
    pub lacking: f64,
    /// Whether they fail to meet because they are too long.
    pub too_long: bool,
    /// What the steering input counts.
    pub input: SteerInput,
}

impl Stop {
    /// `off` is by how much links cannot meet, metres: positive where they are too long, less where they are
    /// too short.
    pub(crate) fn new(kind: StopKind, travel: f64, steer: f64, links: Vec<&'static str>, off: f64) -> Self {
        let (lacking, too_long) = (off.abs(), off > 0.0);
        Stop { wheel: None, kind, travel, steer, links, lacking, too_long, input: SteerInput::RackTravel }
    }

    pub(crate) fn steered_by(mut self, input: SteerInput) -> Self {
        self.input = input;
        self
    }

    pub(crate) fn at_wheel(mut self, wheel: WheelPosition) -> Self {
        self.wheel = Some(wheel);
        self
    }
}

impl Stop {
    /// The same in words, with lengths in this unit; `Display` has millimetres.
    #[must_use]
    pub fn in_words(&self, lengths: LengthUnit) -> String {
        let wheel = self.wheel.map_or_else(String::new, |wheel| format!("{wheel}: "));
        let links = if self.links.is_empty() { "the links".into() } else { self.links.join("; ") };
        let travel = lengths.say(self.travel, 2);
        // Straight ahead goes without saying, and an axle that nothing steers is always straight ahead.
        let steer = match self.input {
            _ if self.steer == 0.0 => String::new(),
            SteerInput::RackTravel => format!(", {} rack", lengths.say(self.steer, 2)),
            SteerInput::PitmanAngle => format!(", {:.2}° pitman arm", self.steer.to_degrees()),
        };
        let said = match self.kind {
            StopKind::DeadPoint => {
                format!("the linkage locks at {travel} travel{steer}: in line there: {links}")
            }
            StopKind::OutOfReach => format!("{links} cannot reach further than {travel} travel{steer}"),
            StopKind::CannotAssemble => {
                let by = lengths.say(self.lacking, 2);
                let off = match self.links.len() {
                    _ if self.lacking == 0.0 => "cannot meet".to_owned(),
                    2.. => format!("are off by up to {by}"),
                    _ if self.too_long => format!("is too long by {by}"),
                    _ => format!("is too short by {by}"),
                };
                format!("the links cannot be put together in the design pose: {links} {off}")
            }
            StopKind::CannotAlign => format!("the asked toe or camber is out of reach of {links}"),
            StopKind::NotFinite => "travel or steering input is not a finite number".to_owned(),
            StopKind::NoMechanism => format!("the corner is no mechanism: {links}"),
        };
        wheel + &said
    }
}

impl fmt::Display for Stop {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.in_words(LengthUnit::Millimetre))
    }
}

impl std::error::Error for Stop {}
