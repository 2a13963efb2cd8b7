//! Changes of an axle or of the whole car.

use super::{Number, axis, carrier, hundredths, link};
use arbitrary::Arbitrary;
use nalgebra::Vector3;
use wheelpath_geometry::{
    AntiRollBar, Axle, BarKind, Car, CardanJoint, Rack, Steering, SteeringBox, ThirdSpring, TorqueReaction,
};

#[derive(Arbitrary, Clone, Copy, Debug)]
pub(super) enum Edit {
    Wheelbase {
        to: Number,
    },
    Mass {
        height: Number,
        share: Number,
    },
    Weight {
        mass: Number,
        share: Number,
    },
    Reaction {
        rear: bool,
        brakes: bool,
        drive: u8,
    },
    Fixed {
        rear: bool,
    },
    Rack {
        rear: bool,
        axis: [i8; 3],
        turn: Number,
        stop: Number,
    },
    /// A box where there was none: its arms stand about the middle of the axle.
    Box {
        rear: bool,
        moved: [i16; 6],
        ratio: Number,
        stop: Number,
    },
    /// The box that is there.
    BoxMoved {
        rear: bool,
        which: u8,
        axis: u8,
        to: Number,
    },
    Column {
        rear: bool,
        bends: [i8; 2],
        phases: [i8; 2],
    },
    Watt {
        rear: bool,
        on: u8,
    },
    Bar {
        rear: bool,
        kind: u8,
        rate: Number,
    },
    Third {
        rear: bool,
        on: u8,
        rate: Number,
    },
    Length {
        rear: bool,
        link: u8,
        to: Number,
    },
    Mirror {
        rear: bool,
    },
    /// The axle of the other end, as it stands.
    OtherEnd {
        rear: bool,
    },
}

fn at(car: &mut Car, rear: bool) -> &mut Axle {
    if rear { &mut car.rear } else { &mut car.front }
}

fn place(car: &Car, rear: bool, moved: [i16; 3], y: f64) -> Vector3<f64> {
    let middle = if rear { car.rear.left.wheel.centre } else { car.front.left.wheel.centre };
    Vector3::new(middle.x, y, middle.z) + Vector3::from(moved.map(hundredths))
}

fn direction(axis: [i8; 3]) -> Vector3<f64> {
    let along = Vector3::from(axis.map(f64::from));
    along.try_normalize(1e-3).unwrap_or(along)
}

impl Edit {
    pub(super) fn apply(self, car: &mut Car) {
        match self {
            Edit::Wheelbase { to } => car.wheelbase = to.value(),
            Edit::Mass { height, share } => {
                car.centre_of_gravity_height = Some(height.value());
                car.brake_share_front = Some(share.value());
            }
            Edit::Weight { mass, share } => {
                car.mass = Some(1e4 * mass.value());
                car.weight_share_front = Some(share.value());
            }
            Edit::Reaction { rear, brakes, drive } => {
                let axle = at(car, rear);
                axle.brakes = if brakes { TorqueReaction::Upright } else { TorqueReaction::Body };
                axle.drive = [None, Some(TorqueReaction::Upright), Some(TorqueReaction::Body)][axis(drive)];
            }
            Edit::Fixed { rear } => at(car, rear).steering = Steering::Fixed,
            Edit::Rack { rear, axis, turn, stop } => {
                at(car, rear).steering = Steering::Rack(Rack {
                    axis: direction(axis),
                    travel_per_turn: turn.value(),
                    stop_left: stop.value(),
                    stop_right: stop.value(),
                });
            }
            Edit::Box { rear, moved: [a, b, c, d, e, f], ratio, stop } => {
                let arm = |y: f64| wheelpath_geometry::SteeringArm {
                    pivot: place(car, rear, [a, b, c], y),
                    axis: Vector3::z(),
                    ball: place(car, rear, [d, e, f], y) - Vector3::x() * 0.15,
                };
                let (pitman, idler) = (arm(0.35), arm(-0.35));
                let (ratio, stop) = (100.0 * ratio.value(), stop.value());
                at(car, rear).steering =
                    Steering::Box(SteeringBox { pitman, idler, ratio, stop_left: stop, stop_right: stop });
            }
            Edit::BoxMoved { rear, which, axis: a, to } => {
                if let Steering::Box(own) = &mut at(car, rear).steering {
                    let arm = if which % 2 == 0 { &mut own.pitman } else { &mut own.idler };
                    match which / 2 % 4 {
                        0 => arm.pivot[axis(a)] = to.value(),
                        1 => arm.ball[axis(a)] = to.value(),
                        2 => {
                            arm.axis[axis(a)] = to.value();
                            arm.axis = arm.axis.try_normalize(1e-3).unwrap_or(arm.axis);
                        }
                        _ => own.ratio = 100.0 * to.value(),
                    }
                }
            }
            Edit::Column { rear, bends, phases } => {
                for (i, joint) in at(car, rear).column.joints.iter_mut().enumerate() {
                    let angle = |hundredths: i8| f64::from(hundredths) * 0.0125;
                    *joint = (bends[i] > -64)
                        .then(|| CardanJoint { bend: angle(bends[i]), phase: 2.0 * angle(phases[i]) });
                }
            }
            Edit::Watt { rear, on } => at(car, rear).watt_lever_on = (on >= 32).then(|| carrier(on)),
            Edit::Bar { rear, kind, rate } => {
                let rate = (kind >= 64).then(|| 1e5 * rate.value());
                let kind = [None, Some(BarKind::U), Some(BarKind::T)][axis(kind)];
                at(car, rear).anti_roll_bar = kind.map(|kind| AntiRollBar { kind, rate });
            }
            Edit::Third { rear, on, rate } => {
                let rate = (on >= 128).then(|| 1e6 * rate.value());
                at(car, rear).third_spring = (on >= 32).then(|| ThirdSpring { on: carrier(on), rate });
            }
            Edit::Length { rear, link: l, to } => at(car, rear).lengths.push((link(l), to.value())),
            Edit::Mirror { rear } => {
                let axle = at(car, rear);
                axle.right = axle.left.mirrored();
            }
            Edit::OtherEnd { rear } => {
                let axle = at(car, !rear).clone();
                *at(car, rear) = axle;
            }
        }
    }
}
