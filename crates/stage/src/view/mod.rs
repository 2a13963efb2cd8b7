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

pub mod direction_arrow;
pub mod handle;
pub(crate) mod overlay;
pub mod part;
pub mod segment;
pub mod standard_views;

use std::collections::BTreeSet;

use nalgebra::{Point3, Vector3};

pub use crate::view::direction_arrow::WayView;
pub use crate::view::handle::HandleView;
pub use crate::view::overlay::{LineStyle, MarkerSign, Overlay, OverlayShape, Plane};
pub use crate::view::part::{Emphasis, Part, PartKind, Tone};

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
    /// Radius of a strut's tube.
    pub const STRUT: f64 = 0.026;
    /// Radius of a beam axle's tube.
    pub const AXLE: f64 = 0.036;
    /// Radius of a link or rod that holds an axle.
    pub const AXLE_LINK: f64 = 0.012;
    /// Radius of a torsion bar.
    pub const TORSION_BAR: f64 = 0.009;
    /// Radius of a steering box's centre link.
    pub const CENTRE_LINK: f64 = 0.012;
    /// Rim radius as a share of the tyre radius, where the car states none.
    pub const RIM_SHARE: f64 = 0.62;
}

/// Which wheel of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum WheelSlot {
    /// Front axle, left side (y > 0).
    FrontLeft,
    /// Front axle, right side (y < 0).
    FrontRight,
    /// Rear axle, left side (y > 0).
    RearLeft,
    /// Rear axle, right side (y < 0).
    RearRight,
}

impl WheelSlot {
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
    pub fn wheel(&self, place: WheelSlot) -> Option<&WheelView> {
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
    pub place: WheelSlot,
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

/// All that stands on the stage. With the window on, this is a Bevy resource:
/// writing to it redraws, leaving it alone costs nothing.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "window", derive(bevy::prelude::Resource))]
pub struct Stage {
    /// The car as it stands.
    pub car: StageView,
    /// The car it was made from, while they differ.
    pub ghost: Option<StageView>,
    /// The car it was made from in a picture of its own to the left, seen from where the car is seen;
    /// instead of [`ghost`](Self::ghost).
    pub before: Option<Box<Stage>>,
    /// What stands over the picture.
    pub caption: Option<String>,
    /// Overlays, all that exist in this pose.
    pub overlays: Vec<Overlay>,
    /// What the selected point can be pulled by; found before points and parts.
    pub handles: Vec<HandleView>,
    /// Where readings go when the selected point goes there.
    pub ways: Vec<WayView>,
    /// Ids of the overlays that are switched off.
    pub hidden: BTreeSet<String>,
    /// The wheel whose overlays free views show; none = every wheel's.
    pub focus: Option<WheelSlot>,
}

impl Default for Stage {
    fn default() -> Self {
        Self {
            car: StageView::default(),
            ghost: None,
            before: None,
            caption: None,
            overlays: Vec::new(),
            handles: Vec::new(),
            ways: Vec::new(),
            hidden: BTreeSet::new(),
            focus: Some(WheelSlot::FrontLeft),
        }
    }
}
