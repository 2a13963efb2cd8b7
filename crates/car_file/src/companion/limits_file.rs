//! A file of limits: its text, and saving it so that comments stay and only what changed is changed.

use crate::Axes;
use crate::companion::limits::{BEND, JOINT_RESERVE, KEYS, bounds, known_reading, limits};
use crate::companion::limits_of_fit::AXLES;
use crate::companion::write_proposal::unsaved;
use crate::fault::failure::{LoadError, SaveError};
use crate::read::car::measures;
use crate::read::fields::Diagnostics;
use crate::read::text_file::read_text;
use crate::read::whole::whole;
use crate::text::edit::edited;
use crate::text::file_kind::FileKind;
use crate::text::list_diff::correspond;
use crate::text::ron_value::{RonValue, Scale};
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::{FileUnits, Measures};
use std::path::Path;
use wheelpath_geometry::{
    Car, End, GRAVITY, LengthUnit, Limited, Pairs, PoseRange, Quantity, Requirement, Scope, Side,
    SteadyCorner, Steering, Travelling, Unit,
};

/// Numbers that differ by less are the same but for rounding (metres, radians, or plain).
const SAME: f64 = 1e-12;

/// Reads limits.
///
/// # Errors
/// The file cannot be read, or has faults: then all that could be found.
pub fn load_limits(path: &Path) -> Result<Vec<Requirement>, LoadError> {
    parse_limits(&read_text(path)?, &path.display().to_string())
}

/// Reads the text of a file of limits; `file` is its name in messages.
///
/// # Errors
/// The text has faults: all that could be found.
pub fn parse_limits(text: &str, file: &str) -> Result<Vec<Requirement>, LoadError> {
    LimitsFile::parse(text, file).map(|file| file.limits().to_vec())
}

/// A file of limits that was read.
#[derive(Clone, Debug)]
pub struct LimitsFile {
    text: String,
    tree: Node,
    measures: Measures,
    limits: Vec<Requirement>,
}

impl LimitsFile {
    /// Reads a file of limits.
    ///
    /// # Errors
    /// It cannot be read, or has faults: then all that could be found.
    pub fn load(path: &Path) -> Result<LimitsFile, LoadError> {
        LimitsFile::parse(&read_text(path)?, &path.display().to_string())
    }

    /// Reads the text of a file of limits; `file` is its name in messages.
    ///
    /// # Errors
    /// The text has faults: all that could be found.
    pub fn parse(text: &str, file: &str) -> Result<LimitsFile, LoadError> {
        whole(text, file, |tree, text, notes| {
            let limits = limits(&tree, notes)?;
            let fields = notes.fields(&tree, "the file", KEYS)?;
            let measures = measures(&fields, notes)?;
            Some(LimitsFile { text: text.to_owned(), tree, measures, limits })
        })
    }

    /// A file without limits, in these units and axes.
    ///
    /// # Errors
    /// None that is known of; the text is read back like any other.
    pub fn new(units: LengthUnit, axes: Axes) -> Result<LimitsFile, LoadError> {
        let [x, y, z] = axes.directions().map(|direction| RonValue::Word(direction.word()));
        let item = RonValue::fields(vec![
            ("format", RonValue::Text(FileKind::LIMITS.format.into())),
            ("version", RonValue::scaled(f64::from(crate::VERSION), Scale::Whole)),
            ("units", RonValue::Word(units.word())),
            ("axes", RonValue::fields(vec![("x", x), ("y", y), ("z", z)])),
            ("limits", RonValue::List(Vec::new())),
        ]);
        let about = "// What the car's readings are to stay within.";
        LimitsFile::parse(&format!("{about}\n{}\n", item.printed(0, "\n")), "limits.ron")
    }

    /// The text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The limits.
    #[must_use]
    pub fn limits(&self) -> &[Requirement] {
        &self.limits
    }

    /// The file with these limits in place of its own: comments and units stay, and so does what is
    /// written of limits that are the same. The car says whether it steers by a rack or a pitman arm.
    ///
    /// # Errors
    /// It would not read back the same: a limit without bounds, a bound that is no number.
    pub fn with_limits(&self, to: &[Requirement], car: &Car) -> Result<LimitsFile, SaveError> {
        let was = &self.limits;
        let from = correspond(
            (was.len(), to.len()),
            |a, b| same_limit(&was[a], &to[b]),
            |a, b| was[a].name == to[b].name || same_thing(&was[a].of, &to[b].of),
        );
        let nodes = match self.tree.field("limits").map(|field| &field.value.kind) {
            Some(Kind::List(nodes)) => nodes.as_slice(),
            _ => &[],
        };
        let kept = to.iter().zip(from).map(|(limit, from)| match from {
            Some(n) if same_limit(&was[n], limit) => (from, RonValue::Keep),
            _ => (from, self.item(limit, from.and_then(|n| nodes.get(n)), car)),
        });
        let heading = KEYS.iter().filter(|key| **key != "limits").map(|key| (*key, RonValue::Keep));
        let fields = heading.chain([("limits", RonValue::Kept(kept.collect()))]).collect();
        let text = edited(&self.text, &self.tree, &RonValue::fields(fields));
        let file = LimitsFile::parse(&text, "limits.ron").map_err(unsaved)?;
        match differing(&file.limits, to) {
            Some(what) => Err(SaveError::ReadsBackDifferent { what }),
            None => Ok(file),
        }
    }

