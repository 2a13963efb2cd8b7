//! Overlays painted with egui: crisp at any zoom, always on top of the car.

use bevy_egui::egui;
use nalgebra::{Point3, Vector2};

use crate::annotate::annotations::{Annotations, dashed, draft};
use crate::annotate::arrow_painter;
use crate::annotate::frame::{self, colour};
use crate::annotate::handle_painter;
use crate::annotate::labels::{LabelRequest, leader, place_labels};
use crate::camera::projection::{Pixel, ScreenRect, StageProjection};
use crate::pick;
use crate::pick::pointer_input::Over;
use crate::theme::{Palette, hue_of};
use crate::view::direction_arrow::{self, WayMark};
use crate::view::handle::{self, Mark};
use crate::view::{Emphasis, LineStyle, MarkerSign, Stage, WheelSlot};

/// A label as it was drawn, for the pointer.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnLabel {
    /// The rectangle that it covers.
    pub rect: ScreenRect,
    /// The reading it shows.
    pub reading: String,
    /// The wheel it belongs to, where it belongs to one.
    pub place: Option<WheelSlot>,
}

/// Size of label text, in points.
const TEXT: f32 = 12.5;
/// Room round label text, in points.
const PADDING: egui::Vec2 = egui::vec2(5.0, 2.0);

/// Paints the stage's overlays and points into the lens's rectangle and says where the
/// labels went.
#[must_use]
pub fn paint(
    context: &egui::Context,
    stage: &Stage,
    lens: &StageProjection,
    palette: &Palette,
    over: &Over,
    solid_wheels: bool,
) -> Vec<DrawnLabel> {
    let clip = frame::rect(&lens.rect);
    let painter = context.layer_painter(egui::LayerId::background()).with_clip_rect(clip);
    if let Some(caption) = &stage.caption {
        let at = egui::pos2(clip.left() + 10.0, clip.top() + 8.0);
        plate(&painter, at, caption.clone(), colour(palette.ink), palette);
        let edge = egui::Stroke::new(1.0, colour(palette.paper.mixed(palette.ink, 22)));
        painter.vline(clip.right(), clip.y_range(), edge);
    }
    let drawing = draft(stage, lens);
    lines(&painter, &drawing, palette);
    let hides = |at| solid_wheels && pick::hidden_by_tyre(&stage.car, lens, at);
    points(&painter, stage, lens, palette, over, hides);
    let ways = direction_arrow::marks(&stage.ways, lens);
    arrow_painter::paint(&painter, &stage.ways, &ways, palette);
    let marks = handle::marks(&stage.handles, lens);
    handle_painter::paint(&painter, &stage.handles, &marks, palette, over);
    labels(&painter, &drawing, stage, (&marks, &ways), lens, palette, over)
}

