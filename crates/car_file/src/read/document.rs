//! A car file that was read: its text, its car, and where in the text each thing stands.

use crate::fault::causes::by_cause;
use crate::fault::failure::LoadError;
use crate::fault::problem::Problem;
use crate::read::car::{Heading, car};
use crate::read::fields::Diagnostics;
use crate::read::stand_in::STAND_IN;
use crate::read::static_loads::WHEEL_LOADS;
use crate::read::syntax::tree_of;
use crate::read::text_file::read_text;
use crate::text::place::Place;
use crate::text::tree::Node;
use crate::{Axes, Fault};
use std::path::Path;
use wheelpath_geometry::{Car, End, Finding, LengthUnit, Link, Severity, Side, Subject, WheelPosition};

/// A car file: the text, and all that a save needs to keep.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    pub(crate) file: String,
    pub(crate) text: String,
    pub(crate) tree: Node,
    pub(crate) heading: Heading,
    pub(crate) car: Car,
}

/// A car, read whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Loaded {
    /// The car, metres and radians in vehicle axes.
    pub car: Car,
    /// The file it came from.
    pub document: Document,
    /// What is doubtful about it, though it can be solved.
    pub warnings: Vec<Problem>,
}

/// Reads a car file.
///
/// # Errors
/// The file cannot be read, or has faults: then all that could be found.
pub fn load(path: &Path) -> Result<Loaded, LoadError> {
    parse(&read_text(path)?, &path.display().to_string())
}

/// Reads the text of a car file; `file` is its name in messages.
///
/// # Errors
/// The text has faults: all that could be found.
pub fn parse(text: &str, file: &str) -> Result<Loaded, LoadError> {
    let document = convert(text.to_owned(), file).map_err(LoadError::Faulty)?;
    let warnings = document.check().map_err(LoadError::Faulty)?;
    Ok(Loaded { car: document.car.clone(), document, warnings })
}

/// What is unusual about the car of a text that has faults, as far as it does not hang on what is at fault; nothing
/// where the text itself cannot be made a car of.
#[must_use]
pub fn unusual_beside_faults(text: &str, file: &str) -> Vec<Problem> {
    let Ok(document) = convert(text.to_owned(), file) else { return Vec::new() };
    let locate = |finding: &Finding| document.locate(finding);
    let is_told = |finding: &Finding, all: &[Finding]| document.mirrors(finding, all);
    let problems = problems_of((&document.car, document.units()), file, locate, is_told);
    problems.into_iter().filter(Problem::is_warning).collect()
}

/// The document of a text whose every word and number is in its place; the car itself may still be
/// impossible.
pub(crate) fn convert(mut text: String, file: &str) -> Result<Document, Vec<Problem>> {
    // Some editors put a byte-order mark in front.
    if text.starts_with('\u{feff}') {
        text.remove(0);
    }
    let mut notes = Diagnostics::new(file, &text);
    let tree = tree_of(&text, &mut notes);
    let read = tree.as_ref().and_then(|tree| car(tree, &mut notes));
    let mut problems = notes.problems;
    problems.sort_by_key(|problem| problem.place);
    match (tree, read) {
        (Some(tree), Some((car, heading))) if problems.is_empty() => {
            Ok(Document { file: file.to_owned(), text, tree, heading, car })
        }
        _ => Err(problems),
    }
}

/// What is doubtful about a car, at its places in a file; findings that `is_told` are left out.
///
/// # Errors
/// What makes the car impossible.
pub(crate) fn check_model(
    (car, lengths): (&Car, LengthUnit),
    file: &str,
    locate: impl Fn(&Finding) -> Place,
    is_told: impl Fn(&Finding, &[Finding]) -> bool,
) -> Result<Vec<Problem>, Vec<Problem>> {
    let (faults, warnings): (Vec<_>, Vec<_>) = problems_of((car, lengths), file, locate, is_told)
        .into_iter()
        .partition(|problem| !problem.is_warning());
    if faults.is_empty() { Ok(warnings) } else { Err(faults) }
}

