//! A chart as a drawing: SVG, black on white, lines told apart by their dashes.

use super::{Chart, Series, Stroke, finite_ranges};
use crate::escape::escaped;
use crate::ticks::Ticks;
use std::fmt::Write;
use wheelpath_geometry::fixed;

/// Size of the whole drawing.
const SIZE: (f64, f64) = (720.0, 440.0);
/// Left, top, right and bottom edge of the plot within it.
const PLOT: (f64, f64, f64, f64) = (80.0, 68.0, 696.0, 376.0);
/// Size of the letters of the title, where it is short enough.
const TITLE_SIZE: f64 = 16.0;
/// Dashes of the first, second and further curves.
const DASHES: [&str; 4] = ["", "8 5", "2 4", "12 4 2 4"];
/// Width of a line, and of a heavy one.
const WIDTHS: [f64; 2] = [1.8, 3.0];

/// How a line is drawn.
#[derive(Clone, Copy)]
struct Look {
    dashes: &'static str,
    width: f64,
}

impl Look {
    /// That of a curve which stands at this place among the others.
    fn of(series: &Series, place: usize) -> Self {
        let width = |heavy: bool| WIDTHS[usize::from(heavy)];
        match series.stroke {
            Stroke::InTurn => {
                Look { dashes: DASHES.iter().cycle().nth(place).copied().unwrap_or(""), width: WIDTHS[0] }
            }
            Stroke::Solid { heavy } => Look { dashes: "", width: width(heavy) },
            Stroke::Dashed { heavy } => Look { dashes: DASHES[1], width: width(heavy) },
        }
    }
}

struct Scale {
    low: f64,
    high: f64,
    at_low: f64,
    at_high: f64,
}

impl Scale {
    fn place(&self, value: f64) -> f64 {
        self.at_low + (value - self.low) / (self.high - self.low) * (self.at_high - self.at_low)
    }
}

/// The elements of a drawing. Writing into a `String` cannot fail.
struct Drawing(String);

