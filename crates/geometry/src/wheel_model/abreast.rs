//! A wheel and what follows it, for many poses of its upright side by side.

use super::{
    AxisFrom, Mount, WheelModel, Worked, about_screw, between_balls, distance, on_arm, on_rocker, on_upright,
    to_top_mount,
};
use crate::corner_motion::{CornerMotion, Followed, Reference, SteeringAxis};
use crate::follower::{Swing, SwingPose};
use crate::lanes::{Column, LANES, Vectors};
use crate::mechanism::{Poses, Stepped, Twist, Twists};
use crate::on_ground::OnGround;
use crate::readings::{WHEEL_READINGS, each_wheel_value};
use nalgebra::Vector3;

/// A length or angle and its rate in lanes.
#[derive(Clone, Debug)]
#[repr(align(64))]
pub(crate) struct FollowedAbreast {
    value: Column,
    per_travel: Column,
}

impl FollowedAbreast {
    /// Of something there is not.
    const NONE: FollowedAbreast = FollowedAbreast { value: [f64::NAN; LANES], per_travel: [f64::NAN; LANES] };

    #[inline(always)]
    fn at(&self, lane: usize) -> Followed<f64> {
        Followed { value: self.value[lane], per_travel: self.per_travel[lane] }
    }

    #[inline(always)]
    fn set(&mut self, lane: usize, followed: &Followed<f64>) {
        self.value[lane] = followed.value;
        self.per_travel[lane] = followed.per_travel;
    }
}

/// Damper and bar arm in lanes.
#[derive(Clone, Debug)]
pub(crate) struct FollowersAbreast {
    damper: FollowedAbreast,
    bar: FollowedAbreast,
    /// Rates that are finite where rocker and bar arm could follow.
    rates: [Column; 2],
}

impl FollowersAbreast {
    /// Nothing follows yet.
    pub const NONE: FollowersAbreast = FollowersAbreast {
        damper: FollowedAbreast::NONE,
        bar: FollowedAbreast::NONE,
        rates: [[0.0; LANES]; 2],
    };

    /// Whether everything could follow in a lane.
    pub fn whole(&self, lane: usize) -> bool {
        self.rates.iter().all(|rate| rate[lane].is_finite())
    }

    /// Takes a lane from a motion found otherwise.
    pub fn set(&mut self, lane: usize, motion: &CornerMotion<f64>) {
        if let Some(damper) = &motion.damper {
            self.damper.set(lane, damper);
        }
        if let Some(bar) = &motion.bar {
            self.bar.set(lane, bar);
        }
    }
}

/// A hinged part in lanes.
#[repr(align(64))]
struct SwingsAbreast {
    cos: Column,
    sin: Column,
    rate: Column,
}

impl SwingsAbreast {
    #[inline(always)]
    fn at(&self, lane: usize) -> SwingPose<f64> {
        SwingPose { cos: self.cos[lane], sin: self.sin[lane], rate: self.rate[lane] }
    }
}

/// Place and velocity of a point in lanes.
struct Moving {
    at: Vectors,
    velocity: Vectors,
}

impl Moving {
    #[inline(always)]
    fn each(of: impl Fn(usize) -> (Vector3<f64>, Vector3<f64>)) -> Self {
        let mut moving = Moving { at: Vectors::ZERO, velocity: Vectors::ZERO };
        for lane in 0..LANES {
            let (at, velocity) = of(lane);
            moving.at.set(lane, &at);
            moving.velocity.set(lane, &velocity);
        }
        moving
    }
}

impl WheelModel<f64> {
    #[inline(always)]
    fn carried_abreast(
        &self,
        mount: &Mount<f64>,
        poses: &Poses,
        twists: &Twists,
        rocker: Option<(&Swing<f64>, &SwingsAbreast)>,
    ) -> Moving {
        match (mount, rocker) {
            (Mount::Upright(at), _) => Moving::each(
                #[inline(always)]
                |lane| on_upright(at, &poses.at(lane), &twists.at(lane)),
            ),
            (Mount::Arm(arm, joint), _) => Moving::each(
                #[inline(always)]
                |lane| on_arm(arm, joint, &poses.at(lane), &twists.at(lane)),
            ),
            (Mount::Rocker(design), Some((swing, swings))) => Moving::each(
                #[inline(always)]
                |lane| on_rocker(design, swing, &swings.at(lane)),
            ),
            (Mount::Body(at), _) => Moving::each(
                #[inline(always)]
                |_| (*at, Vector3::zeros()),
            ),
            (Mount::Rocker(_), None) => {
                let none = Vector3::repeat(f64::NAN);
                Moving::each(
                    #[inline(always)]
                    |_| (none, none),
                )
            }
        }
    }

