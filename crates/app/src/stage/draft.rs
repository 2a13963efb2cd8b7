//! Overlays as a drawing: from dimensions in the car to lines, arrowheads, signs and
//! notes on the screen. Plain arithmetic; whoever paints them adds only colour.

use nalgebra::{Point3, Unit, Vector2, Vector3};

use super::lens::{Lens, Pixel, ScreenRect};
use super::palette::{Hue, hue_of};
use super::sight::{clipped, visible_part};
use super::turntable::Turntable;
use super::view::{LineStyle, MarkerSign, Overlay, OverlayShape, Plane, Stage, StageView};

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
pub struct Draft {
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
    let lens = Lens::new(*camera, ScreenRect::new(0.0, 0.0, 1.0, 1.0));
    matches!(drawing_plane(camera), Some(Plane::Front | Plane::Side))
        .then(|| lens.depth(car.ground.point))
}

/// Whether an overlay is shown in a picture: see [`Plane`].
#[must_use]
pub fn belongs(overlay: &Overlay, stage: &Stage, lens: &Lens) -> bool {
    let Some(plane) = drawing_plane(&lens.camera) else {
        let elsewhere = stage.focus.is_some()
            && overlay.place.is_some_and(|place| stage.focus != Some(place));
        let construction = overlay.plane != Plane::Any
            && match overlay.shape {
                OverlayShape::Construction { .. } | OverlayShape::Parallel { .. } => true,
                OverlayShape::Line { .. } => overlay.place.is_none(),
                _ => false,
            };
        return !(elsewhere || construction);
    };
    let behind = overlay
        .place
        .and_then(|place| stage.car.wheel(place))
        .is_some_and(|wheel| lens.is_cut(wheel.centre));
    (overlay.plane == Plane::Any || overlay.plane == plane) && !behind
}

