//! Brackets beside a car: their planes, the points on them and their reference holes, given once; saved so
//! that comments stay and only what changed is changed.

use crate::companion::read_brackets::{KEYS, brackets};
use crate::companion::write_proposal::unsaved;
use crate::fault::failure::{LoadError, SaveError};
use crate::read::text_file::read_text;
use crate::read::whole::whole;
use crate::text::edit::edited;
use crate::text::file_kind::FileKind;
use crate::text::list_diff::correspond;
use crate::text::ron_value::{RonValue, Scale};
use crate::text::tree::Node;
use crate::text::units_and_axes::{Axes, FileUnits, Measures};
use nalgebra::Vector3;
use std::path::Path;
use wheelpath_geometry::{Bracket, BracketPlane, BracketReference, Hardpoint, LengthUnit};

/// A file of brackets that was read.
#[derive(Clone, Debug)]
pub struct BracketsFile {
    text: String,
    tree: Node,
    measures: Measures,
    brackets: Vec<Bracket>,
}

/// Reads brackets.
///
/// # Errors
/// The file cannot be read, or has faults: then all that could be found.
pub fn load_brackets(path: &Path) -> Result<BracketsFile, LoadError> {
    parse_brackets(&read_text(path)?, &path.display().to_string())
}

/// Reads the text of a file of brackets; `file` is its name in messages.
///
/// # Errors
/// The text has faults: all that could be found.
pub fn parse_brackets(text: &str, file: &str) -> Result<BracketsFile, LoadError> {
    whole(text, file, |tree, text, notes| {
        let (brackets, measures) = brackets(&tree, notes)?;
        Some(BracketsFile { text: text.to_owned(), tree, measures, brackets })
    })
}

impl BracketsFile {
    /// A file without brackets, in these units and axes.
    ///
    /// # Errors
    /// None that is known of; the text is read back like any other.
    pub fn new(units: LengthUnit, axes: Axes) -> Result<BracketsFile, LoadError> {
        let [x, y, z] = axes.directions().map(|direction| RonValue::Word(direction.word()));
        let item = RonValue::fields(vec![
            ("format", RonValue::Text(FileKind::BRACKETS.format.into())),
            ("version", RonValue::scaled(f64::from(crate::VERSION), Scale::Whole)),
            ("units", RonValue::Word(units.word())),
            ("axes", RonValue::fields(vec![("x", x), ("y", y), ("z", z)])),
            ("brackets", RonValue::List(Vec::new())),
        ]);
        let about =
            "// Brackets and plates of a car: their planes, the points on them, what one measures from.";
        parse_brackets(&format!("{about}\n{}\n", item.printed(0, "\n")), "brackets.ron")
    }

    /// The text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The brackets, in the order of the file; no two of one name.
    #[must_use]
    pub fn brackets(&self) -> &[Bracket] {
        &self.brackets
    }

    /// What its lengths are counted in.
    #[must_use]
    pub fn units(&self) -> LengthUnit {
        self.measures.units
    }

    /// Which way its axes point.
    #[must_use]
    pub fn axes(&self) -> Axes {
        self.measures.axes
    }

