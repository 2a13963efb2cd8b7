//! Verdicts on limits, against dense sweeps, closed forms and the road solver.

#[cfg(test)]
mod tests {
    use wheelpath_car_file::{load_limits, parse_limits};
    use wheelpath_geometry::{
        Car, CarSolver, Cornering, End, GRAVITY, Gradients, LengthUnit, Limited, PoseRange, Quantity,
        Requirement, RoadSolver, Side, SteadyCorner, Travelling, WheelPosition, over_travel, reading, spaced,
    };
    use wheelpath_studies::{Outcome, verdict, verdicts};
    use wheelpath_tests::assert_near;
    use wheelpath_tests::demo::{CARS, alder, car_of};

    fn bump_steer(most: f64) -> Requirement {
        Requirement {
            name: "bump steer".into(),
            about: None,
            of: Limited::Reading {
                reading: reading("toe").unwrap(),
                end: End::Front,
                side: None,
                taken: Quantity::Change,
                over: PoseRange::Travel { from: -0.025, to: 0.0, wheels: Travelling::Both },
            },
            least: None,
            most: Some(most),
        }
    }

    /// Two decimals of a degree are too few beside a bound of 0.05; three beside one of 2.5 are noise.
    #[test]
    fn a_narrow_limit_is_written_with_one_more_decimal() {
        let mm = LengthUnit::Millimetre;
        let narrow = Requirement { least: Some(-0.05_f64.to_radians()), ..bump_steer(0.05_f64.to_radians()) };
        assert_eq!(narrow.write((-0.0174_f64).to_radians(), mm), "−0.017°");
        assert_eq!(narrow.bounds_in_words(mm), "−0.050 to 0.050°");
        let wide = bump_steer(2.5_f64.to_radians());
        assert_eq!(wide.write(0.3_f64.to_radians(), mm), "0.30°");
        assert_eq!(wide.bounds_in_words(mm), "at most 2.50°");
        assert_eq!(bump_steer(0.0).bounds_in_words(mm), "at most 0.00°");
    }

    /// Toe of Alder, whose tie rod stands 2.5 mm high, against its design value.
    fn toe_changes(travels: &[f64]) -> Vec<f64> {
        let solver = CarSolver::new(&alder()).unwrap();
        let toe = reading("toe").unwrap();
        let of = |travels: &[f64]| -> Vec<f64> {
            let points = solver.axle(End::Front).sweep(&over_travel(Travelling::Both, travels, 0.0));
            points.iter().map(|p| p.result.as_ref().unwrap().wheels[0].get(toe).unwrap()).collect()
        };
        let start = of(&[0.0])[0];
        of(travels).into_iter().map(|toe| toe - start).collect()
    }

    #[test]
    fn the_worst_pose_is_that_of_a_dense_sweep() {
        let travels = spaced(-0.025, 0.0, 4001);
        let dense = toe_changes(&travels).into_iter().fold(f64::MIN, f64::max);
        assert!(dense > 1e-4, "Alder has bump steer to be found: {dense}");
        let car = alder();
        let solver = CarSolver::new(&car).unwrap();
        let found = verdict(&car, &solver, &bump_steer(dense));
        assert_near!(found.worst.unwrap().value, dense, 1e-9);
        // The verdict turns where the limit passes the worst value.
        assert_eq!(verdict(&car, &solver, &bump_steer(dense + 1e-8)).outcome, Outcome::Pass);
        assert_eq!(verdict(&car, &solver, &bump_steer(dense - 1e-8)).outcome, Outcome::Fail);
    }

    /// The worst of a parabola lies between the poses of a path, where no sample stands.
    #[test]
    fn a_worst_pose_between_samples_is_found() {
        let car = alder();
        let solver = CarSolver::new(&car).unwrap();
        let height = reading("half_track_change").unwrap();
        let over = PoseRange::Travel { from: -0.0311, to: 0.0293, wheels: Travelling::Both };
        let of = Limited::Reading {
            reading: height,
            end: End::Front,
            side: Some(Side::Left),
            taken: Quantity::Value,
            over,
        };
        let limit = Requirement { name: "track".into(), about: None, of, least: None, most: Some(0.0) };
        let found = verdict(&car, &solver, &limit).worst.unwrap();
        let dense = spaced(-0.0311, 0.0293, 20_001);
        let points = solver.axle(End::Front).sweep(&over_travel(Travelling::Both, &dense, 0.0));
        let best = points
            .iter()
            .map(|p| p.result.as_ref().unwrap().wheels[0].get(height).unwrap())
            .fold(f64::MIN, f64::max);
        assert!(found.value >= best - 1e-13, "{} against {best}", found.value);
        assert!(found.value < best + 1e-9);
    }

    fn limit_value(car: &Car, solver: &CarSolver, limit: &Requirement) -> f64 {
        verdict(car, solver, limit).worst.unwrap().value
    }

