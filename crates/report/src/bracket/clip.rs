//! What of a line lies within a rectangle.

use crate::drawing::OnPage;

/// A rectangle: left, top, right and bottom, millimetres on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Area {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Area {
    pub fn holds(&self, (x, y): OnPage) -> bool {
        self.left <= x && x <= self.right && self.top <= y && y <= self.bottom
    }

    /// Larger by so much on every side.
    pub fn grown(&self, by: f64) -> Area {
        Area { left: self.left - by, top: self.top - by, right: self.right + by, bottom: self.bottom + by }
    }

    /// The nearest place within.
    pub fn nearest(&self, (x, y): OnPage) -> OnPage {
        (x.max(self.left).min(self.right), y.max(self.top).min(self.bottom))
    }

    pub fn overlap(&self, other: &Area) -> f64 {
        let across = self.right.min(other.right) - self.left.max(other.left);
        let down = self.bottom.min(other.bottom) - self.top.max(other.top);
        across.max(0.0) * down.max(0.0)
    }

    /// Whether the outline of a circle passes through.
    pub fn meets_circle(&self, centre: OnPage, radius: f64) -> bool {
        let from = |(x, y): OnPage| (x - centre.0).hypot(y - centre.1);
        let corners = [self.left, self.right].map(|x| [self.top, self.bottom].map(|y| from((x, y))));
        let furthest = corners.into_iter().flatten().fold(0.0, f64::max);
        from(self.nearest(centre)) <= radius && radius <= furthest
    }

    /// The part of a line within (Liang and Barsky's way).
    pub fn clipped(&self, from: OnPage, to: OnPage) -> Option<(OnPage, OnPage)> {
        let (x, y) = (to.0 - from.0, to.1 - from.1);
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        let sides = [
            (-x, from.0 - self.left),
            (x, self.right - from.0),
            (-y, from.1 - self.top),
            (y, self.bottom - from.1),
        ];
        for (step, room) in sides {
            if step == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if step < 0.0 {
                enters = enters.max(room / step);
            } else {
                leaves = leaves.min(room / step);
            }
        }
        let at = |share: f64| (from.0 + share * x, from.1 + share * y);
        // An end that is inside stays as it is, to the last bit.
        (enters <= leaves).then(|| {
            (if enters > 0.0 { at(enters) } else { from }, if leaves < 1.0 { at(leaves) } else { to })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::Area;

    const AREA: Area = Area { left: 0.0, top: 0.0, right: 10.0, bottom: 5.0 };

    #[test]
    fn lines_are_cut_at_the_edges() {
        assert_eq!(AREA.clipped((-5.0, 2.0), (15.0, 2.0)), Some(((0.0, 2.0), (10.0, 2.0))));
        assert_eq!(AREA.clipped((5.0, 4.0), (5.0, 9.0)), Some(((5.0, 4.0), (5.0, 5.0))));
        assert_eq!(AREA.clipped((1.0, 1.0), (2.0, 2.0)), Some(((1.0, 1.0), (2.0, 2.0))));
        assert_eq!(AREA.clipped((-1.0, 4.5), (2.0, 7.5)), None);
        assert_eq!(AREA.clipped((11.0, 0.0), (11.0, 9.0)), None);
    }

    #[test]
    fn a_circle_is_met_by_its_outline_alone() {
        assert!(AREA.meets_circle((-1.0, 2.0), 2.0));
        assert!(!AREA.meets_circle((-3.0, 2.0), 2.0));
        assert!(!AREA.meets_circle((5.0, 2.5), 20.0), "the whole area lies inside");
    }
}
