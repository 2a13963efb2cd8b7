//! Distances of rods and rings against closed forms and against a search of another kind.

use super::{Annulus, Capsule};
use nalgebra::{Isometry3, Vector3};
use proptest::prelude::*;

fn rod(a: [f64; 3], b: [f64; 3], radius: f64) -> Capsule {
    Capsule { ends: [Vector3::from(a), Vector3::from(b)], radius }
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-12, "{found} is not {expected}");
}

#[track_caller]
fn same(found: Vector3<f64>, expected: [f64; 3]) {
    assert!((found - Vector3::from(expected)).norm() < 1e-9, "{found} is not {expected:?}");
}

#[test]
fn skew_rods() {
    let (a, b) = (rod([-1.0, 0.0, 0.0], [1.0, 0.0, 0.0], 0.1), rod([0.2, -1.0, 0.5], [0.2, 1.0, 0.5], 0.05));
    let gap = a.gap(&b);
    near(gap.distance, 0.35);
    same(gap.at[0], [0.2, 0.0, 0.1]);
    same(gap.at[1], [0.2, 0.0, 0.45]);
}

#[test]
fn parallel_rods_side_by_side_and_end_on() {
    let a = rod([0.0, 0.0, 0.0], [1.0, 0.0, 0.0], 0.01);
    near(a.gap(&rod([0.3, 0.0, 0.2], [1.7, 0.0, 0.2], 0.02)).distance, 0.17);
    near(a.gap(&rod([1.4, 0.0, 0.0], [2.0, 0.0, 0.0], 0.02)).distance, 0.37);
    // Beside and beyond: from end to end, 3 and 4 make 5.
    near(a.gap(&rod([1.3, 0.4, 0.0], [2.0, 0.4, 0.0], 0.02)).distance, 0.47);
    // The end of one against the middle of the other.
    near(a.gap(&rod([0.5, 0.0, 0.3], [0.9, 0.1, 1.3], 0.0)).distance, 0.29);
    // Spheres.
    near(rod([0.0; 3], [0.0; 3], 0.1).gap(&rod([0.0, 0.3, 0.4], [0.0, 0.3, 0.4], 0.1)).distance, 0.3);
}

#[test]
fn rods_that_overlap_say_by_how_much() {
    let a = rod([-1.0, 0.0, 0.0], [1.0, 0.0, 0.0], 0.1);
    let gap = a.gap(&rod([0.0, -1.0, 0.12], [0.0, 1.0, 0.12], 0.05));
    near(gap.distance, -0.03);
    // Where the centre lines meet the depth is both radii, across both.
    let gap = a.gap(&rod([0.0, -1.0, 0.0], [0.0, 1.0, 0.0], 0.05));
    near(gap.distance, -0.15);
    near((gap.at[0] - gap.at[1]).norm(), 0.15);
    for one in [a, rod([0.0; 3], [0.0; 3], 0.1)] {
        near(one.gap(&one).distance, -0.2);
    }
}

/// A wheel about Z: bore 0.2, tread 0.3, 0.2 wide.
const WHEEL: Annulus = Annulus {
    centre: Vector3::new(0.0, 0.0, 0.0),
    axis: Vector3::new(0.0, 0.0, 1.0),
    inner: 0.2,
    outer: 0.3,
    half_width: 0.1,
    shoulder: 0.0,
};

