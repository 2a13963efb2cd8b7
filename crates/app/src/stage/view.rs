//! The stage's view of a car: all the stage ever learns of it, as plain data.
//!
//! This is a boundary. Whoever knows the car (a solved pose and its readings)
//! fills one [`StageView`] and a list of [`Overlay`]s; the stage draws them and
//! nothing else. It never asks the car anything back and computes no reading.
//!
//! Every coordinate is in VEHICLE axes (X forward, Y left, Z up), in metres;
//! every angle is in radians. No unit or axis is converted on the way in.
//!
//! How to fill it
//! - One [`WheelView`] a wheel present; a bench with one corner has one.
//! - Parts in an order that does not change from pose to pose: the stage reuses
//!   what it built for the part at the same place in the list, and builds a new
//!   shape only where a length inside a rigid part has changed by over a
//!   micrometre (a point was moved), never because the car took another pose.
//! - A part joins its points; the stage adds the thickness, rod ends, bushes,
//!   coils. Radii are for a real part's size and may be left at [`size`].
//! - The predecessor of a changed car goes into [`Stage::ghost`] as a second
//!   `StageView`; it is drawn as a translucent outline, without overlays.
//! - An overlay's `reading` is the key of the reading's catalogue entry: it
//!   decides the colour and is what a click on the label reports.
//! - An overlay's `label` is the finished text ("12.3 mm", "−1.50°"): the stage
//!   formats no number.

use std::collections::BTreeSet;

use nalgebra::{Point3, Vector3};

pub use super::overlay::{LineStyle, MarkerSign, Overlay, OverlayShape, Plane};

/// Sizes of parts that no car file states, in metres.
pub mod size {
    /// Radius of a tie rod, toe link or pushrod.
    pub const ROD: f64 = 0.009;
    /// Radius of a drop link.
    pub const DROP_LINK: f64 = 0.006;
    /// Radius of a wishbone leg at its inner end.
    pub const ARM: f64 = 0.012;
    /// Radius of an anti-roll bar's torsion tube.
    pub const BAR: f64 = 0.012;
    /// Radius of a steering-rack housing.
    pub const RACK: f64 = 0.022;
    /// Radius of a damper's body.
    pub const DAMPER: f64 = 0.024;
    /// Rim radius as a share of the tyre radius, where the car states none.
    pub const RIM_SHARE: f64 = 0.62;
}

/// Which wheel of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Place {
    /// Front axle, left side (y > 0).
    FrontLeft,
    /// Front axle, right side (y < 0).
    FrontRight,
    /// Rear axle, left side (y > 0).
    RearLeft,
    /// Rear axle, right side (y < 0).
    RearRight,
}

impl Place {
    /// All four, front before rear, left before right.
    pub const ALL: [Self; 4] = [Self::FrontLeft, Self::FrontRight, Self::RearLeft, Self::RearRight];

    /// +1 on the left, −1 on the right.
    #[must_use]
    pub const fn side(self) -> f64 {
        match self {
            Self::FrontLeft | Self::RearLeft => 1.0,
            Self::FrontRight | Self::RearRight => -1.0,
        }
    }

    /// Whether the wheel stands on the front axle.
    #[must_use]
    pub const fn is_front(self) -> bool {
        matches!(self, Self::FrontLeft | Self::FrontRight)
    }

    /// "front left" and so on.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::FrontLeft => "front left",
            Self::FrontRight => "front right",
            Self::RearLeft => "rear left",
            Self::RearRight => "rear right",
        }
    }
}

/// A car in one pose, ready to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct StageView {
    /// The wheels present, each place at most once.
    pub wheels: Vec<WheelView>,
    /// Everything else that is solid, in a stable order.
    pub parts: Vec<Part>,
    /// The points that can be pointed at and pulled (pickups).
    pub points: Vec<PointView>,
    /// The road, or the bench's plane.
    pub ground: Ground,
}

impl Default for StageView {
    fn default() -> Self {
        Self {
            wheels: Vec::new(),
            parts: Vec::new(),
            points: Vec::new(),
            ground: Ground { point: Point3::origin(), normal: Vector3::z() },
        }
    }
}

impl StageView {
    /// The wheel at a place, where the car has one.
    #[must_use]
    pub fn wheel(&self, place: Place) -> Option<&WheelView> {
        self.wheels.iter().find(|wheel| wheel.place == place)
    }
}

/// The ground plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ground {
    /// A point of the plane, under the car's middle.
    pub point: Point3<f64>,
    /// Its normal, pointing up; of any length but zero.
    pub normal: Vector3<f64>,
}

/// One wheel with its tyre.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelView {
    /// Which wheel.
    pub place: Place,
    /// Wheel centre.
    pub centre: Point3<f64>,
    /// Unit spin axis, pointing outboard.
    pub spin_axis: Vector3<f64>,
    /// Tyre radius.
    pub radius: f64,
    /// Tyre width.
    pub width: f64,
    /// Rim radius ([`size::RIM_SHARE`] of the tyre radius where unknown).
    pub rim_radius: f64,
    /// Contact point.
    pub contact: Point3<f64>,
    /// Whether the steering turns this wheel: only then can it be turned by hand.
    pub steers: bool,
}

/// A named point that can be pointed at.
#[derive(Debug, Clone, PartialEq)]
pub struct PointView {
    /// The point's key, handed back when it is picked, for example
    /// "front left / upper ball joint".
    pub key: String,
    /// What the hover text says.
    pub name: String,
    /// Where it is.
    pub at: Point3<f64>,
    /// How it is shown.
    pub emphasis: Emphasis,
}

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
    /// A wishbone, or a trailing arm: two legs from the inner points, with a bush
    /// on the inner axis at each, tapering to one outer joint.
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
            Self::Rod { .. } => Tone::Rod,
            Self::Wishbone { .. } => Tone::Arm,
            Self::Upright { .. } => Tone::Upright,
            Self::Rocker { .. } | Self::BarArm { .. } => Tone::Rocker,
            Self::Damper { .. } => Tone::Damper,
            Self::Tube { .. } | Self::Rack { .. } | Self::Mount { .. } | Self::Frame { .. } => Tone::Body,
        }
    }
}

/// All that stands on the stage. With the window on, this is a Bevy resource:
/// writing to it redraws, leaving it alone costs nothing.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "window", derive(bevy::prelude::Resource))]
pub struct Stage {
    /// The car as it stands.
    pub car: StageView,
    /// The car it was made from, while they differ.
    pub ghost: Option<StageView>,
    /// Overlays, all that exist in this pose.
    pub overlays: Vec<Overlay>,
    /// Ids of the overlays that are switched off.
    pub hidden: BTreeSet<String>,
    /// The wheel whose overlays free views show; none = every wheel's.
    pub focus: Option<Place>,
}

impl Default for Stage {
    fn default() -> Self {
        Self {
            car: StageView::default(),
            ghost: None,
            overlays: Vec::new(),
            hidden: BTreeSet::new(),
            focus: Some(Place::FrontLeft),
        }
    }
}
