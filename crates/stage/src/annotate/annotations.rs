//! Overlays as a drawing: from dimensions in the car to lines, arrowheads, signs and
//! notes on the screen. Plain arithmetic; whoever paints them adds only colour.

use nalgebra::{Point3, Unit, Vector2, Vector3};

use crate::camera::line_clipping::{clipped, visible_part};
use crate::camera::projection::{Pixel, ScreenRect, StageProjection};
use crate::camera::turntable::Turntable;
use crate::theme::{Hue, hue_of};
use crate::view::{LineStyle, MarkerSign, Overlay, OverlayShape, Plane, Stage, StageView};

/// A drawn line.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// Its corners.
    pub points: Vec<Pixel>,
    /// Its colour.
    pub hue: Hue,
    /// Whether it is a helping line (extension line, leader, leg), drawn fainter.
    pub helping: bool,
    /// How it is drawn.
    pub style: LineStyle,
}

/// A filled arrowhead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arrowhead {
    /// Its tip.
    pub tip: Pixel,
    /// The unit direction it points in.
    pub heading: Vector2<f64>,
    /// Its colour.
    pub hue: Hue,
}

/// A drawn sign.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sign {
    /// Its middle.
    pub at: Pixel,
    /// Which sign.
    pub sign: MarkerSign,
    /// Its colour.
    pub hue: Hue,
}

/// A text that wants a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    /// Number of the overlay it belongs to, among the stage's.
    pub overlay: usize,
    /// The text.
    pub text: String,
    /// What it names.
    pub anchor: Pixel,
    /// Where it would like to stand, seen from there.
    pub prefer: Vector2<f64>,
    /// Its colour.
    pub hue: Hue,
}

/// Everything drawn over the car.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Annotations {
    /// Lines.
    pub strokes: Vec<Stroke>,
    /// Arrowheads.
    pub arrowheads: Vec<Arrowhead>,
    /// Signs.
    pub signs: Vec<Sign>,
    /// Texts.
    pub notes: Vec<Note>,
}

/// Within this angle (rad) of an axis an orthographic picture is a drawing view.
const SQUARE_ON: f64 = 0.01;

/// The plane an orthographic picture is drawn in, if it looks squarely at one.
#[must_use]
pub fn drawing_plane(camera: &Turntable) -> Option<Plane> {
    if !camera.is_flat() {
        return None;
    }
    let eye = camera.toward_eye();
    let along = |axis: Vector3<f64>| eye.dot(&axis).abs() > SQUARE_ON.cos();
    if along(Vector3::x()) {
        Some(Plane::Front)
    } else if along(Vector3::y()) {
        Some(Plane::Side)
    } else if along(Vector3::z()) {
        Some(Plane::Plan)
    } else {
        None
    }
}

/// The depth behind which a drawing view shows nothing: a front view ends at the car's
/// middle, or the other axle would be drawn over this one; a side view likewise.
#[must_use]
pub fn cut_depth(camera: &Turntable, car: &StageView) -> Option<f64> {
    let lens = StageProjection::new(*camera, ScreenRect::new(0.0, 0.0, 1.0, 1.0));
    matches!(drawing_plane(camera), Some(Plane::Front | Plane::Side)).then(|| lens.depth(car.ground.point))
}

/// Whether an overlay is shown in a picture: see [`Plane`].
#[must_use]
pub fn belongs(overlay: &Overlay, stage: &Stage, lens: &StageProjection) -> bool {
    let Some(plane) = drawing_plane(&lens.camera) else {
        let elsewhere =
            stage.focus.is_some() && overlay.place.is_some_and(|place| stage.focus != Some(place));
        let construction = overlay.plane != Plane::Any
            && match overlay.shape {
                OverlayShape::Construction { .. } | OverlayShape::Parallel { .. } => true,
                OverlayShape::Line { .. } => overlay.place.is_none(),
                _ => false,
            };
        return !(elsewhere || construction);
    };
    let behind =
        overlay.place.and_then(|place| stage.car.wheel(place)).is_some_and(|wheel| lens.is_cut(wheel.centre));
    (overlay.plane == Plane::Any || overlay.plane == plane) && !behind
}

