//! Whether two cars are the same but for rounding.

use nalgebra::Vector3;
use wheelpath_geometry::{
    Alignment, AntiRollBar, Axle, CamberBy, Car, CardanJoint, Corner, DamperStops, End, Hardpoint,
    Hardpoints, Link, Part, Rack, Spring, StaticLoads, Steering, SteeringArm, SteeringBox, ThirdSpring,
    ToeBy, Wheel, WheelPosition,
};

/// Two lengths, angles or directions that differ by less are the same (metres, radians).
const SAME: f64 = 1e-12;

/// The first thing in which two cars differ by more than rounding, in words.
pub(crate) fn difference(a: &Car, b: &Car) -> Option<String> {
    let parts = [
        ("the name", a.name == b.name),
        ("the wheelbase", near(a.wheelbase, b.wheelbase)),
        (
            "the height of the centre of gravity",
            both(a.centre_of_gravity_height, b.centre_of_gravity_height, near),
        ),
        ("the front share of the braking", both(a.brake_share_front, b.brake_share_front, near)),
        ("the mass", both(a.mass, b.mass, near)),
        ("the front share of the weight", both(a.weight_share_front, b.weight_share_front, near)),
        ("the static loads", static_loads(a.static_loads, b.static_loads)),
    ];
    if let Some(what) = first(&parts) {
        return Some(what.into());
    }
    let in_axle = |end| Some(format!("the {end} axle's {}", axle(a.axle(end), b.axle(end))?));
    let in_corner = |at| Some(format!("the {at} {}", corner(a.corner(at), b.corner(at))?));
    let (mut ends, mut wheels) = (End::BOTH.into_iter(), WheelPosition::ALL.into_iter());
    ends.find_map(in_axle).or_else(|| wheels.find_map(in_corner))
}

/// The first that is not the same.
fn first(parts: &[(&'static str, bool)]) -> Option<&'static str> {
    parts.iter().find(|(_, same)| !same).map(|&(what, _)| what)
}

fn static_loads(a: StaticLoads, b: StaticLoads) -> bool {
    match (a, b) {
        (StaticLoads::Unknown, StaticLoads::Unknown) => true,
        (StaticLoads::Shares { left, cross }, StaticLoads::Shares { left: left_b, cross: cross_b }) => {
            both(left, left_b, near) && both(cross, cross_b, near)
        }
        (StaticLoads::Weighed(a), StaticLoads::Weighed(b)) => a.iter().zip(&b).all(|(a, b)| near(*a, *b)),
        _ => false,
    }
}

/// Alike to so many digits of what is greater than one, and to as many decimals of what is not.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * a.abs().max(1.0)
}

fn same_place(a: Vector3<f64>, b: Vector3<f64>) -> bool {
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
    let bars = |a: AntiRollBar, b: AntiRollBar| a.kind == b.kind && both(a.rate, b.rate, near);
    let thirds = |a: ThirdSpring, b: ThirdSpring| a.on == b.on && both(a.rate, b.rate, near);
    let joints = |a: CardanJoint, b: CardanJoint| near(a.bend, b.bend) && near(a.phase, b.phase);
    let [mut of_a, mut of_b] = [a, b].map(|axle| axle.column.joints.into_iter().flatten());
    let columns = [(); 2].iter().all(|()| both(of_a.next(), of_b.next(), joints));
    let parts = [
        ("steering", steering(&a.steering, &b.steering)),
        ("column", columns),
        ("brakes or drive", a.brakes == b.brakes && a.drive == b.drive),
        ("Watt lever", a.watt_lever_on == b.watt_lever_on),
        ("anti-roll bar", both(a.anti_roll_bar, b.anti_roll_bar, bars)),
        ("third spring", both(a.third_spring, b.third_spring, thirds)),
        ("radii", radii(&a.radii, &b.radii)),
    ];
    first(&parts).or_else(|| points(&a.hardpoints, &b.hardpoints)).or_else(|| lengths(&a.lengths, &b.lengths))
}

fn steering(a: &Steering, b: &Steering) -> bool {
    match (a, b) {
        (Steering::Fixed, Steering::Fixed) => true,
        (Steering::Rack(a), Steering::Rack(b)) => rack(a, b),
        (Steering::Box(a), Steering::Box(b)) => steering_box(a, b),
        _ => false,
    }
}

fn rack(a: &Rack, b: &Rack) -> bool {
    same_place(a.axis, b.axis)
        && near(a.travel_per_turn, b.travel_per_turn)
        && near(a.stop_left, b.stop_left)
        && near(a.stop_right, b.stop_right)
}

fn steering_box(a: &SteeringBox, b: &SteeringBox) -> bool {
    let arms = |a: &SteeringArm, b: &SteeringArm| {
        same_place(a.pivot, b.pivot) && same_place(a.axis, b.axis) && same_place(a.ball, b.ball)
    };
    arms(&a.pitman, &b.pitman)
        && arms(&a.idler, &b.idler)
        && near(a.ratio, b.ratio)
        && near(a.stop_left, b.stop_left)
        && near(a.stop_right, b.stop_right)
}

fn points(a: &Hardpoints, b: &Hardpoints) -> Option<&'static str> {
    let differs = |hardpoint: &Hardpoint| !both(a.get(*hardpoint), b.get(*hardpoint), same_place);
    Hardpoint::ALL.iter().copied().find(differs).map(Hardpoint::label)
}

fn lengths(a: &[(Link, f64)], b: &[(Link, f64)]) -> Option<&'static str> {
    let length =
        |of: &[(Link, f64)], link: Link| of.iter().find(|(l, _)| *l == link).map(|&(_, length)| length);
    let differs = |link: &Link| !both(length(a, *link), length(b, *link), near);
    Link::ALL.iter().copied().find(differs).map(Link::label)
}

