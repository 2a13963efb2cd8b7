use super::{About, Edit, Session};
use crate::session::{CarEdit, Wheels};
use crate::test_cars::{alder, car, every_car};
use nalgebra::Vector3;
use wheelpath_geometry::{BodyPose, End, Hardpoint, RoadSolver, Side, WheelPosition};

const FRONT_LEFT: WheelPosition = WheelPosition { end: End::Front, side: Side::Left };

/// A tyre's lowest point toward a plane (unit normal): a disc reaches its radius below its centre in the
/// direction in its own plane that is nearest to the normal; a round shoulder stands on a smaller disc
/// and reaches its own radius straight toward the plane.
fn contact(session: &Session, at: WheelPosition, normal: Vector3<f64>) -> Vector3<f64> {
    let motion = session.shown().wheel(at);
    let upright = normal - motion.spin_axis * motion.spin_axis.dot(&normal);
    let shoulder = session.car().corner(at).wheel.tyre_shoulder_radius;
    motion.wheel_centre - upright.normalize() * (motion.tyre_radius - shoulder) - normal * shoulder
}

/// Its height over that plane through the body's origin, metres.
fn lowest(session: &Session, at: WheelPosition, normal: Vector3<f64>) -> f64 {
    normal.dot(&contact(session, at, normal))
}

/// Pitch of the road in the design pose, radians: cambered tyres stand higher at one end.
fn design_pitch(session: &Session) -> f64 {
    let [fl, fr, rl, rr] = WheelPosition::ALL.map(|at| contact(session, at, Vector3::z()));
    let apart = (fl + fr - rl - rr) * 0.5;
    apart.z.atan2(apart.x)
}

fn bits(travel: [f64; 4]) -> [u64; 4] {
    travel.map(f64::to_bits)
}

#[test]
fn a_raised_body_leaves_its_wheels_on_the_road() {
    let mut session = alder();
    let before = WheelPosition::ALL.map(|at| lowest(&session, at, Vector3::z()));
    session.apply(Edit::Stand(BodyPose::raised(0.01)));
    for (at, before) in WheelPosition::ALL.into_iter().zip(before) {
        let by = lowest(&session, at, Vector3::z()) - before;
        // The road is not quite square to Z, so that heights along Z are off by the square of its pitch.
        assert!((by + 0.01).abs() < 1e-7, "{at} by {by}");
    }
    assert!(session.stands() && session.notices().is_empty(), "{:?}", session.notices());
}

/// The road's normal in a body that is turned by pitch, then roll (ISO 8855), touches all four tyres.
#[test]
fn a_body_that_is_put_there_is_read_back_from_the_wheels() {
    for stem in every_car() {
        let mut session = car(&stem);
        let level = design_pitch(&session);
        let asked = BodyPose { front: -4e-3, rear: 3e-3, roll: 0.01 };
        session.apply(Edit::Stand(asked));
        assert!(session.stands(), "{stem}: {:?}", session.notices());
        let pitch = session.body().unwrap().pitch;
        assert!(pitch > 0.0, "{stem}: front down is nose down");
        let (sp, cp) = (pitch + level).sin_cos();
        let (sr, cr) = asked.roll.sin_cos();
        let normal = Vector3::new(-sp, sr * cp, cr * cp);
        let [first, rest @ ..] = WheelPosition::ALL.map(|at| lowest(&session, at, normal));
        for height in rest {
            assert!((height - first).abs() < 1e-9, "{stem}: {height} and {first}");
        }
        // The same travels without a word of the body.
        session.apply(Edit::SetPose(*session.held_pose()));
        assert!(!session.stands());
        let read = session.body().unwrap();
        assert_eq!(read.off, None, "{stem}");
        for (one, other) in
            [(read.pose.front, asked.front), (read.pose.rear, asked.rear), (read.pose.roll, asked.roll)]
        {
            assert!((one - other).abs() < 1e-9, "{stem}: {read:?}");
        }
    }
}

#[test]
fn travels_that_agree_with_no_road_say_which_tyre_is_off_it() {
    let mut session = alder();
    assert_eq!(session.body().unwrap().off, None);
    session.apply(Edit::SetTravel { wheels: Wheels::One(FRONT_LEFT), travel: 0.01 });
    let why = session.body().unwrap().off.clone().expect("one wheel up is no flat road");
    let road = RoadSolver::new(session.car(), session.solver());
    let gaps = road.rest(session.held_pose().travel, 0.0).unwrap().gaps;
    let most = gaps.iter().copied().fold(0.0, f64::max);
    assert!(why.contains(&format!("{:.1} mm off it", most * 1e3)), "{why}, {most}");
    assert!((5e-3..15e-3).contains(&most), "about as much as the wheel went up: {most}");
}

