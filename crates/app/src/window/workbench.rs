//! Session, panels and stage as one Bevy plugin, for a window and for pictures alike.

#![expect(clippy::needless_pass_by_value, reason = "systems take their parameters by value")]

use super::answer::{DragOrigin, answer_stage};
use super::work::{Panels, Work};
use crate::adapter::{Chosen, stage_of};
use crate::panels::{UiState, window_ui};
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy_egui::egui::{LayerId, Ui, UiBuilder};
use bevy_egui::{EguiContexts, EguiPrimaryContextPass};
use std::time::Instant;
use wheelpath_session::{Edit, Session};
use wheelpath_stage::StageSet;
use wheelpath_stage::camera::projection::ScreenRect;
use wheelpath_stage::render::stage_camera::{BeforeRect, StageCamera, StageRect};
use wheelpath_stage::theme::Palette;
use wheelpath_stage::view::Stage;

/// Puts a session and its panels round the stage. Needs `EguiPlugin` and
/// [`StagePlugin`](wheelpath_stage::StagePlugin).
#[derive(Debug)]
pub struct Workbench {
    /// The car worked on.
    pub session: Session,
    /// How the panels stand at first.
    pub panels: UiState,
}

impl Workbench {
    /// A workbench with the panels as they stand at first.
    #[must_use]
    pub fn new(session: Session) -> Self {
        let panels = UiState::new(&session);
        Workbench { session, panels }
    }
}

impl Plugin for Workbench {
    fn build(&self, app: &mut App) {
        app.insert_resource(Work(self.session.clone()))
            .insert_resource(Panels(self.panels.clone()))
            .init_resource::<DragOrigin>()
            .init_resource::<Fed>()
            .add_systems(
                Update,
                (answer_stage, play, feed_stage).chain().after(StageSet::Read).before(StageSet::Show),
            )
            .add_systems(Update, name_window)
            .add_systems(EguiPrimaryContextPass, draw_panels.before(StageSet::Overlays));
    }
}

/// What of the panels the stage was last fed with.
#[derive(Resource, Debug, Default)]
pub(super) struct Fed(Option<Chosen>);

fn chosen(session: &Session, panels: &UiState) -> Chosen {
    Chosen {
        selected: panels.selected,
        handles: panels.shows_handles(),
        handle: panels.handle,
        ways: panels.change.ways.clone(),
        mirrored: panels.mirrored,
        map: panels.map_shown(),
        beside: panels.beside,
        gap: panels.decide.fit.gap(session).map(|gap| (gap.at, gap.text.clone())),
        hidden: panels.hidden.clone(),
        focus: panels.corner,
    }
}

/// Lets a cycle go on, and asks for the next frame while it does.
pub(super) fn play(mut work: ResMut<Work>, time: Res<Time>, mut redraw: MessageWriter<RequestRedraw>) {
    if work.0.playing().is_some() {
        work.0.apply(Edit::Tick(time.delta_secs_f64()));
        redraw.write(RequestRedraw);
    }
}

pub(super) fn feed_stage(
    work: Res<Work>,
    panels: Res<Panels>,
    mut fed: ResMut<Fed>,
    mut stage: ResMut<Stage>,
) {
    let want = chosen(&work.0, &panels.0);
    if work.is_changed() || fed.0.as_ref() != Some(&want) {
        *stage = stage_of(&work.0, &want);
        fed.0 = Some(want);
    }
}

/// The window's title says what is open and whether it is saved.
fn name_window(work: Res<Work>, mut windows: Query<&mut Window>) {
    if work.is_changed() {
        for mut window in &mut windows {
            let title = title_of(&work.0);
            if window.title != title {
                window.title = title;
            }
        }
    }
}

/// The window's title.
pub(super) fn title_of(session: &Session) -> String {
    format!("{} - Wheelpath", session.title())
}

#[expect(clippy::too_many_arguments, reason = "a system's parameters are what it reads and writes")]
fn draw_panels(
    mut contexts: EguiContexts,
    mut work: ResMut<Work>,
    mut panels: ResMut<Panels>,
    (mut rect, mut before): (ResMut<StageRect>, ResMut<BeforeRect>),
    mut palette: ResMut<Palette>,
    mut camera: ResMut<StageCamera>,
    fed: Res<Fed>,
    mut redraw: MessageWriter<RequestRedraw>,
) -> Result {
    let context = contexts.ctx_mut()?;
    let whole = UiBuilder::new().layer_id(LayerId::background()).max_rect(context.viewport_rect());
    let mut ui = Ui::new(context.clone(), "window".into(), whole);
    // What others did meanwhile; only while something is drawn anyway.
    if work.bypass_change_detection().0.look_around(Instant::now()) {
        redraw.write(RequestRedraw);
    }
    let mut edits = Vec::new();
    let area = window_ui(&mut ui, &work.0, &mut panels.0, &mut edits);
    let left = ScreenRect::new(area.left.into(), area.top.into(), area.width.into(), area.height.into());
    let beside = panels.0.beside && work.0.differs() && work.0.baseline_shown().is_some();
    let half = ScreenRect::new(left.left, left.top, 0.5 * left.width, left.height);
    let other = ScreenRect::new(left.left + half.width, left.top, half.width, left.height);
    rect.set_if_neq(StageRect(Some(if beside { other } else { left })));
    before.set_if_neq(BeforeRect(beside.then_some(half)));
    palette.set_if_neq(Palette::of(panels.0.sheet));
    if let Some(view) = panels.0.view.take() {
        camera.go(view);
        redraw.write(RequestRedraw);
    }
    // The car was drawn before the panels were: what they did is seen in the next frame.
    if !edits.is_empty() || fed.0.as_ref() != Some(&chosen(&work.0, &panels.0)) {
        redraw.write(RequestRedraw);
    }
    for edit in edits {
        work.0.apply(edit);
    }
    // The stage is fed before the panels are drawn again.
    panels.0.follow(&work.0);
    Ok(())
}
