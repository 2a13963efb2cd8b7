//! One corner in the design pose.

use crate::car::alignment::Alignment;
use crate::car::carrier::Component;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::hardpoints::Hardpoints;
use crate::car::linkage_kind::LinkageKind;
use crate::car::part::Part;
use crate::car::springing::{DamperStops, Spring, Springing};
use crate::car::wheel::Wheel;
use nalgebra::Vector3;

/// One corner in the design pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Corner {
    /// The linkage.
    pub linkage: LinkageKind,
    /// The wheel.
    pub wheel: Wheel,
    /// The points.
    pub hardpoints: Hardpoints,
    /// Lengths of links that do not follow from the points, metres.
    pub lengths: Vec<(Link, f64)>,
    /// Places that points had in the design pose when the parts were made that are to have them, where the
    /// points stand elsewhere now and the parts were kept: a strut's line in the upright runs through those of
    /// its lower point and its top mount. No car file says it; [`Assembly::move_point`](crate::Assembly::move_point)
    /// keeps it.
    pub made_at: Vec<(Hardpoint, Vector3<f64>)>,
    /// How the damper is worked, if there is one.
    pub springing: Option<Springing>,
    /// Stops of the damper.
    pub damper: Option<DamperStops>,
    /// The part that carries the drop link's outer end, if there is an anti-roll bar.
    pub drop_link_on: Option<Component>,
    /// Joints that can go only so far, radians: see
    /// [`AxleSolver::joint_angle`](crate::AxleSolver::joint_angle).
    pub joint_limits: Vec<(Hardpoint, f64)>,
    /// Unit direction of the bolt or stud that a joint sits on, in the design pose, fixed to the part that
    /// holds the joint.
    pub joint_axes: Vec<(Hardpoint, Vector3<f64>)>,
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
    pub fn new(linkage: LinkageKind, wheel: Wheel, hardpoints: Hardpoints) -> Corner {
        Corner {
            linkage,
            wheel,
            hardpoints,
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
        for (hardpoint, at) in self.hardpoints.iter() {
            other.hardpoints.set(hardpoint, mirror(at));
        }
        for (_, vector) in other.joint_axes.iter_mut().chain(&mut other.made_at) {
            *vector = mirror(*vector);
        }
        other
    }
}
