//! Points of a car file that were not measured: a table was put into another car, and did not give them.

use crate::fault::problem::{Fault, Problem};
use crate::read::document::Document;
use crate::read::fields::Diagnostics;
use crate::text::place::Place;
use crate::text::point_names::{TablePoint, meaning};
use crate::text::tree::{Kind, Node};
use wheelpath_geometry::{Assembly, Car};

/// The key in the file.
pub(crate) const KEY: &str = "left_over";

/// A point that was left over, and whose.
pub(crate) type LeftOver = (Assembly, TablePoint);

/// The list of a file; `None` with a problem noted.
pub(crate) fn left_over(node: &Node, notes: &mut Diagnostics<'_>) -> Option<Vec<LeftOver>> {
    let what = "the list of points left over";
    let Kind::List(list) = &node.kind else {
        notes.wrong_shape(node, what, "a list of points, [\"front left tie_rod_inner\", ...]");
        return None;
    };
    let mut all = Vec::new();
    for one in list {
        let name = notes.text(one, "a point left over")?;
        let assembly_of = |whose: crate::text::point_names::Whose, point: TablePoint| {
            if point.is_of_axle() { whose.end.map(Assembly::Axle) } else { whose.wheel().map(Assembly::from) }
        };
        match meaning(&name) {
            Ok((point, whose)) => match assembly_of(whose, point) {
                Some(assembly) => all.push((assembly, point)),
                None => notes.add(one.span.start, Fault::LeftOverOfNobody { name }),
            },
            Err(nearest) => notes.add(one.span.start, Fault::LeftOverNoPoint { name, nearest }),
        }
    }
    Some(all)
}

/// How one is written: the words about the corner, then the point's key.
pub(crate) fn written(one: &LeftOver) -> String {
    let (assembly, point) = one;
    let whose = assembly.wheel().map_or_else(|| assembly.end().name().to_owned(), |wheel| wheel.to_string());
    format!("{whose} {}", point.key())
}

/// Two places nearer than this are one, metres.
const SAME: f64 = 1e-9;

/// Whether a point stands in both cars, in one place.
pub(crate) fn stands_alike((assembly, point): LeftOver, one: &Car, other: &Car) -> bool {
    let places = point.place(one, assembly).zip(point.place(other, assembly));
    places.is_some_and(|(one, other)| (one - other).norm() <= SAME)
}

impl Document {
    /// The points that the file says were never measured: they stand where another car had them.
    #[must_use]
    pub fn left_over(&self) -> &[(Assembly, TablePoint)] {
        &self.heading.left_over
    }

    /// Those of the points left over that stand in this car where they stood in the file's: one that was moved
    /// since is nobody else's.
    pub(crate) fn still_left_over(&self, car: &Car) -> Vec<LeftOver> {
        let same = |one: &LeftOver| stands_alike(*one, &self.car, car);
        self.heading.left_over.iter().copied().filter(same).collect()
    }

    /// What is to be said of them: once for each corner or axle.
    pub(crate) fn warnings_of_left_over(&self) -> Vec<Problem> {
        let at =
            self.tree.field(KEY).map_or(Place::START, |field| Place::of(&self.text, field.key_span.start));
        let of = |assembly: Assembly| {
            let own = self.heading.left_over.iter().filter(|(of, _)| *of == assembly);
            let points: Vec<TablePoint> = own.map(|(_, point)| *point).collect();
            (!points.is_empty()).then(|| Problem {
                file: self.file.clone(),
                place: at,
                wheel: assembly.wheel(),
                fault: Fault::LeftOver { assembly, points },
            })
        };
        Assembly::ALL.into_iter().filter_map(of).collect()
    }
}
