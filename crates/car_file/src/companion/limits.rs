//! Limits beside a car: what readings, distances and joints are to stay within.

use crate::companion::limits_of_fit::{distance, joint_margin};
use crate::fault::problem::{Fault, list};
use crate::read::car::{format_and_version, measures, optional};
use crate::read::fields::{Diagnostics, Fields};
use crate::text::file_kind::FileKind;
use crate::text::nearest::nearest;
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::Measures;
use wheelpath_geometry::{
    Cornering, End, GRAVITY, Gradients, LengthUnit, Limited, PoseRange, Quantity, Reading, Requirement,
    Scope, Side, SteadyCorner, Travelling, Unit, axle_readings, reading_called, readings_beginning,
    wheel_readings,
};

pub(crate) const KEYS: &[&str] = &["format", "version", "about", "units", "axes", "limits"];

pub(crate) fn limits(node: &Node, notes: &mut Diagnostics<'_>) -> Option<Vec<Requirement>> {
    format_and_version(node, FileKind::LIMITS, notes)?;
    let fields = notes.fields(node, "the file", KEYS)?;
    optional(&fields, "about", |n| notes.text(n, "about"))?;
    let measures = measures(&fields, notes)?;
    let node = notes.need(&fields, "limits")?;
    let Kind::List(list) = &node.kind else {
        notes.wrong_shape(node, "limits", "a list, [Reading(...), Distance(...), ...]");
        return None;
    };
    let all: Vec<Option<Requirement>> = list.iter().map(|node| limit(node, measures, notes)).collect();
    all.into_iter().collect()
}

/// The bounds of a number with this unit, in a file of these lengths.
pub(crate) fn bounds(unit: Unit) -> [&'static str; 2] {
    match unit {
        Unit::Degree => ["least_deg", "most_deg"],
        Unit::DegreePerMetre | Unit::DegreePerRackTravel => ["least_deg_per_m", "most_deg_per_m"],
        Unit::DegreePerDegree => ["least_deg_per_deg", "most_deg_per_deg"],
        Unit::Percent => ["least_percent", "most_percent"],
        Unit::PerMetre => ["least_per_m", "most_per_m"],
        Unit::SpringRate => ["least_n_per_mm", "most_n_per_mm"],
        Unit::SpringRateGain => ["least_n_per_mm2", "most_n_per_mm2"],
        Unit::TorsionRate => ["least_nm_per_deg", "most_nm_per_deg"],
        Unit::Metre => ["least_m", "most_m"],
        Unit::Length | Unit::Ratio | Unit::PerTravel => ["least", "most"],
    }
}

