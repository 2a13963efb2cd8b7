//! An invented single-seater, drawn by hand at its design pose: no linkage is solved.

use nalgebra::{Point3, Vector3};
use wheelpath_stage::view::{
    Emphasis, Ground, LineStyle, MarkerSign, Overlay, OverlayShape, Part, PartKind, Plane, PointView, Stage,
    StageView, WheelSlot, WheelView, size,
};

/// One corner's points, left side.
struct Corner {
    wheel: [f64; 3],
    radius: f64,
    width: f64,
    lower: [[f64; 3]; 3],
    upper: [[f64; 3]; 3],
    rod: [[f64; 3]; 2],
    pushrod: [[f64; 3]; 2],
    rocker: [[f64; 3]; 3],
    damper_body: [f64; 3],
    bar: [[f64; 3]; 2],
}

const FRONT: Corner = Corner {
    wheel: [0.0, 0.76, 0.28],
    radius: 0.28,
    width: 0.24,
    lower: [[0.19, 0.20, 0.145], [-0.26, 0.21, 0.155], [0.012, 0.700, 0.140]],
    upper: [[0.14, 0.245, 0.335], [-0.24, 0.25, 0.325], [-0.020, 0.672, 0.405]],
    rod: [[0.100, 0.225, 0.190], [0.115, 0.690, 0.185]],
    pushrod: [[0.004, 0.640, 0.165], [-0.010, 0.262, 0.520]],
    rocker: [[-0.045, 0.205, 0.520], [-0.062, 0.150, 0.545], [-0.010, 0.225, 0.535]],
    damper_body: [-0.340, 0.130, 0.515],
    bar: [[0.120, 0.190, 0.440], [0.030, 0.215, 0.440]],
};

const REAR: Corner = Corner {
    wheel: [-2.62, 0.73, 0.285],
    radius: 0.285,
    width: 0.30,
    lower: [[-2.36, 0.20, 0.150], [-2.72, 0.18, 0.150], [-2.60, 0.665, 0.140]],
    upper: [[-2.34, 0.24, 0.330], [-2.70, 0.225, 0.325], [-2.63, 0.650, 0.410]],
    rod: [[-2.80, 0.185, 0.175], [-2.775, 0.660, 0.170]],
    pushrod: [[-2.59, 0.610, 0.170], [-2.50, 0.245, 0.500]],
    rocker: [[-2.46, 0.195, 0.500], [-2.45, 0.140, 0.525], [-2.50, 0.205, 0.515]],
    damper_body: [-2.17, 0.120, 0.500],
    bar: [[-2.66, 0.175, 0.430], [-2.56, 0.190, 0.430]],
};

/// The car alone.
pub fn car() -> StageView {
    let mut view = StageView {
        ground: Ground { point: Point3::new(-1.3, 0.0, 0.0), normal: Vector3::z() },
        ..StageView::default()
    };
    for place in WheelSlot::ALL {
        corner(&mut view, place);
    }
    for (corner, front) in [(&FRONT, true), (&REAR, false)] {
        axle(&mut view, corner, front);
    }
    view
}

fn at(p: [f64; 3], side: f64) -> Point3<f64> {
    Point3::new(p[0], side * p[1], p[2])
}

fn spin_axis(place: WheelSlot) -> Vector3<f64> {
    let (camber, toe) = if place.is_front() {
        (-3.0_f64.to_radians(), -0.15_f64.to_radians())
    } else {
        (-1.5_f64.to_radians(), 0.2_f64.to_radians())
    };
    // Toe-in turns the outboard end forward of square.
    Vector3::new(toe.sin(), place.side(), -camber.sin()).normalize()
}

