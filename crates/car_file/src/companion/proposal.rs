//! Proposals beside a car: read whole or not at all.

use crate::companion::names::file_name;
use crate::fault::failure::LoadError;
use crate::fault::problem::Fault;
use crate::read::car::{format_and_version, measures, optional};
use crate::read::fields::{Diagnostics, Fields};
use crate::read::text_file::read_text;
use crate::read::whole::whole;
use crate::text::file_kind::FileKind;
use crate::text::ron_value::Scale;
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::{Axes, Measures};
use std::path::Path;
use wheelpath_geometry::{
    Change, Hardpoint, LengthUnit, Link, Parameter, Proposal, Selection, SpringNumber, SteeringNumber, Unit,
    Value, WheelNumber,
};

/// A proposal with what its file says beside it.
#[derive(Clone, Debug, PartialEq)]
pub struct ProposalFile {
    /// The changes.
    pub proposal: Proposal,
    /// Name of the car it was made for.
    pub car: String,
    /// What its lengths are counted in.
    pub units: LengthUnit,
    /// Which way its axes point.
    pub axes: Axes,
}

const KEYS: &[&str] = &["format", "version", "name", "about", "car", "units", "axes", "changes"];

/// Numbers by their words in a file, and how they are counted there.
pub(crate) const NUMBERS: [(&str, Parameter, Unit); 16] = [
    ("camber_deg", Parameter::Wheel(WheelNumber::Camber), Unit::Degree),
    ("toe_deg", Parameter::Wheel(WheelNumber::Toe), Unit::Degree),
    ("tyre_radius", Parameter::Wheel(WheelNumber::TyreRadius), Unit::Length),
    ("tyre_width", Parameter::Wheel(WheelNumber::TyreWidth), Unit::Length),
    ("tyre_shoulder_radius", Parameter::Wheel(WheelNumber::TyreShoulderRadius), Unit::Length),
    ("rim_radius", Parameter::Wheel(WheelNumber::RimRadius), Unit::Length),
    ("travel_per_turn", Parameter::Steering(SteeringNumber::TravelPerTurn), Unit::Length),
    ("ratio", Parameter::Steering(SteeringNumber::Ratio), Unit::Ratio),
    ("stop_left", Parameter::Steering(SteeringNumber::StopLeft), Unit::Length),
    ("stop_right", Parameter::Steering(SteeringNumber::StopRight), Unit::Length),
    ("stop_left_deg", Parameter::Steering(SteeringNumber::StopLeftAngle), Unit::Degree),
    ("stop_right_deg", Parameter::Steering(SteeringNumber::StopRightAngle), Unit::Degree),
    ("spring_rate_n_per_mm", Parameter::Spring(SpringNumber::SpringRate), Unit::SpringRate),
    ("spring_rate_nm_per_deg", Parameter::Spring(SpringNumber::TorsionBarRate), Unit::TorsionRate),
    ("bar_rate_nm_per_deg", Parameter::Spring(SpringNumber::BarRate), Unit::TorsionRate),
    ("third_spring_rate_n_per_mm", Parameter::Spring(SpringNumber::ThirdSpringRate), Unit::SpringRate),
];

/// The name of a file for a proposal of this name, without its ending: letters and digits, joined by hyphens;
/// empty where there are none. A name that means another file beside the car, such as limits, gets
/// `-proposal` behind it; a long one is cut.
#[must_use]
pub fn proposal_file_name(name: &str) -> String {
    file_name(name)
}

/// Reads a proposal.
///
/// # Errors
/// The file cannot be read, or has faults: then all that could be found.
pub fn load_proposal(path: &Path) -> Result<ProposalFile, LoadError> {
    parse_proposal(&read_text(path)?, &path.display().to_string())
}

/// Reads the text of a proposal; `file` is its name in messages.
///
/// # Errors
/// The text has faults: all that could be found.
pub fn parse_proposal(text: &str, file: &str) -> Result<ProposalFile, LoadError> {
    whole(text, file, |tree, _, notes| proposal(&tree, notes))
}

