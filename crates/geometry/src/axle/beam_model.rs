//! A beam axle made ready to solve: its mechanism, and the wheels that go with it.
//!
//! It is one body that carries both wheels, or three: the axle, and a knuckle for each wheel.

use crate::car::hardpoint::{Hardpoint, Link};
use crate::corner::corner_motion::{AsOne, CornerMotion, Reference};
use crate::corner::wheel_model::{CannotFollow, WheelModel};
use crate::linkage::{Beam, beam_mechanism};
use crate::mechanism::{Closed, Input, Mechanism, Pose, Twist, WrongFreedoms};
use crate::number::real::Real;
use nalgebra::Vector3;

/// An axle over any number, ready to solve.
#[derive(Clone, Debug)]
pub(crate) struct BeamModel<T: Real, const B: usize, const N: usize> {
    pub beam: Beam<T>,
    pub mechanism: Mechanism<T, B, N>,
    pub wheels: [WheelModel<T>; 2],
    /// Wheel centres from the axle body's origin.
    centres: [Vector3<T>; 2],
}

impl<T: Real, const B: usize, const N: usize> BeamModel<T, B, N> {
    pub fn new(beam: Beam<T>) -> Result<Self, WrongFreedoms> {
        let mechanism = beam_mechanism(&beam)?;
        let origin = beam.origin();
        let centres = [0, 1].map(|i: usize| beam.sides[i].centre - origin);
        let zero = Input::new(T::zero(), T::zero());
        let closed = mechanism.carry(mechanism.design(), &zero);
        let wheel = |i: usize| {
            let twist = closed.by_travel(i, 2, 0);
            let first = Twist { v: twist.at(&centres[i]), w: twist.w };
            let mut wheel = WheelModel::new(beam.sides[i].clone(), &first);
            // The track rod steers each wheel as a tie rod does: its end counts for the steering arm.
            if beam.has_knuckles() {
                let end = [Hardpoint::TrackRodLeft, Hardpoint::TrackRodRight][i];
                wheel.toe_outer = beam.own.get(end).map(|at| at - beam.sides[i].centre);
            }
            wheel
        };
        let wheels = [wheel(0), wheel(1)];
        Ok(BeamModel { beam, mechanism, wheels, centres })
    }

    /// How many of the first equations are those of rods and a Watt's linkage: all but those of the king pins.
    pub fn rods(&self) -> usize {
        if self.beam.has_knuckles() { 6 } else { 4 }
    }

    /// The pose of the axle, its origin where a wheel's centre is in the design pose: 0 is left, 1 is right.
    pub fn axle_at(&self, closed: &Closed<T, B, N>, wheel: usize) -> Pose<T> {
        let body = &closed.bodies[0];
        Pose { origin: body.point(&self.centres[wheel]), car_from_body: body.car_from_body }
    }

    /// The pose of what carries a wheel, its origin the wheel centre: 0 is left, 1 is right.
    pub fn upright(&self, closed: &Closed<T, B, N>, wheel: usize) -> Pose<T> {
        let knuckle = closed.bodies.get(1 + wheel).copied();
        knuckle.unwrap_or_else(|| self.axle_at(closed, wheel))
    }

    /// Both wheels' motion, each per unit of its own travel, the other held.
    pub fn motions(
        &self,
        closed: &Closed<T, B, N>,
        reference: &[Reference<T>; 2],
    ) -> Result<[CornerMotion<T>; 2], CannotFollow> {
        self.motions_for(closed, [0, 1], reference)
    }

    /// The same, each knowing how the other wheel's travel moves it.
    pub fn motions_as_one(
        &self,
        closed: &Closed<T, B, N>,
        reference: &[Reference<T>; 2],
    ) -> Result<[CornerMotion<T>; 2], CannotFollow> {
        let [left, right] = self.motions_for(closed, [0, 1], reference)?;
        let crossed = self.motions_for(closed, [1, 0], reference)?;
        let with = |own: CornerMotion<T>, crossed: &CornerMotion<T>| CornerMotion {
            as_one: Some(AsOne::of(crossed)),
            ..own
        };
        Ok([with(left, &crossed[0]), with(right, &crossed[1])])
    }

    /// Both wheels' motion, the left one per unit of the first driver's travel, the right one of the
    /// second's.
    pub fn motions_for(
        &self,
        closed: &Closed<T, B, N>,
        drivers: [usize; 2],
        reference: &[Reference<T>; 2],
    ) -> Result<[CornerMotion<T>; 2], CannotFollow> {
        let motion = |i: usize| {
            let carrier = self.axle_at(closed, i);
            let twist = closed.by_travel(drivers[i], 2, 0);
            let arm = closed.bodies[0].direction(&self.centres[i]);
            let moving = Twist { v: twist.at(&arm), w: twist.w };
            let wheel = &self.wheels[i];
            if !self.beam.has_knuckles() {
                let still = Twist { v: Vector3::zeros(), w: Vector3::zeros() };
                return wheel.motion(&carrier, moving, still, &reference[i]);
            }
            let by_travel = closed.by_travel(drivers[i], 2, 1 + i);
            let (upright, by_steer) = (self.upright(closed, i), closed.by_steer(1 + i));
            wheel.motion_beside((&carrier, &moving), &upright, by_travel, by_steer, &reference[i])
        };
        Ok([motion(0)?, motion(1)?])
    }

    pub fn reference(&self, closed: &Closed<T, B, N>) -> Result<[Reference<T>; 2], CannotFollow> {
        let unset = Reference { wheel_centre: Vector3::zeros(), contact_y: T::zero() };
        Ok(self.motions(closed, &[unset; 2])?.map(|motion| Reference::of(&motion)))
    }

    pub fn openness(&self, closed: &Closed<T, B, N>) -> (f64, Link) {
        let of = |i: usize| self.wheels[i].openness(&self.axle_at(closed, i));
        let (left, right) = (of(0), of(1));
        if right.0 < left.0 { right } else { left }
    }
}
