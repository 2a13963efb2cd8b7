//! What follows a wheel, for many poses of its upright side by side.

use super::{DrivenPartsModel, LinearElement, Mount, Worked, on_arm, on_rocker, on_upright};
use crate::driven::driven_motion::{DrivenMotion, DropLink, Moving, ValueAndRate};
use crate::mechanism::hinged::{Swing, SwingPose};
use crate::mechanism::{Poses, Twists};
use crate::number::lanes::{LANES, Lanes, Vectors};
use nalgebra::Vector3;

/// A length or angle and its rate in lanes.
#[derive(Clone, Debug)]
#[repr(align(64))]
pub(crate) struct ValueAndRateBatch {
    value: Lanes,
    per_travel: Lanes,
}

impl ValueAndRateBatch {
    /// Of something there is not.
    const NONE: ValueAndRateBatch =
        ValueAndRateBatch { value: [f64::NAN; LANES], per_travel: [f64::NAN; LANES] };

    /// In a lane.
    #[inline(always)]
    pub fn at(&self, lane: usize) -> ValueAndRate<f64> {
        ValueAndRate { value: self.value[lane], per_travel: self.per_travel[lane] }
    }

    #[inline(always)]
    fn set(&mut self, lane: usize, followed: &ValueAndRate<f64>) {
        self.value[lane] = followed.value;
        self.per_travel[lane] = followed.per_travel;
    }
}

/// A point in lanes.
#[derive(Clone, Debug)]
struct MovingBatch {
    at: Vectors,
    per_travel: Vectors,
}

impl MovingBatch {
    const NONE: MovingBatch = MovingBatch { at: Vectors::ZERO, per_travel: Vectors::ZERO };

    #[inline(always)]
    fn each(of: impl Fn(usize) -> Moving<f64>) -> Self {
        let mut moving = MovingBatch::NONE;
        for lane in 0..LANES {
            moving.set(lane, &of(lane));
        }
        moving
    }

    #[inline(always)]
    fn at(&self, lane: usize) -> Moving<f64> {
        Moving { at: self.at.at(lane), per_travel: self.per_travel.at(lane) }
    }

    #[inline(always)]
    fn set(&mut self, lane: usize, moving: &Moving<f64>) {
        self.at.set(lane, &moving.at);
        self.per_travel.set(lane, &moving.per_travel);
    }
}

/// A hinged part in lanes.
#[repr(align(64))]
struct SwingsAbreast {
    cos: Lanes,
    sin: Lanes,
    rate: Lanes,
}

impl SwingsAbreast {
    #[inline(always)]
    fn at(&self, lane: usize) -> SwingPose<f64> {
        SwingPose { cos: self.cos[lane], sin: self.sin[lane], rate: self.rate[lane] }
    }
}

/// A rocker and where it stands in every lane.
type Standing<'a> = Option<(&'a Swing<f64>, &'a SwingsAbreast)>;

/// Everything that follows the upright, in lanes; not-a-number where there is no such thing.
#[derive(Clone, Debug)]
pub(crate) struct DrivenPartsBatch {
    /// Turn of the rocker.
    pub rocker: ValueAndRateBatch,
    /// Length of the damper.
    pub damper: ValueAndRateBatch,
    /// Length of a spring that stands apart.
    pub spring: ValueAndRateBatch,
    /// Turn of the bar's arm.
    pub bar: ValueAndRateBatch,
    drop_link: MovingBatch,
    third_spring_end: MovingBatch,
}

impl DrivenPartsBatch {
    /// Nothing follows yet.
    pub const NONE: DrivenPartsBatch = DrivenPartsBatch {
        rocker: ValueAndRateBatch::NONE,
        damper: ValueAndRateBatch::NONE,
        spring: ValueAndRateBatch::NONE,
        bar: ValueAndRateBatch::NONE,
        drop_link: MovingBatch::NONE,
        third_spring_end: MovingBatch::NONE,
    };

    /// Takes a lane from a motion found otherwise.
    pub fn set(&mut self, lane: usize, motion: &DrivenMotion<f64>) {
        for (column, one) in [
            (&mut self.rocker, &motion.rocker),
            (&mut self.damper, &motion.damper),
            (&mut self.spring, &motion.spring),
            (&mut self.bar, &motion.bar),
        ] {
            if let Some(one) = one {
                column.set(lane, one);
            }
        }
        if let Some(link) = &motion.drop_link {
            self.drop_link.set(lane, &link.outer);
        }
        if let Some(end) = &motion.third_spring_end {
            self.third_spring_end.set(lane, end);
        }
    }
}

