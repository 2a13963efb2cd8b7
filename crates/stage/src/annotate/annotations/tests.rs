use super::*;
use crate::view::WheelSlot;

fn front() -> StageProjection {
    StageProjection {
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
        place: Some(WheelSlot::FrontLeft),
        plane,
        shape,
        label: Some("text".into()),
        line: LineStyle::Solid,
    }
}

fn drafted(overlays: Vec<Overlay>, lens: &StageProjection) -> Annotations {
    let stage = Stage { overlays, ..Stage::default() };
    draft(&stage, lens)
}

#[test]
fn a_drawing_view_shows_its_own_plane_only() {
    let line = OverlayShape::Line { a: Point3::new(0.0, 0.0, 0.1), b: Point3::new(0.0, 0.2, 0.4) };
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
    let line = OverlayShape::Line { a: Point3::new(0.0, 0.0, 0.1), b: Point3::new(0.0, 0.2, 0.4) };
    let construction = OverlayShape::Construction {
        anchors: vec![Point3::new(0.0, 0.3, 0.2)],
        meet: Point3::new(0.0, -0.2, 0.3),
        reach: 3.0,
    };
    let of = |place, shape| Overlay { place: Some(place), ..overlay(Plane::Front, shape) };
    let shown = |overlays| drafted(overlays, &turned).strokes.len();
    assert_eq!(shown(vec![of(WheelSlot::FrontLeft, line.clone())]), 1);
    assert_eq!(shown(vec![of(WheelSlot::RearRight, line)]), 0);
    assert_eq!(shown(vec![of(WheelSlot::FrontLeft, construction)]), 0);
}

#[test]
fn a_hidden_overlay_is_not_drawn() {
    let line = OverlayShape::Line { a: Point3::new(0.0, 0.0, 0.1), b: Point3::new(0.0, 0.2, 0.4) };
    let mut stage = Stage { overlays: vec![overlay(Plane::Front, line)], ..Stage::default() };
    assert_eq!(draft(&stage, &front()).notes.len(), 1);
    stage.hidden.insert("test".into());
    assert_eq!(draft(&stage, &front()), Annotations::default());
}

#[test]
fn dashes_cover_their_share_of_the_line() {
    let line = [Pixel::new(0.0, 0.0), Pixel::new(120.0, 0.0)];
    let covered: f64 = dashed(&line, LineStyle::Dashed).iter().map(|(a, b)| (b - a).norm()).sum();
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
        OverlayShape::Parallel { anchors: vec![Point3::origin()], direction: Vector3::zeros(), reach: 3.0 },
    ] {
        assert_eq!(drafted(vec![overlay(Plane::Any, shape)], &front()), Annotations::default());
    }
}
