//! Whether two cars are the same but for rounding.

use wheelpath_geometry::{
    CamberBy, Car, CardanJoint, End, Hardpoints, Link, Side, StaticLoads, Steering, ToeBy, WheelPosition,
};

/// Two numbers are the same but for rounding.
fn near(x: f64, y: f64) -> bool {
    (x - y).abs() <= 1e-12 * x.abs().max(1.0)
}

fn maybe(x: Option<f64>, y: Option<f64>) -> bool {
    match (x, y) {
        (Some(x), Some(y)) => near(x, y),
        (x, y) => x == y,
    }
}

fn lengths(a: &[(Link, f64)], b: &[(Link, f64)]) -> bool {
    let same = |((l, x), (m, y)): (&(Link, f64), &(Link, f64))| l == m && near(*x, *y);
    a.len() == b.len() && a.iter().zip(b).all(same)
}

fn points(a: &Hardpoints, b: &Hardpoints) -> bool {
    a.iter().count() == b.iter().count()
        && a.iter()
            .zip(b.iter())
            .all(|((p, x), (q, y))| p == q && (x - y).amax() <= 1e-12 * x.amax().max(1.0))
}

fn steering(a: &Steering, b: &Steering) -> bool {
    let all = |steering: &Steering| match steering {
        Steering::Fixed => Vec::new(),
        Steering::Rack(rack) => {
            let numbers = [rack.travel_per_turn, rack.stop_left, rack.stop_right];
            rack.axis.iter().copied().chain(numbers).collect()
        }
        Steering::Box(own) => {
            let arms = [own.pitman, own.idler];
            let points = arms.iter().flat_map(|arm| [arm.pivot, arm.axis, arm.ball]);
            let mut numbers: Vec<f64> = points.flat_map(|v| [v.x, v.y, v.z]).collect();
            numbers.extend([own.ratio, own.stop_left, own.stop_right]);
            numbers
        }
    };
    let (a, b) = (all(a), all(b));
    a.len() == b.len() && a.iter().zip(&b).all(|(x, y)| near(*x, *y))
}

fn joints(a: &[Option<CardanJoint>], b: &[Option<CardanJoint>]) -> bool {
    a.iter().zip(b).all(|(a, b)| {
        let parts = |joint: &CardanJoint| (joint.bend, joint.phase);
        maybe(a.as_ref().map(|j| parts(j).0), b.as_ref().map(|j| parts(j).0))
            && maybe(a.as_ref().map(|j| parts(j).1), b.as_ref().map(|j| parts(j).1))
    })
}

fn loads(a: StaticLoads, b: StaticLoads) -> bool {
    match (a, b) {
        (StaticLoads::Shares { left, cross }, StaticLoads::Shares { left: other, cross: crossed }) => {
            maybe(left, other) && maybe(cross, crossed)
        }
        (StaticLoads::Weighed(a), StaticLoads::Weighed(b)) => a.iter().zip(&b).all(|(a, b)| near(*a, *b)),
        (a, b) => a == b,
    }
}

