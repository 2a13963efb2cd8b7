//! From the tree to a car.

use crate::convert::{Axes, AxesFault, Direction, FileUnits, UNITS};
use crate::error::Fault;
use crate::fields::{Fields, Notes};
use crate::read_corner::corner;
use crate::tree::{Kind, Node};
use wheelpath_geometry::{
    Alignment, Axle, CamberBy, Car, Corner, End, LengthUnit, LinkageKind, Rack, Reacted, Side, Steering,
    ToeBy, WheelAt,
};

/// What a file says beside the car.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Heading {
    pub about: Option<String>,
    pub design_pose: String,
    pub units: LengthUnit,
    pub axes: Axes,
}

pub(crate) const CAR: &[&str] = &[
    "format",
    "version",
    "name",
    "about",
    "units",
    "axes",
    "design_pose",
    "wheelbase",
    "centre_of_gravity_height",
    "brake_share_front",
    "front",
    "rear",
];
pub(crate) const AXLE: &[&str] = &["linkage", "steering", "brakes", "drive", "left", "right", "alignment"];
pub(crate) const RACK: &[&str] = &["axis", "travel_per_turn", "stop_left", "stop_right"];
pub(crate) const LINKAGES: &[(&str, LinkageKind)] = &[
    ("DoubleWishbone", LinkageKind::DoubleWishbone),
    ("Strut", LinkageKind::Strut),
    ("FiveLink", LinkageKind::FiveLink),
    ("TrailingArm", LinkageKind::TrailingArm),
    ("HArm", LinkageKind::HArm),
    ("BeamAxle", LinkageKind::BeamAxle),
];
pub(crate) const BRAKES: &[(&str, Reacted)] = &[("Outboard", Reacted::Upright), ("Inboard", Reacted::Body)];
pub(crate) const DRIVES: &[(&str, Option<Reacted>)] =
    &[("None", None), ("Sprung", Some(Reacted::Body)), ("Unsprung", Some(Reacted::Upright))];

