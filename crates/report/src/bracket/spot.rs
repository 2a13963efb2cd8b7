//! What is drawn of a hole on the template.

use super::{BracketSheet, FLAT, short};
use crate::drawing::LineStyle;

/// A cross that reaches further is not drawn through.
const WIDE: f64 = 18.0;

/// What a spot is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Old,
    New,
    Reference,
}

impl Kind {
    /// Of the circle.
    pub fn style(self) -> LineStyle {
        match self {
            Kind::Old => LineStyle::Dashed,
            Kind::New => LineStyle::Thick,
            Kind::Reference => LineStyle::Thin,
        }
    }

    /// Of the cross.
    pub fn cross(self) -> LineStyle {
        if self == Kind::Old { LineStyle::Dashed } else { LineStyle::Thin }
    }
}

/// One hole in the plate's plane, millimetres.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Spot {
    pub kind: Kind,
    pub u: f64,
    pub v: f64,
    /// None where the diameter is not known: a cross alone.
    pub radius: Option<f64>,
    pub name: String,
    /// Under the name.
    pub details: Vec<String>,
    /// How exactly it must be placed, with the unit, if known.
    pub within: Option<String>,
    /// What must not be missed.
    pub loud: Option<String>,
    /// Where it was, or where it goes.
    pub partner: Option<(f64, f64)>,
}

impl Spot {
    /// How far its cross reaches: past the circle.
    pub fn reach(&self) -> f64 {
        self.radius.map_or(4.0, |radius| radius + 3.0)
    }

    /// Its cross as pieces of the two arms, from and to, seen from the centre: of a wide hole the middle
    /// and the rim.
    pub fn arms(&self) -> Vec<(f64, f64)> {
        let reach = self.reach();
        if reach <= WIDE {
            return vec![(-reach, reach)];
        }
        let rim = reach - 6.0;
        vec![(-reach, -rim), (-6.0, 6.0), (rim, reach)]
    }
}

/// All spots: new, old, reference.
pub(super) fn spots(sheet: &BracketSheet) -> Vec<Spot> {
    let plate = &sheet.plate;
    let radius = |diameter: Option<f64>| diameter.map(|d| 500.0 * d);
    let kind_words = |word: &str, diameter: Option<f64>| match diameter {
        Some(diameter) => format!("{word}, Ø {}", sheet.length(diameter)),
        None => word.to_owned(),
    };
    let (mut new, mut old, mut stay) = (Vec::new(), Vec::new(), Vec::new());
    for hole in &sheet.holes {
        let (from, to) = (plate.place(&hole.old), plate.place(&hole.new));
        let step = to - from;
        let in_plane = step.x.hypot(step.y);
        let moved = if in_plane * 1e3 < 0.005 {
            "not moved in the plane".to_owned()
        } else {
            format!("across {}, up {}", sheet.signed(step.x), sheet.signed(step.y))
        };
        let ends = [(from.x * 1e3, from.y * 1e3), (to.x * 1e3, to.y * 1e3)];
        let within =
            hole.tolerance.as_ref().map(|tolerance| sheet.at_most_with_unit(tolerance.narrower().within));
        let headline =
            hole.tolerance.as_ref().map(|one| one.headline(|length| sheet.at_most_with_unit(length)));
        let mut details = vec![kind_words("new", hole.diameter), moved];
        details.extend(headline);
        new.push(Spot {
            kind: Kind::New,
            u: ends[1].0,
            v: ends[1].1,
            radius: radius(hole.diameter),
            name: short(&hole.name),
            details,
            within,
            loud: out_of_plane(sheet, step.z),
            partner: Some(ends[0]),
        });
        old.push(Spot {
            kind: Kind::Old,
            u: ends[0].0,
            v: ends[0].1,
            radius: radius(hole.diameter),
            name: short(&hole.name),
            details: vec![kind_words("old", hole.diameter)],
            within: None,
            loud: None,
            partner: Some(ends[1]),
        });
    }
    for hole in &sheet.references {
        let at = plate.place(&hole.at);
        stay.push(Spot {
            kind: Kind::Reference,
            u: at.x * 1e3,
            v: at.y * 1e3,
            radius: radius(hole.diameter),
            name: short(&hole.name),
            details: vec![kind_words("reference", hole.diameter)],
            within: None,
            loud: None,
            partner: None,
        });
    }
    new.into_iter().chain(old).chain(stay).collect()
}

/// What a move out of the plane asks for, metres toward the eye; none where it is nothing.
pub(super) fn out_of_plane(sheet: &BracketSheet, toward: f64) -> Option<String> {
    let way = if toward > 0.0 { "toward you" } else { "away from you" };
    (toward.abs() >= FLAT).then(|| format!("Also {} {way}: shim or spacer", sheet.with_unit(toward.abs())))
}