#[test]
fn rods_about_a_wheel() {
    // On its axis, inside the bore.
    let gap = WHEEL.gap(&rod([0.0, 0.0, -1.0], [0.0, 0.0, 1.0], 0.01));
    near(gap.distance, 0.19);
    near(gap.at[0].xy().norm(), 0.2);
    near(gap.at[1].xy().norm(), 0.01);
    near(gap.at[0].z, gap.at[1].z);
    // Parallel to the axis, inside and outside.
    near(WHEEL.gap(&rod([0.15, 0.0, -1.0], [0.15, 0.0, 1.0], 0.01)).distance, 0.04);
    let gap = WHEEL.gap(&rod([0.0, 0.4, -1.0], [0.0, 0.4, 1.0], 0.01));
    near(gap.distance, 0.09);
    same(Vector3::new(gap.at[0].x, gap.at[0].y, 0.0), [0.0, 0.3, 0.0]);
    // Beside it.
    let gap = WHEEL.gap(&rod([-0.25, 0.0, 0.15], [0.25, 0.0, 0.15], 0.01));
    near(gap.distance, 0.04);
    near(gap.at[0].z, 0.1);
    near(gap.at[1].z, 0.14);
    // From outside the bore into it, its end before the far wall: 0.2 - 0.12.
    near(WHEEL.gap(&rod([0.0, -0.12, 0.0], [0.0, 0.0, 0.3], 0.01)).distance, 0.07);
    // Off an outer edge by 3 and 4: 5.
    near(WHEEL.gap(&rod([0.33, 0.0, 0.14], [0.33, 0.0, 0.9], 0.01)).distance, 0.04);
    // Off a rounded edge: from the centre of the rounding, at 0.27 and 0.07, less its radius.
    let round = Annulus { shoulder: 0.03, ..WHEEL };
    near(round.gap(&rod([0.33, 0.0, 0.15], [0.33, 0.0, 0.9], 0.01)).distance, 0.1 - 0.03 - 0.01);
    // Beside the bore, nearer to its edge than to anything else: off by 3 and 4.
    near(WHEEL.gap(&rod([0.17, 0.0, 0.14], [0.17, 0.0, 0.9], 0.0)).distance, 0.05);
}

#[test]
fn rods_in_a_tyre_say_how_deep() {
    // Through the middle of the wall.
    near(WHEEL.gap(&rod([0.25, 0.0, -1.0], [0.25, 0.0, 1.0], 0.01)).distance, -0.06);
    // Just through the bore.
    near(WHEEL.gap(&rod([0.201, 0.0, -1.0], [0.201, 0.0, 1.0], 0.01)).distance, -0.011);
    // Across the whole wheel in its middle plane: half the wall from either surface.
    near(WHEEL.gap(&rod([-1.0, 0.0, 0.0], [1.0, 0.0, 0.0], 0.01)).distance, -0.06);
    // Only its surface touches.
    near(WHEEL.gap(&rod([-0.25, 0.0, 0.105], [0.25, 0.0, 0.105], 0.01)).distance, -0.005);
    // A chord that lies in the bore but for its ends.
    let chord = WHEEL.gap(&rod([-0.14, 0.15, 0.0], [0.14, 0.15, 0.0], 0.0)).distance;
    near(chord, 0.2 - 0.14_f64.hypot(0.15));
}

/// Of another kind: points along the rod against points round the cross-section's edge.
fn searched(ring: &Annulus, rod: &Capsule) -> f64 {
    let rounding = ring.shoulder.min(ring.half_width).min(ring.outer - ring.inner);
    let (w, r) = (ring.half_width, ring.outer);
    let mut edge = Vec::new();
    for i in 0..=400 {
        let share = f64::from(i) / 400.0;
        let along = -w + 2.0 * w * share;
        edge.push([along, ring.inner]);
        let over = along.abs() - (w - rounding);
        let drop =
            if over > 0.0 { rounding - (rounding * rounding - over * over).max(0.0).sqrt() } else { 0.0 };
        edge.push([along, r - drop]);
        let side = ring.inner + (r - rounding - ring.inner) * share;
        edge.extend([[-w, side], [w, side]]);
        let turn = share * std::f64::consts::FRAC_PI_2;
        let (out, up) = (w - rounding + rounding * turn.cos(), r - rounding + rounding * turn.sin());
        edge.extend([[-out, up], [out, up]]);
    }
    let mut least = f64::INFINITY;
    for i in 0..=400 {
        let from = rod.point(f64::from(i) / 400.0) - ring.centre;
        let along = from.dot(&ring.axis);
        let out = (from - ring.axis * along).norm();
        for [a, b] in &edge {
            least = least.min((along - a).hypot(out - b));
        }
    }
    least - rod.radius
}

fn place(far: f64) -> impl Strategy<Value = Vector3<f64>> {
    [-far..far, -far..far, -far..far].prop_map(Vector3::from)
}

fn capsules(far: f64) -> impl Strategy<Value = Capsule> {
    // Some along the axes, some of no length.
    let along = prop_oneof![
        6 => place(far),
        1 => (-far..far, 0..3_usize).prop_map(|(by, axis)| Vector3::ith(axis, by)),
        1 => Just(Vector3::zeros()),
    ];
    (place(far), along, 0.0..0.05_f64).prop_map(|(a, by, radius)| Capsule { ends: [a, a + by], radius })
}

