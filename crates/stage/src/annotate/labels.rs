//! Where labels go: near what they name, inside the picture, never over another.

use std::f64::consts::PI;

use nalgebra::Vector2;

use crate::camera::projection::{Pixel, ScreenRect};

/// A label that wants a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LabelRequest {
    /// What it names.
    pub anchor: Pixel,
    /// The direction it would like to stand in, from the anchor; of any length.
    pub prefer: Vector2<f64>,
    /// Its size with padding, in pixels.
    pub size: Vector2<f64>,
}

/// Clear space round every label, in pixels.
const GAP: f64 = 3.0;
/// Distances from the anchor tried, in pixels.
const DISTANCES: [f64; 9] = [7.0, 16.0, 28.0, 44.0, 64.0, 90.0, 125.0, 170.0, 230.0];
/// Directions tried at each distance, as turns from the preferred one in radians.
const TURNS: [f64; 12] = [0.0, 0.42, -0.42, 0.84, -0.84, 1.26, -1.26, 1.68, -1.68, 2.2, -2.2, PI];

/// A place for each label, in their order: the earlier, the nearer to what it names.
/// None where the picture is so full that a label could only stand on another.
///
/// `avoid` holds rectangles that should stay free (marks, grips); a label stands on
/// one of them only if it finds no other place.
#[must_use]
pub fn place_labels(
    wanted: &[LabelRequest],
    avoid: &[ScreenRect],
    bounds: ScreenRect,
) -> Vec<Option<ScreenRect>> {
    let mut placed: Vec<ScreenRect> = Vec::with_capacity(wanted.len());
    wanted
        .iter()
        .map(|label| {
            let free = |rect: &ScreenRect| {
                inside(&bounds, rect) && !placed.iter().any(|other| rect.overlaps(&other.shrunk(-GAP)))
            };
            let spots: Vec<ScreenRect> = candidates(label).filter(free).collect();
            let best = spots
                .iter()
                .find(|rect| !avoid.iter().any(|other| rect.overlaps(other)))
                .or_else(|| spots.first())
                .copied()
                .or_else(|| anywhere(label, bounds).find(free));
            if let Some(rect) = best {
                placed.push(rect);
            }
            best
        })
        .collect()
}

fn inside(bounds: &ScreenRect, rect: &ScreenRect) -> bool {
    rect.left >= bounds.left
        && rect.top >= bounds.top
        && rect.right() <= bounds.right()
        && rect.bottom() <= bounds.bottom()
}

/// Places round the anchor, best first.
fn candidates(label: &LabelRequest) -> impl Iterator<Item = ScreenRect> {
    let heading = label.prefer.try_normalize(1e-9).unwrap_or_else(|| Vector2::new(0.7, -0.7));
    let LabelRequest { anchor, size, .. } = *label;
    DISTANCES.into_iter().flat_map(move |distance| {
        TURNS.into_iter().map(move |turn| {
            let (sin, cos) = turn.sin_cos();
            let d = Vector2::new(heading.x * cos - heading.y * sin, heading.x * sin + heading.y * cos);
            // The label's nearest edge or corner stands at the distance, so that wide
            // labels do not lie over their anchor.
            let reach = (0.5 * size.x / d.x.abs().max(1e-9)).min(0.5 * size.y / d.y.abs().max(1e-9));
            let middle = anchor + d * (distance + reach);
            ScreenRect::new(middle.x - 0.5 * size.x, middle.y - 0.5 * size.y, size.x, size.y)
        })
    })
}

/// Every place in the picture on a coarse lattice, nearest to the anchor first.
fn anywhere(label: &LabelRequest, bounds: ScreenRect) -> impl Iterator<Item = ScreenRect> {
    let LabelRequest { anchor, size, .. } = *label;
    let mut spots = Vec::new();
    let mut top = bounds.top;
    while top + size.y <= bounds.bottom() {
        let mut left = bounds.left;
        while left + size.x <= bounds.right() {
            spots.push(ScreenRect::new(left, top, size.x, size.y));
            left += 0.5 * size.x.max(8.0);
        }
        top += size.y.max(8.0) + GAP;
    }
    spots.sort_by(|a, b| {
        let far = |rect: &ScreenRect| (rect.middle() - anchor).norm_squared();
        far(a).total_cmp(&far(b))
    });
    spots.into_iter()
}

/// The point of a label's edge nearest to its anchor, where a leader starts, if the
/// label stands so far off that it needs one.
#[must_use]
pub fn leader(rect: &ScreenRect, anchor: Pixel) -> Option<(Pixel, Pixel)> {
    let edge =
        Pixel::new(anchor.x.max(rect.left).min(rect.right()), anchor.y.max(rect.top).min(rect.bottom()));
    ((edge - anchor).norm() > 20.0).then_some((edge, anchor))
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOUNDS: ScreenRect = ScreenRect { left: 100.0, top: 50.0, width: 900.0, height: 600.0 };

    fn label(x: f64, y: f64) -> LabelRequest {
        LabelRequest {
            anchor: Pixel::new(x, y),
            prefer: Vector2::new(1.0, 0.0),
            size: Vector2::new(110.0, 18.0),
        }
    }

    #[test]
    fn a_lone_label_stands_where_it_likes_to() {
        let placed = place_labels(&[label(400.0, 300.0)], &[], BOUNDS);
        let rect = placed[0].expect("room enough");
        assert!((rect.left - 407.0).abs() < 1e-6);
        assert!((rect.middle().y - 300.0).abs() < 1e-6);
    }

    #[test]
    fn a_label_turns_away_from_what_should_stay_free() {
        let keep_free = ScreenRect::new(402.0, 280.0, 200.0, 40.0);
        let placed = place_labels(&[label(400.0, 300.0)], &[keep_free], BOUNDS);
        assert!(!placed[0].expect("room enough").overlaps(&keep_free));
    }

    #[test]
    fn a_full_picture_leaves_labels_out_rather_than_stacking_them() {
        let tiny = ScreenRect::new(0.0, 0.0, 120.0, 40.0);
        let placed = place_labels(&[label(60.0, 20.0); 5], &[], tiny);
        assert!(placed.iter().flatten().count() <= 2);
        assert!(placed.iter().flatten().count() >= 1);
    }

    /// A plain mixing of numbers (Knuth's multiplicative hash), from 0 to 1: scattered
    /// enough for a test, and the same on every run.
    fn scattered(number: u32) -> f64 {
        f64::from(number.wrapping_mul(2_654_435_761) >> 8) / f64::from(1_u32 << 24)
    }

    #[test]
    fn labels_never_overlap_and_stay_inside() {
        for count in 1..28_u32 {
            let wanted: Vec<LabelRequest> = (0..count)
                .map(|n| {
                    let number = |k: u32| scattered(1 + k + 4 * n + 1000 * count);
                    LabelRequest {
                        prefer: Vector2::new(number(2) - 0.5, number(3) - 0.5),
                        ..label(1200.0 * number(0), 800.0 * number(1))
                    }
                })
                .collect();
            let placed = place_labels(&wanted, &[], BOUNDS);
            assert_eq!(placed.len(), wanted.len());
            let rects: Vec<ScreenRect> = placed.into_iter().flatten().collect();
            assert_eq!(rects.len(), wanted.len(), "there is room for all {count}");
            for (n, a) in rects.iter().enumerate() {
                assert!(inside(&BOUNDS, a));
                for b in &rects[n + 1..] {
                    assert!(!a.overlaps(b));
                }
            }
        }
    }
}