fn lines(painter: &egui::Painter, drawing: &Annotations, palette: &Palette) {
    let halo = colour(palette.paper);
    // Halos first, all of them, so that no line's halo cuts another line.
    for stroke in drawing.strokes.iter().filter(|stroke| !stroke.helping) {
        for (a, b) in dashed(&stroke.points, stroke.style) {
            painter.line_segment(
                [frame::pos(a), frame::pos(b)],
                (if stroke.style == LineStyle::Thin { 2.4 } else { 2.8 }, halo),
            );
        }
    }
    for stroke in &drawing.strokes {
        let line = colour(palette.line(stroke.hue));
        let (width, line) = if stroke.helping {
            (1.0, line.gamma_multiply(0.65))
        } else if stroke.style == LineStyle::Thin {
            (1.3, line)
        } else {
            (1.6, line)
        };
        if matches!(stroke.style, LineStyle::Solid | LineStyle::Thin) {
            let corners: Vec<egui::Pos2> = stroke.points.iter().map(|p| frame::pos(*p)).collect();
            painter.line(corners, (width, line));
        } else {
            for (a, b) in dashed(&stroke.points, stroke.style) {
                painter.line_segment([frame::pos(a), frame::pos(b)], (width, line));
            }
        }
    }
    for arrow in &drawing.arrowheads {
        let back = arrow.tip - arrow.heading * 10.0;
        let across = Vector2::new(-arrow.heading.y, arrow.heading.x) * 3.0;
        painter.add(egui::Shape::convex_polygon(
            [arrow.tip, back + across, back - across].into_iter().map(frame::pos).collect(),
            colour(palette.line(arrow.hue)),
            egui::Stroke::NONE,
        ));
    }
    for sign in &drawing.signs {
        let line = colour(palette.line(sign.hue));
        let at = frame::pos(sign.at);
        let paper = colour(palette.paper);
        let arm = |length: f32| {
            painter.line_segment([at - egui::vec2(length, 0.0), at + egui::vec2(length, 0.0)], (1.4, line));
            painter.line_segment([at - egui::vec2(0.0, length), at + egui::vec2(0.0, length)], (1.4, line));
        };
        match sign.sign {
            MarkerSign::Cross => arm(6.0),
            MarkerSign::Centre => {
                painter.circle(at, 6.0, paper, (1.6, line));
                arm(9.0);
            }
            MarkerSign::Dot => {
                painter.circle(at, 4.0, line, (1.5, paper));
            }
            MarkerSign::Open => {
                painter.circle_stroke(at, 5.0, (1.6, line));
            }
        }
    }
}

/// Points that can be pulled: small rings, so that they can be seen to be there, and
/// the one under the pointer with its name.
fn points(
    painter: &egui::Painter,
    stage: &Stage,
    lens: &StageProjection,
    palette: &Palette,
    over: &Over,
    hides: impl Fn(Point3<f64>) -> bool,
) {
    let mut named = None;
    for point in &stage.car.points {
        let Some(pixel) = lens.project(point.at).filter(|_| !lens.is_cut(point.at)) else {
            continue;
        };
        let at = frame::pos(pixel);
        let is_over = matches!(over, Over::Point(key) if *key == point.key);
        if !is_over && hides(point.at) {
            continue;
        }
        let ring = match point.emphasis {
            Emphasis::Plain => palette.ink,
            Emphasis::Changed | Emphasis::Selected => palette.accent,
            Emphasis::Fault => palette.fault,
        };
        let picked = is_over || matches!(point.emphasis, Emphasis::Selected | Emphasis::Fault);
        let radius = if picked { 5.5 } else { 2.6 };
        painter.circle(at, radius, colour(palette.paper), (if picked { 2.0 } else { 1.0 }, colour(ring)));
        if is_over {
            named = Some((at, point.name.clone()));
        }
    }
    if let Some((at, name)) = named {
        plate(painter, at + egui::vec2(10.0, -24.0), name, colour(palette.ink), palette);
    }
}

fn plate(painter: &egui::Painter, at: egui::Pos2, text: String, ink: egui::Color32, palette: &Palette) {
    let galley = painter.layout_no_wrap(text, egui::FontId::proportional(TEXT), ink);
    let clip = painter.clip_rect();
    let size = galley.size() + 2.0 * PADDING;
    let at = egui::pos2(
        at.x.min(clip.right() - size.x).max(clip.left()),
        at.y.min(clip.bottom() - size.y).max(clip.top()),
    );
    let rect = egui::Rect::from_min_size(at, size);
    painter.rect_filled(rect, 3.0, colour(palette.paper));
    painter.rect_stroke(rect, 3.0, (1.0, ink), egui::StrokeKind::Inside);
    painter.galley(at + PADDING, galley, ink);
}

