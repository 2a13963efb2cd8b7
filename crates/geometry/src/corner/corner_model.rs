//! A corner made ready to solve: the upright's mechanism and the wheel that goes with it.

use crate::car::hardpoint::{Hardpoint, Link};
use crate::corner::corner_motion::{CornerMotion, Reference};
use crate::corner::on_ground::OnGround;
use crate::corner::wheel_model::{CannotFollow, WheelModel};
use crate::linkage;
use crate::linkage::design::Design;
use crate::mechanism::{Closed, Input, Mechanism, WrongFreedoms};
use crate::number::real::{Real, up};
use nalgebra::Vector3;

/// One corner over any number.
#[derive(Clone, Debug)]
pub(crate) struct CornerModel<T: Real> {
    pub mechanism: Mechanism<T, 1, 6>,
    pub wheel: WheelModel<T>,
}

impl<T: Real> CornerModel<T> {
    /// Builds the model of a corner that has all its points.
    pub fn new(design: Design<T>) -> Result<Self, WrongFreedoms> {
        let mechanism = linkage::mechanism(&design)?;
        let zero = Input::new(T::zero(), T::zero());
        let first = mechanism.carry(mechanism.design(), &zero).by_travel(0, 1, 0);
        Ok(CornerModel { mechanism, wheel: WheelModel::new(design, &first) })
    }

    /// The corner's motion at a closed pose.
    pub fn motion(
        &self,
        closed: &Closed<T, 1, 6>,
        reference: &Reference<T>,
    ) -> Result<CornerMotion<T>, CannotFollow> {
        self.wheel.motion(&closed.bodies[0], closed.by_travel(0, 1, 0), closed.by_steer(0), reference)
    }

    /// How far pushrod and drop link are from the line of their levers, 0 to 1, the nearer of them.
    pub fn openness(&self, closed: &Closed<T, 1, 6>) -> (f64, Link) {
        self.wheel.openness(&closed.bodies[0])
    }

    /// What changes are counted from, at the closed reference pose.
    pub fn reference(&self, closed: &Closed<T, 1, 6>) -> Result<Reference<T>, CannotFollow> {
        let unset = Reference { wheel_centre: closed.bodies[0].origin, contact_y: T::zero() };
        let motion = self.motion(closed, &unset)?;
        Ok(Reference::of(&motion))
    }

    /// Where every point of the corner stands, car coordinates.
    pub fn points(
        &self,
        closed: &Closed<T, 1, 6>,
        input: &Input<T>,
    ) -> Result<Vec<(Hardpoint, Vector3<T>)>, CannotFollow> {
        self.wheel.points(&closed.bodies[0], input.steer)
    }
}

impl<T: Real> Reference<T> {
    /// From the motion in the reference pose.
    pub(crate) fn of(motion: &CornerMotion<T>) -> Self {
        let contact = OnGround::of(motion, up()).contact;
        Reference { wheel_centre: motion.wheel_centre, contact_y: contact.y }
    }
}
