//! What can be wrong, where, and what to do about it.

use crate::fault::pose_fault::PoseFault;
use crate::fault::table_fault::TableFault;
use crate::text::axis_form::POINT;
use crate::text::axis_form::axis_from;
use crate::text::file_kind::FileKind;
use crate::text::place::Place;
use crate::text::point_names::TablePoint;
use std::fmt;
use std::sync::Arc;
use wheelpath_geometry::{Assembly, Finding, Hardpoint, Link, Severity, Subject, WheelPosition, shown_name};

/// One thing wrong with a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// The file, as it was named to the loader.
    pub file: String,
    /// Where in the file.
    pub place: Place,
    /// Whose corner, where it is about one.
    pub wheel: Option<WheelPosition>,
    /// What is wrong.
    pub fault: Fault,
}

impl Problem {
    /// What to do about it, in a sentence.
    #[must_use]
    pub fn hint(&self) -> String {
        self.fault.hint()
    }

    /// Whether the car can be used all the same.
    #[must_use]
    pub fn is_warning(&self) -> bool {
        match &self.fault {
            Fault::Model(finding) => finding.severity == Severity::Warning,
            Fault::LeftOver { .. } => true,
            _ => false,
        }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}: {}", shown_name(&self.file), self.place, shown_name(&self.fault.to_string()))
    }
}

