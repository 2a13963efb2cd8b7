//! What stands under the template on each of its pages.

use super::BracketSheet;
use super::heading::{FOOT, MARGIN};
use super::tiles::Tiles;
use crate::drawing::letters::width;
use crate::drawing::{Anchor, LineStyle, OnPage, Page};
use crate::plate::Plate;
use nalgebra::Vector3;
use wheelpath_geometry::{INCH, LengthUnit};

/// Under the template: the check line, what the lines mean, the plate's axes, the car's ways, and where
/// this sheet lies among the others.
pub(super) fn draw_foot(page: &mut Page, sheet: &BracketSheet, tiles: &Tiles, tile: (u32, u32)) {
    let top = page.height - MARGIN - FOOT;
    let left = MARGIN + 2.0;
    check_line(page, sheet.lengths, (left, top + 9.0));
    legend(page, (left, top + 25.0), tiles);
    let apart = 128.0;
    axes(page, &sheet.plate, (left + apart, top + 22.0));
    compass(page, &sheet.plate, (left + apart + 42.0, top + 18.0));
    if tiles.columns * tiles.rows > 1 {
        map(page, tiles, tile, (left, top + 31.0));
    }
}

/// The line to measure: how long it is, metres, and in words.
pub(super) fn check_of(lengths: LengthUnit) -> (f64, &'static str) {
    match lengths {
        LengthUnit::Millimetre => (0.1, "100 mm"),
        LengthUnit::Inch => (4.0 * INCH, "4 in"),
    }
}

fn check_line(page: &mut Page, lengths: LengthUnit, (x, y): OnPage) {
    let (metres, words) = check_of(lengths);
    let end = x + 1e3 * metres;
    page.line((x, y), (end, y), LineStyle::Thin);
    for end in [x, end] {
        page.line((end, y - 3.0), (end, y + 3.0), LineStyle::Thin);
    }
    let words = format!("Check line: {words}. Measure it before you drill; print at 100 %, no scaling.");
    page.text((x, y + 8.0), 3.0, Anchor::Start, true, &words);
}

/// A sample and a word each.
fn legend(page: &mut Page, (x, y): OnPage, tiles: &Tiles) {
    let mut at = x;
    let samples = [
        (LineStyle::Dashed, "old hole"),
        (LineStyle::Thick, "new hole: drill here"),
        (LineStyle::Thin, "reference hole"),
    ];
    for (style, words) in samples {
        let centre = (at + 2.0, y - 1.0);
        page.marks.push(crate::drawing::Mark::Circle { centre, radius: 1.8, style });
        page.text((at + 5.5, y), 2.7, Anchor::Start, false, words);
        at += 5.5 + width(words, 2.7, false) + 9.0;
    }
    if tiles.columns * tiles.rows > 1 {
        let lines =
            ["Lay register marks of one letter over one another", "and cut one sheet along the dotted line."];
        for (line, down) in lines.iter().zip([7.5, 11.3]) {
            page.text((x + 25.0, y + down), 2.7, Anchor::Start, false, line);
        }
    }
}

/// Across and up as arrows from a corner, and what they and out mean.
fn axes(page: &mut Page, plate: &Plate, (x, y): OnPage) {
    let [u, v, _] = plate.axes();
    page.arrow((x, y), (x + 14.0, y), LineStyle::Thin);
    page.arrow((x, y), (x, y - 14.0), LineStyle::Thin);
    page.text((x + 15.0, y + 1.0), 3.0, Anchor::Start, true, "across");
    page.text((x, y - 15.0), 3.0, Anchor::Middle, true, "up");
    let meaning = [
        format!("across: {}", Plate::way(&u)),
        format!("up: {}", Plate::way(&v)),
        "out: toward you".to_owned(),
    ];
    for (line, down) in meaning.iter().zip([5.5, 9.5, 13.5]) {
        page.text((x - 2.0, y + down), 2.7, Anchor::Start, false, line);
    }
}

/// The car's ways as far as they lie in the plate.
fn compass(page: &mut Page, plate: &Plate, (x, y): OnPage) {
    const LONG: f64 = 11.0;
    let ways = [(Vector3::x(), "forward"), (Vector3::y(), "left"), (Vector3::z(), "up")];
    for (way, words) in ways {
        let along = plate.along(&way);
        let shown = along.x.hypot(along.y);
        // Shorter than that it would point nowhere for the eye.
        if shown < 0.4 {
            continue;
        }
        let tip = (x + LONG * along.x, y - LONG * along.y);
        page.arrow((x, y), tip, LineStyle::Thick);
        let beyond = (x + (LONG * shown + 1.2) * along.x / shown, y - (LONG * shown + 1.2) * along.y / shown);
        let flat = along.x.abs() > 0.5 * shown;
        let (anchor, down) = match (flat, along.x > 0.0, along.y > 0.0) {
            (true, true, _) => (Anchor::Start, 1.0),
            (true, false, _) => (Anchor::End, 1.0),
            (false, _, true) => (Anchor::Middle, 0.0),
            (false, _, false) => (Anchor::Middle, 2.2),
        };
        page.text((beyond.0, beyond.1 + down), 2.7, anchor, true, words);
    }
}

/// The sheets in small, this one marked.
fn map(page: &mut Page, tiles: &Tiles, (column, row): (u32, u32), (x, y): OnPage) {
    let count = f64::from(tiles.columns.max(tiles.rows));
    let (width, height) = (tiles.area.right - tiles.area.left, tiles.area.bottom - tiles.area.top);
    let scale = (20.0 / (count * width)).min(7.0 / (f64::from(tiles.rows) * height));
    let (cell_width, cell_height) = (scale * width, scale * height);
    let corner = |i: u32, j: u32| (x + cell_width * f64::from(i), y + cell_height * f64::from(j));
    for i in 0..tiles.columns {
        for j in 0..tiles.rows {
            page.rectangle(corner(i, j), corner(i + 1, j + 1), LineStyle::Thin);
        }
    }
    let (here, end) = (corner(column, row), corner(column + 1, row + 1));
    let corners = vec![here, (end.0, here.1), end, (here.0, end.1)];
    page.marks.push(crate::drawing::Mark::Face { corners });
}
