//! Handles painted with egui, as dimensions are: thin lines, slim heads, the accent of a proposal.

use bevy_egui::egui;
use nalgebra::Vector2;

use crate::annotate::frame;
use crate::annotate::frame::colour;
use crate::camera::projection::{Pixel, ScreenRect};
use crate::pick::pointer_input::Over;
use crate::theme::Palette;
use crate::view::handle::{HandleView, Mark, MarkShape};

/// Length and half width of a head, in pixels: slimmer than it is long.
const HEAD: [f64; 2] = [11.0, 3.2];

/// Whether a handle stands out: chosen for the arrow keys, or under the pointer.
pub(crate) fn stands_out(handle: &HandleView, over: &Over) -> bool {
    handle.chosen || matches!(over, Over::Handle(key) if *key == handle.key)
}

/// Paints the handles; their labels are placed with all others.
pub(crate) fn paint(
    painter: &egui::Painter,
    handles: &[HandleView],
    marks: &[Mark],
    palette: &Palette,
    over: &Over,
) {
    let halo = colour(palette.paper);
    let accent = colour(palette.accent);
    let pos = |line: Vec<Pixel>| line.into_iter().map(frame::pos).collect::<Vec<_>>();
    for mark in marks {
        painter.line(pos(mark.line()), (4.0, halo));
    }
    for mark in marks {
        let Some(handle) = handles.get(mark.number) else { continue };
        let width = if stands_out(handle, over) { 2.4 } else { 1.2 };
        painter.line(pos(mark.line()), (width, accent));
        match &mark.shape {
            MarkShape::Arrow { from, tip } => {
                let Some(heading) = (tip - from).try_normalize(1e-9) else { continue };
                let [length, half] = HEAD;
                let across = Vector2::new(-heading.y, heading.x) * half;
                let back = tip - heading * length;
                painter.add(egui::Shape::convex_polygon(
                    [*tip, back + across, back - across].into_iter().map(frame::pos).collect(),
                    accent,
                    egui::Stroke::NONE,
                ));
            }
            MarkShape::Ring(points) => quarters(painter, points, (width, accent)),
        }
    }
}

/// Ticks across a ring at its quarters, where the plate's two directions cross it.
fn quarters(painter: &egui::Painter, points: &[Pixel], stroke: (f32, egui::Color32)) {
    let steps = points.len().saturating_sub(1);
    let Some(middle) = points.first().zip(points.get(steps / 2)).map(|(a, b)| a + (b - a) * 0.5) else {
        return;
    };
    for at in (0..4).filter_map(|quarter| points.get(quarter * steps / 4)) {
        let out = at - middle;
        painter.line_segment([frame::pos(middle + out * 0.84), frame::pos(middle + out * 1.16)], stroke);
    }
}

/// What labels should leave free: the lines of the handles.
pub(crate) fn keep_free(marks: &[Mark]) -> Vec<ScreenRect> {
    let mut free = Vec::new();
    for mark in marks {
        if let MarkShape::Arrow { from, tip } = mark.shape {
            let pieces = 6_i32;
            free.extend((0..=pieces).map(|n| {
                let at = from + (tip - from) * (f64::from(n) / f64::from(pieces));
                ScreenRect::new(at.x - 5.0, at.y - 5.0, 10.0, 10.0)
            }));
        }
    }
    free
}
