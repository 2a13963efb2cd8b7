//! A limit on distances, joints or the steering lock being put together.

use wheelpath_geometry::{End, LengthUnit, Limited, Pairs, PartKind, Requirement};

/// What is limited.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::panels) enum FitKind {
    Distance,
    Joints,
    Lock,
}

pub(in crate::panels) const FIT_KINDS: [(FitKind, &str); 3] = [
    (FitKind::Distance, "distance of parts"),
    (FitKind::Joints, "what joints have left"),
    (FitKind::Lock, "steering lock"),
];

/// A limit being put together.
#[derive(Clone, Debug)]
pub struct FitDraft {
    pub(in crate::panels) what: FitKind,
    pub(in crate::panels) end: Option<End>,
    /// Any part where none is named.
    pub(in crate::panels) parts: [Option<PartKind>; 2],
    /// First and last travel, metres.
    pub(in crate::panels) travel: [f64; 2],
    /// Not less than this, metres or radians.
    pub(in crate::panels) least: f64,
}

impl FitDraft {
    /// Nothing said yet, of a car that is counted in these lengths.
    #[must_use]
    pub fn new(lengths: LengthUnit) -> Self {
        let travel = [-lengths.usual_travel(), lengths.usual_travel()];
        FitDraft { what: FitKind::Distance, end: None, parts: [None; 2], travel, least: f64::NAN }
    }

    pub(in crate::panels) fn limit(&self) -> Option<Requirement> {
        let FitDraft { what, end, parts, travel, least } = *self;
        let axle = end.map_or_else(|| "both axles".to_owned(), |end| end.to_string());
        let (of, name) = match what {
            FitKind::Distance => {
                let between = match parts {
                    [Some(one), Some(other)] => Pairs::Of(one, other),
                    [Some(one), None] | [None, Some(one)] => Pairs::With(one),
                    [None, None] => Pairs::All,
                };
                (Limited::Distance { end, between, travel }, format!("Distance, {between}, {axle}"))
            }
            FitKind::Joints => (Limited::JointMargin { end, travel }, format!("Joint margin, {axle}")),
            FitKind::Lock => (Limited::Lock, "Steering lock".to_owned()),
        };
        let least = Some(least).filter(|least| least.is_finite());
        least.is_some().then_some(Requirement { name, about: None, of, least, most: None })
    }
}
