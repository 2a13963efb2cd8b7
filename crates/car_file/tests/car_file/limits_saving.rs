//! Limits are saved so that what did not change stays as it is written, comments and all.

use crate::{BOX_AND_H_ARM, CAR};
use proptest::prelude::*;
use wheelpath_car_file::{Axes, LimitsFile, parse, parse_limits};
use wheelpath_geometry::{
    Car, Cornering, End, GRAVITY, Gradients, LengthUnit, Limited, PoseRange, Quantity, Reading, Requirement,
    Scope, Side, SteadyCorner, Travelling, axle_readings, reading, wheel_readings,
};

const LIMITS: &str = include_str!("../../../../demo-cars/alder/limits.ron");

fn read(text: &str) -> LimitsFile {
    LimitsFile::parse(text, "limits.ron").unwrap_or_else(|error| panic!("{error}\n{text}"))
}

fn car() -> Car {
    parse(CAR, "car.ron").unwrap().car
}

fn place(limits: &[Requirement], name: &str) -> usize {
    limits.iter().position(|limit| limit.name == name).expect(name)
}

fn trail(name: &str) -> Requirement {
    let trail = reading("trail").unwrap();
    let of = Limited::Reading {
        reading: trail,
        end: End::Rear,
        side: None,
        taken: Quantity::Value,
        over: PoseRange::Steer,
    };
    Requirement { name: name.into(), about: None, of, least: Some(1e-3), most: None }
}

#[test]
fn unchanged_limits_give_the_same_text() {
    let file = read(LIMITS);
    assert_eq!(file.with_limits(file.limits(), &car()).unwrap().text(), LIMITS);
}

#[test]
fn a_changed_bound_changes_its_number_alone() {
    let text =
        LIMITS.replace("least_deg: -0.04, most_deg: 0.04,", "least_deg: -0.04, most_deg: 0.04, // tight");
    let file = read(&text);
    let mut limits = file.limits().to_vec();
    let n = place(&limits, "Bump steer, rear");
    limits[n].most = Some(0.035_f64.to_radians());
    let saved = file.with_limits(&limits, &car()).unwrap();
    assert_eq!(saved.text(), text.replace("most_deg: 0.04, // tight", "most_deg: 0.035, // tight"));
    limits[n].least = None;
    let saved = saved.with_limits(&limits, &car()).unwrap();
    assert!(saved.text().contains("most_deg: 0.035, // tight") && !saved.text().contains("-0.04"));
}

#[test]
fn a_limit_comes_and_goes_and_its_neighbours_stay() {
    let text = LIMITS.replace(
        "        Reading(\n            name: \"Trail",
        "        // back to straight\n        Reading(\n            name: \"Trail",
    );
    let file = read(&text);
    let mut limits = file.limits().to_vec();
    limits.remove(place(&limits, "Front roll centre stays low"));
    limits.push(trail("More"));
    let saved = file.with_limits(&limits, &car()).unwrap();
    for line in text.lines() {
        let gone =
            ["roll_centre_height", "Front roll centre", "from: -20.0", "least: -25.0", "no source.\","];
        if !gone.iter().any(|gone| line.contains(gone)) {
            assert!(saved.text().contains(line), "lost: {line}\n{}", saved.text());
        }
    }
    let new =
        "        Reading(name: \"More\", reading: trail, of: rear_both, over: Steer, least: 1.0),\n    ],\n)";
    assert!(saved.text().contains(new), "{}", saved.text());
    assert!(!saved.text().contains("roll_centre_height"));
    let none = saved.with_limits(&[], &car()).unwrap();
    assert!(none.limits().is_empty() && none.text().contains("// back to straight"));
}

#[test]
fn a_new_file_in_inches_reads_back_in_metres() {
    let file = LimitsFile::new(LengthUnit::Inch, Axes::VEHICLE).unwrap();
    let saved = file.with_limits(&[trail("One"), trail("Two")], &car()).unwrap();
    assert!(
        saved.text().contains("units: Inch") && saved.text().contains("least: 0.03937"),
        "{}",
        saved.text()
    );
    let back = parse_limits(saved.text(), "limits.ron").unwrap();
    assert!((back[1].least.unwrap() - 1e-3).abs() < 1e-15);
}