fn proposal(node: &Node, notes: &mut Diagnostics<'_>) -> Option<ProposalFile> {
    format_and_version(node, FileKind::PROPOSAL, notes)?;
    let fields = notes.fields(node, "the proposal", KEYS)?;
    let name = notes.need(&fields, "name").and_then(|n| notes.text(n, "the name"));
    let about = optional(&fields, "about", |n| notes.text(n, "about"));
    let car = notes.need(&fields, "car").and_then(|n| notes.text(n, "the name of the car"));
    let measures = measures(&fields, notes)?;
    let changes = notes.need(&fields, "changes").and_then(|node| match &node.kind {
        Kind::List(list) => {
            let all: Vec<Option<Change>> = list.iter().map(|node| change(node, measures, notes)).collect();
            all.into_iter().collect::<Option<Vec<_>>>()
        }
        _ => {
            notes.wrong_shape(node, "changes", "a list, [Move(...), Length(...), ...]");
            None
        }
    });
    let Measures { units, axes } = measures;
    let proposal = Proposal { name: name?, about: about?, changes: changes? };
    Some(ProposalFile { proposal, car: car?, units, axes })
}

#[derive(Clone, Copy)]
enum Word {
    Move,
    Length,
    Set,
    Shim,
}

fn change(node: &Node, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<Change> {
    let words = [("Move", Word::Move), ("Length", Word::Length), ("Set", Word::Set), ("Shim", Word::Shim)];
    match notes.choice(node, "a change", &words)? {
        Word::Move => {
            let fields = notes.fields_after_word(node, "the move", &["point", "of", "was", "now"])?;
            let parameter = notes.need(&fields, "point").and_then(|n| point(n, notes));
            let place = |key, notes: &mut Diagnostics<'_>| {
                let written = notes.need(&fields, key).and_then(|n| notes.triple(n, &format!("`{key}`")));
                written.map(|written| Value::Place(measures.point(written)))
            };
            let (was, now) = (place("was", notes), place("now", notes));
            let of = notes.need(&fields, "of").and_then(|n| whose(n, parameter?, notes));
            let was_within = digits_of_place(&fields, measures, notes);
            Some(Change::Set { of: of?, parameter: parameter?, was: was?, now: now?, was_within })
        }
        Word::Length => {
            let fields = notes.fields_after_word(node, "the length", &["link", "of", "was", "now"])?;
            let links: Vec<(&str, Link)> = Link::ALL.iter().map(|link| (link.key(), *link)).collect();
            let link = notes.need(&fields, "link").and_then(|n| notes.word(n, "the link", &links));
            let length = |key, notes: &mut Diagnostics<'_>| {
                let node = notes.need(&fields, key)?;
                if node.is_word("FromPoints") {
                    return Some(Value::FromPoints);
                }
                let length = notes.positive(node, &format!("`{key}`"))?;
                Some(Value::Number(measures.length(length)))
            };
            let (was, now) = (length("was", notes), length("now", notes));
            let parameter = Parameter::Length(link?);
            let of = notes.need(&fields, "of").and_then(|n| whose(n, parameter, notes));
            let was_within = digits_of(&fields, notes, |half| measures.length(half));
            Some(Change::Set { of: of?, parameter, was: was?, now: now?, was_within })
        }
        Word::Set => {
            let fields = notes.fields_after_word(node, "the setting", &["number", "of", "was", "now"])?;
            let words = NUMBERS.map(|(word, parameter, unit)| (word, (parameter, unit)));
            let number = notes.need(&fields, "number").and_then(|n| notes.word(n, "the number", &words));
            let (parameter, unit) = number?;
            let value = |key, notes: &mut Diagnostics<'_>| {
                let node = notes.need(&fields, key)?;
                let what = format!("`{key}`");
                Some(Value::Number(match unit {
                    Unit::Degree => notes
                        .number_in(node, &what, "from -170 to 170 degrees", |a| a.abs() <= 170.0)?
                        .to_radians(),
                    Unit::Length => measures.length(notes.number(node, &what)?),
                    Unit::SpringRate => Scale::PerMillimetre.to_core(notes.positive(node, &what)?),
                    Unit::TorsionRate => Scale::PerDegree.to_core(notes.positive(node, &what)?),
                    _ => notes.number(node, &what)?,
                }))
            };
            let (was, now) = (value("was", notes), value("now", notes));
            let of = notes.need(&fields, "of").and_then(|n| whose(n, parameter, notes));
            let was_within = digits_of(&fields, notes, |half| match unit {
                Unit::Degree => half.to_radians(),
                Unit::Length => measures.length(half),
                Unit::SpringRate => Scale::PerMillimetre.to_core(half),
                Unit::TorsionRate => Scale::PerDegree.to_core(half),
                _ => half,
            });
            Some(Change::Set { of: of?, parameter, was: was?, now: now?, was_within })
        }
        Word::Shim => shim(node, measures, notes),
    }
}