/// Faults, then what is doubtful, by causes.
fn problems_of(
    (car, lengths): (&Car, LengthUnit),
    file: &str,
    locate: impl Fn(&Finding) -> Place,
    is_told: impl Fn(&Finding, &[Finding]) -> bool,
) -> Vec<Problem> {
    let findings = wheelpath_geometry::check_in(car, lengths);
    let problem = |finding: &Finding| {
        let wheel = finding.end.zip(finding.side).map(|(end, side)| WheelPosition { end, side });
        let fault = Fault::Model(finding.clone());
        Problem { file: file.to_owned(), place: locate(finding), wheel, fault }
    };
    let said = findings
        .iter()
        .filter(|finding| !is_told(finding, &findings) && !is_explained(finding, &findings))
        .map(problem);
    by_cause(said.collect())
}

/// Whether a fault of the whole car already says the same: wrong units show at every point.
fn is_explained(finding: &Finding, all: &[Finding]) -> bool {
    let of_car =
        |other: &Finding| matches!(other.subject, Subject::Car(_)) && other.severity == Severity::Fault;
    !of_car(finding) && all.iter().any(|other| of_car(other) && other.hint == finding.hint)
}

impl Document {
    /// The name of the file, as it was given.
    #[must_use]
    pub fn file(&self) -> &str {
        &self.file
    }

    /// The same under another name.
    #[must_use]
    pub fn named(self, file: &str) -> Document {
        Document { file: file.to_owned(), ..self }
    }

    /// The text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The car the text describes.
    #[must_use]
    pub fn car(&self) -> &Car {
        &self.car
    }

    /// What the file says about the car, if anything.
    #[must_use]
    pub fn about(&self) -> Option<&str> {
        self.heading.about.as_deref()
    }

    /// What zero travel and straight ahead are, in the file's words.
    #[must_use]
    pub fn design_pose(&self) -> &str {
        &self.heading.design_pose
    }

    /// The units of the file.
    #[must_use]
    pub fn units(&self) -> LengthUnit {
        self.heading.units
    }

    /// The axes of the file.
    #[must_use]
    pub fn axes(&self) -> Axes {
        self.heading.axes
    }

    /// Where the subject of a finding stands. On a mirrored side: where its mirror image does.
    #[must_use]
    pub fn locate(&self, finding: &Finding) -> Place {
        let end = finding.end.unwrap_or(End::Front);
        let at = WheelPosition { end, side: finding.side.unwrap_or(Side::Left) };
        // Links and parts without a side are the axle's own, and so are its points.
        let of_axle = finding.side.is_none();
        match finding.subject {
            Subject::Hardpoint(hardpoint) if of_axle && hardpoint.is_of_axle() => {
                self.place_of_keys(&[end.name(), "pickups", hardpoint.key()])
            }
            Subject::Hardpoint(hardpoint) => self.place_in_corner(at, &["pickups", hardpoint.key()]),
            Subject::Link(link) if of_axle => self.place_of_own_link(end, link),
            Subject::Link(link) => self.place_of_link(at, link),
            Subject::Wheel(key) => self.place_in_corner(at, &["wheel", key]),
            Subject::Radius(part) if of_axle => self.place_of_keys(&[end.name(), "radii", part.key()]),
            Subject::Radius(part) => self.place_in_corner(at, &["radii", part.key()]),
            Subject::Damper => self.place_in_corner(at, &["damper"]),
            Subject::Spring => {
                let has = |key| self.corner_node(at).is_some_and(|node| node.field(key).is_some());
                self.place_in_corner(at, &[if has("spring") { "spring" } else { "springing" }])
            }
            Subject::Alignment => self.place_of_alignment(at),
            Subject::Steering(key) => self.place_of_keys(&[end.name(), "steering", key]),
            Subject::Axle(key) => self.place_of_keys(&[end.name(), key]),
            Subject::Car("wheel_loads") => {
                let given = WHEEL_LOADS.iter().find(|(key, _)| self.tree.field(key).is_some());
                self.place_of_keys(&[given.map_or("mass_kg", |(key, _)| key)])
            }
            Subject::Car(key) => self.place_of_keys(&[key]),
        }
    }

