//! One car for every kind of fault that `check` knows: the demo car with one thing wrong.

use nalgebra::Vector3;
use wheelpath_geometry::{
    AntiRollBar, Axle, BarKind, CamberBy, Car, CarSolver, CardanJoint, Component, Corner, DamperStops, End,
    Finding, Hardpoint, Link, Rack, Severity, Side, Springing, Steering, Subject, ThirdSpring, ToeBy, check,
    spin_axis_from_angles,
};
use wheelpath_tests::demo::{self, alder};

use Hardpoint as P;
use Severity::{Fault, Warning};

/// A fault: what is done to the car, and what must be found.
struct Case {
    name: &'static str,
    spoil: Box<dyn Fn(&mut Car)>,
    severity: Severity,
    end: Option<End>,
    side: Option<Side>,
    subject: Subject,
    says: &'static str,
}

fn case(
    name: &'static str,
    severity: Severity,
    subject: Subject,
    says: &'static str,
    spoil: impl Fn(&mut Car) + 'static,
) -> Case {
    Case { name, spoil: Box::new(spoil), severity, end: None, side: None, subject, says }
}

/// Something wrong with the front left corner.
fn corner(
    name: &'static str,
    severity: Severity,
    subject: Subject,
    says: &'static str,
    spoil: impl Fn(&mut Corner) + 'static,
) -> Case {
    let case = case(name, severity, subject, says, move |car| spoil(&mut car.front.left));
    Case { end: Some(End::Front), side: Some(Side::Left), ..case }
}

/// Something wrong with the front rack.
fn rack(
    name: &'static str,
    severity: Severity,
    what: &'static str,
    says: &'static str,
    spoil: impl Fn(&mut Rack) + 'static,
) -> Case {
    let case = case(name, severity, Subject::Steering(what), says, move |car| {
        if let Steering::Rack(rack) = &mut car.front.steering {
            spoil(rack);
        }
    });
    Case { end: Some(End::Front), ..case }
}

fn put(hardpoint: Hardpoint, x: f64, y: f64, z: f64) -> impl Fn(&mut Corner) {
    move |corner| corner.hardpoints.set(hardpoint, Vector3::new(x, y, z))
}

/// Puts one point on another.
fn onto(hardpoint: Hardpoint, other: Hardpoint) -> impl Fn(&mut Corner) {
    move |corner| {
        let at = corner.hardpoints.get(other).unwrap();
        corner.hardpoints.set(hardpoint, at);
    }
}

/// Puts a point half-way between two others.
fn between(hardpoint: Hardpoint, a: Hardpoint, b: Hardpoint) -> impl Fn(&mut Corner) {
    move |corner| {
        let (a, b) = (corner.hardpoints.get(a).unwrap(), corner.hardpoints.get(b).unwrap());
        corner.hardpoints.set(hardpoint, (a + b) * 0.5);
    }
}

fn whole_car() -> Vec<Case> {
    let car = |what| Subject::Car(what);
    vec![
        case("no wheelbase", Fault, car("wheelbase"), "is no length", |c| c.wheelbase = 0.0),
        case("wheelbase not a number", Fault, car("wheelbase"), "is no length", |c| c.wheelbase = f64::NAN),
        case("wheelbase in millimetres", Fault, car("wheelbase"), "2650000.0 mm", |c| c.wheelbase = 2650.0),
        case("wheelbase beside the wheels", Warning, car("wheelbase"), "2650.0 mm apart", |c| {
            c.wheelbase = 2.5
        }),
        case("no height", Fault, car("centre_of_gravity_height"), "0.0 mm", |c| {
            c.centre_of_gravity_height = Some(0.0);
        }),
        case("height of nearly nothing", Fault, car("centre_of_gravity_height"), "0.0 mm", |c| {
            c.centre_of_gravity_height = Some(1e-20);
        }),
        case("height not a number", Fault, car("centre_of_gravity_height"), "height", |c| {
            c.centre_of_gravity_height = Some(f64::NAN);
        }),
        case("share in percent", Fault, car("brake_share_front"), "58", |c| c.brake_share_front = Some(58.0)),
        case("share not a number", Fault, car("brake_share_front"), "share", |c| {
            c.brake_share_front = Some(f64::NAN);
        }),
    ]
}