/// Half of the last digit of each coordinate of `was`, metres, along the vehicle's axes.
fn digits_of_place(fields: &Fields<'_>, measures: Measures, notes: &Diagnostics<'_>) -> [f64; 3] {
    let Some(Kind::Row(row)) = fields.get("was").map(|node| &node.kind) else { return [0.0; 3] };
    let halves: Vec<f64> = row.iter().map(|node| notes.half_digit(node)).collect();
    let halves = halves.try_into().unwrap_or([0.0; 3]);
    measures.point(halves).map(f64::abs).into()
}

/// Half of the last digit of `was`, as `inside` counts it; first of three.
fn digits_of(fields: &Fields<'_>, notes: &Diagnostics<'_>, inside: impl Fn(f64) -> f64) -> [f64; 3] {
    [fields.get("was").map_or(0.0, |node| inside(notes.half_digit(node))), 0.0, 0.0]
}

fn shim(node: &Node, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<Change> {
    let fields = notes.fields_after_word(node, "the shim", &["under", "of", "along", "thickness"])?;
    let points = notes.need(&fields, "under").and_then(|node| match &node.kind {
        Kind::List(list) if !list.is_empty() => {
            let all: Vec<Option<Parameter>> = list.iter().map(|n| point(n, notes)).collect();
            all.into_iter().collect::<Option<Vec<_>>>()
        }
        Kind::List(_) => {
            notes.add(node.span.start, Fault::UnderNothing { what: "the shim".into() });
            None
        }
        _ => {
            notes.wrong_shape(node, "what the shim lies under", "a list of points, [key, key]");
            None
        }
    });
    let along = notes.need(&fields, "along").and_then(|n| {
        let along = measures.axes.to_vehicle(notes.triple(n, "the shim's direction")?);
        let unit = along.try_normalize(0.0).filter(|unit| unit.iter().all(|c| c.is_finite()));
        if unit.is_none() {
            let fault = Fault::NoDirection { what: "the shim".into(), why: "its length is zero" };
            notes.add(n.span.start, fault);
        }
        unit
    });
    let thickness = notes.need(&fields, "thickness").and_then(|n| notes.number(n, "the thickness"));
    let of_node = notes.need(&fields, "of")?;
    let points = points?;
    let mut of = None;
    for parameter in &points {
        of = Some(whose(of_node, *parameter, notes)?);
    }
    let hardpoints = points.iter().filter_map(|parameter| match parameter {
        Parameter::Point(hardpoint) => Some(*hardpoint),
        _ => None,
    });
    let points: Vec<Hardpoint> = hardpoints.collect();
    if points.is_empty() {
        notes.add(node.span.start, Fault::UnderNothing { what: "the shim".into() });
        return None;
    }
    Some(Change::Shim { of: of?, points, along: along?, thickness: measures.length(thickness?) })
}

/// A pickup by its key, or the wheel centre.
fn point(node: &Node, notes: &mut Diagnostics<'_>) -> Option<Parameter> {
    let hardpoints = Hardpoint::ALL.iter().map(|&hardpoint| (hardpoint.key(), Parameter::Point(hardpoint)));
    let words: Vec<(&str, Parameter)> =
        hardpoints.chain([("wheel_centre", Parameter::WheelCentre)]).collect();
    notes.word(node, "the point", &words)
}

/// Whose the thing is; a thing of an axle is no corner's.
fn whose(node: &Node, parameter: Parameter, notes: &mut Diagnostics<'_>) -> Option<Selection> {
    let words: Vec<(&str, Selection)> = Selection::all().into_iter().map(|of| (of.key(), of)).collect();
    let of = notes.word(node, "whose the change is", &words)?;
    if Parameter::all(of.first()).contains(&parameter) {
        return Some(of);
    }
    let fault = Fault::NothingToChange { what: parameter.to_string(), of: of.to_string() };
    notes.add(node.span.start, fault);
    None
}
