//! Sweeps of a row of corners that differ evenly from one to the next.
//!
//! Poses of three corners, each at the same travel, say where that of the next one is, so well that one or
//! two steps close it. Every pose is tested as in a sweep, its assembly against that of its own corner's
//! design pose; where one of them is not sure, the corner is swept by itself.

use crate::corner::corner_solver::CornerSolver;
use crate::mechanism::stop::Stop;
use crate::number::lanes::LANES;
use crate::readings::{Reading, Scope, WHEEL_READINGS, family_of};
use crate::sweep::hermite_segment::plain;
use crate::sweep::pose_batch::{Between, PoseBatch, Prediction, Wanted};
use crate::sweep::sweep_direction::SweepDirection;

/// Poses of the corners before, at some travels.
#[derive(Default)]
pub struct SweepHistory {
    travels: Vec<f64>,
    steer: f64,
    /// The last corner's poses, those of the one before, and so on.
    past: [Vec<[f64; 5]>; 3],
    known: usize,
    blocks: Vec<PoseBatch>,
}

impl SweepHistory {
    /// With no corner before.
    #[must_use]
    pub fn new() -> Self {
        SweepHistory::default()
    }

    /// The next corner is no neighbour of the last one.
    pub fn forget(&mut self) {
        self.known = 0;
    }

    /// Whether three corners before stood at these travels and this steering input.
    fn leads_to(&self, travels: &[f64], steer: f64) -> bool {
        self.known == self.past.len()
            && self.steer.to_bits() == steer.to_bits()
            && self.travels.iter().map(|t| t.to_bits()).eq(travels.iter().map(|t| t.to_bits()))
    }

    /// Where the next corner's poses may be, those from `first` on; lanes left over repeat the last.
    fn predicted(&self, first: usize) -> [[f64; 5]; LANES] {
        let [last, before, first_of_all] = &self.past;
        std::array::from_fn(|lane| {
            let i = (first + lane).min(last.len().saturating_sub(1));
            std::array::from_fn(|k| 3.0 * (last[i][k] - before[i][k]) + first_of_all[i][k])
        })
    }

    /// Room for one more corner's poses.
    fn begin(&mut self, travels: &[f64], steer: f64) -> Vec<[f64; 5]> {
        if self.travels != travels || self.steer.to_bits() != steer.to_bits() {
            self.known = 0;
            self.travels = travels.to_vec();
            self.steer = steer;
        }
        let mut oldest = std::mem::take(&mut self.past[2]);
        oldest.clear();
        oldest
    }

    fn end(&mut self, poses: Vec<[f64; 5]>) {
        if poses.len() == self.travels.len() {
            self.past.rotate_right(1);
            self.past[0] = poses;
            self.known = (self.known + 1).min(self.past.len());
        } else {
            self.known = 0;
        }
    }
}

impl CornerSolver {
    /// A reading of the wheel at every travel of a list, metres, on ground parallel to the body's XY plane:
    /// its values at some of them that follow one another, with the place of the first. Right to nine
    /// digits: velocities are those of a place within 1e-9 m and rad. Not-a-number for a reading of an axle.
    /// Quick where the trail knows three corners that differ as evenly as from the last of them to this one.
    ///
    /// # Errors
    /// The limit at which the sweep ends; the travels before it have been handed over.
    pub fn sweep_reading_on(
        &self,
        trail: &mut SweepHistory,
        reading: &Reading,
        travels: &[f64],
        steer: f64,
        mut each: impl FnMut(usize, &[f64]),
    ) -> Result<(), Stop> {
        let mut readings = [[f64::NAN; LANES]; WHEEL_READINGS];
        let led = trail.leads_to(travels, steer) && self.step_on(trail, travels, steer).is_some();
        let mut poses = trail.begin(travels, steer);
        let mut hand_over = |first: usize, count: usize, block: &PoseBatch| {
            poses.extend((0..count).map(|lane| plain(&block.pose(lane))));
            if reading.scope == Scope::Wheel {
                block.read(self, Some(family_of(reading.index)), &mut readings);
                each(first, &readings[reading.index][..count]);
            } else {
                each(first, &[f64::NAN; LANES][..count]);
            }
        };
        let swept = if led {
            for (i, (some, block)) in travels.chunks(LANES).zip(&trail.blocks).enumerate() {
                hand_over(i * LANES, some.len(), block);
            }
            Ok(())
        } else {
            self.sweep_blocks(
                travels,
                SweepDirection::Travel { steer },
                Wanted::Drawn,
                |first, count, block| {
                    hand_over(first, count, block);
                },
            )
        };
        trail.end(poses);
        swept
    }

    /// Closes the poses where the trail says; `None` where one of them is not sure.
    fn step_on(&self, trail: &mut SweepHistory, travels: &[f64], steer: f64) -> Option<()> {
        let way = SweepDirection::Travel { steer }.of(self);
        if !way.moves(self) {
            return None;
        }
        let at_design = self.solve(0.0, steer).ok()?;
        let order = self.model.mechanism.elimination(at_design.upright(), &at_design.traced.input)?;
        let wanted = Wanted::Drawn;
        let mut blocks = std::mem::take(&mut trail.blocks);
        blocks.resize_with(travels.len().div_ceil(LANES), PoseBatch::new);
        let sure = travels.chunks(LANES).zip(&mut blocks).enumerate().all(|(i, (some, block))| {
            let beside = trail.predicted(i * LANES);
            let prediction = Prediction::Beside(&beside);
            block.step(some, &Between { solver: self, way, prediction, order: &order }, wanted);
            (0..some.len()).all(|lane| block.trusted(lane, wanted, &self.model.wheel.followers))
        });
        trail.blocks = blocks;
        sure.then_some(())
    }
}
