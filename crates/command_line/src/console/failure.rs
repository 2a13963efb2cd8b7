//! Why a run ends without its result, and with which exit code.

use crate::console::streams::Console;
use std::io::ErrorKind;
use wheelpath_car_file::{LoadError, Problem, SaveError, system_words};
use wheelpath_geometry::{LengthUnit, Stop, StopKind};
use wheelpath_project::what_was_meant;

/// Why a run ends.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The words make no sense, or this machine or build cannot do it: exit code 2.
    WrongUse(Complaint),
    /// The car has a fault, or the pose cannot be reached: exit code 1.
    Fault(Vec<Complaint>),
    /// The results could not be written.
    Output(std::io::Error),
}

/// What is wrong and what to do.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Complaint {
    pub message: String,
    pub hint: String,
    /// What the linkage comes to, said after the message in the unit of the car.
    pub stop: Option<Stop>,
}

impl Complaint {
    fn of(problem: &Problem) -> Complaint {
        Complaint::new(problem.to_string(), problem.hint())
    }

    pub fn new(message: impl Into<String>, hint: impl Into<String>) -> Complaint {
        Complaint { message: message.into(), hint: hint.into(), stop: None }
    }

    /// The whole message, with lengths in this unit.
    pub fn in_words(&self, lengths: LengthUnit) -> String {
        let stop = self.stop.as_ref().map_or_else(String::new, |stop| stop.in_words(lengths));
        format!("{}{stop}", self.message)
    }
}

impl Failure {
    /// Results that could not be written down.
    pub fn output(error: impl Into<std::io::Error>) -> Self {
        Failure::Output(error.into())
    }

    pub fn wrong_use(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Failure::WrongUse(Complaint::new(message, hint))
    }

    /// Says what happened and returns the exit code.
    pub fn report(&self, io: &mut Console) -> u8 {
        let (complaints, code) = match self {
            Failure::WrongUse(complaint) => (std::slice::from_ref(complaint), 2),
            Failure::Fault(complaints) => (complaints.as_slice(), 1),
            // `wheelpath readings … | head`: the reader has what it wanted.
            Failure::Output(error) if error.kind() == ErrorKind::BrokenPipe => return 0,
            Failure::Output(error) => {
                // If this cannot be written either there is nobody left to tell.
                let _ = io.complain(&format!(
                    "error: the results cannot be written: {}\nhint: look at the disk or the reader\n",
                    system_words(error)
                ));
                return 2;
            }
        };
        let lengths = io.lengths();
        let both = complaints.iter().map(|one| (one.in_words(lengths), one.hint.clone()));
        // If this cannot be written there is nobody left to tell.
        let _ = io.say_all("error", both);
        code
    }
}

impl From<LoadError> for Failure {
    fn from(error: LoadError) -> Self {
        match &error {
            LoadError::Unreadable { file, .. } => Failure::wrong_use(error.to_string(), what_was_meant(file)),
            LoadError::Faulty(problems) => Failure::Fault(problems.iter().map(Complaint::of).collect()),
        }
    }
}

impl From<SaveError> for Failure {
    fn from(error: SaveError) -> Self {
        match &error {
            SaveError::Unwritable { .. } => {
                Failure::wrong_use(error.to_string(), "give a place that can be written to")
            }
            SaveError::NameTaken { .. } => {
                Failure::wrong_use(error.to_string(), "name a new file, or delete the old one first")
            }
            SaveError::NameOf { .. } => Failure::wrong_use(error.to_string(), "give the file another name"),
            SaveError::Busy { .. } => Failure::wrong_use(error.to_string(), "try again in a moment"),
            SaveError::Faulty(problems) => {
                let first =
                    Complaint::new("not saved, the file would not open again", "put right what follows");
                Failure::Fault(std::iter::once(first).chain(problems.iter().map(Complaint::of)).collect())
            }
            _ => Failure::Fault(vec![Complaint::new(error.to_string(), "")]),
        }
    }
}

/// What to do about a limit.
pub(crate) fn hint_of(stop: &Stop) -> &'static str {
    match stop.kind {
        StopKind::DeadPoint | StopKind::OutOfReach => {
            "ask for less travel or steer; `wheelpath check` lists how far each wheel can go"
        }
        StopKind::CannotAssemble => "correct the length, or leave it out to take it from the points",
        StopKind::CannotAlign => "ask for an angle nearer to what the points give",
        StopKind::NotFinite => "give plain numbers",
        StopKind::NoMechanism => "add what is missing",
    }
}

impl From<Stop> for Failure {
    fn from(stop: Stop) -> Self {
        Failure::from(vec![stop])
    }
}

impl From<Vec<Stop>> for Failure {
    fn from(stops: Vec<Stop>) -> Self {
        let complaint = |stop: Stop| {
            let hint = hint_of(&stop).into();
            Complaint { message: String::new(), hint, stop: Some(stop) }
        };
        Failure::Fault(stops.into_iter().map(complaint).collect())
    }
}
