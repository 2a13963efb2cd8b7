use super::{Plate, PlateFault};
use nalgebra::{Rotation3, Vector3};
use proptest::prelude::{ProptestConfig, Strategy, prop_assert, proptest};

fn check(normal: [f64; 3], u: [f64; 3], v: [f64; 3], seen: &str) {
    let plate = Plate::with_normal(Vector3::zeros(), Vector3::from(normal)).unwrap();
    let [u_is, v_is, _] = plate.axes();
    let error = (u_is - Vector3::from(u)).norm() + (v_is - Vector3::from(v)).norm();
    assert!(error < 1e-15, "{normal:?}: u {u_is}, v {v_is}");
    assert_eq!(plate.seen_from(), seen);
}

/// Who stands at the left of a car sees its nose on his left; from behind, its left on his left.
#[test]
fn axes_are_those_of_someone_who_looks() {
    check([0.0, 2.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, 1.0], "the left of the car");
    check([0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0], "the right of the car");
    check([-1.0, 0.0, 0.0], [0.0, -1.0, 0.0], [0.0, 0.0, 1.0], "the rear of the car");
    check([1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0], "the front of the car");
    check([0.0, 0.0, 1e-3], [0.0, -1.0, 0.0], [1.0, 0.0, 0.0], "above the car");
    check([0.0, 0.0, -1.0], [0.0, 1.0, 0.0], [1.0, 0.0, 0.0], "below the car");
    // A roof at 45° over the left side: its steepest way up runs to the right.
    let half = 0.5_f64.sqrt();
    check([0.0, half, half], [-1.0, 0.0, 0.0], [0.0, -half, half], "the left of the car and from above");
}

#[test]
fn directions_have_words() {
    let check = |x, y, z, expected: &str| {
        assert_eq!(Plate::way(&Vector3::new(x, y, z).normalize()), expected);
    };
    check(-1.0, 0.0, 0.1, "rearward");
    check(0.5, 0.0, -1.0, "down and forward");
    check(0.0, 1.0, 0.3, "left and up");
}

/// Closed form: the plane x/1 + y/2 + z/3 = 1 has the normal (6, 3, 2)/7.
#[test]
fn the_plane_through_three_points_is_the_text_books() {
    let [a, b, c] = [Vector3::x(), 2.0 * Vector3::y(), 3.0 * Vector3::z()];
    let plate = Plate::through([a, b, c]).unwrap();
    assert!((plate.axes()[2] - Vector3::new(6.0, 3.0, 2.0) / 7.0).norm() < 1e-15);
    // The distance of the car's origin from it is 6/7, on the far side from the eye.
    assert!((plate.place(&Vector3::zeros()).z + 6.0 / 7.0).abs() < 1e-15);
    // In the other order they turn left for who looks from the other side.
    let other = Plate::through([a, c, b]).unwrap();
    assert!((other.axes()[2] + plate.axes()[2]).norm() < 1e-15);
    assert_eq!(plate.turned(), other);
    assert_eq!(plate.facing(-Vector3::x()), other);
    assert_eq!(plate.facing(Vector3::z()), plate);
}

#[test]
fn what_is_no_plane_says_by_how_much() {
    let points = [Vector3::zeros(), Vector3::new(0.1, 0.0, 0.0), Vector3::new(0.05, 0.000_02, 0.0)];
    let fault = Plate::through(points).unwrap_err();
    assert_eq!(
        fault.to_string(),
        "the plate's three points lie in line to within 0.020 mm over 100.0 mm: take one that stands \
         further off"
    );
    let same = Plate::through([Vector3::x(); 3]).unwrap_err();
    assert_eq!(same, PlateFault::InLine { off: 0.0, over: 0.0 });
    let lost = Vector3::new(0.0, f64::NAN, 0.0);
    assert_eq!(Plate::through([Vector3::x(), lost, Vector3::y()]).unwrap_err(), PlateFault::NotAPlace(2));
    for normal in [Vector3::zeros(), lost, Vector3::new(f64::INFINITY, 0.0, 0.0)] {
        assert_eq!(Plate::with_normal(Vector3::zeros(), normal).unwrap_err(), PlateFault::NoNormal);
    }
    // Very short and very long ones still point somewhere.
    for length in [1e-300, 1e300] {
        assert!(Plate::with_normal(Vector3::zeros(), Vector3::new(0.0, length, length)).is_ok());
    }
}

fn place() -> impl Strategy<Value = Vector3<f64>> {
    proptest::array::uniform3(-2.0..2.0_f64).prop_map(Vector3::from)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// In whatever plane: axes of length one, square to one another, right-handed; u level.
    #[test]
    fn axes_are_square_and_right_handed(normal in place(), origin in place()) {
        let Ok(plate) = Plate::with_normal(origin, normal) else { return Ok(()) };
        let [u, v, n] = plate.axes();
        let axes = nalgebra::Matrix3::from_columns(&[u, v, n]);
        prop_assert!((axes.transpose() * axes - nalgebra::Matrix3::identity()).norm() < 1e-14);
        prop_assert!((axes.determinant() - 1.0).abs() < 1e-14);
        prop_assert!((n - normal.normalize()).norm() < 1e-14);
        prop_assert!(u.z.abs() < 0.0175, "u is not level: {u}");
    }

    /// Distances between points of the plane are those between their u and v.
    #[test]
    fn distances_in_the_plane_survive(
        origin in place(), turn in place(), a in (-1.0..1.0_f64, -1.0..1.0_f64), b in (-1.0..1.0_f64, -1.0..1.0_f64),
    ) {
        let turn = Rotation3::from_scaled_axis(turn);
        let point = |(x, y): (f64, f64)| origin + turn * Vector3::new(x, y, 0.0);
        let plate = Plate::with_normal(origin, turn * Vector3::z()).unwrap();
        let [one, other] = [plate.place(&point(a)), plate.place(&point(b))];
        prop_assert!(one.z.abs() < 1e-14 && other.z.abs() < 1e-14);
        prop_assert!(((one - other).norm() - (a.0 - b.0).hypot(a.1 - b.1)).abs() < 1e-14);
    }
}