fn racks() -> Vec<Case> {
    let rear = case("a rear rack", Warning, Subject::Steering("axis"), "rear rack", |c| {
        c.rear.steering = c.front.steering;
        for side in Side::BOTH {
            let corner = c.rear.corner_mut(side);
            for (old, new) in [(P::ToeLinkInner, P::TieRodInner), (P::ToeLinkOuter, P::TieRodOuter)] {
                let at = corner.hardpoints.get(old).unwrap();
                corner.hardpoints.remove(old);
                corner.hardpoints.set(new, at);
            }
        }
    });
    vec![
        rack("axis without direction", Fault, "axis", "no direction", |r| r.axis = Vector3::zeros()),
        rack("axis not of length one", Fault, "axis", "direction", |r| r.axis = Vector3::y() * 2.0),
        rack("axis not a number", Fault, "axis", "direction", |r| r.axis.x = f64::NAN),
        rack("axis to the right", Warning, "axis", "does not point to the left", |r| r.axis = -Vector3::y()),
        rack("no travel", Fault, "travel_per_turn", "does not move", |r| r.travel_per_turn = 0.0),
        rack("travel infinite", Fault, "travel_per_turn", "does not move", |r| {
            r.travel_per_turn = f64::INFINITY;
        }),
        rack("travel of nearly nothing", Fault, "travel_per_turn", "does not move", |r| {
            r.travel_per_turn = -1e-20;
        }),
        rack("a stop a mile away", Fault, "stop_left", "stop left", |r| r.stop_left = 1.6e3),
        rack("left stop negative", Fault, "stop_left", "stop left", |r| r.stop_left = -0.04),
        rack("right stop not a number", Fault, "stop_right", "stop right", |r| r.stop_right = f64::NAN),
        Case { end: Some(End::Rear), ..rear },
    ]
}

