//! What an engineer wants a reading, a distance or a joint to stay within, and over which poses.

use crate::axle::axle_pose::Travelling;
use crate::car::part::Part;
use crate::car::position::{End, Side, WheelPosition};
use crate::number::unit::{LengthUnit, Unit, fixed};
use crate::readings::{Reading, Scope};
use crate::road::{Cornering, Gradients};
use std::fmt;

/// A limit that a car is to keep.
#[derive(Clone, Debug, PartialEq)]
pub struct Requirement {
    /// Its name.
    pub name: String,
    /// Where it comes from, and what for.
    pub about: Option<String>,
    /// What is limited.
    pub of: Limited,
    /// Not less than this: SI units, radians.
    pub least: Option<f64>,
    /// Not more than this: SI units, radians.
    pub most: Option<f64>,
}

/// What is limited.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limited {
    /// A reading over some poses.
    Reading {
        /// Which reading it is.
        reading: &'static Reading,
        /// At which end.
        end: End,
        /// On which side; `None` for both wheels, and for a reading of the axle.
        side: Option<Side>,
        /// Its value, or how far it goes from its value in the design pose.
        taken: Quantity,
        /// The poses over which it is asked.
        over: PoseRange,
    },
    /// Steer angle of the inner front wheel at full lock, the smaller one of both turns.
    Lock,
    /// Distance between the surfaces of parts of one axle, the smallest over travel and steer.
    Distance {
        /// Of which axle; `None` for both.
        end: Option<End>,
        /// Between which parts.
        between: Pairs,
        /// First and last wheel travel, metres; steer goes from stop to stop.
        travel: [f64; 2],
    },
    /// What joints have left to the limits that the car gives them, the least over travel and steer.
    JointMargin {
        /// Of which axle; `None` for both.
        end: Option<End>,
        /// First and last wheel travel, metres; steer goes from stop to stop.
        travel: [f64; 2],
    },
}

/// A kind of part, on whichever side it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PartKind {
    /// A part with a radius.
    Part(Part),
    /// The tyre.
    Tyre,
    /// The rim's barrel.
    Rim,
}

impl PartKind {
    /// Every kind of part.
    pub fn all() -> impl Iterator<Item = PartKind> {
        [PartKind::Tyre, PartKind::Rim].into_iter().chain(Part::ALL.iter().copied().map(PartKind::Part))
    }

    /// The name in files and data.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            PartKind::Part(part) => part.key(),
            PartKind::Tyre => "tyre",
            PartKind::Rim => "rim",
        }
    }
}

impl fmt::Display for PartKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PartKind::Part(part) => write!(f, "{part}"),
            PartKind::Tyre | PartKind::Rim => f.write_str(self.key()),
        }
    }
}

/// Which pairs of parts are looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pairs {
    /// All that are not joined.
    All,
    /// Those with a part of this kind.
    With(PartKind),
    /// Those of these two kinds.
    Of(PartKind, PartKind),
}

impl fmt::Display for Pairs {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Pairs::All => f.write_str("any two parts"),
            Pairs::With(kind) => write!(f, "{kind} and any other part"),
            Pairs::Of(one, other) => write!(f, "{one} and {other}"),
        }
    }
}

/// What of a reading counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Its value.
    Value,
    /// Its value less that in the design pose, straight ahead.
    Change,
}

/// Over which poses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PoseRange {
    /// The design pose alone.
    Design,
    /// Wheel travel, metres, straight ahead.
    Travel {
        /// First.
        from: f64,
        /// Last.
        to: f64,
        /// Which wheels travel.
        wheels: Travelling,
    },
    /// The steering from stop to stop, wheels at zero travel.
    Steer,
    /// The middle of a corner, readings to the road.
    SteadyCorner(SteadyCorner),
}

/// Steady cornering.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteadyCorner {
    /// The accelerations.
    pub at: Cornering,
    /// The steering input, metres or radians.
    pub steer: f64,
    /// How the body rolls; `None` for an estimate from springs and masses.
    pub gradients: Option<Gradients>,
}

impl Requirement {
    /// The unit of its bounds.
    #[must_use]
    pub fn unit(&self) -> Unit {
        match self.of {
            Limited::Reading { reading, .. } => reading.unit,
            Limited::Lock | Limited::JointMargin { .. } => Unit::Degree,
            Limited::Distance { .. } => Unit::Length,
        }
    }

    /// Decimals that its values are written with: one more than usual where no more than ten steps of the
    /// usual last one lie between its bounds and their middle.
    #[must_use]
    pub fn decimals(&self, lengths: LengthUnit) -> usize {
        let unit = self.unit();
        let usual = unit.decimals(lengths);
        let steps = 10.0_f64.powi(i32::try_from(usual).unwrap_or(0));
        let room = match (self.least, self.most) {
            (Some(least), Some(most)) => 0.5 * unit.shown_change(least, most, lengths),
            (one, other) => one.or(other).map_or(f64::NAN, |bound| unit.shown(bound, lengths)).abs(),
        };
        // A bound of zero has no size of its own.
        if room > 0.0 && room * steps < 10.5 { usual + 1 } else { usual }
    }

