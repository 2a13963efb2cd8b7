//! Proposals beside a car: read whole or not at all, written so that a person can read them.

use crate::convert::{Axes, FileUnits, Measures};
use crate::error::{Fault, list};
use crate::failure::{LoadError, SaveError};
use crate::fields::Notes;
use crate::item::{Item as Written, Quantity, Scale};
use crate::read::{FileKind, format_and_version, measures, optional};
use crate::save::replace;
use crate::text_file::read_text;
use crate::tree::{Kind, Node};
use crate::whole::whole;
use nalgebra::Vector3;
use std::path::Path;
use wheelpath_geometry::{
    Car, Change, Item, LengthUnit, Link, Of, Pickup, Proposal, SteeringNumber, Unit, Value, WheelNumber,
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
const NUMBERS: [(&str, Item, Unit); 12] = [
    ("camber_deg", Item::Wheel(WheelNumber::Camber), Unit::Degree),
    ("toe_deg", Item::Wheel(WheelNumber::Toe), Unit::Degree),
    ("tyre_radius", Item::Wheel(WheelNumber::TyreRadius), Unit::Length),
    ("tyre_width", Item::Wheel(WheelNumber::TyreWidth), Unit::Length),
    ("tyre_shoulder_radius", Item::Wheel(WheelNumber::TyreShoulderRadius), Unit::Length),
    ("rim_radius", Item::Wheel(WheelNumber::RimRadius), Unit::Length),
    ("travel_per_turn", Item::Steering(SteeringNumber::TravelPerTurn), Unit::Length),
    ("ratio", Item::Steering(SteeringNumber::Ratio), Unit::Ratio),
    ("stop_left", Item::Steering(SteeringNumber::StopLeft), Unit::Length),
    ("stop_right", Item::Steering(SteeringNumber::StopRight), Unit::Length),
    ("stop_left_deg", Item::Steering(SteeringNumber::StopLeft), Unit::Degree),
    ("stop_right_deg", Item::Steering(SteeringNumber::StopRight), Unit::Degree),
];

/// The name of a file for a proposal of this name, without its ending: letters and digits, joined by hyphens;
/// empty where there are none.
#[must_use]
pub fn proposal_file_name(name: &str) -> String {
    let plain: String =
        name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    let words: Vec<&str> = plain.split('-').filter(|word| !word.is_empty()).collect();
    words.join("-")
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

fn proposal(node: &Node, notes: &mut Notes<'_>) -> Option<ProposalFile> {
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

fn change(node: &Node, measures: Measures, notes: &mut Notes<'_>) -> Option<Change> {
    let words = [("Move", Word::Move), ("Length", Word::Length), ("Set", Word::Set), ("Shim", Word::Shim)];
    match notes.choice(node, "a change", &words)? {
        Word::Move => {
            let fields = notes.fields_after_word(node, "the move", &["point", "of", "was", "now"])?;
            let item = notes.need(&fields, "point").and_then(|n| point(n, notes));
            let place = |key, notes: &mut Notes<'_>| {
                let written = notes.need(&fields, key).and_then(|n| notes.triple(n, &format!("`{key}`")));
                written.map(|written| Value::Place(measures.point(written)))
            };
            let (was, now) = (place("was", notes), place("now", notes));
            let of = notes.need(&fields, "of").and_then(|n| whose(n, item?, notes));
            Some(Change::Set { of: of?, item: item?, was: was?, now: now? })
        }
        Word::Length => {
            let fields = notes.fields_after_word(node, "the length", &["link", "of", "was", "now"])?;
            let links: Vec<(&str, Link)> = Link::ALL.iter().map(|link| (link.key(), *link)).collect();
            let link = notes.need(&fields, "link").and_then(|n| notes.word(n, "the link", &links));
            let length = |key, notes: &mut Notes<'_>| {
                let node = notes.need(&fields, key)?;
                if node.is_word("FromPoints") {
                    return Some(Value::FromPoints);
                }
                let length = notes.positive(node, &format!("`{key}`"))?;
                Some(Value::Number(measures.length(length)))
            };
            let (was, now) = (length("was", notes), length("now", notes));
            let item = Item::Length(link?);
            let of = notes.need(&fields, "of").and_then(|n| whose(n, item, notes));
            Some(Change::Set { of: of?, item, was: was?, now: now? })
        }
        Word::Set => {
            let fields = notes.fields_after_word(node, "the setting", &["number", "of", "was", "now"])?;
            let words = NUMBERS.map(|(word, item, unit)| (word, (item, unit)));
            let number = notes.need(&fields, "number").and_then(|n| notes.word(n, "the number", &words));
            let (item, unit) = number?;
            let value = |key, notes: &mut Notes<'_>| {
                let node = notes.need(&fields, key)?;
                let what = format!("`{key}`");
                Some(Value::Number(match unit {
                    Unit::Degree => notes
                        .number_in(node, &what, "from -170 to 170 degrees", |a| a.abs() <= 170.0)?
                        .to_radians(),
                    Unit::Length => measures.length(notes.number(node, &what)?),
                    _ => notes.number(node, &what)?,
                }))
            };
            let (was, now) = (value("was", notes), value("now", notes));
            let of = notes.need(&fields, "of").and_then(|n| whose(n, item, notes));
            Some(Change::Set { of: of?, item, was: was?, now: now? })
        }
        Word::Shim => shim(node, measures, notes),
    }
}

