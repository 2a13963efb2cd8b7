//! What the panels remember that is no truth about the car.

use crate::adapter::OVERLAYS;
use crate::panels::state::fit_choice::FitChoice;
use crate::panels::state::fit_draft::FitDraft;
use crate::panels::state::limit_draft::LimitDraft;
use crate::panels::state::map_choice::MapChoice;
use crate::panels::state::path_draft::PathDraft;
use crate::panels::state::plate_draft::{PlateDraft, snaps};
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;
use wheelpath_geometry::{Assembly, End, Hardpoint, LengthUnit, WheelPosition, reading};
use wheelpath_session::derived::Derived;
use wheelpath_session::derived::curves::Spec;
use wheelpath_session::keep::BackgroundJob;
use wheelpath_session::{Goal, Handle, Session, SheetJob, SheetOutcome, WantedReading, Wheels};
use wheelpath_stage::theme::{ColourTheme, Palette};
use wheelpath_stage::view::standard_views::StandardView;

/// The task at hand: which drawer is open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Task {
    /// Read every number.
    #[default]
    Look,
    /// Move points.
    Change,
    /// Weigh proposals by the limits.
    Decide,
}

/// What is in front in a window too small for all of it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Front {
    /// The car.
    #[default]
    Stage,
    /// The drawer of the task at hand.
    Task,
    /// The wall of curves.
    Curves,
}

/// In what steering is typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SteerUnit {
    /// Movement of the rack, mm or inches, or of the pitman arm, degrees.
    #[default]
    Input,
    /// Angle of the steering wheel, degrees.
    SteeringWheel,
}

/// A curve on the wall.
#[derive(Clone, Debug)]
pub struct Card {
    /// A number no other card has.
    pub id: u64,
    /// Which curve.
    pub spec: Spec,
    /// Whether it is drawn large.
    pub grown: bool,
    /// Whether the change from zero travel is drawn, as was asked for; none where neither was.
    pub from_zero: Option<bool>,
}

/// A sheet on its way, and what became of which.
pub(in crate::panels) type SheetJobs = BackgroundJob<Arc<SheetJob>, (u64, SheetOutcome)>;

/// What is asked about at first.
fn usual() -> Vec<WantedReading> {
    reading("bump_steer").map(|reading| WantedReading { reading, aim: Goal::Zero }).into_iter().collect()
}

/// The overlays that are switched off at first.
fn hidden_at_first() -> BTreeSet<String> {
    OVERLAYS.iter().filter(|(.., on)| !on).map(|(id, ..)| (*id).to_owned()).collect()
}

