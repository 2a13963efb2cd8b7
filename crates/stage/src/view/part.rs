//! The solid parts of a car, by the points they join.

use nalgebra::{Point3, Vector3};

/// How a part or point stands out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Emphasis {
    /// As drawn.
    #[default]
    Plain,
    /// Differs from the car it was made from: the accent colour.
    Changed,
    /// Selected, in a list or by a click.
    Selected,
    /// Cannot close, or reaches a stop: the warning colour.
    Fault,
}

/// A solid part.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// What it is and where.
    pub kind: PartKind,
    /// Which grey.
    pub tone: Tone,
    /// How it stands out.
    pub emphasis: Emphasis,
}

impl Part {
    /// A part in its kind's usual grey, not emphasised.
    #[must_use]
    pub fn new(kind: PartKind) -> Self {
        let tone = kind.usual_tone();
        Self { kind, tone, emphasis: Emphasis::Plain }
    }

    /// The same part, emphasised.
    #[must_use]
    pub fn with_emphasis(mut self, emphasis: Emphasis) -> Self {
        self.emphasis = emphasis;
        self
    }
}

/// The greys parts are drawn in, lightest meaning nearest to the car's body.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Tone {
    /// What is bolted to the body: mounts, rack housing, torsion tube.
    Body,
    /// Wishbones, trailing arms, beams.
    Arm,
    /// Rods and links.
    Rod,
    /// Uprights and hubs.
    Upright,
    /// Rockers, bar arms.
    Rocker,
    /// Damper bodies.
    Damper,
    /// Springs, rod ends, shafts.
    Bright,
}