    #[test]
    fn a_bend_is_the_road_solvers() {
        let car = alder();
        let solver = CarSolver::new(&car).unwrap();
        let at = Cornering::level(1.5 * GRAVITY, 0.0);
        let gradients = Gradients::of_roll(0.9_f64.to_radians() / GRAVITY);
        let bend = SteadyCorner { at, steer: 0.008, gradients: Some(gradients) };
        let of = Limited::Reading {
            reading: reading("camber_to_road").unwrap(),
            end: End::Front,
            side: Some(Side::Right),
            taken: Quantity::Value,
            over: PoseRange::SteadyCorner(bend),
        };
        let limit = Requirement { name: "camber".into(), about: None, of, least: Some(-1.0), most: None };
        let found = verdict(&car, &solver, &limit).worst.unwrap();
        let corner = RoadSolver::new(&car, &solver).mid_corner(&at, 0.008, &gradients).unwrap();
        let right = WheelPosition { end: End::Front, side: Side::Right };
        assert_near!(found.value, corner.wheels[right.index()].camber, 1e-12);
        // On a banked road it is the bend on that road; where nothing holds the car there, nothing is said.
        for banking in [0.25, -0.1, -1.2] {
            let at = Cornering { banking, ..at };
            let mut banked = limit.clone();
            if let Limited::Reading { over: PoseRange::SteadyCorner(bend), .. } = &mut banked.of {
                bend.at = at;
            }
            let found = verdict(&car, &solver, &banked);
            if at.on_road().normal <= 0.0 {
                assert!(matches!(found.outcome, Outcome::Open(why) if why.contains("leave the road")));
                continue;
            }
            let corner = RoadSolver::new(&car, &solver).mid_corner(&at, 0.008, &gradients).unwrap();
            assert_near!(found.worst.unwrap().value, corner.wheels[right.index()].camber, 1e-12);
            assert!((found.worst.unwrap().value - limit_value(&car, &solver, &limit)).abs() > 1e-4);
        }
        // An estimate wants springs and masses, which Alder's file does not give.
        let of = match limit.of {
            Limited::Reading { reading, end, side, taken, .. } => Limited::Reading {
                reading,
                end,
                side,
                taken,
                over: PoseRange::SteadyCorner(SteadyCorner { gradients: None, ..bend }),
            },
            other => other,
        };
        let open = verdict(&car, &solver, &Requirement { of, ..limit }).outcome;
        assert!(matches!(open, Outcome::Open(why) if why.contains("mass")));
    }

    #[test]
    fn what_is_not_reached_is_not_called_kept() {
        let car = alder();
        let solver = CarSolver::new(&car).unwrap();
        let mut limit = bump_steer(1.0);
        if let Limited::Reading { over, .. } = &mut limit.of {
            *over = PoseRange::Travel { from: -0.4, to: 0.0, wheels: Travelling::Both };
        }
        let found = verdict(&car, &solver, &limit);
        assert!(
            matches!(&found.outcome, Outcome::Open(why) if why.contains("not every pose is reached")),
            "{found:?}"
        );
        assert!(found.stop.is_some() && found.worst.is_some());
        // A beam axle has no trail.
        let hazel = car_of("demo-cars/hazel.ron");
        let hazels = CarSolver::new(&hazel).unwrap();
        if let Limited::Reading { reading: asked, end, over, .. } = &mut limit.of {
            (*asked, *end, *over) = (reading("trail").unwrap(), End::Rear, PoseRange::Design);
        }
        let found = verdict(&hazel, &hazels, &limit);
        assert!(matches!(&found.outcome, Outcome::Open(why) if why.contains("has no")), "{found:?}");
    }

    #[test]
    fn the_demo_limits_have_verdicts_on_every_car() {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-cars/alder/limits.ron");
        let limits = load_limits(&path).unwrap_or_else(|error| panic!("{error}"));
        let car = alder();
        let found = verdicts(&car, &CarSolver::new(&car).unwrap(), &limits);
        assert_eq!(found[0].outcome, Outcome::Fail, "Alder's bump steer is there to be found");
        assert!(found.iter().skip(1).all(|v| !matches!(v.outcome, Outcome::Open(_))), "{found:#?}");
        for name in CARS {
            let car = car_of(name);
            for found in verdicts(&car, &CarSolver::new(&car).unwrap(), &limits) {
                assert!(found.worst.is_none_or(|worst| worst.value.is_finite()), "{name}: {found:?}");
            }
        }
    }

    #[test]
    fn faults_of_limits_are_told_with_their_place() {
        let text = |limit: &str| {
            format!(
                "(\n format: \"wheelpath limits\", version: 1,\n units: Millimetre, axes: (x: Forward, y: Left, z: Up),\n limits: [\n  {limit}\n ])"
            )
        };
        let check = |limit: &str, says: &str| {
            let error = parse_limits(&text(limit), "l.ron").unwrap_err().to_string();
            assert!(error.contains(says), "{error}");
            assert!(error.starts_with("l.ron:5:"), "{error}");
        };
        let start = "Reading(name: \"n\", of: front_both, over: Design, ";
        check(&format!("{start} reading: tow, most_deg: 1.0)"), "did you mean toe?");
        check(&format!("{start} reading: toe, most: 1.0)"), "most has no meaning");
        check(&format!("{start} reading: toe)"), "lacks least_deg");
        check(
            &format!("{start} reading: toe, least_deg: 1.0, most_deg: -1.0)"),
            "no less than the lower one",
        );
        check(&format!("{start} most_deg: 1.0)"), "lacks reading");
        let of_axle =
            "Reading(name: \"n\", of: front_left, over: Design, reading: roll_centre_height, most: 1.0)";
        check(of_axle, "it is a reading of the axle");
        check(
            "Reading(name: \"n\", of: front, over: Bend(rack: 3.0), reading: toe, most_deg: 1.0)",
            "lacks lateral_g",
        );
        check("Wish(name: \"n\")", "a limit cannot be Wish");
    }
}
