//! A limit on a reading being put together.

use wheelpath_geometry::{
    Cornering, End, GRAVITY, LengthUnit, Limited, PoseRange, Quantity, Reading, Requirement, Scope, Side,
    SteadyCorner, Travelling, axle_readings, wheel_readings,
};

/// So many readings are offered while one is typed.
const OFFERED: usize = 6;

/// A limit being put together.
#[derive(Clone, Debug)]
pub struct LimitDraft {
    pub(in crate::panels) search: String,
    pub(in crate::panels) reading: Option<&'static Reading>,
    pub(in crate::panels) end: End,
    pub(in crate::panels) side: Option<Side>,
    pub(in crate::panels) is_change: bool,
    pub(in crate::panels) path: Path,
    /// First and last travel, metres.
    pub(in crate::panels) travel: [f64; 2],
    pub(in crate::panels) opposite: bool,
    /// Lateral acceleration, g.
    pub(in crate::panels) lateral: f64,
    /// Banking, radians, + lowers the inside of a left turn.
    pub(in crate::panels) banking: f64,
    /// Steering input in the corner, metres or radians.
    pub(in crate::panels) steer: f64,
    pub(in crate::panels) bounds: [f64; 2],
    pub(in crate::panels) name: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::panels) enum Path {
    Design,
    Travel,
    Steer,
    SteadyCorner,
}

pub(in crate::panels) const PATHS: [(Path, &str); 4] = [
    (Path::Travel, "wheel travel"),
    (Path::Steer, "the steering, stop to stop"),
    (Path::SteadyCorner, "steady cornering"),
    (Path::Design, "the design pose alone"),
];

impl LimitDraft {
    /// Nothing said yet, of a car that is counted in these lengths.
    #[must_use]
    pub fn new(lengths: LengthUnit) -> Self {
        LimitDraft {
            search: String::new(),
            reading: None,
            end: End::Front,
            side: None,
            is_change: false,
            path: Path::Travel,
            travel: [-lengths.stretch(), lengths.stretch()],
            opposite: false,
            lateral: 1.0,
            banking: 0.0,
            steer: 0.0,
            bounds: [f64::NAN; 2],
            name: None,
        }
    }
}

impl LimitDraft {
    /// Readings whose name or key holds what is typed, those that begin so first.
    pub(in crate::panels) fn offers(&self) -> Vec<&'static Reading> {
        let typed = self.search.trim().to_lowercase();
        if typed.is_empty() {
            return Vec::new();
        }
        let all = wheel_readings().iter().chain(axle_readings());
        let holds = |one: &&Reading| one.name.to_lowercase().contains(&typed) || one.key.contains(&typed);
        let mut found: Vec<&Reading> = all.filter(holds).collect();
        found.sort_by_key(|one| !one.name.to_lowercase().starts_with(&typed));
        found.truncate(OFFERED);
        found
    }

    pub(in crate::panels) fn assembly(&self) -> String {
        match self.side {
            Some(side) => format!("{} {side}", self.end),
            None => self.end.to_string(),
        }
    }

    /// What it is called where no other name is typed.
    pub(in crate::panels) fn usual_name(&self) -> String {
        let Some(reading) = self.reading else { return String::new() };
        let change = if self.is_change { "change of " } else { "" };
        let over = match self.path {
            Path::Design => "design",
            Path::Travel => "over travel",
            Path::Steer => "over steer",
            Path::SteadyCorner => "cornering",
        };
        crate::panels::widgets::notices::capital(&format!(
            "{change}{}, {}, {over}",
            reading.name,
            self.assembly()
        ))
    }

    /// The limit, as far as it is one.
    pub(in crate::panels) fn limit(&self) -> Option<Requirement> {
        let reading = self.reading?;
        let over = match self.path {
            Path::Design => PoseRange::Design,
            Path::Steer => PoseRange::Steer,
            Path::Travel => {
                let wheels = if self.opposite { Travelling::Opposite } else { Travelling::Both };
                PoseRange::Travel { from: self.travel[0], to: self.travel[1], wheels }
            }
            Path::SteadyCorner => {
                let banking = self.banking;
                let at = Cornering { banking, ..Cornering::level(self.lateral * GRAVITY, 0.0) };
                PoseRange::SteadyCorner(SteadyCorner { at, steer: self.steer, gradients: None })
            }
        };
        let side = self.side.filter(|_| reading.scope == Scope::Wheel);
        let taken = if self.is_change { Quantity::Change } else { Quantity::Value };
        let of = Limited::Reading { reading, end: self.end, side, taken, over };
        let [least, most] = self.bounds.map(|bound| Some(bound).filter(|bound| bound.is_finite()));
        let name = self.name.clone().unwrap_or_else(|| self.usual_name());
        (least.is_some() || most.is_some()).then_some(Requirement { name, about: None, of, least, most })
    }
}