fn numbers() -> Vec<Case> {
    let wheel = |what| Subject::Wheel(what);
    let point = Subject::Hardpoint;
    vec![
        corner(
            "a coordinate that is no number",
            Fault,
            point(P::LowerBallJoint),
            "not a finite number",
            put(P::LowerBallJoint, 0.0, f64::NAN, 0.1),
        ),
        corner(
            "a point in millimetres",
            Fault,
            point(P::UpperBallJoint),
            "656 m from the origin",
            put(P::UpperBallJoint, -15.0, 655.5, 385.0),
        ),
        // Nearly nothing: a save would make it nothing. And beyond any car.
        corner("a wheel far off", Fault, wheel("centre"), "1000 m from the origin", |c| {
            c.wheel.centre.z = 1e3;
        }),
        corner("a rim of a nanometre", Fault, wheel("rim_radius"), "must lie between 0 and 50 m", |c| {
            c.wheel.rim_radius = 1e-9;
        }),
        corner(
            "a tyre wider than a street",
            Fault,
            wheel("tyre_width"),
            "must lie between 0 and 50 m",
            |c| {
                c.wheel.tyre_width = 1e3;
            },
        ),
        corner(
            "a length of nearly nothing",
            Fault,
            Subject::Link(Link::Pushrod),
            "must lie between 0 and 50 m",
            |c| {
                c.lengths.push((Link::Pushrod, 1e-300));
            },
        ),
        corner("a damper of a mile", Fault, Subject::Damper, "stops", |c| {
            c.damper = Some(DamperStops { shortest: 0.195, longest: 1.6e3 });
        }),
        corner(
            "a ball joint on the centre plane but for rounding",
            Fault,
            point(P::LowerBallJoint),
            "other side of the car's centre plane",
            put(P::LowerBallJoint, 0.0, 1e-17, 0.15),
        ),
        corner("centre no number", Fault, wheel("centre"), "not a finite", |c| c.wheel.centre.z = f64::NAN),
        corner("spin axis no number", Fault, wheel("spin_axis"), "not a finite", |c| {
            c.wheel.spin_axis.x = f64::INFINITY;
        }),
        corner("no tyre", Fault, wheel("tyre_radius"), "is 0.0 mm and must lie between", |c| {
            c.wheel.tyre_radius = 0.0
        }),
        corner("no width", Fault, wheel("tyre_width"), "must lie between 0 and 50 m", |c| {
            c.wheel.tyre_width = -0.2
        }),
        corner("no rim", Fault, wheel("rim_radius"), "must lie between 0 and 50 m", |c| {
            c.wheel.rim_radius = f64::NAN
        }),
        corner("a tyre of 2.7 m", Fault, wheel("tyre_radius"), "2700.0 mm", |c| c.wheel.tyre_radius = 2.7),
        corner("no length", Fault, Subject::Link(Link::TieRod), "must lie between 0 and 50 m", |c| {
            c.lengths.push((Link::TieRod, 0.0));
        }),
        corner("length no number", Fault, Subject::Link(Link::Pushrod), "must lie between 0 and 50 m", |c| {
            c.lengths.push((Link::Pushrod, f64::NAN));
        }),
        corner("wheel across the car", Fault, wheel("centre"), "713.0 mm on the other side", |c| {
            c.wheel.centre.y = -c.wheel.centre.y;
        }),
        corner("spin axis inboard", Fault, wheel("spin_axis"), "does not point outboard", |c| {
            c.wheel.spin_axis = -c.wheel.spin_axis;
        }),
        corner("spin axis of length two", Fault, wheel("spin_axis"), "does not point outboard", |c| {
            c.wheel.spin_axis *= 2.0;
        }),
        corner("much camber", Warning, wheel("spin_axis"), "the static camber is −12.0", |c| {
            c.wheel.spin_axis = spin_axis_from_angles(Side::Left, -12_f64.to_radians(), 0.0);
        }),
        corner("damper stops the wrong way round", Fault, Subject::Damper, "265.0 and 195.0 mm", |c| {
            c.damper = Some(DamperStops { shortest: 0.265, longest: 0.195 });
        }),
        corner("damper stop no number", Fault, Subject::Damper, "stops", |c| {
            c.damper = Some(DamperStops { shortest: 0.195, longest: f64::NAN });
        }),
        corner("damper outside its stops", Warning, Subject::Damper, "230.0 mm long", |c| {
            c.damper = Some(DamperStops { shortest: 0.100, longest: 0.200 });
        }),
    ]
}

fn parts() -> Vec<Case> {
    let point = Subject::Hardpoint;
    let mut cases: Vec<Case> = [
        (P::UpperWishboneFront, "double wishbone"),
        (P::UpperWishboneRear, "double wishbone"),
        (P::UpperBallJoint, "double wishbone"),
        (P::LowerWishboneFront, "double wishbone"),
        (P::LowerWishboneRear, "double wishbone"),
        (P::LowerBallJoint, "double wishbone"),
        (P::TieRodInner, "double wishbone"),
        (P::TieRodOuter, "double wishbone"),
        (P::DamperRocker, "damper"),
        (P::DamperBody, "damper"),
        (P::PushrodOuter, "rocker"),
        (P::PushrodInner, "rocker"),
        (P::RockerPivot, "rocker"),
        (P::RockerAxis, "rocker"),
        (P::DropLinkOuter, "anti-roll bar"),
        (P::DropLinkBar, "anti-roll bar"),
        (P::BarPivot, "anti-roll bar"),
        (P::BarAxis, "anti-roll bar"),
    ]
    .into_iter()
    .map(|(hardpoint, part)| {
        corner("a missing point", Fault, point(hardpoint), part, move |c| c.hardpoints.remove(hardpoint))
    })
    .collect();
    cases.extend([
        corner(
            "a point too many",
            Warning,
            point(P::ToeLinkInner),
            "nothing uses it",
            put(P::ToeLinkInner, 0.0, 0.3, 0.2),
        ),
        corner("a length too many", Fault, Subject::Link(Link::ToeLink), "no such link", |c| {
            c.lengths.push((Link::ToeLink, 0.4));
        }),
        corner(
            "a drop link on no rocker",
            Fault,
            point(P::DropLinkOuter),
            "a rocker that this corner has not",
            |c| {
                c.springing = Some(Springing::Direct { on: Component::LowerWishbone });
            },
        ),
        corner("a pushrod on its rocker", Fault, point(P::DamperRocker), "on the rocker it works", |c| {
            c.springing = Some(Springing::Rocker { pushrod_on: Component::Rocker });
        }),
        corner(
            "a damper on a rocker that is not",
            Fault,
            point(P::DamperRocker),
            "on the rocker it works",
            |c| {
                c.springing = Some(Springing::Direct { on: Component::Rocker });
            },
        ),
    ]);
    cases
}

