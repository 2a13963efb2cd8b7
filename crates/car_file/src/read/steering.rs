//! From the tree to what steers an axle.

use crate::fault::problem::Fault;
use crate::read::axis::direction;
use crate::read::fields::{Diagnostics, Fields};
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::Measures;
use nalgebra::Vector3;
use wheelpath_geometry::{CardanJoint, Column, End, Rack, Steering, SteeringArm, SteeringBox};

pub(crate) const RACK: &[&str] = &["axis", "travel_per_turn", "stop_left", "stop_right"];
pub(crate) const BOX: &[&str] = &[
    "pitman_pivot",
    "pitman_axis",
    "pitman_ball",
    "idler_pivot",
    "idler_axis",
    "idler_ball",
    "ratio",
    "stop_left_deg",
    "stop_right_deg",
];

#[derive(Clone, Copy)]
enum Word {
    Fixed,
    Rack,
    Box,
}

pub(crate) fn steering(
    node: &Node,
    end: End,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Steering> {
    let what = format!("the {end} steering");
    let words = [("Fixed", Word::Fixed), ("Rack", Word::Rack), ("Box", Word::Box)];
    match notes.choice(node, &what, &words)? {
        Word::Fixed => notes.word(node, &what, &[("Fixed", Steering::Fixed)]),
        Word::Rack => rack(node, end, measures, notes).map(Steering::Rack),
        Word::Box => steering_box(node, end, measures, notes).map(Steering::Box),
    }
}

fn rack(node: &Node, end: End, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<Rack> {
    let fields = notes.fields_after_word(node, &format!("the {end} rack"), RACK)?;
    let axis = notes.need(&fields, "axis").and_then(|n| rack_axis(n, end, measures, notes));
    let travel_per_turn = notes.need(&fields, "travel_per_turn").and_then(|n| {
        notes.number_in(n, &format!("{end} rack travel per turn"), "anything but 0", |t| t != 0.0)
    });
    let [stop_left, stop_right] = ["stop_left", "stop_right"].map(|key| {
        let node = notes.need(&fields, key)?;
        let what = format!("the {end} rack's {}", key.replace('_', " "));
        notes.number_in(node, &what, "0 or more", |stop| stop >= 0.0)
    });
    Some(Rack {
        axis: axis?,
        travel_per_turn: measures.length(travel_per_turn?),
        stop_left: measures.length(stop_left?),
        stop_right: measures.length(stop_right?),
    })
}

pub(crate) fn rack_axis(
    node: &Node,
    end: End,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Vector3<f64>> {
    let what = format!("the {end} rack's axis");
    let unit = direction(node, &what, (None, Some(Vector3::y())), measures, notes)?;
    if unit.y <= 0.0 {
        let why = "positive rack travel is toward the left of the car";
        let hint = "change the sign of all three numbers";
        notes.add(node.span.start, Fault::WrongWay { what, why, hint });
        return None;
    }
    Some(unit)
}

fn steering_box(
    node: &Node,
    end: End,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<SteeringBox> {
    let fields = notes.fields_after_word(node, &format!("the {end} steering box"), BOX)?;
    let pitman =
        arm(&fields, end, "pitman arm", ["pitman_pivot", "pitman_axis", "pitman_ball"], measures, notes);
    let idler = arm(&fields, end, "idler arm", ["idler_pivot", "idler_axis", "idler_ball"], measures, notes);
    let ratio = notes.need(&fields, "ratio").and_then(|n| {
        notes.number_in(n, &format!("the {end} steering box's ratio"), "anything but 0", |ratio| ratio != 0.0)
    });
    let [stop_left, stop_right] = ["stop_left_deg", "stop_right_deg"].map(|key| {
        let node = notes.need(&fields, key)?;
        let what = format!("the {end} pitman arm's {}", key.trim_end_matches("_deg").replace('_', " "));
        let within = |stop: f64| (0.0..=170.0).contains(&stop);
        notes.number_in(node, &what, "from 0 to 170 degrees", within).map(f64::to_radians)
    });
    Some(SteeringBox {
        pitman: pitman?,
        idler: idler?,
        ratio: ratio?,
        stop_left: stop_left?,
        stop_right: stop_right?,
    })
}

fn arm(
    fields: &Fields<'_>,
    end: End,
    name: &str,
    [pivot, axis, ball]: [&'static str; 3],
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<SteeringArm> {
    let point = |key: &'static str, what: &str, notes: &mut Diagnostics<'_>| {
        let node = notes.need(fields, key)?;
        let written = notes.triple(node, &format!("the {end} {name}'s {what}"))?;
        Some(measures.point(written))
    };
    let pivot = point(pivot, "pivot", notes);
    let axis = notes
        .need(fields, axis)
        .and_then(|n| shaft_axis(n, &format!("the {end} {name}'s axis"), pivot, measures, notes));
    let ball = point(ball, "ball joint", notes);
    Some(SteeringArm { pivot: pivot?, axis: axis?, ball: ball? })
}

/// The axis of the shaft that an arm turns about: upward.
pub(crate) fn shaft_axis(
    node: &Node,
    what: &str,
    pivot: Option<Vector3<f64>>,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Vector3<f64>> {
    let unit = direction(node, what, (pivot, Some(Vector3::z())), measures, notes)?;
    if unit.z <= 0.0 {
        let why = "the arm's turn is counted about the upward direction of its shaft";
        let hint = "change the sign of all three numbers, and of `ratio` if the arm then turns the wrong way";
        notes.add(node.span.start, Fault::WrongWay { what: what.to_owned(), why, hint });
        return None;
    }
    Some(unit)
}

pub(crate) fn column(node: &Node, end: End, notes: &mut Diagnostics<'_>) -> Option<Column> {
    let fields = notes.fields(node, &format!("the {end} column"), &["joints"])?;
    let joints = notes.need(&fields, "joints")?;
    let what = format!("the {end} column's joints");
    let expected = "a list of one or two joints, [(bend_deg: ..., phase_deg: ...)]";
    let Kind::List(list) = &joints.kind else {
        notes.wrong_shape(joints, &what, expected);
        return None;
    };
    let mut read = |node: &Node| joint(node, &format!("a joint of the {end} column"), notes);
    let joints = match list.as_slice() {
        [one] => [Some(read(one)?), None],
        [upper, lower] => {
            let (upper, lower) = (read(upper), read(lower));
            [Some(upper?), Some(lower?)]
        }
        _ => {
            notes.wrong_shape(joints, &what, expected);
            return None;
        }
    };
    Some(Column { joints })
}

fn joint(node: &Node, what: &str, notes: &mut Diagnostics<'_>) -> Option<CardanJoint> {
    let fields = notes.fields(node, what, &["bend_deg", "phase_deg"])?;
    let bend = notes.need(&fields, "bend_deg").and_then(|n| {
        let within = |bend: f64| bend.abs() <= 70.0;
        notes.number_in(n, &format!("the bend of {what}"), "from -70 to 70 degrees", within)
    });
    let phase =
        notes.need(&fields, "phase_deg").and_then(|n| notes.number(n, &format!("the phase of {what}")));
    Some(CardanJoint { bend: bend?.to_radians(), phase: phase?.to_radians() })
}
