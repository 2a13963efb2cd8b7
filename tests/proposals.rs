//! Proposals: what makes one car of another, said in few words, and made again from its file.

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;
    use proptest::prelude::*;
    use wheelpath_car_file::{Axes, Direction, ProposalFile, parse_proposal};
    use wheelpath_geometry::{Car, Change, End, Item, LengthUnit, Of, Owner, Pickup, Proposal, Side, Value};
    use wheelpath_tests::demo::{CARS, alder, car_of};

    fn front(side: Side) -> Owner {
        Owner { end: End::Front, side: Some(side) }
    }

    /// Whether every item of both cars is the same but for rounding.
    #[track_caller]
    fn assert_same(a: &Car, b: &Car) {
        for owner in Owner::ALL {
            for item in Item::all(owner) {
                let (x, y) = (item.value(a, owner), item.value(b, owner));
                let same = match (x, y) {
                    (Some(x), Some(y)) => x.is(y),
                    (None, None) => true,
                    _ => false,
                };
                assert!(same, "{owner} {item}: {x:?} and {y:?}");
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
            for (owner, item, by, both) in changes {
                let owner = Owner::ALL[owner.index(Owner::ALL.len())];
                let items: Vec<_> = Item::all(owner).into_iter().filter(|item| item.value(&car, owner).is_some()).collect();
                if items.is_empty() { continue; }
                let item = items[item.index(items.len())];
                let now = changed(item.value(&to, owner).unwrap(), by);
                prop_assert!(item.set(&mut to, owner, now));
                if let Some(other) = owner.opposite().filter(|_| both) {
                    item.set(&mut to, other, now.mirrored());
                }
            }
            let units = if inches { LengthUnit::Inch } else { LengthUnit::Millimetre };
            let proposal = Proposal::between("any", &car, &to);
            let file = ProposalFile::new(proposal, &car, units, axes);
            let back = parse_proposal(&file.text(&car), "any.ron").unwrap_or_else(|error| panic!("{error}\n{}", file.text(&car)));
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
            let owner = front(side);
            let at = owner.point(&car, Pickup::TieRodInner).unwrap();
            owner.pickups_mut(&mut to).set(Pickup::TieRodInner, at + Vector3::new(0.0, 0.0, dz));
        }
        let proposal = Proposal::between("tie rod", &car, &to);
        (car, proposal)
    }

    #[test]
    fn what_both_sides_do_is_said_once() {
        let (car, proposal) = tie_rod(-0.0025);
        assert_eq!(proposal.changes.len(), 1, "{:?}", proposal.changes);
        let said = proposal.changes[0].said(&car, LengthUnit::Millimetre);
        assert_eq!(said, "tie rod, inner end, front both: Z −2.5 mm");
        let text = ProposalFile::new(proposal, &car, LengthUnit::Millimetre, Axes::VEHICLE).text(&car);
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
        let owner = front(Side::Left);
        owner.pickups_mut(&mut other).set(Pickup::TieRodInner, Vector3::new(0.09, 0.24, 0.17));
        let applied = proposal.applied(&other).unwrap();
        let now = owner.point(&applied.car, Pickup::TieRodInner).unwrap();
        assert!((now - Vector3::new(0.09, 0.24, 0.1675)).norm() < 1e-15, "{now}");
        assert_eq!(applied.elsewhere.len(), 1);
        assert_eq!(applied.elsewhere[0].owner, owner);
        // What the car has not cannot be changed.
        let strut = car_of("demo-cars/rowan.ron");
        let mut wishbones = Proposal::new("none");
        wishbones.changes.push(Change::Set {
            of: Of::Both(End::Front),
            item: Item::Point(Pickup::UpperBallJoint),
            was: Value::Place(Vector3::zeros()),
            now: Value::Place(Vector3::zeros()),
        });
        let error = wishbones.applied(&strut).unwrap_err().to_string();
        assert_eq!(
            error,
            "proposal \"none\", change 1: the front left has no upper ball joint, or it cannot be that"
        );
    }

    #[test]
    fn two_on_one_point_add_up_and_are_told() {
        let (car, down) = tie_rod(-0.002);
        let (_, up) = tie_rod(0.0005);
        assert_eq!(down.overlap(&up).len(), 2);
        let both = Proposal::combined("both", &car, &[&down, &up]).unwrap();
        let after = both.applied(&car).unwrap().car;
        let z = front(Side::Right).point(&after, Pickup::TieRodInner).unwrap().z;
        assert!((z - (0.169 - 0.0015)).abs() < 1e-15, "{z}");
    }

    #[test]
    fn a_shim_moves_what_lies_over_it() {
        let car = alder();
        let mut proposal = Proposal::new("shim");
        proposal.changes.push(Change::Shim {
            of: Of::Both(End::Front),
            points: vec![Pickup::UpperWishboneFront, Pickup::UpperWishboneRear],
            along: Vector3::y(),
            thickness: 0.0015,
        });
        let after = proposal.applied(&car).unwrap().car;
        for side in Side::BOTH {
            for pickup in [Pickup::UpperWishboneFront, Pickup::UpperWishboneRear] {
                let by =
                    front(side).point(&after, pickup).unwrap() - front(side).point(&car, pickup).unwrap();
                assert!((by - Vector3::new(0.0, side.sign() * 0.0015, 0.0)).norm() < 1e-15, "{by}");
            }
        }
        // Said as moves it is the same.
        let moves = Proposal::between("moves", &car, &after);
        assert_eq!(moves.changes.len(), 2);
        assert_same(&moves.applied(&car).unwrap().car, &after);
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
