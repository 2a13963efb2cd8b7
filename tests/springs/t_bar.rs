//! T-bars: one rigid part on two drop links.

use crate::cars::{TRAVELS, both, pullrods, solver};
use nalgebra::Vector3;
use wheelpath_geometry::{AxleSolver, End, Hardpoint, Link, Side, SolvedAxle, StopKind};
use wheelpath_tests::assert_near;

use Hardpoint as P;

fn of_corner(axle: &AxleSolver, at: &SolvedAxle, side: Side, hardpoint: Hardpoint) -> Vector3<f64> {
    axle.points(at, side).into_iter().find(|(p, _)| *p == hardpoint).unwrap().1
}

fn of_axle(axle: &AxleSolver, at: &SolvedAxle, hardpoint: Hardpoint) -> Vector3<f64> {
    axle.own_points(at).into_iter().find(|(p, _)| *p == hardpoint).unwrap().1
}

/// Foot, head and both ends of the crossbar.
fn part(axle: &AxleSolver, at: &SolvedAxle) -> [Vector3<f64>; 4] {
    [
        of_axle(axle, at, P::TBarPivot),
        of_axle(axle, at, P::TBarHead),
        of_corner(axle, at, Side::Left, P::DropLinkBar),
        of_corner(axle, at, Side::Right, P::DropLinkBar),
    ]
}

#[test]
fn the_crossbar_is_rigid_and_drop_links_keep_their_lengths() {
    for (mut car, end) in both() {
        for stated in [None, Some(0.003)] {
            let mut lengths = [0.0; 2];
            for (side, length) in Side::BOTH.into_iter().zip(&mut lengths) {
                let corner = car.axle_mut(end).corner_mut(side);
                let between = corner.hardpoints.get(P::DropLinkBar).unwrap()
                    - corner.hardpoints.get(P::DropLinkOuter).unwrap();
                *length = between.norm();
                if let (Some(longer), Side::Left) = (stated, side) {
                    *length += longer;
                    corner.lengths.push((Link::DropLink, *length));
                }
            }
            let axle = solver(&car, end);
            let design = {
                let own = |hardpoint| car.axle(end).hardpoints.get(hardpoint).unwrap();
                let bar = |side| car.axle(end).corner(side).hardpoints.get(P::DropLinkBar).unwrap();
                [own(P::TBarPivot), own(P::TBarHead), bar(Side::Left), bar(Side::Right)]
            };
            let swing_line = car.axle(end).hardpoints.get(P::TBarAxis).unwrap() - design[0];
            for travel in TRAVELS {
                let at = axle.solve(travel, 0.0).unwrap();
                let now = part(&axle, &at);
                for i in 0..4 {
                    for j in 0..i {
                        let apart = |of: &[Vector3<f64>; 4]| (of[i] - of[j]).norm();
                        assert_near!(apart(&now), apart(&design), 1e-14, "{} {travel:?}", car.name);
                    }
                }
                // No reflection, and a stem that swings about its line alone.
                let spat = |p: &[Vector3<f64>; 4]| (p[1] - p[0]).cross(&(p[2] - p[0])).dot(&(p[3] - p[0]));
                assert_near!(spat(&now), spat(&design), 1e-15);
                let along = |p: &[Vector3<f64>; 4]| (p[1] - p[0]).dot(&swing_line);
                assert_near!(along(&now), along(&design), 1e-14);
                for (side, length) in Side::BOTH.into_iter().zip(lengths) {
                    let rod = of_corner(&axle, &at, side, P::DropLinkBar)
                        - of_corner(&axle, &at, side, P::DropLinkOuter);
                    assert_near!(rod.norm(), length, 1e-14, "{} {side} {travel:?}", car.name);
                }
            }
        }
    }
}

/// With both wheels alike the T only swings: a point on a circle at a given distance from another.
#[test]
fn heave_is_a_circle_cut_by_a_circle() {
    let car = pullrods();
    let axle = solver(&car, End::Front);
    let start = axle.start();
    let foot = of_axle(&axle, &start, P::TBarPivot);
    let flat = |v: Vector3<f64>| [v.x - foot.x, v.z - foot.z];
    let end = of_corner(&axle, &start, Side::Left, P::DropLinkBar);
    let rod = end - of_corner(&axle, &start, Side::Left, P::DropLinkOuter);
    let [radius, from] = [flat(end)[0].hypot(flat(end)[1]), flat(end)[1].atan2(flat(end)[0])];
    for travel in [-0.05, -0.02, 0.0, 0.02, 0.05] {
        let at = axle.solve([travel; 2], 0.0).unwrap();
        let outer = of_corner(&axle, &at, Side::Left, P::DropLinkOuter);
        // What of the rod's length lies in the plane across the swing axis.
        let across = rod.norm_squared() - (end.y - outer.y).powi(2);
        let [x, z] = flat(outer);
        let far = x.hypot(z);
        let between = ((radius * radius + far * far - across) / (2.0 * radius * far)).acos();
        // The crossbar stands above the link's lower end.
        let turn = z.atan2(x) + between - from;
        let motion = at.motion.t_bar.unwrap();
        // Bump swings it downward here.
        assert_near!(motion.swing.value, -turn, 1e-13, "{travel}");
        assert_near!(motion.twist.value, 0.0, 1e-14);
        assert_near!(motion.twist.per_heave(), 0.0, 1e-12);
        assert_near!(motion.swing.per_roll(), 0.0, 1e-12);
    }
}

