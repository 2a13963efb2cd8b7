//! The one truth of a window: the car as loaded and as edited, its pose, its solution, its file.
//!
//! Promises: everything done is an [`Edit`] given to [`Session::apply`]; nothing panics on one; what
//! is shown is always a solved pose of a car that can be solved, and where that is not what was asked
//! for, a [`Notice`] says so. It knows neither egui nor Bevy.

mod apply;
mod body;
mod brackets;
mod car_edit;
mod change;
mod companions;
mod comparison;
mod conflict;
mod edit;
mod file;
mod handle;
mod history;
mod improvement;
mod journal;
mod limits;
mod notice;
mod other_files;
mod proposals;
mod reach;
mod recovery;
mod screen_names;
mod sheets;
mod sides;
mod steer;
#[cfg(test)]
mod tests;
mod values;
mod watch;

pub use body::BodyOver;
pub use car_edit::CarEdit;
pub use change::signed_finely;
pub use companions::{Beside, Listed};
pub use comparison::{Moved, noticeable};
pub use conflict::Conflict;
pub use edit::{Bound, Cycle, Edit, FileCommand, LimitChange, Wheels};
pub use file::OpenError;
pub use handle::{Guide, Handle, PlateBy, snapped};
pub use improvement::{Goal, ImprovementDirection, WantedReading};
pub use journal::Happened;
pub use notice::{About, Notice, link_named};
pub use reach::Reach;
pub use sheets::{SheetJob, SheetOutcome, first_file};
pub use steer::SteerWords;
pub use values::Values;

use crate::keep::CarRevision;
use history::History;
use nalgebra::Vector3;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};
use wheelpath_car_file::Document;
use wheelpath_geometry::{
    Assembly, Car, CarPose, CarSolver, Hardpoint, LengthUnit, Requirement, SolvedCar, Stop,
};

/// Sessions so far.
static SERIAL: AtomicU64 = AtomicU64::new(0);

/// A car being worked on.
#[derive(Clone, Debug)]
pub struct Session {
    // A car is large. In a box, it takes no stack where a session is moved.
    original: Box<Car>,
    car: Car,
    /// The car that `solver` was made from: `car`, or the last one that could be solved.
    solver_car: Box<Car>,
    solver: CarSolver,
    baseline_solver: CarSolver,
    /// What was asked for; reached unless `limit` says otherwise.
    asked: CarPose,
    held: SolvedCar,
    preview: Option<SolvedCar>,
    baseline_shown: Option<SolvedCar>,
    values: Values,
    baseline_values: Option<Values>,
    beside: Beside,
    /// The limits as edited.
    limits: Vec<Requirement>,
    /// The proposal that is open, by the name of its file.
    open: Option<String>,
    /// What the car is compared with: the original, or the original with a proposal made.
    baseline: Box<Car>,
    /// The proposal's name, where one is.
    baseline_name: Option<String>,
    baseline_revision: CarRevision,
    limit: Option<(Stop, bool)>,
    /// The body, while it is held over the road.
    stood: Option<body::Stood>,
    body: Result<BodyOver, String>,
    /// The stops and joint limits that the pose shown goes beyond.
    beyond: Vec<Notice>,
    /// What is wrong with the car as typed, and warnings.
    findings: Vec<Notice>,
    /// An edit that made no sense, or a file that could not be written; until the next edit.
    refused: Option<Notice>,
    history: History,
    /// Unit normals of the plates that carry points.
    plates: BTreeMap<(Assembly, Hardpoint), Vector3<f64>>,
    reach: Reach,
    playing: Option<Playing>,
    slopes: improvement::Slopes,
    file: file::Files,
    /// What happened, while it is noted.
    journal: Option<Vec<Happened>>,
    revision: CarRevision,
    serial: u64,
}

#[derive(Clone, Copy, Debug)]
struct Playing {
    cycle: Cycle,
    /// Seconds since the middle of an upward stroke.
    time: f64,
}

impl Session {
    /// A session on a car that belongs to no file.
    ///
    /// # Errors
    /// What keeps the car from being solved.
    // A session is large: kept out of its caller's frame, so that little stack is enough.
    #[inline(never)]
    pub fn new(car: Car) -> Result<Self, Vec<Stop>> {
        let solver = CarSolver::new(&car)?;
        let held = solver.start();
        let values = Values::of(&held);
        let findings = apply::findings(&car, LengthUnit::Millimetre);
        let reach = Reach::of(&car, &solver);
        let mut session = Session {
            original: Box::new(car.clone()),
            baseline: Box::new(car.clone()),
            solver_car: Box::new(car.clone()),
            car,
            baseline_solver: solver.clone(),
            solver,
            asked: CarPose::REFERENCE,
            held,
            preview: None,
            baseline_shown: Some(held),
            baseline_values: Some(values.clone()),
            beside: Beside::default(),
            limits: Vec::new(),
            open: None,
            baseline_name: None,
            baseline_revision: CarRevision::fresh(),
            values,
            limit: None,
            stood: None,
            body: Err(String::new()),
            beyond: Vec::new(),
            findings,
            refused: None,
            history: History::default(),
            plates: BTreeMap::new(),
            reach,
            playing: None,
            slopes: improvement::Slopes::default(),
            file: file::Files::default(),
            journal: None,
            revision: CarRevision::fresh(),
            serial: SERIAL.fetch_add(1, Ordering::Relaxed),
        };
        session.beyond = notice::beyond_stops(&session);
        session.body = session.read_body();
        Ok(session)
    }

