//! What is done on the stage, as edits.

use super::work::{Panels, Work};
use crate::adapter::{Pulled, handle_of, point_of, wheel_of};
use crate::panels::{Front, Task, UiState};
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, CarPose, Hardpoint, reading};
use wheelpath_session::between::between;
use wheelpath_session::{CarEdit, Edit, Guide, Session, Wheels, snapped};
use wheelpath_stage::pick::Target;
use wheelpath_stage::pick::pointer_input::Phase;
use wheelpath_stage::render::messages::{
    StageClick, StageHandlePull, StageLabelClick, StagePointPull, StagePull, StageSteer,
};

/// Less than this along an axis is no pull along it, metres: a pull square to an axis turns back to nothing
/// but rounding along it.
const UNMOVED: f64 = 1e-9;

/// What is held by the hand, and what was before.
#[derive(Resource, Debug, Default)]
pub struct DragOrigin {
    pose: CarPose,
    point: Option<Pulled>,
    handle: Option<HeldHandle>,
    /// Radians of steer a metre of rack or radian of pitman arm, at the wheel that is turned.
    steer_gain: f64,
}

/// A handle that is pulled.
#[derive(Clone, Copy, Debug)]
struct HeldHandle {
    assembly: Assembly,
    hardpoint: Hardpoint,
    guide: Guide,
    /// How far along it the point stood from the original when the pull began, metres.
    before: [f64; 2],
}

impl DragOrigin {
    /// A tyre pulled up or down.
    fn pull(&mut self, session: &Session, pull: &StagePull) -> Option<Edit> {
        let at = wheel_of(pull.place);
        if pull.phase == Phase::Began {
            self.pose = *session.held_pose();
        }
        if pull.phase == Phase::GivenUp {
            return Some(Edit::SetPose(self.pose));
        }
        let travel = self.pose.travel_of(at) + pull.travel_change;
        (pull.travel_change != 0.0 || pull.phase != Phase::Began)
            .then_some(Edit::SetTravel { wheels: Wheels::One(at), travel })
    }

    /// A wheel turned by hand: rack or pitman arm goes where its steer gain leads.
    fn steer(&mut self, session: &Session, steer: &StageSteer) -> Option<Edit> {
        let at = wheel_of(steer.place);
        if steer.phase == Phase::Began {
            self.pose = *session.held_pose();
            // Of a rack or of a pitman arm: an axle has one of them.
            self.steer_gain = ["steer_gain", "steer_gain_pitman"]
                .into_iter()
                .find_map(|key| session.values().wheel(at, reading(key)?))
                .filter(|gain| gain.abs() > 1e-3)?;
        }
        if steer.phase == Phase::GivenUp {
            return Some(Edit::SetPose(self.pose));
        }
        if self.steer_gain == 0.0 {
            return None;
        }
        let [right, left] = session.reach().steer;
        let input = between(self.pose.steer + steer.angle_change / self.steer_gain, right, left);
        Some(Edit::SetSteer(input))
    }

    /// A point pulled: along each axis in which it is, in steps from where the original has it; mirrored or
    /// not, as the panels say.
    fn pull_point(&mut self, session: &Session, pull: &StagePointPull, panels: &UiState) -> Vec<Edit> {
        let mirrored = panels.mirrored;
        if pull.phase == Phase::Began {
            self.point = point_of(&pull.key)
                .and_then(|(assembly, hardpoint)| Pulled::begin(session, assembly, hardpoint));
        }
        let Some(held) = self.point else { return Vec::new() };
        let (before, step) = (held.design_before(), panels.snap_step(pull.snap_turned));
        let home = held.assembly.hardpoints(session.original()).get(held.hardpoint).unwrap_or(before);
        let to = held.design_place(pull.to.coords);
        let to = Vector3::from_fn(|i, _| {
            let is_pulled = (to[i] - before[i]).abs() > UNMOVED;
            if is_pulled { home[i] + snapped(to[i] - home[i], step) } else { before[i] }
        });
        let change = CarEdit::move_point(held.assembly, held.hardpoint, to, mirrored);
        match pull.phase {
            Phase::Began | Phase::Going => vec![Edit::Change(change)],
            Phase::Ended => {
                self.point = None;
                vec![Edit::Change(change), Edit::Settle]
            }
            Phase::GivenUp => {
                self.point = None;
                let back = CarEdit::move_point(held.assembly, held.hardpoint, before, mirrored);
                vec![Edit::Change(back), Edit::Settle]
            }
        }
    }

