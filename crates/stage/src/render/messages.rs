//! What the stage tells the rest of the program: plain values, written when they
//! happen, in the order they happened.

use bevy::prelude::Message;
use nalgebra::Point3;

use crate::pick::Target;
use crate::pick::pointer_input::Phase;
use crate::view::WheelSlot;

/// A tyre is pulled up or down.
#[derive(Message, Debug, Clone, Copy, PartialEq)]
pub struct StagePull {
    /// Which wheel.
    pub place: WheelSlot,
    /// Change of its travel since the pull began, in metres; + = bump. Add it to the
    /// travel there was at [`Phase::Began`], so that a limit reached on the way does
    /// not shift the rest of the pull.
    pub travel_change: f64,
    /// Where the pull stands.
    pub phase: Phase,
}

/// A wheel is turned by hand.
#[derive(Message, Debug, Clone, Copy, PartialEq)]
pub struct StageSteer {
    /// Which wheel.
    pub place: WheelSlot,
    /// Change of its steer angle since the turn began, in radians; + = left.
    pub angle_change: f64,
    /// Where the turn stands.
    pub phase: Phase,
}

/// A point is pulled.
#[derive(Message, Debug, Clone, PartialEq)]
pub struct StagePointPull {
    /// Its key.
    pub key: String,
    /// Where it goes to, in vehicle axes of the pose shown, in metres.
    pub to: Point3<f64>,
    /// Whether the key is held that turns snapping to steps round.
    pub snap_turned: bool,
    /// Where the pull stands.
    pub phase: Phase,
}

/// A point is pulled by one of its handles.
#[derive(Message, Debug, Clone, PartialEq)]
pub struct StageHandlePull {
    /// The handle's key.
    pub key: String,
    /// How far along it since the pull began, in metres; the second only in a plane.
    pub by: [f64; 2],
    /// Whether the key is held that turns snapping to steps round.
    pub snap_turned: bool,
    /// Where the pull stands.
    pub phase: Phase,
}

/// Something was clicked: select it; [`Target::Ground`] and [`Target::Nothing`] select
/// nothing.
#[derive(Message, Debug, Clone, PartialEq)]
pub struct StageClick(pub Target);

/// The label of an overlay was clicked: show its reading's definition.
#[derive(Message, Debug, Clone, PartialEq)]
pub struct StageLabelClick {
    /// Key of the reading.
    pub reading: String,
    /// The wheel it belongs to, where it belongs to one.
    pub place: Option<WheelSlot>,
}
