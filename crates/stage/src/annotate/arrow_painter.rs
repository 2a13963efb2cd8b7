//! Ways painted with egui: open heads, in the colour of the reading, so that none is taken for a handle.

use bevy_egui::egui;
use nalgebra::Vector2;

use crate::annotate::frame;
use crate::annotate::frame::colour;
use crate::theme::{Palette, hue_of};
use crate::view::direction_arrow::{WayMark, WayView};

/// Length and half width of a head, in pixels.
const HEAD: [f64; 2] = [9.0, 5.0];

/// Paints the ways; their labels are placed with all others.
pub(crate) fn paint(painter: &egui::Painter, ways: &[WayView], marks: &[WayMark], palette: &Palette) {
    let halo = colour(palette.paper);
    let shape = |mark: &WayMark| -> Vec<Vec<egui::Pos2>> {
        let Some(heading) = (mark.tip - mark.from).try_normalize(1e-9) else { return Vec::new() };
        let [length, half] = HEAD;
        let across = Vector2::new(-heading.y, heading.x) * half;
        let back = mark.tip - heading * length;
        let head = [back + across, mark.tip, back - across].map(frame::pos).to_vec();
        vec![vec![frame::pos(mark.from), frame::pos(mark.tip)], head]
    };
    for mark in marks {
        for line in shape(mark) {
            painter.line(line, (5.0, halo));
        }
    }
    for mark in marks {
        let Some(way) = ways.get(mark.number) else { continue };
        let ink = colour(palette.line(hue_of(&way.reading)));
        if mark.is_end_on() {
            painter.circle_stroke(frame::pos(mark.from), 9.0, (2.2, ink));
        }
        for line in shape(mark) {
            painter.line(line, (2.2, ink));
        }
    }
}