/// State of the panels.
#[derive(Clone, Debug)]
pub struct UiState {
    /// Which drawer is open.
    pub task: Task,
    /// What is in front where there is no room for all of it.
    pub front: Front,
    /// Which sheet everything is drawn on.
    pub sheet: ColourTheme,
    /// Size of text, 1 = as designed.
    pub text_scale: f32,
    /// The axle whose readings are shown.
    pub end: End,
    /// The corner whose points are shown.
    pub corner: WheelPosition,
    /// Whether changes are made on both sides: as [`set_both_sides`](Self::set_both_sides) was told for this
    /// axle, else where its sides are alike.
    pub mirrored: bool,
    /// The axle that `mirrored` is for.
    mirrored_of: End,
    /// Whether the sides of the front and of the rear axle are alike.
    alike: [bool; 2],
    /// What was asked for, a front and a rear axle.
    both_asked: [Option<bool>; 2],
    /// The point selected, on the stage or in the list.
    pub selected: Option<(Assembly, Hardpoint)>,
    /// The handle of that point the arrow keys act along.
    pub handle: Option<Handle>,
    /// Steps a pull on the stage snaps to, metres; zero is none.
    pub snap: f64,
    /// The plate being described.
    pub plate: PlateDraft,
    /// Readings whose ways are shown at the point selected.
    pub ways: Vec<WantedReading>,
    /// The contour map for the point selected.
    pub map: MapChoice,
    /// A path typed: a table of points, or a car to compare with.
    pub other_file: String,
    /// Whether before and after stand in a table below the stage.
    pub table: bool,
    /// Whether all of it fits.
    pub fit: FitChoice,
    /// Set when the selection was made elsewhere, so that the list scrolls to it.
    pub reveal: bool,
    /// Whether the readings that are not asked for first are shown too.
    pub all_readings: bool,
    /// A reading picked on the stage: shown in the table.
    pub picked_reading: Option<&'static str>,
    /// Which wheels the travel control moves.
    pub moving: Wheels,
    /// In what steering is typed.
    pub steer_unit: SteerUnit,
    /// Whether the car that is compared with stands beside the car, not in it.
    pub beside: bool,
    /// Overlays that are switched off.
    pub hidden: BTreeSet<String>,
    /// A view asked for; whoever moves the camera takes it.
    pub view: Option<StandardView>,
    /// The curves on the wall.
    pub cards: Vec<Card>,
    /// Whether curves show what changed.
    pub difference: bool,
    next_card: u64,
    /// The curve that the wall scrolls to in the next frame.
    pub(in crate::panels) reveal_card: Option<u64>,
    /// The curve that is framed, as the one just asked for.
    pub(in crate::panels) framed_card: Option<u64>,
    /// Name of the new proposal, while it is being typed.
    pub proposal_name: Option<String>,
    /// What is derived from the session for what is shown.
    pub derived: Derived,
    /// Name of the new file, while it is being typed.
    pub save_name: Option<String>,
    /// How high the drawer of changes was to be in the last frame, so that nothing in it overlaps, points.
    pub(in crate::panels) change_height: f32,
    /// Whether the whole drawer scrolls, its window being too small for it.
    pub(in crate::panels) drawer_scrolls: bool,
    /// Where the last frame asked to save a new car.
    pub save_asked: Option<PathBuf>,
    /// What lies where the new file would be saved, in words.
    pub(in crate::panels) save_over: Option<(PathBuf, String)>,
    /// The bracket sheet that is being written.
    pub(in crate::panels) bracket_sheet: SheetJobs,
    /// The path of a car to open, while it is being typed.
    pub open_path: PathDraft,
    /// Whether the messages over the stage are folded to one line.
    pub messages_folded: bool,
    /// A sheet asked for whose file is there already: the bracket and the file.
    pub(in crate::panels) sheet_over: Option<(String, PathBuf)>,
    /// That was asked for in this frame: what is to become of the file is to be seen.
    pub(in crate::panels) sheet_asked: bool,
    /// A limit being put together.
    pub limit_draft: LimitDraft,
    /// A limit on distances, joints or lock being put together.
    pub fit_draft: FitDraft,
    /// In what the car's file counts lengths, and so the window.
    pub lengths: LengthUnit,
    /// Of which session all this is.
    serial: u64,
}

impl UiState {
    /// How the panels stand at first for a car.
    #[must_use]
    pub fn new(session: &Session) -> Self {
        let lengths = session.units();
        let alike = End::BOTH.map(|end| session.sides_are_alike(end));
        let mut state = UiState {
            task: Task::default(),
            front: Front::default(),
            sheet: ColourTheme::default(),
            text_scale: 1.0,
            end: End::Front,
            corner: WheelPosition::ALL[0],
            mirrored: alike[0],
            mirrored_of: End::Front,
            alike,
            both_asked: [None; 2],
            selected: None,
            handle: None,
            snap: snaps(lengths)[1],
            plate: PlateDraft::default(),
            ways: usual(),
            map: MapChoice::new(lengths),
            other_file: String::new(),
            table: false,
            fit: FitChoice::default(),
            reveal: false,
            all_readings: false,
            picked_reading: None,
            moving: Wheels::All,
            steer_unit: SteerUnit::default(),
            beside: false,
            hidden: hidden_at_first(),
            view: None,
            cards: Vec::new(),
            difference: false,
            next_card: 0,
            reveal_card: None,
            framed_card: None,
            proposal_name: None,
            derived: Derived::default(),
            save_name: None,
            change_height: 0.0,
            drawer_scrolls: false,
            save_asked: None,
            save_over: None,
            bracket_sheet: SheetJobs::default(),
            open_path: PathDraft::default(),
            messages_folded: false,
            sheet_over: None,
            sheet_asked: false,
            limit_draft: LimitDraft::new(lengths),
            fit_draft: FitDraft::new(lengths),
            lengths,
            serial: session.serial(),
        };
        for spec in Spec::usual(session.car().front.steering.steers()) {
            state.add_card(spec);
        }
        state
    }