/// Fails where two cars differ by more than rounding in a number or word a file holds. Numbers beyond what
/// a car can measure round in proportion.
pub fn assert_same(a: &Car, b: &Car, what: &str) {
    let same = |ok: bool, name: &str| assert!(ok, "{what}: {name} differs");
    same(a.name == b.name, "the name");
    same(near(a.wheelbase, b.wheelbase), "the wheelbase");
    same(maybe(a.centre_of_gravity_height, b.centre_of_gravity_height), "centre_of_gravity_height");
    same(maybe(a.brake_share_front, b.brake_share_front), "brake_share_front");
    same(maybe(a.mass, b.mass), "the mass");
    same(maybe(a.weight_share_front, b.weight_share_front), "weight_share_front");
    same(loads(a.static_loads, b.static_loads), "the static loads");
    for end in End::BOTH {
        let (a, b) = (a.axle(end), b.axle(end));
        same((a.brakes, a.drive) == (b.brakes, b.drive), "brakes or drive");
        same(steering(&a.steering, &b.steering), "the steering");
        same(joints(&a.column.joints, &b.column.joints), "the column");
        same(points(&a.hardpoints, &b.hardpoints), "a point of an axle");
        same(lengths(&a.lengths, &b.lengths), "a length of an axle");
        same(a.watt_lever_on == b.watt_lever_on, "watt_lever_on");
        let (bar, other) = (a.anti_roll_bar, b.anti_roll_bar);
        same(bar.map(|bar| bar.kind) == other.map(|bar| bar.kind), "the kind of an anti-roll bar");
        same(maybe(bar.and_then(|b| b.rate), other.and_then(|b| b.rate)), "the rate of an anti-roll bar");
        let (third, other) = (a.third_spring, b.third_spring);
        same(third.map(|third| third.on) == other.map(|third| third.on), "what carries a third spring");
        same(maybe(third.and_then(|t| t.rate), other.and_then(|t| t.rate)), "the rate of a third spring");
        for side in Side::BOTH {
            corners(a.corner(side), b.corner(side), &same);
        }
    }
    for at in WheelPosition::ALL {
        let (a, b) = (a.corner(at), b.corner(at));
        same(points(&a.hardpoints, &b.hardpoints), "a point");
        same(
            (a.wheel.centre - b.wheel.centre).amax() <= 1e-12 * a.wheel.centre.amax().max(1.0),
            "a wheel centre",
        );
        same((a.wheel.spin_axis - b.wheel.spin_axis).amax() <= 1e-12, "a spin axis");
        same(near(a.wheel.tyre_radius, b.wheel.tyre_radius), "a tyre's radius");
        same(near(a.wheel.tyre_width, b.wheel.tyre_width), "a tyre's width");
        same(near(a.wheel.rim_radius, b.wheel.rim_radius), "a rim's radius");
        same(maybe(a.wheel.rim_width, b.wheel.rim_width), "a rim's width");
        same(maybe(a.wheel.rim_inner_radius, b.wheel.rim_inner_radius), "a rim's inner radius");
        same(near(a.wheel.tyre_shoulder_radius, b.wheel.tyre_shoulder_radius), "a tyre's shoulder");
    }
}

fn corners(a: &wheelpath_geometry::Corner, b: &wheelpath_geometry::Corner, same: &impl Fn(bool, &str)) {
    let angle = |toe: ToeBy| if let ToeBy::TieRodLength(angle) = toe { Some(angle) } else { None };
    let lean = |camber: CamberBy| if let CamberBy::Adjuster(angle) = camber { Some(angle) } else { None };
    same(a.linkage == b.linkage, "the linkage");
    same(a.springing == b.springing, "the springing");
    same(a.drop_link_on == b.drop_link_on, "drop_link_on");
    let (stops, other) = (a.damper, b.damper);
    same(maybe(stops.map(|s| s.shortest), other.map(|s| s.shortest)), "a damper's stop");
    same(maybe(stops.map(|s| s.longest), other.map(|s| s.longest)), "a damper's stop");
    same(maybe(angle(a.alignment.toe), angle(b.alignment.toe)), "static toe");
    same(maybe(lean(a.alignment.camber), lean(b.alignment.camber)), "static camber");
    same(lengths(&a.lengths, &b.lengths), "a stated length");
    same(a.radii.len() == b.radii.len(), "the parts' radii");
    for ((p, x), (q, y)) in a.radii.iter().zip(&b.radii) {
        same(p == q && near(*x, *y), "a part's radius");
    }
    same(a.joint_axes.len() == b.joint_axes.len(), "the joints' bolts");
    for ((p, x), (q, y)) in a.joint_axes.iter().zip(&b.joint_axes) {
        same(p == q && (x - y).amax() <= 1e-12, "a joint's bolt");
    }
    same(a.joint_limits.len() == b.joint_limits.len(), "the joints' limits");
    for ((p, x), (q, y)) in a.joint_limits.iter().zip(&b.joint_limits) {
        same(p == q && near(*x, *y), "a joint's limit");
    }
    match (a.spring, b.spring) {
        (None, None) => {}
        (Some(a), Some(b)) => {
            use wheelpath_geometry::Spring::{OnDamper, Separate, TorsionBar};
            let ok = match (a, b) {
                (OnDamper { rate: x }, OnDamper { rate: y })
                | (TorsionBar { rate: x }, TorsionBar { rate: y }) => near(x, y),
                (Separate { on: p, rate: x }, Separate { on: q, rate: y }) => p == q && near(x, y),
                _ => false,
            };
            same(ok, "a spring");
        }
        _ => same(false, "a spring"),
    }
}