fn corner(view: &mut StageView, place: WheelSlot) {
    let data = if place.is_front() { &FRONT } else { &REAR };
    let side = place.side();
    let p = |point: [f64; 3]| at(point, side);
    let spin = spin_axis(place);
    let centre = p(data.wheel);
    let down = -(Vector3::z() - spin * spin.z).normalize();
    view.wheels.push(WheelView {
        place,
        centre,
        spin_axis: spin,
        radius: data.radius,
        width: data.width,
        rim_radius: 0.165,
        contact: centre + down * data.radius,
        steers: place.is_front(),
    });
    for arm in [data.lower, data.upper] {
        view.parts.push(Part::new(PartKind::Wishbone {
            inner_front: p(arm[0]),
            inner_rear: p(arm[1]),
            outer: p(arm[2]),
            radius: size::ARM,
        }));
        for inner in [arm[0], arm[1]] {
            view.parts
                .push(Part::new(PartKind::Mount { at: p(inner), into_body: Vector3::new(0.0, -side, 0.0) }));
        }
    }
    for (rod, radius) in [(data.rod, size::ROD), (data.pushrod, size::ROD)] {
        view.parts.push(Part::new(PartKind::Rod { a: p(rod[0]), b: p(rod[1]), radius }));
    }
    view.parts.push(Part::new(PartKind::Upright {
        wheel_centre: centre,
        spin_axis: spin,
        joints: vec![p(data.upper[2]), p(data.lower[2]), p(data.rod[1])],
    }));
    view.parts.push(Part::new(PartKind::Rocker {
        pivot: p(data.rocker[0]),
        axis: Vector3::new(0.1, 0.25 * side, 1.0),
        points: vec![p(data.pushrod[1]), p(data.rocker[1]), p(data.rocker[2])],
    }));
    view.parts.push(Part::new(PartKind::Damper {
        body_eye: p(data.damper_body),
        moving_eye: p(data.rocker[1]),
        body_length: 0.16,
        spring: true,
    }));
    view.parts.push(Part::new(PartKind::Rod {
        a: p(data.rocker[2]),
        b: p(data.bar[1]),
        radius: size::DROP_LINK,
    }));
    view.parts.push(Part::new(PartKind::BarArm { pivot: p(data.bar[0]), end: p(data.bar[1]) }));
    for (name, point) in [
        ("Lower ball joint", data.lower[2]),
        ("Upper ball joint", data.upper[2]),
        ("Tie-rod outer", data.rod[1]),
        ("Tie-rod inner", data.rod[0]),
        ("Lower wishbone, front pickup", data.lower[0]),
        ("Lower wishbone, rear pickup", data.lower[1]),
        ("Upper wishbone, front pickup", data.upper[0]),
        ("Upper wishbone, rear pickup", data.upper[1]),
    ] {
        view.points.push(PointView {
            key: format!("{} / {name}", place.name()),
            name: name.to_owned(),
            at: p(point),
            emphasis: Emphasis::Plain,
        });
    }
}

fn axle(view: &mut StageView, corner: &Corner, front: bool) {
    view.parts.push(Part::new(PartKind::Tube {
        a: at(corner.bar[0], 1.0),
        b: at(corner.bar[0], -1.0),
        radius: size::BAR,
    }));
    if front {
        let end = corner.rod[0];
        let housing = [end[0], end[1] - 0.07, end[2]];
        view.parts.push(Part::new(PartKind::Rack {
            housing_left: at(housing, 1.0),
            housing_right: at(housing, -1.0),
            rack_left: at(end, 1.0),
            rack_right: at(end, -1.0),
        }));
    }
    for number in [0, 1] {
        let inward = |p: [f64; 3]| [p[0], p[1] - 0.032, p[2]];
        let (low, high) = (inward(corner.lower[number]), inward(corner.upper[number]));
        view.parts.push(Part::new(PartKind::Frame {
            corners: vec![at(low, 1.0), at(high, 1.0), at(high, -1.0), at(low, -1.0)],
        }));
    }
}

/// The car with a full set of overlays, as an adapter would make them.
pub fn stage() -> Stage {
    let car = car();
    let mut overlays = Vec::new();
    for place in [WheelSlot::FrontLeft, WheelSlot::FrontRight] {
        wheel_overlays(&mut overlays, &car, place);
    }
    axle_overlays(&mut overlays, &car);
    Stage { car, overlays, ..Stage::default() }
}

fn overlay(id: &str, place: Option<WheelSlot>, plane: Plane, shape: OverlayShape) -> Overlay {
    Overlay {
        id: id.to_owned(),
        reading: id.to_owned(),
        place,
        plane,
        shape,
        label: None,
        line: LineStyle::Solid,
    }
}

fn labelled(mut overlay: Overlay, label: String) -> Overlay {
    overlay.label = Some(label);
    overlay
}

fn styled(mut overlay: Overlay, line: LineStyle) -> Overlay {
    overlay.line = line;
    overlay
}

