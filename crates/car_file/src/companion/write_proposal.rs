//! The text of a proposal's file: written afresh, or over the one that is there.

use crate::companion::names::kind_of_name;
use crate::companion::proposal::{NUMBERS, ProposalFile, parse_proposal};
use crate::disk::replace::put_new;
use crate::fault::failure::{LoadError, SaveError};
use crate::fault::problem::list;
use crate::read::fields::Diagnostics;
use crate::read::syntax::tree_of;
use crate::text::edit::edited;
use crate::text::file_kind::FileKind;
use crate::text::list_diff::correspond;
use crate::text::ron_value::{Quantity, RonValue as Written, Scale};
use crate::text::units_and_axes::{Axes, FileUnits};
use nalgebra::Vector3;
use std::path::Path;
use wheelpath_geometry::{Car, Change, LengthUnit, Parameter, Proposal, Unit, Value};

impl ProposalFile {
    /// A proposal for a car, in these units and axes.
    #[must_use]
    pub fn new(proposal: Proposal, car: &Car, units: LengthUnit, axes: Axes) -> ProposalFile {
        ProposalFile { proposal, car: car.name.clone(), units, axes }
    }

    /// The text of its file.
    #[must_use]
    pub fn text(&self) -> String {
        let changes = self.proposal.changes.iter().map(|change| self.written(change)).collect();
        let text = self.item(Written::List(changes)).printed(0, "\n");
        format!(
            "// A proposal: changes to a car, made in this order. `was` is what the car had when it was written.\n\
             {text}\n"
        )
    }

    /// The text of a file of a proposal with this one said in its place: units, axes and comments stay, and
    /// so does what is written of changes that are the same. Checked by reading it back.
    ///
    /// # Errors
    /// The old text has faults, or the new one would not read back the same.
    pub fn text_over(old: &str, file: &str, proposal: &Proposal) -> Result<String, SaveError> {
        let old = old.strip_prefix('\u{feff}').unwrap_or(old);
        let before = parse_proposal(old, file).map_err(unsaved)?;
        let mut notes = Diagnostics::new(file, old);
        let tree = tree_of(old, &mut notes);
        let now = ProposalFile { proposal: proposal.clone(), ..before.clone() };
        let (was, is) = (&before.proposal.changes, &now.proposal.changes);
        let thing = |change: &Change| match change {
            Change::Set { of, parameter, .. } => Some((*of, *parameter)),
            Change::Shim { .. } => None,
        };
        let from = correspond(
            (was.len(), is.len()),
            |a, b| same(&was[a], &is[b]),
            |a, b| thing(&was[a]).is_some_and(|of| thing(&is[b]) == Some(of)),
        );
        let kept = is.iter().zip(from).map(|(change, from)| match from {
            Some(n) if same(&was[n], change) => (from, Written::Keep),
            _ => (from, now.written(change)),
        });
        let text = match &tree {
            Some(tree) => edited(old, tree, &now.item(Written::Kept(kept.collect()))),
            None => now.text(),
        };
        now.checked(text, file)
    }

    fn item(&self, changes: Written) -> Written {
        let word = |direction: crate::Direction| Written::Word(direction.word());
        let [x, y, z] = self.axes.directions().map(word);
        let mut fields = vec![
            ("format", Written::Text(FileKind::PROPOSAL.format.into())),
            ("version", Written::scaled(f64::from(crate::VERSION), Scale::Whole)),
            ("name", Written::Text(self.proposal.name.clone())),
        ];
        fields.extend(self.proposal.about.as_ref().map(|about| ("about", Written::Text(about.clone()))));
        fields.extend([
            ("car", Written::Text(self.car.clone())),
            ("units", Written::Word(self.units.word())),
            ("axes", Written::fields(vec![("x", x), ("y", y), ("z", z)])),
            ("changes", changes),
        ]);
        Written::fields(fields)
    }

    fn written(&self, change: &Change) -> Written {
        match change {
            Change::Set { of, parameter, was, now, .. } => {
                let unit = parameter.unit();
                let value = |value: &Value| self.value(value, unit);
                let (name, key, word) = match parameter {
                    Parameter::Point(_) | Parameter::WheelCentre => ("Move", "point", parameter.key()),
                    Parameter::Length(_) => ("Length", "link", parameter.key()),
                    Parameter::Wheel(_) | Parameter::Steering(_) | Parameter::Spring(_) => {
                        let found = NUMBERS.iter().find(|(_, one, by)| one == parameter && *by == unit);
                        ("Set", "number", found.map_or(parameter.key(), |(word, ..)| *word))
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
                let under = points.iter().map(|hardpoint| Written::Word(hardpoint.key())).collect();
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
        Written::direction("", along, self.axes)
    }

    fn value(&self, value: &Value, unit: Unit) -> Written {
        match (value, unit) {
            (Value::Place(at), _) => Written::point(at, self.units, self.axes),
            (Value::Number(number), Unit::Degree) => Written::degrees(*number),
            (Value::Number(number), Unit::SpringRate) => Written::scaled(*number, Scale::PerMillimetre),
            (Value::Number(number), Unit::TorsionRate) => Written::scaled(*number, Scale::PerDegree),
            (Value::Number(number), Unit::Length) => Written::length(*number, self.units),
            (Value::Number(number), _) => Written::Number(Quantity { core: *number, scale: Scale::Plain }),
            (Value::FromPoints, _) => Written::Word("FromPoints"),
        }
    }

    /// The text of its file, checked by reading it back.
    ///
    /// # Errors
    /// It would not read back the same.
    pub fn checked_text(&self, file: &str) -> Result<String, SaveError> {
        self.checked(self.text(), file)
    }

    fn checked(&self, text: String, file: &str) -> Result<String, SaveError> {
        let back = parse_proposal(&text, file).map_err(unsaved)?;
        match self.differs(&back) {
            Some(what) => Err(SaveError::ReadsBackDifferent { what }),
            None => Ok(text),
        }
    }

    /// Writes it to a new file in one step. Of any number who do that at once with one name, one succeeds.
    ///
    /// # Errors
    /// It would not read back the same, the name is taken or that of another kind of file, or it cannot be
    /// written; what was there is then untouched.
    pub fn save_new(&self, path: &Path) -> Result<(), SaveError> {
        let text = self.checked_text(&path.display().to_string())?;
        if let Some(kind) = kind_of_name(path) {
            return Err(SaveError::NameOf { file: path.to_owned(), kind });
        }
        put_new(path, &text).map(drop)
    }

    /// The first change that another one has not but for rounding, in words.
    fn differs(&self, other: &ProposalFile) -> Option<String> {
        let (mine, others) = (&self.proposal.changes, &other.proposal.changes);
        if mine.len() != others.len() {
            return Some(list(&["the number of changes"]));
        }
        let odd = mine.iter().zip(others).find(|(a, b)| !same(a, b));
        odd.map(|(change, _)| change.said(self.units))
    }
}

/// Whether two changes are the same but for rounding.
fn same(a: &Change, b: &Change) -> bool {
    match (a, b) {
        (
            Change::Set { of, parameter, was, now, .. },
            Change::Set { of: of_b, parameter: item_b, was: was_b, now: now_b, .. },
        ) => of == of_b && parameter == item_b && was.is(*was_b) && now.is(*now_b),
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
    }
}

/// Why a text that does not read back is not saved.
pub(crate) fn unsaved(error: LoadError) -> SaveError {
    match error {
        LoadError::Faulty(problems) => SaveError::Faulty(problems),
        LoadError::Unreadable { file, source } => SaveError::Unwritable { file, source },
    }
}
