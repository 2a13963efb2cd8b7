//! Which point of which corner a name in a table means.

use crate::text::nearest::{folded, nearest};
use nalgebra::Vector3;
use std::collections::HashMap;
use std::sync::LazyLock;
use wheelpath_geometry::{Assembly, Car, End, Hardpoint, Side, WheelPosition};

/// What a row of a table sets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TablePoint {
    /// A point.
    Hardpoint(Hardpoint),
    /// The wheel centre.
    WheelCentre,
}

impl TablePoint {
    /// The name in files and data.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            TablePoint::Hardpoint(hardpoint) => hardpoint.key(),
            TablePoint::WheelCentre => "wheel_centre",
        }
    }

    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            TablePoint::Hardpoint(hardpoint) => hardpoint.label(),
            TablePoint::WheelCentre => "wheel centre",
        }
    }

    /// Whether the point belongs to an axle as a whole, not to one of its corners.
    #[must_use]
    pub fn is_of_axle(self) -> bool {
        matches!(self, TablePoint::Hardpoint(hardpoint) if hardpoint.is_of_axle())
    }

    /// Where it stands in a car, metres; `None` where its assembly has no such point.
    pub(crate) fn place(self, car: &Car, assembly: Assembly) -> Option<Vector3<f64>> {
        match self {
            TablePoint::Hardpoint(hardpoint) => assembly.point(car, hardpoint),
            TablePoint::WheelCentre => assembly.wheel().map(|wheel| car.corner(wheel).wheel.centre),
        }
    }

    fn all() -> impl Iterator<Item = TablePoint> {
        std::iter::once(TablePoint::WheelCentre)
            .chain(Hardpoint::ALL.iter().copied().map(TablePoint::Hardpoint))
    }

    fn named(name: &str) -> Option<TablePoint> {
        static NAMES: LazyLock<HashMap<String, TablePoint>> = LazyLock::new(|| {
            let mut names = HashMap::new();
            for point in TablePoint::all() {
                for name in [point.key(), point.label()] {
                    names.entry(folded(name)).or_insert(point);
                }
            }
            names
        });
        NAMES.get(&folded(name).replace("center", "centre")).copied()
    }
}

/// Words about a corner; either may be missing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Whose {
    pub end: Option<End>,
    pub side: Option<Side>,
}

impl Whose {
    /// What is missing here taken from there.
    pub fn or(self, other: Whose) -> Whose {
        Whose { end: self.end.or(other.end), side: self.side.or(other.side) }
    }

    pub fn wheel(self) -> Option<WheelPosition> {
        Some(WheelPosition { end: self.end?, side: self.side? })
    }

    fn of_word(word: &str) -> Option<Whose> {
        let ends = [("front", End::Front), ("f", End::Front), ("rear", End::Rear), ("r", End::Rear)];
        let sides = [("left", Side::Left), ("l", Side::Left), ("right", Side::Right), ("r", Side::Right)];
        let end = |word: &str| ends.iter().find(|(name, _)| *name == word).map(|&(_, end)| end);
        let side = |word: &str| sides.iter().find(|(name, _)| *name == word).map(|&(_, side)| side);
        if word.len() > 1 {
            if let Some(end) = end(word) {
                return Some(Whose { end: Some(end), side: None });
            }
            if let Some(side) = side(word) {
                return Some(Whose { end: None, side: Some(side) });
            }
        }
        // FL, LF, frontleft: either first, as road and oval racing say it.
        (1..word.len()).filter(|cut| word.is_char_boundary(*cut)).find_map(|cut| {
            let (first, second) = word.split_at(cut);
            let whose = end(first).zip(side(second)).or_else(|| end(second).zip(side(first)));
            whose.map(|(end, side)| Whose { end: Some(end), side: Some(side) })
        })
    }

    /// A corner, axle or side in words: `front left`, `Rear_Right`, `FL`.
    pub fn of_words(words: &str) -> Option<Whose> {
        split(words)
            .iter()
            .try_fold(Whose::default(), |whose, word| Whose::of_word(word).map(|w| whose.or(w)))
    }
}

fn split(name: &str) -> Vec<String> {
    name.to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_owned)
        .collect()
}

