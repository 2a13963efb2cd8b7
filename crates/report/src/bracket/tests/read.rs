//! SVG, PDF and DXF read as a printer or cutter would: where things lie, in millimetres.

/// A circle: centre and radius.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Round {
    pub x: f64,
    pub y: f64,
    pub radius: f64,
}

/// From and to.
pub(super) type Straight = [(f64, f64); 2];

/// Circles and straight lines of a page.
#[derive(Clone, Debug, Default)]
pub(super) struct Shapes {
    pub circles: Vec<Round>,
    pub lines: Vec<Straight>,
}

impl Shapes {
    /// Lines of a length, to a thousandth of a millimetre.
    pub fn of_length(&self, length: f64) -> Vec<Straight> {
        let long = |[a, b]: &Straight| (a.0 - b.0).hypot(a.1 - b.1);
        self.lines.iter().filter(|line| (long(line) - length).abs() < 1e-3).copied().collect()
    }
}

/// An attribute's value within an element.
pub(super) fn attribute(element: &str, name: &str) -> String {
    let start = element.find(&format!(" {name}=\"")).unwrap_or_else(|| panic!("no {name} in {element}"));
    let value = &element[start + name.len() + 3..];
    value[..value.find('"').unwrap()].to_owned()
}

fn value(element: &str, name: &str) -> f64 {
    attribute(element, name).parse().unwrap()
}

/// The shapes of an SVG whose user unit is shown to be a millimetre; down is positive.
pub(super) fn svg(text: &str) -> Shapes {
    let root = text.lines().next().unwrap();
    let size = ["width", "height"].map(|name| attribute(root, name));
    let [width, height] = size.map(|with_unit| with_unit.strip_suffix("mm").unwrap().to_owned());
    assert_eq!(attribute(root, "viewBox"), format!("0 0 {width} {height}"));
    let mut shapes = Shapes::default();
    for line in text.lines() {
        if line.starts_with("<circle") {
            let [x, y, radius] = ["cx", "cy", "r"].map(|name| value(line, name));
            shapes.circles.push(Round { x, y, radius });
        } else if line.starts_with("<line") {
            let [x1, y1, x2, y2] = ["x1", "y1", "x2", "y2"].map(|name| value(line, name));
            shapes.lines.push([(x1, y1), (x2, y2)]);
        }
    }
    shapes
}

/// Every page's size in points, and its shapes in millimetres on paper; up is positive.
pub(super) fn pdf(bytes: &[u8]) -> (Vec<[f64; 4]>, Vec<Shapes>) {
    // Codes above 127 are in strings alone; as Latin-1 they keep every byte in its place.
    let text: String = bytes.iter().map(|b| char::from(*b)).collect();
    let boxes = text.split("/MediaBox [").skip(1).map(|rest| {
        let numbers: Vec<f64> =
            rest[..rest.find(']').unwrap()].split_whitespace().map(|n| n.parse().unwrap()).collect();
        <[f64; 4]>::try_from(numbers).unwrap()
    });
    let mut parts: Vec<&str> = text.split("endstream").collect();
    parts.pop();
    let pages = parts.iter().map(|part| content(&part[part.rfind("stream").unwrap() + 6..])).collect();
    (boxes.collect(), pages)
}

/// Runs a page's operators: the transform, paths, strokes.
fn content(stream: &str) -> Shapes {
    let mut shapes = Shapes::default();
    let mut matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let mut numbers: Vec<f64> = Vec::new();
    let mut path: Vec<(f64, f64)> = Vec::new();
    let mut curves = 0;
    for line in stream.lines() {
        // A line of text operators: nothing of it is a path.
        if line.ends_with("Tj") {
            continue;
        }
        for token in line.split_whitespace() {
            if let Ok(number) = token.parse() {
                numbers.push(number);
                continue;
            }
            let point = |numbers: &[f64]| {
                let [x, y] = [0, 1].map(|i| numbers[numbers.len() - 2 + i]);
                let [a, b, c, d, e, f] = matrix;
                let mm = 25.4 / 72.0;
                ((a * x + c * y + e) * mm, (b * x + d * y + f) * mm)
            };
            match token {
                "cm" => matrix = <[f64; 6]>::try_from(numbers.clone()).unwrap(),
                "m" => path = vec![point(&numbers)],
                "l" => path.push(point(&numbers)),
                "c" => {
                    curves += 1;
                    path.push(point(&numbers));
                }
                "S" if curves == 0 && path.len() == 2 => shapes.lines.push([path[0], path[1]]),
                "s" if curves == 4 => {
                    // Ends of the quarters: opposite ones span a diameter.
                    let (right, left) = (path[0], path[2]);
                    shapes.circles.push(Round {
                        x: 0.5 * (right.0 + left.0),
                        y: 0.5 * (right.1 + left.1),
                        radius: 0.5 * (right.0 - left.0).hypot(right.1 - left.1),
                    });
                }
                _ => {}
            }
            if matches!(token, "S" | "s" | "f") {
                curves = 0;
            }
            numbers.clear();
        }
    }
    shapes
}

/// Shapes with the names of their layers.
type OnLayers<T> = Vec<(String, T)>;

/// The shapes of a DXF with their layers.
pub(super) fn dxf(text: &str) -> (OnLayers<Round>, OnLayers<Straight>) {
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len() % 2, 0);
    let groups: Vec<(u16, &str)> = lines.chunks(2).map(|pair| (pair[0].parse().unwrap(), pair[1])).collect();
    assert!(groups.contains(&(1, "AC1009")) && groups.last() == Some(&(0, "EOF")));
    let (mut circles, mut straight) = (Vec::new(), Vec::new());
    for (index, group) in groups.iter().enumerate() {
        let rest = || groups[index + 1..].iter().take_while(|(code, _)| *code != 0);
        let number = |wanted: u16| -> f64 {
            rest().find(|(code, _)| *code == wanted).map(|(_, value)| value.parse().unwrap()).unwrap()
        };
        let layer = || rest().find(|(code, _)| *code == 8).unwrap().1.to_owned();
        match group {
            (0, "CIRCLE") => {
                circles.push((layer(), Round { x: number(10), y: number(20), radius: number(40) }));
            }
            (0, "LINE") => {
                straight.push((layer(), [(number(10), number(20)), (number(11), number(21))]));
            }
            _ => {}
        }
    }
    (circles, straight)
}