fn shim(node: &Node, measures: Measures, notes: &mut Notes<'_>) -> Option<Change> {
    let fields = notes.fields_after_word(node, "the shim", &["under", "of", "along", "thickness"])?;
    let points = notes.need(&fields, "under").and_then(|node| match &node.kind {
        Kind::List(list) if !list.is_empty() => {
            let all: Vec<Option<Item>> = list.iter().map(|n| point(n, notes)).collect();
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
    for item in &points {
        of = Some(whose(of_node, *item, notes)?);
    }
    let pickups = points.iter().filter_map(|item| match item {
        Item::Point(pickup) => Some(*pickup),
        _ => None,
    });
    let points: Vec<Pickup> = pickups.collect();
    if points.is_empty() {
        notes.add(node.span.start, Fault::UnderNothing { what: "the shim".into() });
        return None;
    }
    Some(Change::Shim { of: of?, points, along: along?, thickness: measures.length(thickness?) })
}

/// A pickup by its key, or the wheel centre.
fn point(node: &Node, notes: &mut Notes<'_>) -> Option<Item> {
    let pickups = Pickup::ALL.iter().map(|&pickup| (pickup.key(), Item::Point(pickup)));
    let words: Vec<(&str, Item)> = pickups.chain([("wheel_centre", Item::WheelCentre)]).collect();
    notes.word(node, "the point", &words)
}

/// Whose the thing is; a thing of an axle is no corner's.
fn whose(node: &Node, item: Item, notes: &mut Notes<'_>) -> Option<Of> {
    let words: Vec<(&str, Of)> = Of::all().into_iter().map(|of| (of.key(), of)).collect();
    let of = notes.word(node, "whose the change is", &words)?;
    if Item::all(of.first()).contains(&item) {
        return Some(of);
    }
    let fault = Fault::NothingToChange { what: item.to_string(), of: of.to_string() };
    notes.add(node.span.start, fault);
    None
}

impl ProposalFile {
    /// A proposal for a car, in these units and axes.
    #[must_use]
    pub fn new(proposal: Proposal, car: &Car, units: LengthUnit, axes: Axes) -> ProposalFile {
        ProposalFile { proposal, car: car.name.clone(), units, axes }
    }

    /// The text of its file; the car is the one it is for.
    #[must_use]
    pub fn text(&self, car: &Car) -> String {
        let word = |direction: crate::Direction| Written::Word(direction.word());
        let [x, y, z] = self.axes.directions().map(word);
        let mut fields = vec![
            ("format", Written::Text(FileKind::PROPOSAL.format.into())),
            ("version", Written::scaled(f64::from(crate::VERSION), Scale::Whole)),
            ("name", Written::Text(self.proposal.name.clone())),
        ];
        fields.extend(self.proposal.about.as_ref().map(|about| ("about", Written::Text(about.clone()))));
        let changes = self.proposal.changes.iter().map(|change| self.written(change, car)).collect();
        fields.extend([
            ("car", Written::Text(self.car.clone())),
            ("units", Written::Word(self.units.word())),
            ("axes", Written::fields(vec![("x", x), ("y", y), ("z", z)])),
            ("changes", Written::List(changes)),
        ]);
        let text = Written::fields(fields).printed(0, "\n");
        format!(
            "// A proposal: changes to a car, made in this order. `was` is what the car had when it was written.\n\
             {text}\n"
        )
    }

    fn written(&self, change: &Change, car: &Car) -> Written {
        match change {
            Change::Set { of, item, was, now } => {
                let unit = item.unit(car, of.first().end);
                let value = |value: &Value| self.value(value, unit);
                let (name, key, word) = match item {
                    Item::Point(_) | Item::WheelCentre => ("Move", "point", item.key()),
                    Item::Length(_) => ("Length", "link", item.key()),
                    Item::Wheel(_) | Item::Steering(_) => {
                        let found = NUMBERS.iter().find(|(_, one, by)| one == item && *by == unit);
                        ("Set", "number", found.map_or(item.key(), |(word, ..)| *word))
                    }
                };
                let fields = vec![
                    (key, Written::Word(word)),
                    ("of", Written::Word(of.key())),
                    ("was", value(was)),
                    ("now", value(now)),
                ];
                Written::Fields { name, fields }
            }
            Change::Shim { of, points, along, thickness } => {
                let under = points.iter().map(|pickup| Written::Word(pickup.key())).collect();
                let fields = vec![
                    ("under", Written::List(under)),
                    ("of", Written::Word(of.key())),
                    ("along", self.direction(along)),
                    ("thickness", Written::length(*thickness, self.units)),
                ];
                Written::Fields { name: "Shim", fields }
            }
        }
    }

    fn direction(&self, along: &Vector3<f64>) -> Written {
        Written::direction(along, self.axes)
    }

    fn value(&self, value: &Value, unit: Unit) -> Written {
        match (value, unit) {
            (Value::Place(at), _) => Written::point(at, self.units, self.axes),
            (Value::Number(number), Unit::Degree) => Written::degrees(*number),
            (Value::Number(number), Unit::Length) => Written::length(*number, self.units),
            (Value::Number(number), _) => Written::Number(Quantity { core: *number, scale: Scale::Plain }),
            (Value::FromPoints, _) => Written::Word("FromPoints"),
        }
    }

    /// Writes it to a file, new or old, in one step: the old content is there until the new one is whole.
    ///
    /// # Errors
    /// It would not read back the same, or the file cannot be written; what was there is then untouched.
    pub fn save(&self, car: &Car, path: &Path) -> Result<(), SaveError> {
        let text = self.text(car);
        let back = parse_proposal(&text, &path.display().to_string()).map_err(|error| match error {
            LoadError::Faulty(problems) => SaveError::Faulty(problems),
            LoadError::Unreadable { file, source } => SaveError::Unwritable { file, source },
        })?;
        if let Some(what) = self.differs(&back, car) {
            return Err(SaveError::ReadsBackDifferent { what });
        }
        replace(path, text.as_bytes())
            .map_err(|source| SaveError::Unwritable { file: path.to_owned(), source })
    }

    /// The first change that another one has not but for rounding, in words.
    fn differs(&self, other: &ProposalFile, car: &Car) -> Option<String> {
        let (mine, others) = (&self.proposal.changes, &other.proposal.changes);
        let same = |a: &Change, b: &Change| match (a, b) {
            (
                Change::Set { of, item, was, now },
                Change::Set { of: of_b, item: item_b, was: was_b, now: now_b },
            ) => of == of_b && item == item_b && was.is(*was_b) && now.is(*now_b),
            (
                Change::Shim { of, points, along, thickness },
                Change::Shim { of: of_b, points: points_b, along: along_b, thickness: thickness_b },
            ) => {
                of == of_b
                    && points == points_b
                    && Value::Place(*along).is(Value::Place(*along_b))
                    && Value::Number(*thickness).is(Value::Number(*thickness_b))
            }
            _ => false,
        };
        if mine.len() != others.len() {
            return Some(list(&["the number of changes"]));
        }
        let odd = mine.iter().zip(others).find(|(a, b)| !same(a, b));
        odd.map(|(change, _)| change.said(car, self.units))
    }
}
