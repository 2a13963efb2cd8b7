//! A car and its poses as data that bytes can be read into: a sound car, strewn and edited.
//!
//! New linkages come in through the base cars; nothing here names one.

use crate::bases;
use arbitrary::Arbitrary;
use nalgebra::Vector3;
use wheelpath_geometry::{
    Alignment, CamberBy, Car, CarPose, Component, Corner, DamperStops, End, Hardpoint, Hardpoints, Link,
    LinkageKind, Side, Spring, Springing, ToeBy, WheelPosition, spin_axis_from_angles,
};

mod whole;

/// A car and what is asked of it.
#[derive(Arbitrary, Clone, Debug)]
pub struct Case {
    /// Which base car.
    base: u8,
    /// How far every coordinate is strewn: 0 is not at all, 255 is a fifth of a metre.
    strewn: u8,
    /// How it is strewn.
    seed: u32,
    /// Whether left and right are strewn alike.
    alike: bool,
    /// What is asked.
    pub poses: [Pose; 2],
    /// What is changed besides.
    edits: Vec<Edit>,
    /// What is changed of axles and of the car as a whole.
    whole: Vec<whole::Edit>,
}

/// A pose in steps of four thousandths of a millimetre.
#[derive(Arbitrary, Clone, Copy, Debug)]
pub struct Pose {
    travel: [i16; 4],
    steer: i16,
    /// Below 24: a wild number takes the place of one of the five.
    wild: u8,
}

/// A length or any other number.
#[derive(Arbitrary, Clone, Copy, Debug)]
enum Number {
    Hundredths(i16),
    Wild(u8),
    Bits(f64),
}

/// Corners that are edited together.
#[derive(Arbitrary, Clone, Copy, Debug)]
struct Which(u8);

#[derive(Arbitrary, Clone, Copy, Debug)]
enum Edit {
    Move {
        which: Which,
        hardpoint: u8,
        axis: u8,
        by: i16,
    },
    Put {
        which: Which,
        hardpoint: u8,
        axis: u8,
        at: Number,
    },
    /// Some coordinates of a point taken from another.
    Same {
        which: Which,
        hardpoint: u8,
        other: u8,
        axes: u8,
    },
    Remove {
        which: Which,
        hardpoint: u8,
    },
    Centre {
        which: Which,
        axis: u8,
        by: i16,
    },
    Angles {
        which: Which,
        camber: i16,
        toe: i16,
    },
    SpinAxis {
        which: Which,
        axis: u8,
        to: Number,
    },
    Tyre {
        which: Which,
        what: u8,
        to: Number,
    },
    Stretch {
        which: Which,
        link: u8,
        by: i16,
    },
    Length {
        which: Which,
        link: u8,
        to: Number,
    },
    Toe {
        which: Which,
        to: Number,
    },
    Camber {
        which: Which,
        to: Number,
    },
    Springing {
        which: Which,
        kind: u8,
        on: u8,
    },
    DropLink {
        which: Which,
        on: u8,
    },
    Stops {
        which: Which,
        shortest: Number,
        longest: Number,
    },
    Spring {
        which: Which,
        kind: u8,
        on: u8,
        rate: Number,
    },
    Joint {
        which: Which,
        hardpoint: u8,
        limit: Number,
    },
    Linkage {
        which: Which,
        kind: u8,
    },
    /// The corner of the other end of the car, as it stands.
    OtherEnd {
        which: Which,
    },
}

const WILD: [f64; 16] = [
    0.0,
    -0.0,
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    f64::MAX,
    -f64::MAX,
    f64::MIN_POSITIVE,
    1e-310,
    1e9,
    -40.0,
    9.99,
    1e-7,
    -1e-12,
    0.3,
    2e154,
];

fn wild(which: u8) -> f64 {
    WILD[usize::from(which) % WILD.len()]
}

/// Hundredths of a millimetre in metres.
fn hundredths(number: i16) -> f64 {
    f64::from(number) * 1e-5
}

impl Number {
    fn value(self) -> f64 {
        match self {
            Number::Hundredths(number) => hundredths(number),
            Number::Wild(which) => wild(which),
            Number::Bits(number) => number,
        }
    }
}