    /// A point pulled by a handle: in steps from where the original has it, mirrored or not, as the panels
    /// say.
    fn pull_handle(&mut self, session: &Session, pull: &StageHandlePull, panels: &UiState) -> Vec<Edit> {
        if pull.phase == Phase::Began {
            self.handle = handle_of(&pull.key).and_then(|(assembly, hardpoint, handle)| {
                let guide = session.guide(assembly, hardpoint, handle)?;
                let before = session.pulled(assembly, hardpoint, &guide);
                Some(HeldHandle { assembly, hardpoint, guide, before })
            });
            // What was done along it before is a step of its own.
            return vec![Edit::Settle];
        }
        let Some(HeldHandle { assembly, hardpoint, guide, before }) = self.handle else { return Vec::new() };
        let step = panels.snap_step(pull.snap_turned);
        let snap = |n: usize| snapped(before[n] + pull.by[n], step) - before[n];
        let by = [snap(0), if guide.across.is_some() { snap(1) } else { 0.0 }];
        let change =
            |by| Edit::Change(CarEdit::Pull { assembly, hardpoint, guide, by, mirrored: panels.mirrored });
        match pull.phase {
            Phase::Began | Phase::Going => vec![change(by)],
            Phase::Ended => {
                self.handle = None;
                vec![change(by), Edit::Settle]
            }
            Phase::GivenUp => {
                self.handle = None;
                vec![change([0.0; 2]), Edit::Settle]
            }
        }
    }

    /// The point under the hand.
    #[must_use]
    pub fn held_point(&self) -> Option<(Assembly, Hardpoint)> {
        self.point.map(|point| (point.assembly, point.hardpoint))
    }
}

#[expect(clippy::too_many_arguments, reason = "a system's parameters are what it reads and writes")]
pub(super) fn answer_stage(
    mut pulls: MessageReader<StagePull>,
    mut steers: MessageReader<StageSteer>,
    mut points: MessageReader<StagePointPull>,
    mut handles: MessageReader<StageHandlePull>,
    mut clicks: MessageReader<StageClick>,
    mut labels: MessageReader<StageLabelClick>,
    mut work: ResMut<Work>,
    mut panels: ResMut<Panels>,
    mut grip: ResMut<DragOrigin>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let mut done = false;
    for pull in pulls.read() {
        if let Some(edit) = grip.pull(&work.0, pull) {
            work.0.apply(edit);
            done = true;
        }
    }
    for steer in steers.read() {
        if let Some(edit) = grip.steer(&work.0, steer) {
            work.0.apply(edit);
            done = true;
        }
    }
    for pull in points.read() {
        for edit in grip.pull_point(&work.0, pull, &panels.0) {
            work.0.apply(edit);
            done = true;
        }
        if let Some(held) = grip.held_point().filter(|_| pull.phase == Phase::Began) {
            panels.0.go_to(Task::Change);
            panels.0.select(Some(held));
        }
    }
    for pull in handles.read() {
        for edit in grip.pull_handle(&work.0, pull, &panels.0) {
            work.0.apply(edit);
            done = true;
        }
        if let Some((.., handle)) = handle_of(&pull.key).filter(|_| pull.phase == Phase::Began) {
            panels.0.handle = Some(handle);
        }
    }
    for StageClick(target) in clicks.read() {
        done = true;
        match target {
            Target::Handle { key, .. } => panels.0.handle = handle_of(key).map(|(.., handle)| handle),
            Target::Point { key, .. } => {
                panels.0.go_to(Task::Change);
                panels.0.select(point_of(key));
            }
            Target::Tyre { place, .. } => {
                let at = wheel_of(*place);
                panels.0.corner = at;
                panels.0.end = at.end;
                panels.0.select(None);
            }
            _ => panels.0.select(None),
        }
    }
    for click in labels.read() {
        done = true;
        (panels.0.task, panels.0.front) = (Task::Look, Front::Task);
        panels.0.picked_reading = reading(&click.reading).map(|reading| reading.key);
        if let Some(place) = click.place {
            panels.0.end = wheel_of(place).end;
        }
    }
    // The panels are drawn later in this frame with all of it; the next one lets them settle.
    if done {
        redraw.write(RequestRedraw);
    }
}
