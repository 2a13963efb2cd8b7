//! What the pointer does, and what that means: the words the hand hears and says.

use nalgebra::Point3;

use crate::camera::projection::Pixel;
use crate::camera::turntable::Turntable;
use crate::pick::Target;
use crate::view::WheelSlot;

/// A pointer button.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Button {
    /// The main one.
    Left,
    /// The wheel, pressed.
    Middle,
    /// The other one.
    Right,
}

/// One thing the pointer did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Event {
    /// It moved.
    Moved(Pixel),
    /// It left the window.
    Left,
    /// A button went down.
    Pressed(Button),
    /// A button came up.
    Released(Button),
    /// The wheel turned by so many notches, + = away from the hand.
    Wheel(f64),
    /// Two fingers moved over a trackpad by so many pixels.
    Fingers(f64, f64),
    /// Two fingers spread (+) or closed (−), as a share of the size.
    Pinched(f64),
}

/// Keys held meanwhile.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Held {
    /// Shift.
    pub shift: bool,
    /// Control, or Command.
    pub control: bool,
    /// Alt, or Option.
    pub alt: bool,
}

/// What the hand can be set to.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "window", derive(bevy::prelude::Resource))]
pub struct HandSettings {
    /// Zoom in when the wheel turns toward the hand.
    pub zoom_turned_round: bool,
    /// Middle drag orbits and right drag pans.
    pub middle_orbits: bool,
    /// Radians turned per pixel dragged.
    pub orbit_speed: f64,
}

impl Default for HandSettings {
    fn default() -> Self {
        Self { zoom_turned_round: false, middle_orbits: false, orbit_speed: 0.0075 }
    }
}

/// Where a pull stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phase {
    /// It has just begun: keep what the pose was.
    Began,
    /// It goes on.
    Going,
    /// It is over: the last value holds.
    Ended,
    /// It was given up (Escape): go back to what the pose was.
    GivenUp,
}

/// What the hand wants.
#[derive(Debug, Clone, PartialEq)]
pub enum Act {
    /// The camera goes there, at once.
    Camera(Turntable),
    /// A tyre is pulled.
    Pull {
        /// Which wheel.
        place: WheelSlot,
        /// Change of its travel since the pull began, in metres; + = bump.
        change: f64,
        /// Where the pull stands.
        phase: Phase,
    },
    /// A wheel is turned by hand.
    Steer {
        /// Which wheel.
        place: WheelSlot,
        /// Change of its steer angle since the turn began, in radians; + = left.
        change: f64,
        /// Where the turn stands.
        phase: Phase,
    },
    /// A point is pulled.
    PullPoint {
        /// Its key.
        key: String,
        /// Where it goes to, in vehicle axes.
        to: Point3<f64>,
        /// Whether the key is held that turns snapping to steps round.
        snap_turned: bool,
        /// Where the pull stands.
        phase: Phase,
    },
    /// A point is pulled by one of its handles.
    PullHandle {
        /// The handle's key.
        key: String,
        /// How far along it since the pull began, in metres; the second only in a plane.
        by: [f64; 2],
        /// Whether the key is held that turns snapping to steps round.
        snap_turned: bool,
        /// Where the pull stands.
        phase: Phase,
    },
    /// Something was clicked without being moved.
    Clicked(Target),
    /// A label was clicked; its number among those drawn.
    Label(usize),
}

/// What the hand is over or on, to be shown.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Over {
    /// Nothing that answers.
    #[default]
    Nothing,
    /// A tyre.
    Tyre(WheelSlot),
    /// A point; its key.
    Point(String),
    /// A handle; its key.
    Handle(String),
    /// A label; its number among those drawn.
    Label(usize),
}
