//! The rear axle of a single corner on the bench: `rear: StandIn`, none of its numbers measured.

use nalgebra::Vector3;
use wheelpath_geometry::{
    Axle, Corner, Hardpoint, Hardpoints, LinkageKind, Side, Steering, Wheel, spin_axis_from_angles,
};

/// The word in a file.
pub(crate) const STAND_IN: &str = "StandIn";
/// Radius of its tyres, metres.
const RADIUS: f64 = 0.3;
/// Differences below this are rounding, metres.
const SAME: f64 = 1e-9;

/// Two trailing arms with their wheels at this x, on this ground, metres.
fn at(x: f64, ground: f64) -> Axle {
    let centre = Vector3::new(x, 0.74, ground + RADIUS);
    let wheel = Wheel {
        centre,
        spin_axis: spin_axis_from_angles(Side::Left, 0.0, 0.0),
        tyre_radius: RADIUS,
        tyre_width: 0.2,
        tyre_shoulder_radius: 0.0,
        rim_radius: 0.2,
        rim_width: None,
        rim_inner_radius: None,
    };
    let pivot = |y: f64| Vector3::new(x + 0.4, y, centre.z);
    let points = [(Hardpoint::ArmPivotOutboard, pivot(0.6)), (Hardpoint::ArmPivotInboard, pivot(0.4))];
    let left = Corner::new(LinkageKind::TrailingArm, wheel, Hardpoints::from_iter(points));
    let right = left.mirrored();
    Axle::new(Steering::Fixed, left, right)
}

/// The stand-in behind a front axle, a wheelbase (metres) away on its ground.
pub(crate) fn stand_in(front: &Axle, wheelbase: f64) -> Axle {
    let wheel = &front.left.wheel;
    let tilt = wheel.spin_axis.z.clamp(-1.0, 1.0);
    at(wheel.centre.x - wheelbase, wheel.centre.z - wheel.tyre_radius * (1.0 - tilt * tilt).sqrt())
}

/// Whether an axle is a stand-in as it was made, wherever it stands.
pub(crate) fn is_stand_in(axle: &Axle) -> bool {
    let centre = axle.left.wheel.centre;
    let made = at(centre.x, centre.z - RADIUS);
    let points = |axle: &Axle| -> Vec<Vector3<f64>> {
        let corners = [&axle.left, &axle.right];
        let of = |corner: &&Corner| -> Vec<Vector3<f64>> {
            let points = corner.hardpoints.iter().map(|(_, at)| at);
            points.chain([corner.wheel.centre, corner.wheel.spin_axis]).collect()
        };
        corners.iter().flat_map(of).collect()
    };
    let (own, others) = (points(axle), points(&made));
    let near = own.len() == others.len() && own.iter().zip(&others).all(|(a, b)| (a - b).norm() <= SAME);
    // All else is what it was made with.
    let mut axle = axle.clone();
    for side in Side::BOTH {
        let made = made.corner(side);
        let corner = axle.corner_mut(side);
        corner.hardpoints = made.hardpoints.clone();
        (corner.wheel.centre, corner.wheel.spin_axis) = (made.wheel.centre, made.wheel.spin_axis);
    }
    near && axle == made
}
