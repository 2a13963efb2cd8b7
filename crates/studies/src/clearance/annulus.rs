//! A tyre or a rim's barrel as a solid: a ring about the wheel's axis, with room for links inside.

use super::capsule::{Capsule, Gap};
use crate::least::{between_roots, least_of_convex};
use nalgebra::Vector3;

/// A ring about an axis. Its cross-section is a rectangle from the inner to the outer radius, its two outer
/// corners rounded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Annulus {
    /// Its middle, metres.
    pub centre: Vector3<f64>,
    /// Unit direction of its axis.
    pub axis: Vector3<f64>,
    /// Inner radius, metres.
    pub inner: f64,
    /// Outer radius, metres.
    pub outer: f64,
    /// Half its width, metres.
    pub half_width: f64,
    /// Radius of the outer corners, metres; it counts up to half the width and up to the wall.
    pub shoulder: f64,
}

/// A point of the cross-section's plane: along the axis from the middle, and the distance from the axis.
type Flat = [f64; 2];

/// How far the centre line of a rod is from the ring in its cross-section: the line's own shares are along
/// it, its distance from the axis a convex function of them.
struct Line {
    /// Along the axis at share 0, and its growth over the whole.
    along: [f64; 2],
    /// From the axis at share 0, and its growth over the whole.
    across: [Vector3<f64>; 2],
}

impl Line {
    fn at(&self, share: f64) -> Flat {
        [self.along[0] + self.along[1] * share, (self.across[0] + self.across[1] * share).norm()]
    }

    /// Shares between which it is nearer to the axis than this, if it comes so near.
    fn within(&self, radius: f64) -> Option<[f64; 2]> {
        let [start, growth] = &self.across;
        let (a, b, c) = (growth.norm_squared(), start.dot(growth), start.norm_squared() - radius * radius);
        let under = b * b - a * c;
        if a <= 0.0 {
            // Along the axis: all of it or nothing.
            return (c < 0.0).then_some([f64::NEG_INFINITY, f64::INFINITY]);
        }
        if under <= 0.0 {
            return None;
        }
        let root = under.sqrt();
        Some([(-b - root) / a, (-b + root) / a])
    }

    /// Share at which it is this far along the axis.
    fn at_along(&self, along: f64) -> f64 {
        (along - self.along[0]) / self.along[1]
    }

    /// Share at which it is nearest to the axis.
    fn nearest(&self) -> f64 {
        let [start, growth] = &self.across;
        -start.dot(growth) / growth.norm_squared()
    }
}

impl Annulus {
    fn rounding(&self) -> f64 {
        self.shoulder.min(self.half_width).min(self.outer - self.inner).max(0.0)
    }

    /// Signed distance to the ring with its hole filled: convex, and it does not fall with the radius.
    fn to_plug(self, [along, radius]: Flat) -> f64 {
        let rounding = self.rounding();
        let side = along.abs() - (self.half_width - rounding);
        let top = radius - (self.outer - rounding);
        far(side.max(0.0), top.max(0.0)) + side.max(top).min(0.0) - rounding
    }

    /// Distance of a point nearer to the axis than the inner radius.
    fn off_hole(&self, [along, radius]: Flat) -> f64 {
        far((along.abs() - self.half_width).max(0.0), self.inner - radius)
    }

    /// Signed distance of a point in the cross-section's plane.
    fn to_point(self, at: Flat) -> f64 {
        if at[1] < self.inner { self.off_hole(at) } else { self.to_plug(at).max(self.inner - at[1]) }
    }

    /// Signed distance of a point to the surface, metres: negative inside the ring's material.
    #[must_use]
    pub fn distance(&self, point: &Vector3<f64>) -> f64 {
        let from = point - self.centre;
        let along = from.dot(&self.axis);
        self.to_point([along, (from - self.axis * along).norm()])
    }

    /// The nearest point of the surface, in the cross-section's plane.
    fn nearest(&self, at: Flat) -> Flat {
        let [along, radius] = at;
        let side = if along < 0.0 { -1.0 } else { 1.0 };
        if radius < self.inner {
            return [along.clamp(-self.half_width, self.half_width), self.inner];
        }
        let plug = self.to_plug(at);
        if plug < self.inner - radius {
            return [along, self.inner];
        }
        let rounding = self.rounding();
        let core = [self.half_width - rounding, self.outer - rounding];
        let off = [along.abs() - core[0], radius - core[1]];
        match (off[0] > 0.0, off[1] > 0.0) {
            (true, true) => {
                let onto = |i: usize| core[i] + off[i] / far(off[0], off[1]) * rounding;
                [side * onto(0), onto(1)]
            }
            (true, false) => [side * self.half_width, radius],
            (false, true) => [along, self.outer],
            // Inside: to the nearer of side and top.
            (false, false) if off[0] > off[1] => [side * self.half_width, radius],
            (false, false) => [along, self.outer],
        }
    }

