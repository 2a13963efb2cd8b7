//! What `check` finds, for programs.

use crate::check::reach_record::{AxleReachRecord, WheelReachRecord};
use crate::console::field::Among;
use crate::console::record::{Output, record};
use wheelpath_car_file::{Fault, Problem};
use wheelpath_geometry::{End, WheelPosition};

record! {
    /// What is found of a car file.
    pub(crate) struct CheckOutput {
        /// The file.
        file: String,
        /// Name of the car; null where the file has a fault.
        car: Option<String>,
        /// What makes the car impossible.
        faults: Vec<ProblemRecord>,
        /// What is doubtful about the file.
        warnings: Vec<WarningRecord>,
        /// How far the links of each wheel reach, stops not counted.
        reach: Vec<WheelReachRecord>,
        /// How far each axle goes, both wheels alike, stops of steering, dampers and joints counted.
        reach_with_stops: Vec<AxleReachRecord>,
    }
}

impl Output for CheckOutput {
    const NAME: &'static str = "check";
    type Row = CheckRow;
}

record! {
    /// What is wrong or doubtful, and where.
    pub(crate) struct ProblemRecord {
        /// The file.
        file: String,
        /// Line in the file, from 1.
        line: usize,
        /// Column in the line, in characters, from 1.
        column: usize,
        /// front or rear.
        axle: Option<&'static str>,
        /// The corner it is about; null for the whole car.
        wheel: Option<&'static str>,
        /// What is the matter.
        message: String,
        /// What to do.
        hint: String,
    }
}

record! {
    /// A warning, and what may have caused it.
    pub(crate) struct WarningRecord {
        problem: Among<ProblemRecord>,
        /// Warnings of one number may have one cause, the first of them to be looked at first.
        cause: usize,
    }
}

record! {
    /// A fault, or a warning.
    pub(crate) struct CheckRow {
        /// CSV: fault or warning.
        severity: &'static str,
        problem: Among<ProblemRecord>,
        /// Warnings of one number may have one cause, the first of them to be looked at first.
        cause: Option<usize>,
    }
}

impl ProblemRecord {
    pub fn of(problem: &Problem) -> Self {
        let of_finding = match &problem.fault {
            Fault::Model(finding) => finding.end,
            _ => None,
        };
        let end = problem.wheel.map(|wheel| wheel.end).or(of_finding);
        ProblemRecord {
            file: problem.file.clone(),
            line: problem.place.line,
            column: problem.place.column,
            axle: end.map(End::name),
            wheel: problem.wheel.map(WheelPosition::key),
            message: problem.fault.to_string(),
            hint: problem.hint(),
        }
    }
}

impl WarningRecord {
    /// All warnings, each with the number of its cause from 1.
    pub fn all_of(causes: &[&[Problem]]) -> Vec<Self> {
        let of = |(at, cause): (usize, &&[Problem])| {
            let one = |problem| WarningRecord { problem: Among(ProblemRecord::of(problem)), cause: at + 1 };
            cause.iter().map(one).collect::<Vec<_>>()
        };
        causes.iter().enumerate().flat_map(of).collect()
    }
}

impl CheckRow {
    /// The faults, then the warnings.
    pub fn all_of(faults: &[Problem], causes: &[&[Problem]]) -> Vec<Self> {
        let fault =
            |problem| CheckRow { severity: "fault", problem: Among(ProblemRecord::of(problem)), cause: None };
        let warning =
            |WarningRecord { problem, cause }| CheckRow { severity: "warning", problem, cause: Some(cause) };
        faults.iter().map(fault).chain(WarningRecord::all_of(causes).into_iter().map(warning)).collect()
    }
}
