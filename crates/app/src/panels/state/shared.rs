//! What the panels share.

use crate::panels::state::map_choice::MapChoice;
use crate::panels::state::snaps::snaps;
use std::sync::Arc;
use wheelpath_geometry::{Assembly, End, Hardpoint, LengthUnit, WheelPosition};
use wheelpath_session::derived::Derived;
use wheelpath_session::derived::curves::Spec;
use wheelpath_session::derived::maps::ReadingMap;
use wheelpath_session::{Handle, Session};
use wheelpath_stage::theme::{ColourTheme, Palette};

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

/// What the panels share: what is selected, what is in front, how it all looks, and what is derived from the
/// session.
#[derive(Clone, Debug)]
pub struct Shared {
    /// Which drawer is open.
    pub task: Task,
    /// What is in front where there is no room for all of it.
    pub front: Front,
    /// Which sheet everything is drawn on.
    pub sheet: ColourTheme,
    /// Size of text, 1 = as designed.
    pub text_scale: f32,
    /// In what the car's file counts lengths, and so the window.
    pub lengths: LengthUnit,
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
    /// Set when the selection was made elsewhere, so that the list scrolls to it.
    pub reveal: bool,
    /// A reading picked on the stage: shown in the table.
    pub picked_reading: Option<&'static str>,
    /// Steps a pull on the stage snaps to, metres; zero is none.
    pub snap: f64,
    /// The contour map for the point selected.
    pub map: MapChoice,
    /// A curve that another panel asks the wall to hang up and show.
    pub asked_curve: Option<Spec>,
    /// What is derived from the session for what is shown.
    pub derived: Derived,
}

impl Shared {
    /// How it stands at first for a car.
    #[must_use]
    pub fn new(session: &Session) -> Self {
        let lengths = session.units();
        let alike = End::BOTH.map(|end| session.sides_are_alike(end));
        Shared {
            task: Task::default(),
            front: Front::default(),
            sheet: ColourTheme::default(),
            text_scale: 1.0,
            lengths,
            end: End::Front,
            corner: WheelPosition::ALL[0],
            mirrored: alike[0],
            mirrored_of: End::Front,
            alike,
            both_asked: [None; 2],
            selected: None,
            handle: None,
            reveal: false,
            picked_reading: None,
            snap: snaps(lengths)[1],
            map: MapChoice::new(lengths),
            asked_curve: None,
            derived: Derived::default(),
        }
    }

    /// The same for another car: what belongs to the person and not to the car stays.
    #[must_use]
    pub fn for_another_car(&self, session: &Session) -> Self {
        let mut fresh = Shared::new(session);
        fresh.task = self.task;
        fresh.front = self.front;
        fresh.sheet = self.sheet;
        fresh.text_scale = self.text_scale;
        if fresh.lengths == self.lengths {
            fresh.snap = self.snap;
        }
        // Whoever wanted one side alone wants it still; both are asked for a car.
        if self.both_asked.contains(&Some(false)) {
            fresh.set_both_sides(false);
        }
        fresh
    }

    /// Takes both sides or one as the axle whose points are shown wants it.
    pub fn follow_axle(&mut self) {
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

    /// The point that is mapped.
    #[must_use]
    pub fn mapped_point(&self) -> Option<(Assembly, Hardpoint)> {
        let of = self.selected.filter(|_| self.map.open && self.task == Task::Change)?;
        matches!(of.0, Assembly::Corner(_)).then_some(of)
    }

    /// The map whose lines belong on the stage.
    #[must_use]
    pub fn map_shown(&self) -> Option<Arc<ReadingMap>> {
        let (map, point) = (self.derived.map.shown()?, self.mapped_point()?);
        (point == (Assembly::Corner(map.asked.wheel), map.asked.hardpoint)).then(|| Arc::clone(map))
    }
}