    /// What is to be written of a limit; `node` is what was written of it.
    fn item(&self, limit: &Requirement, node: Option<&Node>, car: &Car) -> RonValue {
        let mut fields = vec![("name", RonValue::Text(limit.name.clone()))];
        fields.extend(limit.about.as_ref().map(|about| ("about", RonValue::Text(about.clone()))));
        let axle = |end| AXLES.iter().find(|(_, one)| *one == end).map_or("both_axles", |(word, _)| *word);
        let grid = |travel: [f64; 2]| {
            let [from, to] = travel.map(|value| RonValue::length(value, self.measures.units));
            RonValue::Fields { name: "TravelAndSteer", fields: vec![("from", from), ("to", to)] }
        };
        let name = match limit.of {
            Limited::Lock => "Lock",
            Limited::Distance { end, between, travel } => {
                fields.push(("of", RonValue::Word(axle(end))));
                let kinds = match between {
                    Pairs::All => Vec::new(),
                    Pairs::With(kind) => vec![kind],
                    Pairs::Of(one, other) => vec![one, other],
                };
                let kinds: Vec<RonValue> = kinds.into_iter().map(|kind| RonValue::Word(kind.key())).collect();
                if !kinds.is_empty() {
                    fields.push(("between", RonValue::List(kinds)));
                }
                fields.push(("over", grid(travel)));
                "Distance"
            }
            Limited::JointMargin { end, travel } => {
                fields.push(("of", RonValue::Word(axle(end))));
                fields.push(("over", grid(travel)));
                // However it was written: the older name stays.
                if is_named(node, JOINT_RESERVE) { JOINT_RESERVE } else { "JointMargin" }
            }
            Limited::Reading { reading, end, side, taken, over } => {
                // However it was written: a reading by another spelling stays.
                let said = node.and_then(|node| node.at(&["reading"]));
                fields.push((
                    "reading",
                    match said {
                        Some(said) if known_reading(said, &mut Diagnostics::new("", "")) == Some(reading) => {
                            RonValue::Keep
                        }
                        _ => RonValue::Word(reading.key),
                    },
                ));
                fields.push(("of", of(reading.scope, end, side)));
                let said = node.is_some_and(|node| node.field("change").is_some());
                match taken {
                    Quantity::Change => fields.push(("change", RonValue::Word("true"))),
                    Quantity::Value if said => fields.push(("change", RonValue::Word("false"))),
                    Quantity::Value => {}
                }
                let written = node.and_then(|node| node.at(&["over"]));
                fields.push(("over", self.over(over, written, car)));
                "Reading"
            }
        };
        let unit = limit.unit();
        let number = |value: f64| match unit {
            Unit::Length => RonValue::length(value, self.measures.units),
            Unit::Degree | Unit::DegreePerMetre | Unit::DegreePerRackTravel => RonValue::degrees(value),
            _ => RonValue::scaled(value, Scale::Times(unit.data_factor(LengthUnit::Millimetre))),
        };
        let [least, most] = bounds(unit);
        fields.extend(limit.least.map(|value| (least, number(value))));
        fields.extend(limit.most.map(|value| (most, number(value))));
        RonValue::Fields { name, fields }
    }

    fn over(&self, over: PoseRange, written: Option<&Node>, car: &Car) -> RonValue {
        let length = |value: f64| RonValue::length(value, self.measures.units);
        let has = |key: &str| written.is_some_and(|node| node.field(key).is_some());
        match over {
            PoseRange::Design => RonValue::Word("Design"),
            PoseRange::Steer => RonValue::Word("Steer"),
            PoseRange::Travel { from, to, wheels } => {
                let mut fields = vec![("from", length(from)), ("to", length(to))];
                match wheels {
                    Travelling::Opposite => fields.push(("wheels", RonValue::Word("opposite"))),
                    Travelling::Both if has("wheels") => fields.push(("wheels", RonValue::Word("both"))),
                    // One wheel alone has no word in a file: it does not read back, and is not saved.
                    Travelling::Both | Travelling::One(_) => {}
                }
                RonValue::Fields { name: "Travel", fields }
            }
            PoseRange::SteadyCorner(SteadyCorner { at, steer, gradients }) => {
                // As it is written: in g, and what a g does.
                let in_g = |value: f64| RonValue::scaled(value, Scale::Times(1.0 / GRAVITY));
                let mut fields = vec![("lateral_g", in_g(at.lateral))];
                if at.longitudinal != 0.0 || has("longitudinal_g") {
                    fields.push(("longitudinal_g", in_g(at.longitudinal)));
                }
                if at.banking != 0.0 || has("banking_deg") {
                    fields.push(("banking_deg", RonValue::degrees(at.banking)));
                }
                let pitman = has("pitman_deg") || matches!(car.front.steering, Steering::Box(_));
                if pitman && !has("rack") {
                    fields.push(("pitman_deg", RonValue::degrees(steer)));
                } else if steer != 0.0 || has("rack") {
                    fields.push(("rack", length(steer)));
                }
                if let Some(gradients) = gradients {
                    let per_g = GRAVITY * Unit::Degree.data_factor(LengthUnit::Millimetre);
                    fields.push(("roll_deg_per_g", RonValue::scaled(gradients.roll, Scale::Times(per_g))));
                    let rises = [("front_rise_per_g", gradients.front), ("rear_rise_per_g", gradients.rear)];
                    for (key, rise) in rises {
                        if rise != 0.0 || has(key) {
                            let per_g = GRAVITY * self.measures.units.in_units(1.0);
                            fields.push((key, RonValue::scaled(rise, Scale::Times(per_g))));
                        }
                    }
                }
                RonValue::Fields { name: if is_named(written, BEND) { BEND } else { "Cornering" }, fields }
            }
        }
    }
}