    /// What is doubtful about the car, at its places in the file.
    ///
    /// # Errors
    /// What makes it impossible.
    pub(crate) fn check(&self) -> Result<Vec<Problem>, Vec<Problem>> {
        let locate = |finding: &Finding| self.locate(finding);
        let mut warnings = check_model((&self.car, self.units()), &self.file, locate, |finding, all| {
            self.mirrors(finding, all)
        })?;
        if self.tree.at(&["rear"]).is_some_and(|node| node.is_word(STAND_IN)) {
            let fault = Fault::Model(Finding {
                severity: Severity::Warning,
                end: Some(End::Rear),
                side: None,
                subject: Subject::Axle("linkage"),
                message:
                    "this axle is a stand-in: none of its numbers is measured, and its readings mean nothing"
                        .into(),
                hint:
                    "read the front axle alone; to give the car a rear axle write `rear: (linkage: ..., ...)`"
                        .into(),
                out: 0.0,
                likeliest: None,
            });
            let place = self.place_of_keys(&["rear"]);
            warnings.push(Problem { file: self.file.clone(), place, wheel: None, fault });
        }
        warnings.extend(self.warnings_of_left_over());
        Ok(warnings)
    }

    /// Whether the finding is the mirror image of one about the side that is written out.
    fn mirrors(&self, finding: &Finding, all: &[Finding]) -> bool {
        let (Some(end), Some(side)) = (finding.end, finding.side) else { return false };
        let is_mirrored =
            self.tree.at(&[end.name(), side.name()]).is_some_and(|node| node.is_word("Mirrored"));
        is_mirrored
            && all.iter().any(|other| {
                (other.end, other.side) == (Some(end), Some(side.other()))
                    && (other.subject, other.severity) == (finding.subject, finding.severity)
            })
    }

    /// The length of a link where it is given, or else its outer end.
    fn place_of_link(&self, at: WheelPosition, link: Link) -> Place {
        let given = self.corner_node(at).is_some_and(|node| node.at(&["lengths", link.key()]).is_some());
        let (_, outer) = link.ends();
        let keys = if given { ["lengths", link.key()] } else { ["pickups", outer.key()] };
        self.place_in_corner(at, &keys)
    }

    /// The same of a link of the axle as a whole. A link of its sides, which only the solved axle can
    /// tell, stands at the left one.
    fn place_of_own_link(&self, end: End, link: Link) -> Place {
        if !link.is_of_axle() {
            return self.place_of_link(WheelPosition { end, side: Side::Left }, link);
        }
        let (_, outer) = link.ends();
        let given = self.tree.at(&[end.name(), "lengths", link.key()]).is_some();
        let [block, key] = if given { ["lengths", link.key()] } else { ["pickups", outer.key()] };
        self.place_of_keys(&[end.name(), block, key])
    }

    /// The corner's own alignment, or else the axle's.
    fn place_of_alignment(&self, at: WheelPosition) -> Place {
        if self.corner_node(at).is_some_and(|node| node.field("alignment").is_some()) {
            return self.place_in_corner(at, &["alignment"]);
        }
        self.place_of_keys(&[at.end.name(), "alignment"])
    }

    fn corner_node(&self, at: WheelPosition) -> Option<&Node> {
        let written =
            |side: Side| self.tree.at(&[at.end.name(), side.name()]).filter(|node| !node.is_word("Mirrored"));
        written(at.side).or_else(|| written(at.side.other()))
    }

    /// The place of the deepest of these keys that the corner has.
    fn place_in_corner(&self, at: WheelPosition, keys: &[&str]) -> Place {
        let Some(node) = self.corner_node(at) else { return self.place_of_keys(&[at.end.name()]) };
        Place::of(&self.text, deepest(node, keys))
    }

    /// The place of the deepest of these keys that the file has.
    fn place_of_keys(&self, keys: &[&str]) -> Place {
        Place::of(&self.text, deepest(&self.tree, keys))
    }
}

fn deepest(mut node: &Node, keys: &[&str]) -> usize {
    let mut byte = node.span.start;
    for key in keys {
        let Some(field) = node.field(key) else { break };
        byte = field.key_span.start;
        node = &field.value;
    }
    byte
}