/// The point a name means and what it says about the corner, or else the nearest point's key.
pub(crate) fn meaning(name: &str) -> Result<(TablePoint, Whose), Option<&'static str>> {
    let words = split(name);
    // Words about the corner stand before or after; the fewest taken off win, since `front` and `rear`
    // are also part of a wishbone point's name.
    let mut nearest_rest = words.join(" ");
    for taken in 0..=2_usize.min(words.len()) {
        for before in (0..=taken).rev() {
            let after = words.len() - (taken - before);
            let (Some(rest), Some(first), Some(last)) =
                (words.get(before..after), words.get(..before), words.get(after..))
            else {
                continue;
            };
            let about = first.iter().chain(last).map(|word| Whose::of_word(word));
            let Some(whose) = about.collect::<Option<Vec<_>>>() else { continue };
            let rest = rest.join(" ");
            if let Some(point) = TablePoint::named(&rest) {
                return Ok((point, whose.into_iter().fold(Whose::default(), Whose::or)));
            }
            if before == taken {
                nearest_rest = rest;
            }
        }
    }
    Err(nearest(&nearest_rest, TablePoint::all().map(TablePoint::key)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_in_many_hands() {
        let check = |name: &str, point: TablePoint, end: Option<End>, side: Option<Side>| {
            assert_eq!(meaning(name), Ok((point, Whose { end, side })), "{name}");
        };
        let front = Some(End::Front);
        let rear = Some(End::Rear);
        let inner = TablePoint::Hardpoint(Hardpoint::TieRodInner);
        let upper_front = TablePoint::Hardpoint(Hardpoint::UpperWishboneFront);
        check("tie_rod_inner", inner, None, None);
        check("Tie rod, inner end", inner, None, None);
        check("TIE-ROD INNER FL", inner, front, Some(Side::Left));
        check("front left upper wishbone front", upper_front, front, Some(Side::Left));
        check("upper wishbone, front pickup", upper_front, None, None);
        check("Front Upper Wishbone Front", upper_front, front, None);
        check("LF upper wishbone front", upper_front, front, Some(Side::Left));
        check("left.upper_wishbone_front", upper_front, None, Some(Side::Left));
        check("RR_UpperWishboneFront", upper_front, rear, Some(Side::Right));
        check(
            "upper wishbone rear right",
            TablePoint::Hardpoint(Hardpoint::UpperWishboneRear),
            None,
            Some(Side::Right),
        );
        check("rear panhard_rod_body", TablePoint::Hardpoint(Hardpoint::PanhardRodBody), rear, None);
        check("Rear Watt lever left", TablePoint::Hardpoint(Hardpoint::WattLeverLeft), rear, None);
        check(
            "RL upper rear link, inner end",
            TablePoint::Hardpoint(Hardpoint::UpperRearLinkInner),
            rear,
            Some(Side::Left),
        );
        check(
            "rear upper link inner right",
            TablePoint::Hardpoint(Hardpoint::UpperLinkInner),
            rear,
            Some(Side::Right),
        );
        check("Wheel Center, rear left", TablePoint::WheelCentre, rear, Some(Side::Left));
    }

    #[test]
    fn a_slip_finds_the_nearest_key() {
        assert_eq!(meaning("front left tie rod iner"), Err(Some("tie_rod_inner")));
        assert_eq!(meaning("wheel centr"), Err(Some("wheel_centre")));
        assert_eq!(meaning("driver's helmet"), Err(None));
        assert_eq!(meaning(""), Err(None));
    }

    #[test]
    fn corners_in_words() {
        let corner = |words| Whose::of_words(words).and_then(Whose::wheel).map(WheelPosition::key);
        assert_eq!(corner("front left"), Some("front_left"));
        assert_eq!(corner("right-rear"), Some("rear_right"));
        assert_eq!(corner("FR"), Some("front_right"));
        assert_eq!(corner("rl"), Some("rear_left"));
        assert_eq!(corner("LF"), Some("front_left"));
        assert_eq!(corner("rf"), Some("front_right"));
        assert_eq!(corner("Lr"), Some("rear_left"));
        assert_eq!(corner("RR"), Some("rear_right"));
        assert_eq!(corner("front"), None);
        assert_eq!(corner("spare"), None);
    }
}
