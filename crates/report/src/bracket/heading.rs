//! What stands over the template on each of its pages, and how much room it and the foot take.

use super::{BracketSheet, short};
use crate::drawing::letters::broken;
use crate::drawing::{Anchor, Page};

/// No printer prints closer to the edge. Common practice, no source.
pub(super) const MARGIN: f64 = 10.0;
/// Height of what stands under the template.
pub(super) const FOOT: f64 = 38.0;
/// Share of the width for the title.
const TITLE: f64 = 0.6;

/// Size and weight of the heading's lines.
fn heading(sheet: &BracketSheet, page_width: f64) -> Vec<(String, f64, bool)> {
    let within = TITLE * (page_width - 2.0 * MARGIN);
    let title = broken(&short(&sheet.part), 4.6, true, within).into_iter().map(|line| (line, 4.6, true));
    let under = broken(&sheet.under_title(), 3.0, false, within).into_iter().map(|line| (line, 3.0, false));
    title.chain(under).collect()
}

/// From where one looks, in lines.
fn seen(sheet: &BracketSheet, page_width: f64) -> Vec<String> {
    let within = (1.0 - TITLE) * (page_width - 2.0 * MARGIN) - 4.0;
    broken(&format!("Seen from {}", sheet.plate.seen_from()), 3.8, true, within)
}

/// How high the heading is.
pub(super) fn heading_height(sheet: &BracketSheet, page_width: f64) -> f64 {
    let left: f64 = heading(sheet, page_width).iter().map(|(_, size, _)| 1.35 * size).sum();
    let right: f64 = seen(sheet, page_width).iter().map(|_| 4.6).sum::<f64>() + 8.2;
    left.max(right) + 3.0
}

/// Over the template: what it is, and which face of it one looks at.
pub(super) fn draw_heading(page: &mut Page, sheet: &BracketSheet, number: usize, count: usize) {
    let mut y = MARGIN;
    for (line, size, bold) in heading(sheet, page.width) {
        y += 1.35 * size;
        page.text((MARGIN, y - 0.3 * size), size, Anchor::Start, bold, &line);
    }
    let right = page.width - MARGIN;
    let words = format!("Template, full size. Page {number} of {count}");
    page.text((right, MARGIN + 3.4), 3.0, Anchor::End, false, &words);
    let mut y = MARGIN + 4.0;
    for line in seen(sheet, page.width) {
        y += 4.6;
        page.text((right, y), 3.8, Anchor::End, true, &line);
    }
    // Laid on face down it would drill the mirror image.
    page.text((right, y + 4.2), 3.0, Anchor::End, false, "Printed side toward you");
}