/// Drafts the overlays of a stage that are switched on and belong in the picture. A
/// note's number counts all overlays of the stage.
#[must_use]
pub fn draft(stage: &Stage, lens: &StageProjection) -> Annotations {
    let mut pen = Pen {
        lens,
        draft: Annotations::default(),
        overlay: 0,
        hue: Hue::Ink,
        style: LineStyle::Solid,
        label: None,
    };
    for (number, overlay) in stage.overlays.iter().enumerate() {
        if !stage.hidden.contains(&overlay.id) && belongs(overlay, stage, lens) {
            pen.overlay = number;
            pen.hue = hue_of(&overlay.reading);
            pen.style = overlay.line;
            pen.label.clone_from(&overlay.label);
            pen.overlay(&overlay.shape);
        }
    }
    pen.draft
}

/// A dimension shorter than this (px) has its arrows outside, pointing in.
const ROOM_FOR_ARROWS: f64 = 30.0;
/// Length of the tails of arrows that stand outside, in pixels.
const TAIL: f64 = 16.0;
/// Extension lines start this far from the measured point and end as far beyond the
/// dimension line, in pixels.
const EXTENSION: f64 = 4.0;

struct Pen<'a> {
    lens: &'a StageProjection,
    draft: Annotations,
    overlay: usize,
    hue: Hue,
    style: LineStyle,
    label: Option<String>,
}

