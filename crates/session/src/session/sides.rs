//! Whether the two sides of an axle are mirror images.

use super::Session;
use wheelpath_geometry::{End, Proposal, Side, WheelPosition};

impl Session {
    /// Whether the sides of an axle of the original are alike: nothing that can be changed of one would have to
    /// be changed to make it the mirror image of the other.
    #[must_use]
    pub fn sides_are_alike(&self, end: End) -> bool {
        let [left, right] = Side::BOTH.map(|side| WheelPosition { end, side });
        let mut twin = self.original.clone();
        *twin.corner_mut(right) = self.original.corner(left).mirrored();
        Proposal::between("", &self.original, &twin).changes.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use crate::test_cars::car as car_for_tests;
    use wheelpath_geometry::End;

    #[test]
    fn the_demo_cars_but_the_one_for_ovals_have_sides_that_are_alike() {
        for car in ["alder", "rowan", "sorrel"] {
            assert_eq!(End::BOTH.map(|end| car_for_tests(car).sides_are_alike(end)), [true; 2], "{car}");
        }
        assert!(!car_for_tests("hazel").sides_are_alike(End::Front));
    }
}
