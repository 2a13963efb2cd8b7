//! What a car is: its points, wheels, links and adjusters in the design pose, in metres and radians,
//! vehicle axes (X forward, Y left, Z up).

use crate::part::Part;
use crate::pickup::{Link, Pickup};
use crate::side::{End, Side, WheelAt};
use crate::springing::{AntiRollBar, DamperStops, Spring, Springing, ThirdSpring};
use crate::static_loads::StaticLoads;
use crate::steering::{Column, Steering};
use crate::wheel::Wheel;
use nalgebra::Vector3;

/// The named points of one corner; absent ones are `None`.
#[derive(Clone, Debug, PartialEq)]
pub struct Pickups([Option<Vector3<f64>>; Pickup::COUNT]);

impl Default for Pickups {
    fn default() -> Self {
        Pickups([None; Pickup::COUNT])
    }
}

impl FromIterator<(Pickup, Vector3<f64>)> for Pickups {
    fn from_iter<I: IntoIterator<Item = (Pickup, Vector3<f64>)>>(points: I) -> Self {
        let mut pickups = Pickups::default();
        points.into_iter().for_each(|(pickup, at)| pickups.set(pickup, at));
        pickups
    }
}

impl Pickups {
    /// The point, metres, if the corner has it.
    #[must_use]
    pub fn get(&self, pickup: Pickup) -> Option<Vector3<f64>> {
        self.0[pickup.index()]
    }

    /// Puts the point there.
    pub fn set(&mut self, pickup: Pickup, at: Vector3<f64>) {
        self.0[pickup.index()] = Some(at);
    }

    /// Takes the point away.
    pub fn remove(&mut self, pickup: Pickup) {
        self.0[pickup.index()] = None;
    }

    /// The points the corner has, in the order of [`Pickup::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (Pickup, Vector3<f64>)> + '_ {
        Pickup::ALL.iter().filter_map(|&pickup| Some((pickup, self.get(pickup)?)))
    }
}

/// Which linkage carries the wheel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkageKind {
    /// Two wishbones, and a tie rod (steered) or toe link.
    DoubleWishbone,
    /// A strut fixed to the upright that slides through its top mount, a lower wishbone, and a tie
    /// rod or toe link.
    Strut,
    /// Five rods, each on its own: four links and a tie rod or toe link.
    FiveLink,
    /// An arm hinged to the body that carries the wheel itself: trailing or semi-trailing.
    TrailingArm,
    /// A lower arm hinged both to the body and to the upright, and an upper link.
    HArm,
    /// An axle that carries both wheels.
    BeamAxle,
}

impl LinkageKind {
    /// All of them.
    pub const ALL: [LinkageKind; 6] = [
        LinkageKind::DoubleWishbone,
        LinkageKind::Strut,
        LinkageKind::FiveLink,
        LinkageKind::TrailingArm,
        LinkageKind::HArm,
        LinkageKind::BeamAxle,
    ];

    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            LinkageKind::DoubleWishbone => "double wishbone",
            LinkageKind::Strut => "strut",
            LinkageKind::FiveLink => "five links",
            LinkageKind::TrailingArm => "trailing arm",
            LinkageKind::HArm => "H-arm and upper link",
            LinkageKind::BeamAxle => "beam axle",
        }
    }

    /// Whether a tie rod or toe link holds the wheel's toe.
    #[must_use]
    pub fn has_toe_link(self) -> bool {
        matches!(self, LinkageKind::DoubleWishbone | LinkageKind::Strut | LinkageKind::FiveLink)
    }

    /// What adjusts static camber, in words; `None` where nothing does.
    #[must_use]
    pub fn camber_adjuster(self) -> Option<&'static str> {
        match self {
            LinkageKind::DoubleWishbone => Some("upper ball joint shim"),
            LinkageKind::Strut => Some("strut top mount"),
            LinkageKind::FiveLink => Some("upper front link length"),
            LinkageKind::HArm => Some("upper link length"),
            LinkageKind::TrailingArm | LinkageKind::BeamAxle => None,
        }
    }
}

/// The part of a corner that carries a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Carrier {
    /// The body.
    Body,
    /// The rack, or the centre link of a steering box.
    Steering,
    /// The upper wishbone.
    UpperWishbone,
    /// The lower wishbone.
    LowerWishbone,
    /// The H-arm.
    HArm,
    /// The upright; a trailing arm or a beam axle, where that carries the wheel.
    Upright,
    /// The rocker.
    Rocker,
    /// The arm of the anti-roll bar.
    BarArm,
    /// The lever of a Watt's linkage.
    WattLever,
}

