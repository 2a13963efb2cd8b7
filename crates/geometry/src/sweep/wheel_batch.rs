//! A wheel for many poses of its upright side by side.

use crate::car::Component;
use crate::car::springing::Spring;
use crate::corner::corner_motion::{CornerMotion, Reference, SteeringAxis};
use crate::corner::on_ground::OnGround;
use crate::corner::wheel_model::{AxisFrom, WheelModel, about_screw, between_balls, to_top_mount};
use crate::driven::driven_motion::ValueAndRate;
use crate::driven::driven_parts::DrivenPartsBatch;
use crate::mechanism::{Poses, Stepped, Twist};
use crate::number::lanes::{LANES, Lanes, Vectors};
use crate::number::real::up;
use crate::readings::{WHEEL_READINGS, each_wheel_value, family_values};
use nalgebra::Vector3;

/// An upright in every lane, and what follows it.
pub(crate) struct Abreast<'a> {
    /// Its poses.
    pub poses: &'a Poses,
    /// Its velocities.
    pub stepped: &'a Stepped,
    /// Damper, spring and bar.
    pub followers: &'a DrivenPartsBatch,
}

impl WheelModel<f64> {
    /// The motion in a lane.
    #[inline(always)]
    pub fn motion_abreast(
        &self,
        lane: usize,
        poses: &Poses,
        stepped: &Stepped,
        followers: &DrivenPartsBatch,
        reference: &Reference<f64>,
    ) -> CornerMotion<f64> {
        let (by_travel, by_steer) = (stepped.by_travel.at(lane), stepped.by_steer.at(lane));
        self.upright_motion(&poses.at(lane), by_travel, by_steer, reference)
            .driving(self.followers.motion(followers, lane))
    }

    /// The steering axis in every lane; not-a-number where there is none.
    #[inline(always)]
    fn axis_abreast(&self, poses: &Poses, stepped: &Stepped) -> AxisAbreast {
        let (by_travel, by_steer) = (&stepped.by_travel, &stepped.by_steer);
        match &self.axis {
            AxisFrom::Balls(lower, upper) => AxisAbreast::each(
                #[inline(always)]
                |lane| between_balls(lower, upper, &poses.at(lane), &by_travel.at(lane)),
            ),
            AxisFrom::TopMount(lower, top) => AxisAbreast::each(
                #[inline(always)]
                |lane| to_top_mount(lower, top, &poses.at(lane), &by_travel.at(lane)),
            ),
            AxisFrom::Screw => AxisAbreast::each(
                #[inline(always)]
                |lane| about_screw(&poses.at(lane), &by_steer.at(lane)),
            ),
            AxisFrom::None => AxisAbreast::each(
                #[inline(always)]
                |_| SteeringAxis { point: NONE, along: NONE, rate: None },
            ),
        }
    }

    /// Readings of the wheel in every lane, on ground parallel to the body's XY plane: at least those of a
    /// family, or all.
    #[inline(always)]
    pub fn read_abreast(
        &self,
        upright: &Abreast<'_>,
        reference: &Reference<f64>,
        family: Option<usize>,
        readings: &mut [Lanes; WHEEL_READINGS],
    ) {
        // Each with its kind of spring written out, so that it is known where the lanes are read.
        let (on, rate) = (Component::Body, f64::NAN);
        let separate = Spring::Separate { on, rate };
        let mut put = |lane: usize, i: usize, value| readings[i][lane] = value;
        // The families that no spring bears on, each with lanes of its own.
        match (family, self.design.spring) {
            (Some(0), _) => self.read(
                separate,
                upright,
                reference,
                #[inline(always)]
                |lane, motion, wheel| family_values::<0, _>(motion, wheel, |i, value| put(lane, i, value)),
            ),
            (Some(1), _) => self.read(
                separate,
                upright,
                reference,
                #[inline(always)]
                |lane, motion, wheel| family_values::<1, _>(motion, wheel, |i, value| put(lane, i, value)),
            ),
            (Some(3), _) => self.read(
                separate,
                upright,
                reference,
                #[inline(always)]
                |lane, motion, wheel| family_values::<3, _>(motion, wheel, |i, value| put(lane, i, value)),
            ),
            (_, Some(Spring::TorsionBar { .. })) => self.read(
                Spring::TorsionBar { rate },
                upright,
                reference,
                #[inline(always)]
                |lane, motion, wheel| each_wheel_value(motion, wheel, |i, value| put(lane, i, value)),
            ),
            _ => self.read(
                separate,
                upright,
                reference,
                #[inline(always)]
                |lane, motion, wheel| each_wheel_value(motion, wheel, |i, value| put(lane, i, value)),
            ),
        }
    }

    /// What there is not is not-a-number, so that no lane goes another way than its neighbours.
    #[inline(always)]
    fn read(
        &self,
        kind: Spring,
        upright: &Abreast<'_>,
        reference: &Reference<f64>,
        mut each: impl FnMut(usize, &CornerMotion<f64>, &OnGround<f64>),
    ) {
        let Abreast { poses, stepped, followers } = upright;
        let axis = self.axis_abreast(poses, stepped);
        let toe_link = if self.toe_outer.is_some() { 0.0 } else { f64::NAN };
        let spring = match self.design.spring {
            Some(Spring::OnDamper { .. }) => &followers.damper,
            _ => &followers.spring,
        };
        let none = ValueAndRate { value: f64::NAN, per_travel: f64::NAN };
        for lane in 0..LANES {
            let upright = poses.at(lane);
            let by_steer = stepped.by_steer.at(lane);
            let by_steer = Twist { v: by_steer.v.add_scalar(toe_link), w: by_steer.w.add_scalar(toe_link) };
            let motion = CornerMotion {
                side: self.design.side,
                steered: self.design.steered,
                steer_input: self.design.steer_input,
                wheel_centre: upright.origin,
                spin_axis: upright.direction(&self.design.spin_axis),
                tyre_radius: self.design.tyre_radius,
                tyre_shoulder: self.design.tyre_shoulder,
                steering_axis: Some(axis.at(lane)),
                toe_link_outer: None,
                by_travel: stepped.by_travel.at(lane),
                by_steer: Some(by_steer),
                spring_kind: Some(kind),
                rocker: Some(followers.rocker.at(lane)),
                damper: Some(followers.damper.at(lane)),
                spring: Some(spring.at(lane)),
                bar: Some(followers.bar.at(lane)),
                wheel_rate: Some(none),
                as_one: None,
                drop_link: None,
                third_spring_end: None,
                reference: *reference,
            };
            let wheel = OnGround::of(&motion, up());
            each(lane, &motion, &wheel);
        }
    }
}

const NONE: Vector3<f64> = Vector3::new(f64::NAN, f64::NAN, f64::NAN);

/// A steering axis in lanes.
struct AxisAbreast {
    point: Vectors,
    along: Vectors,
    rate: Vectors,
}

impl AxisAbreast {
    #[inline(always)]
    fn each(of: impl Fn(usize) -> SteeringAxis<f64>) -> Self {
        let mut axis = AxisAbreast { point: Vectors::ZERO, along: Vectors::ZERO, rate: Vectors::ZERO };
        for lane in 0..LANES {
            let one = of(lane);
            axis.point.set(lane, &one.point);
            axis.along.set(lane, &one.along);
            axis.rate.set(lane, &one.rate.unwrap_or(NONE));
        }
        axis
    }

    #[inline(always)]
    fn at(&self, lane: usize) -> SteeringAxis<f64> {
        let rate = Some(self.rate.at(lane));
        SteeringAxis { point: self.point.at(lane), along: self.along.at(lane), rate }
    }
}
