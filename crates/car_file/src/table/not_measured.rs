//! Points that a table did not give and that nobody measured.

use crate::read::document::Document;
use crate::read::left_over::{LeftOver, stands_alike};
use crate::read::stand_in::is_stand_in;
use crate::table::points::Imported;
use crate::text::point_names::TablePoint;
use wheelpath_geometry::{Assembly, Car};

/// Whether a car was made of another: most of its points stand where that one has them.
fn is_made_of(car: &Car, template: &Car) -> bool {
    let points = |assembly: Assembly| {
        let hardpoints =
            assembly.hardpoints(car).iter().map(|(hardpoint, _)| TablePoint::Hardpoint(hardpoint));
        hardpoints.map(move |point| (assembly, point)).collect::<Vec<_>>()
    };
    let all: Vec<LeftOver> = Assembly::ALL.into_iter().flat_map(points).collect();
    let alike = all.iter().filter(|one| stands_alike(**one, car, template)).count();
    2 * alike > all.len()
}

impl Document {
    /// The same, where a table was put into its car: points that the table gave are left over no more. Of those
    /// that it did not give, those are that were nobody's measure: they stand where one of the `templates` has
    /// them that the car was made of, or on the stand-in for an axle. Numbers of the car's own stay its own.
    #[must_use]
    pub fn after_import(&self, imported: &Imported, templates: &[Car]) -> Document {
        let mut document = self.clone();
        let left = &mut document.heading.left_over;
        left.retain(|(assembly, point)| {
            !imported.set.iter().any(|set| (set.assembly, set.point) == (*assembly, *point))
        });
        for one in self.not_measured(imported, templates) {
            if !left.contains(&one) {
                left.push(one);
            }
        }
        document
    }

    /// The points that a table did not give and that nobody measured.
    #[must_use]
    pub fn not_measured(&self, imported: &Imported, templates: &[Car]) -> Vec<(Assembly, TablePoint)> {
        let templates: Vec<&Car> =
            templates.iter().filter(|template| is_made_of(&self.car, template)).collect();
        let is_nobodys = |one: &LeftOver| {
            self.heading.left_over.contains(one)
                || is_stand_in(self.car.axle(one.0.end()))
                || templates.iter().any(|template| stands_alike(*one, &self.car, template))
        };
        imported.missing.iter().copied().filter(is_nobodys).collect()
    }
}