fn wheel_overlays(out: &mut Vec<Overlay>, car: &StageView, place: WheelSlot) {
    let Some(wheel) = car.wheel(place) else { return };
    let side = place.side();
    let (upper, lower) = (at(FRONT.upper[2], side), at(FRONT.lower[2], side));
    let axis = (upper - lower).normalize();
    let ground = lower - axis * (lower.z / axis.z);
    let contact = wheel.contact;
    let of = Some(place);
    out.push(styled(
        overlay("steering_axis", of, Plane::Any, OverlayShape::Line { a: upper + axis * 0.16, b: ground }),
        LineStyle::Chain,
    ));
    out.push(overlay(
        "contact",
        of,
        Plane::Any,
        OverlayShape::Marker { at: contact, sign: MarkerSign::Cross },
    ));
    let below = Vector3::new(0.0, 0.0, -0.09);
    out.push(labelled(
        overlay(
            "trail",
            of,
            Plane::Side,
            OverlayShape::Dimension {
                a: contact,
                b: Point3::new(ground.x, contact.y, contact.z),
                offset: below,
            },
        ),
        format!("Trail {:.1} mm", (ground.x - contact.x) * 1000.0),
    ));
    out.push(labelled(
        overlay(
            "scrub_radius",
            of,
            Plane::Front,
            OverlayShape::Dimension {
                a: contact,
                b: Point3::new(contact.x, ground.y, contact.z),
                offset: below,
            },
        ),
        format!("Scrub radius {:.1} mm", (contact.y - ground.y) * side * 1000.0),
    ));
    let caster = (-axis.x).atan2(axis.z);
    out.push(labelled(
        overlay(
            "caster",
            of,
            Plane::Side,
            OverlayShape::Angle {
                vertex: ground,
                from: Vector3::z(),
                to: Vector3::new(axis.x, 0.0, axis.z),
                radius: 0.62,
            },
        ),
        format!("Caster {:.2}°", caster.to_degrees()),
    ));
    let inclination = (-side * axis.y).atan2(axis.z);
    out.push(labelled(
        overlay(
            "steering_axis_inclination",
            of,
            Plane::Front,
            OverlayShape::Angle {
                vertex: ground,
                from: Vector3::z(),
                to: Vector3::new(0.0, axis.y, axis.z),
                radius: 0.66,
            },
        ),
        format!("Inclination {:.2}°", inclination.to_degrees()),
    ));
    let plane_up = (Vector3::z() - wheel.spin_axis * wheel.spin_axis.z).normalize();
    out.push(labelled(
        overlay(
            "camber",
            of,
            Plane::Front,
            OverlayShape::Angle {
                vertex: contact,
                from: Vector3::z(),
                to: Vector3::new(0.0, plane_up.y, plane_up.z),
                radius: 0.72,
            },
        ),
        "Camber −3.00°".to_owned(),
    ));
    let heading = wheel.spin_axis.cross(&Vector3::z()) * side;
    out.push(labelled(
        overlay(
            "toe",
            of,
            Plane::Plan,
            OverlayShape::Angle { vertex: wheel.centre, from: Vector3::x(), to: heading, radius: 0.48 },
        ),
        "Toe −0.15°".to_owned(),
    ));
    let anchors = vec![lower, upper];
    out.push(styled(
        overlay(
            "front_view_instant_centre",
            of,
            Plane::Front,
            OverlayShape::Construction { anchors, meet: Point3::new(0.0, -side * 1.9, 0.20), reach: 4.0 },
        ),
        LineStyle::Thin,
    ));
    out.push(labelled(
        styled(
            overlay(
                "side_view_instant_centre",
                of,
                Plane::Side,
                OverlayShape::Construction {
                    anchors: vec![lower, upper],
                    meet: Point3::new(-7.5, wheel.centre.y, 0.62),
                    reach: 3.2,
                },
            ),
            LineStyle::Thin,
        ),
        "Side-view instant centre 7.5 m behind".to_owned(),
    ));
}

fn axle_overlays(out: &mut Vec<Overlay>, car: &StageView) {
    out.push(labelled(
        overlay(
            "roll_centre_height",
            None,
            Plane::Front,
            OverlayShape::Marker { at: Point3::new(0.0, 0.0, 0.032), sign: MarkerSign::Centre },
        ),
        "Roll centre 32.0 mm".to_owned(),
    ));
    for place in [WheelSlot::FrontLeft, WheelSlot::FrontRight] {
        if let Some(wheel) = car.wheel(place) {
            out.push(styled(
                overlay(
                    "roll_centre_height",
                    None,
                    Plane::Front,
                    OverlayShape::Line { a: wheel.contact, b: Point3::new(0.0, -place.side() * 1.9, 0.12) },
                ),
                LineStyle::Dashed,
            ));
            out.push(styled(
                overlay(
                    "turn_centre",
                    Some(place),
                    Plane::Plan,
                    OverlayShape::Construction {
                        anchors: vec![wheel.centre],
                        meet: Point3::new(-2.62, 9.0, 0.28),
                        reach: 12.0,
                    },
                ),
                LineStyle::Chain,
            ));
        }
    }
}

/// Lifts the front upper wishbones' inner points by 25 mm: what a proposal beside its
/// predecessor looks like.
pub fn change(stage: &mut Stage) {
    stage.ghost = Some(stage.car.clone());
    for part in &mut stage.car.parts {
        if let PartKind::Wishbone { inner_front, inner_rear, .. } = &mut part.kind
            && inner_front.x > 0.0
            && inner_front.z > 0.25
        {
            inner_front.z += 0.025;
            inner_rear.z += 0.025;
            part.emphasis = Emphasis::Changed;
        }
    }
    for point in &mut stage.car.points {
        if point.key.contains("front left / Upper wishbone") {
            point.at.z += 0.025;
            point.emphasis = Emphasis::Changed;
        }
    }
}
