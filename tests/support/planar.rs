//! Corners and cars of simple shape, for comparison with the plane geometry of text-books.

use nalgebra::Vector3;
use wheelpath_geometry::{Axle, Car, Corner, Hardpoint, Hardpoints, LinkageKind, Rack, Steering, Wheel};

/// A wheel at this centre with this spin axis.
#[must_use]
pub fn wheel(centre: Vector3<f64>, spin_axis: Vector3<f64>, tyre_radius: f64) -> Wheel {
    Wheel {
        centre,
        spin_axis,
        tyre_radius,
        tyre_width: 0.2,
        tyre_shoulder_radius: 0.0,
        rim_radius: 0.15,
        rim_width: None,
        rim_inner_radius: None,
    }
}

/// A double wishbone with nothing but what holds the wheel.
#[must_use]
pub fn bare_corner(wheel: Wheel, points: &[(Hardpoint, Vector3<f64>)]) -> Corner {
    let mut hardpoints = Hardpoints::default();
    for &(hardpoint, at) in points {
        hardpoints.set(hardpoint, at);
    }
    Corner::new(LinkageKind::DoubleWishbone, wheel, hardpoints)
}

/// A left corner whose links all move in planes across the car: the front view is the linkage.
/// Points are (y, z), metres.
#[derive(Clone, Copy, Debug)]
pub struct FrontView {
    /// Lower wishbone: hinge, ball joint.
    pub lower: [[f64; 2]; 2],
    /// Upper wishbone: hinge, ball joint.
    pub upper: [[f64; 2]; 2],
    /// Wheel centre.
    pub wheel_centre: [f64; 2],
    /// Tyre radius.
    pub tyre_radius: f64,
}

impl FrontView {
    /// The corner: hinges along X, and a toe link that is the lower wishbone's line moved forward.
    #[must_use]
    pub fn corner(&self) -> Corner {
        use Hardpoint as P;
        let at = |x: f64, [y, z]: [f64; 2]| Vector3::new(x, y, z);
        let [lower, lower_ball] = self.lower;
        let [upper, upper_ball] = self.upper;
        let wheel = wheel(at(0.0, self.wheel_centre), Vector3::y(), self.tyre_radius);
        bare_corner(
            wheel,
            &[
                (P::LowerWishboneFront, at(0.1, lower)),
                (P::LowerWishboneRear, at(-0.1, lower)),
                (P::LowerBallJoint, at(0.0, lower_ball)),
                (P::UpperWishboneFront, at(0.1, upper)),
                (P::UpperWishboneRear, at(-0.1, upper)),
                (P::UpperBallJoint, at(0.0, upper_ball)),
                (P::ToeLinkInner, at(0.3, lower)),
                (P::ToeLinkOuter, at(0.3, lower_ball)),
            ],
        )
    }
}

/// A left corner that a rack steers about a line, held by level wishbones.
#[derive(Clone, Copy, Debug)]
pub struct Steered {
    /// Wheel centre, metres.
    pub wheel_centre: Vector3<f64>,
    /// Unit spin axis, outboard.
    pub spin_axis: Vector3<f64>,
    /// Lower ball joint, metres.
    pub lower_ball: Vector3<f64>,
    /// Upper ball joint, metres.
    pub upper_ball: Vector3<f64>,
    /// Outer end of the tie rod, metres; the inner one is level with it, 0.35 m inboard.
    pub tie_rod_outer: Vector3<f64>,
}

impl Steered {
    /// A camber-free wheel at height 0.3 m that turns about a vertical line 80 mm inboard of it, its
    /// steering arm straight ahead.
    #[must_use]
    pub fn about_vertical(pivot_y: f64, arm: f64) -> Self {
        Steered {
            wheel_centre: Vector3::new(0.0, pivot_y + 0.08, 0.3),
            spin_axis: Vector3::y(),
            lower_ball: Vector3::new(0.0, pivot_y, 0.2),
            upper_ball: Vector3::new(0.0, pivot_y, 0.45),
            tie_rod_outer: Vector3::new(arm, pivot_y, 0.25),
        }
    }

    /// The corner.
    #[must_use]
    pub fn corner(&self) -> Corner {
        use Hardpoint as P;
        let inward = |from: Vector3<f64>, x: f64| from + Vector3::new(x, -0.35, 0.0);
        bare_corner(
            wheel(self.wheel_centre, self.spin_axis, 0.3),
            &[
                (P::LowerWishboneFront, inward(self.lower_ball, 0.15)),
                (P::LowerWishboneRear, inward(self.lower_ball, -0.15)),
                (P::LowerBallJoint, self.lower_ball),
                (P::UpperWishboneFront, inward(self.upper_ball, 0.12)),
                (P::UpperWishboneRear, inward(self.upper_ball, -0.12)),
                (P::UpperBallJoint, self.upper_ball),
                (P::TieRodInner, inward(self.tie_rod_outer, 0.0)),
                (P::TieRodOuter, self.tie_rod_outer),
            ],
        )
    }
}

/// A rack across the car.
#[must_use]
pub fn rack() -> Steering {
    Steering::Rack(Rack { axis: Vector3::y(), travel_per_turn: 0.05, stop_left: 0.1, stop_right: 0.1 })
}

/// A car with this corner and its mirror image at both ends.
#[must_use]
pub fn car(left: Corner, steering: Steering, wheelbase: f64) -> Car {
    let right = left.mirrored();
    let front = Axle::new(steering, left, right);
    Car::new("plain", wheelbase, front.clone(), front)
}
