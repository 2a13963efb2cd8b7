//! Dimensions, angles and constructions drawn over the car, as plain data in vehicle
//! axes: the second half of the boundary that [`super::view`] describes.

use nalgebra::{Point3, Vector3};

use crate::view::WheelSlot;

/// One dimension, angle or construction drawn over the car.
#[derive(Debug, Clone, PartialEq)]
pub struct Overlay {
    /// What switches it on and off; overlays that belong together (left and right,
    /// lines of one construction) share it, for example "trail".
    pub id: String,
    /// Key of the reading it shows: decides the colour, and is what a click on the
    /// label reports.
    pub reading: String,
    /// The wheel it belongs to, or none for an axle's or the car's.
    pub place: Option<WheelSlot>,
    /// The plane it is laid out in.
    pub plane: Plane,
    /// What is drawn.
    pub shape: OverlayShape,
    /// Finished text, drawn beside the shape: name and value ("Trail 12.3 mm").
    pub label: Option<String>,
    /// How its lines are drawn.
    pub line: LineStyle,
}

/// The plane a dimension is laid out in. A front, side or plan view shows the
/// overlays of its own plane and of [`Plane::Any`]. A free view shows those of every
/// plane, but of one wheel only ([`Stage::focus`](crate::view::Stage::focus)) and without constructions: all at
/// once could not be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Plane {
    /// Parallel to YZ: camber, inclination, scrub radius, front-view instant centre.
    Front,
    /// Parallel to XZ: caster, trail, side-view instant centre.
    Side,
    /// Parallel to XY: toe, steer, turn centre.
    Plan,
    /// Readable from everywhere: steering axis, contact point.
    Any,
}

/// Line styles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum LineStyle {
    /// Full.
    #[default]
    Solid,
    /// Dashed: the right side, an ideal, a predecessor.
    Dashed,
    /// Chain line: axes and centre lines.
    Chain,
    /// Thin full line: constructions.
    Thin,
}

/// What an overlay draws.
#[derive(Debug, Clone, PartialEq)]
pub enum OverlayShape {
    /// A line; the label stands at its far end `b`.
    Line {
        /// From.
        a: Point3<f64>,
        /// To.
        b: Point3<f64>,
    },
    /// A dimension line between two points with arrowheads, set off from them by
    /// extension lines.
    Dimension {
        /// One measured point.
        a: Point3<f64>,
        /// The other.
        b: Point3<f64>,
        /// From the measured points to the dimension line; may be zero.
        offset: Vector3<f64>,
    },
    /// An angle between two directions at a point, with both legs drawn.
    Angle {
        /// Vertex.
        vertex: Point3<f64>,
        /// Direction the angle is measured from (the reference: vertical, straight
        /// ahead), of any length but zero.
        from: Vector3<f64>,
        /// Direction it is measured to.
        to: Vector3<f64>,
        /// Radius of the arc.
        radius: f64,
    },
    /// Lines from anchors to where they meet. Where the meeting point is farther
    /// than `reach` from an anchor, that line is cut there and carries an arrow.
    Construction {
        /// Where the lines start (ball joints, contact points, wheel centres).
        anchors: Vec<Point3<f64>>,
        /// Where they meet.
        meet: Point3<f64>,
        /// Longest line drawn, from an anchor.
        reach: f64,
    },
    /// Lines that do not meet (instant centre at infinity): each leaves its anchor
    /// along the direction and ends in an arrow.
    Parallel {
        /// Where the lines start.
        anchors: Vec<Point3<f64>>,
        /// Their common direction, of any length but zero.
        direction: Vector3<f64>,
        /// Length drawn.
        reach: f64,
    },
    /// A line in pieces, in any order; the label stands at the far end of the last.
    Pieces(Vec<[Point3<f64>; 2]>),
    /// A marked point.
    Marker {
        /// The place that it points to.
        at: Point3<f64>,
        /// Which sign.
        sign: MarkerSign,
    },
}

/// Signs for marked points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MarkerSign {
    /// A small upright cross: contact point, axis through the ground.
    Cross,
    /// A circle with a cross through it: a centre (roll centre, turn centre).
    Centre,
    /// A filled dot: an instant centre.
    Dot,
    /// An open circle: the ideal or the predecessor of something.
    Open,
}