impl Drawing {
    fn line(&mut self, from: (f64, f64), to: (f64, f64), look: &str) {
        let ((x1, y1), (x2, y2)) = (from, to);
        let _ = writeln!(self.0, r#"<line x1="{x1:.2}" y1="{y1:.2}" x2="{x2:.2}" y2="{y2:.2}" {look}/>"#);
    }

    fn text(&mut self, at: (f64, f64), anchor: &str, size: f64, words: &str) {
        let ((x, y), words) = (at, escaped(words));
        let _ = writeln!(
            self.0,
            r#"<text x="{x:.2}" y="{y:.2}" text-anchor="{anchor}" font-size="{size}">{words}</text>"#
        );
    }

    fn curve(&mut self, points: &[(f64, f64)], Look { dashes, width }: Look) {
        let list: Vec<String> = points.iter().map(|(x, y)| format!("{x:.2},{y:.2}")).collect();
        let dashes =
            if dashes.is_empty() { String::new() } else { format!(r#" stroke-dasharray="{dashes}""#) };
        let _ = writeln!(
            self.0,
            r##"<polyline points="{}" fill="none" stroke="#000" stroke-width="{width}"{dashes}/>"##,
            list.join(" ")
        );
    }
}

impl Chart {
    /// The chart as one SVG document, 720 by 440. Its characters for curves and its size in characters
    /// count for nothing. Without a finite point: the title and a line that says so.
    #[must_use]
    pub fn svg(&self) -> String {
        let mut drawing = Drawing(String::new());
        let (left, top, right, bottom) = PLOT;
        let letters = f64::from(u32::try_from(self.title.chars().count()).unwrap_or(u32::MAX));
        // A long title is set smaller, so that it ends on the sheet: letters are some 0.55 of their size wide.
        let size = TITLE_SIZE.min((SIZE.0 - left - 10.0) / (0.55 * letters.max(1.0)));
        drawing.text((left, 26.0), "start", (size * 10.0).floor() / 10.0, &self.title);
        match finite_ranges(&self.series) {
            Some((x, y)) => {
                let x_ticks = Ticks::over(x.0, x.1, 8);
                let y_ticks = Ticks::over(y.0, y.1, 6);
                let x = Scale { low: x.0, high: x.1, at_low: left, at_high: right };
                let (low, high) = (y_ticks.floor(y.0), y_ticks.ceil(y.1));
                let y = Scale { low, high, at_low: bottom, at_high: top };
                self.axes(&mut drawing, (&x, &x_ticks), (&y, &y_ticks));
                self.curves(&mut drawing, &x, &y);
            }
            None => drawing.text((left, top + 20.0), "start", 12.0, "nothing to draw"),
        }
        let (width, height) = SIZE;
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
             viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" fill=\"#000\">\n\
             <title>{}</title>\n<rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n{}</svg>\n",
            escaped(&self.title),
            drawing.0
        )
    }

    fn axes(&self, drawing: &mut Drawing, (x, x_ticks): (&Scale, &Ticks), (y, y_ticks): (&Scale, &Ticks)) {
        let (left, top, right, bottom) = PLOT;
        let look = |value: f64| {
            if value.abs() < 1e-12 { r##"stroke="#666""## } else { r##"stroke="#ddd""## }
        };
        for value in x_ticks.within(x.low, x.high) {
            let at = x.place(value);
            drawing.line((at, top), (at, bottom), look(value));
            drawing.text((at, bottom + 18.0), "middle", 12.0, &fixed(value, x_ticks.decimals));
        }
        for value in y_ticks.within(y.low, y.high) {
            let at = y.place(value);
            drawing.line((left, at), (right, at), look(value));
            drawing.text((left - 8.0, at + 4.0), "end", 12.0, &fixed(value, y_ticks.decimals));
        }
        let frame = r##"stroke="#000""##;
        drawing.line((left, bottom), (right, bottom), frame);
        drawing.line((left, top), (left, bottom), frame);
        drawing.text((right, bottom + 40.0), "end", 12.0, &self.x.label());
        drawing.text((left, top - 10.0), "start", 12.0, &self.y.label());
    }

    fn curves(&self, drawing: &mut Drawing, x: &Scale, y: &Scale) {
        let (left, _, _, bottom) = PLOT;
        // The legend stands under the plot, across from the name of the axis.
        let mut legend = left;
        for (place, series) in self.series.iter().enumerate() {
            let look = Look::of(series, place);
            let finite = |p: &(f64, f64)| p.0.is_finite() && p.1.is_finite();
            for stretch in series.points.split(|p| !p.as_ref().is_some_and(finite)) {
                let placed: Vec<_> = stretch.iter().flatten().map(|p| (x.place(p.0), y.place(p.1))).collect();
                if !placed.is_empty() {
                    drawing.curve(&placed, look);
                }
            }
            let height = bottom + 40.0;
            drawing.curve(&[(legend, height - 4.0), (legend + 36.0, height - 4.0)], look);
            drawing.text((legend + 42.0, height), "start", 12.0, &series.name);
            let letters = f64::from(u32::try_from(series.name.chars().count()).unwrap_or(0));
            legend += 62.0 + 7.0 * letters;
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::{Axis, Chart, Series, Stroke};

    fn chart(series: Vec<Series>) -> Chart {
        let axis = |name: &str, unit: &str| Axis { name: name.into(), unit: unit.into() };
        Chart {
            title: "Toe <left & right>".into(),
            x: axis("Wheel travel", "mm"),
            y: axis("Toe", "°"),
            series,
            width: 40,
            height: 10,
        }
    }

    #[test]
    fn curves_are_placed_by_the_axes_and_broken_at_gaps() {
        let points = vec![Some((-10.0, -1.0)), Some((0.0, 0.0)), None, Some((10.0, 1.0))];
        let left = Series { glyph: 'L', name: "left".into(), points, stroke: Stroke::InTurn };
        let right = Series {
            glyph: 'R',
            name: "right".into(),
            points: vec![Some((-10.0, 1.0)), Some((10.0, -1.0))],
            stroke: Stroke::InTurn,
        };
        let svg = chart(vec![left, right]).svg();
        assert!(svg.contains("Toe &lt;left &amp; right&gt;") && !svg.contains("<left"), "{svg}");
        // The plot runs from 80 to 696 and from 376 up to 68: its middle is (388, 222).
        assert!(svg.contains(r#"points="80.00,376.00 388.00,222.00" "#), "{svg}");
        assert!(svg.contains(r#"points="696.00,68.00" "#), "{svg}");
        assert!(svg.contains(r##"points="80.00,68.00 696.00,376.00" fill="none" stroke="#000" stroke-width="1.8" stroke-dasharray="8 5""##), "{svg}");
        assert!(svg.contains(">−1.0<") || svg.contains(">−1<"), "{svg}");
        assert_eq!(svg.matches("<svg").count(), svg.matches("</svg>").count());
    }

    #[test]
    fn what_was_before_is_dashed_and_what_is_after_is_solid() {
        let points = || vec![Some((-10.0, -1.0)), Some((10.0, 1.0))];
        let series = |name: &str, stroke| Series { glyph: 'o', name: name.into(), points: points(), stroke };
        let svg = chart(vec![
            series("before", Stroke::Dashed { heavy: false }),
            series("after", Stroke::Solid { heavy: true }),
        ])
        .svg();
        let curves: Vec<&str> = svg.lines().filter(|line| line.starts_with("<polyline")).collect();
        // Each curve, and its sample in the legend.
        assert_eq!(curves.len(), 4, "{svg}");
        let look = |line: &str| (line.contains("stroke-dasharray"), line.contains(r#"stroke-width="3""#));
        assert_eq!(
            curves.into_iter().map(look).collect::<Vec<_>>(),
            [(true, false), (true, false), (false, true), (false, true)]
        );
    }

    #[test]
    fn nothing_to_draw_is_said() {
        assert!(chart(Vec::new()).svg().contains("nothing to draw"));
    }
}