/// Whether a word stands before what is written there.
fn is_named(node: Option<&Node>, word: &str) -> bool {
    node.is_some_and(|node| node.name.as_deref() == Some(word))
}

/// Whose a reading is, in a word of the file; a file may say it in one of two.
fn of(scope: Scope, end: End, side: Option<Side>) -> RonValue {
    RonValue::AnyOf(match (end, side) {
        (End::Front, None) if scope == Scope::Wheel => vec!["front_both", "front"],
        (End::Rear, None) if scope == Scope::Wheel => vec!["rear_both", "rear"],
        (End::Front, None) => vec!["front", "front_both"],
        (End::Rear, None) => vec!["rear", "rear_both"],
        (End::Front, Some(Side::Left)) => vec!["front_left"],
        (End::Front, Some(Side::Right)) => vec!["front_right"],
        (End::Rear, Some(Side::Left)) => vec!["rear_left"],
        (End::Rear, Some(Side::Right)) => vec!["rear_right"],
    })
}

/// Whether two lists of limits are the same but for rounding.
#[must_use]
pub fn same_limits(a: &[Requirement], b: &[Requirement]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same_limit(a, b))
}

/// The name of the first that is not the same, or that there are not as many.
fn differing(a: &[Requirement], b: &[Requirement]) -> Option<String> {
    if a.len() != b.len() {
        return Some("the number of limits".into());
    }
    a.iter().zip(b).find(|(a, b)| !same_limit(a, b)).map(|(_, b)| format!("the limit {}", b.name))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * a.abs().max(1.0)
}

fn both(a: Option<f64>, b: Option<f64>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => near(a, b),
        (None, None) => true,
        _ => false,
    }
}

fn same_limit(a: &Requirement, b: &Requirement) -> bool {
    a.name == b.name
        && a.about == b.about
        && same_thing(&a.of, &b.of)
        && both(a.least, b.least)
        && both(a.most, b.most)
}

/// Whether the same is limited over the same poses, but for rounding.
fn same_thing(a: &Limited, b: &Limited) -> bool {
    match (a, b) {
        (
            Limited::Reading { reading, end, side, taken, over },
            Limited::Reading { reading: reading_b, end: end_b, side: side_b, taken: taken_b, over: over_b },
        ) => {
            (reading.key, end, side, taken) == (reading_b.key, end_b, side_b, taken_b)
                && same_poses(over, over_b)
        }
        (
            Limited::Distance { end, between, travel: [from, to] },
            Limited::Distance { end: end_b, between: between_b, travel: [from_b, to_b] },
        ) => (end, between) == (end_b, between_b) && near(*from, *from_b) && near(*to, *to_b),
        (
            Limited::JointMargin { end, travel: [from, to] },
            Limited::JointMargin { end: end_b, travel: [from_b, to_b] },
        ) => end == end_b && near(*from, *from_b) && near(*to, *to_b),
        (a, b) => a == b,
    }
}

fn same_poses(a: &PoseRange, b: &PoseRange) -> bool {
    match (a, b) {
        (
            PoseRange::Travel { from, to, wheels },
            PoseRange::Travel { from: from_b, to: to_b, wheels: wheels_b },
        ) => near(*from, *from_b) && near(*to, *to_b) && wheels == wheels_b,
        (PoseRange::SteadyCorner(a), PoseRange::SteadyCorner(b)) => {
            let of = |bend: &SteadyCorner| {
                let lean = bend.gradients.map(|g| [g.roll, g.front, g.rear]);
                let numbers = [bend.at.lateral, bend.at.longitudinal, bend.at.banking, bend.steer];
                (numbers, lean)
            };
            let alike = |a: &[f64], b: &[f64]| a.iter().zip(b).all(|(a, b)| near(*a, *b));
            let ((a, lean_a), (b, lean_b)) = (of(a), of(b));
            alike(&a, &b)
                && match (lean_a, lean_b) {
                    (Some(a), Some(b)) => alike(&a, &b),
                    (None, None) => true,
                    _ => false,
                }
        }
        (a, b) => a == b,
    }
}
