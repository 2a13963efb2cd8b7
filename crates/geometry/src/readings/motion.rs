//! What a wheel does as it travels, steering held.

use super::absent;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;
use crate::corner::on_ground::forward_on;
use crate::number::real::up;
use std::hint::select_unpredictable as choose;

/// Slower than this (radians per metre of travel) the upright does not turn: no screw axis.
const TURNS: f64 = 1e-9;

readings! {
    scope Wheel; group Motion;
    values(corner: CornerMotion, wheel: OnGround) {
        let (v, w) = (corner.by_travel.v, corner.by_travel.w);
        let side = corner.sign();
        let a = corner.spin_axis;
        let a_rate = w.cross(&a);
        let forward = corner.spin_axis_left().cross(&up());
        let forward_rate = (a_rate * side).cross(&up());
        // One over what several readings are divided by: a division takes as long as a dozen products.
        let one = T::one();
        let flat = one / (forward.x * forward.x + forward.y * forward.y);
        let steer_rate = (forward.x * forward_rate.y - forward.y * forward_rate.x) * flat;
        let axis = corner.steering_axis.and_then(|axis| Some((axis.along, axis.rate?)));
        let screw = w.dot(&w);
        let turns = screw.value() > TURNS * TURNS;
        let per_screw = one / screw;
        let along = w * per_screw.sqrt();
        let foot = corner.wheel_centre + w.cross(&v) * per_screw;
        let (per_front, per_lateral) = (one / w.x, one / w.y);
        let or_none = |value: T, exists: bool| choose(exists, value, absent());
        let front = w.x.value().abs() > TURNS;
        let lateral = w.y.value().abs() > TURNS;
        // The contact travels round the tyre as camber changes: its rate is not the upright's.
        let per_reach = one / (one - a.z * a.z).sqrt();
        let down_rate = (a_rate * a.z + a * a_rate.z) * per_reach
            + (a * a.z - up()) * (a.z * a_rate.z * per_reach * per_reach * per_reach);
        let contact_rate = v + down_rate * (corner.tyre_radius - corner.tyre_shoulder);
        let patch = wheel.contact_velocity(corner);
        let ahead = forward_on(&wheel.normal);
    }

    "bump_steer", "Bump steer", DegreePerMetre in Heave,
    sign "+ toes in with bump",
    "Change of toe per wheel travel, steering held. Data has it per metre: 1 °/m is 0.025° per 25 mm.",
    formula "d(toe)/d(travel)",
    source "this program's definition",
    absent ""
    => -side * steer_rate;

    "camber_gain", "Camber gain", DegreePerMetre in Heave,
    sign "+ top goes outboard with bump",
    "Change of camber to the body per wheel travel. Data has it per metre: 1 °/m is 0.025° per 25 mm.",
    formula "d(camber to the body)/d(travel)",
    source "this program's definition",
    absent ""
    => -a_rate.z * per_reach;

    "caster_gain", "Caster gain", DegreePerMetre in Heave,
    sign "+ top goes rearward with bump",
    "Change of caster angle per wheel travel.",
    formula "d(caster)/d(travel)",
    source "this program's definition",
    absent "the wheel does not steer on its own, or about a line of its own"
    => axis.map_or_else(absent, |(k, r)| (k.x * r.z - k.z * r.x) / (k.x * k.x + k.z * k.z));

    "steering_axis_inclination_gain", "Steering-axis inclination gain", DegreePerMetre in Heave,
    sign "+ top goes inboard with bump",
    "Change of steering-axis inclination per wheel travel.",
    formula "d(inclination)/d(travel)",
    source "this program's definition",
    absent "the wheel does not steer on its own, or about a line of its own"
    => axis.map_or_else(absent, |(k, r)| side * (k.y * r.z - k.z * r.y) / (k.y * k.y + k.z * k.z));

    "half_track_gain", "Contact-patch lateral movement", PerTravel in Heave,
    sign "+ wider with bump",
    "Change of half track per wheel travel: how much the contact scrubs sideways.",
    formula "d(half track)/d(travel)",
    source "this program's definition",
    absent ""
    => side * contact_rate.y;

    "recession_gain", "Wheel-centre longitudinal movement", PerTravel in Heave,
    sign "+ wheel moves rearward with bump",
    "Rearward movement of the wheel centre per wheel travel.",
    formula "-v_x, v velocity of the wheel centre for v_z = 1",
    source "this program's definition",
    absent ""
    => -v.x;

    "contact_slope_side", "Contact slope in side view", Ratio in Heave,
    sign "+ moves forward with bump",
    "Forward movement along the ground, per rise off it, of the point of the upright that is at the contact: the slope that braking forces work against.",
    formula "(u · f) / (u · n), u = v + w × (P - W), f the body's X laid on the ground, n ground normal",
    source "this program's definition",
    absent ""
    => patch.dot(&ahead) / patch.dot(&wheel.normal);

    "front_view_swing_arm_inverse", "Front-view swing-arm length", PerMetre in Heave,
    sign "+ instant centre inboard of the wheel",
    "Distance from wheel centre to front-view instant centre, along Y. Data has one over it, per metre, which passes smoothly through parallel links.",
    formula "inverse: side · w_x, w angular velocity for v_z = 1",
    source "plane kinematics of the upright's exact motion; this program's definition",
    absent ""
    => side * w.x;

    "front_view_instant_centre_y", "Front-view instant centre, Y", Length in Heave,
    sign "+ to the left",
    "Point of the plane across the car through the wheel centre that has no movement in that plane.",
    formula "W_y - v_z / w_x",
    source "plane kinematics of the upright's exact motion; this program's definition",
    absent "at infinity: the links are parallel in front view"
    => or_none(corner.wheel_centre.y - v.z * per_front, front);

    "front_view_instant_centre_z", "Front-view instant centre, Z", Length in Heave,
    sign "+ up",
    "Height of the front-view instant centre in body axes.",
    formula "W_z + v_y / w_x",
    source "plane kinematics of the upright's exact motion; this program's definition",
    absent "at infinity: the links are parallel in front view"
    => or_none(corner.wheel_centre.z + v.y * per_front, front);

    "side_view_swing_arm_inverse", "Side-view swing-arm length", PerMetre in Heave,
    sign "+ instant centre ahead of the wheel",
    "Distance from wheel centre to side-view instant centre, along X. Data has one over it, per metre, which passes smoothly through parallel links.",
    formula "inverse: w_y, w angular velocity for v_z = 1",
    source "plane kinematics of the upright's exact motion; this program's definition",
    absent ""
    => w.y;

    "side_view_instant_centre_x", "Side-view instant centre, X", Length in Heave,
    sign "+ forward",
    "Point of the lengthwise plane through the wheel centre that has no movement in that plane.",
    formula "W_x + v_z / w_y",
    source "plane kinematics of the upright's exact motion; this program's definition",
    absent "at infinity: the links are parallel in side view"
    => or_none(corner.wheel_centre.x + v.z * per_lateral, lateral);

    "side_view_instant_centre_z", "Side-view instant centre, Z", Length in Heave,
    sign "+ up",
    "Height of the side-view instant centre in body axes.",
    formula "W_z - v_x / w_y",
    source "plane kinematics of the upright's exact motion; this program's definition",
    absent "at infinity: the links are parallel in side view"
    => or_none(corner.wheel_centre.z - v.x * per_lateral, lateral);

    "screw_direction_x", "Instant screw axis, direction X", Ratio in Heave,
    sign "+ forward",
    "Unit direction of the axis the upright turns about and slides along as the wheel travels.",
    formula "w / |w|",
    source "screw theory; this program's definition",
    absent "at infinity: the upright does not turn with travel"
    => or_none(along.x, turns);

    "screw_direction_y", "Instant screw axis, direction Y", Ratio in Heave,
    sign "+ to the left",
    "Unit direction of the axis the upright turns about and slides along as the wheel travels.",
    formula "w / |w|",
    source "screw theory; this program's definition",
    absent "at infinity: the upright does not turn with travel"
    => or_none(along.y, turns);

    "screw_direction_z", "Instant screw axis, direction Z", Ratio in Heave,
    sign "+ up",
    "Unit direction of the axis the upright turns about and slides along as the wheel travels.",
    formula "w / |w|",
    source "screw theory; this program's definition",
    absent "at infinity: the upright does not turn with travel"
    => or_none(along.z, turns);

    "screw_point_x", "Instant screw axis, point X", Length in Heave,
    sign "+ forward",
    "Point of the instant screw axis nearest the wheel centre.",
    formula "W + w × v / |w|²",
    source "screw theory; this program's definition",
    absent "at infinity: the upright does not turn with travel"
    => or_none(foot.x, turns);

    "screw_point_y", "Instant screw axis, point Y", Length in Heave,
    sign "+ to the left",
    "Point of the instant screw axis nearest the wheel centre.",
    formula "W + w × v / |w|²",
    source "screw theory; this program's definition",
    absent "at infinity: the upright does not turn with travel"
    => or_none(foot.y, turns);

    "screw_point_z", "Instant screw axis, point Z", Length in Heave,
    sign "+ up",
    "Point of the instant screw axis nearest the wheel centre.",
    formula "W + w × v / |w|²",
    source "screw theory; this program's definition",
    absent "at infinity: the upright does not turn with travel"
    => or_none(foot.z, turns);

    "screw_pitch", "Instant screw axis, pitch", Length in Heave,
    sign "+ slides along the direction it turns about, right-handed",
    "Slide along the instant screw axis per radian of turn.",
    formula "w · v / |w|²",
    source "screw theory; this program's definition",
    absent "at infinity: the upright does not turn with travel"
    => or_none(w.dot(&v) * per_screw, turns);
}