    /// The car as it was loaded.
    #[must_use]
    pub fn original(&self) -> &Car {
        &self.original
    }

    /// The car as edited, even where it cannot be solved.
    #[must_use]
    pub fn car(&self) -> &Car {
        &self.car
    }

    /// The car that all results belong to: the edited one, or, while that cannot be solved, the last
    /// one that could.
    #[must_use]
    pub fn solver_car(&self) -> &Car {
        &self.solver_car
    }

    /// Whether the edited car cannot be solved, so that results are those of an earlier one.
    #[must_use]
    pub fn is_stale(&self) -> bool {
        self.car != *self.solver_car
    }

    /// Whether the car differs from the original.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.car != *self.original
    }

    /// The solver of [`solver_car`](Self::solver_car).
    #[must_use]
    pub fn solver(&self) -> &CarSolver {
        &self.solver
    }

    /// The car that is compared with: the original, or the original with a proposal made.
    #[must_use]
    pub fn baseline(&self) -> &Car {
        &self.baseline
    }

    /// Its name: `original`, or the proposal's.
    #[must_use]
    pub fn baseline_name(&self) -> &str {
        self.baseline_name.as_deref().unwrap_or("original")
    }

    /// The name of the car that is compared with: another whenever that is another.
    #[must_use]
    pub fn baseline_revision(&self) -> CarRevision {
        self.baseline_revision
    }

    /// Whether the car whose results are shown differs from the one that is compared with.
    #[must_use]
    pub fn differs(&self) -> bool {
        self.solver_car != self.baseline
    }

    /// The solver of the car that is compared with.
    #[must_use]
    pub fn baseline_solver(&self) -> &CarSolver {
        &self.baseline_solver
    }

    /// The pose shown: a preview while there is one, or else the pose held.
    #[must_use]
    pub fn shown(&self) -> &SolvedCar {
        self.preview.as_ref().unwrap_or(&self.held)
    }

    /// The pose that stays when a preview ends.
    #[must_use]
    pub fn held_pose(&self) -> &CarPose {
        &self.held.pose
    }

    /// The pose previewed, if one is.
    #[must_use]
    pub fn previewed(&self) -> Option<&CarPose> {
        self.preview.as_ref().map(|solved| &solved.pose)
    }

    /// The car that is compared with in the pose shown, if it can take it.
    #[must_use]
    pub fn baseline_shown(&self) -> Option<&SolvedCar> {
        self.baseline_shown.as_ref()
    }

    /// All readings in the pose shown.
    #[must_use]
    pub fn values(&self) -> &Values {
        &self.values
    }

    /// All readings of the car that is compared with in the pose shown, if it can take it.
    #[must_use]
    pub fn baseline_values(&self) -> Option<&Values> {
        self.baseline_values.as_ref()
    }

    /// How far wheels and rack go.
    #[must_use]
    pub fn reach(&self) -> &Reach {
        &self.reach
    }

    /// The cycle being played.
    #[must_use]
    pub fn playing(&self) -> Option<Cycle> {
        self.playing.map(|playing| playing.cycle)
    }

    /// The name of the solved car: another whenever that is another.
    #[must_use]
    pub fn revision(&self) -> CarRevision {
        self.revision
    }

    /// A number that is another for every car that is opened, and stays while one is worked on.
    #[must_use]
    pub fn serial(&self) -> u64 {
        self.serial
    }

    /// What the next undo takes back.
    #[must_use]
    pub fn next_undo(&self) -> Option<&str> {
        self.history.next_undo()
    }

    /// What the next redo does again.
    #[must_use]
    pub fn next_redo(&self) -> Option<&str> {
        self.history.next_redo()
    }

    /// Names of the steps done, latest first.
    pub fn steps(&self) -> impl Iterator<Item = &str> {
        self.history.names()
    }

    /// Everything to say at present, worst first.
    #[must_use]
    pub fn notices(&self) -> Vec<Notice> {
        let mut all: Vec<Notice> = self.refused.iter().chain(&self.findings).cloned().collect();
        all.extend(self.limit.as_ref().map(|(stop, steer)| notice::of_limit(stop, *steer, self.units())));
        all.extend(body::hanging(self));
        all.extend(self.beyond.iter().cloned());
        all.sort_by_key(|notice| !notice.severe);
        all
    }

    /// The document of the car's file, if it has one.
    #[must_use]
    pub fn document(&self) -> Option<&Document> {
        self.file.document.as_ref()
    }
}