impl Pose {
    /// The pose, metres.
    #[must_use]
    pub fn asked(self) -> CarPose {
        let mut pose =
            CarPose { travel: self.travel.map(|t| 0.4 * hundredths(t)), steer: 0.3 * hundredths(self.steer) };
        match usize::from(self.wild) {
            at @ 0..4 => pose.travel[at] = wild(self.travel[at].to_le_bytes()[0]),
            4..8 => pose.steer = wild(self.steer.to_le_bytes()[0]),
            // All alike, or straight ahead: the poses people ask for most.
            8..16 => pose.travel = [pose.travel[0]; 4],
            16..24 => pose.steer = 0.0,
            _ => {}
        }
        pose
    }
}

/// A source of numbers from a seed, -1 to 1.
struct Strewing(u64);

impl Strewing {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(self.0 >> 33).unwrap_or_default()) / f64::from(1_u32 << 30) - 1.0
    }
}

impl Case {
    /// The car.
    #[must_use]
    pub fn car(&self) -> Car {
        let mut car = bases::car(self.base).clone();
        if self.strewn > 0 {
            let size = 1e-4 * (f64::from(self.strewn) / 23.2).exp2();
            let mut strewing = Strewing(u64::from(self.seed));
            for end in End::BOTH {
                strew_points(&mut car.axle_mut(end).hardpoints, size, &mut strewing);
            }
            for at in WheelPosition::ALL {
                if self.alike && at.side == Side::Right {
                    let axle = car.axle_mut(at.end);
                    axle.right = axle.left.mirrored();
                } else {
                    strew(car.corner_mut(at), size, &mut strewing);
                }
            }
        }
        for edit in self.edits.iter().take(12) {
            edit.apply(&mut car);
        }
        for edit in self.whole.iter().take(6) {
            edit.apply(&mut car);
        }
        car
    }
}

fn strew_points(hardpoints: &mut Hardpoints, size: f64, strewing: &mut Strewing) {
    for &hardpoint in Hardpoint::ALL {
        if let Some(at) = hardpoints.get(hardpoint) {
            hardpoints.set(hardpoint, at + Vector3::from_fn(|_, _| size * strewing.next()));
        }
    }
}

fn strew(corner: &mut Corner, size: f64, strewing: &mut Strewing) {
    strew_points(&mut corner.hardpoints, size, strewing);
    corner.wheel.centre += Vector3::from_fn(|_, _| size * strewing.next());
}

fn carrier(which: u8) -> Component {
    let all = [
        Component::UpperWishbone,
        Component::LowerWishbone,
        Component::Upright,
        Component::Rocker,
        Component::HArm,
        Component::Body,
        Component::Steering,
        Component::BarArm,
        Component::WattLever,
        Component::Axle,
    ];
    all[usize::from(which) % all.len()]
}

fn hardpoint(which: u8) -> Hardpoint {
    Hardpoint::ALL[usize::from(which) % Hardpoint::COUNT]
}

fn link(which: u8) -> Link {
    Link::ALL[usize::from(which) % Link::COUNT]
}

fn axis(which: u8) -> usize {
    usize::from(which % 3)
}

impl Which {
    /// Edits one corner, or a whole axle alike.
    fn edit(self, car: &mut Car, edit: impl Fn(&mut Corner)) {
        match usize::from(self.0) % 6 {
            one @ 0..4 => edit(car.corner_mut(WheelPosition::ALL[one])),
            axle => {
                let axle = if axle == 4 { &mut car.front } else { &mut car.rear };
                edit(&mut axle.left);
                let mut right = axle.right.mirrored();
                edit(&mut right);
                axle.right = right.mirrored();
            }
        }
    }

    /// Edits the points of one corner or of two, or, where the point is an axle's, those of the axle.
    fn edit_points(self, car: &mut Car, hardpoint: Hardpoint, edit: impl Fn(&mut Hardpoints)) {
        if hardpoint.is_of_axle() {
            edit(&mut car.axle_mut(if self.0 % 2 == 0 { End::Rear } else { End::Front }).hardpoints);
        } else {
            self.edit(car, |corner| edit(&mut corner.hardpoints));
        }
    }
}