#[test]
fn cornering_is_said_as_the_car_steers() {
    let lean = Gradients::of_roll(0.9_f64.to_radians() / GRAVITY).with_ride_heights(1e-3 / GRAVITY, 0.0);
    let at = Cornering::level(1.5 * GRAVITY, 0.0);
    let bend = |steer, gradients| {
        let of = Limited::Reading {
            reading: reading("camber_to_road").unwrap(),
            end: End::Front,
            side: Some(Side::Right),
            taken: Quantity::Value,
            over: PoseRange::SteadyCorner(SteadyCorner { at, steer, gradients }),
        };
        Requirement { name: "Cornering".into(), about: None, of, least: None, most: Some(0.0) }
    };
    let file = LimitsFile::new(LengthUnit::Millimetre, Axes::VEHICLE).unwrap();
    let by_rack = file.with_limits(&[bend(8e-3, Some(lean))], &car()).unwrap();
    let said = "Cornering(lateral_g: 1.5, rack: 8.0, roll_deg_per_g: 0.9, front_rise_per_g: 1.0)";
    assert!(by_rack.text().contains(said), "{}", by_rack.text());
    let boxed = parse(BOX_AND_H_ARM, "car.ron").unwrap().car;
    let by_box = file.with_limits(&[bend(4_f64.to_radians(), None)], &boxed).unwrap();
    assert!(by_box.text().contains("Cornering(lateral_g: 1.5, pitman_deg: 4.0)"), "{}", by_box.text());
    // A road that is banked says so, and only that one.
    let mut banked = bend(4_f64.to_radians(), None);
    if let Limited::Reading { over: PoseRange::SteadyCorner(bend), .. } = &mut banked.of {
        bend.at.banking = 12_f64.to_radians();
    }
    let by_box = by_box.with_limits(&[banked], &boxed).unwrap();
    let said = "Cornering(lateral_g: 1.5, banking_deg: 12.0, pitman_deg: 4.0)";
    assert!(by_box.text().contains(said), "{}", by_box.text());
}

/// Files that were written with the older words are read, and keep them when something else is saved.
#[test]
fn the_older_words_of_a_file_stay() {
    let text = "(format: \"wheelpath limits\", version: 1, units: Millimetre, axes: (x: Forward, y: Left, z: Up), limits: [\n\
                Reading(name: \"One\", reading: camber_to_road, of: front_left, over: Bend(lateral_g: 1.0), most_deg: 0.0),\n\
                JointReserve(name: \"Two\", of: front, over: TravelAndSteer(from: -10.0, to: 10.0), least_deg: 2.0),\n])";
    let file = read(text);
    assert!(matches!(file.limits()[0].of, Limited::Reading { over: PoseRange::SteadyCorner(_), .. }));
    assert!(matches!(file.limits()[1].of, Limited::JointMargin { .. }));
    let wider: Vec<Requirement> = file
        .limits()
        .iter()
        .map(|limit| Requirement {
            least: limit.least.map(|least| 0.5 * least),
            most: limit.most.map(|_| 0.1),
            ..limit.clone()
        })
        .collect();
    let saved = file.with_limits(&wider, &car()).unwrap();
    for words in ["over: Bend(lateral_g: 1.0)", "JointReserve(name: \"Two\"", "least_deg: 1"] {
        assert!(saved.text().contains(words), "{words}: {}", saved.text());
    }
    let renamed = text.replace("Bend(", "Cornering(").replace("JointReserve(", "JointMargin(");
    assert_eq!(read(&renamed).limits(), file.limits());
}

#[test]
fn what_would_not_read_back_is_not_saved() {
    let file = read(LIMITS);
    for (least, most) in [(None, None), (Some(2.0), Some(1.0)), (Some(f64::NAN), None)] {
        let refused = file.with_limits(&[Requirement { least, most, ..trail("Odd") }], &car());
        assert!(refused.is_err(), "{least:?} to {most:?}: {}", refused.unwrap().text());
    }
}