/// What is wrong.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Fault {
    /// The bytes are no text.
    #[error("the file is not UTF-8 text")]
    NotText,
    /// Nothing stands in the file.
    #[error("the file is empty")]
    Empty,
    /// Not well-formed.
    #[error("{}this is not well-formed: {what}", inside(.within))]
    Syntax {
        /// What is wrong with it, in words.
        what: &'static str,
        /// The keys around it, in words.
        within: String,
    },
    /// Well-formed, but in a way of writing that a car file does not use.
    #[error("a car file is not written this way")]
    OtherNotation,
    /// Another kind of file.
    #[error("this is not {}: its format is {found:?}", kind.name)]
    Format {
        /// What `format` says.
        found: String,
        /// What it should be.
        kind: FileKind,
    },
    /// A version this program does not read.
    #[error("the file has version {found}; this program reads version {}", crate::VERSION)]
    Version {
        /// What `version` says.
        found: f64,
    },
    /// A key that has no meaning there.
    #[error("{found} has no meaning in {within}{}", did_you_mean(.nearest))]
    UnknownKey {
        /// The block, in words.
        within: String,
        /// The key.
        found: String,
        /// The nearest that has a meaning.
        nearest: Option<String>,
        /// All that have one.
        known: Arc<[&'static str]>,
    },
    /// A key that must be there.
    #[error("{within} lacks {key}")]
    MissingKey {
        /// The block, in words.
        within: String,
        /// The key.
        key: &'static str,
    },
    /// A key given twice.
    #[error("{key} is given twice in {within}")]
    RepeatedKey {
        /// The block, in words.
        within: String,
        /// The key.
        key: String,
    },
    /// A word that is none of the choices.
    #[error("{what} cannot be {found}{}", did_you_mean(.nearest))]
    UnknownWord {
        /// What it is for, in words.
        what: String,
        /// The word.
        found: String,
        /// The nearest choice.
        nearest: Option<String>,
        /// The choices.
        known: Vec<&'static str>,
    },
    /// Something else than expected.
    #[error("{what} must be {expected}, not {found}")]
    WrongShape {
        /// What it is for, in words.
        what: String,
        /// What it should be.
        expected: &'static str,
        /// What it is.
        found: String,
    },
    /// A number of a new file that nobody has filled in yet.
    #[error("{what} {} still missing", if what.ends_with(',') { "are" } else { "is" })]
    NotFilledIn {
        /// Which number, in words.
        what: String,
    },
    /// Infinite, or not a number.
    #[error("{what} is {value}: not a finite number")]
    NotFinite {
        /// Which number, in words.
        what: String,
        /// The number.
        value: f64,
    },
    /// A number outside its range.
    #[error("{what} is {value}; it must be {range}")]
    OutOfRange {
        /// Which number, in words.
        what: String,
        /// The number, as written.
        value: f64,
        /// The range, in words.
        range: &'static str,
    },
    /// A direction without a length.
    #[error("{what} has no direction: {why}")]
    NoDirection {
        /// Which direction, in words.
        what: String,
        /// The reason.
        why: &'static str,
    },
    /// A direction where a second point is meant, or the other way round.
    #[error("{what} is ({}, {}, {}): these are the numbers of {found}", .numbers[0], .numbers[1], .numbers[2])]
    AxisOfOtherKind {
        /// Which axis, in words.
        what: String,
        /// As written.
        numbers: [f64; 3],
        /// `a direction` or `a point`.
        found: &'static str,
    },
    /// A direction that points the wrong way.
    #[error("{what} points the wrong way: {why}")]
    WrongWay {
        /// Which direction, in words.
        what: String,
        /// The reason.
        why: &'static str,
        /// What to do.
        hint: &'static str,
    },
    /// Two axes along one line.
    #[error("axes {first} and {second} run along the same line")]
    ParallelAxes {
        /// x, y or z.
        first: char,
        /// x, y or z.
        second: char,
    },
    /// Axes that are a mirror image.
    #[error("the axes are left-handed")]
    LeftHandedAxes,
    /// Neither side is written out.
    #[error("{end} left and right are both Mirrored: neither is written out")]
    BothMirrored {
        /// `front` or `rear`.
        end: &'static str,
    },
    /// A point the corner or axle must have.
    #[error("{assembly} {hardpoint} is missing: {because}")]
    MissingPoint {
        /// Whose it is.
        assembly: Assembly,
        /// The point.
        hardpoint: Hardpoint,
        /// Why it is needed.
        because: String,
    },
    /// A point the corner or axle has no use for.
    #[error("{assembly} {hardpoint} is not used: {because}")]
    UnusedPoint {
        /// Whose it is.
        assembly: Assembly,
        /// The point.
        hardpoint: Hardpoint,
        /// Why not.
        because: String,
        /// What to do.
        hint: String,
    },
    /// A point or length of the axle in a corner's block, or a corner's in the axle's.
    #[error("{key} is {}, and does not belong in the {assembly} {block}", owners_of(.assembly))]
    Misplaced {
        /// In whose block it stands.
        assembly: Assembly,
        /// The key.
        key: &'static str,
        /// `hardpoints`, `lengths` or `radii`.
        block: &'static str,
    },
    /// A length for a link the corner or axle has not.
    #[error("{assembly} has no {link} to have a length")]
    LengthOfAbsentLink {
        /// Whose it is.
        assembly: Assembly,
        /// The link.
        link: Link,
    },
    /// A part carries a point it cannot carry, or is not there.
    #[error("{what} cannot be carried by the {part}: {why}")]
    CannotCarry {
        /// What, in words.
        what: String,
        /// The part, in words.
        part: &'static str,
        /// The reason.
        why: String,
        /// Words for parts that can.
        instead: Vec<&'static str>,
    },
    /// A word that has a meaning, but not here.
    #[error("{what} cannot be {found}: {why}")]
    NotHere {
        /// What it is for, in words.
        what: String,
        /// The word.
        found: &'static str,
        /// The reason.
        why: String,
        /// What to do.
        hint: String,
    },
    /// The stops of a damper are in the wrong order.
    #[error("{wheel} damper: shortest is {shortest}, not less than longest, {longest}")]
    DamperStops {
        /// Whose it is.
        wheel: WheelPosition,
        /// As written.
        shortest: f64,
        /// As written.
        longest: f64,
    },
    /// Every word and number is in its place, but the car is impossible, or doubtful.
    #[error("{}{}", whose(.0), .0.message)]
    Model(Finding),
    /// Points that no table gave: they stand where another car had them.
    #[error("{assembly}: left over from the car that a table was put into: {}", points.iter().map(|point| point.key()).collect::<Vec<_>>().join(", "))]
    LeftOver {
        /// Whose it is.
        assembly: Assembly,
        /// The points.
        points: Vec<TablePoint>,
    },
    /// A name in the list of points left over that is no point.
    #[error("{name:?} in `left_over` is no point{}", nearest.map_or_else(String::new, |near| format!("; did you mean {near}?")))]
    LeftOverNoPoint {
        /// The name.
        name: String,
        /// The key of the nearest point, if one is near.
        nearest: Option<&'static str>,
    },
    /// A point in the list of points left over without a corner or axle.
    #[error("{name:?} in `left_over` does not say whose point it is")]
    LeftOverOfNobody {
        /// The name.
        name: String,
    },
    /// A proposal changes what its kind of change cannot.
    #[error("{what}: the {of} has no such thing to change")]
    NothingToChange {
        /// The change, in words.
        what: String,
        /// Whose it is.
        of: String,
    },
    /// A shim under nothing.
    #[error("{what} lies under no point")]
    UnderNothing {
        /// The change, in words.
        what: String,
    },
    /// Something about a point table.
    #[error(transparent)]
    Table(#[from] TableFault),
    /// The matter is a table of poses.
    #[error(transparent)]
    Poses(#[from] PoseFault),
}

/// Whether what a finding is about stands at a corner, never at an axle as a whole.
fn is_of_corner(subject: Subject) -> bool {
    match subject {
        Subject::Hardpoint(hardpoint) => !hardpoint.is_of_axle(),
        Subject::Link(link) => !link.is_of_axle(),
        Subject::Wheel(_) | Subject::Damper | Subject::Spring => true,
        _ => false,
    }
}

fn whose(finding: &Finding) -> String {
    if let (Some(end), None, true) = (finding.end, finding.side, is_of_corner(finding.subject)) {
        return format!("{0} left or {0} right: ", end.name());
    }
    let words = [finding.end.map(|end| end.name()), finding.side.map(|side| side.name())];
    let words: Vec<_> = words.into_iter().flatten().collect();
    if words.is_empty() { String::new() } else { format!("{}: ", words.join(" ")) }
}

fn owners_of(assembly: &Assembly) -> &'static str {
    if assembly.side().is_some() { "the axle's as a whole" } else { "a corner's" }
}

fn inside(within: &str) -> String {
    if within.is_empty() { String::new() } else { format!("in {within}, ") }
}

fn did_you_mean(nearest: &Option<String>) -> String {
    nearest.as_ref().map_or_else(String::new, |name| format!("; did you mean {name}?"))
}

pub(crate) fn list(known: &[&str]) -> String {
    match known {
        [] => "none".into(),
        [one] => (*one).into(),
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
    }
}

impl Fault {
    /// What to do about it, in a sentence.
    #[must_use]
    pub fn hint(&self) -> String {
        match self {
            Fault::NotText => "save it as plain text, in the encoding UTF-8".into(),
            Fault::Empty => {
                "an empty file may be what is left of a save that failed: look for a copy; `wheelpath new` writes a car \
                 file to fill in, and the demo cars show each kind of file"
                    .into()
            }
            Fault::Syntax { .. } => {
                "look here and just before for a missing comma, bracket, colon or quotation mark".into()
            }
            Fault::OtherNotation => {
                "use only (key: value, ...) blocks, (a, b, c) rows, [a, b] lists, words, numbers and quoted text"
                    .into()
            }
            Fault::Format { kind, .. } => format!("{} has `format: \"{}\"`", kind.name, kind.format),
            Fault::Version { .. } => format!(
                "write `version: {}` if the file follows it, or open the file with the program that wrote it",
                crate::VERSION
            ),
            Fault::UnknownKey { found, known, .. } => {
                // The next best key has another unit: nobody shall rename it and keep the number.
                let pounds = found.split('_').any(|word| matches!(word, "lb" | "lbs" | "pounds" | "lbf"));
                let units = if pounds {
                    "; masses are given in kilograms (1 lb is 0.45359 kg), rates in newtons per millimetre (1 lb/in \
                     is 0.17513 N/mm)"
                } else {
                    ""
                };
                format!("known here: {}{units}", list(known))
            }
            Fault::MissingKey { key, .. } => format!("add `{key}: ...`; a demo car shows how it is written"),
            Fault::RepeatedKey { key, .. } => format!("keep one `{key}` and delete the other"),
            Fault::UnknownWord { known, .. } => format!("write {}", list(known)),
            Fault::WrongShape { expected, .. } => format!("write {expected}"),
            Fault::NotFilledIn { .. } => {
                format!("write the measured number in place of {}; what is optional may be deleted instead", crate::FILL_IN)
            }
            Fault::NotFinite { .. } => "write the measured number".into(),
            Fault::OutOfRange { range, .. } => format!("write a number that is {range}"),
            Fault::NoDirection { .. } => "give a direction of any length but zero".into(),
            Fault::AxisOfOtherKind { .. } => {
                "write Direction(x, y, z) if it is a direction, Point(x, y, z) if it is a second point on the axis"
                    .into()
            }
            Fault::WrongWay { hint, .. } => (*hint).into(),
            Fault::ParallelAxes { .. } => {
                "let one axis run Forward or Rearward, one Left or Right, one Up or Down".into()
            }
            Fault::LeftHandedAxes => {
                "turn one axis round; if the source really is left-handed, turn the sign of one coordinate \
                 of every point too"
                    .into()
            }
            Fault::BothMirrored { .. } => "write the block of one side out in place of Mirrored".into(),
            Fault::MissingPoint { assembly, hardpoint, .. } => {
                let block = if assembly.side().is_some() { "pickups" } else { "the axle's own pickups" };
                let word = if axis_from(*hardpoint).is_some() { POINT } else { "" };
                format!("add `{}: {word}(x, y, z)` to {block}", hardpoint.key())
            }
            Fault::UnusedPoint { hint, .. } | Fault::NotHere { hint, .. } => hint.clone(),
            Fault::Misplaced { assembly, block, .. } if assembly.side().is_some() => {
                format!("move it to the {} axle's own `{block}`, beside its linkage", assembly.end())
            }
            Fault::Misplaced { assembly, block, .. } => {
                format!("move it to the `{block}` of the {0} left or {0} right corner", assembly.end())
            }
            Fault::LengthOfAbsentLink { .. } => "delete the length, or add the points of the link".into(),
            Fault::CannotCarry { instead, .. } => format!("name {} instead", list(instead)),
            Fault::DamperStops { .. } => {
                "`shortest` is eye to eye fully compressed, `longest` fully extended".into()
            }
            Fault::Model(finding) => finding.hint.clone(),
            Fault::LeftOver { .. } => {
                "measure them; those that are right where they stand, take out of `left_over` in the file".into()
            }
            Fault::LeftOverNoPoint { .. } => "correct the name or delete it; `wheelpath points` lists the names".into(),
            Fault::LeftOverOfNobody { .. } => "put front left, rear right or, for a point of an axle, front or rear before it".into(),
            Fault::NothingToChange { .. } => {
                "points and links of a corner belong to a corner (front_left, front_both, ...), those of an axle and its \
                 steering to the axle (front, rear)"
                    .into()
            }
            Fault::UnderNothing { .. } => "name the points it lies under: `under: [upper_wishbone_front, ...]`".into(),
            Fault::Table(fault) => fault.hint().into(),
            Fault::Poses(fault) => fault.hint().into(),
        }
    }
}
