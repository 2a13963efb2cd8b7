//! Sizes and handedness, from the files.

use super::read::{Round, attribute, dxf, pdf, svg};
use super::sheets::{bulkhead, hole, moved, sheet};
use crate::bracket::{BracketSheet, ReferenceHole};
use crate::drawing::Paper;
use crate::plate::Plate;
use nalgebra::{Rotation3, Vector3};
use proptest::prelude::{ProptestConfig, Strategy, prop_assert, proptest};
use std::collections::BTreeMap;

/// A plate turned any way, and places in it from its own two directions, millimetres.
fn turned(turn: Vector3<f64>) -> (Plate, impl Fn(f64, f64) -> Vector3<f64>) {
    let turn = Rotation3::from_scaled_axis(turn);
    let origin = Vector3::new(1.4, 0.3, 0.25);
    let at = move |x: f64, y: f64| origin + turn * Vector3::new(x, y, 0.0) / 1e3;
    (Plate::with_normal(origin, turn * Vector3::z()).unwrap(), at)
}

/// A sheet on which every hole has a radius of its own, with where each centre truly is.
fn marked(turn: Vector3<f64>) -> (BracketSheet, Vec<(f64, Vector3<f64>)>) {
    let (plate, at) = turned(turn);
    let mut one = hole("One", at(0.0, 0.0), at(22.0, 11.0));
    one.diameter = Some(0.0081);
    let mut two = hole("Two", at(70.0, -13.0), at(71.0, -41.0));
    two.diameter = Some(0.0123);
    let three = ReferenceHole { name: "Three".into(), at: at(-30.0, 37.0), diameter: Some(0.0062) };
    let places = vec![(4.05, one.old), (4.05, one.new), (6.15, two.old), (6.15, two.new), (3.1, three.at)];
    let mut all = sheet(plate, vec![one, two]);
    all.references.push(three);
    (all, places)
}

/// The circles in the order of `places`: of two with one radius, the old one is drawn first.
fn in_order(circles: &[Round], places: &[(f64, Vector3<f64>)]) -> Vec<Round> {
    let mut left = circles.to_vec();
    let mut take = |radius: f64| {
        let index = left.iter().position(|c| (c.radius - radius).abs() < 1e-4).unwrap();
        left.remove(index)
    };
    places.iter().map(|(radius, _)| take(*radius)).collect()
}

/// All distances on paper against those in space, and left turns against left turns.
fn compare(circles: &[Round], places: &[(f64, Vector3<f64>)], normal: &Vector3<f64>, up: f64) {
    let found = in_order(circles, places);
    for (i, (_, a)) in places.iter().enumerate() {
        for (j, (_, b)) in places.iter().enumerate().skip(i + 1) {
            let paper = (found[i].x - found[j].x).hypot(found[i].y - found[j].y);
            let space = (a - b).norm() * 1e3;
            assert!((paper - space).abs() < 1e-3, "{i} to {j}: {paper} mm on paper, {space} mm");
            for (k, (_, c)) in places.iter().enumerate().skip(j + 1) {
                let left = normal.dot(&(b - a).cross(&(c - a))) * 1e6;
                let cross = |p: &Round, q: &Round, r: &Round| {
                    up * ((q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x))
                };
                let paper = cross(&found[i], &found[j], &found[k]);
                assert!((left - paper).abs() < 1.0, "{i}{j}{k} turn {left} in space, {paper} on paper");
            }
        }
    }
}

fn turns() -> impl Strategy<Value = Vector3<f64>> {
    proptest::array::uniform3(-3.0..3.0_f64).prop_map(Vector3::from)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 48, ..ProptestConfig::default() })]

    /// Whatever the plate's plane: SVG, PDF and DXF show true distances, never mirrored.
    #[test]
    fn templates_are_true_to_size_and_not_mirrored(turn in turns()) {
        let (sheet, places) = marked(turn);
        let normal = sheet.plate.axes()[2];
        let drawing = sheet.drawing().unwrap();
        prop_assert!(drawing.pages.len() == 2);
        compare(&svg(&drawing.svgs()[1]).circles, &places, &normal, -1.0);
        compare(&pdf(&drawing.pdf()).1[1].circles, &places, &normal, 1.0);
        let (circles, _) = dxf(&sheet.dxf().unwrap());
        // The cutter's file goes new, old, reference.
        let layer = |name: &str| circles.iter().filter(|c| c.0 == name).map(|c| c.1).collect::<Vec<_>>();
        let ordered = [layer("OLD"), layer("NEW"), layer("REFERENCE")].concat();
        compare(&ordered, &places, &normal, 1.0);
    }
}