/// The car and heading of a tree; `None` only with a problem noted.
pub(crate) fn car(node: &Node, notes: &mut Notes<'_>) -> Option<(Car, Heading)> {
    format_and_version(node, notes)?;
    let fields = notes.fields(node, "the car", CAR)?;
    let name = notes.need(&fields, "name").and_then(|n| notes.text(n, "the name"));
    let about = match fields.get("about") {
        Some(node) => notes.text(node, "about").map(Some),
        None => Some(None),
    };
    let design_pose = notes.need(&fields, "design_pose").and_then(|n| notes.text(n, "the design pose"));
    let units = notes.need(&fields, "units").and_then(|n| notes.word(n, "units", UNITS));
    let axes = notes.need(&fields, "axes").and_then(|n| axes(n, notes));
    // Without units and axes no number means anything.
    let (units, axes) = (units?, axes?);

    let metres = |notes: &mut Notes<'_>, node: &Node, what: &str| {
        notes.positive(node, what).map(|length| units.to_metres(length))
    };
    let wheelbase = notes.need(&fields, "wheelbase").and_then(|n| metres(notes, n, "the wheelbase"));
    let height = optional(&fields, "centre_of_gravity_height", |n| {
        metres(notes, n, "the height of the centre of gravity")
    });
    let brake_share = optional(&fields, "brake_share_front", |n| {
        notes.number_in(n, "the front share of the braking", "from 0 to 1", |share| {
            (0.0..=1.0).contains(&share)
        })
    });
    let [front, rear] =
        End::BOTH.map(|end| notes.need(&fields, end.name()).and_then(|n| axle(n, end, units, axes, notes)));
    let car = Car {
        name: name?,
        wheelbase: wheelbase?,
        centre_of_gravity_height: height?,
        brake_share_front: brake_share?,
        mass: None,
        weight_share_front: None,
        front: front?,
        rear: rear?,
    };
    Some((car, Heading { about: about?, design_pose: design_pose?, units, axes }))
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
fn format_and_version(node: &Node, notes: &mut Notes<'_>) -> Option<()> {
    if !matches!(node.kind, Kind::Fields(_)) {
        notes.wrong_shape(node, "a car file", "a block (format: ..., version: ..., ...)");
        return None;
    }
    let missing = |notes: &mut Notes<'_>, key| {
        notes.add(node.span.start, Fault::MissingKey { within: "the file".into(), key });
    };
    let Some(format) = node.at(&["format"]) else {
        missing(notes, "format");
        return None;
    };
    let found = notes.text(format, "the format")?;
    if found != crate::FORMAT {
        notes.add(format.span.start, Fault::Format { found });
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

fn axes(node: &Node, notes: &mut Notes<'_>) -> Option<Axes> {
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

fn axle(node: &Node, end: End, units: LengthUnit, axes: Axes, notes: &mut Notes<'_>) -> Option<Axle> {
    let fields = notes.fields(node, &format!("the {end} axle"), AXLE)?;
    let linkage =
        notes.need(&fields, "linkage").and_then(|n| notes.word(n, &format!("the {end} linkage"), LINKAGES));
    let steering = notes.need(&fields, "steering").and_then(|n| steering(n, end, units, axes, notes));
    let brakes =
        notes.need(&fields, "brakes").and_then(|n| notes.word(n, &format!("the {end} brakes"), BRAKES));
    let drive = notes.need(&fields, "drive").and_then(|n| notes.word(n, &format!("the {end} drive"), DRIVES));
    let shared = optional(&fields, "alignment", |n| alignment(n, &format!("the {end} alignment"), notes));
    let shared = shared.map(|given| given.unwrap_or(Alignment::FROM_POINTS));

    let sides = Side::BOTH.map(|side| notes.need(&fields, side.name()).map(|node| (node, side)));
    if let [Some((left, _)), Some((right, _))] = sides
        && left.is_word("Mirrored")
        && right.is_word("Mirrored")
    {
        notes.add(right.span.start, Fault::BothMirrored { end: end.name() });
        return None;
    }
    // The corner is read even where the axle's own keys are wrong, so that its faults show too.
    let mut read = |node: &Node, side| {
        let wheel = WheelAt { end, side };
        if node.kind == Kind::Word {
            return notes.word(node, &format!("the {wheel} corner"), &[("Mirrored", ())]).map(|()| None);
        }
        notes.wheel = Some(wheel);
        let steered = steering.map(|steering| steering.rack().is_some());
        let read = corner(node, wheel, linkage, steered, shared, units, axes, notes);
        notes.wheel = None;
        read.map(Some)
    };
    let [left, right] = sides.map(|given| given.and_then(|(node, side)| read(node, side)));
    let mirror = |other: &Option<Corner>| other.as_ref().map(Corner::mirrored);
    let (left, right) = (left?, right?);
    let right_corner = right.clone().or_else(|| mirror(&left))?;
    let left_corner = left.or_else(|| mirror(&right))?;
    let axle = Axle::new(steering?, left_corner, right_corner);
    Some(Axle { brakes: brakes?, drive: drive?, ..axle })
}

fn steering(node: &Node, end: End, units: LengthUnit, axes: Axes, notes: &mut Notes<'_>) -> Option<Steering> {
    let what = format!("the {end} steering");
    let is_rack = notes.choice(node, &what, &[("Fixed", false), ("Rack", true)])?;
    if !is_rack {
        return notes.word(node, &what, &[("Fixed", Steering::Fixed)]);
    }
    let fields = notes.fields_after_word(node, &format!("the {end} rack"), RACK)?;
    let axis = notes.need(&fields, "axis").and_then(|n| rack_axis(n, end, axes, notes));
    let travel_per_turn = notes.need(&fields, "travel_per_turn").and_then(|n| {
        notes.number_in(n, &format!("{end} rack travel per turn"), "anything but 0", |t| t != 0.0)
    });
    let [stop_left, stop_right] = ["stop_left", "stop_right"].map(|key| {
        let node = notes.need(&fields, key)?;
        let what = format!("the {end} rack's {}", key.replace('_', " "));
        notes.number_in(node, &what, "0 or more", |stop| stop >= 0.0)
    });
    Some(Steering::Rack(Rack {
        axis: axis?,
        travel_per_turn: units.to_metres(travel_per_turn?),
        stop_left: units.to_metres(stop_left?),
        stop_right: units.to_metres(stop_right?),
    }))
}

pub(crate) fn rack_axis(
    node: &Node,
    end: End,
    axes: Axes,
    notes: &mut Notes<'_>,
) -> Option<nalgebra::Vector3<f64>> {
    let what = format!("the {end} rack's axis");
    let along = axes.to_vehicle(notes.triple(node, &what)?);
    let Some(unit) = along.try_normalize(0.0).filter(|unit| unit.iter().all(|c| c.is_finite())) else {
        notes.add(node.span.start, Fault::NoDirection { what, why: "its length is zero" });
        return None;
    };
    if unit.y <= 0.0 {
        let why = "positive rack travel is toward the left of the car";
        let hint = "change the sign of all three numbers";
        notes.add(node.span.start, Fault::WrongWay { what, why, hint });
        return None;
    }
    Some(unit)
}

pub(crate) fn alignment(node: &Node, what: &str, notes: &mut Notes<'_>) -> Option<Alignment> {
    let fields = notes.fields(node, what, &["toe", "camber"])?;
    let toe = notes.need(&fields, "toe").and_then(|n| {
        let set = adjuster(n, &format!("{what}'s toe"), "TieRodLength", "toe_deg", notes)?;
        Some(set.map_or(ToeBy::Points, ToeBy::TieRodLength))
    });
    let camber = notes.need(&fields, "camber").and_then(|n| {
        let set = adjuster(n, &format!("{what}'s camber"), "UpperShim", "camber_deg", notes)?;
        Some(set.map_or(CamberBy::Points, CamberBy::Adjuster))
    });
    Some(Alignment { toe: toe?, camber: camber? })
}

/// `FromPoints`, or the adjuster with its angle, radians.
fn adjuster(
    node: &Node,
    what: &str,
    word: &'static str,
    key: &'static str,
    notes: &mut Notes<'_>,
) -> Option<Option<f64>> {
    let is_set = notes.choice(node, what, &[("FromPoints", false), (word, true)])?;
    if !is_set {
        return notes.word(node, what, &[("FromPoints", None)]);
    }
    let fields = notes.fields_after_word(node, &format!("{what}, {word}"), &[key])?;
    let angle = notes.need(&fields, key)?;
    notes
        .number_in(angle, what, "between -45 and 45 degrees", |a| a.abs() < 45.0)
        .map(|a| Some(a.to_radians()))
}
