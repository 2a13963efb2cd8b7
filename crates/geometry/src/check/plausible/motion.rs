//! Readings: a wrong point spoils steering axis, bump steer, roll centre or motion ratio, however well its
//! place looks.

use super::Measured;
use crate::axle::axle_solver::{AxleSolver, SolvedAxle};
use crate::car::hardpoint::{Hardpoint, Hardpoint as P};
use crate::car::position::{End, Side};
use crate::car::springing::Spring;
use crate::car::steering::Steering;
use crate::car::{Car, LinkageKind};
use crate::change::wheel_number::static_angles;
use crate::check::Subject;
use crate::check::usual::{self, Usual};
use crate::linkage::spec::{AxisBy, HubOn};
use crate::readings::{AxleValues, WheelValues, reading};
use std::f64::consts::TAU;

/// Travel at which bump steer and camber are looked at again, metres.
const TRAVEL: f64 = 0.025;

/// Angles nearer than this are the same, radians.
const TURNED: f64 = 1e-6;

/// All readings of an axle at a pose, taken once.
struct Taken {
    wheels: [WheelValues; 2],
    axle: AxleValues,
}

impl Taken {
    fn at(pose: &SolvedAxle) -> Self {
        Self { wheels: Side::BOTH.map(|side| pose.wheel_values(side)), axle: pose.axle_values() }
    }
}

fn wheel(at: &Taken, side: Side, key: &str) -> f64 {
    let [left, right] = &at.wheels;
    let values = if side == Side::Left { left } else { right };
    reading(key).and_then(|reading| values.get(reading)).unwrap_or(f64::NAN)
}

fn axle(at: &Taken, key: &str) -> f64 {
    reading(key).and_then(|reading| at.axle.get(reading)).unwrap_or(f64::NAN)
}

/// What steers knuckles.
const STEERING: [Hardpoint; 5] =
    [P::TrackRodLeft, P::TrackRodRight, P::DragLinkInner, P::DragLinkLeft, P::DragLinkRight];

/// The points of a corner that make its readings, before them the rod that steers the wheel or holds its toe.
fn with_rod(kind: LinkageKind, steered: bool) -> Vec<Hardpoint> {
    let rod: &[Hardpoint] = match (kind.has_toe_link(), steered) {
        (false, _) if kind.spec().has_track_rod => &STEERING,
        (false, _) => &[],
        (true, true) => &[P::TieRodInner, P::TieRodOuter],
        (true, false) => &[P::ToeLinkInner, P::ToeLinkOuter],
    };
    [rod, kind.spec().suspects].concat()
}

/// Springs and loads of the two axles and of the two sides beside one another.
pub(super) fn beside(all: &mut Vec<Measured>) {
    let of = |usual: Usual, end: End, side: Side| {
        let found =
            all.iter().find(|one| (one.end, one.side, one.usual.what) == (Some(end), Some(side), usual.what));
        found.map(|one| (one.value, one.tyre_radius))
    };
    let mean = |usual: Usual, end: End| {
        let (left, right) = (of(usual, end, Side::Left)?, of(usual, end, Side::Right)?);
        Some((0.5 * (left.0 + right.0), left.1))
    };
    let mut more = Vec::new();
    let mut add = |usual: Usual, value: f64, tyre_radius: f64, end: Option<End>| {
        let (side, subject) = (end.map(|_| Side::Left), Subject::Spring);
        more.push(Measured { usual, value, tyre_radius, end, side, subject, points: vec![] });
    };
    for end in End::BOTH {
        let sides = of(usual::FREQUENCY, end, Side::Left).zip(of(usual::FREQUENCY, end, Side::Right));
        if let Some(((left, size), (right, _))) = sides {
            add(usual::FREQUENCY_SIDES, left / right, size, Some(end));
        }
    }
    let ends = |usual: Usual| mean(usual, End::Front).zip(mean(usual, End::Rear));
    if let Some(((front, size), (rear, _))) = ends(usual::FREQUENCY) {
        add(usual::FREQUENCIES_ALIKE, front / rear, size, Some(End::Front));
    } else if let Some(((front, size), (rear, _))) = ends(usual::WHEEL_RATE) {
        add(usual::WHEEL_RATES_ALIKE, front / rear, size, Some(End::Front));
    }
    all.append(&mut more);
}

struct Motion<'a> {
    car: &'a Car,
    solver: &'a AxleSolver,
    end: End,
    all: &'a mut Vec<Measured>,
}

