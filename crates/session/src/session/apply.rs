//! Doing an edit.

use super::car_edit::{CarEdit, Target};
use super::change::{Cars, changed, name_of};
use super::edit::{Cycle, Edit, FileCommand};
use super::history::State;
use super::notice::{About, Notice, beyond_stops, of_finding, of_unsolvable};
use super::recovery::TAKEN_UP;
use super::values::Values;
use super::{Happened, Playing, Session};
use crate::keep::CarRevision;
use std::f64::consts::TAU;
use wheelpath_geometry::{Car, CarPose, CarSolver, LengthUnit, Severity, SolvedCar, Stop, check_in};

/// Seconds a cycle takes.
const PERIOD: f64 = 6.0;
/// Halvings of the way to a pose out of reach: 40 mm to a micrometre.
const HALVINGS: usize = 16;

/// What the check says of a car; lengths are said in this unit.
pub(super) fn findings(car: &Car, lengths: LengthUnit) -> Vec<Notice> {
    check_in(car, lengths).iter().map(of_finding).collect()
}

impl Session {
    /// Does one edit. What cannot be done leaves everything as it was, and a notice says why.
    pub fn apply(&mut self, edit: Edit) {
        self.note_in_journal(|| Happened::Edit(edit.clone()));
        self.apply_unnoted(edit);
    }

    /// Does an edit that is part of another.
    pub(super) fn apply_unnoted(&mut self, edit: Edit) {
        if !matches!(
            edit,
            Edit::Tick(_) | Edit::Settle | Edit::Preview(_) | Edit::File(FileCommand::SheetDone { .. })
        ) {
            self.refused = None;
        }
        match edit {
            Edit::Change(edit) => self.change(&edit),
            Edit::Settle => {
                self.history.settle();
                self.keep_for_recovery();
            }
            Edit::Undo => {
                // What was taken up after a kill is offered again, also after the next change and the next kill.
                if self.history.next_undo() == Some(TAKEN_UP) {
                    self.set_aside();
                }
                if let Some(state) = self.history.undo(self.state()) {
                    self.put_state(state);
                    self.keep_for_recovery();
                }
            }
            Edit::Redo => {
                if let Some(state) = self.history.redo(self.state()) {
                    self.put_state(state);
                    self.keep_for_recovery();
                }
            }
            Edit::SetTravel { wheels, travel } => {
                self.let_go();
                self.pose(wheels.put(&self.held.pose, travel));
            }
            Edit::SetSteer(steer) => {
                self.playing = None;
                self.steer_to(steer);
            }
            Edit::SetPose(pose) => {
                self.let_go();
                self.pose(pose);
            }
            Edit::Stand(body) => {
                self.playing = None;
                self.stand(&body);
            }
            Edit::ResetPose => {
                self.let_go();
                self.pose(CarPose::REFERENCE);
            }
            Edit::Preview(pose) => self.show_preview(pose),
            Edit::Play(cycle) => self.play(cycle),
            Edit::Tick(seconds) => self.tick(seconds),
            Edit::SetPlate { assembly, hardpoint, by, mirrored } => {
                self.set_plate(assembly, hardpoint, by, mirrored)
            }
            Edit::Requirement(change) => self.change_limit(&change),
            Edit::CompareWith(proposal) => self.compare_with(proposal.as_deref()),
            Edit::File(command) => self.with_files(command),
        }
    }

    /// Carries out a command about files.
    fn with_files(&mut self, command: FileCommand) {
        match command {
            FileCommand::SaveAs { path, replace } => self.save_as(&path, replace),
            FileCommand::ImportTable(path) => self.import_table(&path),
            FileCommand::CompareWithCar(path) => self.compare_with_file(&path),
            FileCommand::KeepPlate { assembly, hardpoint, mirrored } => {
                self.keep_plate(assembly, hardpoint, mirrored)
            }
            FileCommand::WriteSheet { bracket, path, replace } => {
                self.ask_for_sheet(&bracket, &path, replace)
            }
            FileCommand::SheetDone { number, outcome } => self.sheet_done(number, outcome),
            FileCommand::SaveProposal { name, path, replace } => self.save_proposal(&name, &path, replace),
            FileCommand::OpenProposal(file) => self.open_proposal(&file),
            FileCommand::SaveOpen => self.save_open(),
            FileCommand::SaveLimits => self.save_limits(),
            FileCommand::OpenCar { path, proposal } => self.open_car(&path, proposal.as_deref()),
            FileCommand::Answer { path, answer } => self.answer(&path, answer),
            FileCommand::Recover => self.recover(),
            FileCommand::DiscardRecovery => self.discard_recovery(),
            FileCommand::BringBack => self.bring_back(),
            FileCommand::LeaveThrownAway => self.file.thrown_here = false,
        }
    }

