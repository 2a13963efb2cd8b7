//! What the drawer of decisions remembers.

use crate::panels::decide::fit_choice::FitChoice;
use crate::panels::decide::fit_draft::FitDraft;
use crate::panels::decide::limit_draft::LimitDraft;
use crate::panels::state::panel::Panel;
use std::path::PathBuf;
use std::sync::Arc;
use wheelpath_geometry::LengthUnit;
use wheelpath_session::keep::BackgroundJob;
use wheelpath_session::{SheetJob, SheetOutcome};

/// The drawer of decisions with what it remembers.
pub(in crate::panels) type Decide<'a> = Panel<'a, DecideState>;

/// A sheet on its way, and what became of which.
pub(in crate::panels) type SheetJobs = BackgroundJob<Arc<SheetJob>, (u64, SheetOutcome)>;

/// What the drawer of decisions remembers.
#[derive(Clone, Debug)]
pub struct DecideState {
    /// Whether before and after stand in a table below the stage.
    pub table: bool,
    /// Whether all of it fits.
    pub fit: FitChoice,
    /// A path typed: a table of points, or a car to compare with.
    pub other_file: String,
    /// Name of the new proposal, while it is being typed.
    pub proposal_name: Option<String>,
    /// The bracket sheet that is being written.
    pub(in crate::panels) bracket_sheet: SheetJobs,
    /// A sheet asked for whose file is there already: the bracket and the file.
    pub(in crate::panels) sheet_over: Option<(String, PathBuf)>,
    /// That was asked for in this frame: what is to become of the file is to be seen.
    pub(in crate::panels) sheet_asked: bool,
    /// A limit being put together.
    pub limit_draft: LimitDraft,
    /// A limit on distances, joints or lock being put together.
    pub fit_draft: FitDraft,
}

impl DecideState {
    /// How it stands at first for a car that is counted in these lengths.
    #[must_use]
    pub fn new(lengths: LengthUnit) -> Self {
        DecideState {
            table: false,
            fit: FitChoice::default(),
            other_file: String::new(),
            proposal_name: None,
            bracket_sheet: SheetJobs::default(),
            sheet_over: None,
            sheet_asked: false,
            limit_draft: LimitDraft::new(lengths),
            fit_draft: FitDraft::new(lengths),
        }
    }
}