pub(super) fn measure(car: &Car, solver: &AxleSolver, end: End, all: &mut Vec<Measured>) {
    let mut motion = Motion { car, solver, end, all };
    let pose = solver.start();
    let start = Taken::at(&pose);
    for side in Side::BOTH {
        motion.wheel(&start, side);
    }
    motion.axle(&start);
    motion.travels(&pose, &start);
    if end == End::Front || car.axle(end).steering.steers() {
        motion.steers(&start);
    }
}

impl Motion<'_> {
    fn add(&mut self, usual: Usual, value: f64, side: Option<Side>, subject: Subject, points: &[Hardpoint]) {
        let tyre_radius = self.car.axle(self.end).corner(side.unwrap_or(Side::Left)).wheel.tyre_radius;
        // Of those that may be there, those that are.
        let axle = self.car.axle(self.end);
        let is_there = |point: &&Hardpoint| {
            [None, Some(Side::Left), Some(Side::Right)]
                .iter()
                .any(|&side| axle.hardpoints_of(side).get(**point).is_some())
        };
        let (end, points) = (Some(self.end), points.iter().filter(is_there).copied().collect());
        self.all.push(Measured { usual, value, tyre_radius, end, side, subject, points });
    }

    fn point(&mut self, usual: Usual, value: f64, side: Side, points: &[Hardpoint]) {
        if let Some(first) = points.first() {
            self.add(usual, value, Some(side), Subject::Hardpoint(*first), points);
        }
    }

    fn wheel(&mut self, at: &Taken, side: Side) {
        let corner = self.car.axle(self.end).corner(side);
        let kind = corner.linkage;
        let spec = kind.spec();
        let points = spec.suspects;
        let steered = self.solver.steered();
        let get = |key| wheel(at, side, key);
        if spec.axis != AxisBy::None {
            let [caster, trail] =
                if steered { [usual::CASTER, usual::TRAIL] } else { [usual::REAR_CASTER, usual::REAR_TRAIL] };
            let [inclination, scrub] = match (steered, spec.axis) {
                (true, AxisBy::TopMount { .. }) => [usual::STRUT_INCLINATION, usual::SCRUB],
                (true, _) => [usual::INCLINATION, usual::SCRUB],
                _ => [usual::REAR_INCLINATION, usual::REAR_SCRUB],
            };
            let axis = if spec.axis == AxisBy::Screw && !steered {
                [
                    "virtual_caster",
                    "virtual_trail",
                    "virtual_steering_axis_inclination",
                    "virtual_scrub_radius",
                ]
            } else {
                ["caster", "trail", "steering_axis_inclination", "scrub_radius"]
            };
            for (usual, key) in [caster, trail, inclination, scrub].into_iter().zip(axis) {
                self.point(usual, get(key), side, points);
            }
            self.point(usual::AXIS_AHEAD, get("wheel_centre_offset_longitudinal"), side, points);
        }
        let rod = with_rod(kind, steered);
        self.point(usual::BUMP_STEER, get("bump_steer"), side, &rod);
        // Where the links turn the wheel away from the axis that the file gives it.
        let given = static_angles(&corner.wheel.spin_axis, side);
        let solved = (get("camber_to_body"), get("toe"));
        if (solved.0 - given.0).abs().max((solved.1 - given.1).abs()) > TURNED {
            self.point(usual::SOLVED_TOE, solved.1, side, &rod);
            self.point(usual::SOLVED_CAMBER, solved.0, side, points);
        }
        let beam = spec.is_beam();
        if !beam {
            self.point(usual::CAMBER_GAIN, get("camber_gain"), side, points);
            self.point(usual::SCRUB_PER_TRAVEL, get("half_track_gain"), side, points);
        }
        let recession = if spec.hub_on == HubOn::Arm { usual::ARM_RECESSION } else { usual::RECESSION };
        self.point(recession, get("recession_gain"), side, points);
        if !beam {
            self.point(usual::CONTACT_SLOPE, get("contact_slope_side"), side, points);
        }
        let rocker = corner.hardpoints.get(P::RockerPivot).is_some();
        let worked: &[Hardpoint] = if rocker {
            &[P::PushrodOuter, P::PushrodInner, P::RockerPivot, P::RockerAxis, P::DamperRocker, P::DamperBody]
        } else {
            &[P::DamperRocker, P::DamperBody]
        };
        self.point(usual::MOTION_RATIO, get("motion_ratio"), side, &[worked, points].concat());
        self.point(
            usual::SPRING_MOTION_RATIO,
            get("spring_motion_ratio"),
            side,
            &[P::SpringMoving, P::SpringBody],
        );
        let bar = get("bar_arm_rate").abs() * corner.wheel.tyre_radius;
        self.point(usual::BAR_PER_TRAVEL, bar, side, &[P::DropLinkOuter, P::DropLinkBar, P::BarPivot]);
        self.rates(at, side);
    }

    /// Spring rates at the wheel.
    fn rates(&mut self, at: &Taken, side: Side) {
        let corner = self.car.axle(self.end).corner(side);
        let rate = match corner.spring {
            Some(Spring::OnDamper { rate }) => rate * wheel(at, side, "motion_ratio").powi(2),
            Some(Spring::Separate { rate, .. }) => rate * wheel(at, side, "spring_motion_ratio").powi(2),
            Some(Spring::TorsionBar { rate }) => rate * wheel(at, side, "rocker_rate").powi(2),
            None => return,
        };
        self.add(usual::WHEEL_RATE, rate, Some(side), Subject::Spring, &[]);
        if let Some([left, right]) = self.car.wheel_loads(self.end) {
            let load = if side == Side::Left { left } else { right };
            let frequency = (rate * crate::car::static_loads::GRAVITY / load).sqrt() / TAU;
            self.add(usual::FREQUENCY, frequency, Some(side), Subject::Spring, &[]);
        }
    }

    fn axle(&mut self, at: &Taken) {
        let axle_of = self.car.axle(self.end);
        let beam = axle_of.is_beam();
        let points = axle_of.left.linkage.spec().suspects;
        let roll = if beam { usual::BEAM_ROLL_CENTRE } else { usual::ROLL_CENTRE };
        let subject = points.first().map_or(Subject::Axle("linkage"), |first| Subject::Hardpoint(*first));
        let side = Some(Side::Left);
        let height = axle(at, "roll_centre_mean_height");
        self.add(roll, height, side, subject, points);
        self.add(usual::ROLL_CENTRE_ASIDE, axle(at, "roll_centre_lateral"), side, subject, points);
        for (usual, key) in [
            (usual::ANTI_DIVE, "anti_dive"),
            (usual::ANTI_LIFT, "anti_lift"),
            (usual::ANTI_SQUAT, "anti_squat"),
        ] {
            self.add(usual, axle(at, key), side, subject, points);
        }
        let heave = axle(at, "third_spring_heave_ratio").abs();
        self.add(usual::THIRD_HEAVE, heave, None, Subject::Axle("third_spring"), &[P::ThirdSpringEnd]);
        let twist = axle(at, "anti_roll_bar_twist_rate").abs() * axle_of.left.wheel.tyre_radius;
        self.add(
            usual::BAR_TWIST,
            twist,
            None,
            Subject::Axle("anti_roll_bar"),
            &[P::DropLinkOuter, P::DropLinkBar],
        );
        // Bar against springs in roll.
        let per = axle(at, "anti_roll_bar_twist_rate");
        let springs: f64 = Side::BOTH
            .iter()
            .filter_map(|&side| {
                self.all.iter().rev().find(|one| {
                    one.end == Some(self.end)
                        && one.side == Some(side)
                        && one.usual.what == usual::WHEEL_RATE.what
                })
            })
            .map(|one| one.value)
            .sum();
        if let Some(rate) = axle_of.anti_roll_bar.and_then(|bar| bar.rate).filter(|_| springs > 0.0) {
            self.add(
                usual::BAR_OVER_SPRINGS,
                rate * per * per / springs,
                None,
                Subject::Axle("anti_roll_bar"),
                &[],
            );
        }
    }

    /// What 25 mm up and down make of toe, and how far the damper lets the wheel go.
    fn travels(&mut self, pose: &SolvedAxle, start: &Taken) {
        let axle_of = self.car.axle(self.end);
        let follow = |travel: f64| self.solver.follow(pose, [travel; 2], 0.0);
        let followed = [-TRAVEL, TRAVEL].map(follow);
        for stop in followed.iter().filter_map(|end| end.as_ref().err()) {
            let side = stop.wheel.map(|wheel| wheel.side);
            let kind = axle_of.corner(side.unwrap_or(Side::Left)).linkage;
            let points = [kind.spec().suspects, &with_rod(kind, self.solver.steered())].concat();
            let subject = points.first().map_or(Subject::Axle("linkage"), |first| Subject::Hardpoint(*first));
            self.add(usual::TRAVEL_REACHED, stop.travel.abs(), side, subject, &points);
        }
        let ends = followed.map(|end| end.ok().map(|end| Taken::at(&end)));
        for side in Side::BOTH {
            let kind = axle_of.corner(side).linkage;
            let rod = with_rod(kind, self.solver.steered());
            let toe = wheel(start, side, "toe");
            let most =
                ends.iter().flatten().map(|end| (wheel(end, side, "toe") - toe).abs()).fold(0.0, f64::max);
            self.point(usual::TOE_OVER_TRAVEL, most, side, &rod);
            let gains = ends
                .each_ref()
                .map(|end| end.as_ref().map_or(f64::NAN, |end| wheel(end, side, "bump_steer")));
            if kind.spec().can_steer() {
                self.point(usual::BUMP_STEER_CHANGE, gains[1] - gains[0], side, &rod);
            }
            let Some(stops) = axle_of.corner(side).damper else { continue };
            let (length, ratio) = (wheel(start, side, "damper_length"), wheel(start, side, "motion_ratio"));
            self.add(usual::BUMP_TRAVEL, (length - stops.shortest) / ratio, Some(side), Subject::Damper, &[]);
            self.add(usual::DROOP_TRAVEL, (stops.longest - length) / ratio, Some(side), Subject::Damper, &[]);
            let ratios = ends
                .each_ref()
                .map(|end| end.as_ref().map_or(f64::NAN, |end| wheel(end, side, "motion_ratio")));
            self.add(
                usual::RATIO_CHANGE,
                ratios[1] / ratios[0],
                Some(side),
                Subject::Hardpoint(P::DamperRocker),
                &[P::DamperRocker, P::DamperBody],
            );
        }
    }

    /// Lock at the stops, which way the wheels go, and what the turn's inner and outer wheel do.
    fn steers(&mut self, start: &Taken) {
        let axle_of = self.car.axle(self.end);
        if !self.solver.steered() {
            return;
        }
        let spec = axle_of.left.linkage.spec();
        let ratio = axle(start, "overall_steering_ratio");
        let key = match axle_of.steering {
            Steering::Rack(_) => "travel_per_turn",
            _ => "ratio",
        };
        let rod: &[Hardpoint] =
            if spec.has_track_rod { &STEERING } else { &[P::TieRodOuter, P::TieRodInner] };
        let rods = [rod, spec.suspects].concat();
        self.add(usual::OVERALL_RATIO, ratio, None, Subject::Steering(key), &rods);
        let stops = axle_of.steering.stops();
        let keys = match axle_of.steering {
            Steering::Box(_) => ["stop_right_deg", "stop_left_deg"],
            _ => ["stop_right", "stop_left"],
        };
        for (stop, key) in stops.into_iter().zip(keys) {
            let at = match self.solver.solve([0.0; 2], stop) {
                Ok(at) => at,
                Err(met) => {
                    self.add(usual::STOP_REACHED, met.steer / stop, None, Subject::Steering(key), &rods);
                    continue;
                }
            };
            let at = Taken::at(&at);
            let angles = Side::BOTH.map(|side| wheel(&at, side, "steer_angle").abs());
            self.add(usual::LOCK, angles[0].max(angles[1]), None, Subject::Steering(key), &rods);
        }
        // Half-way to the nearer stop.
        let half = 0.5 * stops[1].min(-stops[0]);
        let Ok(at) = self.solver.solve([0.0; 2], half) else { return };
        let at = Taken::at(&at);
        let subject = Subject::Hardpoint(rods[0]);
        let percent = axle(&at, "ackermann_percent");
        if self.end == End::Front {
            self.add(usual::ACKERMANN, percent, Some(Side::Left), subject, &rods);
        }
        let gains = Side::BOTH.map(|side| wheel(start, side, "steer_gain"));
        self.add(usual::STEER_ALIKE, gains[0] / gains[1], Some(Side::Left), subject, &rods);
        // The steering arm does not fold.
        let far = Side::BOTH.map(|side| wheel(&at, side, "steer_gain"));
        for (i, side) in Side::BOTH.into_iter().enumerate() {
            self.add(usual::STEER_GAIN_CHANGE, far[i] / gains[i], Some(side), subject, &rods);
        }
    }
}