    #[inline(never)]
    pub(super) fn change(&mut self, edit: &CarEdit) {
        let target = edit.target();
        let start = self.history.before(target).map_or(&self.car, |before| &before.car);
        let cars = Cars { now: &self.car, start, original: &self.original };
        let to = match changed(cars, edit, self.units()) {
            Ok(car) => car,
            Err(reason) => return self.refuse(About::Car, reason, "nothing was changed".into()),
        };
        if to == self.car {
            return;
        }
        if self.history.before(target).is_some_and(|before| before.car == to) {
            self.history.drop_last();
        } else {
            let before = self.history.before(target).cloned().unwrap_or_else(|| self.state());
            let name = name_of(&before.car, &to, edit, self.units());
            self.history.note(target, edit.joins(), before, name);
        }
        if edit.begins_anew() {
            self.open = None;
        }
        self.put(to);
    }

    /// Takes another state as one step of undo, and keeps it for recovery.
    pub(super) fn step(&mut self, to: State, name: String) {
        if to != self.state() {
            self.history.note(Target::Whole, false, self.state(), name);
            self.put_state(to);
        }
        self.history.settle();
        self.keep_for_recovery();
    }

    #[inline(never)]
    fn put_state(&mut self, state: State) {
        self.limits = state.limits;
        if self.open != state.open {
            // What was written is of another proposal than what is shown from now on.
            self.file.sheets = None;
        }
        self.open = state.open;
        if state.car != self.car {
            self.put(state.car);
        }
    }

    pub(super) fn refuse(&mut self, about: About, text: String, remedy: String) {
        self.refused = Some(Notice { about, severe: true, text, remedy });
    }

    /// Takes a car as the edited one, and solves it if it can be solved.
    #[inline(never)]
    fn put(&mut self, car: Car) {
        let found = check_in(&car, self.units());
        self.findings = found.iter().map(of_finding).collect();
        let faulty = found.iter().any(|finding| finding.severity == Severity::Fault);
        self.car = car;
        match CarSolver::new(&self.car) {
            Ok(solver) if !faulty => {
                self.solver = solver;
                *self.solver_car = self.car.clone();
                self.revision = CarRevision::fresh();
                let preview = self.preview.map(|solved| solved.pose);
                self.preview = None;
                self.stand_again();
                self.hold(self.asked, self.limit.as_ref().is_some_and(|(_, steer)| *steer));
                self.show_preview(preview);
            }
            Ok(_) => {}
            // The check says the same with more words, where it says anything.
            Err(stops) if !faulty => {
                let lengths = self.units();
                self.findings.extend(stops.iter().map(|stop| of_unsolvable(stop, lengths)));
            }
            Err(_) => {}
        }
    }

    /// Ends a cycle, and lets go of a body that is held: travels are set now.
    fn let_go(&mut self) {
        self.playing = None;
        self.stood = None;
    }

    pub(super) fn pose(&mut self, pose: CarPose) {
        self.preview = None;
        let steer_asked = (pose.steer - self.held.pose.steer).abs() > 1e-9;
        self.hold(pose, steer_asked);
        // Steps from a limit start at the limit, not beyond it.
        self.asked = self.held.pose;
    }