    /// Distance to a rod; the ring's point stands first. Exact to rounding, overlap too, whose depth is that
    /// of the rod's centre line under the ring's surface and the rod's radius.
    ///
    /// With its hole the ring is not convex, so that no general search finds the least for certain. In
    /// pieces it can be had: where the centre line is farther from the axis than the inner radius the
    /// distance is a convex function along it; in the hole it is concave beside the bore, and beside an edge
    /// of the bore it is first convex, then concave, then convex, at shares that have closed forms.
    #[must_use]
    pub fn gap(&self, rod: &Capsule) -> Gap {
        let from = rod.ends[0] - self.centre;
        let growth = rod.ends[1] - rod.ends[0];
        let split = |v: &Vector3<f64>| {
            let along = v.dot(&self.axis);
            (along, v - self.axis * along)
        };
        let ((a, b), (c, d)) = (split(&from), split(&growth));
        let line = Line { along: [a, c], across: [b, d] };
        let (share, apart) = self.least(&line);
        let at = line.at(share);
        let surface = self.nearest(at);
        let out = line.across[0] + line.across[1] * share;
        // On the axis every way outward is as good.
        let out = out.try_normalize(1e-12).unwrap_or_else(|| square_to(&self.axis));
        let on_ring = self.centre + self.axis * surface[0] + out * surface[1];
        let on_line = rod.point(share);
        let toward = (on_ring - on_line) * if apart < 0.0 { -1.0 } else { 1.0 };
        let toward = toward.try_normalize(1e-12).unwrap_or_else(|| -out);
        Gap { distance: apart - rod.radius, at: [on_ring, on_line + toward * rod.radius] }
    }

    /// The share of a line at which it is nearest to the ring, and the signed distance there.
    fn least(&self, line: &Line) -> (f64, f64) {
        let mut best = (0.0, self.to_point(line.at(0.0)));
        let mut take = |share: f64, here: f64| {
            if here < best.1 {
                best = (share, here);
            }
        };
        take(1.0, self.to_point(line.at(1.0)));
        let hole = line.within(self.inner).map(|ends| ends.map(|share| share.clamp(0.0, 1.0)));
        let solid = match hole {
            Some([enter, leave]) if enter < leave => {
                self.least_in_hole(line, [enter, leave], &mut take);
                [[0.0, enter], [leave, 1.0]]
            }
            _ => [[0.0, 1.0], [1.0, 1.0]],
        };
        for [from, to] in solid {
            if from < to {
                self.least_outside(line, [from, to], &mut take);
            }
        }
        best
    }

    /// Where the line is outside the inner radius.
    fn least_outside(&self, line: &Line, [from, to]: [f64; 2], take: &mut impl FnMut(f64, f64)) {
        let plug = |share: f64| self.to_plug(line.at(share));
        let bore = |share: f64| self.inner - line.at(share)[1];
        let (share, least) = least_of_convex(from, to, plug);
        if least >= 0.0 {
            return take(share, least);
        }
        // Under the surface the bore may be nearer than the outside. The greater of a convex and a concave
        // function: the concave one is the greater between two shares at most, and least at one of them.
        let excess = |share: f64| plug(share) - bore(share);
        let (deepest, lowest) = least_of_convex(from, to, excess);
        if lowest >= 0.0 {
            return take(share, least);
        }
        let [enter, leave] = between_roots(from, to, deepest, excess);
        for share in [enter, leave] {
            take(share, plug(share).max(bore(share)));
        }
        for [from, to] in [[from, enter], [leave, to]] {
            if from < to {
                let (share, least) = least_of_convex(from, to, plug);
                take(share, least.max(bore(share)));
            }
        }
    }

    /// Where the line is inside the inner radius.
    fn least_in_hole(&self, line: &Line, [from, to]: [f64; 2], take: &mut impl FnMut(f64, f64)) {
        let hole = |share: f64| self.off_hole(line.at(share));
        let mut cuts = [from, to, to, to, to, to, to];
        let mut count = 1;
        let mut cut = |share: f64| {
            if share > from && share < to {
                cuts[count] = share;
                count += 1;
            }
        };
        cut(line.at_along(-self.half_width));
        cut(line.at_along(self.half_width));
        let middle = line.nearest();
        cut(middle);
        if let Some(width) = self.concave_about_middle(line) {
            cut(middle - width);
            cut(middle + width);
        }
        let cuts = &mut cuts[..=count];
        cuts.sort_by(f64::total_cmp);
        for pair in cuts.windows(2) {
            let [from, to] = [pair[0], pair[1]];
            take(from, hole(from));
            take(to, hole(to));
            // In a concave piece the ends are least, and the search ends at one of them.
            let (share, least) = least_of_convex(from, to, |share| hole(share).powi(2));
            take(share, least.max(0.0).sqrt());
        }
    }

    /// Half the stretch about the share nearest to the axis on which the squared distance to an edge of the
    /// bore is concave.
    ///
    /// That square is `A t² + … - 2 ρ r(t)` with `A` the line's length squared and `r = √(a (t - m)² + h²)`
    /// its distance from the axis; its second derivative `2 A - 2 ρ a h² / r³` is negative where
    /// `r³ < ρ a h² / A`.
    fn concave_about_middle(&self, line: &Line) -> Option<f64> {
        let a = line.across[1].norm_squared();
        let whole = a + line.along[1].powi(2);
        let nearest = line.at(line.nearest())[1];
        let radius = (self.inner * a * nearest.powi(2) / whole).cbrt();
        let width = (radius.powi(2) - nearest.powi(2)) / a;
        (width > 0.0 && width.is_finite()).then(|| width.sqrt())
    }
}

/// Metres do not overflow: no need of the slow careful function.
fn far(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

/// A unit direction square to another.
fn square_to(axis: &Vector3<f64>) -> Vector3<f64> {
    let least = axis.iamin();
    let mut other = Vector3::zeros();
    other[least] = 1.0;
    axis.cross(&other).normalize()
}