    /// Starts anew where another car was opened; what belongs to the person and not to the car stays.
    pub fn follow(&mut self, session: &Session) {
        if self.serial != session.serial() {
            let fresh = UiState::new(session);
            let old = std::mem::replace(self, fresh);
            self.task = old.task;
            self.front = old.front;
            self.sheet = old.sheet;
            self.text_scale = old.text_scale;
            if self.lengths == old.lengths {
                self.snap = old.snap;
            }
            // Whoever wanted one side alone wants it still; both are asked for a car.
            if old.both_asked.contains(&Some(false)) {
                self.set_both_sides(false);
            }
            self.hidden = old.hidden;
            self.bracket_sheet = old.bracket_sheet;
        }
        if self.mirrored_of != self.corner.end {
            let n = usize::from(self.corner.end == End::Rear);
            self.mirrored_of = self.corner.end;
            self.mirrored = self.both_asked[n].unwrap_or(self.alike[n]);
        }
    }

    /// Whether the sides of the axle whose points are shown are alike.
    #[must_use]
    pub fn sides_are_alike(&self) -> bool {
        self.alike[usize::from(self.corner.end == End::Rear)]
    }

    /// Makes changes on both sides from now on, or on one: one side alone on either axle, both on the axle
    /// whose points are shown, and on the other where its sides are alike.
    pub fn set_both_sides(&mut self, both: bool) {
        let n = usize::from(self.corner.end == End::Rear);
        self.both_asked = if both { [None; 2] } else { [Some(false); 2] };
        self.both_asked[n] = Some(both);
        (self.mirrored, self.mirrored_of) = (both, self.corner.end);
    }

    /// The colours of the sheet.
    #[must_use]
    pub fn palette(&self) -> Palette {
        Palette::of(self.sheet)
    }

    /// Puts a curve on the wall, unless it hangs there.
    pub fn add_card(&mut self, spec: Spec) {
        if self.cards.iter().any(|card| card.spec == spec) {
            return;
        }
        self.cards.push(Card { id: self.next_card, spec, grown: false, from_zero: None });
        self.next_card += 1;
    }

    /// Puts a curve on the wall, unless it hangs there, and has it seen: the wall scrolls to it and frames it
    /// until something else is pressed.
    pub fn show_card(&mut self, spec: Spec) {
        self.add_card(spec);
        let card = self.cards.iter().find(|card| card.spec == spec).map(|card| card.id);
        (self.reveal_card, self.framed_card) = (card, card);
    }

    /// Whether the handles of the selected point are shown.
    #[must_use]
    pub fn shows_handles(&self) -> bool {
        self.task == Task::Change && self.selected.is_some()
    }

    /// Opens the drawer of a task, unless the car is in front, or the map that is worked on.
    pub fn go_to(&mut self, task: Task) {
        self.task = task;
        if self.front == Front::Curves && !self.map.open {
            self.front = Front::Task;
        }
    }

    /// The step a pull snaps to (metres, zero is none), where the key that turns that round is held or
    /// not.
    #[must_use]
    pub fn snap_step(&self, turned_round: bool) -> f64 {
        match (turned_round, self.snap > 0.0) {
            (false, _) => self.snap,
            (true, true) => 0.0,
            (true, false) => snaps(self.lengths)[2],
        }
    }

    /// Selects a point; another one than before starts without a chosen handle.
    pub fn choose(&mut self, selected: Option<(Assembly, Hardpoint)>) {
        if self.selected != selected {
            self.handle = None;
            self.plate = PlateDraft::default();
        }
        self.selected = selected;
    }

    /// Shows a point in the list of points.
    pub fn select(&mut self, selected: Option<(Assembly, Hardpoint)>) {
        self.choose(selected);
        if let Some((assembly, _)) = selected {
            if !assembly.is_at(self.corner) {
                self.corner = assembly.seen_at();
            }
            self.reveal = true;
        }
    }
}