#[inline(always)]
fn carried(mount: &Mount<f64>, poses: &Poses, twists: &Twists, rocker: Standing<'_>) -> MovingBatch {
    match (mount, rocker) {
        (Mount::Upright(at), _) => MovingBatch::each(
            #[inline(always)]
            |lane| on_upright(at, &poses.at(lane), &twists.at(lane)),
        ),
        (Mount::Arm(arm, joint), _) => MovingBatch::each(
            #[inline(always)]
            |lane| on_arm(arm, joint, &poses.at(lane), &twists.at(lane)),
        ),
        (Mount::Rocker(design), Some((swing, swings))) => MovingBatch::each(
            #[inline(always)]
            |lane| on_rocker(design, swing, &swings.at(lane)),
        ),
        (Mount::Body(at), _) => MovingBatch::each(|_| Moving { at: *at, per_travel: Vector3::zeros() }),
        (Mount::Rocker(_), None) => {
            let none = Vector3::repeat(f64::NAN);
            MovingBatch::each(|_| Moving { at: none, per_travel: none })
        }
    }
}

impl Worked<f64> {
    #[inline(always)]
    fn abreast(
        &self,
        poses: &Poses,
        twists: &Twists,
        rocker: Standing<'_>,
        turned: &mut ValueAndRateBatch,
    ) -> SwingsAbreast {
        let mover = carried(&self.mover, poses, twists, rocker);
        let mut swings = SwingsAbreast { cos: [0.0; LANES], sin: [0.0; LANES], rate: [0.0; LANES] };
        for lane in 0..LANES {
            let mover = mover.at(lane);
            let pose = self.swing.pose_if_any(&mover.at, &mover.per_travel);
            swings.cos[lane] = pose.cos;
            swings.sin[lane] = pose.sin;
            swings.rate[lane] = pose.rate;
            turned.set(lane, &self.turned(&pose));
        }
        swings
    }
}

impl LinearElement<f64> {
    #[inline(always)]
    fn abreast(&self, poses: &Poses, twists: &Twists, rocker: Standing<'_>, between: &mut ValueAndRateBatch) {
        let eye = carried(&self.mover, poses, twists, rocker);
        for lane in 0..LANES {
            between.set(lane, &self.between(&eye.at(lane)));
        }
    }
}

impl DrivenPartsModel<f64> {
    /// Where everything stands for these poses and velocities of the upright.
    #[inline(always)]
    pub fn abreast(&self, poses: &Poses, twists: &Twists, followers: &mut DrivenPartsBatch) {
        let rocker = self
            .rocker
            .as_ref()
            .map(|worked| (&worked.swing, worked.abreast(poses, twists, None, &mut followers.rocker)));
        let rocker = rocker.as_ref().map(|(swing, swings)| (*swing, swings));
        if let Some(eyes) = &self.damper {
            eyes.abreast(poses, twists, rocker, &mut followers.damper);
        }
        if let Some(eyes) = &self.spring {
            eyes.abreast(poses, twists, rocker, &mut followers.spring);
        }
        if let Some(worked) = &self.bar {
            worked.abreast(poses, twists, rocker, &mut followers.bar);
        }
        if let Some(link) = &self.drop_link {
            followers.drop_link = carried(&link.mover, poses, twists, rocker);
        }
        if let Some(mover) = &self.third_spring {
            followers.third_spring_end = carried(mover, poses, twists, rocker);
        }
    }

    /// Whether everything could follow in a lane.
    pub fn whole(&self, followers: &DrivenPartsBatch, lane: usize) -> bool {
        let could = |worked: &Option<Worked<f64>>, turned: &ValueAndRateBatch| {
            worked.is_none() || turned.per_travel[lane].is_finite()
        };
        could(&self.rocker, &followers.rocker) && could(&self.bar, &followers.bar)
    }

    /// What the upright drives in a lane.
    #[inline(always)]
    pub fn motion(&self, followers: &DrivenPartsBatch, lane: usize) -> DrivenMotion<f64> {
        DrivenMotion {
            rocker: self.rocker.as_ref().map(|_| followers.rocker.at(lane)),
            damper: self.damper.as_ref().map(|_| followers.damper.at(lane)),
            spring: self.spring.as_ref().map(|_| followers.spring.at(lane)),
            bar: self.bar.as_ref().map(|_| followers.bar.at(lane)),
            drop_link: self.drop_link.as_ref().map(|link| {
                let outer = followers.drop_link.at(lane);
                DropLink { outer, bar: link.bar, length: link.length }
            }),
            third_spring_end: self.third_spring.as_ref().map(|_| followers.third_spring_end.at(lane)),
        }
    }
}