#[test]
fn signs_follow_bump_and_not_the_way_the_t_is_drawn() {
    let car = pullrods();
    let there = solver(&car, End::Front).solve([0.03, -0.02], 0.0).unwrap().motion.t_bar.unwrap();
    assert!(there.twist.value > 0.0 && there.swing.per_heave() > 0.0 && there.twist.per_roll() > 0.0);
    // The swing line drawn from the other side.
    let mut turned = car.clone();
    let own = |hardpoint| car.front.hardpoints.get(hardpoint).unwrap();
    turned.front.hardpoints.set(P::TBarAxis, own(P::TBarPivot) * 2.0 - own(P::TBarAxis));
    // The stem drawn longer.
    turned.front.hardpoints.set(P::TBarHead, own(P::TBarHead) * 1.5 - own(P::TBarPivot) * 0.5);
    let again = solver(&turned, End::Front).solve([0.03, -0.02], 0.0).unwrap().motion.t_bar.unwrap();
    assert_near!(again.swing.value, there.swing.value, 1e-14);
    assert_near!(again.twist.value, there.twist.value, 1e-14);
    // Left and right changed over.
    let mirror = solver(&car, End::Front).solve([-0.02, 0.03], 0.0).unwrap().motion.t_bar.unwrap();
    assert_near!(mirror.swing.value, there.swing.value, 1e-14);
    assert_near!(mirror.twist.value, -there.twist.value, 1e-14);
    for (a, b) in
        mirror.swing.per_travel.into_iter().zip([there.swing.per_travel[1], there.swing.per_travel[0]])
    {
        assert_near!(a, b, 1e-12);
    }
}

/// A T-bar with a stem too short for what its wheels do: the pose and the limits end where link and
/// stem come into line.
#[test]
fn the_end_of_the_drop_links_reach() {
    let mut car = pullrods();
    car.front.hardpoints.set(P::TBarPivot, Vector3::new(-0.036, 0.0, 0.268));
    car.front.hardpoints.set(P::TBarAxis, Vector3::new(-0.036, 0.05, 0.268));
    let axle = solver(&car, End::Front);
    for far in [-0.09, 0.09] {
        let stop = axle.solve([far; 2], 0.0).unwrap_err();
        assert_eq!(stop.kind, StopKind::OutOfReach, "{stop}");
        assert_eq!(stop.links, [Link::DropLink.label()]);
        assert!(stop.travel * far > 0.0 && stop.travel.abs() < far.abs(), "{stop}");
        let at = axle.solve([stop.travel; 2], 0.0).unwrap();
        let [foot, head, bar, _] = part(&axle, &at);
        let outer = of_corner(&axle, &at, Side::Left, P::DropLinkOuter);
        let (arm, rod) = (bar - foot, (outer - bar).normalize());
        let lever = |axis: Vector3<f64>| (axis.normalize().cross(&arm).dot(&rod) / arm.norm()).abs();
        // In line with the crossbar's arm it swings the T no further; with the stem, it twists it no more.
        let held = lever(Vector3::y()).min(lever(head - foot));
        assert!(held < 1e-3, "{stop}: not in line, {held}");
        // A step at a time ends there too.
        let (mut last, mut step) = (axle.start(), 0.0);
        let walked = loop {
            step += 0.002_f64.copysign(far);
            match axle.follow(&last, [step; 2], 0.0) {
                Ok(next) => last = next,
                Err(stop) => break stop,
            }
        };
        assert_near!(walked.travel, stop.travel, 1e-7);
    }
    let [droop, bump] = axle.travel_limits(Side::Left, 0.0).unwrap();
    for stop in [droop.unwrap(), bump.unwrap()] {
        assert_eq!(stop.links, [Link::DropLink.label()], "{stop}");
        assert!(axle.solve([stop.travel, 0.0], 0.0).is_ok());
        assert!(axle.solve([stop.travel * (1.0 + 1e-4), 0.0], 0.0).is_err());
    }
}

/// A link that is out of reach in the design pose is no car.
#[test]
fn a_t_bar_out_of_reach_in_the_design_pose() {
    let mut car = pullrods();
    car.front.left.lengths.push((Link::DropLink, 0.9));
    let stop = AxleSolver::new(&car, End::Front).unwrap_err();
    assert_eq!(stop.kind, StopKind::CannotAssemble);
    assert_eq!(stop.links, [Link::DropLink.label()]);
}
