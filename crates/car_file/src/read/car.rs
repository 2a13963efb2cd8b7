//! From the tree to a car.

use crate::fault::problem::Fault;
use crate::read::axle::axle;
use crate::read::fields::{Diagnostics, Fields};
use crate::read::left_over::{LeftOver, left_over};
use crate::read::stand_in::{STAND_IN, stand_in};
use crate::read::static_loads::static_loads;
use crate::text::file_kind::FileKind;
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::{Axes, AxesFault, Direction, Measures, UNITS};
use wheelpath_geometry::{Car, End, LengthUnit, excerpt};

/// What a file says beside the car.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Heading {
    pub about: Option<String>,
    pub design_pose: String,
    pub units: LengthUnit,
    pub axes: Axes,
    /// Points that no table gave.
    pub left_over: Vec<LeftOver>,
}

impl Heading {
    pub fn measures(&self) -> Measures {
        Measures { units: self.units, axes: self.axes }
    }
}

pub(crate) const CAR: &[&str] = &[
    "format",
    "version",
    "name",
    "about",
    "units",
    "axes",
    "design_pose",
    "left_over",
    "wheelbase",
    "centre_of_gravity_height",
    "brake_share_front",
    "mass_kg",
    "weight_share_front",
    "weight_share_left",
    "cross_weight",
    "wheel_loads_kg",
    "wheel_loads_n",
    "front",
    "rear",
];
/// The car and heading of a tree; `None` only with a problem noted.
pub(crate) fn car(node: &Node, notes: &mut Diagnostics<'_>) -> Option<(Car, Heading)> {
    format_and_version(node, FileKind::CAR, notes)?;
    let fields = notes.fields(node, "the car", CAR)?;
    let name = notes.need(&fields, "name").and_then(|n| notes.text(n, "the name"));
    let about = match fields.get("about") {
        Some(node) => notes.text(node, "about").map(Some),
        None => Some(None),
    };
    let design_pose = notes.need(&fields, "design_pose").and_then(|n| notes.text(n, "the design pose"));
    let measures = measures(&fields, notes)?;
    let metres = |notes: &mut Diagnostics<'_>, node: &Node, what: &str| {
        notes.positive(node, what).map(|length| measures.length(length))
    };
    let share = |notes: &mut Diagnostics<'_>, node: &Node, what: &str| {
        notes.number_in(node, what, "from 0 to 1", |share| (0.0..=1.0).contains(&share))
    };
    let wheelbase = notes.need(&fields, "wheelbase").and_then(|n| metres(notes, n, "the wheelbase"));
    let height = optional(&fields, "centre_of_gravity_height", |n| {
        metres(notes, n, "the height of the centre of gravity")
    });
    let brake_share =
        optional(&fields, "brake_share_front", |n| share(notes, n, "the front share of the braking"));
    let mass = optional(&fields, "mass_kg", |n| notes.positive(n, "the mass"));
    let weight_share =
        optional(&fields, "weight_share_front", |n| share(notes, n, "the front share of the weight"));
    let static_loads = static_loads(&fields, notes);
    let left = optional(&fields, "left_over", |n| left_over(n, notes));
    let [front, rear] = End::BOTH.map(|end| match notes.need(&fields, end.name()) {
        Some(node) if end == End::Rear && node.is_word(STAND_IN) => None,
        Some(node) => axle(node, end, measures, notes),
        None => None,
    });
    let rear = match fields.get("rear") {
        Some(node) if node.is_word(STAND_IN) => Some(stand_in(front.as_ref()?, wheelbase?)),
        _ => rear,
    };
    let car = Car {
        name: name?,
        wheelbase: wheelbase?,
        centre_of_gravity_height: height?,
        brake_share_front: brake_share?,
        mass: mass?,
        weight_share_front: weight_share?,
        static_loads: static_loads?,
        front: front?,
        rear: rear?,
    };
    let Measures { units, axes } = measures;
    Some((
        car,
        Heading {
            about: about?,
            design_pose: design_pose?,
            units,
            axes,
            left_over: left?.unwrap_or_default(),
        },
    ))
}

/// Units and axes of a file: without them no number means anything.
pub(crate) fn measures(fields: &Fields<'_>, notes: &mut Diagnostics<'_>) -> Option<Measures> {
    let units = notes.need(fields, "units").and_then(|n| notes.word(n, "units", UNITS));
    let axes = notes.need(fields, "axes").and_then(|n| axes(n, notes));
    Some(Measures { units: units?, axes: axes? })
}

/// `Some(None)` where the key is absent, `None` where its value is wrong.
pub(crate) fn optional<'n, T>(
    fields: &Fields<'n>,
    key: &str,
    read: impl FnOnce(&'n Node) -> Option<T>,
) -> Option<Option<T>> {
    match fields.get(key) {
        Some(node) => read(node).map(Some),
        None => Some(None),
    }
}

/// Looked at before anything else: another version may have other keys, and one clear word is better
/// than a list of them.
pub(crate) fn format_and_version(node: &Node, kind: FileKind, notes: &mut Diagnostics<'_>) -> Option<()> {
    if !matches!(node.kind, Kind::Fields(_)) {
        notes.wrong_shape(node, kind.name, "a block (format: ..., version: ..., ...)");
        return None;
    }
    let missing = |notes: &mut Diagnostics<'_>, key| {
        notes.add(node.span.start, Fault::MissingKey { within: "the file".into(), key });
    };
    let Some(format) = node.at(&["format"]) else {
        missing(notes, "format");
        return None;
    };
    let found = notes.text(format, "the format")?;
    if found != kind.format {
        let found = excerpt(&found).into_owned();
        notes.add(format.span.start, Fault::Format { found, kind });
        return None;
    }
    let Some(version) = node.at(&["version"]) else {
        missing(notes, "version");
        return None;
    };
    let found = notes.number(version, "the version")?;
    if (found - f64::from(crate::VERSION)).abs() > 0.0 {
        notes.add(version.span.start, Fault::Version { found });
        return None;
    }
    Some(())
}

fn axes(node: &Node, notes: &mut Diagnostics<'_>) -> Option<Axes> {
    let fields = notes.fields(node, "axes", &["x", "y", "z"])?;
    let [x, y, z] = ["x", "y", "z"].map(|name| {
        let node = notes.need(&fields, name)?;
        notes.word(node, &format!("axis {name}"), &Direction::ALL.map(|d| (d.word(), d)))
    });
    let name = |i: usize| ['x', 'y', 'z'].get(i).copied().unwrap_or('?');
    match Axes::new([x?, y?, z?]) {
        Ok(axes) => Some(axes),
        Err(AxesFault::LeftHanded) => {
            notes.add(node.span.start, Fault::LeftHandedAxes);
            None
        }
        Err(AxesFault::Parallel(i, j)) => {
            notes.add(node.span.start, Fault::ParallelAxes { first: name(i), second: name(j) });
            None
        }
    }
}