fn corner(a: &Corner, b: &Corner) -> Option<&'static str> {
    if let Some(what) = points(&a.hardpoints, &b.hardpoints).or_else(|| lengths(&a.lengths, &b.lengths)) {
        return Some(what);
    }
    let stops = |a: DamperStops, b: DamperStops| near(a.shortest, b.shortest) && near(a.longest, b.longest);
    let parts = [
        ("linkage", a.linkage == b.linkage),
        ("joint limits", joint_limits(&a.joint_limits, &b.joint_limits)),
        ("joint axes", joint_axes(&a.joint_axes, &b.joint_axes)),
        ("radii", radii(&a.radii, &b.radii)),
        ("wheel", wheel(&a.wheel, &b.wheel)),
        ("springing", a.springing == b.springing),
        ("damper", both(a.damper, b.damper, stops)),
        ("spring", both(a.spring, b.spring, spring)),
        ("drop link", a.drop_link_on == b.drop_link_on),
        ("alignment", alignment(&a.alignment, &b.alignment)),
    ];
    first(&parts)
}

fn radii(a: &[(Part, f64)], b: &[(Part, f64)]) -> bool {
    let radius = |of: &[(Part, f64)], part: Part| of.iter().find(|(p, _)| *p == part).map(|&(_, r)| r);
    a.len() == b.len() && Part::ALL.iter().all(|&part| both(radius(a, part), radius(b, part), near))
}

fn joint_axes(a: &[(Hardpoint, Vector3<f64>)], b: &[(Hardpoint, Vector3<f64>)]) -> bool {
    let axis = |of: &[(Hardpoint, Vector3<f64>)], joint: Hardpoint| {
        of.iter().find(|(p, _)| *p == joint).map(|&(_, axis)| axis)
    };
    a.len() == b.len() && Hardpoint::ALL.iter().all(|&joint| both(axis(a, joint), axis(b, joint), same_place))
}

fn joint_limits(a: &[(Hardpoint, f64)], b: &[(Hardpoint, f64)]) -> bool {
    let limit = |of: &[(Hardpoint, f64)], joint: Hardpoint| {
        of.iter().find(|(p, _)| *p == joint).map(|&(_, limit)| limit)
    };
    a.len() == b.len() && Hardpoint::ALL.iter().all(|&joint| both(limit(a, joint), limit(b, joint), near))
}

fn spring(a: Spring, b: Spring) -> bool {
    match (a, b) {
        (Spring::OnDamper { rate: a }, Spring::OnDamper { rate: b })
        | (Spring::TorsionBar { rate: a }, Spring::TorsionBar { rate: b }) => near(a, b),
        (Spring::Separate { on: of_a, rate: a }, Spring::Separate { on: of_b, rate: b }) => {
            of_a == of_b && near(a, b)
        }
        _ => false,
    }
}