/// Someone at the left of the car sees what lies further forward on his left, and up is up.
#[test]
fn forward_is_to_the_left_seen_from_the_left() {
    let plate = Plate::with_normal(Vector3::zeros(), Vector3::y()).unwrap();
    let mut one = moved("One", [0.0, 0.0, 0.0], [20.0, 0.0, 10.0]);
    one.diameter = Some(0.008);
    let drawing = sheet(plate, vec![one]).drawing().unwrap();
    let circles = svg(&drawing.svgs()[1]).circles;
    let holes: Vec<_> = circles.iter().filter(|c| (c.radius - 4.0).abs() < 1e-9).collect();
    let [old, new] = [holes[0], holes[1]];
    assert!((new.x - old.x + 20.0).abs() < 1e-3 && (new.y - old.y + 10.0).abs() < 1e-3, "{holes:?}");
}

#[test]
fn the_check_line_is_100_mm_and_the_page_is_the_paper() {
    for (paper, inches) in [(Paper::A4, [210.0 / 25.4, 297.0 / 25.4]), (Paper::Letter, [8.5, 11.0])] {
        let mut sheet = marked(Vector3::zeros()).0;
        sheet.paper = paper;
        let drawing = sheet.drawing().unwrap();
        let (boxes, pages) = pdf(&drawing.pdf());
        assert_eq!(boxes.len(), 2);
        let mut points = [boxes[0][2] / 72.0, boxes[0][3] / 72.0];
        points.sort_by(f64::total_cmp);
        for (found, wanted) in points.into_iter().zip(inches) {
            assert!((found - wanted).abs() < 1e-5, "{points:?} in");
        }
        let check = |mut lines: Vec<[(f64, f64); 2]>| {
            assert_eq!(lines.len(), 1, "{lines:?}");
            let [from, to] = lines.remove(0);
            assert!((from.1 - to.1).abs() < 1e-9);
        };
        check(pages[1].of_length(100.0));
        check(svg(&drawing.svgs()[1]).of_length(100.0));
        let (_, lines) = dxf(&sheet.dxf().unwrap());
        let check: Vec<_> = lines.iter().filter(|(layer, _)| layer == "CHECK").collect();
        assert!(check.iter().any(|(_, [a, b])| (b.0 - a.0 - 100.0).abs() < 1e-6), "{check:?}");
    }
}

/// Register marks of an SVG: letter and centre.
fn registers(svg: &str) -> BTreeMap<String, (f64, f64)> {
    let lines: Vec<&str> = svg.lines().collect();
    let pairs =
        lines.windows(2).filter(|pair| pair[0].starts_with("<circle") && pair[0].contains(r#" r="2.5""#));
    pairs
        .map(|pair| {
            let at = ["cx", "cy"].map(|name| attribute(pair[0], name).parse().unwrap());
            let letter = pair[1].split('>').nth(1).unwrap().split('<').next().unwrap();
            (letter.to_owned(), (at[0], at[1]))
        })
        .collect()
}

/// Sheets laid together by their register marks make the plate: holes on different pages are as far
/// apart as in space.
#[test]
fn pages_fit_together_by_their_register_marks() {
    let (sheet, places) = bulkhead();
    let svgs = sheet.drawing().unwrap().svgs();
    let template: Vec<&String> = svgs.iter().filter(|svg| svg.contains("Template, full size")).collect();
    assert!(template.len() > 2, "{} pages", template.len());
    // Each page's place, from the first outward over common marks.
    let mut offsets: BTreeMap<usize, (f64, f64)> = BTreeMap::from([(0, (0.0, 0.0))]);
    for _ in 0..template.len() {
        for (index, page) in template.iter().enumerate() {
            let known: Vec<_> = offsets.iter().map(|(known, at)| (*known, *at)).collect();
            for (other, at) in known {
                let theirs = registers(template[other]);
                for (letter, mine) in registers(page) {
                    let Some(their) = theirs.get(&letter) else { continue };
                    let offset = (at.0 + their.0 - mine.0, at.1 + their.1 - mine.1);
                    let kept = offsets.entry(index).or_insert(offset);
                    let off = (kept.0 - offset.0).hypot(kept.1 - offset.1);
                    assert!(off < 1e-3, "page {index} by {letter}: off by {off}");
                }
            }
        }
    }
    assert_eq!(offsets.len(), template.len(), "a page has no neighbour");
    let mut found: Vec<(usize, (f64, f64))> = Vec::new();
    for (index, (radius, _)) in places.iter().enumerate() {
        for (page, text) in template.iter().enumerate() {
            for circle in svg(text).circles.iter().filter(|c| (c.radius - radius).abs() < 1e-4) {
                let at = offsets[&page];
                found.push((index, (circle.x + at.0, circle.y + at.1)));
            }
        }
        assert!(found.iter().any(|(hole, _)| *hole == index), "hole {index} is whole on no page");
    }
    for (i, a) in &found {
        for (j, b) in &found {
            let space = (places[*i].1 - places[*j].1).norm() * 1e3;
            assert!(((a.0 - b.0).hypot(a.1 - b.1) - space).abs() < 2e-3, "{i} to {j}");
        }
    }
}