fn together() -> Vec<Case> {
    let (point, link) = (Subject::Hardpoint, Subject::Link);
    let mut cases: Vec<Case> = [
        Link::UpperFrontLeg,
        Link::UpperRearLeg,
        Link::LowerFrontLeg,
        Link::LowerRearLeg,
        Link::TieRod,
        Link::Pushrod,
        Link::DropLink,
    ]
    .into_iter()
    .map(|one| {
        let (inner, outer) = one.ends();
        corner("a link without length", Fault, link(one), "0.000 mm apart", onto(inner, outer))
    })
    .collect();
    cases.extend(
        [
            (P::UpperWishboneFront, P::UpperWishboneRear, "upper wishbone's two inner points coincide"),
            (P::LowerWishboneFront, P::LowerWishboneRear, "lower wishbone's two inner points coincide"),
            (P::UpperBallJoint, P::LowerBallJoint, "no steering axis"),
            (P::RockerPivot, P::RockerAxis, "rocker's two axis points"),
            (P::BarPivot, P::BarAxis, "bar's two axis points"),
            (P::DamperRocker, P::DamperBody, "damper's two eyes"),
        ]
        .map(|(a, b, says)| corner("two points in one place", Fault, point(a), says, onto(a, b))),
    );
    cases.extend(
        [
            (P::UpperBallJoint, P::UpperWishboneFront, P::UpperWishboneRear, "own hinge line"),
            (P::LowerBallJoint, P::LowerWishboneFront, P::LowerWishboneRear, "own hinge line"),
            (P::TieRodOuter, P::LowerBallJoint, P::UpperBallJoint, "the steering arm has no length"),
            (P::PushrodInner, P::RockerPivot, P::RockerAxis, "rocker's own axis"),
            (P::DamperRocker, P::RockerPivot, P::RockerAxis, "the rocker cannot move it"),
            (P::DropLinkBar, P::BarPivot, P::BarAxis, "bar's own axis"),
        ]
        .map(|(p, a, b, says)| corner("a lever without length", Fault, point(p), says, between(p, a, b))),
    );
    let toe_link = case(
        "a toe link that holds no toe",
        Fault,
        point(P::ToeLinkOuter),
        "cannot hold the wheel's toe",
        |c| between(P::ToeLinkOuter, P::LowerBallJoint, P::UpperBallJoint)(&mut c.rear.left),
    );
    cases.push(Case { end: Some(End::Rear), side: Some(Side::Left), ..toe_link });
    for (hardpoint, at) in [
        (P::UpperBallJoint, [-0.015, -0.6555, 0.385]),
        (P::LowerBallJoint, [0.0075, -0.6845, 0.150]),
        (P::TieRodOuter, [0.098, -0.692, 0.195]),
        (P::PushrodOuter, [0.002, -0.645, 0.166]),
    ] {
        let says = "on the other side of the car's centre plane";
        cases.push(corner(
            "a wrong sign",
            Fault,
            point(hardpoint),
            says,
            put(hardpoint, at[0], at[1], at[2]),
        ));
    }
    cases.extend([
        corner(
            "an inner point across the car",
            Warning,
            point(P::DamperBody),
            "far across",
            put(P::DamperBody, -0.305, -0.5, 0.582),
        ),
        corner(
            "a rod inside out",
            Warning,
            link(Link::TieRod),
            "8.0 mm inboard",
            put(P::TieRodInner, 0.4, 0.700, 0.169),
        ),
        corner(
            "caster the wrong way",
            Warning,
            point(P::UpperBallJoint),
            "caster is −",
            put(P::UpperBallJoint, 0.035, 0.6555, 0.385),
        ),
    ]);
    cases
}

