//! The strip over the stage: views, overlays, sheet, size of text.

use crate::panels::frame::overlay_switches::overlay_switches_ui;
use crate::panels::frame::ui_state::UiState;
use crate::panels::widgets::notices::capital;
use bevy_egui::egui::containers::menu::{MenuButton, MenuConfig};
use bevy_egui::egui::{Align, Button, Label, Layout, PopupCloseBehavior, RichText, TextStyle, Ui};
use wheelpath_session::Session;
use wheelpath_stage::theme::ColourTheme;
use wheelpath_stage::view::standard_views::StandardView;

const SCALES: [f32; 5] = [0.85, 1.0, 1.2, 1.45, 1.75];

pub(in crate::panels) fn stage_strip_ui(ui: &mut Ui, session: &Session, state: &mut UiState) {
    let needed = needed(ui, state);
    if ui.available_width() < needed {
        // Too narrow for both ends of a line; where two lines would not do either, the views are a menu.
        let in_menu = ui.available_width() < 0.6 * needed;
        ui.horizontal_wrapped(|ui| {
            if in_menu {
                MenuButton::new("View").ui(ui, |ui| view_buttons_ui(ui, state));
            } else {
                view_buttons_ui(ui, state);
                ui.separator();
            }
            over_the_car_ui(ui, session, state);
            text_scale_ui(ui, state, false);
            sheet_ui(ui, state);
        });
        return;
    }
    ui.horizontal(|ui| {
        view_buttons_ui(ui, state);
        ui.separator();
        over_the_car_ui(ui, session, state);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            sheet_ui(ui, state);
            text_scale_ui(ui, state, true);
            let room = ui.available_width();
            if room > 60.0 {
                let name = RichText::new(session.title()).strong();
                ui.add(Label::new(name).truncate());
            }
        });
    });
}

const OVERLAYS: &str = "Overlays";
const BESIDE: &str = "Side by side";
const LARGER: &str = "A+";
const SMALLER: &str = "A−";

/// Width that all buttons take in one line.
fn needed(ui: &Ui, state: &UiState) -> f32 {
    let font = TextStyle::Button.resolve(ui.style());
    let spacing = ui.spacing();
    let around = 2.0 * spacing.button_padding.x + spacing.item_spacing.x;
    let width = |name: &str| {
        ui.painter().layout_no_wrap(name.to_owned(), font.clone(), ui.visuals().text_color()).size().x
    };
    let names = StandardView::ALL.map(StandardView::name).into_iter();
    let names = names.chain([OVERLAYS, BESIDE, LARGER, SMALLER, sheet_name(state)]);
    names.map(|name| width(name) + around).sum::<f32>() + 2.0 * spacing.item_spacing.x
}

fn view_buttons_ui(ui: &mut Ui, state: &mut UiState) {
    for (n, view) in StandardView::ALL.into_iter().enumerate() {
        if ui.button(view.name()).on_hover_text(format!("Key {}", n + 1)).clicked() {
            state.view = Some(view);
        }
    }
}

/// What is drawn over the car and beside it.
fn over_the_car_ui(ui: &mut Ui, session: &Session, state: &mut UiState) {
    let stay_open = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    MenuButton::new(OVERLAYS).config(stay_open).ui(ui, |ui| overlay_switches_ui(ui, state));
    let beside = Button::selectable(state.beside && session.differs(), BESIDE);
    let beside = ui.add_enabled(session.differs(), beside);
    let hint = format!("{} and now in two pictures, seen from one place", capital(session.baseline_name()));
    if beside.on_hover_text(hint).on_disabled_hover_text("Nothing is changed yet").clicked() {
        state.beside = !state.beside;
    }
}

fn sheet_name(state: &UiState) -> &'static str {
    match state.sheet {
        ColourTheme::Light => "Dark sheet",
        ColourTheme::Dark => "Light sheet",
    }
}

fn sheet_ui(ui: &mut Ui, state: &mut UiState) {
    if ui.button(sheet_name(state)).clicked() {
        state.sheet = match state.sheet {
            ColourTheme::Light => ColourTheme::Dark,
            ColourTheme::Dark => ColourTheme::Light,
        };
    }
}

fn text_scale_ui(ui: &mut Ui, state: &mut UiState, from_right: bool) {
    let at = SCALES.iter().position(|scale| (scale - state.text_scale).abs() < 0.01).unwrap_or(1);
    let mut to = at;
    let buttons = [(SMALLER, "Smaller text", at.checked_sub(1)), (LARGER, "Larger text", Some(at + 1))];
    for n in if from_right { [1, 0] } else { [0, 1] } {
        let (name, hint, goes) = buttons[n];
        let goes = goes.filter(|to| *to < SCALES.len());
        if ui.add_enabled(goes.is_some(), Button::new(name)).on_hover_text(hint).clicked() {
            to = goes.unwrap_or(at);
        }
    }
    if let Some(scale) = SCALES.get(to) {
        state.text_scale = *scale;
    }
}