    /// A value of what it limits, for a person.
    #[must_use]
    pub fn write(&self, value: f64, lengths: LengthUnit) -> String {
        self.unit().write_to(value, lengths, self.decimals(lengths))
    }

    /// Its bounds, for a person; nothing where there are none.
    #[must_use]
    pub fn bounds_in_words(&self, lengths: LengthUnit) -> String {
        let write = |value| self.write(value, lengths);
        let number = |value| self.unit().write_number_to(value, lengths, self.decimals(lengths));
        let bounds = (self.least, self.most);
        if self.unit() == Unit::PerMetre {
            return arm_bounds_in_words(bounds, number, write);
        }
        match bounds {
            (Some(least), Some(most)) => format!("{} to {}", number(least), write(most)),
            (Some(least), None) => format!("at least {}", write(least)),
            (None, Some(most)) => format!("at most {}", write(most)),
            (None, None) => String::new(),
        }
    }

    /// How far a value is within both bounds; negative beyond one.
    #[must_use]
    pub fn margin(&self, value: f64) -> f64 {
        let above = self.least.map_or(f64::INFINITY, |least| value - least);
        let below = self.most.map_or(f64::INFINITY, |most| most - value);
        above.min(below)
    }

    /// How much more a value is than another, with its sign, for a person.
    #[must_use]
    pub fn write_change(&self, from: f64, to: f64, lengths: LengthUnit) -> String {
        self.unit().write_change_to(from, to, lengths, self.decimals(lengths))
    }

    /// How far a value is within both bounds, for a person: of a swing arm in its length.
    #[must_use]
    pub fn write_margin(&self, value: f64, lengths: LengthUnit) -> String {
        let (unit, margin) = (self.unit(), self.margin(value));
        let nearer = [self.least, self.most].into_iter().flatten();
        let nearer = nearer.min_by(|a, b| (value - a).abs().total_cmp(&(value - b).abs()));
        let room = nearer.map_or(f64::NAN, |bound| unit.shown_change(bound, value, lengths).abs());
        let room = if margin < 0.0 { -room } else { room };
        unit.with_symbol(fixed(room, self.decimals(lengths)), lengths)
    }
}

/// The bounds of one over a swing arm as bounds of the arm: where they hold zero between them, arms that are
/// longer than both are within them, and so are parallel links.
fn arm_bounds_in_words(
    bounds: (Option<f64>, Option<f64>),
    number: impl Fn(f64) -> String,
    write: impl Fn(f64) -> String,
) -> String {
    match bounds {
        (Some(least), Some(most)) if least * most > 0.0 => format!("{} to {}", number(most), write(least)),
        (Some(least), Some(most)) if least < 0.0 && most > 0.0 => {
            format!("not {} to {}", number(least), write(most))
        }
        (Some(least), None) if least > 0.0 => format!("0 to {}", write(least)),
        (None, Some(most)) if most < 0.0 => format!("{} to 0", write(most)),
        (Some(least), None) if least < 0.0 => format!("not {} to 0", write(least)),
        (None, Some(most)) if most > 0.0 => format!("not 0 to {}", write(most)),
        (Some(_), Some(most)) if most > 0.0 => format!("at least {}", write(most)),
        (Some(least), Some(_)) if least < 0.0 => format!("at most {}", write(least)),
        (Some(_), None) => "at least 0, or parallel".into(),
        (None, Some(_)) => "at most 0, or parallel".into(),
        (Some(_), Some(_)) => "parallel".into(),
        (None, None) => String::new(),
    }
}

impl Limited {
    /// Whose values count: wheels, or an axle as a whole.
    #[must_use]
    pub fn wheels(&self) -> Vec<WheelPosition> {
        match *self {
            Limited::Reading { reading, end, side, .. } if reading.scope == Scope::Wheel => {
                let sides = side.map_or(Side::BOTH.to_vec(), |side| vec![side]);
                sides.into_iter().map(|side| WheelPosition { end, side }).collect()
            }
            _ => Vec::new(),
        }
    }

    /// What is limited, in data: the key of a reading, `lock`, `distance` or `joint_margin`.
    #[must_use]
    pub fn key(&self) -> &'static str {
        match self {
            Limited::Reading { reading, .. } => reading.key,
            Limited::Lock => "lock",
            Limited::Distance { .. } => "distance",
            Limited::JointMargin { .. } => "joint_margin",
        }
    }

    /// The axles that it is about.
    #[must_use]
    pub fn ends(&self) -> Vec<End> {
        match *self {
            Limited::Reading { end, .. } => vec![end],
            Limited::Lock => vec![End::Front],
            Limited::Distance { end, .. } | Limited::JointMargin { end, .. } => {
                end.map_or(End::BOTH.to_vec(), |end| vec![end])
            }
        }
    }
}
