//! A stretch of a path between two solved poses, predicted for every pose on it.
//!
//! Up to four solved poses around the stretch, each with its velocity, give polynomials of up to the
//! seventh degree (Hermite's, in Newton's form) for the place of the wheel centre and for Rodrigues'
//! three parameters of the turn. On a car's linkage, with poses 10 mm apart, they are right to some
//! 1e-11: one step closes them.

use crate::mechanism::{Pose, Poses, Twist};
use crate::number::lanes::{LANES, Lanes};
use nalgebra::{Matrix3, Vector3};

/// A turn further than this from the design pose (twice its tangent's half angle) is left to others.
const FURTHEST_TURN: f64 = 2.0;

/// A solved pose with its velocity along the way, in the numbers that are interpolated.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Node {
    /// Where it stands along the way: its travel, metres, or its steering input.
    pub at: f64,
    values: [f64; 5],
    rates: [f64; 5],
}

impl Node {
    /// From a pose and its velocity; `None` where it is turned too far from the design pose.
    pub fn new(at: f64, pose: &Pose<f64>, rate: &Twist<f64>) -> Option<Self> {
        let half = half_turn(&pose.car_from_body);
        let (v, w) = (&rate.v, &rate.w);
        let turning = (w + w.cross(&half) + half * half.dot(w)) * 0.5;
        let near = half.norm() < FURTHEST_TURN;
        near.then_some(Node { at, values: plain(pose), rates: [v.x, v.y, turning.x, turning.y, turning.z] })
    }
}

/// The parameters of Rodrigues of a rotation: axis times the tangent of half the angle. Not finite at half
/// a turn.
#[inline(always)]
fn half_turn(r: &Matrix3<f64>) -> Vector3<f64> {
    Vector3::new(r.m32 - r.m23, r.m13 - r.m31, r.m21 - r.m12) / (1.0 + r.trace())
}

/// A pose without its height, in the numbers that are interpolated.
#[inline(always)]
pub(crate) fn plain(pose: &Pose<f64>) -> [f64; 5] {
    let half = half_turn(&pose.car_from_body);
    [pose.origin.x, pose.origin.y, half.x, half.y, half.z]
}

/// The pose with these numbers and a height.
#[inline(always)]
pub(crate) fn posed(plain: &[f64; 5], height: f64) -> Pose<f64> {
    let [x, y, a, b, c] = *plain;
    Pose { origin: Vector3::new(x, y, height), car_from_body: rotation(&Vector3::new(a, b, c)) }
}

/// The rotation with these parameters of Rodrigues: axis times the tangent of half the angle.
#[inline(always)]
fn rotation(half: &Vector3<f64>) -> Matrix3<f64> {
    let (a, b, c) = (half.x, half.y, half.z);
    let s = 2.0 / (1.0 + half.dot(half));
    let (sa, sb, sc) = (s * a, s * b, s * c);
    let (aa, bb, cc) = (sa * a, sb * b, sc * c);
    let (ab, ac, bc) = (sa * b, sa * c, sb * c);
    Matrix3::new(
        1.0 - (bb + cc),
        ab - sc,
        ac + sb,
        ab + sc,
        1.0 - (aa + cc),
        bc - sa,
        ac - sb,
        bc + sa,
        1.0 - (aa + bb),
    )
}

/// Polynomials over a stretch.
#[derive(Clone, Debug)]
pub(crate) struct HermiteSegment {
    nodes: [f64; 4],
    coefficients: [[f64; 8]; 5],
}

impl HermiteSegment {
    /// Through two to four nodes.
    pub fn through(nodes: &[Node]) -> Option<Self> {
        let nodes = nodes.get(..nodes.len().min(4))?;
        let last = nodes.last().filter(|_| nodes.len() > 1)?;
        let mut places = [last.at; 4];
        for (place, node) in places.iter_mut().zip(nodes) {
            *place = node.at;
        }
        let count = 2 * nodes.len();
        let coefficients = std::array::from_fn(|k| {
            // Divided differences with every node twice.
            let mut table = [0.0; 8];
            for (i, node) in nodes.iter().enumerate() {
                table[2 * i] = node.values[k];
                table[2 * i + 1] = node.values[k];
            }
            for order in 1..count {
                for i in (order..count).rev() {
                    let (from, to) = (&nodes[(i - order) / 2], &nodes[i / 2]);
                    table[i] = if order == 1 && i % 2 == 1 {
                        to.rates[k]
                    } else {
                        (table[i] - table[i - 1]) / (to.at - from.at)
                    };
                }
            }
            table
        });
        Some(HermiteSegment { nodes: places, coefficients })
    }

    /// The poses at these places along the way, of a body whose origin stands at these heights.
    #[inline(always)]
    pub fn predict(&self, along: &Lanes, heights: &Lanes, poses: &mut Poses) {
        for lane in 0..LANES {
            let d = self.nodes.map(|node| along[lane] - node);
            let at = |k: usize| {
                let c = &self.coefficients[k];
                c[0] + d[0]
                    * (c[1]
                        + d[0]
                            * (c[2]
                                + d[1]
                                    * (c[3] + d[1] * (c[4] + d[2] * (c[5] + d[2] * (c[6] + d[3] * c[7]))))))
            };
            poses.set(lane, &posed(&[at(0), at(1), at(2), at(3), at(4)], heights[lane]));
        }
    }
}