    /// Takes the pose, or as much of the way to it as can be gone.
    fn hold(&mut self, asked: CarPose, steer_asked: bool) {
        if !(asked.steer.is_finite() && asked.travel.iter().all(|t| t.is_finite())) {
            return self.refuse(
                About::Car,
                "travel and steer must be finite".into(),
                "the pose was kept".into(),
            );
        }
        self.asked = asked;
        match self.solver.solve(&asked) {
            Ok(solved) => {
                self.held = solved;
                self.limit = None;
            }
            Err(stop) => {
                let (held, nearest) = self.furthest(&asked);
                self.held = held;
                // What ends the way first, which need not be what the pose asked for fails at.
                self.limit = Some((nearest.unwrap_or(stop), steer_asked));
            }
        }
        self.refresh();
    }

    /// The last pose on the way to one that cannot be reached, and what ends the way just beyond it.
    fn furthest(&self, asked: &CarPose) -> (SolvedCar, Option<Stop>) {
        let start = self.solver.solve(&self.held.pose).unwrap_or_else(|_| self.solver.start());
        let (mut good, mut ends) = (start, None);
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let share = 0.5 * (low + high);
            let between = |a: f64, b: f64| a + (b - a) * share;
            let mut pose = CarPose { steer: between(start.pose.steer, asked.steer), ..start.pose };
            for (travel, (from, to)) in
                pose.travel.iter_mut().zip(start.pose.travel.iter().zip(&asked.travel))
            {
                *travel = between(*from, *to);
            }
            match self.solver.solve(&pose) {
                Ok(solved) => {
                    low = share;
                    good = solved;
                }
                Err(stop) => {
                    high = share;
                    ends = Some(stop);
                }
            }
        }
        (good, ends)
    }

    fn show_preview(&mut self, pose: Option<CarPose>) {
        if pose.as_ref() == self.previewed() {
            return;
        }
        let finite = |pose: &CarPose| pose.steer.is_finite() && pose.travel.iter().all(|t| t.is_finite());
        self.preview = pose.filter(finite).and_then(|pose| self.solver.solve(&pose).ok());
        self.refresh();
    }

    pub(super) fn refresh(&mut self) {
        let shown = *self.shown();
        self.values = Values::of(&shown);
        self.baseline_shown = self.baseline_solver.solve(&shown.pose).ok();
        self.baseline_values = self.baseline_shown.as_ref().map(Values::of);
        self.beyond = beyond_stops(self);
        self.body = self.read_body();
    }

    fn play(&mut self, cycle: Option<Cycle>) {
        self.preview = None;
        if matches!(cycle, Some(Cycle::Travel(_))) {
            self.stood = None;
        }
        self.playing = cycle.map(|cycle| {
            let (middle, swing) = self.stroke(cycle);
            let here = match cycle {
                Cycle::Travel(wheels) => wheels.travel(&self.held.pose).unwrap_or(middle),
                Cycle::Steer => self.held.pose.steer,
            };
            let share = if swing > 0.0 { ((here - middle) / swing).clamp(-1.0, 1.0) } else { 0.0 };
            Playing { cycle, time: share.asin() / TAU * PERIOD }
        });
        self.refresh();
    }

    /// Middle and half length of a cycle's stroke, metres.
    fn stroke(&self, cycle: Cycle) -> (f64, f64) {
        let [low, high] = match cycle {
            Cycle::Travel(_) => self.reach.common_travel(),
            Cycle::Steer => self.reach.steer,
        };
        (0.5 * (low + high), 0.5 * (high - low))
    }

    fn tick(&mut self, seconds: f64) {
        let Some(playing) = self.playing.as_mut() else { return };
        if !seconds.is_finite() {
            return;
        }
        // After a pause (a window dragged, a slow frame) it goes on, it does not jump.
        playing.time = (playing.time + seconds.clamp(0.0, 0.25)).rem_euclid(PERIOD);
        let (cycle, share) = (playing.cycle, (playing.time / PERIOD * TAU).sin());
        let (middle, swing) = self.stroke(cycle);
        let at = middle + swing * share;
        match cycle {
            Cycle::Travel(wheels) => self.hold(wheels.put(&self.held.pose, at), false),
            Cycle::Steer => self.steer_to(at),
        }
    }

    /// The limit that keeps the pose asked for from being reached, if one does.
    #[must_use]
    pub fn limit(&self) -> Option<&Stop> {
        self.limit.as_ref().map(|(stop, _)| stop)
    }
}
