//! The drawing of a map: its lines, its band, the point, and what the pointer does on it.

use crate::panels::state::shared::Shared;
use crate::panels::widgets::theme::{colour, field, line_colour, rule};
use bevy_egui::egui::{
    Align2, Color32, FontId, Mesh, Painter, Pos2, Rect, Sense, Shape, Stroke, StrokeKind, TextStyle, Ui,
    WidgetInfo, WidgetType, pos2, vec2,
};
use wheelpath_geometry::{Assembly, Hardpoint, LengthUnit, Unit};
use wheelpath_session::between::between;
use wheelpath_session::derived::curves::Ticks;
use wheelpath_session::derived::maps::ReadingMap;
use wheelpath_session::{CarEdit, Edit, Session, signed_finely, snapped};
use wheelpath_stage::theme::Palette;

/// From metres in the plane of the map to the screen, and back.
#[derive(Clone, Copy, Debug)]
struct Frame {
    rect: Rect,
    half: f64,
}

impl Frame {
    #[expect(clippy::cast_possible_truncation, reason = "for the screen")]
    fn on_screen(&self, [u, v]: [f64; 2]) -> Pos2 {
        let scale = f64::from(self.rect.width()) / (2.0 * self.half);
        self.rect.center() + vec2((u * scale) as f32, (-v * scale) as f32)
    }

    fn in_plane(&self, at: Pos2) -> [f64; 2] {
        let scale = 2.0 * self.half / f64::from(self.rect.width());
        let off = at - self.rect.center();
        [f64::from(off.x) * scale, -f64::from(off.y) * scale]
    }
}

pub(in crate::panels) fn map_plot_ui(
    ui: &mut Ui,
    session: &Session,
    state: &Shared,
    sheet: Option<&ReadingMap>,
    (assembly, hardpoint): (Assembly, Hardpoint),
    edits: &mut Vec<Edit>,
) {
    let palette = state.palette();
    let small = TextStyle::Small.resolve(ui.style());
    let left = small.size * 2.6;
    let side = (ui.available_width() - left - small.size * 0.7).min(0.62 * ui.ctx().viewport_rect().height());
    let (whole, _) = ui.allocate_exact_size(vec2(left + side, side + small.size * 2.0), Sense::hover());
    let rect = Rect::from_min_size(whole.min + vec2(left, small.size * 0.5), vec2(side, side));
    let plot = ui.interact(rect, ui.id().with("contour map"), Sense::click_and_drag());
    plot.widget_info(|| {
        WidgetInfo::labeled(WidgetType::Other, true, format!("Contour map: {assembly} {hardpoint}"))
    });
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, colour(field(&palette)));
    let Some(sheet) = sheet else {
        let text = "computing…";
        painter.text(rect.center(), Align2::CENTER_CENTER, text, small, colour(palette.faint));
        return;
    };
    let frame = Frame { rect, half: sheet.asked.patch.half[0] };
    band(&painter, &frame, sheet, &palette);
    axes(ui, &frame, &palette, sheet.asked.lengths);
    lines(&painter, &frame, sheet, &palette, &small);
    let now = assembly.hardpoints(session.car()).get(hardpoint);
    let patch = sheet.asked.patch;
    let place = |at: nalgebra::Vector3<f64>| {
        let off = at - patch.centre;
        [off.dot(&patch.u), off.dot(&patch.v)]
    };
    let (ink, paper) = (colour(palette.ink), colour(field(&palette)));
    painter.circle_stroke(frame.on_screen([0.0; 2]), 5.0, Stroke::new(1.4, ink));
    if let Some(now) = now {
        painter.circle(frame.on_screen(place(now)), 4.0, colour(palette.accent), Stroke::new(1.2, paper));
    }
    painter.rect_stroke(rect, 0.0, Stroke::new(1.0, colour(rule(&palette))), StrokeKind::Inside);
    if let Some(pointer) = plot.hover_pos() {
        value_label(&painter, &frame, sheet, pointer, &palette, &small);
    }
    let pulled = plot.clicked() || plot.dragged();
    if let (Some(pointer), Some(now), true) = (plot.interact_pointer_pos(), now, pulled) {
        let within = |x, [least, most]: [f32; 2]| between(x, least, most);
        let inside = Pos2::new(
            within(pointer.x, [rect.left(), rect.right()]),
            within(pointer.y, [rect.top(), rect.bottom()]),
        );
        let uv = frame.in_plane(inside).map(|metres| snapped(metres, state.snap));
        // Square to the plane the point stays where it is.
        let to = now + sheet.off(uv) - sheet.off(place(now));
        edits.push(Edit::Change(CarEdit::move_point(assembly, hardpoint, to, state.mirrored)));
    }
    if plot.clicked() || plot.drag_stopped() {
        edits.push(Edit::Settle);
    }
}

/// The places where the limit is kept.
fn band(painter: &Painter, frame: &Frame, sheet: &ReadingMap, palette: &Palette) {
    let mut mesh = Mesh::default();
    let tint = colour(field(palette).mixed(palette.accent, 24));
    for [from, to, low, high] in sheet.bands() {
        let (a, b) = (frame.on_screen([from, high]), frame.on_screen([to, low]));
        mesh.add_colored_rect(Rect::from_two_pos(a, b), tint);
    }
    painter.add(Shape::mesh(mesh));
}

