//! Poses that are reached by different ways are the same, unless assemblies meet between the ways.

use nalgebra::Vector3;
use wheelpath_geometry::{AxleSolver, Side, SolvedAxle};

/// Travel left and right, and the steering input.
pub type Target = ([f64; 2], f64);

/// Poses further apart than this are of different assemblies, metres and radians.
const OTHER: f64 = 1e-5;

/// How far two solved poses of an axle are apart: metres, or the length of a difference of directions.
#[must_use]
pub fn apart(solver: &AxleSolver, a: &SolvedAxle, b: &SolvedAxle) -> f64 {
    let mut worst = 0.0_f64;
    for side in Side::BOTH {
        let (p, q) = (solver.upright(a, side), solver.upright(b, side));
        worst = worst.max((p.origin - q.origin).norm());
        worst = worst.max((p.car_from_body - q.car_from_body).amax());
        let (p, q) = (solver.points(a, side), solver.points(b, side));
        for ((_, p), (_, q)) in p.iter().zip(&q) {
            worst = worst.max((p - q).norm());
        }
    }
    for ((_, p), (_, q)) in solver.own_points(a).iter().zip(&solver.own_points(b)) {
        worst = worst.max((p - q).norm());
    }
    worst
}

/// How fast the axle moves there, per unit of travel or steering: near a dead point it is fast, and poses are
/// known the less well.
#[must_use]
pub fn rate(at: &SolvedAxle) -> f64 {
    let mut most = 1.0_f64;
    for side in Side::BOTH {
        let motion = at.motion.corner(side);
        let mut twist = |v: &Vector3<f64>, w: &Vector3<f64>| most = most.max(v.norm()).max(w.norm());
        twist(&motion.by_travel.v, &motion.by_travel.w);
        if let Some(by_steer) = &motion.by_steer {
            twist(&by_steer.v, &by_steer.w);
        }
        for followed in [motion.damper, motion.bar].into_iter().flatten() {
            most = most.max(followed.per_travel.abs());
        }
    }
    most
}

/// How far apart two ways to one pose may end for rounding alone.
#[must_use]
pub fn allowed(a: &SolvedAxle, b: &SolvedAxle) -> f64 {
    let rate = rate(a).max(rate(b));
    1e-9 * (1.0 + rate * rate)
}

/// Follows a way from the reference pose.
fn along(solver: &AxleSolver, way: &[Target]) -> Option<SolvedAxle> {
    way.iter().try_fold(solver.start(), |here, &(travel, steer)| solver.follow(&here, travel, steer).ok())
}

fn between(a: &[Target], b: &[Target], share: f64) -> Vec<Target> {
    let mix = |x: f64, y: f64| x + (y - x) * share;
    let pairs = a.iter().zip(b);
    pairs.map(|((t, r), (u, s))| ([mix(t[0], u[0]), mix(t[1], u[1])], mix(*r, *s))).collect()
}

/// Fails where two ways of as many stretches, with the same end, lead to different poses and nothing stands
/// between them. One way is bent into the other: somewhere the end jumps, and there a limit must stand.
pub fn assert_same_end(solver: &AxleSolver, a: &[Target], b: &[Target], what: &str) {
    let (Some(end_a), Some(end_b)) = (along(solver, a), along(solver, b)) else { return };
    let off = apart(solver, &end_a, &end_b);
    if off <= allowed(&end_a, &end_b).min(OTHER) {
        return;
    }
    let (mut low, mut high) = (0.0, 1.0);
    while high - low > 1e-13 {
        let middle = 0.5 * (low + high);
        let Some(end) = along(solver, &between(a, b, middle)) else { return };
        // Where poses are known badly, the ways need not differ for the ends to do so a little.
        if apart(solver, &end, &end_a) <= 0.5 * off { low = middle } else { high = middle }
    }
    panic!("{what}: two ways with nothing between them end {off:e} apart:\n{a:?}\n{b:?}");
}