fn bound(
    fields: &Fields<'_>,
    key: &'static str,
    unit: Unit,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Option<f64>> {
    let Some(node) = fields.get(key) else { return Some(None) };
    let written = notes.number(node, &format!("`{key}`"))?;
    Some(Some(match unit {
        Unit::Length => measures.length(written),
        Unit::Degree | Unit::DegreePerMetre | Unit::DegreePerRackTravel => written.to_radians(),
        _ => written / unit.data_factor(LengthUnit::Millimetre),
    }))
}

/// A bound in the unit in which the file has it, without what conversion there and back adds in the last digit.
fn as_written(value: f64, unit: Unit, measures: Measures) -> f64 {
    let written = match unit {
        Unit::Length => value * unit.data_factor(measures.units),
        Unit::Degree | Unit::DegreePerMetre | Unit::DegreePerRackTravel => value.to_degrees(),
        _ => value * unit.data_factor(LengthUnit::Millimetre),
    };
    format!("{written:.12e}").parse().unwrap_or(written)
}

pub(crate) fn known_reading(node: &Node, notes: &mut Diagnostics<'_>) -> Option<&'static Reading> {
    let word = match &node.kind {
        Kind::Word => node.name.clone().unwrap_or_default(),
        // A name with blanks or hyphens is no word of RON.
        Kind::Text(text) => text.clone(),
        _ => {
            notes.wrong_shape(node, "the reading", "the key of a reading, a bare word");
            return None;
        }
    };
    if let Some(found) = reading_called(&word) {
        return Some(found);
    }
    let keys = || wheel_readings().iter().chain(axle_readings()).map(|reading| reading.key);
    let fault = Fault::UnknownWord {
        what: "the reading".into(),
        nearest: beginning(&word).or_else(|| nearest(&word, keys()).map(str::to_owned)),
        found: word,
        known: keys().collect(),
    };
    notes.add(node.span.start, fault);
    None
}

/// The readings that begin with a word, in a list; `None` where there are none.
fn beginning(word: &str) -> Option<String> {
    let keys: Vec<&str> = readings_beginning(word).iter().map(|reading| reading.key).collect();
    (!keys.is_empty()).then(|| list(&keys))
}

/// Ends and sides by their words.
const PLACES: [(&str, (End, Option<Side>)); 8] = [
    ("front", (End::Front, None)),
    ("rear", (End::Rear, None)),
    ("front_both", (End::Front, None)),
    ("rear_both", (End::Rear, None)),
    ("front_left", (End::Front, Some(Side::Left))),
    ("front_right", (End::Front, Some(Side::Right))),
    ("rear_left", (End::Rear, Some(Side::Left))),
    ("rear_right", (End::Rear, Some(Side::Right))),
];

/// The older name of `JointMargin` in a file.
pub(crate) const JOINT_RESERVE: &str = "JointReserve";
/// The older name of `Cornering` in a file.
pub(crate) const BEND: &str = "Bend";

#[derive(Clone, Copy)]
enum Word {
    Reading,
    Lock,
    Distance,
    JointMargin,
}

fn limit(node: &Node, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<Requirement> {
    const READING: &[&str] = &["name", "about", "reading", "of", "change", "over"];
    let words = [
        ("Reading", Word::Reading),
        ("Lock", Word::Lock),
        ("Distance", Word::Distance),
        ("JointMargin", Word::JointMargin),
        // Its older name.
        (JOINT_RESERVE, Word::JointMargin),
    ];
    match notes.choice(node, "a limit", &words)? {
        Word::Distance => {
            let (fields, of) = distance(node, measures, notes)?;
            finished(node, &fields, of, Unit::Length, measures, notes)
        }
        Word::JointMargin => {
            let (fields, of) = joint_margin(node, measures, notes)?;
            finished(node, &fields, of, Unit::Degree, measures, notes)
        }
        Word::Lock => {
            let fields =
                notes.fields_after_word(node, "the limit", &["name", "about", "least_deg", "most_deg"])?;
            finished(node, &fields, Limited::Lock, Unit::Degree, measures, notes)
        }
        Word::Reading => {
            // Which bounds it may have depends on the reading.
            let asked = match node.at(&["reading"]) {
                Some(reading) => Some(known_reading(reading, notes)?),
                None => None,
            };
            let unit = asked.map_or(Unit::Ratio, |reading| reading.unit);
            let known: Vec<&'static str> = READING.iter().copied().chain(bounds(unit)).collect();
            let fields = notes.fields_after_word(node, "the limit", &known)?;
            notes.need(&fields, "reading")?;
            let asked = asked?;
            let of = notes.need(&fields, "of").and_then(|n| notes.word(n, "whose the reading is", &PLACES));
            let truth = [("true", Quantity::Change), ("false", Quantity::Value)];
            let taken = optional(&fields, "change", |n| notes.word(n, "`change`", &truth));
            let over = notes.need(&fields, "over").and_then(|n| over(n, measures, notes));
            let (end, side) = of?;
            if asked.scope == Scope::Axle && side.is_some() {
                let fault = Fault::NotHere {
                    what: format!("{} of a wheel", asked.name),
                    found: asked.key,
                    why: "it is a reading of the axle".into(),
                    hint: format!("write `of: {end}`"),
                };
                notes.add(fields.key_start("of"), fault);
                return None;
            }
            let taken = taken?.unwrap_or(Quantity::Value);
            let of = Limited::Reading { reading: asked, end, side, taken, over: over? };
            finished(node, &fields, of, unit, measures, notes)
        }
    }
}

fn finished(
    node: &Node,
    fields: &Fields<'_>,
    of: Limited,
    unit: Unit,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Requirement> {
    let name = notes.need(fields, "name").and_then(|n| notes.text(n, "the name"));
    let about = optional(fields, "about", |n| notes.text(n, "about"));
    let [least_key, most_key] = bounds(unit);
    let least = bound(fields, least_key, unit, measures, notes)?;
    let most = bound(fields, most_key, unit, measures, notes)?;
    match (least, most) {
        (None, None) => {
            let fault = Fault::MissingKey { within: "the limit".into(), key: least_key };
            notes.add(node.span.start, fault);
            None
        }
        (Some(least), Some(most)) if least > most => {
            let fault = Fault::OutOfRange {
                what: "the upper bound".into(),
                value: as_written(most, unit, measures),
                range: "no less than the lower one",
            };
            notes.add(fields.key_start(most_key), fault);
            None
        }
        _ => Some(Requirement { name: name?, about: about?, of, least, most }),
    }
}

#[derive(Clone, Copy)]
enum Path {
    Design,
    Travel,
    Steer,
    SteadyCorner,
}

fn over(node: &Node, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<PoseRange> {
    let words = [
        ("Design", Path::Design),
        ("Travel", Path::Travel),
        ("Steer", Path::Steer),
        ("Cornering", Path::SteadyCorner),
        // Its older name.
        (BEND, Path::SteadyCorner),
    ];
    match notes.choice(node, "what a limit runs over", &words)? {
        Path::Design => notes.word(node, "over", &[("Design", PoseRange::Design)]),
        Path::Steer => notes.word(node, "over", &[("Steer", PoseRange::Steer)]),
        Path::Travel => {
            let fields = notes.fields_after_word(node, "the travel", &["from", "to", "wheels"])?;
            let [from, to] = ["from", "to"].map(|key| {
                let node = notes.need(&fields, key)?;
                notes.number(node, &format!("`{key}`")).map(|written| measures.length(written))
            });
            let words = [("both", Travelling::Both), ("opposite", Travelling::Opposite)];
            let wheels = optional(&fields, "wheels", |n| notes.word(n, "which wheels travel", &words))?;
            Some(PoseRange::Travel { from: from?, to: to?, wheels: wheels.unwrap_or(Travelling::Both) })
        }
        Path::SteadyCorner => cornering(node, measures, notes).map(PoseRange::SteadyCorner),
    }
}

fn cornering(node: &Node, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<SteadyCorner> {
    const CORNERING: &[&str] = &[
        "lateral_g",
        "longitudinal_g",
        "banking_deg",
        "rack",
        "pitman_deg",
        "roll_deg_per_g",
        "front_rise_per_g",
        "rear_rise_per_g",
    ];
    let fields = notes.fields_after_word(node, "the cornering", CORNERING)?;
    let mut number = |key: &'static str| match fields.get(key) {
        Some(node) => notes.number(node, &format!("`{key}`")).map(Some),
        None => Some(None),
    };
    let (lateral, longitudinal) = (number("lateral_g")?, number("longitudinal_g")?);
    let banking = match fields.get("banking_deg") {
        Some(node) => notes.angle(node, "the banking")?,
        None => 0.0,
    };
    let mut number = |key: &'static str| match fields.get(key) {
        Some(node) => notes.number(node, &format!("`{key}`")).map(Some),
        None => Some(None),
    };
    let (rack, pitman) = (number("rack")?, number("pitman_deg")?);
    let roll = number("roll_deg_per_g")?;
    let rises = [number("front_rise_per_g")?, number("rear_rise_per_g")?];
    let lateral = match lateral {
        Some(lateral) => lateral,
        None => {
            notes.need(&fields, "lateral_g")?;
            return None;
        }
    };
    let steer = rack.map(|rack| measures.length(rack)).or(pitman.map(f64::to_radians)).unwrap_or(0.0);
    let given = roll.is_some() || rises.iter().any(Option::is_some);
    let gradients = given.then(|| {
        let [front, rear] = rises.map(|rise| measures.length(rise.unwrap_or(0.0)) / GRAVITY);
        Gradients::of_roll(roll.unwrap_or(0.0).to_radians() / GRAVITY).with_ride_heights(front, rear)
    });
    let at =
        Cornering { banking, ..Cornering::level(lateral * GRAVITY, longitudinal.unwrap_or(0.0) * GRAVITY) };
    Some(SteadyCorner { at, steer, gradients })
}