fn rings() -> impl Strategy<Value = Annulus> {
    let axis = prop_oneof![3 => place(1.0), 1 => Just(Vector3::y()), 1 => Just(-Vector3::z())];
    (place(0.1), axis, 0.05..0.25_f64, 0.01..0.15_f64, 0.01..0.15_f64, 0.0..0.2_f64).prop_filter_map(
        "an axis",
        |(centre, axis, inner, wall, half_width, shoulder)| {
            let axis = axis.try_normalize(1e-3)?;
            Some(Annulus { centre, axis, inner, outer: inner + wall, half_width, shoulder })
        },
    )
}

fn motions() -> impl Strategy<Value = Isometry3<f64>> {
    (place(3.0), place(3.0)).prop_map(|(by, turn)| Isometry3::new(by, turn))
}

fn moved(rod: &Capsule, by: &Isometry3<f64>) -> Capsule {
    Capsule { ends: rod.ends.map(|end| by * nalgebra::Point3::from(end)).map(|p| p.coords), ..*rod }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn rods_stay_as_far_apart_moved_swapped_and_sampled(
        a in capsules(0.5), b in capsules(0.5), by in motions(),
    ) {
        let gap = a.gap(&b);
        let other = b.gap(&a);
        prop_assert!((gap.distance - other.distance).abs() < 1e-12);
        let far = moved(&a, &by).gap(&moved(&b, &by)).distance;
        prop_assert!((gap.distance - far).abs() < 1e-10);
        // The points are on the surfaces, that far apart.
        prop_assert!(((gap.at[0] - gap.at[1]).norm() - gap.distance.abs()).abs() < 1e-10);
        let least = (0..=60).flat_map(|i| (0..=60).map(move |j| (i, j))).map(|(i, j)| {
            (a.point(f64::from(i) / 60.0) - b.point(f64::from(j) / 60.0)).norm() - a.radius - b.radius
        }).fold(f64::INFINITY, f64::min);
        prop_assert!(gap.distance <= least + 1e-12);
        let apart = [&a, &b].map(|rod| (rod.ends[1] - rod.ends[0]).norm() / 120.0);
        prop_assert!(gap.distance >= least - apart[0] - apart[1] - 1e-12);
    }

    #[test]
    fn a_ring_is_as_far_from_a_rod_moved_turned_and_sampled(
        ring in rings(), rod in capsules(0.5), by in motions(),
    ) {
        let gap = ring.gap(&rod);
        let back = Capsule { ends: [rod.ends[1], rod.ends[0]], ..rod };
        prop_assert!((ring.gap(&back).distance - gap.distance).abs() < 1e-8, "turned end for end");
        let centre = (by * nalgebra::Point3::from(ring.centre)).coords;
        let there = Annulus { centre, axis: by * ring.axis, ..ring };
        prop_assert!((there.gap(&moved(&rod, &by)).distance - gap.distance).abs() < 1e-8);
        let turned = Annulus { axis: -ring.axis, ..ring };
        prop_assert!((turned.gap(&rod).distance - gap.distance).abs() < 1e-8);
        let length = (rod.ends[1] - rod.ends[0]).norm();
        let least = (0..=4000).map(|i| ring.distance(&rod.point(f64::from(i) / 4000.0)) - rod.radius)
            .fold(f64::INFINITY, f64::min);
        prop_assert!(gap.distance <= least + 1e-8, "{} but sampled {least}", gap.distance);
        prop_assert!(gap.distance >= least - length / 8000.0 - 1e-8, "{} but sampled {least}", gap.distance);
        // A point of the ring's surface, and one of the rod's that far off.
        prop_assert!(ring.distance(&gap.at[0]).abs() < 1e-9);
        prop_assert!(((gap.at[0] - gap.at[1]).norm() - gap.distance.abs()).abs() < 1e-8);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_search_of_another_kind_finds_the_same(ring in rings(), rod in capsules(0.5)) {
        let gap = ring.gap(&rod).distance;
        // Outside, where the edge of the cross-section is all there is.
        prop_assume!(gap + rod.radius > 0.0);
        let found = searched(&ring, &rod);
        prop_assert!(gap <= found + 1e-9 && gap >= found - 3e-3, "{gap} but found {found}");
    }
}
