//! Links keep their lengths, poses their assembly, adjusters their targets.

use crate::random_car;
use nalgebra::Vector3;
use proptest::prelude::*;
use wheelpath_geometry::{
    AxleSolver, CLOSED, CamberBy, Component, CornerSolver, FURTHEST, Hardpoint, Link, Side, SolvedCorner,
    ToeBy,
};

/// What a link's length must be: as stated or as the points give it, and the adjuster's change.
fn expected_length(solver: &CornerSolver, link: Link) -> Option<f64> {
    let corner = solver.corner();
    let (inner, outer) = link.ends();
    let between = (corner.hardpoints.get(outer)? - corner.hardpoints.get(inner)?).norm();
    let stated = corner.lengths.iter().find(|(l, _)| *l == link).map(|(_, length)| *length);
    let toe_link = if solver.steered() { Link::TieRod } else { Link::ToeLink };
    let change = if link == toe_link { solver.adjusted().toe_link_change } else { 0.0 };
    Some(stated.unwrap_or(between) + change)
}

/// Largest error of a length that must not change, over links and rigid parts.
fn worst_length(solver: &CornerSolver, at: &SolvedCorner) -> (f64, String) {
    use Hardpoint as P;
    let points = solver.points(at);
    let start = solver.points(solver.start());
    let find = |of: &[(Hardpoint, Vector3<f64>)], hardpoint| {
        of.iter().find(|(p, _)| *p == hardpoint).map(|(_, at)| *at)
    };
    let mut worst = (0.0, String::new());
    let mut note = |error: f64, what: String| {
        // Not-a-number is the worst.
        if error > worst.0 || error.is_nan() {
            worst = (error, what);
        }
    };
    for &link in Link::ALL {
        let (inner, outer) = link.ends();
        if let (Some(expected), Some(a), Some(b)) =
            (expected_length(solver, link), find(&points, inner), find(&points, outer))
        {
            note(((a - b).norm() - expected).abs(), link.label().to_owned());
        }
    }
    let corner = solver.corner();
    let mut parts = vec![
        vec![P::UpperBallJoint, P::LowerBallJoint, P::TieRodOuter, P::ToeLinkOuter],
        vec![P::PushrodInner, P::RockerPivot, P::RockerAxis],
        vec![P::DropLinkBar, P::BarPivot, P::BarAxis],
        vec![P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint],
    ];
    if corner.hardpoints.get(P::RockerPivot).is_some() {
        parts[1].push(P::DamperRocker);
    }
    match corner.drop_link_on {
        Some(Component::Rocker) => parts[1].push(P::DropLinkOuter),
        Some(Component::LowerWishbone) => parts[3].push(P::DropLinkOuter),
        _ => {}
    }
    for part in parts {
        for (i, &p) in part.iter().enumerate() {
            for &q in &part[..i] {
                let apart = |of: &[_]| Some((find(of, p)? - find(of, q)?).norm());
                if let (Some(now), Some(then)) = (apart(&points), apart(&start)) {
                    note((now - then).abs(), format!("{p} to {q}"));
                }
            }
        }
    }
    let rotation = at.upright().car_from_body;
    note((rotation.transpose() * rotation - nalgebra::Matrix3::identity()).amax(), "rotation".to_owned());
    let height = at.motion.wheel_centre.z - corner.wheel.centre.z - at.travel();
    note(height.abs(), "wheel travel".to_owned());
    worst
}

