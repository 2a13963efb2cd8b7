//! What these tests share: the road's axes built from roll and pitch, apart from the code under test,
//! and a car whose wheels move on known arcs.

use nalgebra::{Rotation3, Vector3};
use wheelpath_geometry::{
    AntiRollBar, BarKind, Car, Component, CornerMotion, Hardpoint, Reading, RoadContact, Spring, Springing,
    Standing, Steering, WheelPosition, WheelValues, reading,
};
use wheelpath_tests::planar::{FrontView, car};

/// A reading by its key.
pub fn named(key: &str) -> &'static Reading {
    reading(key).unwrap_or_else(|| panic!("no reading {key}"))
}

/// A wheel's reading.
pub fn of(standing: &Standing, wheel: WheelPosition, key: &str) -> f64 {
    let values: WheelValues = standing.solved.axle(wheel.end).wheel_values(wheel.side);
    values.get(named(key)).unwrap_or(f64::NAN)
}

/// Turns the body's axes into those of the road: pitch about Y after roll about X.
pub fn road_from_body(roll: f64, pitch: f64) -> Rotation3<f64> {
    Rotation3::from_axis_angle(&Vector3::y_axis(), pitch)
        * Rotation3::from_axis_angle(&Vector3::x_axis(), roll)
}

/// The same for a car that stands: its pitch is what its road's normal says.
pub fn road_of(standing: &Standing) -> Rotation3<f64> {
    road_from_body(standing.body.roll, -standing.ground.normal.x.asin())
}

/// The tyre's lowest point in the road's axes, a disc about a centre.
pub fn lowest(turn: &Rotation3<f64>, corner: &CornerMotion<f64>) -> Vector3<f64> {
    let (centre, axis) = (turn * corner.wheel_centre, turn * corner.spin_axis);
    // The point of the circle that is furthest down: down less its part along the axis.
    let down = (-Vector3::z() + axis * axis.z).normalize();
    centre + down * corner.tyre_radius
}

/// Height over the road of every tyre's lowest point and of the two points the body's heights count,
/// all in the road's axes. The road is where `front` says.
pub fn heights(standing: &Standing, design_feet: [Vector3<f64>; 2]) -> ([f64; 4], [f64; 2]) {
    let turn = road_of(standing);
    let feet = design_feet.map(|foot| (turn * foot).z);
    let road = feet[0] - standing.body.front;
    let tyre =
        |at: WheelPosition| lowest(&turn, standing.solved.axle(at.end).motion.corner(at.side)).z - road;
    (WheelPosition::ALL.map(tyre), feet.map(|z| z - road))
}

/// Whether every wheel touches.
pub fn all_touch(standing: &Standing) -> bool {
    standing.feet.iter().all(|foot| *foot == RoadContact::OnRoad)
}

/// Rates of the springs that [`sprung_car`] has in front and behind, N/m.
pub const SPRINGS: [f64; 2] = [30_000.0, 20_000.0];
/// Rate of its front anti-roll bar, N·m/rad, and the length of the bar's arms, metres.
pub const BAR: [f64; 2] = [900.0, 0.25];

/// The car of [`parallel_car`] with a spring standing on each upright, straight up, and a bar in front.
pub fn sprung_car() -> Car {
    let mut car = parallel_car();
    car.mass = Some(1000.0);
    car.weight_share_front = Some(0.55);
    car.centre_of_gravity_height = Some(0.5);
    for at in WheelPosition::ALL {
        let corner = car.corner_mut(at);
        let centre = corner.wheel.centre;
        corner.springing = Some(Springing::Direct { on: Component::Upright });
        corner.hardpoints.set(Hardpoint::DamperRocker, centre);
        corner.hardpoints.set(Hardpoint::DamperBody, centre + Vector3::z() * 0.5);
        corner.spring = Some(Spring::OnDamper { rate: SPRINGS[at.index() / 2] });
        if at.index() < 2 {
            corner.drop_link_on = Some(Component::Upright);
            let end = centre - Vector3::z() * 0.2;
            corner.hardpoints.set(Hardpoint::DropLinkOuter, centre);
            corner.hardpoints.set(Hardpoint::DropLinkBar, end);
            corner.hardpoints.set(Hardpoint::BarPivot, end - Vector3::x() * BAR[1]);
            corner.hardpoints.set(Hardpoint::BarAxis, end - Vector3::x() * BAR[1] - Vector3::y() * end.y);
        }
    }
    car.front.anti_roll_bar = Some(AntiRollBar { kind: BarKind::U, rate: Some(BAR[0]) });
    car
}

pub const BASE: f64 = 2.5;
/// Length of both wishbones in front view.
pub const ARM: f64 = 0.15;
/// Where their hinges are.
pub const HINGE: f64 = 0.45;
pub const RADIUS: f64 = 0.3;

/// Level wishbones of one length, one above the other: each wheel centre moves on an arc of that
/// length and the wheel stays upright against the body.
pub fn parallel_car() -> Car {
    let linkage = FrontView {
        lower: [[HINGE, 0.2], [HINGE + ARM, 0.2]],
        upper: [[HINGE, 0.4], [HINGE + ARM, 0.4]],
        wheel_centre: [HINGE + ARM, RADIUS],
        tyre_radius: RADIUS,
    };
    let mut car = car(linkage.corner(), Steering::Fixed, BASE);
    for side in [&mut car.rear.left, &mut car.rear.right] {
        side.wheel.centre.x -= BASE;
        let points: Vec<_> = side.hardpoints.iter().collect();
        for (hardpoint, at) in points {
            side.hardpoints.set(hardpoint, at - Vector3::x() * BASE);
        }
    }
    car
}