impl Pen<'_> {
    fn overlay(&mut self, shape: &OverlayShape) {
        match shape {
            OverlayShape::Pieces(pieces) => {
                for [a, b] in pieces {
                    if let Some((p, q)) = visible_part(self.lens, *a, *b) {
                        self.segment(p, q, self.style, false);
                    }
                }
                let end = pieces.last().and_then(|[_, end]| self.lens.project(*end));
                if let Some(end) = end {
                    self.note(end, Vector2::new(1.0, -0.6));
                }
            }
            OverlayShape::Line { a, b } => self.line(*a, *b),
            OverlayShape::Dimension { a, b, offset } => self.dimension(*a, *b, *offset),
            OverlayShape::Angle { vertex, from, to, radius } => self.angle(*vertex, *from, *to, *radius),
            OverlayShape::Construction { anchors, meet, reach } => self.construction(anchors, *meet, *reach),
            OverlayShape::Parallel { anchors, direction, reach } => {
                self.parallel(anchors, *direction, *reach)
            }
            OverlayShape::Marker { at, sign } => self.marker(*at, *sign),
        }
    }

    fn stroke(&mut self, points: Vec<Pixel>, style: LineStyle, helping: bool) {
        self.draft.strokes.push(Stroke { points, hue: self.hue, helping, style });
    }

    fn segment(&mut self, a: Pixel, b: Pixel, style: LineStyle, helping: bool) {
        if let Some((a, b)) = clipped(a, b, &self.lens.rect) {
            self.stroke(vec![a, b], style, helping);
        }
    }

    fn arrow(&mut self, tip: Pixel, heading: Vector2<f64>) {
        if let Some(heading) = heading.try_normalize(1e-9)
            && self.lens.rect.contains(tip)
        {
            self.draft.arrowheads.push(Arrowhead { tip, heading, hue: self.hue });
        }
    }

    /// The label, once an overlay.
    fn note(&mut self, anchor: Pixel, prefer: Vector2<f64>) {
        if !self.lens.rect.contains(anchor) {
            return;
        }
        if let Some(text) = self.label.take() {
            self.draft.notes.push(Note { overlay: self.overlay, text, anchor, prefer, hue: self.hue });
        }
    }

    fn line(&mut self, a: Point3<f64>, b: Point3<f64>) {
        let Some((p, q)) = visible_part(self.lens, a, b) else {
            return;
        };
        self.segment(p, q, self.style, false);
        if let Some((_, end)) = clipped(p, q, &self.lens.rect.shrunk(6.0)) {
            self.note(end, q - p);
        }
    }

    fn dimension(&mut self, a: Point3<f64>, b: Point3<f64>, offset: Vector3<f64>) {
        let project = |p: Point3<f64>| self.lens.project(p);
        let (Some(a), Some(b), Some(p), Some(q)) =
            (project(a), project(b), project(a + offset), project(b + offset))
        else {
            return;
        };
        for (measured, drawn) in [(a, p), (b, q)] {
            let away = drawn - measured;
            if away.norm() > 2.0 * EXTENSION {
                let step = away.normalize() * EXTENSION;
                self.segment(measured + step, drawn + step, LineStyle::Thin, true);
            }
        }
        let along = q - p;
        let length = along.norm();
        let unit = along.try_normalize(1e-9).unwrap_or_else(Vector2::x);
        if length > ROOM_FOR_ARROWS {
            self.segment(p, q, self.style, false);
            self.arrow(p, -unit);
            self.arrow(q, unit);
        } else {
            self.segment(p - unit * TAIL, p, self.style, false);
            self.segment(q, q + unit * TAIL, self.style, false);
            self.arrow(p, unit);
            self.arrow(q, -unit);
        }
        let middle = p + along * 0.5;
        let outward = middle - (a + (b - a) * 0.5);
        // Beside the dimension line, on the side away from what is measured.
        let prefer = if outward.norm() > 1.0 { outward } else { Vector2::new(unit.y, -unit.x) };
        if length > ROOM_FOR_ARROWS {
            self.note(middle, prefer);
        } else {
            self.note(q + unit * TAIL, unit + prefer.normalize() * 0.2);
        }
    }

    fn angle(&mut self, vertex: Point3<f64>, from: Vector3<f64>, to: Vector3<f64>, radius: f64) {
        let (Some(from), Some(to)) = (Unit::try_new(from, 1e-12), Unit::try_new(to, 1e-12)) else {
            return;
        };
        let opening = from.angle(&to);
        let axis = Unit::try_new(from.cross(&to), 1e-12);
        let at = |share: f64| {
            // An arc that is carried a little beyond both legs shows a small angle.
            axis.map_or(vertex + from.into_inner() * radius, |axis| {
                let turn = nalgebra::Rotation3::from_axis_angle(&axis, opening * share);
                vertex + turn * from.into_inner() * radius
            })
        };
        let leg = 1.12;
        for (direction, style) in [(from, LineStyle::Chain), (to, LineStyle::Thin)] {
            if let Some((p, q)) =
                visible_part(self.lens, vertex, vertex + direction.into_inner() * (radius * leg))
            {
                self.segment(p, q, style, style == LineStyle::Chain);
            }
        }
        let steps = 24;
        let arc: Vec<Pixel> = (0..=steps)
            .filter_map(|step| self.lens.project(at(f64::from(step) / f64::from(steps))))
            .collect();
        let (Some(&start), Some(&end)) = (arc.first(), arc.last()) else {
            return;
        };
        let length: f64 = arc.windows(2).map(|pair| (pair[1] - pair[0]).norm()).sum();
        let Some(centre) = self.lens.project(vertex) else {
            return;
        };
        let tangent = |at: Pixel, toward: Pixel| {
            let out = at - centre;
            let turned = Vector2::new(-out.y, out.x).try_normalize(1e-9).unwrap_or_else(Vector2::x);
            if turned.dot(&(toward - at)) < 0.0 { -turned } else { turned }
        };
        let middle = arc[arc.len() / 2];
        if length > ROOM_FOR_ARROWS {
            self.arrow(start, -tangent(start, end));
            self.arrow(end, -tangent(end, start));
            self.stroke(arc, self.style, false);
        } else {
            let (out_start, out_end) = (-tangent(start, end), -tangent(end, start));
            self.segment(start + out_start * TAIL, start, self.style, false);
            self.segment(end, end + out_end * TAIL, self.style, false);
            self.arrow(start, -out_start);
            self.arrow(end, -out_end);
        }
        self.note(middle, middle - centre);
    }

    fn construction(&mut self, anchors: &[Point3<f64>], meet: Point3<f64>, reach: f64) {
        let mut all_arrive = true;
        for anchor in anchors {
            let along = meet - anchor;
            let arrives = along.norm() <= reach;
            let end = if arrives {
                meet
            } else {
                anchor + along.try_normalize(1e-12).unwrap_or_else(Vector3::x) * reach
            };
            all_arrive &= self.ray_line(*anchor, end, !arrives) && arrives;
        }
        if all_arrive && let Some(at) = self.lens.project(meet) {
            self.draft.signs.push(Sign { at, sign: MarkerSign::Dot, hue: self.hue });
            self.note(at, Vector2::new(0.3, -1.0));
        }
    }

    fn parallel(&mut self, anchors: &[Point3<f64>], direction: Vector3<f64>, reach: f64) {
        let Some(unit) = direction.try_normalize(1e-12) else {
            return;
        };
        for anchor in anchors {
            self.ray_line(*anchor, anchor + unit * reach, true);
        }
    }

    /// A line that ends in an arrow where it is cut, by its reach or by the edge of
    /// the picture. Says whether its end is in the picture.
    fn ray_line(&mut self, a: Point3<f64>, b: Point3<f64>, cut: bool) -> bool {
        let Some((p, q)) = visible_part(self.lens, a, b) else {
            return false;
        };
        let Some((p, end)) = clipped(p, q, &self.lens.rect.shrunk(10.0)) else {
            return false;
        };
        let leaves = (end - q).norm() > 0.5;
        self.stroke(vec![p, end], self.style, false);
        if cut || leaves {
            self.arrow(end, end - p);
            self.note(end - (end - p) * 0.12, Vector2::new(0.0, -1.0));
        }
        !leaves
    }

    fn marker(&mut self, at: Point3<f64>, sign: MarkerSign) {
        let Some(pixel) = self.lens.project(at) else {
            return;
        };
        if self.lens.rect.contains(pixel) {
            self.draft.signs.push(Sign { at: pixel, sign, hue: self.hue });
            self.note(pixel, Vector2::new(1.0, -0.6));
        } else if self.label.is_some() {
            // Off the sheet: an arrow at the edge points to it.
            let inner = self.lens.rect.shrunk(14.0);
            if let Some((_, edge)) = clipped(inner.middle(), pixel, &inner) {
                let heading = pixel - inner.middle();
                self.arrow(edge, heading);
                self.note(edge - heading.normalize() * 14.0, -heading);
            }
        }
    }
}

/// Cuts a line into the drawn pieces of its style.
#[must_use]
pub fn dashed(points: &[Pixel], style: LineStyle) -> Vec<(Pixel, Pixel)> {
    let pattern: &[f64] = match style {
        LineStyle::Solid | LineStyle::Thin => {
            return points.windows(2).map(|pair| (pair[0], pair[1])).collect();
        }
        LineStyle::Dashed => &[7.0, 5.0],
        LineStyle::Chain => &[14.0, 4.0, 2.0, 4.0],
    };
    let mut pieces = Vec::new();
    let (mut part, mut left) = (0, pattern[0]);
    for pair in points.windows(2) {
        let along = pair[1] - pair[0];
        let length = along.norm();
        let mut done = 0.0;
        while length - done > 1e-9 {
            let step = left.min(length - done);
            if part % 2 == 0 {
                pieces.push((pair[0] + along * (done / length), pair[0] + along * ((done + step) / length)));
            }
            done += step;
            left -= step;
            if left < 1e-9 {
                part = (part + 1) % pattern.len();
                left = pattern[part];
            }
        }
    }
    pieces
}

#[cfg(test)]
mod tests;