fn solving() -> Vec<Case> {
    vec![
        corner("a tie rod too short", Fault, Subject::Link(Link::TieRod), "is too short by", |c| {
            c.lengths.push((Link::TieRod, 0.20));
        }),
        corner("a pushrod too short", Fault, Subject::Link(Link::Pushrod), "pushrod", |c| {
            c.lengths.push((Link::Pushrod, 0.30));
        }),
        corner("toe out of reach", Fault, Subject::Alignment, "out of reach", |c| {
            c.alignment.toe = ToeBy::TieRodLength(3.0);
        }),
        corner("camber out of reach", Fault, Subject::Alignment, "out of reach", |c| {
            c.alignment.camber = CamberBy::Adjuster(1.4);
        }),
        // A rod that points at the steering axis holds no turn about it. All links that share the load
        // are named; the finding stands at the first.
        corner("a tie rod in line with its arm", Fault, Subject::Link(Link::LowerFrontLeg), "tie rod", |c| {
            let (lower, upper) =
                (c.hardpoints.get(P::LowerBallJoint).unwrap(), c.hardpoints.get(P::UpperBallJoint).unwrap());
            let outer = c.hardpoints.get(P::TieRodOuter).unwrap();
            let along = (upper - lower).normalize();
            let foot = lower + along * along.dot(&(outer - lower));
            c.hardpoints.set(P::TieRodInner, outer + (foot - outer) * 3.0);
        }),
        corner("a pushrod in line with its rocker", Fault, Subject::Link(Link::Pushrod), "dead point", |c| {
            let (tip, pivot) =
                (c.hardpoints.get(P::PushrodInner).unwrap(), c.hardpoints.get(P::PushrodOuter).unwrap());
            c.hardpoints.set(P::RockerPivot, tip + (tip - pivot) * 0.2);
            let normal = Vector3::new(1.0, 0.0, 0.0).cross(&(tip - pivot)).normalize();
            c.hardpoints.set(P::RockerAxis, tip + (tip - pivot) * 0.2 + normal * 0.1);
        }),
        corner("a drop link in line with its arm", Fault, Subject::Link(Link::DropLink), "dead point", |c| {
            c.hardpoints.set(P::DropLinkBar, Vector3::new(-0.0275, 0.1965, 0.504));
        }),
    ]
}

/// Something wrong with what reaches across the front axle of the car with a T-bar and a third spring.
fn across(
    name: &'static str,
    subject: Subject,
    says: &'static str,
    spoil: impl Fn(&mut Axle) + 'static,
) -> Case {
    let case = case(name, Fault, subject, says, move |car| {
        *car = demo::car_of("examples/linkages/pullrod_t_bar.ron");
        spoil(&mut car.front);
    });
    Case { end: Some(End::Front), ..case }
}