/// Drafts the overlays of a stage that are switched on and belong in the picture. A
/// note's number counts all overlays of the stage.
#[must_use]
pub fn draft(stage: &Stage, lens: &Lens) -> Draft {
    let mut pen = Pen {
        lens,
        draft: Draft::default(),
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
    lens: &'a Lens,
    draft: Draft,
    overlay: usize,
    hue: Hue,
    style: LineStyle,
    label: Option<String>,
}

impl Pen<'_> {
    fn overlay(&mut self, shape: &OverlayShape) {
        match shape {
            OverlayShape::Line { a, b } => self.line(*a, *b),
            OverlayShape::Dimension { a, b, offset } => self.dimension(*a, *b, *offset),
            OverlayShape::Angle {
                vertex,
                from,
                to,
                radius,
            } => self.angle(*vertex, *from, *to, *radius),
            OverlayShape::Construction {
                anchors,
                meet,
                reach,
            } => self.construction(anchors, *meet, *reach),
            OverlayShape::Parallel {
                anchors,
                direction,
                reach,
            } => self.parallel(anchors, *direction, *reach),
            OverlayShape::Marker { at, sign } => self.marker(*at, *sign),
        }
    }

    fn stroke(&mut self, points: Vec<Pixel>, style: LineStyle, helping: bool) {
        self.draft.strokes.push(Stroke {
            points,
            hue: self.hue,
            helping,
            style,
        });
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
            self.draft.arrowheads.push(Arrowhead {
                tip,
                heading,
                hue: self.hue,
            });
        }
    }

    /// The label, once an overlay.
    fn note(&mut self, anchor: Pixel, prefer: Vector2<f64>) {
        if !self.lens.rect.contains(anchor) {
            return;
        }
        if let Some(text) = self.label.take() {
            self.draft.notes.push(Note {
                overlay: self.overlay,
                text,
                anchor,
                prefer,
                hue: self.hue,
            });
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
        let prefer = if outward.norm() > 1.0 {
            outward
        } else {
            Vector2::new(unit.y, -unit.x)
        };
        if length > ROOM_FOR_ARROWS {
            self.note(middle, prefer);
        } else {
            self.note(q + unit * TAIL, unit + prefer.normalize() * 0.2);
        }
    }

    fn angle(&mut self, vertex: Point3<f64>, from: Vector3<f64>, to: Vector3<f64>, radius: f64) {
        let (Some(from), Some(to)) = (
            Unit::try_new(from, 1e-12),
            Unit::try_new(to, 1e-12),
        ) else {
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
            let turned = Vector2::new(-out.y, out.x)
                .try_normalize(1e-9)
                .unwrap_or_else(Vector2::x);
            if turned.dot(&(toward - at)) < 0.0 {
                -turned
            } else {
                turned
            }
        };
        let middle = arc[arc.len() / 2];
        if length > ROOM_FOR_ARROWS {
            self.stroke(arc.clone(), self.style, false);
            self.arrow(start, -tangent(start, end));
            self.arrow(end, -tangent(end, start));
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
            self.draft.signs.push(Sign {
                at,
                sign: MarkerSign::Dot,
                hue: self.hue,
            });
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
            self.draft.signs.push(Sign {
                at: pixel,
                sign,
                hue: self.hue,
            });
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
                pieces.push((
                    pair[0] + along * (done / length),
                    pair[0] + along * ((done + step) / length),
                ));
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
mod tests {
    use super::super::view::Place;
    use super::*;

    fn front() -> Lens {
        Lens {
            camera: Turntable {
                focus: Point3::new(0.0, 0.0, 0.3),
                azimuth: 0.0,
                elevation: 0.0,
                height: 1.0,
                field_of_view: 0.0,
            },
            rect: ScreenRect::new(0.0, 0.0, 1600.0, 1000.0),
            cut: None,
        }
    }

    fn overlay(plane: Plane, shape: OverlayShape) -> Overlay {
        Overlay {
            id: "test".into(),
            reading: "camber".into(),
            place: Some(Place::FrontLeft),
            plane,
            shape,
            label: Some("text".into()),
            line: LineStyle::Solid,
        }
    }

    fn drafted(overlays: Vec<Overlay>, lens: &Lens) -> Draft {
        let stage = Stage {
            overlays,
            ..Stage::default()
        };
        draft(&stage, lens)
    }

    #[test]
    fn a_drawing_view_shows_its_own_plane_only() {
        let line = OverlayShape::Line {
            a: Point3::new(0.0, 0.0, 0.1),
            b: Point3::new(0.0, 0.2, 0.4),
        };
        let shown = |plane| drafted(vec![overlay(plane, line.clone())], &front()).strokes.len();
        assert_eq!(shown(Plane::Front), 1);
        assert_eq!(shown(Plane::Any), 1);
        assert_eq!(shown(Plane::Side), 0);
        let mut turned = front();
        turned.camera.azimuth = 0.3;
        assert_eq!(drawing_plane(&turned.camera), None);
        assert_eq!(drafted(vec![overlay(Plane::Side, line)], &turned).strokes.len(), 1);
    }

    #[test]
    fn a_dimension_measures_what_it_says_and_carries_one_note() {
        let shape = OverlayShape::Dimension {
            a: Point3::new(0.0, 0.5, 0.3),
            b: Point3::new(0.0, 0.7, 0.3),
            offset: Vector3::new(0.0, 0.0, -0.1),
        };
        let drawn = drafted(vec![overlay(Plane::Front, shape)], &front());
        assert_eq!(drawn.arrowheads.len(), 2);
        assert_eq!(drawn.notes.len(), 1);
        // 0.2 m at 1 mm a pixel, 100 pixels below.
        let (a, b) = (drawn.arrowheads[0].tip, drawn.arrowheads[1].tip);
        assert!(((a - b).norm() - 200.0).abs() < 1e-6);
        assert!((a.y - 600.0).abs() < 1e-6);
        assert!(drawn.arrowheads[0].heading.x * drawn.arrowheads[1].heading.x < 0.0);
    }

    #[test]
    fn a_small_dimension_has_its_arrows_outside_pointing_in() {
        let shape = OverlayShape::Dimension {
            a: Point3::new(0.0, 0.5, 0.3),
            b: Point3::new(0.0, 0.505, 0.3),
            offset: Vector3::zeros(),
        };
        let drawn = drafted(vec![overlay(Plane::Front, shape)], &front());
        let [first, second] = drawn.arrowheads[..] else {
            panic!("two arrows");
        };
        assert!(first.heading.dot(&(second.tip - first.tip)) > 0.0);
    }

    #[test]
    fn a_centre_off_the_sheet_gets_an_arrow_and_no_dot() {
        let construction = |y: f64, reach: f64| {
            let shape = OverlayShape::Construction {
                anchors: vec![Point3::new(0.0, 0.6, 0.2), Point3::new(0.0, 0.6, 0.4)],
                meet: Point3::new(0.0, y, 0.3),
                reach,
            };
            drafted(vec![overlay(Plane::Front, shape)], &front())
        };
        let near = construction(-0.2, 5.0);
        assert_eq!((near.signs.len(), near.arrowheads.len()), (1, 0));
        let far = construction(-40.0, 5.0);
        assert_eq!((far.signs.len(), far.arrowheads.len()), (0, 2));
        let beyond_reach = construction(-0.2, 0.5);
        assert_eq!((beyond_reach.signs.len(), beyond_reach.arrowheads.len()), (0, 2));
        assert_eq!(far.notes.len(), 1, "one label, not one a line");
    }

    #[test]
    fn a_free_view_shows_one_wheel_and_no_constructions() {
        let mut turned = front();
        turned.camera.azimuth = 0.3;
        let line = OverlayShape::Line {
            a: Point3::new(0.0, 0.0, 0.1),
            b: Point3::new(0.0, 0.2, 0.4),
        };
        let construction = OverlayShape::Construction {
            anchors: vec![Point3::new(0.0, 0.3, 0.2)],
            meet: Point3::new(0.0, -0.2, 0.3),
            reach: 3.0,
        };
        let of = |place, shape| Overlay {
            place: Some(place),
            ..overlay(Plane::Front, shape)
        };
        let shown = |overlays| drafted(overlays, &turned).strokes.len();
        assert_eq!(shown(vec![of(Place::FrontLeft, line.clone())]), 1);
        assert_eq!(shown(vec![of(Place::RearRight, line)]), 0);
        assert_eq!(shown(vec![of(Place::FrontLeft, construction)]), 0);
    }

    #[test]
    fn a_hidden_overlay_is_not_drawn() {
        let line = OverlayShape::Line {
            a: Point3::new(0.0, 0.0, 0.1),
            b: Point3::new(0.0, 0.2, 0.4),
        };
        let mut stage = Stage {
            overlays: vec![overlay(Plane::Front, line)],
            ..Stage::default()
        };
        assert_eq!(draft(&stage, &front()).notes.len(), 1);
        stage.hidden.insert("test".into());
        assert_eq!(draft(&stage, &front()), Draft::default());
    }

    #[test]
    fn dashes_cover_their_share_of_the_line() {
        let line = [Pixel::new(0.0, 0.0), Pixel::new(120.0, 0.0)];
        let covered: f64 = dashed(&line, LineStyle::Dashed)
            .iter()
            .map(|(a, b)| (b - a).norm())
            .sum();
        assert!((covered - 70.0).abs() < 1e-6);
        assert_eq!(dashed(&line, LineStyle::Solid).len(), 1);
    }

    #[test]
    fn zero_directions_draw_nothing() {
        for shape in [
            OverlayShape::Angle {
                vertex: Point3::origin(),
                from: Vector3::zeros(),
                to: Vector3::z(),
                radius: 0.3,
            },
            OverlayShape::Parallel {
                anchors: vec![Point3::origin()],
                direction: Vector3::zeros(),
                reach: 3.0,
            },
        ] {
            assert_eq!(drafted(vec![overlay(Plane::Any, shape)], &front()), Draft::default());
        }
    }
}
