//! A drawing as PDF: vector lines, Helvetica from the reader, one millimetre a millimetre.

use super::letters::{MINUS, encoded, width};
use super::{Anchor, Drawing, LineStyle, Mark, OnPage, Page};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};
use wheelpath_geometry::shown_name;

/// Points (1/72 inch) in a millimetre.
const POINT: f64 = 72.0 / 25.4;
/// A quarter of a circle as a cubic: share of the radius that the control points stand out (known to
/// whoever draws; off the circle by 0.03 % of the radius at most).
const QUARTER: f64 = 0.552_284_749_8;
/// As little as can be: catalogue, page tree, two fonts, information.
const FIRST_PAGE: i32 = 6;

#[expect(clippy::cast_possible_truncation, reason = "PDF readers count in single precision")]
fn single(value: f64) -> f32 {
    value as f32
}

/// What is drawn on a page, in millimetres; the one transform at its head makes points of them.
struct Strokes {
    content: Content,
    style: Option<LineStyle>,
}

impl Strokes {
    fn set(&mut self, style: LineStyle) {
        if self.style == Some(style) {
            return;
        }
        self.style = Some(style);
        let (width, dashes) = style.stroke();
        self.content.set_line_width(single(width));
        self.content.set_dash_pattern(dashes.iter().map(|dash| single(*dash)), 0.0);
        self.content.set_stroke_gray(single(style.grey()));
    }

    fn path(&mut self, points: &[OnPage]) {
        for (index, &(x, y)) in points.iter().enumerate() {
            if index == 0 {
                self.content.move_to(single(x), single(y));
            } else {
                self.content.line_to(single(x), single(y));
            }
        }
    }

    fn circle(&mut self, (x, y): OnPage, radius: f64) {
        let at = |right: f64, down: f64| (single(x + radius * right), single(y + radius * down));
        let (start_x, start_y) = at(1.0, 0.0);
        self.content.move_to(start_x, start_y);
        for (c, s) in [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)] {
            // From (c, s) to a quarter further on, (-s, c).
            let (x1, y1) = at(c - QUARTER * s, s + QUARTER * c);
            let (x2, y2) = at(-s + QUARTER * c, c + QUARTER * s);
            let (x3, y3) = at(-s, c);
            self.content.cubic_to(x1, y1, x2, y2, x3, y3);
        }
        self.content.close_and_stroke();
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Line { from, to, style } => {
                self.set(*style);
                self.path(&[*from, *to]);
                self.content.stroke();
            }
            Mark::Circle { centre, radius, style } => {
                self.set(*style);
                self.circle(*centre, *radius);
            }
            Mark::Polyline { points, style } => {
                self.set(*style);
                self.path(points);
                self.content.stroke();
            }
            Mark::Face { corners } => {
                self.path(corners);
                self.content.close_path();
                self.content.fill_nonzero();
            }
            Mark::Text { at, size, anchor, bold, words } => {
                let wide = width(words, *size, *bold);
                let left = match anchor {
                    Anchor::Start => at.0,
                    Anchor::Middle => at.0 - 0.5 * wide,
                    Anchor::End => at.0 - wide,
                };
                let font = if *bold { Name(b"B") } else { Name(b"R") };
                self.content.begin_text();
                self.content.set_font(font, single(*size));
                // The page's down is turned back, or the letters would stand on their heads.
                self.content.set_text_matrix([1.0, 0.0, 0.0, -1.0, single(left), single(at.1)]);
                self.content.show(Str(&encoded(words)));
                self.content.end_text();
            }
        }
    }
}

fn content(page: &Page) -> Vec<u8> {
    let mut strokes = Strokes { content: Content::new(), style: None };
    let down = [POINT, 0.0, 0.0, -POINT, 0.0, page.height * POINT].map(single);
    strokes.content.transform(down);
    strokes.content.set_fill_gray(0.0);
    for mark in &page.marks {
        strokes.mark(mark);
    }
    strokes.content.finish().to_vec()
}

impl Drawing {
    /// All pages as one PDF document that asks the reader not to scale it in print.
    #[must_use]
    pub fn pdf(&self) -> Vec<u8> {
        let mut pdf = Pdf::new();
        let [catalogue, tree, regular, bold, information] = [1, 2, 3, 4, 5].map(Ref::new);
        let mut root = pdf.catalog(catalogue);
        root.pages(tree);
        root.viewer_preferences().pair(Name(b"PrintScaling"), Name(b"None"));
        root.finish();
        pdf.document_info(information).title(TextStr(&shown_name(&self.title)));
        let ids: Vec<(Ref, Ref)> = (0_i32..)
            .zip(&self.pages)
            .map(|(index, _)| (FIRST_PAGE + 2 * index, FIRST_PAGE + 2 * index + 1))
            .map(|(page, content)| (Ref::new(page), Ref::new(content)))
            .collect();
        let count = i32::try_from(ids.len()).unwrap_or(i32::MAX);
        pdf.pages(tree).kids(ids.iter().map(|(page, _)| *page)).count(count);
        for (font, name) in [(regular, &b"Helvetica"[..]), (bold, b"Helvetica-Bold")] {
            let mut font = pdf.type1_font(font);
            font.base_font(Name(name));
            let mut encoding = font.encoding_custom();
            encoding.base_encoding(Name(b"WinAnsiEncoding"));
            encoding.differences().consecutive(MINUS, [Name(b"minus")]);
        }
        for (page, (id, content_id)) in self.pages.iter().zip(ids) {
            let mut entry = pdf.page(id);
            let (width, height) = (single(page.width * POINT), single(page.height * POINT));
            entry.media_box(Rect::new(0.0, 0.0, width, height)).parent(tree).contents(content_id);
            let mut resources = entry.resources();
            let mut fonts = resources.fonts();
            fonts.pair(Name(b"R"), regular).pair(Name(b"B"), bold);
            fonts.finish();
            resources.finish();
            entry.finish();
            pdf.stream(content_id, &content(page));
        }
        pdf.finish()
    }
}