fn wheel(a: &Wheel, b: &Wheel) -> bool {
    same_place(a.centre, b.centre)
        && same_place(a.spin_axis, b.spin_axis)
        && near(a.tyre_radius, b.tyre_radius)
        && near(a.tyre_width, b.tyre_width)
        && near(a.tyre_shoulder_radius, b.tyre_shoulder_radius)
        && near(a.rim_radius, b.rim_radius)
        && both(a.rim_width, b.rim_width, near)
        && both(a.rim_inner_radius, b.rim_inner_radius, near)
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

#[cfg(test)]
mod tests {
    use super::*;
    use wheelpath_geometry::{BarKind, Column, Component, LinkageKind, Springing};

    /// A little more than rounding.
    const MORE: f64 = 1e-9;

    #[track_caller]
    fn check(text: &str, change: impl FnOnce(&mut Car), expected: &str) {
        let car = crate::parse(text, "car.ron").unwrap().car;
        let mut other = car.clone();
        assert_eq!(difference(&car, &other), None);
        change(&mut other);
        assert_eq!(difference(&car, &other).as_deref(), Some(expected));
        assert_eq!(difference(&other, &car).as_deref(), Some(expected));
    }

    fn boxed(car: &mut Car) -> &mut SteeringBox {
        match &mut car.front.steering {
            Steering::Box(own) => own,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn of_cars_and_axles() {
        let one = include_str!("../../tests/car_file/strut_and_axle.ron");
        let two = include_str!("../../tests/car_file/box_and_h_arm.ron");
        check(one, |car| car.name.push('s'), "the name");
        check(one, |car| car.wheelbase += MORE, "the wheelbase");
        check(one, |car| car.centre_of_gravity_height = Some(0.5), "the height of the centre of gravity");
        check(one, |car| car.brake_share_front = Some(0.5), "the front share of the braking");
        check(one, |car| car.mass = Some(1480.0 + 1e-6), "the mass");
        check(one, |car| car.weight_share_front = None, "the front share of the weight");
        check(one, |car| car.static_loads = StaticLoads::Weighed([1.0; 4]), "the static loads");
        check(
            one,
            |car| car.static_loads = StaticLoads::Shares { left: Some(0.5), cross: None },
            "the static loads",
        );
        check(one, |car| car.front.column = Column::default(), "the front axle's column");
        check(
            one,
            |car| car.front.column.joints[1].iter_mut().for_each(|joint| joint.phase += MORE),
            "the front axle's column",
        );
        check(one, |car| car.rear.drive = None, "the rear axle's brakes or drive");
        check(one, |car| car.rear.watt_lever_on = Some(Component::Body), "the rear axle's Watt lever");
        check(one, |car| car.front.anti_roll_bar = None, "the front axle's anti-roll bar");
        check(
            two,
            |car| car.front.anti_roll_bar = Some(AntiRollBar { kind: BarKind::U, rate: None }),
            "the front axle's anti-roll bar",
        );
        check(
            two,
            |car| car.front.third_spring = Some(ThirdSpring { on: Component::Rocker, rate: Some(60_000.1) }),
            "the front axle's third spring",
        );
        check(
            one,
            |car| car.rear.hardpoints.remove(Hardpoint::WattAxis),
            "the rear axle's Watt lever axis, second point",
        );
        check(one, |car| car.rear.lengths.clear(), "the rear axle's top link");
        check(one, |car| car.front.steering = Steering::Fixed, "the front axle's steering");
        let changes: [fn(&mut SteeringBox); 9] = [
            |own| own.pitman.pivot.x += MORE,
            |own| own.pitman.axis.x += MORE,
            |own| own.pitman.ball.x += MORE,
            |own| own.idler.pivot.x += MORE,
            |own| own.idler.axis.x += MORE,
            |own| own.idler.ball.x += MORE,
            |own| own.ratio += 1e-7,
            |own| own.stop_left += MORE,
            |own| own.stop_right += MORE,
        ];
        for change in changes {
            check(two, |car| change(boxed(car)), "the front axle's steering");
        }
    }

    #[test]
    fn of_corners() {
        let one = include_str!("../../tests/car_file/strut_and_axle.ron");
        let two = include_str!("../../tests/car_file/box_and_h_arm.ron");
        check(one, |car| car.rear.right.linkage = LinkageKind::HArm, "the rear right linkage");
        check(one, |car| car.front.right.wheel.tyre_shoulder_radius += MORE, "the front right wheel");
        check(one, |car| car.front.left.wheel.rim_radius += MORE, "the front left wheel");
        check(one, |car| car.front.left.springing = None::<Springing>, "the front left springing");
        check(one, |car| car.front.left.damper = None, "the front left damper");
        check(one, |car| car.front.left.spring = None, "the front left spring");
        check(one, |car| car.front.left.drop_link_on = None, "the front left drop link");
        check(one, |car| car.front.left.alignment.camber = CamberBy::Points, "the front left alignment");
        check(one, |car| car.front.left.lengths.push((Link::TieRod, 0.4)), "the front left tie rod");
        check(two, |car| car.rear.left.joint_limits.clear(), "the rear left joint limits");
        check(two, |car| car.rear.left.joint_axes[0].1 = Vector3::y(), "the rear left joint axes");
        check(two, |car| car.rear.left.radii[1].1 += MORE, "the rear left radii");
        check(two, |car| car.front.radii.clear(), "the front axle's radii");
        check(two, |car| car.rear.left.wheel.rim_width = None, "the rear left wheel");
        check(two, |car| car.rear.right.wheel.rim_inner_radius = Some(0.18), "the rear right wheel");
        check(
            two,
            |car| car.rear.left.spring = Some(Spring::Separate { on: Component::Upright, rate: 42_000.0 }),
            "the rear left spring",
        );
        check(
            two,
            |car| car.front.left.spring = Some(Spring::TorsionBar { rate: 1.0 }),
            "the front left spring",
        );
    }
}
