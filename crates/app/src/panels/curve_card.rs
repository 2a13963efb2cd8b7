//! One curve of the wall.

use super::readings::definition_ui;
use super::theme::{colour, line_colour, text_colour};
use super::ui_state::{Card, UiState};
use crate::curves::{Branch, Curve, Place, Shown, Whose};
use crate::session::{Edit, Session};
use crate::stage::palette::Palette;
use bevy_egui::egui::{
    Align, Align2, Button, Color32, FontId, Layout, Pos2, RichText, Stroke, TextStyle, Ui, pos2,
};
use egui_plot::{
    AxisHints, GridMark, HPlacement, HoverPosition, Line, LineStyle, MarkerShape, Plot, PlotBounds, PlotUi,
    Points, VLine,
};
use wheelpath_geometry::LengthUnit;

const MM: LengthUnit = LengthUnit::Millimetre;

/// What is done to a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Done {
    Nothing,
    Grow,
    Close,
}

/// Draws a card. Gives whether the pointer is over its curve, and what was done to it.
pub(super) fn curve_card_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut UiState,
    card: &Card,
    height: f32,
    edits: &mut Vec<Edit>,
) -> (bool, Done) {
    let palette = state.palette();
    let curve = Curve::of(session, card.spec, &mut state.sweeps);
    let done = header_ui(ui, &curve, card, &palette);
    let over = plot_ui(ui, session, &curve, card, height, &palette, edits);
    (over, done)
}

fn header_ui(ui: &mut Ui, curve: &Curve, card: &Card, palette: &Palette) -> Done {
    let mut done = Done::Nothing;
    let tint = text_colour(palette, card.spec.colour_key());
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let close = ui.add(Button::new("×").frame(false)).on_hover_text("Take this curve off the wall");
            let title = card.spec.title();
            ui.ctx().accesskit_node_builder(close.id, |node| node.set_label(format!("Close {title}")));
            if close.clicked() {
                done = Done::Close;
            }
            let unit = curve.y_unit.symbol(MM);
            let mut seen: Vec<String> = curve
                .markers
                .iter()
                .rev()
                .map(|(_, at)| {
                    let value = at[1] / curve.y_unit.factor(MM);
                    curve.y_unit.write_number(value, MM)
                })
                .collect();
            if curve.sides_coincide {
                seen.dedup();
            }
            let gap = if unit.is_empty() || unit.starts_with('°') { "" } else { " " };
            let values =
                if seen.is_empty() { "—".to_owned() } else { format!("{}{gap}{unit}", seen.join(" | ")) };
            ui.label(RichText::new(values).color(tint));
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let text = RichText::new(&title).strong();
                let button = ui.add(Button::new(text).frame(false).truncate());
                let hint = if card.grown { "Click: small again" } else { "Click: larger" };
                let button = button.on_hover_ui(|ui| {
                    ui.label(hint);
                    if let Shown::Reading(reading) = card.spec.shown {
                        definition_ui(ui, reading);
                    }
                });
                if button.clicked() {
                    done = Done::Grow;
                }
            });
        });
    });
    done
}

fn plot_ui(
    ui: &mut Ui,
    session: &Session,
    curve: &Curve,
    card: &Card,
    height: f32,
    palette: &Palette,
    edits: &mut Vec<Edit>,
) -> bool {
    let small = TextStyle::Small.resolve(ui.style());
    let faint = colour(palette.faint);
    let decimals = tick_decimals(curve.y_range);
    let x_axis =
        AxisHints::new_x().formatter(|mark: GridMark, _| tick(mark.value, 0)).tick_label_font(small.clone());
    let x_axis = x_axis.tick_label_color(faint);
    let y_axis = AxisHints::new_y()
        .formatter(move |mark: GridMark, _| tick(mark.value, decimals))
        .tick_label_font(small.clone())
        .tick_label_color(faint)
        .placement(HPlacement::Left)
        .min_thickness(small.size * 3.1);
    let [left, right] = curve.x_range;
    let [low, high] = curve.y_range;
    let response = Plot::new(("curve", card.id))
        .height(height)
        .width(ui.available_width())
        .allow_zoom(false)
        .allow_drag(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_axis_zoom_drag(false)
        .allow_double_click_reset(false)
        .show_crosshair(false)
        .label_formatter(|_: &HoverPosition| None)
        .custom_x_axes(vec![x_axis])
        .custom_y_axes(vec![y_axis])
        .grid_spacing(34.0..=260.0)
        .grid_color(colour(palette.grid))
        .show(ui, |plot| {
            plot.set_plot_bounds(PlotBounds::from_min_max([left, low], [right, high]));
            let place = plot
                .response()
                .hover_pos()
                .map(|at| plot.plot_from_screen(at))
                .and_then(|at| curve.place(session, at.x, at.y));
            lines(plot, curve, palette);
            if let Some(place) = &place {
                plot.vline(VLine::new("pointer", place.x).color(colour(palette.accent)).width(1.0));
            }
            markers(plot, curve, palette);
            place
        });
    let rect = response.response.rect;
    let frame = *response.transform.frame();
    let painter = ui.painter().with_clip_rect(rect);
    let axis_name = |at: Pos2, anchor: Align2, text: &str| {
        painter.text(at, anchor, text, FontId::proportional(small.size), faint);
    };
    axis_name(pos2(frame.right() - 3.0, frame.bottom() - 2.0), Align2::RIGHT_BOTTOM, &curve.x_name);
    if curve.has_gap {
        axis_name(
            frame.left_top() + bevy_egui::egui::vec2(4.0, 2.0),
            Align2::LEFT_TOP,
            "gap: cannot be reached",
        );
    } else if curve.sides_coincide && curve.spec.has_sides() {
        axis_name(frame.left_top() + bevy_egui::egui::vec2(4.0, 2.0), Align2::LEFT_TOP, "left = right");
    }
    if let Some(place) = &response.inner {
        value_label(ui, curve, place, palette, frame);
    }
    let plot = response.response;
    plot.widget_info(|| {
        bevy_egui::egui::WidgetInfo::labeled(
            bevy_egui::egui::WidgetType::Other,
            true,
            format!("Curve: {}", card.spec.title()),
        )
    });
    let over = plot.hovered() || plot.is_pointer_button_down_on();
    if let Some(place) = response.inner.filter(|_| over) {
        if plot.clicked() || plot.dragged() {
            edits.push(Edit::SetPose(place.pose));
        } else if session.previewed() != Some(&place.pose) {
            edits.push(Edit::Preview(Some(place.pose)));
        }
    }
    over
}

fn tick(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
        Some(rest) => format!("−{rest}"),
        None => text,
    }
}

