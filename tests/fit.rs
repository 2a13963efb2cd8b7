//! Limits on distances and joints: linkages whose answer is known by hand, and the study of clearances.

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;
    use wheelpath_car_file::{load_limits, parse_limits};
    use wheelpath_geometry::{
        Car, CarSolver, Corner, End, Hardpoint, Limited, Pairs, Part, PartKind, Requirement, Steering,
        WheelPosition,
    };
    use wheelpath_studies::clearance::{Range, Solid, clearances};
    use wheelpath_studies::{FIT_STEERS, FIT_TRAVELS, Outcome, Place, Verdict, Worst, verdict};
    use wheelpath_tests::assert_near;
    use wheelpath_tests::demo::{CARS, alder, car_of};
    use wheelpath_tests::planar::{FrontView, car};

    /// Two wishbones alike and level, so that the upright never turns.
    const PARALLELOGRAM: FrontView = FrontView {
        lower: [[0.350, 0.170], [0.690, 0.170]],
        upper: [[0.350, 0.420], [0.690, 0.420]],
        wheel_centre: [0.750, 0.300],
        tyre_radius: 0.310,
    };
    const LENGTH: f64 = 0.34;

    fn of(corner: Corner) -> Car {
        car(corner, Steering::Fixed, 2.5)
    }

    fn limit(of: Limited, least: f64) -> Requirement {
        Requirement { name: "fit".into(), about: None, of, least: Some(least), most: None }
    }

    fn said(car: &Car, of: Limited, least: f64) -> Verdict {
        verdict(car, &CarSolver::new(car).unwrap(), &limit(of, least))
    }

    fn worst(found: &Verdict) -> Worst {
        found.worst.unwrap_or_else(|| panic!("no worst: {found:?}"))
    }

    #[track_caller]
    fn open(found: &Verdict, says: &str) {
        assert!(matches!(&found.outcome, Outcome::Open(why) if why.contains(says)), "{found:?}");
    }

    /// The toe link's outer end goes with the wheel, 0.3 m ahead of its centre and 0.13 m below it; in bump
    /// the link falls away from there.
    #[test]
    fn a_tyre_over_a_toe_link() {
        let of_link = Pairs::Of(PartKind::Part(Part::ToeLink), PartKind::Tyre);
        let asked = Limited::Distance { end: Some(End::Front), between: of_link, travel: [0.0, 0.05] };
        let mut corner = PARALLELOGRAM.corner();
        // A guess decides nothing, though it would be kept, or broken.
        open(&said(&of(corner.clone()), asked, 0.001), "radius of the front toe link is not given, 10.0 mm");
        open(&said(&of(corner.clone()), asked, 0.1), "is a guess");
        corner.radii = vec![(Part::ToeLink, 0.008)];
        let apart = 0.3_f64.hypot(0.13) - 0.31 - 0.008;
        let fits = of(corner);
        let kept = said(&fits, asked, apart - 1e-9);
        assert_eq!(kept.outcome, Outcome::Pass);
        assert_near!(worst(&kept).value, apart, 1e-12);
        assert_near!(worst(&kept).margin, 1e-9, 1e-12);
        let Some(Place::Parts(parts)) = worst(&kept).place else { panic!("{kept:?}") };
        assert_eq!(parts[0].what, Solid::Tyre);
        assert_eq!(worst(&kept).place.unwrap().to_string(), format!("{} and toe link", parts[0]));
        assert_eq!(said(&fits, asked, apart + 1e-9).outcome, Outcome::Fail);
    }

    /// Wishbones that turn by the angle whose sine is travel over length, on bolts across them.
    #[test]
    fn joints_on_bolts() {
        let slope = (0.05 / LENGTH).asin();
        let joint = Hardpoint::LowerBallJoint;
        let mut corner = PARALLELOGRAM.corner();
        corner.joint_axes = vec![(joint, Vector3::z())];
        let asked = Limited::JointMargin { end: Some(End::Front), travel: [-0.01, 0.05] };
        open(&said(&of(corner.clone()), asked, 0.0), "no joint has a limit");
        corner.joint_limits = vec![(joint, 0.3)];
        let limited = of(corner);
        let kept = said(&limited, asked, 0.1);
        assert_eq!(kept.outcome, Outcome::Pass);
        assert_near!(worst(&kept).value, 0.3 - slope, 1e-7);
        let wheel = worst(&kept).wheel.unwrap();
        assert_eq!(worst(&kept).place, Some(Place::Joint(wheel, joint)));
        assert_near!(worst(&kept).pose.travel_of(wheel), 0.05, 1e-12);
        assert_eq!(said(&limited, asked, 0.3 - slope + 1e-6).outcome, Outcome::Fail);
        assert_eq!(said(&limited, asked, 0.3 - slope - 1e-6).outcome, Outcome::Pass);
        // Beyond the joint's own limit the margin is negative, and still a number.
        let tight = said(&limited, Limited::JointMargin { end: None, travel: [0.0, 0.12] }, 0.0);
        assert_eq!(tight.outcome, Outcome::Fail);
        assert_near!(worst(&tight).value, 0.3 - (0.12 / LENGTH).asin(), 1e-7);
    }

    /// The verdict is about the pair that the study of clearances puts first, at its pose.
    #[test]
    fn the_worst_is_that_of_the_clearances() {
        let travel = [-0.02, 0.02];
        for name in CARS {
            let car = car_of(name);
            let solver = CarSolver::new(&car).unwrap();
            for end in End::BOTH {
                let range = Range::of(car.axle(end), travel, FIT_TRAVELS, FIT_STEERS);
                let found = clearances(&car, &solver, end, &range, 2);
                let asked = Limited::Distance { end: Some(end), between: Pairs::All, travel };
                let verdict = verdict(&car, &solver, &limit(asked, 0.005));
                let Some(nearest) = found.pairs.first() else {
                    open(&verdict, "no pair");
                    continue;
                };
                let worst = worst(&verdict);
                assert_near!(worst.value, nearest.distance, 1e-9, "{name} {end}");
                let of = nearest.of.map(|part| part.what);
                assert!(
                    matches!(worst.place, Some(Place::Parts(parts)) if parts.map(|part| part.what) == of),
                    "{name} {end}: {worst:?} against {nearest:?}"
                );
            }
        }
    }

    /// A car put in the worst pose has that distance there.
    #[test]
    fn the_worst_pose_has_the_worst_distance() {
        let car = alder();
        let solver = CarSolver::new(&car).unwrap();
        let asked = Limited::Distance { end: None, between: Pairs::All, travel: [-0.025, 0.025] };
        let worst = worst(&verdict(&car, &solver, &limit(asked, 0.0)));
        let Some(Place::Parts(parts)) = worst.place else { panic!("{worst:?}") };
        let (end, side) = (parts[0].end, parts[0].side.unwrap());
        let travel = worst.pose.travel_of(WheelPosition { end, side });
        let steer = worst.pose.steer;
        let range = Range { travel: [travel; 2], travel_count: 1, steer: [steer; 2], steer_count: 1 };
        let there = clearances(&car, &solver, end, &range, 1);
        let pair = there.pairs.iter().find(|one| one.of == parts).unwrap();
        assert_near!(pair.distance, worst.value, 1e-12);
    }

    #[test]
    fn what_cannot_be_said_is_open() {
        let car = alder();
        let of = |between, travel| Limited::Distance { end: Some(End::Front), between, travel };
        // Alder's file says nothing of its rims' barrels.
        let rims = said(&car, of(Pairs::With(PartKind::Rim), [-0.02, 0.02]), 0.0);
        open(&rims, "no pair to look at: rim and any other part");
        assert!(rims.worst.is_none());
        let far = said(&car, of(Pairs::All, [0.0, 0.3]), 0.0);
        open(&far, "not every pose is reached");
        assert!(far.stop.is_some() && far.worst.is_some());
        // What breaks the limit on the way breaks it, reached to the end or not.
        assert_eq!(said(&car, of(Pairs::All, [0.0, 0.3]), 0.5).outcome, Outcome::Fail);
        // A part whose radius is a guess does not hide one that is known to touch.
        let mut corner = PARALLELOGRAM.corner();
        corner.radii = vec![(Part::ToeLink, 0.1)];
        let touching = said(&self::of(corner), of(Pairs::All, [0.0, 0.02]), 0.0);
        assert_eq!(touching.outcome, Outcome::Fail);
        assert!(worst(&touching).place.unwrap().to_string().contains("toe link"), "{touching:?}");
    }

    #[test]
    fn the_demo_limits_are_kept_and_have_their_reasons() {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-cars/alder/limits.ron");
        let limits = load_limits(&path).unwrap_or_else(|error| panic!("{error}"));
        let car = alder();
        let solver = CarSolver::new(&car).unwrap();
        let mut kinds = [0; 2];
        for limit in &limits {
            let kind = match limit.of {
                Limited::Distance { .. } => 0,
                Limited::JointMargin { .. } => 1,
                _ => continue,
            };
            kinds[kind] += 1;
            let found = verdict(&car, &solver, limit);
            assert_eq!(found.outcome, Outcome::Pass, "{}: {found:?}", limit.name);
            assert!(limit.about.as_ref().unwrap().contains("Common practice, no source"));
        }
        assert!(kinds.iter().all(|count| *count > 0), "{kinds:?}");
    }

    fn text(limit: &str) -> String {
        format!(
            "(\n format: \"wheelpath limits\", version: 1,\n units: Millimetre, axes: (x: Forward, y: Left, z: Up),\n limits: [\n  {limit}\n ])"
        )
    }

    #[test]
    fn limits_of_fit_are_read() {
        let grid = "over: TravelAndSteer(from: -20, to: 30.0)";
        let check = |limit: &str, of: Limited, least: f64| {
            let read = parse_limits(&text(limit), "l.ron").unwrap_or_else(|error| panic!("{error}"));
            assert_eq!(read[0].of, of);
            assert_near!(read[0].least.unwrap(), least, 1e-15);
        };
        let travel = [-0.02, 0.03];
        let tyre = PartKind::Tyre;
        let rod = PartKind::Part(Part::TieRod);
        check(
            &format!("Distance(name: \"n\", of: both_axles, {grid}, least: 5)"),
            Limited::Distance { end: None, between: Pairs::All, travel },
            0.005,
        );
        check(
            &format!("Distance(name: \"n\", of: front, between: [tyre, tie_rod], {grid}, least: 5)"),
            Limited::Distance { end: Some(End::Front), between: Pairs::Of(tyre, rod), travel },
            0.005,
        );
        check(
            &format!("Distance(name: \"n\", of: rear, between: [tyre], {grid}, least: 5)"),
            Limited::Distance { end: Some(End::Rear), between: Pairs::With(tyre), travel },
            0.005,
        );
        check(
            &format!("JointReserve(name: \"n\", of: front, {grid}, least_deg: 2)"),
            Limited::JointMargin { end: Some(End::Front), travel },
            2.0_f64.to_radians(),
        );
    }

    #[test]
    fn faults_of_limits_of_fit_are_told_with_their_place() {
        let check = |limit: &str, says: &str| {
            let error = parse_limits(&text(limit), "l.ron").unwrap_err().to_string();
            assert!(error.contains(says), "{error}");
            assert!(error.starts_with("l.ron:5:"), "{error}");
        };
        let grid = "over: TravelAndSteer(from: -20.0, to: 20.0)";
        check(&format!("Distance(name: \"n\", of: front, {grid})"), "lacks least");
        check(&format!("Distance(name: \"n\", {grid}, least: 5)"), "lacks of");
        check("Distance(name: \"n\", of: front, least: 5)", "lacks over");
        check(&format!("Distance(name: \"n\", of: front_left, {grid}, least: 5)"), "cannot be front_left");
        check("Distance(name: \"n\", of: front, over: Steer, least: 5)", "cannot be Steer");
        check(&format!("Distance(name: \"n\", of: front, {grid}, most: 5)"), "most has no meaning");
        let between =
            |list: &str| format!("Distance(name: \"n\", of: front, between: {list}, {grid}, least: 5)");
        check(&between("[tie_rd]"), "did you mean tie_rod?");
        check(&between("[]"), "a list with 0 values");
        check(&between("[tyre, tyre, rim]"), "a list with 3 values");
        check(&between("tyre"), "one kind of part or two");
        check(&format!("JointReserve(name: \"n\", of: front, {grid}, least: 5)"), "least has no meaning");
        check(
            "JointReserve(name: \"n\", of: front, over: TravelAndSteer(from: 1), least_deg: 5)",
            "lacks to",
        );
    }
}