fn between_wheels() -> Vec<Case> {
    let (point, axle) = (Subject::Hardpoint, Subject::Axle);
    let own = |a: &Axle, hardpoint| a.hardpoints.get(hardpoint).unwrap();
    let mut cases: Vec<Case> = [P::TBarPivot, P::TBarAxis, P::TBarHead]
        .into_iter()
        .map(|hardpoint| {
            across("a missing point", point(hardpoint), "T-bar needs it", move |a| {
                a.hardpoints.remove(hardpoint)
            })
        })
        .collect();
    cases.extend([
        across(
            "a T that swings about its stem",
            point(P::TBarHead),
            "along the line it swings about",
            move |a| {
                a.hardpoints.set(P::TBarHead, own(a, P::TBarAxis) * 1.2 - own(a, P::TBarPivot) * 0.2);
            },
        ),
        across("a T without stem", point(P::TBarHead), "no length", move |a| {
            a.hardpoints.set(P::TBarHead, own(a, P::TBarPivot));
        }),
        across("a crossbar end on the stem", point(P::DropLinkBar), "on the stem's line", move |a| {
            let on = own(a, P::TBarHead) * 1.1 - own(a, P::TBarPivot) * 0.1;
            a.left.hardpoints.set(P::DropLinkBar, on);
        }),
        across("drop links along the stem", axle("anti_roll_bar"), "dead point", move |a| {
            for corner in [&mut a.left, &mut a.right] {
                let end = corner.hardpoints.get(P::DropLinkBar).unwrap();
                corner.hardpoints.set(P::DropLinkOuter, end + Vector3::new(0.1, 0.0, 0.0));
            }
            a.hardpoints.set(P::TBarPivot, own(a, P::TBarHead) - Vector3::new(0.2, 0.0, 0.0));
            a.hardpoints.set(P::TBarAxis, own(a, P::TBarHead) - Vector3::new(0.2, 0.1, 0.0));
        }),
        across("a drop link too long for its T", axle("anti_roll_bar"), "do not reach", |a| {
            a.left.lengths.push((Link::DropLink, 0.9));
        }),
        across("a T on one drop link", axle("anti_roll_bar"), "one alone does not hold it", |a| {
            a.left.drop_link_on = None;
        }),
        across("a bar of no rate", axle("anti_roll_bar"), "rate", |a| {
            a.anti_roll_bar = Some(AntiRollBar { kind: BarKind::T, rate: Some(-1.0) });
        }),
        across("a third spring of no rate", axle("third_spring"), "rate", |a| {
            a.third_spring = Some(ThirdSpring { on: Component::Rocker, rate: Some(f64::NAN) });
        }),
        across("a third spring without length", axle("third_spring"), "no length", |a| {
            let end = a.left.hardpoints.get(P::ThirdSpringEnd).unwrap();
            for corner in [&mut a.left, &mut a.right] {
                corner.hardpoints.set(P::ThirdSpringEnd, Vector3::new(end.x, 0.0, end.z));
            }
        }),
        across("a column bent too far", axle("column"), "bent by", |a| {
            a.column.joints[0] = Some(CardanJoint { bend: 1.5, phase: 0.0 });
        }),
    ]);
    cases
}

/// Without what is said of its joints: of a point that is gone that would be one more fault.
fn bare_alder() -> Car {
    let mut car = alder();
    for side in Side::BOTH {
        let corner = car.front.corner_mut(side);
        corner.joint_limits.clear();
        corner.joint_axes.clear();
    }
    car
}

/// Something wrong with the axle of the car with king pins.
fn knuckle(
    name: &'static str,
    subject: Subject,
    says: &'static str,
    spoil: impl Fn(&mut Axle) + 'static,
) -> Case {
    let case = case(name, Fault, subject, says, move |car| {
        *car = demo::car_of("examples/linkages/steered_beam_axle.ron");
        spoil(&mut car.front);
    });
    Case { end: Some(End::Front), ..case }
}

