//! What is wrong, beside what caused it.

use crate::panels::widgets::theme::colour;
use bevy_egui::egui::{RichText, Ui};
use wheelpath_session::{About, Notice, Session};
use wheelpath_stage::theme::Palette;

/// Draws the notices that belong here: what is the matter, and under it what to do.
pub(in crate::panels) fn notices_ui(
    ui: &mut Ui,
    session: &Session,
    palette: &Palette,
    here: impl Fn(About) -> bool,
) {
    for notice in session.notices().iter().filter(|notice| here(notice.about)) {
        notice_ui(ui, notice, palette);
    }
}

pub(in crate::panels) fn notice_ui(ui: &mut Ui, notice: &Notice, palette: &Palette) {
    let tint = colour(if notice.severe { palette.fault } else { palette.ink });
    let mark = if notice.severe { "✖ " } else { "⚠ " };
    ui.label(RichText::new(format!("{mark}{}", sentence(&notice.text))).color(tint));
    ui.label(RichText::new(sentence(&notice.remedy)).small().weak());
}

/// With a capital at the start and a full stop at the end.
pub(in crate::panels) fn sentence(text: &str) -> String {
    let stop = if text.is_empty() || text.ends_with(['.', '?', '!']) { "" } else { "." };
    format!("{}{stop}", capital(text))
}

/// With a capital at the start.
pub(in crate::panels) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| format!("{}{}", first.to_uppercase(), letters.as_str())).unwrap_or_default()
}