#[test]
fn a_wheel_that_hangs_at_its_damper_is_said() {
    let mut session = alder();
    let droop = session.reach().stops.map(|[droop, _]| droop);
    let design = WheelPosition::ALL.map(|at| lowest(&session, at, Vector3::z()));
    session.apply(Edit::Stand(BodyPose::raised(0.08)));
    let said = session.notices();
    for (at, droop) in WheelPosition::ALL.into_iter().zip([droop[0], droop[0], droop[1], droop[1]]) {
        assert!((session.held_pose().travel_of(at) - droop).abs() < 1e-6, "{at}");
        let hangs = said.iter().find(|n| n.about == About::Travel(at)).expect("a notice").text.clone();
        assert!(hangs.contains("its damper is fully extended"), "{hangs}");
        let gap = 80.0 + 1e3 * (lowest(&session, at, Vector3::z()) - design[at.index()]);
        let off: f64 =
            hangs.split("hangs ").nth(1).and_then(|s| s.split(' ').next()).unwrap().parse().unwrap();
        assert!((off - gap).abs() < 0.06, "{hangs}, {gap}");
    }
    assert_eq!(session.body().unwrap().pose, BodyPose::raised(0.08), "held as asked");
    session.apply(Edit::ResetPose);
    assert!(session.notices().is_empty() && !session.stands());
}

#[test]
fn a_body_that_cannot_stand_so_is_refused_with_a_reason() {
    let mut session = alder();
    session.apply(Edit::Stand(BodyPose::raised(-5e-3)));
    let before = *session.held_pose();
    for bad in [
        BodyPose { front: 5.0, rear: 0.0, roll: 0.0 },
        BodyPose::rolled(f64::NAN),
        BodyPose::rolled(1.2),
        BodyPose::raised(-0.6),
    ] {
        session.apply(Edit::Stand(bad));
        let said = session.notices();
        assert!(said.iter().any(|n| n.severe && n.about == About::Body), "{bad:?}: {said:?}");
        assert_eq!(session.held_pose(), &before, "{bad:?}");
        assert!((session.body().unwrap().pose.front + 5e-3).abs() < 1e-12);
    }
}

#[test]
fn the_wheels_follow_a_held_body_until_a_travel_is_set() {
    let mut session = alder();
    let body = BodyPose { front: -3e-3, rear: 0.0, roll: 0.02 };
    session.apply(Edit::Stand(body));
    let straight = session.held_pose().travel;
    session.apply(Edit::SetSteer(0.02));
    assert!((session.held_pose().steer - 0.02).abs() < 1e-15);
    let steered = session.held_pose().travel;
    assert!((steered[0] - straight[0]).abs() > 1e-5, "caster lifts one side");
    assert!((steered[2] - straight[2]).abs() < 1e-9, "and leaves the rear");
    assert_eq!(session.body().unwrap().pose, body);

    let assembly = FRONT_LEFT.into();
    let to = session.car().corner(FRONT_LEFT).hardpoints.get(Hardpoint::LowerBallJoint).unwrap()
        + Vector3::new(0.0, 4e-3, 0.0);
    session.apply(Edit::Change(CarEdit::move_point(assembly, Hardpoint::LowerBallJoint, to, false)));
    assert_ne!(bits(session.held_pose().travel), bits(steered), "another camber, another contact");
    assert_eq!(session.body().unwrap().pose, body);
    session.apply(Edit::Undo);
    assert_eq!(bits(session.held_pose().travel), bits(steered), "to the last bit");

    session.apply(Edit::SetTravel { wheels: Wheels::One(FRONT_LEFT), travel: steered[0] + 2e-3 });
    assert!(!session.stands() && session.body().unwrap().off.is_some());
}

#[test]
fn pitch_is_typed_about_the_middle() {
    let mut session = alder();
    let pitch = 0.5_f64.to_radians();
    let edit = session.pitched(&BodyPose::raised(2e-3), pitch).unwrap();
    session.apply(edit);
    let body = session.body().unwrap();
    assert!((body.pitch - pitch).abs() < 1e-12);
    assert!((body.pose.front + body.pose.rear - 4e-3).abs() < 1e-12 && body.pose.front < body.pose.rear);
    assert!(session.pitched(&BodyPose::DESIGN, f64::NAN).is_none());
}
