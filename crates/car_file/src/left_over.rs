//! Points of a car file that were not measured: a table was put into another car, and did not give them.

use crate::document::Document;
use crate::error::{Fault, Problem};
use crate::fields::Notes;
use crate::place::Place;
use crate::table::Imported;
use crate::table_names::{TablePoint, meaning};
use crate::tree::{Kind, Node};
use nalgebra::Vector3;
use wheelpath_geometry::{Car, Owner};

/// The key in the file.
pub(crate) const KEY: &str = "left_over";

/// A point that was left over, and whose.
pub(crate) type LeftOver = (Owner, TablePoint);

/// The list of a file; `None` with a problem noted.
pub(crate) fn left_over(node: &Node, notes: &mut Notes<'_>) -> Option<Vec<LeftOver>> {
    let what = "the list of points left over";
    let Kind::List(list) = &node.kind else {
        notes.wrong_shape(node, what, "a list of points, [\"front left tie_rod_inner\", ...]");
        return None;
    };
    let mut all = Vec::new();
    for one in list {
        let name = notes.text(one, "a point left over")?;
        let owner_of = |whose: crate::table_names::Whose, point: TablePoint| {
            if point.is_of_axle() {
                whose.end.map(|end| Owner { end, side: None })
            } else {
                whose.wheel().map(Owner::from)
            }
        };
        match meaning(&name) {
            Ok((point, whose)) => match owner_of(whose, point) {
                Some(owner) => all.push((owner, point)),
                None => notes.add(one.span.start, Fault::LeftOverOfNobody { name }),
            },
            Err(nearest) => notes.add(one.span.start, Fault::LeftOverNoPoint { name, nearest }),
        }
    }
    Some(all)
}

/// How one is written: the words about the corner, then the point's key.
pub(crate) fn written(one: &LeftOver) -> String {
    let (owner, point) = one;
    let whose = owner.wheel().map_or_else(|| owner.end.name().to_owned(), |wheel| wheel.to_string());
    format!("{whose} {}", point.key())
}

fn place_of(car: &Car, (owner, point): LeftOver) -> Option<Vector3<f64>> {
    match point {
        TablePoint::Pickup(pickup) => owner.point(car, pickup),
        TablePoint::WheelCentre => owner.wheel().map(|wheel| car.corner(wheel).wheel.centre),
    }
}

impl Document {
    /// The points that the file says were never measured: they stand where another car had them.
    #[must_use]
    pub fn left_over(&self) -> &[(Owner, TablePoint)] {
        &self.heading.left_over
    }

    /// The same, where a table was put into its car: points that the table gave are left over no more, points
    /// that it did not give are.
    #[must_use]
    pub fn after_import(&self, imported: &Imported) -> Document {
        let mut document = self.clone();
        let left = &mut document.heading.left_over;
        left.retain(|(owner, point)| {
            !imported.set.iter().any(|set| (set.owner, set.point) == (*owner, *point))
        });
        for one in &imported.missing {
            if !left.contains(one) {
                left.push(*one);
            }
        }
        document
    }

    /// Those of the points left over that stand in this car where they stood in the file's: one that was moved
    /// since is nobody else's.
    pub(crate) fn still_left_over(&self, car: &Car) -> Vec<LeftOver> {
        let same = |one: &LeftOver| match (place_of(&self.car, *one), place_of(car, *one)) {
            (Some(before), Some(now)) => (before - now).norm() <= 1e-9,
            _ => false,
        };
        self.heading.left_over.iter().copied().filter(same).collect()
    }

    /// What is to be said of them: once for each corner or axle.
    pub(crate) fn warnings_of_left_over(&self) -> Vec<Problem> {
        let at =
            self.tree.field(KEY).map_or(Place::START, |field| Place::of(&self.text, field.key_span.start));
        let of = |owner: Owner| {
            let own = self.heading.left_over.iter().filter(|(of, _)| *of == owner);
            let points: Vec<TablePoint> = own.map(|(_, point)| *point).collect();
            (!points.is_empty()).then(|| Problem {
                file: self.file.clone(),
                place: at,
                wheel: owner.wheel(),
                fault: Fault::LeftOver { owner, points },
            })
        };
        Owner::ALL.into_iter().filter_map(of).collect()
    }
}
