//! How the panels look: the drawing's paper and ink, thin rules, flat controls.

use bevy_egui::egui::{
    Color32, CornerRadius, FontFamily, FontId, Margin, ScrollArea, Shadow, Stroke, Style, TextStyle, Theme,
    Ui, Visuals, vec2,
};
use wheelpath_stage::theme::{ColourTheme, Hue, Palette, Rgb, hue_of};

/// A colour as egui has it.
#[must_use]
pub fn colour(rgb: Rgb) -> Color32 {
    Color32::from_rgb(rgb.0, rgb.1, rgb.2)
}

/// The colour of a reading's lines.
#[must_use]
pub fn line_colour(palette: &Palette, key: &str) -> Color32 {
    colour(palette.line(hue_of(key)))
}

/// The colour of a reading's numbers and names.
#[must_use]
pub fn text_colour(palette: &Palette, key: &str) -> Color32 {
    colour(palette.text(hue_of(key)))
}

/// Whether a reading has a colour of its own.
#[must_use]
pub fn has_hue(key: &str) -> bool {
    hue_of(key) != Hue::Ink
}

/// What a field is filled with: paper that can be written on.
#[must_use]
pub fn field(palette: &Palette) -> Rgb {
    match palette.sheet {
        ColourTheme::Light => Rgb(252, 251, 248),
        ColourTheme::Dark => Rgb(15, 18, 22),
    }
}

/// What a button is filled with at rest, and under the pointer.
#[must_use]
pub fn button(palette: &Palette) -> [Rgb; 2] {
    [palette.panel.mixed(palette.ink, 7), palette.panel.mixed(palette.ink, 15)]
}

/// What marks the chosen one of several.
#[must_use]
pub fn chosen(palette: &Palette) -> Rgb {
    palette.panel.mixed(palette.accent, 22)
}

/// The name of the chosen one of several.
#[must_use]
pub fn chosen_text(palette: &Palette) -> Rgb {
    palette.accent.readable_on(chosen(palette), 4.5)
}

/// What every other row of a table lies on.
#[must_use]
pub fn stripe(palette: &Palette) -> Rgb {
    palette.panel.mixed(palette.ink, 4)
}

/// The colour of a reading's numbers on a stripe as on a panel.
#[must_use]
pub fn table_text(palette: &Palette, key: &str) -> Color32 {
    colour(palette.text(hue_of(key)).readable_on(stripe(palette), 4.5))
}

/// A rule between things.
#[must_use]
pub fn rule(palette: &Palette) -> Rgb {
    palette.panel.mixed(palette.ink, 18)
}

/// The whole style, text `scale` times as large as designed.
#[must_use]
pub fn style(palette: &Palette, scale: f32) -> Style {
    let dark = palette.sheet == ColourTheme::Dark;
    let mut style = Style::default();
    let size = |points: f32| FontId::new(points * scale, FontFamily::Proportional);
    style.text_styles = [
        (TextStyle::Small, size(11.0)),
        (TextStyle::Body, size(13.0)),
        (TextStyle::Button, size(13.0)),
        (TextStyle::Heading, size(15.5)),
        (TextStyle::Monospace, FontId::new(12.0 * scale, FontFamily::Monospace)),
    ]
    .into();
    style.animation_time = 0.0;
    style.interaction.tooltip_delay = 0.35;
    style.interaction.show_tooltips_only_when_still = true;
    style.interaction.selectable_labels = false;
    let spacing = &mut style.spacing;
    spacing.item_spacing = vec2(6.0, 4.0);
    spacing.button_padding = vec2(7.0, 2.0);
    spacing.interact_size = vec2(24.0, 20.0) * scale;
    spacing.slider_width = 140.0;
    spacing.combo_width = 60.0;
    spacing.tooltip_width = 340.0 * scale;
    spacing.window_margin = Margin::same(10);
    spacing.menu_margin = Margin::same(8);
    spacing.scroll.bar_width = 7.0;
    spacing.scroll.floating = false;
    spacing.scroll.bar_inner_margin = 4.0;
    spacing.scroll.bar_outer_margin = 0.0;
    spacing.scroll.fade.strength = 0.0;
    style.visuals = visuals(palette, dark);
    style
}