/// How far two solved poses of a corner are apart: metres, or radians for the rotation.
fn apart(solver: &CornerSolver, a: &SolvedCorner, b: &SolvedCorner) -> f64 {
    let points = solver.points(a).into_iter().zip(solver.points(b)).map(|((_, p), (_, q))| (p - q).norm());
    let turned = (a.upright().car_from_body - b.upright().car_from_body).amax();
    points.fold(turned.max((a.motion.wheel_centre - b.motion.wheel_centre).norm()), f64::max)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(384))]

    #[test]
    fn lengths_hold_and_the_way_back_ends_at_the_start(
        car in random_car::car(), end in random_car::end(), poses in prop::collection::vec(random_car::pose(), 1..6),
    ) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Err(TestCaseError::reject("not a car")) };
        for side in Side::BOTH {
            let solver = axle.corner(side).unwrap();
            let mut here = *solver.start();
            for (travel, rack) in &poses {
                let Ok(next) = solver.follow(&here, travel[0], *rack) else { continue };
                here = next;
                prop_assert!(here.residual() < CLOSED);
                let (error, what) = worst_length(solver, &here);
                prop_assert!(error < 1e-12, "{} {}: {} is off by {:e}", end, side, what, error);
            }
            let back = solver.follow(&here, 0.0, 0.0).unwrap();
            let off = apart(solver, &back, solver.start());
            prop_assert!(off < 1e-12, "{} {}: back, but {:e} off", end, side, off);
        }
    }

    #[test]
    fn alignment_comes_out_as_asked(car in random_car::car(), end in random_car::end()) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Err(TestCaseError::reject("not a car")) };
        for side in Side::BOTH {
            let solver = axle.corner(side).unwrap();
            let a = solver.start().motion.spin_axis;
            let (camber, toe) = (-a.z.asin(), (a.x * side.sign()).atan2(a.y * side.sign()) * side.sign());
            let wanted = solver.corner().alignment;
            if let ToeBy::TieRodLength(asked) = wanted.toe {
                prop_assert!((toe - asked).abs() < 1e-12, "toe {} is not {}", toe, asked);
            } else {
                prop_assert_eq!(solver.adjusted().toe_link_change, 0.0);
            }
            if let CamberBy::Adjuster(asked) = wanted.camber {
                prop_assert!((camber - asked).abs() < 1e-12, "camber {} is not {}", camber, asked);
            } else {
                prop_assert_eq!(solver.adjusted().camber_adjuster, 0.0);
            }
        }
    }

    /// Far targets in great strides reach the same pose as in small ones, or stop where those stop, and
    /// the same way back ends at the start: never another assembly. (Another way back need not: round a
    /// point where assemblies meet, one goes over into another without a dead point.)
    #[test]
    fn great_strides_never_leave_the_assembly(
        car in random_car::car(), end in random_car::end(), side in random_car::side(),
        targets in prop::collection::vec((-0.3..0.3_f64, -0.15..0.15_f64), 1..5),
    ) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Err(TestCaseError::reject("not a car")) };
        let solver = axle.corner(side).unwrap();
        let mut here = *solver.start();
        let mut way = vec![(0.0, 0.0)];
        for (travel, rack) in targets {
            let from = (here.travel(), here.steer());
            let rack = if solver.steered() { rack } else { 0.0 };
            let mix = |share: f64| (from.0 + (travel - from.0) * share, from.1 + (rack - from.1) * share);
            let whole = (travel - from.0).abs().max((rack - from.1).abs());
            let (reached, share) = match solver.follow(&here, travel, rack) {
                Ok(there) => (there, 1.0),
                Err(stop) => {
                    // The stop lies on the way, and just short of it the corner still closes.
                    let done = (stop.travel - from.0).abs().max((stop.steer - from.1).abs()) / whole;
                    prop_assert!((0.0..1.0).contains(&done), "{} of the way", done);
                    prop_assert!(!stop.links.is_empty());
                    let beyond = mix((done + 1e-6 / whole).min(1.0));
                    prop_assert!(solver.follow(&here, beyond.0, beyond.1).is_err());
                    let short = done - 1e-4 / whole;
                    if short <= 0.0 {
                        continue;
                    }
                    (solver.follow(&here, mix(short).0, mix(short).1).unwrap(), short)
                }
            };
            let mut small = here;
            for i in 1..=400 {
                let (t, r) = mix(share * f64::from(i) / 400.0);
                small = solver.follow(&small, t, r).unwrap();
            }
            let off = apart(solver, &reached, &small);
            prop_assert!(off < 1e-9, "{:e} apart", off);
            let (error, what) = worst_length(solver, &reached);
            prop_assert!(error < 1e-12, "{} is off by {:e}", what, error);
            here = reached;
            way.push((here.travel(), here.steer()));
        }
        for (travel, rack) in way.into_iter().rev() {
            here = solver.follow(&here, travel, rack).unwrap();
        }
        let off = apart(solver, &here, solver.start());
        prop_assert!(off < 1e-9, "back, but {:e} off", off);
    }

    /// The limits of travel bound what can be reached.
    #[test]
    fn limits_are_where_it_stops(car in random_car::car(), end in random_car::end(), side in random_car::side()) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Err(TestCaseError::reject("not a car")) };
        let solver = axle.corner(side).unwrap();
        let limits = solver.travel_limits(0.0).unwrap();
        for (limit, way) in limits.iter().zip([-1.0, 1.0]) {
            match limit {
                None => prop_assert!(solver.solve(way * FURTHEST, 0.0).is_ok()),
                Some(stop) => {
                    prop_assert!(stop.travel * way > 0.0 && stop.travel.abs() < FURTHEST);
                    prop_assert!(solver.solve(stop.travel - way * 1e-6, 0.0).is_ok());
                    prop_assert!(solver.solve(stop.travel + way * 1e-6, 0.0).is_err());
                }
            }
        }
    }
}
