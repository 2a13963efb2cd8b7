//! Knuckles on a beam axle against closed forms.
//!
//! The steering trapezoid is a four-bar: with both king pins upright the far knuckle's angle follows from the near one's
//! by the half-angle solution of `A cos φ + B sin φ = C`, as textbooks of mechanisms have it (Freudenstein 1955, from
//! memory). About a king pin that leans, the same equation holds with Rodrigues' formula in place of a plane turn, and
//! camber, toe and wheel centre are those of a body turned about a fixed line.

use nalgebra::Vector3;
use wheelpath_geometry::{
    Axle, AxleSolver, Car, Corner, End, Hardpoint as P, LinkageKind, Rack, Side, SolvedAxle, Steering,
    reading,
};
use wheelpath_tests::{assert_near, planar};

type V = Vector3<f64>;

/// A point turned right-handed about a line through `at`, by Rodrigues' formula.
fn turned(point: V, at: V, along: V, angle: f64) -> V {
    let (k, r) = (along.normalize(), point - at);
    let (s, c) = angle.sin_cos();
    at + r * c + k.cross(&r) * s + k * (k.dot(&r) * (1.0 - c))
}

/// The angles at which `point`, turned about a line, stands `length` from `from`: half-angle solution, nearest to
/// nothing first.
fn angles(point: V, at: V, along: V, from: V, length: f64) -> [f64; 2] {
    let (k, r) = (along.normalize(), point - at);
    let foot = at + k * k.dot(&r);
    let across = r - k * k.dot(&r);
    let d = foot - from;
    // |d + across cos + (k x across) sin|² = length².
    let (a, b) = (2.0 * d.dot(&across), 2.0 * d.dot(&k.cross(&across)));
    let c = length * length - d.norm_squared() - across.norm_squared();
    let root = (a * a + b * b - c * c).sqrt();
    let mut both = [1.0, -1.0].map(|sign: f64| 2.0 * (b + sign * root).atan2(a + c));
    let plain = |angle: f64| angle.sin().atan2(angle.cos());
    both = both.map(plain);
    if both[1].abs() < both[0].abs() { [both[1], both[0]] } else { both }
}

/// An axle with these king pins (lower, upper, of the left side), straight across, located by links.
struct Knuckles {
    lower: V,
    upper: V,
    centre: V,
    spin: V,
    track: [V; 2],
    drag: [V; 2],
    to_left: bool,
}

impl Knuckles {
    fn side(&self, side: Side, at: V) -> V {
        Vector3::new(at.x, at.y * side.sign(), at.z)
    }

    fn pin(&self, side: Side) -> (V, V) {
        let [lower, upper] = [self.lower, self.upper].map(|at| self.side(side, at));
        (lower, upper - lower)
    }

    fn axle(&self) -> AxleSolver {
        let corner = |side: Side| {
            let wheel = planar::wheel(self.side(side, self.centre), self.side(side, self.spin), 0.35);
            let points = [
                (P::KingPinLower, self.lower),
                (P::KingPinUpper, self.upper),
                (P::LowerLinkInner, Vector3::new(-0.8, 0.42, 0.36)),
                (P::LowerLinkOuter, Vector3::new(-0.03, 0.5, 0.3)),
            ];
            Corner::new(
                LinkageKind::SteeredBeamAxle,
                wheel,
                points.into_iter().map(|(hardpoint, at)| (hardpoint, self.side(side, at))).collect(),
            )
        };
        let rack = Rack { axis: V::y(), travel_per_turn: -0.05, stop_left: 0.1, stop_right: 0.1 };
        let mut axle = Axle::new(Steering::Rack(rack), corner(Side::Left), corner(Side::Right));
        axle.hardpoints = [
            (P::TopLinkInner, Vector3::new(-0.45, -0.05, 0.52)),
            (P::TopLinkOuter, Vector3::new(0.03, -0.06, 0.5)),
            (P::PanhardRodBody, Vector3::new(0.1, -0.4, 0.43)),
            (P::PanhardRodAxle, Vector3::new(0.09, 0.46, 0.42)),
            (P::TrackRodLeft, self.track[0]),
            (P::TrackRodRight, self.track[1]),
            (P::DragLinkInner, self.drag[0]),
            (if self.to_left { P::DragLinkLeft } else { P::DragLinkRight }, self.drag[1]),
        ]
        .into_iter()
        .collect();
        let mut car: Car = planar::car(
            Corner::new(
                LinkageKind::TrailingArm,
                planar::wheel(self.centre, V::y(), 0.35),
                [
                    (P::ArmPivotOutboard, Vector3::new(0.4, 0.6, 0.3)),
                    (P::ArmPivotInboard, Vector3::new(0.4, 0.4, 0.3)),
                ]
                .into_iter()
                .collect(),
            ),
            Steering::Fixed,
            2.7,
        );
        car.front = axle;
        AxleSolver::new(&car, End::Front).unwrap_or_else(|stop| panic!("{stop:?}"))
    }
}

fn of(at: &SolvedAxle, side: Side, key: &str) -> f64 {
    at.wheel_values(side).get(reading(key).unwrap()).unwrap()
}