    #[inline(always)]
    fn swings_abreast(
        &self,
        worked: &Worked<f64>,
        poses: &Poses,
        twists: &Twists,
        rocker: Option<(&Swing<f64>, &SwingsAbreast)>,
    ) -> SwingsAbreast {
        let mover = self.carried_abreast(&worked.mover, poses, twists, rocker);
        let mut swings = SwingsAbreast { cos: [0.0; LANES], sin: [0.0; LANES], rate: [0.0; LANES] };
        for lane in 0..LANES {
            let pose = worked.swing.pose_if_any(&mover.at.at(lane), &mover.velocity.at(lane));
            swings.cos[lane] = pose.cos;
            swings.sin[lane] = pose.sin;
            swings.rate[lane] = pose.rate;
        }
        swings
    }

    /// Damper and bar arm for these poses and velocities of the upright.
    #[inline(always)]
    pub fn follow_abreast(&self, poses: &Poses, twists: &Twists, followers: &mut FollowersAbreast) {
        let rocker = self.rocker.as_ref().map(|worked| {
            let swings = self.swings_abreast(worked, poses, twists, None);
            followers.rates[0] = swings.rate;
            (&worked.swing, swings)
        });
        let rocker = rocker.as_ref().map(|(swing, swings)| (*swing, swings));
        if let Some(damper) = &self.damper {
            let eye = self.carried_abreast(&damper.mover, poses, twists, rocker);
            for lane in 0..LANES {
                let followed = distance(&(eye.at.at(lane) - damper.body_eye), &eye.velocity.at(lane));
                followers.damper.set(lane, &followed);
            }
        }
        if let Some(worked) = &self.bar {
            let swings = self.swings_abreast(worked, poses, twists, rocker);
            followers.rates[1] = swings.rate;
            for lane in 0..LANES {
                followers.bar.set(lane, &self.bar_turn(&swings.at(lane)));
            }
        }
    }

    /// The motion in a lane.
    #[inline(always)]
    pub fn motion_abreast(
        &self,
        lane: usize,
        poses: &Poses,
        stepped: &Stepped,
        followers: &FollowersAbreast,
        reference: &Reference<f64>,
    ) -> CornerMotion<f64> {
        self.motion_with(
            &poses.at(lane),
            stepped.by_travel.at(lane),
            stepped.by_steer.at(lane),
            self.damper.as_ref().map(|_| followers.damper.at(lane)),
            self.bar.as_ref().map(|_| followers.bar.at(lane)),
            reference,
        )
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

    /// All readings of the wheel in every lane, on a ground with this normal. What there is not is
    /// not-a-number, so that no lane goes another way than its neighbours.
    #[inline(always)]
    pub fn read_abreast(
        &self,
        poses: &Poses,
        stepped: &Stepped,
        followers: &FollowersAbreast,
        reference: &Reference<f64>,
        normal: Vector3<f64>,
        readings: &mut [Column; WHEEL_READINGS],
    ) {
        let axis = self.axis_abreast(poses, stepped);
        let toe_link = if self.toe_outer.is_some() { 0.0 } else { f64::NAN };
        let none = Followed { value: f64::NAN, per_travel: f64::NAN };
        for lane in 0..LANES {
            let upright = poses.at(lane);
            let by_steer = stepped.by_steer.at(lane);
            let by_steer = Twist { v: by_steer.v.add_scalar(toe_link), w: by_steer.w.add_scalar(toe_link) };
            let motion = CornerMotion {
                side: self.design.side,
                steered: self.design.steered,
                wheel_centre: upright.origin,
                spin_axis: upright.direction(&self.design.spin_axis),
                tyre_radius: self.design.tyre_radius,
                tyre_shoulder: self.design.tyre_shoulder,
                steering_axis: Some(axis.at(lane)),
                toe_link_outer: None,
                by_travel: stepped.by_travel.at(lane),
                by_steer: Some(by_steer),
                damper: Some(followers.damper.at(lane)),
                bar: Some(followers.bar.at(lane)),
                wheel_rate: Some(none),
                reference: *reference,
            };
            let wheel = OnGround::of(&motion, normal);
            each_wheel_value(&motion, &wheel, |i, value| readings[i][lane] = value);
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