fn tick_decimals(range: [f64; 2]) -> usize {
    match range[1] - range[0] {
        span if span < 0.3 => 2,
        span if span < 6.0 => 1,
        _ => 0,
    }
}

fn lines(plot: &mut PlotUi, curve: &Curve, palette: &Palette) {
    let faint = colour(palette.faint);
    plot.hline(egui_plot::HLine::new("zero", 0.0).color(faint).width(0.8));
    for stop in &curve.stops {
        let line = VLine::new("damper stop", *stop).color(faint).width(1.0);
        plot.vline(line.style(LineStyle::Dotted { spacing: 4.0 }));
    }
    for trace in &curve.traces {
        let (tint, width, style) = drawn(trace.whose, trace.branch, curve, palette);
        for piece in &trace.pieces {
            let line = Line::new(trace.branch.label(), piece.clone()).color(tint).width(width).style(style);
            plot.line(line.allow_hover(false));
        }
    }
}

/// Colour, width and style of a trace: colour is the reading's, side and age are style.
fn drawn(whose: Whose, branch: Branch, curve: &Curve, palette: &Palette) -> (Color32, f32, LineStyle) {
    let tint = line_colour(palette, curve.spec.colour_key());
    match whose {
        Whose::Original => (colour(palette.faint), 1.3, LineStyle::Dashed { length: 6.0 }),
        Whose::Ideal => (colour(palette.ink), 1.2, LineStyle::Dashed { length: 11.0 }),
        Whose::Now if branch.is_right() => (tint, 2.4, LineStyle::Dotted { spacing: 5.5 }),
        Whose::Now => (tint, 1.8, LineStyle::Solid),
    }
}

fn markers(plot: &mut PlotUi, curve: &Curve, palette: &Palette) {
    let tint = line_colour(palette, curve.spec.colour_key());
    for (branch, at) in &curve.markers {
        // Left and the axle are full discs, right is an open diamond.
        let points = Points::new(branch.label(), vec![*at]).color(tint).allow_hover(false);
        let points = if branch.is_right() {
            points.shape(MarkerShape::Diamond).filled(false).radius(6.5)
        } else {
            points.shape(MarkerShape::Circle).filled(true).radius(4.2)
        };
        plot.points(points);
    }
}

/// The values under the pointer, beside it.
fn value_label(ui: &Ui, curve: &Curve, place: &Place, palette: &Palette, frame: bevy_egui::egui::Rect) {
    let x = curve.x_unit.write(place.x / curve.x_unit.factor(MM), MM);
    let mut text = format!("at {x}");
    for (branch, value) in &place.values {
        text.push_str(&match branch {
            Branch::Axle => format!("\n{value}"),
            other => format!("\n{} {value}", other.label()),
        });
    }
    let font = TextStyle::Small.resolve(ui.style());
    let galley = ui.painter().layout_no_wrap(text, font, colour(palette.ink));
    let Some(pointer) = ui.input(|input| input.pointer.hover_pos()) else { return };
    let size = galley.size();
    let right = pointer.x + 12.0 + size.x < frame.right();
    let x = if right { pointer.x + 10.0 } else { pointer.x - 10.0 - size.x };
    let y = (pointer.y - size.y - 8.0).max(frame.top() + 2.0);
    let rect = bevy_egui::egui::Rect::from_min_size(pos2(x, y), size).expand(3.0);
    ui.painter().rect_filled(rect, 2.0, colour(palette.paper));
    ui.painter().rect_stroke(
        rect,
        2.0,
        Stroke::new(1.0, colour(super::theme::rule(palette))),
        bevy_egui::egui::StrokeKind::Inside,
    );
    ui.painter().galley(pos2(x, y), galley, colour(palette.ink));
}