fn knuckles() -> Vec<Case> {
    let point = Subject::Hardpoint;
    let mut cases: Vec<Case> = [P::DragLinkInner, P::TrackRodLeft, P::TrackRodRight]
        .into_iter()
        .map(|hardpoint| {
            knuckle("a missing point", point(hardpoint), "steered beam axle needs it", move |a| {
                a.hardpoints.remove(hardpoint)
            })
        })
        .collect();
    cases.extend([
        knuckle("a king pin without a length", point(P::KingPinUpper), "coincide: it has no axis", |a| {
            let lower = a.left.hardpoints.get(P::KingPinLower).unwrap();
            a.left.hardpoints.set(P::KingPinUpper, lower);
        }),
        knuckle("a king pin upside down", point(P::KingPinUpper), "below its lower one", |a| {
            let own = |hardpoint| a.left.hardpoints.get(hardpoint).unwrap();
            let (upper, lower) = (own(P::KingPinUpper), own(P::KingPinLower));
            a.left.hardpoints.set(P::KingPinUpper, lower);
            a.left.hardpoints.set(P::KingPinLower, upper);
        }),
        knuckle("no drag link", point(P::DragLinkLeft), "nothing steers the knuckles", |a| {
            a.hardpoints.remove(P::DragLinkLeft)
        }),
        knuckle("two drag links", point(P::DragLinkRight), "on both knuckles", |a| {
            let left = a.hardpoints.get(P::DragLinkLeft).unwrap();
            a.hardpoints.set(P::DragLinkRight, Vector3::new(left.x, -left.y, left.z));
        }),
        knuckle("a track rod on one side", point(P::TrackRodRight), "other side of the car", |a| {
            let right = a.hardpoints.get(P::TrackRodRight).unwrap();
            a.hardpoints.set(P::TrackRodRight, Vector3::new(right.x, 0.1, right.z));
        }),
        knuckle(
            "a drag link that passes through the king pin",
            Subject::Link(Link::LowerLink),
            "drag link to the left knuckle",
            |a| {
                let own = |hardpoint| a.left.hardpoints.get(hardpoint).unwrap();
                let (upper, lower) = (own(P::KingPinUpper), own(P::KingPinLower));
                let [inner, outer] = [0.8, 0.3].map(|share| lower + (upper - lower) * share);
                a.hardpoints.set(P::DragLinkInner, inner - Vector3::new(0.2, 0.9, 0.0));
                a.hardpoints
                    .set(P::DragLinkLeft, outer + (inner - Vector3::new(0.2, 0.9, 0.0) - outer) * 0.15);
            },
        ),
        knuckle("a beam axle that is to steer", Subject::Steering(""), "without king pins", |a| {
            for side in Side::BOTH {
                a.corner_mut(side).linkage = wheelpath_geometry::LinkageKind::BeamAxle;
            }
        }),
        knuckle("two kinds of axle", Subject::Axle("linkage"), "the other a beam axle", |a| {
            a.right.linkage = wheelpath_geometry::LinkageKind::BeamAxle;
        }),
    ]);
    cases
}

fn cases() -> Vec<Case> {
    [whole_car(), racks(), numbers(), parts(), together(), solving(), between_wheels(), knuckles()]
        .into_iter()
        .flatten()
        .collect()
}

fn matches(case: &Case, finding: &Finding) -> bool {
    finding.severity == case.severity
        && finding.subject == case.subject
        && finding.end == case.end
        && finding.side == case.side
        && finding.message.contains(case.says)
}

#[test]
fn every_fault_is_found_where_it_is_and_in_words() {
    let mut missed = Vec::new();
    for case in cases() {
        let mut car = bare_alder();
        (case.spoil)(&mut car);
        let found = check(&car);
        if found.iter().filter(|finding| matches(&case, finding)).count() != 1 {
            missed.push(format!("{} ({:?}): {found:#?}", case.name, case.subject));
        }
        for finding in &found {
            assert!(!finding.hint.is_empty(), "{}: no hint", case.name);
            assert!(finding.message.len() > 15, "{}: {}", case.name, finding.message);
        }
        // The sound corners stay sound.
        let elsewhere = found.iter().filter(|f| f.severity == Fault && f.end.is_some() && f.end != case.end);
        assert_eq!(elsewhere.count(), 0, "{}: {found:?}", case.name);
    }
    assert!(missed.is_empty(), "{} missed: {}", missed.len(), missed.join("\n"));
}

/// Faults come first, warnings last.
#[test]
fn faults_stand_before_warnings() {
    let mut car = alder();
    car.wheelbase = 2.5;
    car.rear.left.wheel.tyre_radius = 0.0;
    let severities: Vec<Severity> = check(&car).iter().map(|finding| finding.severity).collect();
    assert_eq!(severities, [Fault, Warning]);
}

/// A car that `check` lets pass can be solved, warnings or not.
#[test]
fn what_passes_can_be_solved() {
    for case in cases().iter().filter(|case| case.severity == Warning) {
        let mut car = alder();
        (case.spoil)(&mut car);
        let faults = check(&car).into_iter().filter(|finding| finding.severity == Fault).count();
        assert_eq!(faults, 0, "{}", case.name);
        assert!(CarSolver::new(&car).is_ok(), "{}", case.name);
    }
}
