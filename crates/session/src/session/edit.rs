//! Everything that can be done to a car and its pose, as values.

use super::{CarEdit, PlateBy, SheetOutcome};
use std::path::PathBuf;
use wheelpath_geometry::{Assembly, BodyPose, CarPose, End, Hardpoint, Requirement, WheelPosition};
use wheelpath_project::Answer;

/// A change of the limits. Changes can be undone.
#[derive(Clone, Debug, PartialEq)]
pub enum LimitChange {
    /// Sets a bound, or takes it away.
    SetBound {
        /// Place of the limit in the list.
        place: usize,
        /// Which bound.
        bound: Bound,
        /// SI units, radians.
        to: Option<f64>,
    },
    /// Puts a limit at the end of the list.
    Add(Box<Requirement>),
    /// Deletes the limit at this place.
    Remove(usize),
}

/// A bound of a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Bound {
    /// Not less than this.
    Least,
    /// Not more than this.
    Most,
}

/// Which wheels a travel is meant for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Wheels {
    /// All four alike.
    #[default]
    All,
    /// Both wheels of an axle alike.
    Axle(End),
    /// Left wheels by the travel, right wheels by minus the travel.
    Roll,
    /// Front wheels by the travel, rear wheels by minus the travel.
    Pitch,
    /// One wheel.
    One(WheelPosition),
}

impl Wheels {
    /// All that can be chosen.
    pub const ALL: [Wheels; 9] = [
        Wheels::All,
        Wheels::Axle(End::Front),
        Wheels::Axle(End::Rear),
        Wheels::Roll,
        Wheels::Pitch,
        Wheels::One(WheelPosition::ALL[0]),
        Wheels::One(WheelPosition::ALL[1]),
        Wheels::One(WheelPosition::ALL[2]),
        Wheels::One(WheelPosition::ALL[3]),
    ];

    /// The name in words.
    #[must_use]
    pub fn label(self) -> String {
        match self {
            Wheels::All => "All wheels".into(),
            Wheels::Axle(End::Front) => "Front wheels".into(),
            Wheels::Axle(End::Rear) => "Rear wheels".into(),
            Wheels::Roll => "Roll: left up, right down".into(),
            Wheels::Pitch => "Pitch: front up, rear down".into(),
            Wheels::One(at) if at.end == End::Front => format!("Front {}", at.side),
            Wheels::One(at) => format!("Rear {}", at.side),
        }
    }

    fn sign(self, at: WheelPosition) -> Option<f64> {
        match self {
            Wheels::All => Some(1.0),
            Wheels::Axle(end) => (at.end == end).then_some(1.0),
            Wheels::Roll => Some(at.side.sign()),
            Wheels::Pitch => Some(if at.end == End::Front { 1.0 } else { -1.0 }),
            Wheels::One(one) => (at == one).then_some(1.0),
        }
    }

    /// The pose with these wheels at a travel, metres.
    #[must_use]
    pub fn put(self, pose: &CarPose, travel: f64) -> CarPose {
        let mut to = *pose;
        for at in WheelPosition::ALL {
            if let Some(sign) = self.sign(at) {
                to.travel[at.index()] = sign * travel;
            }
        }
        to
    }

    /// The travel these wheels have in common, metres; `None` where they differ.
    #[must_use]
    pub fn travel(self, pose: &CarPose) -> Option<f64> {
        let mut all = WheelPosition::ALL.iter().filter_map(|&at| Some(self.sign(at)? * pose.travel_of(at)));
        let first = all.next()?;
        all.all(|one| (one - first).abs() < 1e-9).then_some(first)
    }
}

/// A slow movement to and fro.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Cycle {
    /// Wheel travel.
    Travel(Wheels),
    /// Steering.
    Steer,
}