    /// The bracket of this name.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&Bracket> {
        self.brackets.iter().find(|one| one.name == name)
    }

    /// The file with these brackets in place of its own: comments and units stay, and so does what is
    /// written of brackets that are the same.
    ///
    /// # Errors
    /// It would not read back the same: two brackets of one name, a number that is none.
    pub fn with_brackets(&self, to: &[Bracket]) -> Result<BracketsFile, SaveError> {
        let brackets = kept(&self.brackets, to, |a, b| a.name == b.name, |one, was| self.bracket(one, was));
        let heading = KEYS.iter().filter(|key| **key != "brackets").map(|key| (*key, RonValue::Keep));
        let fields = heading.chain([("brackets", brackets)]).collect();
        let text = edited(&self.text, &self.tree, &RonValue::fields(fields));
        let file = parse_brackets(&text, "brackets.ron").map_err(unsaved)?;
        match differing(&file.brackets, to) {
            Some(what) => Err(SaveError::ReadsBackDifferent { what }),
            None => Ok(file),
        }
    }

    /// What is to be written of a bracket; `was` is the one whose place it takes.
    fn bracket(&self, bracket: &Bracket, was: Option<&Bracket>) -> RonValue {
        let Measures { units, axes } = self.measures;
        let word = |hardpoint: &Hardpoint| RonValue::Word(hardpoint.key());
        let place = |at: &Vector3<f64>| RonValue::point(at, units, axes);
        let plane = match &bracket.plane {
            BracketPlane::Points(points) => {
                ("Points", ("through", RonValue::List(points.iter().map(word).collect())))
            }
            BracketPlane::Places(places) => {
                ("Places", ("through", RonValue::List(places.iter().map(place).collect())))
            }
            BracketPlane::Normal(normal) => ("Normal", ("direction", RonValue::direction("", normal, axes))),
        };
        // A normal may be written in any length.
        let plane = match was {
            Some(was) if was.plane == bracket.plane => RonValue::Keep,
            _ => RonValue::Fields { name: plane.0, fields: vec![plane.1] },
        };
        let reference = |one: &BracketReference| match one {
            BracketReference::Point(of, hardpoint) => RonValue::Fields {
                name: "Point",
                fields: vec![("point", RonValue::Word(hardpoint.key())), ("of", RonValue::Word(of.key()))],
            },
            BracketReference::Hole { name, at, diameter } => {
                let mut fields = vec![("name", RonValue::Text(name.clone())), ("at", place(at))];
                fields.extend(diameter.map(|length| ("diameter", RonValue::length(length, units))));
                RonValue::Fields { name: "Hole", fields }
            }
        };
        let before_points = was.map_or(&[][..], |was| &was.points);
        let before_references = was.map_or(&[][..], |was| &was.references);
        let mut fields = vec![("name", RonValue::Text(bracket.name.clone()))];
        fields.extend(bracket.about.as_ref().map(|about| ("about", RonValue::Text(about.clone()))));
        fields.extend([
            ("of", RonValue::Word(bracket.of.key())),
            ("plane", plane),
            ("points", kept(before_points, &bracket.points, |a, b| a == b, |hardpoint, _| word(hardpoint))),
        ]);
        let hole = bracket.hole_diameter.map(|length| ("hole_diameter", RonValue::length(length, units)));
        fields.extend(hole);
        if !bracket.references.is_empty() {
            let references = kept(before_references, &bracket.references, alike, |one, _| reference(one));
            fields.push(("references", references));
        }
        RonValue::Fields { name: "Bracket", fields }
    }
}

/// A list in place of another: what is the same stays as it is written, what is alike is changed where it
/// stands. `item` is told what it takes the place of.
fn kept<T: PartialEq>(
    was: &[T],
    to: &[T],
    alike: impl Fn(&T, &T) -> bool,
    item: impl Fn(&T, Option<&T>) -> RonValue,
) -> RonValue {
    let from = correspond((was.len(), to.len()), |a, b| was[a] == to[b], |a, b| alike(&was[a], &to[b]));
    let all = to.iter().zip(from).map(|(one, from)| match from.and_then(|n| was.get(n)) {
        Some(before) if before == one => (from, RonValue::Keep),
        before => (from, item(one, before)),
    });
    RonValue::Kept(all.collect())
}

/// Whether two references are of one kind and name.
fn alike(a: &BracketReference, b: &BracketReference) -> bool {
    match (a, b) {
        (BracketReference::Hole { name: a, .. }, BracketReference::Hole { name: b, .. }) => a == b,
        (a, b) => a == b,
    }
}

/// The name of the first that is not the same, or that there are not as many.
fn differing(a: &[Bracket], b: &[Bracket]) -> Option<String> {
    if a.len() != b.len() {
        return Some("the number of brackets".into());
    }
    let odd = a.iter().zip(b).find(|(a, b)| !same(a, b));
    odd.map(|(_, bracket)| format!("the bracket {:?}", bracket.name))
}

/// Whether two brackets are the same but for rounding.
fn same(a: &Bracket, b: &Bracket) -> bool {
    let near = |a: &Vector3<f64>, b: &Vector3<f64>| (a - b).amax() <= ROUNDING;
    let length = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= ROUNDING,
        (None, None) => true,
        _ => false,
    };
    let plane = match (&a.plane, &b.plane) {
        (BracketPlane::Places(a), BracketPlane::Places(b)) => a.iter().zip(b).all(|(a, b)| near(a, b)),
        (BracketPlane::Normal(a), BracketPlane::Normal(b)) => near(a, b),
        (a, b) => a == b,
    };
    let reference = |(a, b): (&BracketReference, &BracketReference)| match (a, b) {
        (
            BracketReference::Hole { name, at, diameter },
            BracketReference::Hole { name: name_b, at: at_b, diameter: diameter_b },
        ) => name == name_b && near(at, at_b) && length(*diameter, *diameter_b),
        (a, b) => a == b,
    };
    (&a.name, &a.about, a.of, &a.points) == (&b.name, &b.about, b.of, &b.points)
        && plane
        && length(a.hole_diameter, b.hole_diameter)
        && a.references.len() == b.references.len()
        && a.references.iter().zip(&b.references).all(reference)
}

/// What writing and reading a length may change, metres.
const ROUNDING: f64 = 1e-12;
