//! From the tree to brackets.

use crate::fault::problem::Fault;
use crate::read::car::{format_and_version, measures, optional};
use crate::read::fields::Diagnostics;
use crate::text::file_kind::FileKind;
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::Measures;
use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, Bracket, BracketPlane, BracketReference, Hardpoint};

pub(crate) const KEYS: &[&str] = &["format", "version", "about", "units", "axes", "brackets"];
const OF_BRACKET: &[&str] = &["name", "about", "of", "plane", "points", "hole_diameter", "references"];

/// All brackets of a file, and its units and axes; `None` only with a problem noted.
pub(crate) fn brackets(node: &Node, notes: &mut Diagnostics<'_>) -> Option<(Vec<Bracket>, Measures)> {
    format_and_version(node, FileKind::BRACKETS, notes)?;
    let fields = notes.fields(node, "the file", KEYS)?;
    optional(&fields, "about", |n| notes.text(n, "about"))?;
    let measures = measures(&fields, notes)?;
    let node = notes.need(&fields, "brackets")?;
    let Kind::List(list) = &node.kind else {
        notes.wrong_shape(node, "brackets", "a list, [Bracket(...), ...]");
        return None;
    };
    let mut all: Vec<Bracket> = Vec::new();
    let mut whole = true;
    for node in list {
        match bracket(node, measures, notes) {
            Some(one) if all.iter().any(|before| before.name == one.name) => {
                let fault = Fault::RepeatedKey { within: "the list of brackets".into(), key: one.name };
                notes.add(node.span.start, fault);
            }
            Some(one) => all.push(one),
            None => whole = false,
        }
    }
    whole.then_some((all, measures))
}

