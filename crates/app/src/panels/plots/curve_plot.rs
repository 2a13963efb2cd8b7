//! The drawing of a curve: its axes, lines and markers, and what the pointer does on it.

use crate::panels::plots::wall_state::Card;
use crate::panels::widgets::theme::{colour, field, line_colour};
use bevy_egui::egui::{
    Align2, Color32, FontId, Pos2, Rect, Sense, Stroke, TextStyle, Ui, UiBuilder, WidgetInfo, WidgetType,
    pos2, vec2,
};
use egui_plot::{
    GridInput, GridMark, HoverPosition, Line, LineStyle, MarkerShape, Plot, PlotBounds, PlotPoint,
    PlotTransform, PlotUi, Points, VLine,
};
use wheelpath_session::derived::curves::{Branch, Curve, Place, Ticks, Whose};
use wheelpath_session::{Edit, Session};
use wheelpath_stage::theme::Palette;

/// Draws the curve, and gives whether the pointer is over it.
pub(in crate::panels) fn plot_ui(
    ui: &mut Ui,
    session: &Session,
    curve: &Curve,
    card: &Card,
    height: f32,
    palette: &Palette,
    edits: &mut Vec<Edit>,
) -> bool {
    let small = TextStyle::Small.resolve(ui.style()).size;
    let (whole, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let corner = vec2(small * 3.3, small * 0.5);
    let frame = Rect::from_min_max(whole.min + corner, whole.max - vec2(small * 0.7, small * 1.5));
    // No closer than can be read, and no more than are of use.
    let x_ticks = Ticks::of(curve.x_range, frame.width(), (small * 3.2).max(frame.width() / 8.0));
    let y_ticks = Ticks::of(curve.y_range, frame.height(), (small * 1.5).max(frame.height() / 6.0));
    let [left, right] = curve.x_range;
    let [low, high] = curve.y_range;
    let mut inside = ui.new_child(UiBuilder::new().max_rect(frame).id_salt(("frame", card.id)));
    let response = Plot::new(("curve", card.id))
        .height(frame.height())
        .width(frame.width())
        .allow_zoom(false)
        .allow_drag(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_axis_zoom_drag(false)
        .allow_double_click_reset(false)
        .show_crosshair(false)
        .label_formatter(|_: &HoverPosition| None)
        .show_axes(false)
        .x_grid_spacer(|_: GridInput| marks(&x_ticks))
        .y_grid_spacer(|_: GridInput| marks(&y_ticks))
        .grid_spacing(2.0..=120.0)
        .grid_color(colour(field(palette).mixed(palette.grid, 60)))
        .show(&mut inside, |plot| {
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
    axes_ui(ui, curve, palette, whole, &response.transform, [&x_ticks, &y_ticks]);
    remark(ui, curve, palette, &response.transform);
    if let Some(place) = &response.inner {
        value_label(ui, curve, place, palette, *response.transform.frame());
    }
    let plot = response.response;
    plot.widget_info(|| {
        WidgetInfo::labeled(WidgetType::Other, true, format!("Curve: {}", curve.spec.title()))
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

fn marks(ticks: &Ticks) -> Vec<GridMark> {
    ticks.at.iter().map(|&value| GridMark { value, step_size: ticks.step }).collect()
}

fn at_screen(transform: &PlotTransform, [x, y]: [f64; 2]) -> Pos2 {
    transform.position_from_point(&PlotPoint::new(x, y))
}

/// Numbers along the axes, outside the frame: units at the ends, what runs to the right at its start.
fn axes_ui(
    ui: &Ui,
    curve: &Curve,
    palette: &Palette,
    whole: Rect,
    transform: &PlotTransform,
    [x_ticks, y_ticks]: [&Ticks; 2],
) {
    let font = TextStyle::Small.resolve(ui.style());
    let (faint, frame) = (colour(palette.faint), *transform.frame());
    let painter = ui.painter();
    let write = |at: Pos2, anchor: Align2, text: &str| painter.text(at, anchor, text, font.clone(), faint);
    let wide = frame.width() > 30.0 * font.size;
    let positive = if wide { curve.x_positive } else { "" };
    let (x_suffix, x_symbol) = suffix_or_unit(curve.x_unit.symbol(curve.lengths));
    let x_unit = format!("{x_symbol} {positive}");
    let under = frame.bottom() + 2.0;
    let mut taken = vec![
        write(pos2(whole.right(), under), Align2::RIGHT_TOP, x_unit.trim()),
        write(pos2(frame.left() - 6.0, under), Align2::RIGHT_TOP, curve.x_name),
    ];
    let number = |at: Pos2, anchor: Align2, text: String, taken: &mut Vec<Rect>| {
        let galley = painter.layout_no_wrap(text, font.clone(), faint);
        let rect = anchor.anchor_size(at, galley.size());
        if taken.iter().all(|other| !other.expand2(vec2(3.0, -1.0)).intersects(rect)) {
            taken.push(rect);
            painter.galley(rect.min, galley, faint);
        }
    };
    let [_, high] = curve.y_range;
    let [left, _] = curve.x_range;
    for &at in &x_ticks.at {
        let x = at_screen(transform, [at, high]).x;
        number(pos2(x, under), Align2::CENTER_TOP, format!("{}{x_suffix}", x_ticks.write(at)), &mut taken);
    }
    let (suffix, unit) = suffix_or_unit(curve.y_unit.symbol(curve.lengths));
    let mut taken = Vec::new();
    if !unit.is_empty() {
        taken.push(write(pos2(frame.left() - 4.0, whole.top()), Align2::RIGHT_TOP, unit));
    }
    for &at in &y_ticks.at {
        let y = at_screen(transform, [left, at]).y;
        let text = format!("{}{suffix}", y_ticks.write(at));
        number(pos2(frame.left() - 4.0, y), Align2::RIGHT_CENTER, text, &mut taken);
    }
}

/// What goes with every number of an axis, a sign, or else what stands once at its end, a longer unit.
fn suffix_or_unit(symbol: &'static str) -> (&'static str, &'static str) {
    match symbol {
        sign @ ("°" | "%") => (sign, ""),
        longer => ("", longer),
    }
}

/// What is to be said about the whole curve, in a corner that is free; nothing where none is.
fn remark(ui: &Ui, curve: &Curve, palette: &Palette, transform: &PlotTransform) {
    let text = if curve.has_gap {
        "gap: cannot be reached"
    } else if curve.sides_coincide && curve.spec.has_sides() {
        "left = right"
    } else {
        return;
    };
    let font = FontId::proportional(TextStyle::Small.resolve(ui.style()).size);
    let galley = ui.painter().layout_no_wrap(text.to_owned(), font, colour(palette.faint));
    let (size, frame) = (galley.size(), *transform.frame());
    let [low, _] = curve.y_range;
    let stops: Vec<f32> = curve.stops.iter().map(|stop| at_screen(transform, [*stop, low]).x).collect();
    let mut lefts = vec![frame.left() + 5.0, frame.right() - 5.0 - size.x];
    lefts.extend(stops.iter().flat_map(|stop| [stop + 5.0, stop - 5.0 - size.x]));
    let tops = [frame.top() + 2.0, frame.bottom() - 2.0 - size.y];
    let zero = at_screen(transform, [0.0, 0.0]);
    let free = |at: Pos2| {
        let rect = Rect::from_min_size(at, size).expand(2.0);
        frame.contains_rect(rect.shrink(1.0))
            && stops.iter().all(|stop| !rect.x_range().contains(*stop))
            && !rect.y_range().contains(zero.y)
            && curve.markers.iter().all(|(_, at)| !rect.expand(6.0).contains(at_screen(transform, *at)))
            && curve.traces.iter().flat_map(|trace| &trace.pieces).all(|piece| {
                piece.windows(2).all(|pair| {
                    let [from, to] = pair else { return true };
                    let (from, to) = (at_screen(transform, *from), at_screen(transform, *to));
                    !Rect::from_two_pos(from, to).intersects(rect)
                })
            })
    };
    let places = tops.iter().flat_map(|top| lefts.iter().map(|left| pos2(*left, *top)));
    if let Some(at) = places.into_iter().find(|at| free(*at)) {
        let ground = Rect::from_min_size(at, size).expand2(vec2(2.0, 0.0));
        ui.painter().rect_filled(ground, 0.0, colour(field(palette)));
        ui.painter().galley(at, galley, colour(palette.faint));
    }
}

fn lines(plot: &mut PlotUi, curve: &Curve, palette: &Palette) {
    let faint = colour(palette.faint);
    plot.hline(egui_plot::HLine::new("zero", 0.0).color(faint).width(0.8));
    for stop in &curve.stops {
        let line = VLine::new("damper stop", *stop).color(faint).width(0.8);
        plot.vline(line.style(LineStyle::Dotted { spacing: 5.0 }));
    }
    for trace in &curve.traces {
        // Under the left line there is nothing to see.
        if curve.sides_coincide && trace.branch.is_right() {
            continue;
        }
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
        Whose::Now if branch.is_right() => (tint, 1.1, LineStyle::Dotted { spacing: 6.0 }),
        Whose::Now => (tint, 1.8, LineStyle::Solid),
    }
}

fn markers(plot: &mut PlotUi, curve: &Curve, palette: &Palette) {
    let tint = line_colour(palette, curve.spec.colour_key());
    for (branch, at) in &curve.markers {
        // Left and the axle are full discs, right is an open diamond.
        let points = Points::new(branch.label(), vec![*at]).color(tint).allow_hover(false);
        let points = if branch.is_right() {
            points.shape(MarkerShape::Diamond).filled(false).radius(5.5)
        } else {
            points.shape(MarkerShape::Circle).filled(true).radius(3.6)
        };
        plot.points(points);
    }
}

/// The values under the pointer, beside it.
fn value_label(ui: &Ui, curve: &Curve, place: &Place, palette: &Palette, frame: Rect) {
    let x = curve.x_unit.write(curve.x_unit.inside(place.x, curve.lengths), curve.lengths);
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
    let rect = Rect::from_min_size(pos2(x, y), size).expand(3.0);
    ui.painter().rect_filled(rect, 2.0, colour(palette.paper));
    ui.painter().rect_stroke(
        rect,
        2.0,
        Stroke::new(1.0, colour(crate::panels::widgets::theme::rule(palette))),
        bevy_egui::egui::StrokeKind::Inside,
    );
    ui.painter().galley(pos2(x, y), galley, colour(palette.ink));
}
