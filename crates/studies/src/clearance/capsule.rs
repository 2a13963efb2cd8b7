//! A rod as a solid: a straight piece with a radius, round at both ends.

use nalgebra::Vector3;

/// A straight piece with a radius.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Capsule {
    /// Both ends of its centre line, metres.
    pub ends: [Vector3<f64>; 2],
    /// Its radius, metres.
    pub radius: f64,
}

/// How near two solids come to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// Distance between their surfaces, metres; negative: they overlap by that much.
    pub distance: f64,
    /// The nearest points of the surfaces, in the order in which the solids were given; where they overlap,
    /// where each goes deepest into the other.
    pub at: [Vector3<f64>; 2],
}

impl Gap {
    /// The same, the solids named the other way round.
    #[must_use]
    pub fn swapped(self) -> Gap {
        let [a, b] = self.at;
        Gap { distance: self.distance, at: [b, a] }
    }
}

impl Capsule {
    /// A point of the centre line, 0 at its first end, 1 at its second.
    #[must_use]
    pub fn point(&self, share: f64) -> Vector3<f64> {
        self.ends[0] + (self.ends[1] - self.ends[0]) * share
    }

    /// Distance to another capsule. Where the surfaces overlap, their depth is counted along the line
    /// between the centre lines' nearest points: at most both radii, where the centre lines cross.
    ///
    /// Own closed form, and no library of collisions: such a one brings thirty crates for these few lines,
    /// works on shapes that a tyre with its hole is none of, and by iteration where it is not a pair of
    /// segments.
    #[must_use]
    pub fn gap(&self, other: &Capsule) -> Gap {
        let [s, t] = nearest_shares(self.ends, other.ends);
        let (a, b) = (self.point(s), other.point(t));
        let between = b - a;
        let apart = between.norm();
        let along = between.try_normalize(f64::MIN_POSITIVE).unwrap_or_else(|| self.across(other));
        Gap {
            distance: apart - self.radius - other.radius,
            at: [a + along * self.radius, b - along * other.radius],
        }
    }

    /// A direction across both centre lines, for those that meet.
    fn across(&self, other: &Capsule) -> Vector3<f64> {
        let [u, v] = [self, other].map(|one| one.ends[1] - one.ends[0]);
        let square = |v: Vector3<f64>| Vector3::new(v.y - v.z, v.z - v.x, v.x - v.y);
        [u.cross(&v), u.cross(&square(u)), v.cross(&square(v)), Vector3::z()]
            .into_iter()
            .find_map(|across| across.try_normalize(1e-12))
            .unwrap_or_else(Vector3::z)
    }
}

/// Where on two segments, 0 to 1 each, their nearest points are.
///
/// The squared distance is a convex quadratic over the unit square: its free minimum counts where it is
/// inside, else the least of the minima along the four edges, each an end of one segment against the other.
/// Trying all edges costs no more than telling which are needed, and holds for parallel segments and for
/// those of no length too.
fn nearest_shares(a: [Vector3<f64>; 2], b: [Vector3<f64>; 2]) -> [f64; 2] {
    let (u, v, w) = (a[1] - a[0], b[1] - b[0], a[0] - b[0]);
    let (uu, uv, vv, uw, vw) = (u.norm_squared(), u.dot(&v), v.norm_squared(), u.dot(&w), v.dot(&w));
    let squared = |[s, t]: [f64; 2]| (w + u * s - v * t).norm_squared();
    let share = |along: f64, whole: f64| if whole > 0.0 { (along / whole).clamp(0.0, 1.0) } else { 0.0 };
    let on_b = |s: f64| [s, share(vw + uv * s, vv)];
    let on_a = |t: f64| [share(uv * t - uw, uu), t];
    let mut best = on_b(0.0);
    let mut least = squared(best);
    let mut take = |shares: [f64; 2]| {
        let here = squared(shares);
        if here < least {
            (best, least) = (shares, here);
        }
    };
    take(on_b(1.0));
    take(on_a(0.0));
    take(on_a(1.0));
    // The determinant of lines that are nearly parallel is rounding: the edges have the answer there.
    let determinant = uu * vv - uv * uv;
    if determinant > 1e-14 * uu * vv {
        let s = (uv * vw - vv * uw) / determinant;
        let t = (uu * vw - uv * uw) / determinant;
        if (0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t) {
            // Once more along each, so that rounding of the determinant does no harm.
            let [_, t] = on_b(s);
            take(on_a(t));
        }
    }
    best
}
