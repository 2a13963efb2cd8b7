//! An upright: the hub's housing, a limb to every joint, webs between neighbours.

use nalgebra::{Point3, Vector3};

use crate::solids::shape::Shape;
use crate::solids::{Builder, Paint, axes_along};
use crate::view::Tone;

/// Radius of the hub's housing, in metres.
const HUB: f64 = 0.046;
/// Length of the hub's housing, in metres.
const HUB_LENGTH: f64 = 0.056;
/// Neighbouring limbs farther apart than this (rad) have no web between them.
const WIDEST_WEB: f64 = 2.2;

/// Adds the upright. Its own axes hang on the spin axis and the first joint, so that
/// it turns with both and keeps its shapes.
pub(crate) fn upright(
    build: &mut Builder,
    wheel_centre: Point3<f64>,
    spin_axis: Vector3<f64>,
    joints: &[Point3<f64>],
) {
    let outboard = spin_axis.try_normalize(1e-12).unwrap_or_else(Vector3::y);
    let reference = joints.first().map_or_else(Vector3::z, |joint| joint - wheel_centre);
    let axes = axes_along(outboard, reference);
    let local = axes.transpose();
    let seen: Vec<Vector3<f64>> = joints.iter().map(|joint| local * (joint - wheel_centre)).collect();

    // The housing's middle lies inboard of the wheel centre, toward the joints.
    let count = seen.iter().map(|_| 1.0).sum::<f64>().max(1.0);
    let inboard = (seen.iter().map(|p| p.z).sum::<f64>() / count).clamp(-0.09, -0.02);
    let hub = wheel_centre + outboard * inboard;

    build.paint(Paint::Part(Tone::Upright));
    build.bush(hub, outboard, HUB, HUB_LENGTH);
    for joint in joints {
        let along = joint - hub;
        build.bar(Shape::Taper, hub, *joint, (0.027, 0.019), outboard.cross(&along));
        build.ball(*joint, 0.0165);
    }
    webs(build, hub, &axes, &seen, inboard);

    build.paint(Paint::Part(Tone::Bright));
    build.bush(hub, outboard, HUB * 0.62, HUB_LENGTH * 1.35);
    // The axle, through the wheel's centre to its face.
    build.bush(wheel_centre + outboard * (0.5 * inboard), outboard, 0.020, inboard.abs() + 0.05);
    build.bush(wheel_centre + outboard * 0.012, outboard, 0.050, 0.010);
}

/// Plates between limbs that are neighbours round the hub.
fn webs(
    build: &mut Builder,
    hub: Point3<f64>,
    axes: &nalgebra::Matrix3<f64>,
    seen: &[Vector3<f64>],
    inboard: f64,
) {
    let mut around: Vec<(f64, Vector3<f64>)> =
        seen.iter().filter(|p| p.xy().norm() > HUB).map(|p| (p.y.atan2(p.x), *p)).collect();
    around.sort_by(|a, b| a.0.total_cmp(&b.0));
    for number in 0..around.len() {
        let (angle, p) = around[number];
        let (next_angle, q) = around[(number + 1) % around.len()];
        let between = (next_angle - angle).rem_euclid(std::f64::consts::TAU);
        if around.len() < 2 || !(0.15..=WIDEST_WEB).contains(&between) {
            continue;
        }
        // The web lies in the plane of the hub's middle and the two joints, and stops
        // short of them.
        let (a, b) =
            (Vector3::new(p.x, p.y, p.z - inboard) * 0.80, Vector3::new(q.x, q.y, q.z - inboard) * 0.80);
        let Some(x) = a.try_normalize(1e-9) else {
            continue;
        };
        let Some(z) = a.cross(&b).try_normalize(1e-9) else {
            continue;
        };
        let y = z.cross(&x);
        let web = nalgebra::Matrix3::from_columns(&[x, y, z]);
        build.add(
            Shape::Plate {
                circles: vec![((0.0, 0.0), 0.024), ((a.norm(), 0.0), 0.011), ((b.dot(&x), b.dot(&y)), 0.011)],
                thickness: 0.014,
            },
            hub,
            axes * web,
            Vector3::repeat(1.0),
        );
    }
}