impl Carrier {
    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Carrier::UpperWishbone => "upper wishbone",
            Carrier::LowerWishbone => "lower wishbone",
            Carrier::Upright => "upright",
            Carrier::Rocker => "rocker",
            Carrier::Body => "body",
            Carrier::Steering => "rack or centre link",
            Carrier::HArm => "H-arm",
            Carrier::BarArm => "anti-roll bar arm",
            Carrier::WattLever => "Watt lever",
        }
    }
}

/// What sets the static toe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ToeBy {
    /// The points as they stand.
    Points,
    /// The length of the tie rod (toe link) is adjusted until toe is this (radians, + = in).
    TieRodLength(f64),
}

/// What sets the static camber.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CamberBy {
    /// The points as they stand.
    Points,
    /// The linkage's camber adjuster is moved until camber to the body is this (radians, + = top
    /// outboard): shims between upright and upper ball joint along the wheel's spin axis, the strut's
    /// top mount across the car, or the length of an upper link. See
    /// [`LinkageKind::camber_adjuster`].
    Adjuster(f64),
}

/// How toe and camber at zero travel and straight ahead come about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alignment {
    /// Toe.
    pub toe: ToeBy,
    /// Camber.
    pub camber: CamberBy,
}

impl Alignment {
    /// Both follow from the points.
    pub const FROM_POINTS: Alignment = Alignment { toe: ToeBy::Points, camber: CamberBy::Points };
}

/// One corner in the design pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Corner {
    /// The linkage.
    pub linkage: LinkageKind,
    /// The wheel.
    pub wheel: Wheel,
    /// The points.
    pub pickups: Pickups,
    /// Lengths of links that do not follow from the points, metres.
    pub lengths: Vec<(Link, f64)>,
    /// Places that points had in the design pose when the parts were made that are to have them, where the
    /// points stand elsewhere now and the parts were kept: a strut's line in the upright runs through those of
    /// its lower point and its top mount. No car file says it; [`Owner::move_point`](crate::Owner::move_point)
    /// keeps it.
    pub made_at: Vec<(Pickup, Vector3<f64>)>,
    /// How the damper is worked, if there is one.
    pub springing: Option<Springing>,
    /// Stops of the damper.
    pub damper: Option<DamperStops>,
    /// The part that carries the drop link's outer end, if there is an anti-roll bar.
    pub drop_link_on: Option<Carrier>,
    /// Joints that can go only so far, radians: see
    /// [`AxleSolver::joint_angle`](crate::AxleSolver::joint_angle).
    pub joint_limits: Vec<(Pickup, f64)>,
    /// Unit direction of the bolt or stud that a joint sits on, in the design pose, fixed to the part that
    /// holds the joint.
    pub joint_axes: Vec<(Pickup, Vector3<f64>)>,
    /// Radii of its parts, metres; where none is given, [`Part::usual_radius`] stands.
    pub radii: Vec<(Part, f64)>,
    /// What springs it, if that is known.
    pub spring: Option<Spring>,
    /// How static toe and camber come about.
    pub alignment: Alignment,
}

impl Corner {
    /// A corner with nothing but what holds its wheel.
    #[must_use]
    pub fn new(linkage: LinkageKind, wheel: Wheel, pickups: Pickups) -> Corner {
        Corner {
            linkage,
            wheel,
            pickups,
            lengths: Vec::new(),
            made_at: Vec::new(),
            springing: None,
            damper: None,
            drop_link_on: None,
            joint_limits: Vec::new(),
            joint_axes: Vec::new(),
            radii: Vec::new(),
            spring: None,
            alignment: Alignment::FROM_POINTS,
        }
    }

    /// The corner as it stands on the other side.
    #[must_use]
    pub fn mirrored(&self) -> Corner {
        let mirror = |v: Vector3<f64>| Vector3::new(v.x, -v.y, v.z);
        let mut other = self.clone();
        other.wheel.centre = mirror(self.wheel.centre);
        other.wheel.spin_axis = mirror(self.wheel.spin_axis);
        for (pickup, at) in self.pickups.iter() {
            other.pickups.set(pickup, mirror(at));
        }
        for (_, vector) in other.joint_axes.iter_mut().chain(&mut other.made_at) {
            *vector = mirror(*vector);
        }
        other
    }
}

/// Where a torque is reacted: decides the line for anti-dive, anti-lift and anti-squat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reacted {
    /// By the upright (outboard brakes).
    Upright,
    /// By the body (inboard brakes, sprung final drive).
    Body,
}