/// One thing done. [`Session::apply`](super::Session::apply) does it.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Changes the geometry. Changes of one thing make one step of undo until [`Edit::Settle`].
    Change(CarEdit),
    /// Ends a pull or the typing in a field: the next change starts a new step of undo.
    Settle,
    /// Takes the last step back.
    Undo,
    /// Does the last undone step again.
    Redo,
    /// Sets the travel of some wheels, metres, + bump.
    SetTravel {
        /// Which wheels travel.
        wheels: Wheels,
        /// Metres.
        travel: f64,
    },
    /// Sets the front axle's steering input: travel of the rack, metres, + toward the left, or turn of
    /// the pitman arm, radians, right-handed about its upward axis.
    SetSteer(f64),
    /// Sets the whole pose.
    SetPose(CarPose),
    /// Holds the body over a flat road, as it is steered: every wheel travels until its tyre touches, or
    /// hangs where its droop ends before that. Until a travel is set the wheels follow the body when it
    /// steers or is changed.
    Stand(BodyPose),
    /// Zero travel, straight ahead; a cycle stops.
    ResetPose,
    /// Shows another pose until `None` is given: what a pointer over a curve does.
    Preview(Option<CarPose>),
    /// Starts a cycle, or stops it where it is.
    Play(Option<Cycle>),
    /// Lets this many seconds of a cycle pass.
    Tick(f64),
    /// Says how the plate lies that carries a point; kept while the session lasts, no step of undo.
    SetPlate {
        /// Whose it is.
        assembly: Assembly,
        /// Which point.
        hardpoint: Hardpoint,
        /// How it lies.
        by: PlateBy,
        /// Whether the other side's point gets the mirrored one.
        mirrored: bool,
    },
    /// Changes the limits. Changes of one bound make one step of undo until [`Edit::Settle`].
    Requirement(LimitChange),
    /// Compares with the original with this proposal made, or, without one, with the original.
    CompareWith(Option<Box<wheelpath_geometry::Proposal>>),
    /// Something with files: nothing of it is a step of undo.
    File(FileCommand),
}

/// What can be done with files: the car's, those beside it, and others.
#[derive(Clone, Debug, PartialEq)]
pub enum FileCommand {
    /// Writes the car to a new file.
    SaveAs {
        /// The file.
        path: PathBuf,
        /// Whether a file that is there already may be replaced.
        replace: bool,
    },
    /// Writes what is changed against the original to a new proposal.
    SaveProposal {
        /// Its name.
        name: String,
        /// The file.
        path: PathBuf,
        /// Whether a file that is there already may be replaced.
        replace: bool,
    },
    /// Takes the points of a table that differ from the original's as what is changed.
    ImportTable(PathBuf),
    /// Compares with the car of another file.
    CompareWithCar(PathBuf),
    /// Writes the plate of a point to the brackets beside the car.
    KeepPlate {
        /// Whose it is.
        assembly: Assembly,
        /// Which point.
        hardpoint: Hardpoint,
        /// Whether the other side's too.
        mirrored: bool,
    },
    /// Asks for the sheet of a bracket for what is moved on it, as it is now; it is written beside the
    /// window.
    WriteSheet {
        /// The bracket's name.
        bracket: String,
        /// The file: its ending says which kind.
        path: PathBuf,
        /// Whether a file that is there already may be replaced.
        replace: bool,
    },
    /// Says what became of a sheet, by its number.
    SheetDone {
        /// Which sheet it is.
        number: u64,
        /// Its files, or why there are none.
        outcome: SheetOutcome,
    },
    /// Takes up a proposal of the folder, by the name of its file, on the original: it is open then.
    OpenProposal(String),
    /// Writes what is changed over the proposal that is open.
    SaveOpen,
    /// Writes the limits to their file.
    SaveLimits,
    /// Opens another car in this window, or the same anew; what is in no file is kept as unsaved changes.
    OpenCar {
        /// The car's file.
        path: PathBuf,
        /// A proposal of its folder to take up.
        proposal: Option<PathBuf>,
    },
    /// What is to be done about a file that another has written.
    Answer {
        /// The file.
        path: PathBuf,
        /// The answer that was given.
        answer: Answer,
    },
    /// Takes up the unsaved changes found when the car was opened.
    Recover,
    /// Throws away the unsaved changes found when the car was opened; their file is kept until others are.
    DiscardRecovery,
    /// Offers the unsaved changes again that were thrown away last, and not yet brought back.
    BringBack,
    /// Leaves what was just thrown away; it can still be brought back.
    LeaveThrownAway,
}

impl Edit {
    /// Whether it leaves the car as it is.
    #[must_use]
    pub fn is_pose(&self) -> bool {
        matches!(
            self,
            Edit::SetTravel { .. }
                | Edit::SetSteer(_)
                | Edit::SetPose(_)
                | Edit::Stand(_)
                | Edit::ResetPose
                | Edit::Preview(_)
                | Edit::Play(_)
                | Edit::Tick(_)
        )
    }
}