fn bracket(node: &Node, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<Bracket> {
    notes.choice(node, "a bracket", &[("Bracket", ())])?;
    let fields = notes.fields_after_word(node, "the bracket", OF_BRACKET)?;
    let name = notes.need(&fields, "name").and_then(|n| notes.text(n, "the name"));
    let about = optional(&fields, "about", |n| notes.text(n, "about"));
    let of = notes.need(&fields, "of").and_then(|n| notes.word(n, "whose the points are", &assemblies()));
    let hole_diameter = optional(&fields, "hole_diameter", |n| {
        notes.positive(n, "the diameter of the holes").map(|written| measures.length(written))
    });
    let references = optional(&fields, "references", |n| references(n, measures, notes));
    let plane = notes.need(&fields, "plane");
    let points = notes.need(&fields, "points");
    let of = of?;
    let plane = plane.and_then(|n| plane_of(n, of, measures, notes));
    let points = points.and_then(|n| hardpoints(n, "the points on the bracket", of, notes));
    if let (Some(points), Some(node)) = (&points, fields.get("points"))
        && points.is_empty()
    {
        notes.wrong_shape(node, "the points on the bracket", "at least one point, [key, key]");
        return None;
    }
    Some(Bracket {
        name: name?,
        about: about?,
        of,
        plane: plane?,
        points: points?,
        hole_diameter: hole_diameter?,
        references: references?.unwrap_or_default(),
    })
}

/// Whose points can be, by their words.
fn assemblies() -> [(&'static str, Assembly); 6] {
    Assembly::ALL.map(|assembly| (assembly.key(), assembly))
}

fn hardpoints(node: &Node, what: &str, of: Assembly, notes: &mut Diagnostics<'_>) -> Option<Vec<Hardpoint>> {
    let Kind::List(list) = &node.kind else {
        notes.wrong_shape(node, what, "a list of points, [key, key]");
        return None;
    };
    let all: Vec<Option<Hardpoint>> = list.iter().map(|node| hardpoint(node, of, notes)).collect();
    all.into_iter().collect()
}

/// A point that the assembly can have.
fn hardpoint(node: &Node, of: Assembly, notes: &mut Diagnostics<'_>) -> Option<Hardpoint> {
    let words: Vec<(&str, Hardpoint)> =
        Hardpoint::ALL.iter().map(|&hardpoint| (hardpoint.key(), hardpoint)).collect();
    let hardpoint = notes.word(node, "the point", &words)?;
    if hardpoint.is_of_axle() != of.side().is_none() {
        let fault = Fault::NothingToChange { what: hardpoint.to_string(), of: of.to_string() };
        notes.add(node.span.start, fault);
        return None;
    }
    Some(hardpoint)
}

#[derive(Clone, Copy)]
enum Plane {
    Points,
    Places,
    Normal,
}

fn plane_of(
    node: &Node,
    of: Assembly,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<BracketPlane> {
    let words = [("Points", Plane::Points), ("Places", Plane::Places), ("Normal", Plane::Normal)];
    match notes.choice(node, "the plane", &words)? {
        Plane::Points => {
            let fields = notes.fields_after_word(node, "the plane", &["through"])?;
            let node = notes.need(&fields, "through")?;
            let points = hardpoints(node, "what the plane goes through", of, notes)?;
            three(node, &points, "three points, [key, key, key]", notes).map(BracketPlane::Points)
        }
        Plane::Places => {
            let fields = notes.fields_after_word(node, "the plane", &["through"])?;
            let node = notes.need(&fields, "through")?;
            const SHAPE: &str = "three places, [(x, y, z), (x, y, z), (x, y, z)]";
            let Kind::List(list) = &node.kind else {
                notes.wrong_shape(node, "what the plane goes through", SHAPE);
                return None;
            };
            let places: Vec<Option<Vector3<f64>>> =
                list.iter().map(|n| notes.triple(n, "the place").map(|at| measures.point(at))).collect();
            let places: Vec<Vector3<f64>> = places.into_iter().collect::<Option<_>>()?;
            three(node, &places, SHAPE, notes).map(BracketPlane::Places)
        }
        Plane::Normal => {
            let fields = notes.fields_after_word(node, "the plane", &["direction"])?;
            let node = notes.need(&fields, "direction")?;
            let along = measures.axes.to_vehicle(notes.triple(node, "the plane's normal")?);
            let unit = along.try_normalize(0.0).filter(|unit| unit.iter().all(|c| c.is_finite()));
            if unit.is_none() {
                let fault =
                    Fault::NoDirection { what: "the plane's normal".into(), why: "its length is zero" };
                notes.add(node.span.start, fault);
            }
            unit.map(BracketPlane::Normal)
        }
    }
}

fn three<T: Copy>(
    node: &Node,
    all: &[T],
    shape: &'static str,
    notes: &mut Diagnostics<'_>,
) -> Option<[T; 3]> {
    if let [a, b, c] = *all {
        return Some([a, b, c]);
    }
    notes.wrong_shape(node, "what the plane goes through", shape);
    None
}

fn references(node: &Node, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<Vec<BracketReference>> {
    let Kind::List(list) = &node.kind else {
        notes.wrong_shape(node, "references", "a list, [Point(...), Hole(...)]");
        return None;
    };
    let all: Vec<Option<BracketReference>> = list.iter().map(|n| reference(n, measures, notes)).collect();
    all.into_iter().collect()
}

fn reference(node: &Node, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<BracketReference> {
    let is_hole = notes.choice(node, "a reference", &[("Point", false), ("Hole", true)])?;
    if is_hole {
        let fields = notes.fields_after_word(node, "the hole", &["name", "at", "diameter"])?;
        let name = notes.need(&fields, "name").and_then(|n| notes.text(n, "the name"));
        let at = notes.need(&fields, "at").and_then(|n| notes.triple(n, "the hole"));
        let diameter = optional(&fields, "diameter", |n| {
            notes.positive(n, "the diameter of the hole").map(|written| measures.length(written))
        });
        return Some(BracketReference::Hole { name: name?, at: measures.point(at?), diameter: diameter? });
    }
    let fields = notes.fields_after_word(node, "the reference", &["point", "of"])?;
    let of = notes.need(&fields, "of").and_then(|n| notes.word(n, "whose the point is", &assemblies()));
    let point = notes.need(&fields, "point");
    let of = of?;
    Some(BracketReference::Point(of, hardpoint(point?, of, notes)?))
}
