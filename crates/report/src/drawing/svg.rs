//! A page as SVG: one user unit is one millimetre.

use super::{Anchor, LineStyle, Mark, OnPage, Page};
use crate::escape::escaped;
use std::fmt::Write;

/// Helvetica, or a font with its widths.
const FONTS: &str = "Helvetica, Arial, 'Liberation Sans', 'Nimbus Sans', sans-serif";

/// Millimetres to a tenth of a micrometre, no zeros at the end.
fn mm(value: f64) -> String {
    let shown = format!("{value:.4}");
    let shown = shown.trim_end_matches('0').trim_end_matches('.');
    if shown == "-0" { "0".to_owned() } else { shown.to_owned() }
}

fn look(style: LineStyle) -> String {
    let (width, dashes) = style.stroke();
    let mut look = format!(r#"stroke-width="{}""#, mm(width));
    if !dashes.is_empty() {
        let dashes: Vec<String> = dashes.iter().map(|dash| mm(*dash)).collect();
        let _ = write!(look, r#" stroke-dasharray="{}""#, dashes.join(" "));
    }
    if style.grey() > 0.0 {
        let _ = write!(look, r#" stroke-opacity="{}""#, 1.0 - style.grey());
    }
    look
}

fn list(points: &[OnPage]) -> String {
    let points: Vec<String> = points.iter().map(|(x, y)| format!("{},{}", mm(*x), mm(*y))).collect();
    points.join(" ")
}

/// Writing into a `String` cannot fail.
fn element(svg: &mut String, mark: &Mark) {
    let _ = match mark {
        Mark::Line { from, to, style } => writeln!(
            svg,
            r#"<line x1="{}" y1="{}" x2="{}" y2="{}" {}/>"#,
            mm(from.0),
            mm(from.1),
            mm(to.0),
            mm(to.1),
            look(*style)
        ),
        Mark::Circle { centre, radius, style } => writeln!(
            svg,
            r#"<circle cx="{}" cy="{}" r="{}" {}/>"#,
            mm(centre.0),
            mm(centre.1),
            mm(*radius),
            look(*style)
        ),
        Mark::Polyline { points, style } => {
            writeln!(svg, r#"<polyline points="{}" {}/>"#, list(points), look(*style))
        }
        Mark::Face { corners } => {
            writeln!(svg, r##"<polygon points="{}" fill="#000" stroke="none"/>"##, list(corners))
        }
        Mark::Text { at, size, anchor, bold, words } => {
            let anchor = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let weight = if *bold { r#" font-weight="bold""# } else { "" };
            writeln!(
                svg,
                r##"<text x="{}" y="{}" font-size="{}" text-anchor="{anchor}"{weight} fill="#000" stroke="none">{}</text>"##,
                mm(at.0),
                mm(at.1),
                mm(*size),
                escaped(words)
            )
        }
    };
}

impl Page {
    /// The page as one SVG document, its size in millimetres.
    #[must_use]
    pub fn svg(&self, title: &str) -> String {
        let (width, height) = (mm(self.width), mm(self.height));
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"0 0 {width} {height}\" font-family=\"{FONTS}\" fill=\"none\" stroke=\"#000\">\n\
             <title>{}</title>\n<rect width=\"{width}\" height=\"{height}\" fill=\"#fff\" stroke=\"none\"/>\n",
            escaped(title)
        );
        for mark in &self.marks {
            element(&mut svg, mark);
        }
        svg + "</svg>\n"
    }
}