fn labels(
    painter: &egui::Painter,
    drawing: &Annotations,
    stage: &Stage,
    (marks, ways): (&[Mark], &[WayMark]),
    lens: &StageProjection,
    palette: &Palette,
    over: &Over,
) -> Vec<DrawnLabel> {
    let handles: Vec<_> = marks
        .iter()
        .filter_map(|mark| {
            let handle = stage.handles.get(mark.number)?;
            let font = egui::FontId::proportional(TEXT);
            let galley = painter.layout_no_wrap(handle.label.clone(), font, colour(palette.accent));
            Some((mark.label_at(), galley, handle_painter::stands_out(handle, over)))
        })
        .collect();
    let ways: Vec<_> = ways
        .iter()
        .filter_map(|mark| {
            let way = stage.ways.get(mark.number)?;
            let ink = colour(palette.text(hue_of(&way.reading)));
            let font = egui::FontId::proportional(TEXT);
            Some((mark.label_at(), painter.layout_no_wrap(way.label.clone(), font, ink), ink))
        })
        .collect();
    let texts: Vec<_> = drawing
        .notes
        .iter()
        .map(|note| {
            painter.layout_no_wrap(
                note.text.clone(),
                egui::FontId::proportional(TEXT),
                colour(palette.text(note.hue)),
            )
        })
        .collect();
    let want = |anchor, prefer, galley: &egui::Galley| {
        let size = galley.size() + 2.0 * PADDING;
        LabelRequest { anchor, prefer, size: Vector2::new(f64::from(size.x), f64::from(size.y)) }
    };
    // What is in the hand comes first: its labels stand nearest to what they name.
    let wanted: Vec<LabelRequest> = handles
        .iter()
        .map(|((anchor, prefer), galley, _)| want(*anchor, *prefer, galley))
        .chain(ways.iter().map(|((anchor, prefer), galley, _)| want(*anchor, *prefer, galley)))
        .chain(drawing.notes.iter().zip(&texts).map(|(note, galley)| want(note.anchor, note.prefer, galley)))
        .collect();
    let signs: Vec<ScreenRect> = drawing
        .signs
        .iter()
        .map(|sign| around(sign.at, 8.0))
        .chain(drawing.arrowheads.iter().map(|arrow| around(arrow.tip - arrow.heading * 5.0, 6.0)))
        .chain(handle_painter::keep_free(marks))
        .collect();
    let mut placed = place_labels(&wanted, &signs, lens.rect.shrunk(6.0)).into_iter();
    for ((_, galley, stands_out), rect) in handles.into_iter().zip(placed.by_ref()) {
        let Some(place) = rect.map(|rect| frame::rect(&rect)) else { continue };
        painter.rect_filled(place, 3.0, colour(palette.paper));
        if stands_out {
            painter.rect_stroke(place, 3.0, (1.0, colour(palette.accent)), egui::StrokeKind::Inside);
        }
        painter.galley(place.min + PADDING, galley, colour(palette.accent));
    }
    for ((_, galley, ink), rect) in ways.into_iter().zip(placed.by_ref()) {
        let Some(place) = rect.map(|rect| frame::rect(&rect)) else { continue };
        painter.rect_filled(place, 3.0, colour(palette.paper));
        painter.galley(place.min + PADDING, galley, ink);
    }
    let mut drawn: Vec<DrawnLabel> = Vec::new();
    for ((note, galley), rect) in drawing.notes.iter().zip(texts).zip(placed) {
        let (Some(rect), Some(overlay)) = (rect, stage.overlays.get(note.overlay)) else {
            continue;
        };
        let ink = colour(palette.text(note.hue));
        let is_over = *over == Over::Label(drawn.len());
        let place = frame::rect(&rect);
        if let Some((from, to)) = leader(&rect, note.anchor) {
            painter.line_segment([frame::pos(from), frame::pos(to)], (0.8, ink.gamma_multiply(0.7)));
        }
        let paper = colour(if is_over { palette.panel } else { palette.paper });
        painter.rect_filled(place, 3.0, paper);
        if is_over {
            painter.rect_stroke(place, 3.0, (1.0, ink), egui::StrokeKind::Inside);
        }
        painter.galley(place.min + PADDING, galley, ink);
        drawn.push(DrawnLabel { rect, reading: overlay.reading.clone(), place: overlay.place });
    }
    drawn
}

fn around(at: Pixel, reach: f64) -> ScreenRect {
    ScreenRect::new(at.x - reach, at.y - reach, 2.0 * reach, 2.0 * reach)
}