/// One axle.
#[derive(Clone, Debug, PartialEq)]
pub struct Axle {
    /// How it is steered.
    pub steering: Steering,
    /// Where the brakes are.
    pub brakes: Reacted,
    /// Where the drive torque is reacted; `None` for an undriven axle.
    pub drive: Option<Reacted>,
    /// The left corner.
    pub left: Corner,
    /// The right corner.
    pub right: Corner,
    /// Points of the axle as a whole: those for which [`Pickup::is_of_axle`].
    pub pickups: Pickups,
    /// Lengths of the axle's own links that do not follow from the points, metres.
    pub lengths: Vec<(Link, f64)>,
    /// Radii of the axle's own parts, metres.
    pub radii: Vec<(Part, f64)>,
    /// The part that carries the lever of a Watt's linkage, if the axle has one: body or upright (the
    /// axle).
    pub watt_lever_on: Option<Carrier>,
    /// The anti-roll bar; an axle with drop links but without a word on it has a bar of the U kind.
    pub anti_roll_bar: Option<AntiRollBar>,
    /// A spring across the axle.
    pub third_spring: Option<ThirdSpring>,
    /// Cardan joints between steering wheel and rack or box.
    pub column: Column,
}

impl Axle {
    /// An axle of two corners with nothing between them but the steering.
    #[must_use]
    pub fn new(steering: Steering, left: Corner, right: Corner) -> Axle {
        Axle {
            steering,
            brakes: Reacted::Upright,
            drive: None,
            left,
            right,
            pickups: Pickups::default(),
            lengths: Vec::new(),
            radii: Vec::new(),
            watt_lever_on: None,
            anti_roll_bar: None,
            third_spring: None,
            column: Column::default(),
        }
    }

    /// Whether both wheels are on one axle.
    #[must_use]
    pub fn is_beam(&self) -> bool {
        self.left.linkage == LinkageKind::BeamAxle && self.right.linkage == LinkageKind::BeamAxle
    }

    /// The corner on that side.
    #[must_use]
    pub fn corner(&self, side: Side) -> &Corner {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }

    /// The corner on that side.
    pub fn corner_mut(&mut self, side: Side) -> &mut Corner {
        match side {
            Side::Left => &mut self.left,
            Side::Right => &mut self.right,
        }
    }
}

/// A car in its design pose: zero wheel travel, rack centred.
#[derive(Clone, Debug, PartialEq)]
pub struct Car {
    /// Its name.
    pub name: String,
    /// Distance between the axles, metres.
    pub wheelbase: f64,
    /// Height of the centre of gravity over the ground, metres.
    pub centre_of_gravity_height: Option<f64>,
    /// Share of the braking force at the front, 0 to 1.
    pub brake_share_front: Option<f64>,
    /// Mass, kilograms.
    pub mass: Option<f64>,
    /// Share of the weight on the front wheels, 0 to 1.
    pub weight_share_front: Option<f64>,
    /// How the weight stands on the four tyres in the design pose.
    pub static_loads: StaticLoads,
    /// The front axle.
    pub front: Axle,
    /// The rear axle.
    pub rear: Axle,
}

impl Car {
    /// Diameter of the front left tyre, metres: over it toe is said as a length where nobody says another.
    #[must_use]
    pub fn tyre_diameter(&self) -> f64 {
        2.0 * self.front.left.wheel.tyre_radius
    }

    /// A car of two axles of which nothing else is known.
    #[must_use]
    pub fn new(name: &str, wheelbase: f64, front: Axle, rear: Axle) -> Car {
        Car {
            name: name.to_owned(),
            wheelbase,
            centre_of_gravity_height: None,
            brake_share_front: None,
            mass: None,
            weight_share_front: None,
            static_loads: StaticLoads::Unknown,
            front,
            rear,
        }
    }

    /// The axle at that end.
    #[must_use]
    pub fn axle(&self, end: End) -> &Axle {
        match end {
            End::Front => &self.front,
            End::Rear => &self.rear,
        }
    }

    /// The axle at that end.
    pub fn axle_mut(&mut self, end: End) -> &mut Axle {
        match end {
            End::Front => &mut self.front,
            End::Rear => &mut self.rear,
        }
    }

    /// That corner.
    #[must_use]
    pub fn corner(&self, at: WheelAt) -> &Corner {
        self.axle(at.end).corner(at.side)
    }

    /// That corner.
    pub fn corner_mut(&mut self, at: WheelAt) -> &mut Corner {
        self.axle_mut(at.end).corner_mut(at.side)
    }
}