fn upright() -> Knuckles {
    Knuckles {
        lower: Vector3::new(0.0, 0.62, 0.28),
        upper: Vector3::new(0.0, 0.62, 0.44),
        centre: Vector3::new(0.0, 0.74, 0.36),
        spin: V::y(),
        track: [Vector3::new(-0.15, 0.56, 0.32), Vector3::new(-0.15, -0.56, 0.32)],
        drag: [Vector3::new(0.16, -0.35, 0.45), Vector3::new(0.15, 0.6, 0.41)],
        to_left: true,
    }
}

/// With upright king pins the axle stays where it is, and steering is a plane four-bar.
#[test]
fn a_steering_trapezoid_is_a_four_bar() {
    for to_left in [true, false] {
        let mut knuckles = upright();
        knuckles.to_left = to_left;
        if !to_left {
            knuckles.drag = knuckles.drag.map(|at| Vector3::new(at.x, -at.y, at.z));
        }
        let axle = knuckles.axle();
        let (near, far) = if to_left { (Side::Left, Side::Right) } else { (Side::Right, Side::Left) };
        let [near_end, far_end] = if to_left { [0, 1] } else { [1, 0] }.map(|i: usize| knuckles.track[i]);
        let [inner, outer] = knuckles.drag;
        let (near_pin, far_pin) = (knuckles.pin(near), knuckles.pin(far));
        for rack in [-0.06, -0.03, 0.01, 0.045, 0.07] {
            let solved = axle.solve([0.0; 2], rack).unwrap();
            let [first, _] =
                angles(outer, near_pin.0, near_pin.1, inner + V::y() * rack, (outer - inner).norm());
            assert_near!(of(&solved, near, "steer_angle"), first, 1e-12, "{rack}");
            let moved = turned(near_end, near_pin.0, near_pin.1, first);
            let [second, _] = angles(far_end, far_pin.0, far_pin.1, moved, (far_end - near_end).norm());
            assert_near!(of(&solved, far, "steer_angle"), second, 1e-12, "{rack}");
            assert!((first - second).abs() > 1e-3 * rack.abs(), "no trapezoid: {first} {second}");
            for side in Side::BOTH {
                assert_near!(of(&solved, side, "camber_to_body"), 0.0, 1e-13);
            }
        }
    }
}

/// Where both wheels travel as far as the king pins' lean lifts them, the axle stays and the knuckles turn about fixed
/// lines.
#[test]
fn a_wheel_turns_about_its_king_pin_by_rodrigues() {
    let knuckles = Knuckles {
        lower: Vector3::new(0.01, 0.655, 0.27),
        upper: Vector3::new(-0.012, 0.628, 0.45),
        centre: Vector3::new(0.004, 0.745, 0.36),
        spin: Vector3::new(0.004, 1.0, -0.012).normalize(),
        track: [Vector3::new(-0.15, 0.575, 0.31), Vector3::new(-0.152, -0.57, 0.325)],
        ..upright()
    };
    let axle = knuckles.axle();
    let ((left, left_along), (right, right_along)) = (knuckles.pin(Side::Left), knuckles.pin(Side::Right));
    let [inner, outer] = knuckles.drag;
    let rod = (knuckles.track[1] - knuckles.track[0]).norm();
    for first in [-0.5_f64, -0.2, 0.05, 0.3, 0.45] {
        let end = turned(knuckles.track[0], left, left_along, first);
        let [second, _] = angles(knuckles.track[1], right, right_along, end, rod);
        // The rack goes to where the drag link, its outer end turned, keeps its length.
        let d = turned(outer, left, left_along, first) - inner;
        let rack = d.y - ((outer - inner).norm_squared() - d.x * d.x - d.z * d.z).sqrt();
        let turns = [(Side::Left, left, left_along, first), (Side::Right, right, right_along, second)];
        let centres = turns
            .map(|(side, at, along, angle)| turned(knuckles.side(side, knuckles.centre), at, along, angle));
        let rises = centres.map(|centre| centre.z - knuckles.centre.z);
        let solved = axle.solve(rises, rack).unwrap();
        for ((side, _, along, angle), centre) in turns.into_iter().zip(centres) {
            let what = format!("{side} {first}");
            let upright = axle.upright(&solved, side);
            assert!((upright.origin - centre).amax() < 1e-12, "{what}");
            let spin = turned(knuckles.side(side, knuckles.spin), V::zeros(), along, angle);
            assert!((solved.motion.corner(side).spin_axis - spin).amax() < 1e-12, "{what}");
            let camber = -spin.z.atan2(spin.x.hypot(spin.y));
            assert_near!(of(&solved, side, "camber_to_body"), camber, 1e-12, "{what}");
            let to_left = spin * side.sign();
            let steer = (-to_left.x).atan2(to_left.y);
            assert_near!(of(&solved, side, "steer_angle"), steer, 1e-12, "{what}");
            // The pin stays in the axle, which stays: seen from the wheel, whose heading turns, caster does not.
            let caster = (-along.x).atan2(along.z);
            assert_near!(of(&solved, side, "caster"), caster, 1e-12, "{what}");
        }
    }
    // Lean and caster gain camber through steer: the outer wheel's top goes inboard, the inner one's outboard.
    let lock = axle.solve([0.0; 2], 0.06).unwrap();
    assert!(
        (of(&lock, Side::Left, "camber_to_body") - of(&lock, Side::Right, "camber_to_body")).abs() > 0.02
    );
}
