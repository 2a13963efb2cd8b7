//! Whether two cars are the same but for rounding.

use wheelpath_geometry::{CamberBy, Car, End, Side, ToeBy, WheelAt};

/// Fails where two cars differ by more than rounding in a number a file holds. Numbers beyond what a car
/// can measure round in proportion.
pub fn assert_same(a: &Car, b: &Car, what: &str) {
    let near = |x: f64, y: f64| (x - y).abs() <= 1e-12 * x.abs().max(1.0);
    let maybe = |x: Option<f64>, y: Option<f64>| match (x, y) {
        (Some(x), Some(y)) => near(x, y),
        (x, y) => x == y,
    };
    let same = |ok: bool, name: &str| assert!(ok, "{what}: {name} differs");
    let angle = |toe: ToeBy| if let ToeBy::TieRodLength(angle) = toe { Some(angle) } else { None };
    let lean = |camber: CamberBy| if let CamberBy::UpperShim(angle) = camber { Some(angle) } else { None };
    same(a.name == b.name, "the name");
    same(near(a.wheelbase, b.wheelbase), "the wheelbase");
    same(maybe(a.centre_of_gravity_height, b.centre_of_gravity_height), "centre_of_gravity_height");
    same(maybe(a.brake_share_front, b.brake_share_front), "brake_share_front");
    for end in End::BOTH {
        let (a, b) = (a.axle(end), b.axle(end));
        same((a.brakes, a.drive) == (b.brakes, b.drive), "brakes or drive");
        same(a.steering.rack().is_some() == b.steering.rack().is_some(), "the kind of steering");
        for side in Side::BOTH {
            let (a, b) = (a.corner(side), b.corner(side));
            same(a.linkage == b.linkage, "the linkage");
            same(a.springing == b.springing, "the springing");
            same(a.drop_link_on == b.drop_link_on, "drop_link_on");
            same(a.damper.is_some() == b.damper.is_some(), "the damper's stops");
            same(maybe(angle(a.alignment.toe), angle(b.alignment.toe)), "static toe");
            same(maybe(lean(a.alignment.camber), lean(b.alignment.camber)), "static camber");
            same(a.lengths.len() == b.lengths.len(), "the stated lengths");
        }
    }
    for at in WheelAt::ALL {
        let (a, b) = (a.corner(at), b.corner(at));
        same(a.pickups.iter().count() == b.pickups.iter().count(), "the count of points");
        for ((p, x), (q, y)) in a.pickups.iter().zip(b.pickups.iter()) {
            same(p == q && (x - y).amax() <= 1e-12 * x.amax().max(1.0), p.key());
        }
        same(
            (a.wheel.centre - b.wheel.centre).amax() <= 1e-12 * a.wheel.centre.amax().max(1.0),
            "a wheel centre",
        );
        same((a.wheel.spin_axis - b.wheel.spin_axis).amax() <= 1e-12, "a spin axis");
        same(near(a.wheel.tyre_radius, b.wheel.tyre_radius), "a tyre's radius");
    }
}
