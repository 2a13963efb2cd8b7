//! Whether two cars are the same but for rounding.

use wheelpath_geometry::{
    Alignment, Axle, CamberBy, Car, Corner, DamperStops, End, Link, Pickup, Rack, ToeBy, Wheel, WheelAt,
};

/// Two lengths, angles or directions that differ by less are the same (metres, radians).
const SAME: f64 = 1e-12;

/// The first thing in which two cars differ by more than rounding, in words.
pub(crate) fn difference(a: &Car, b: &Car) -> Option<String> {
    if a.name != b.name {
        return Some("the name".into());
    }
    if !near(a.wheelbase, b.wheelbase) {
        return Some("the wheelbase".into());
    }
    if !both(a.centre_of_gravity_height, b.centre_of_gravity_height, near) {
        return Some("the height of the centre of gravity".into());
    }
    if !both(a.brake_share_front, b.brake_share_front, near) {
        return Some("the front share of the braking".into());
    }
    let in_axle = |end| Some(format!("the {end} axle's {}", axle(a.axle(end), b.axle(end))?));
    let in_corner = |at| Some(format!("the {at} {}", corner(a.corner(at), b.corner(at))?));
    End::BOTH.into_iter().find_map(in_axle).or_else(|| WheelAt::ALL.into_iter().find_map(in_corner))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME
}

fn same_place(a: nalgebra::Vector3<f64>, b: nalgebra::Vector3<f64>) -> bool {
    (a - b).norm() <= SAME
}

/// Both there and alike, or both absent.
fn both<T>(a: Option<T>, b: Option<T>, alike: impl FnOnce(T, T) -> bool) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => alike(a, b),
        (None, None) => true,
        _ => false,
    }
}

fn axle(a: &Axle, b: &Axle) -> Option<&'static str> {
    let racks = |a: &Rack, b: &Rack| {
        same_place(a.axis, b.axis)
            && near(a.travel_per_turn, b.travel_per_turn)
            && near(a.stop_left, b.stop_left)
            && near(a.stop_right, b.stop_right)
    };
    if !both(a.steering.rack(), b.steering.rack(), racks) {
        return Some("steering");
    }
    (a.brakes != b.brakes || a.drive != b.drive).then_some("brakes or drive")
}

fn corner(a: &Corner, b: &Corner) -> Option<&'static str> {
    let point = |pickup: &Pickup| !both(a.pickups.get(*pickup), b.pickups.get(*pickup), same_place);
    if let Some(pickup) = Pickup::ALL.iter().copied().find(point) {
        return Some(pickup.label());
    }
    let length =
        |of: &Corner, link: Link| of.lengths.iter().find(|(l, _)| *l == link).map(|&(_, length)| length);
    if let Some(link) = Link::ALL.iter().copied().find(|&link| !both(length(a, link), length(b, link), near))
    {
        return Some(link.label());
    }
    let stops = |a: DamperStops, b: DamperStops| near(a.shortest, b.shortest) && near(a.longest, b.longest);
    let parts = [
        ("linkage", a.linkage == b.linkage),
        ("wheel", wheel(&a.wheel, &b.wheel)),
        ("springing", a.springing == b.springing),
        ("damper", both(a.damper, b.damper, stops)),
        ("drop link", a.drop_link_on == b.drop_link_on),
        ("alignment", alignment(&a.alignment, &b.alignment)),
    ];
    parts.into_iter().find(|(_, same)| !same).map(|(what, _)| what)
}

fn wheel(a: &Wheel, b: &Wheel) -> bool {
    same_place(a.centre, b.centre)
        && same_place(a.spin_axis, b.spin_axis)
        && near(a.tyre_radius, b.tyre_radius)
        && near(a.tyre_width, b.tyre_width)
        && near(a.rim_radius, b.rim_radius)
}

fn alignment(a: &Alignment, b: &Alignment) -> bool {
    let toe = |of: &Alignment| match of.toe {
        ToeBy::TieRodLength(toe) => Some(toe),
        ToeBy::Points => None,
    };
    let camber = |of: &Alignment| match of.camber {
        CamberBy::Adjuster(camber) => Some(camber),
        CamberBy::Points => None,
    };
    both(toe(a), toe(b), near) && both(camber(a), camber(b), near)
}
