//! Brackets beside a car: their planes, the points on them and their reference holes, given once.

use crate::convert::{Axes, FileUnits, Measures};
use crate::edit::edited;
use crate::failure::{LoadError, SaveError};
use crate::item::{Item as Written, Scale};
use crate::on_disk::put;
use crate::read::FileKind;
use crate::read_brackets::brackets;
use crate::text_file::read_text;
use crate::tree::Node;
use crate::whole::whole;
use nalgebra::Vector3;
use std::path::Path;
use wheelpath_geometry::{Bracket, BracketPlane, BracketReference, LengthUnit, Pickup};

/// A file of brackets: what it says, and its text for comments to be kept.
#[derive(Clone, Debug, PartialEq)]
pub struct BracketsFile {
    /// The brackets, in the order of the file; no two of one name.
    pub brackets: Vec<Bracket>,
    /// What its lengths are counted in.
    pub units: LengthUnit,
    /// Which way its axes point.
    pub axes: Axes,
    read: Option<Read>,
}

/// A text as it was read.
#[derive(Clone, Debug, PartialEq)]
struct Read {
    text: String,
    tree: Node,
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
        let (brackets, Measures { units, axes }) = brackets(&tree, notes)?;
        let read = Read { text: text.to_owned(), tree, brackets: brackets.clone() };
        Some(BracketsFile { brackets, units, axes, read: Some(read) })
    })
}

impl BracketsFile {
    /// A new file, in these units and axes.
    #[must_use]
    pub fn new(brackets: Vec<Bracket>, units: LengthUnit, axes: Axes) -> BracketsFile {
        BracketsFile { brackets, units, axes, read: None }
    }

    /// The bracket of this name.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&Bracket> {
        self.brackets.iter().find(|one| one.name == name)
    }

    /// The text of the file as it is now: of a file that was read, only what changed is changed, and
    /// comments stay. Where brackets came or went the list of them is written anew, without comments.
    #[must_use]
    pub fn text(&self) -> String {
        if let Some(read) = &self.read {
            let text = edited(&read.text, &read.tree, &self.written(Some(&read.brackets)));
            if self.differs(&text).is_none() {
                return text;
            }
        }
        format!(
            "// Brackets and plates of a car: their planes, the points on them, what one measures from.\n{}\n",
            self.written(None).printed(0, "\n")
        )
    }

    /// Writes it to a file, new or old, in one step: the old content is there until the new one is whole.
    ///
    /// # Errors
    /// It would not read back the same, or the file cannot be written; what was there is then untouched.
    pub fn save(&self, path: &Path) -> Result<(), SaveError> {
        let text = self.text();
        match self.differs(&text) {
            None => put(path, &text, None).map(|_| ()),
            Some(what) => Err(SaveError::ReadsBackDifferent { what }),
        }
    }

    /// What a text says otherwise, in words.
    fn differs(&self, text: &str) -> Option<String> {
        let back = match parse_brackets(text, "the brackets") {
            Ok(back) => back,
            Err(error) => return Some(error.to_string()),
        };
        if back.brackets.len() != self.brackets.len() {
            return Some("the number of brackets".into());
        }
        let odd = self.brackets.iter().zip(&back.brackets).find(|(a, b)| !same(a, b));
        odd.map(|(bracket, _)| format!("the bracket {:?}", bracket.name))
    }

    /// What the file should say; brackets that are as they were read are kept.
    fn written(&self, read: Option<&[Bracket]>) -> Written {
        let word = |direction: crate::Direction| Written::Word(direction.word());
        let [x, y, z] = self.axes.directions().map(word);
        let read = read.filter(|read| read.len() == self.brackets.len());
        let brackets = self.brackets.iter().enumerate().map(|(place, bracket)| {
            match read.and_then(|read| read.get(place)) {
                Some(before) if before == bracket => Written::Keep,
                _ => self.bracket(bracket),
            }
        });
        let brackets = Written::List(brackets.collect());
        Written::fields(vec![
            ("format", Written::Text(FileKind::BRACKETS.format.into())),
            ("version", Written::scaled(f64::from(crate::VERSION), Scale::Whole)),
            ("about", Written::Keep),
            ("units", Written::Word(self.units.word())),
            ("axes", Written::fields(vec![("x", x), ("y", y), ("z", z)])),
            ("brackets", brackets),
        ])
    }

    fn bracket(&self, bracket: &Bracket) -> Written {
        let words = |pickups: &[Pickup]| {
            Written::List(pickups.iter().map(|pickup| Written::Word(pickup.key())).collect())
        };
        let place = |at: &Vector3<f64>| Written::point(at, self.units, self.axes);
        let plane = match &bracket.plane {
            BracketPlane::Points(points) => ("Points", ("through", words(points))),
            BracketPlane::Places(places) => {
                ("Places", ("through", Written::List(places.iter().map(place).collect())))
            }
            BracketPlane::Normal(normal) => ("Normal", ("direction", Written::direction(normal, self.axes))),
        };
        let plane = Written::Fields { name: plane.0, fields: vec![plane.1] };
        let reference = |one: &BracketReference| match one {
            BracketReference::Point(of, pickup) => Written::Fields {
                name: "Point",
                fields: vec![("point", Written::Word(pickup.key())), ("of", Written::Word(of.key()))],
            },
            BracketReference::Hole { name, at, diameter } => {
                let mut fields = vec![("name", Written::Text(name.clone())), ("at", place(at))];
                fields.extend(diameter.map(|length| ("diameter", Written::length(length, self.units))));
                Written::Fields { name: "Hole", fields }
            }
        };
        let mut fields = vec![("name", Written::Text(bracket.name.clone()))];
        fields.extend(bracket.about.as_ref().map(|about| ("about", Written::Text(about.clone()))));
        fields.extend([
            ("of", Written::Word(bracket.of.key())),
            ("plane", plane),
            ("points", words(&bracket.points)),
        ]);
        let hole = bracket.hole_diameter.map(|length| ("hole_diameter", Written::length(length, self.units)));
        fields.extend(hole);
        if !bracket.references.is_empty() {
            let references = bracket.references.iter().map(reference).collect();
            fields.push(("references", Written::List(references)));
        }
        Written::Fields { name: "Bracket", fields }
    }
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