impl Edit {
    fn apply(self, car: &mut Car) {
        match self {
            Edit::Move { which, hardpoint: p, axis: a, by } => {
                which.edit_points(car, hardpoint(p), |points| {
                    if let Some(mut at) = points.get(hardpoint(p)) {
                        at[axis(a)] += hundredths(by);
                        points.set(hardpoint(p), at);
                    }
                })
            }
            Edit::Put { which, hardpoint: p, axis: a, at: number } => {
                which.edit_points(car, hardpoint(p), |points| {
                    let mut at = points.get(hardpoint(p)).unwrap_or_else(Vector3::zeros);
                    at[axis(a)] = number.value();
                    points.set(hardpoint(p), at);
                });
            }
            Edit::Same { which, hardpoint: p, other, axes } => {
                which.edit_points(car, hardpoint(p), |points| {
                    if let (Some(mut at), Some(from)) =
                        (points.get(hardpoint(p)), points.get(hardpoint(other)))
                    {
                        (0..3).filter(|a| axes >> a & 1 == 1).for_each(|a| at[a] = from[a]);
                        points.set(hardpoint(p), at);
                    }
                })
            }
            Edit::Remove { which, hardpoint: p } => {
                which.edit_points(car, hardpoint(p), |points| points.remove(hardpoint(p)));
            }
            Edit::Centre { which, axis: a, by } => {
                which.edit(car, |corner| corner.wheel.centre[axis(a)] += hundredths(by));
            }
            Edit::Angles { which, camber, toe } => which.edit(car, |corner| {
                let side = if corner.wheel.centre.y < 0.0 { Side::Right } else { Side::Left };
                let (camber, toe) = (f64::from(camber) * 1e-4, f64::from(toe) * 1e-4);
                corner.wheel.spin_axis = spin_axis_from_angles(side, camber, toe);
            }),
            Edit::SpinAxis { which, axis: a, to } => {
                which.edit(car, |corner| corner.wheel.spin_axis[axis(a)] = to.value());
            }
            Edit::Tyre { which, what, to } => which.edit(car, |corner| match what % 4 {
                3 => corner.wheel.tyre_shoulder_radius = to.value(),
                0 => corner.wheel.tyre_radius = to.value(),
                1 => corner.wheel.tyre_width = to.value(),
                _ => corner.wheel.rim_radius = to.value(),
            }),
            Edit::Stretch { which, link: l, by } => which.edit(car, |corner| {
                let (inner, outer) = link(l).ends();
                if let (Some(a), Some(b)) = (corner.hardpoints.get(inner), corner.hardpoints.get(outer)) {
                    corner.lengths.push((link(l), (a - b).norm() + hundredths(by)));
                }
            }),
            Edit::Length { which, link: l, to } => {
                which.edit(car, |corner| corner.lengths.push((link(l), to.value())));
            }
            Edit::Toe { which, to } => which.edit(car, |corner| {
                corner.alignment = Alignment { toe: ToeBy::TieRodLength(to.value()), ..corner.alignment };
            }),
            Edit::Camber { which, to } => which.edit(car, |corner| {
                corner.alignment = Alignment { camber: CamberBy::Adjuster(to.value()), ..corner.alignment };
            }),
            Edit::Springing { which, kind, on } => which.edit(car, |corner| {
                corner.springing = match kind % 4 {
                    3 => Some(Springing::Strut),
                    0 => None,
                    1 => Some(Springing::Rocker { pushrod_on: carrier(on) }),
                    _ => Some(Springing::Direct { on: carrier(on) }),
                };
            }),
            Edit::DropLink { which, on } => {
                which.edit(car, |corner| corner.drop_link_on = (on >= 32).then(|| carrier(on)));
            }
            Edit::Stops { which, shortest, longest } => which.edit(car, |corner| {
                corner.damper = Some(DamperStops { shortest: shortest.value(), longest: longest.value() });
            }),
            Edit::Spring { which, kind, on, rate } => which.edit(car, |corner| {
                // Rates of springs are a million times hundredths of a millimetre, near enough.
                let rate = 1e6 * rate.value();
                corner.spring = match kind % 4 {
                    0 => None,
                    1 => Some(Spring::OnDamper { rate }),
                    2 => Some(Spring::Separate { on: carrier(on), rate }),
                    _ => Some(Spring::TorsionBar { rate }),
                };
            }),
            Edit::Joint { which, hardpoint: p, limit } => {
                which.edit(car, |corner| corner.joint_limits.push((hardpoint(p), limit.value())));
            }
            Edit::Linkage { which, kind } => which.edit(car, |corner| {
                corner.linkage = LinkageKind::ALL[usize::from(kind) % LinkageKind::ALL.len()];
            }),
            Edit::OtherEnd { which } => {
                let at = WheelPosition::ALL[usize::from(which.0) % 4];
                let other = WheelPosition::ALL[(usize::from(which.0) + 2) % 4];
                let corner = car.corner(other).clone();
                *car.corner_mut(at) = corner;
            }
        }
    }
}