fn visuals(palette: &Palette, dark: bool) -> Visuals {
    let mut visuals = if dark { Visuals::dark() } else { Visuals::light() };
    let ink = colour(palette.ink);
    let accent = colour(palette.accent);
    let thin = Stroke::new(1.0, colour(rule(palette)));
    let corner = CornerRadius::same(2);
    visuals.override_text_color = None;
    visuals.weak_text_color = Some(colour(palette.faint));
    visuals.hyperlink_color = accent;
    visuals.panel_fill = colour(palette.panel);
    visuals.window_fill = colour(palette.panel);
    visuals.window_stroke = thin;
    visuals.window_corner_radius = CornerRadius::same(3);
    visuals.menu_corner_radius = CornerRadius::same(3);
    let shadow = Shadow {
        offset: [0, 2],
        blur: 8,
        spread: 0,
        color: Color32::from_black_alpha(if dark { 120 } else { 40 }),
    };
    visuals.window_shadow = shadow;
    visuals.popup_shadow = shadow;
    visuals.extreme_bg_color = colour(field(palette));
    visuals.text_edit_bg_color = Some(colour(field(palette)));
    visuals.faint_bg_color = colour(stripe(palette));
    visuals.warn_fg_color = colour(palette.fault);
    visuals.error_fg_color = colour(palette.fault);
    visuals.selection.bg_fill = colour(chosen(palette));
    visuals.selection.stroke = Stroke::new(1.5, colour(chosen_text(palette)));
    visuals.collapsing_header_frame = false;
    visuals.indent_has_left_vline = false;
    let [rest, over] = button(palette).map(colour);
    let widgets = &mut visuals.widgets;
    widgets.noninteractive.bg_fill = colour(palette.panel);
    widgets.noninteractive.bg_stroke = thin;
    widgets.noninteractive.fg_stroke = Stroke::new(1.0, ink);
    for (state, fill, stroke) in [
        (&mut widgets.inactive, rest, thin),
        (&mut widgets.hovered, over, Stroke::new(1.0, colour(palette.faint))),
        // Focus by the keyboard looks as pressed does: the accent round it.
        (&mut widgets.active, over, Stroke::new(2.0, accent)),
        (&mut widgets.open, over, Stroke::new(1.0, colour(palette.faint))),
    ] {
        state.bg_fill = fill;
        state.weak_bg_fill = fill;
        state.bg_stroke = stroke;
        state.fg_stroke = Stroke::new(1.0, ink);
        state.expansion = 0.0;
    }
    for state in [
        &mut widgets.noninteractive,
        &mut widgets.inactive,
        &mut widgets.hovered,
        &mut widgets.active,
        &mut widgets.open,
    ] {
        state.corner_radius = corner;
    }
    visuals
}

/// Gives a context the style.
pub fn apply(ui: &mut Ui, palette: &Palette, scale: f32) {
    let theme = if palette.sheet == ColourTheme::Dark { Theme::Dark } else { Theme::Light };
    let style = style(palette, scale);
    ui.ctx().set_theme(theme);
    ui.ctx().set_style_of(theme, style.clone());
    ui.set_style(style);
}

/// What can be scrolled, with a handle that is quieter than the text beside it.
pub(in crate::panels) fn scrolled<R>(
    ui: &mut Ui,
    palette: &Palette,
    area: ScrollArea,
    add: impl FnOnce(&mut Ui) -> R,
) -> R {
    let style = ui.style().clone();
    let widgets = &mut ui.visuals_mut().widgets;
    widgets.inactive.fg_stroke.color = colour(palette.panel.mixed(palette.faint, 60));
    widgets.hovered.fg_stroke.color = colour(palette.faint);
    widgets.active.fg_stroke.color = colour(palette.accent);
    let inner = area.show(ui, |ui| {
        ui.set_style(style.clone());
        add(ui)
    });
    ui.set_style(style);
    inner.inner
}

#[cfg(test)]
mod tests {
    use super::{button, chosen, chosen_text, field, stripe};
    use wheelpath_stage::theme::{ColourTheme, Hue, Palette};

    #[test]
    fn text_can_be_read_on_everything_it_stands_on() {
        for sheet in [ColourTheme::Light, ColourTheme::Dark] {
            let palette = Palette::of(sheet);
            let [rest, over] = button(&palette);
            for ground in [palette.panel, palette.paper, field(&palette), rest, over, chosen(&palette)] {
                let contrast = palette.ink.contrast(ground);
                assert!(contrast >= 4.5, "{sheet:?}: ink on {ground:?} has {contrast:.2}");
            }
            let marked = chosen_text(&palette).contrast(chosen(&palette));
            assert!(marked >= 4.5, "{sheet:?}: the chosen one has {marked:.2}");
            for ground in [palette.panel, palette.paper, field(&palette), stripe(&palette)] {
                for text in [palette.faint, palette.accent, palette.fault] {
                    let contrast = text.contrast(ground);
                    assert!(contrast >= 4.5, "{sheet:?}: {text:?} on {ground:?} has {contrast:.2}");
                }
            }
            for ground in [palette.paper, field(&palette)] {
                for hue in
                    [Hue::Orange, Hue::SkyBlue, Hue::BluishGreen, Hue::Yellow, Hue::Blue, Hue::Vermilion]
                {
                    let text = palette.text(hue);
                    assert!(text.contrast(ground) >= 4.5, "{sheet:?} {hue:?} on {ground:?}");
                    assert!(text.contrast(palette.panel) >= 4.5, "{sheet:?} {hue:?} on a panel");
                    let row = text.readable_on(stripe(&palette), 4.5);
                    assert!(row.contrast(palette.panel) >= 4.5, "{sheet:?} {hue:?} in a table");
                    assert!(palette.line(hue).contrast(ground) >= 3.0, "{sheet:?} {hue:?} on {ground:?}");
                }
            }
            // What shows the focus is no text: 3 : 1 (WCAG 2, 1.4.11).
            assert!(palette.accent.contrast(rest) >= 3.0);
        }
    }
}