/// What a part is, by the points it joins.
#[derive(Debug, Clone, PartialEq)]
pub enum PartKind {
    /// A straight two-force link with a rod end at each end: tie rod, toe link,
    /// pushrod, pullrod, drop link, one link of a multi-link.
    Rod {
        /// One end.
        a: Point3<f64>,
        /// The other end.
        b: Point3<f64>,
        /// Radius at mid-length.
        radius: f64,
    },
    /// A wishbone: two legs from the inner points, with a bush on the inner axis at
    /// each, tapering to one outer joint.
    Wishbone {
        /// Forward inner point.
        inner_front: Point3<f64>,
        /// Rearward inner point.
        inner_rear: Point3<f64>,
        /// Outer joint.
        outer: Point3<f64>,
        /// Leg radius at the inner end.
        radius: f64,
    },
    /// A trailing arm: an arm hinged at two pivots that broadens to the hub of the
    /// wheel it carries.
    TrailingArm {
        /// The pivots on the hinge line.
        pivots: [Point3<f64>; 2],
        /// Wheel centre.
        wheel_centre: Point3<f64>,
        /// Unit spin axis, pointing outboard.
        spin_axis: Vector3<f64>,
    },
    /// An H-shaped arm with a hinge at either side.
    HArm {
        /// Front and rear point of the hinge on the body.
        inner: [Point3<f64>; 2],
        /// Front and rear point of the hinge on the upright.
        outer: [Point3<f64>; 2],
        /// Leg radius at the inner end.
        radius: f64,
    },
    /// A strut: a tube fixed to the upright, a rod that slides in it up to the top
    /// mount, and the spring round the rod where it has one.
    Strut {
        /// Top mount on the body.
        top: Point3<f64>,
        /// Lower point of the strut's line, on the upright.
        bottom: Point3<f64>,
        /// Length of the tube above the lower point, constant from pose to pose.
        tube_length: f64,
        /// Whether a coil spring stands about it.
        spring: bool,
        /// Points of the upright that brackets on the tube carry.
        brackets: Vec<Point3<f64>>,
    },
    /// A bracket on an arm that carries a joint off the arm's line.
    Bracket {
        /// Where it stands on the arm.
        foot: Point3<f64>,
        /// The joint it carries.
        joint: Point3<f64>,
    },
    /// A beam axle: its tube, the final drive in the middle where it is driven, a
    /// bracket to every joint it carries.
    Beam {
        /// Wheel centres, left and right.
        ends: [Point3<f64>; 2],
        /// The axle's own forward direction, of any length but zero.
        forward: Vector3<f64>,
        /// The joints it carries.
        joints: Vec<Point3<f64>>,
        /// Whether a final drive sits on it.
        driven: bool,
    },
    /// A long arm that is part of an axle.
    TorqueArm {
        /// Where it leaves the axle.
        root: Point3<f64>,
        /// The joint at its end.
        end: Point3<f64>,
    },
    /// The arm of a steering box or its idler, with what carries its shaft.
    SteeringArm {
        /// A point on the shaft.
        pivot: Point3<f64>,
        /// The shaft's direction, upward, of any length but zero.
        axis: Vector3<f64>,
        /// The joint at the arm's end.
        ball: Point3<f64>,
        /// Whether it is the box; otherwise the idler's bracket.
        gearbox: bool,
    },
    /// The centre link of a steering box.
    CentreLink {
        /// The pitman arm's joint and the idler arm's.
        balls: [Point3<f64>; 2],
        /// The tie rods' inner joints it carries.
        joints: Vec<Point3<f64>>,
    },
    /// A coil spring that stands apart from the damper, between two seats.
    Spring {
        /// The end on the body.
        body_end: Point3<f64>,
        /// The moving end.
        moving_end: Point3<f64>,
    },
    /// An upright with its hub: a limb from the hub to every joint, and a web
    /// between neighbouring limbs.
    Upright {
        /// Wheel centre.
        wheel_centre: Point3<f64>,
        /// Unit spin axis, pointing outboard.
        spin_axis: Vector3<f64>,
        /// The joints it carries: ball joints, tie-rod outer, pushrod outer.
        joints: Vec<Point3<f64>>,
    },
    /// A rocker: a pair of plates about its pivot.
    Rocker {
        /// A point on the pivot axis, in the plane the plates lie about.
        pivot: Point3<f64>,
        /// Pivot axis, of any length but zero.
        axis: Vector3<f64>,
        /// The joints it carries.
        points: Vec<Point3<f64>>,
    },
    /// A damper, with a spring about it where it has one.
    Damper {
        /// Eye of the body.
        body_eye: Point3<f64>,
        /// Eye of the moving rod.
        moving_eye: Point3<f64>,
        /// Length of the body from its eye, constant from pose to pose; about
        /// 0.55 of the design length where the car states none.
        body_length: f64,
        /// Whether a coil spring stands about it.
        spring: bool,
    },
    /// A straight tube without rod ends: torsion tube, beam axle, cross member.
    Tube {
        /// One end.
        a: Point3<f64>,
        /// The other end.
        b: Point3<f64>,
        /// Radius.
        radius: f64,
    },
    /// The flat arm of an anti-roll bar.
    BarArm {
        /// Where it leaves the torsion tube.
        pivot: Point3<f64>,
        /// Where the drop link hangs.
        end: Point3<f64>,
    },
    /// A steering rack: the housing fixed to the body and the rack that slides in
    /// it, out to the tie rods' inner joints.
    Rack {
        /// Left end of the housing.
        housing_left: Point3<f64>,
        /// Right end of the housing.
        housing_right: Point3<f64>,
        /// Left end of the sliding rack (left tie-rod inner).
        rack_left: Point3<f64>,
        /// Right end of the sliding rack (right tie-rod inner).
        rack_right: Point3<f64>,
    },
    /// A mount on the body: a small block carrying a pickup, so that a joint on
    /// the body does not hang in the air.
    Mount {
        /// The pickup.
        at: Point3<f64>,
        /// Direction from the pickup into the body, of any length but zero.
        into_body: Vector3<f64>,
    },
    /// The body's outline at one axle: a slim frame through the pickups it
    /// carries, only there so that the eye sees what they are fixed to.
    Frame {
        /// Corners in order round the outline.
        corners: Vec<Point3<f64>>,
    },
}

impl PartKind {
    /// The grey this kind of part usually has.
    #[must_use]
    pub const fn usual_tone(&self) -> Tone {
        match self {
            Self::Rod { .. } | Self::CentreLink { .. } => Tone::Rod,
            Self::Wishbone { .. } | Self::TrailingArm { .. } | Self::HArm { .. } => Tone::Arm,
            Self::Beam { .. } | Self::TorqueArm { .. } | Self::Bracket { .. } => Tone::Arm,
            Self::Upright { .. } => Tone::Upright,
            Self::Rocker { .. } | Self::BarArm { .. } | Self::SteeringArm { .. } => Tone::Rocker,
            Self::Damper { .. } | Self::Strut { .. } | Self::Spring { .. } => Tone::Damper,
            Self::Tube { .. } | Self::Rack { .. } | Self::Mount { .. } | Self::Frame { .. } => Tone::Body,
        }
    }
}