/// Lengths along both directions, outside the frame.
fn axes(ui: &Ui, frame: &Frame, palette: &Palette, lengths: LengthUnit) {
    let font = TextStyle::Small.resolve(ui.style());
    let faint = colour(palette.faint);
    let half = Unit::Length.shown(frame.half, lengths);
    let ticks = Ticks::of([-half, half], frame.rect.width(), font.size * 4.0);
    let painter = ui.painter();
    let grid = Stroke::new(0.7, colour(field(palette).mixed(palette.grid, 60)));
    for at in &ticks.at {
        let metres = Unit::Length.inside(*at, lengths);
        let below = frame.on_screen([metres, -frame.half]);
        let beside = frame.on_screen([-frame.half, metres]);
        painter.vline(below.x, frame.rect.y_range(), grid);
        painter.hline(frame.rect.x_range(), beside.y, grid);
        painter.text(below + vec2(0.0, 2.0), Align2::CENTER_TOP, ticks.write(*at), font.clone(), faint);
        if at.abs() < half * 0.999 {
            let at_left = beside - vec2(4.0, 0.0);
            painter.text(at_left, Align2::RIGHT_CENTER, ticks.write(*at), font.clone(), faint);
        }
    }
    let end = frame.rect.left_top() - vec2(4.0, 2.0);
    let v = format!("up {}", Unit::Length.symbol(lengths));
    painter.text(end, Align2::RIGHT_TOP, v, font.clone(), faint);
    let end = frame.rect.left_bottom() + vec2(-12.0, 2.0);
    painter.text(end, Align2::RIGHT_TOP, "across", font, faint);
}

fn lines(painter: &Painter, frame: &Frame, sheet: &ReadingMap, palette: &Palette, font: &FontId) {
    let tint = line_colour(palette, sheet.asked.reading.key);
    let mut labels: Vec<(Pos2, String, Color32)> = Vec::new();
    for level in sheet.levels() {
        let width = if level.is_zero { 2.6 } else { 1.0 };
        for line in &level.lines {
            let line: Vec<Pos2> = line.iter().map(|at| frame.on_screen(*at)).collect();
            if let Some(middle) = line.get(line.len() / 6).filter(|_| line.len() > 6) {
                labels.push((
                    *middle,
                    level.text.clone(),
                    colour(palette.text(wheelpath_stage::theme::hue_of(sheet.asked.reading.key))),
                ));
            }
            painter.line(line, (width, tint));
        }
    }
    // A number that another one is in the way of is left out: the next line's tells the step.
    let mut taken: Vec<Rect> = Vec::new();
    for (at, text, ink) in labels {
        let galley = painter.layout_no_wrap(text, font.clone(), ink);
        let place = Rect::from_center_size(at, galley.size()).expand2(vec2(2.0, 0.0));
        let free = frame.rect.contains_rect(place) && taken.iter().all(|other| !other.intersects(place));
        if free {
            painter.rect_filled(place, 0.0, colour(field(palette)));
            painter.galley(place.min + vec2(2.0, 0.0), galley, ink);
            taken.push(place);
        }
    }
}

/// The value under the pointer, beside it.
fn value_label(
    painter: &Painter,
    frame: &Frame,
    sheet: &ReadingMap,
    pointer: Pos2,
    palette: &Palette,
    font: &FontId,
) {
    let uv = frame.in_plane(pointer);
    let unit = sheet.asked.reading.unit;
    let lengths = sheet.asked.lengths;
    let [u, v] = uv.map(|metres| Unit::Length.write_number(metres, lengths));
    let mut text = format!("across {u}, up {v} {}\n", Unit::Length.symbol(lengths));
    text += &match sheet.field().value(uv) {
        Some(slope) => {
            let gain = unit.shown_slope(0.0, slope * lengths.stretch(), lengths);
            format!("{} per {}", signed_finely(unit, gain, lengths), lengths.stretch_in_words())
        }
        None => "not every travel is reached".to_owned(),
    };
    text += match sheet.keeps(uv) {
        Some(true) => "\nthe limit passes",
        Some(false) => "\nthe limit fails",
        None => "",
    };
    let galley = painter.layout_no_wrap(text, font.clone(), colour(palette.ink));
    let size = galley.size();
    let right = pointer.x + 14.0 + size.x < frame.rect.right();
    let x = if right { pointer.x + 12.0 } else { pointer.x - 12.0 - size.x };
    let y = (pointer.y - size.y - 8.0).max(frame.rect.top() + 3.0);
    let place = Rect::from_min_size(pos2(x, y), size).expand(3.0);
    painter.rect_filled(place, 2.0, colour(palette.paper));
    painter.rect_stroke(place, 2.0, Stroke::new(1.0, colour(rule(palette))), StrokeKind::Inside);
    painter.galley(pos2(x, y), galley, colour(palette.ink));
}