fn any_limit() -> impl Strategy<Value = Requirement> {
    let all: Vec<&'static Reading> = wheel_readings().iter().chain(axle_readings()).collect();
    let sides = prop::sample::select(vec![None, Some(Side::Left), Some(Side::Right)]);
    let ends = prop::sample::select(vec![End::Front, End::Rear]);
    let over = prop_oneof![
        Just(PoseRange::Design),
        Just(PoseRange::Steer),
        (-0.1..0.1_f64, -0.1..0.1_f64, any::<bool>()).prop_map(|(from, to, opposite)| {
            let wheels = if opposite { Travelling::Opposite } else { Travelling::Both };
            PoseRange::Travel { from, to, wheels }
        }),
        (prop::array::uniform3(-20.0..20.0_f64), prop::option::of(prop::array::uniform3(-0.01..0.01_f64)))
            .prop_map(|([lateral, longitudinal, steer], lean)| {
                let gradients =
                    lean.map(|[roll, front, rear]| Gradients::of_roll(roll).with_ride_heights(front, rear));
                PoseRange::SteadyCorner(SteadyCorner {
                    at: Cornering { banking: 0.01 * lateral, ..Cornering::level(lateral, longitudinal) },
                    steer: 0.001 * steer,
                    gradients,
                })
            }),
    ];
    let bounds = (prop::option::of(-5.0..5.0_f64), prop::option::of(5.0..9.0_f64));
    (prop::sample::select(all), ends, sides, any::<bool>(), over, bounds, "[a-zA-Z\"\\\\, é-]{0,9}").prop_map(
        |(reading, end, side, change, over, (least, most), name)| {
            let side = side.filter(|_| reading.scope == Scope::Wheel);
            let taken = if change { Quantity::Change } else { Quantity::Value };
            let least = least.or(most.is_none().then_some(0.25));
            Requirement {
                name,
                about: None,
                of: Limited::Reading { reading, end, side, taken, over },
                least,
                most,
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Any limits put in anywhere, others changed or taken out: what is read back is what was meant, and
    /// every comment is still there.
    #[test]
    fn any_limits_read_back_and_no_comment_is_lost(
        new in prop::collection::vec((any_limit(), any::<prop::sample::Index>()), 0..6),
        out in prop::collection::vec(any::<prop::sample::Index>(), 0..4),
        moved in prop::collection::vec((any::<prop::sample::Index>(), 1.0..1.5_f64), 0..4),
        boxed in any::<bool>(),
    ) {
        let text = LIMITS.replace("        Reading(", "        // above\n        Reading(").replace("),\n", "), // behind\n");
        let file = read(&text);
        let mut limits = file.limits().to_vec();
        for place in out {
            limits.remove(place.index(limits.len()));
        }
        for (place, factor) in moved {
            let place = place.index(limits.len());
            limits[place].most = limits[place].most.map(|most| most.abs() * factor);
        }
        for (limit, place) in new {
            limits.insert(place.index(limits.len() + 1), limit);
        }
        let car = if boxed { parse(BOX_AND_H_ARM, "car.ron").unwrap().car } else { car() };
        let saved = file.with_limits(&limits, &car).unwrap();
        let back = parse_limits(saved.text(), "limits.ron").unwrap();
        prop_assert_eq!(back.len(), limits.len());
        for (a, b) in back.iter().zip(&limits) {
            prop_assert_eq!((&a.name, &a.about), (&b.name, &b.about));
            let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
                (Some(a), Some(b)) => (a - b).abs() < 1e-12,
                (a, b) => a.is_none() && b.is_none(),
            };
            prop_assert!(near(a.least, b.least) && near(a.most, b.most), "{a:?}\n{b:?}");
        }
        for comment in ["// above", "// What Alder's", "// no source: change"] {
            let count = |text: &str| text.matches(comment).count();
            prop_assert_eq!(count(saved.text()), count(&text), "{}", saved.text());
        }
    }
}

/// Bounds the wrong way round are quoted as they stand in the file, whatever their unit.
#[test]
fn inverted_bounds_are_quoted_as_written() {
    for (reading, of, least, most) in [
        ("trail", "rear", "least: 30.25", "most: 20.1"),
        ("toe", "rear", "least_deg: 1.3", "most_deg: -0.7"),
        ("bump_steer", "rear", "least_deg_per_m: 2.2", "most_deg_per_m: 0.3"),
        ("steer_gain_pitman", "front", "least_deg_per_deg: 1.2", "most_deg_per_deg: 0.9"),
        ("camber_gain", "rear", "least_deg_per_m: 2.2", "most_deg_per_m: -30.1"),
        ("anti_lift", "rear", "least_percent: 90.0", "most_percent: 12.5"),
        ("ackermann_percent", "front", "least_percent: 90.0", "most_percent: 12.5"),
        ("wheel_rate", "rear", "least_n_per_mm: 40.0", "most_n_per_mm: 33.3"),
        ("wheel_rate_gain", "rear", "least_n_per_mm2: 0.5", "most_n_per_mm2: 0.03"),
        ("front_view_swing_arm_inverse", "rear", "least_per_m: 0.5", "most_per_m: 0.3"),
        ("turn_radius", "front", "least_m: 9.5", "most_m: 8.7"),
        ("motion_ratio", "rear", "least: 0.9", "most: 0.7"),
    ] {
        for units in ["Millimetre", "Inch"] {
            let text = format!(
                "(format: \"wheelpath limits\", version: 1, units: {units}, axes: (x: Forward, y: Left, z: Up), \
                 limits: [Reading(name: \"one\", reading: {reading}, of: {of}, over: Design, {least}, {most})])"
            );
            let error = parse_limits(&text, "limits.ron").unwrap_err().to_string();
            let number = most.split(' ').nth(1).unwrap().trim_end_matches(".0");
            assert!(error.contains(&format!("the upper bound is {number};")), "{reading} {units}: {error}");
        }
    }
}
