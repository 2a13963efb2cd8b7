//! Proposals: what makes one car of another, said in few words, and made again from its file.

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;
    use proptest::prelude::*;
    use wheelpath_car_file::{Axes, Direction, ProposalFile, parse_proposal};
    use wheelpath_geometry::{
        Assembly, AxleSolver, Car, Change, End, Hardpoint, LengthUnit, Link, Parameter, Proposal, Selection,
        Side, Value, reading,
    };
    use wheelpath_tests::demo::{CARS, alder, car_of};

    fn front(side: Side) -> Assembly {
        Assembly::corner(End::Front, side)
    }

    /// Whether every item of both cars is the same but for rounding.
    #[track_caller]
    fn assert_same(a: &Car, b: &Car) {
        for assembly in Assembly::ALL {
            for parameter in Parameter::all(assembly) {
                let (x, y) = (parameter.value(a, assembly), parameter.value(b, assembly));
                let same = match (x, y) {
                    (Some(x), Some(y)) => x.is(y),
                    (None, None) => true,
                    _ => false,
                };
                assert!(same, "{assembly} {parameter}: {x:?} and {y:?}");
            }
        }
    }

    fn changed(value: Value, by: [f64; 3]) -> Value {
        match value {
            Value::Place(at) => Value::Place(at + Vector3::from(by) * 0.01),
            Value::Number(number) => Value::Number(number + 0.01 * by[0]),
            Value::FromPoints => Value::Number(0.4 + 0.1 * by[0]),
        }
    }

    fn axes() -> impl Strategy<Value = Axes> {
        let other = Axes::new([Direction::Rearward, Direction::Right, Direction::Up]).unwrap();
        prop::sample::select(vec![Axes::VEHICLE, other])
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]
        /// Any changes, as a file in any units and axes, read back and made on the first car, give the second.
        #[test]
        fn any_changes_are_said_and_made_again(
            which in 0..CARS.len(),
            changes in prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>(), prop::array::uniform3(-1.0..1.0_f64), any::<bool>()), 1..8),
            inches in any::<bool>(),
            axes in axes(),
        ) {
            let car = car_of(CARS[which]);
            let mut to = car.clone();
            for (assembly, parameter, by, both) in changes {
                let assembly = Assembly::ALL[assembly.index(Assembly::ALL.len())];
                let parameters: Vec<_> = Parameter::all(assembly).into_iter().filter(|parameter| parameter.value(&car, assembly).is_some()).collect();
                if parameters.is_empty() { continue; }
                let parameter = parameters[parameter.index(parameters.len())];
                let now = changed(parameter.value(&to, assembly).unwrap(), by);
                prop_assert!(parameter.set(&mut to, assembly, now));
                if let Some(other) = assembly.opposite().filter(|_| both) {
                    parameter.set(&mut to, other, now.mirrored());
                }
            }
            let units = if inches { LengthUnit::Inch } else { LengthUnit::Millimetre };
            let proposal = Proposal::between("any", &car, &to);
            let file = ProposalFile::new(proposal, &car, units, axes);
            let back = parse_proposal(&file.text(), "any.ron").unwrap_or_else(|error| panic!("{error}\n{}", file.text()));
            prop_assert_eq!(back.axes, axes);
            let applied = back.proposal.applied(&car).unwrap();
            prop_assert!(applied.elsewhere.is_empty(), "{:?}", applied.elsewhere);
            assert_same(&applied.car, &to);
        }
    }

    fn tie_rod(dz: f64) -> (Car, Proposal) {
        let car = alder();
        let mut to = car.clone();
        for side in Side::BOTH {
            let assembly = front(side);
            let at = assembly.point(&car, Hardpoint::TieRodInner).unwrap();
            assembly.hardpoints_mut(&mut to).set(Hardpoint::TieRodInner, at + Vector3::new(0.0, 0.0, dz));
        }
        let proposal = Proposal::between("tie rod", &car, &to);
        (car, proposal)
    }

    #[test]
    fn what_both_sides_do_is_said_once() {
        let (car, proposal) = tie_rod(-0.0025);
        assert_eq!(proposal.changes.len(), 1, "{:?}", proposal.changes);
        let said = proposal.changes[0].said(LengthUnit::Millimetre);
        assert_eq!(said, "tie rod, inner end, front both: Z −2.5 mm");
        let text = ProposalFile::new(proposal, &car, LengthUnit::Millimetre, Axes::VEHICLE).text();
        let line = text.lines().find(|line| line.contains("Move")).unwrap();
        assert_eq!(
            line.trim(),
            "Move(point: tie_rod_inner, of: front_both, was: (88.0, 240.0, 169.0), now: (88.0, 240.0, 166.5)),"
        );
    }

    #[test]
    fn on_another_car_the_move_is_made_and_said() {
        let (car, proposal) = tie_rod(-0.0025);
        let mut other = car;
        let assembly = front(Side::Left);
        assembly.hardpoints_mut(&mut other).set(Hardpoint::TieRodInner, Vector3::new(0.09, 0.24, 0.17));
        let applied = proposal.applied(&other).unwrap();
        let now = assembly.point(&applied.car, Hardpoint::TieRodInner).unwrap();
        assert!((now - Vector3::new(0.09, 0.24, 0.1675)).norm() < 1e-15, "{now}");
        assert_eq!(applied.elsewhere.len(), 1);
        assert_eq!(applied.elsewhere[0].assembly, assembly);
        // What the car has not cannot be changed.
        let strut = car_of("demo-cars/rowan.ron");
        let mut wishbones = Proposal::new("none");
        wishbones.changes.push(Change::set(
            Selection::Both(End::Front),
            Parameter::Point(Hardpoint::UpperBallJoint),
            Value::Place(Vector3::zeros()),
            Value::Place(Vector3::zeros()),
        ));
        let error = wishbones.applied(&strut).unwrap_err().to_string();
        assert_eq!(error, "proposal \"none\", change 1: the front left has no upper ball joint");
    }

    fn proposed(changes: &str) -> Proposal {
        let text = format!(
            "(format: \"wheelpath proposal\", version: 1, name: \"n\", car: \"Hazel\", units: Millimetre, \
             axes: (x: Forward, y: Left, z: Up), changes: [{changes}])"
        );
        parse_proposal(&text, "n.ron").unwrap().proposal
    }

    fn leg(was: &str, now: &str) -> Proposal {
        proposed(&format!("Length(link: upper_front_leg, of: front_left, was: {was}, now: {now})"))
    }

    /// The leg's points stand the root of 112² + 256² + 34² apart (Pythagoras): 281.489 mm.
    #[test]
    fn a_length_that_follows_from_points_counts_as_their_distance() {
        let hazel = car_of("demo-cars/hazel.ron");
        let leg_item = Parameter::Length(Link::UpperFrontLeg);
        let drawn = (112.0_f64.powi(2) + 256.0_f64.powi(2) + 34.0_f64.powi(2)).sqrt() / 1e3;
        let caster = |car: &Car| {
            let start = AxleSolver::new(car, End::Front).unwrap().start();
            start.wheel_values(Side::Left).get(reading("caster").unwrap()).unwrap()
        };
        let set = |proposal: &Proposal| {
            let applied = proposal.applied(&hazel).unwrap();
            let Some(Value::Number(length)) = leg_item.value(&applied.car, front(Side::Left)) else {
                panic!("the leg has a length of its own")
            };
            let change = (caster(&applied.car) - caster(&hazel)).to_degrees();
            (length, change, applied.elsewhere)
        };
        // By the distance, to the digits written: the length is set, and nothing is odd.
        for was in ["281.5", "281.49", "281", "2.815e2", "281.489"] {
            let (length, change, elsewhere) = set(&leg(was, "283.5"));
            assert!((length - 0.2835).abs() < 1e-15 && elsewhere.is_empty(), "{was}: {length} {elsewhere:?}");
            assert!((0.4..0.55).contains(&change), "{was}: {change}");
        }
        // By another number: moved by as much, and said with what came of it.
        for was in ["276.4", "281.4", "281.48"] {
            let now = format!("{}", was.parse::<f64>().unwrap() + 2.0);
            let (length, change, elsewhere) = set(&leg(was, &now));
            assert!((length - (drawn + 0.002)).abs() < 1e-12, "{was}: {length}");
            assert!((0.4..0.55).contains(&change), "{was}: {change}");
            assert_eq!(elsewhere.len(), 1, "{was}");
            assert_eq!(elsewhere[0].made, Value::Number(length));
            assert!(matches!(elsewhere[0].found, Value::Number(found) if (found - drawn).abs() < 1e-12));
        }
        // Left to its points it stays as it is drawn.
        let both = proposed(
            "Length(link: upper_front_leg, of: front_left, was: 281.5, now: 290.0), \
             Length(link: upper_front_leg, of: front_left, was: 290.0, now: FromPoints)",
        );
        let applied = both.applied(&hazel).unwrap();
        assert!(applied.elsewhere.is_empty());
        assert_eq!(leg_item.value(&applied.car, front(Side::Left)), Some(Value::FromPoints));
        // What was the distance before the proposal moved an end is what it was.
        let moved = proposed(
            "Move(point: upper_wishbone_front, of: front_left, was: (105.0, 412.0, 472.0), now: (110.0, 412.0, 472.0)), \
             Length(link: upper_front_leg, of: front_left, was: 281.5, now: 283.5)",
        );
        let applied = moved.applied(&hazel).unwrap();
        assert!(applied.elsewhere.is_empty());
        assert_eq!(leg_item.value(&applied.car, front(Side::Left)), Some(Value::Number(0.2835)));
    }

    #[test]
    fn places_and_numbers_are_matched_to_their_digits_too() {
        let mut car = car_of("demo-cars/hazel.ron");
        let assembly = front(Side::Left);
        assembly
            .hardpoints_mut(&mut car)
            .set(Hardpoint::TieRodInner, Vector3::new(-0.202_04, 0.290_03, 0.225_51));
        let down = "Move(point: tie_rod_inner, of: front_left, was: (-202.0, 290.0, 225.5), now: (-202.0, 290.0, 223.0))";
        let applied = proposed(down).applied(&car).unwrap();
        assert!(applied.elsewhere.is_empty(), "{:?}", applied.elsewhere);
        // What the change leaves alone stays where it stands.
        let at = assembly.point(&applied.car, Hardpoint::TieRodInner).unwrap();
        assert!((at - Vector3::new(-0.202_04, 0.290_03, 0.223)).norm() < 1e-15, "{at}");
        // A digit more, and it is another place: moved by as much.
        let applied = proposed(&down.replace("225.5", "225.50")).applied(&car).unwrap();
        assert_eq!(applied.elsewhere.len(), 1);
        let at = assembly.point(&applied.car, Hardpoint::TieRodInner).unwrap();
        assert!((at - Vector3::new(-0.202_04, 0.290_03, 0.223_01)).norm() < 1e-15, "{at}");
        // Numbers: a tyre of 324.0 mm.
        let tyre = |was: &str, now: &str| {
            let change = format!("Set(number: tyre_radius, of: front_left, was: {was}, now: {now})");
            let applied = proposed(&change).applied(&car).unwrap();
            (applied.car.front.left.wheel.tyre_radius, applied.elsewhere.len())
        };
        assert_eq!(tyre("324", "320.0"), (0.32, 0));
        let (radius, elsewhere) = tyre("323.0", "320.0");
        assert!((radius - 0.321).abs() < 1e-15 && elsewhere == 1, "{radius}");
    }

    #[test]
    fn two_on_one_point_add_up_and_are_told() {
        let (car, down) = tie_rod(-0.002);
        let (_, up) = tie_rod(0.0005);
        assert_eq!(down.overlap(&up).len(), 2);
        let both = Proposal::combined("both", &car, &[&down, &up]).unwrap();
        let after = both.applied(&car).unwrap().car;
        let z = front(Side::Right).point(&after, Hardpoint::TieRodInner).unwrap().z;
        assert!((z - (0.169 - 0.0015)).abs() < 1e-15, "{z}");
    }

    #[test]
    fn a_shim_moves_what_lies_over_it() {
        let car = alder();
        let mut proposal = Proposal::new("shim");
        proposal.changes.push(Change::Shim {
            of: Selection::Both(End::Front),
            points: vec![Hardpoint::UpperWishboneFront, Hardpoint::UpperWishboneRear],
            along: Vector3::y(),
            thickness: 0.0015,
        });
        let after = proposal.applied(&car).unwrap().car;
        for side in Side::BOTH {
            for hardpoint in [Hardpoint::UpperWishboneFront, Hardpoint::UpperWishboneRear] {
                let by = front(side).point(&after, hardpoint).unwrap()
                    - front(side).point(&car, hardpoint).unwrap();
                assert!((by - Vector3::new(0.0, side.sign() * 0.0015, 0.0)).norm() < 1e-15, "{by}");
            }
        }
        // Said as moves it is the same.
        let moves = Proposal::between("moves", &car, &after);
        assert_eq!(moves.changes.len(), 2);
        assert_same(&moves.applied(&car).unwrap().car, &after);
    }

    /// A stiffer spring makes the wheel rate greater by its own gain times the motion ratio squared (common practice, no
    /// source); a bar has no part in heave.
    #[test]
    fn rates_of_springs_and_bars_are_changed_by_a_proposal() {
        let car = car_of("demo-cars/rowan.ron");
        let proposal = proposed(
            "Set(number: spring_rate_n_per_mm, of: front_both, was: 25.0, now: 31.0), \
             Set(number: bar_rate_nm_per_deg, of: front, was: 26.0, now: 40.0)",
        );
        let applied = proposal.applied(&car).unwrap();
        assert!(applied.elsewhere.is_empty(), "{:?}", applied.elsewhere);
        let wheel = |car: &Car, key: &str| {
            let axle = AxleSolver::new(car, End::Front).unwrap();
            axle.rated(&axle.start()).wheel_values(Side::Left).get(reading(key).unwrap()).unwrap()
        };
        let gain = wheel(&applied.car, "wheel_rate") - wheel(&car, "wheel_rate");
        let ratio = wheel(&car, "motion_ratio");
        assert!((gain - 6000.0 * ratio * ratio).abs() < 1e-6 * gain, "{gain} with a motion ratio of {ratio}");
        let bar = applied.car.front.anti_roll_bar.unwrap().rate.unwrap();
        assert!((bar - 40_f64.to_degrees()).abs() < 1e-9, "{bar}");
        assert_same(&Proposal::between("", &car, &applied.car).applied(&car).unwrap().car, &applied.car);
        let said: Vec<String> =
            proposal.changes.iter().map(|change| change.said(LengthUnit::Millimetre)).collect();
        assert_eq!(
            said,
            [
                "spring rate, front both: 25.00 N/mm to 31.00 N/mm",
                "anti-roll bar rate, front axle: 26.00 N·m/° to 40.00 N·m/°"
            ]
        );
    }

    #[test]
    fn faults_of_a_proposal_are_told_with_their_place() {
        let text = |change: &str| {
            format!(
                "(\n format: \"wheelpath proposal\", version: 1, name: \"n\", car: \"Alder\",\n units: Millimetre, axes: (x: Forward, y: Left, z: Up),\n changes: [\n  {change}\n ])"
            )
        };
        let check = |change: &str, says: &str| {
            let error = parse_proposal(&text(change), "p.ron").unwrap_err().to_string();
            assert!(error.contains(says), "{error}");
            assert!(error.starts_with("p.ron:5:"), "{error}");
        };
        let places = "was: (0.0, 0.0, 0.0), now: (1.0, 0.0, 0.0)";
        check(&format!("Move(point: tie_rod_iner, of: front_both, {places})"), "did you mean tie_rod_inner?");
        check(
            &format!("Move(point: tie_rod_inner, of: front, {places})"),
            "the front axle has no such thing",
        );
        check(&format!("Move(point: panhard_rod_body, of: rear_left, {places})"), "has no such thing");
        check(
            "Move(point: tie_rod_inner, of: front_both, was: (0.0, 0.0), now: (1.0, 0.0, 0.0))",
            "three numbers",
        );
        check("Set(number: camber_deg, of: front_left, was: 0.0, now: 300.0)", "-170 to 170 degrees");
        check("Set(number: camber_deg, of: front_left, was: 0.0)", "lacks now");
        check("Length(link: pushrod, of: front_left, was: FromPoints, now: -4.0)", "more than 0");
        check(
            "Shim(under: [], of: front_both, along: (0.0, 1.0, 0.0), thickness: 1.0)",
            "lies under no point",
        );
        check(
            "Shim(under: [tie_rod_inner], of: front_both, along: (0.0, 0.0, 0.0), thickness: 1.0)",
            "no direction",
        );
        check("Turn(point: tie_rod_inner)", "a change cannot be Turn");
        let other = text("").replace("wheelpath proposal", "wheelpath car");
        let error = parse_proposal(&other, "p.ron").unwrap_err().to_string();
        assert!(error.contains("this is not a proposal: its format is \"wheelpath car\""), "{error}");
    }
}
