//! The line through the ball joints, and the virtual one the wheel really turns about.

use super::absent;
use crate::corner_motion::CornerMotion;
use crate::ground::forward_on;
use crate::on_ground::OnGround;
use crate::real::{Real, length};
use nalgebra::Vector3;

/// Slower than this (radians per metre of rack) the wheel does not steer.
const STEERS: f64 = 1e-6;

/// The instantaneous screw axis of the upright for rack travel, upward: a point of it and its
/// direction. `None` where the rack does not turn the wheel.
fn virtual_axis<T: Real>(corner: &CornerMotion<T>) -> Option<(Vector3<T>, Vector3<T>)> {
    let twist = corner.by_rack?;
    let rate = length(&twist.w);
    // Not-a-number counts as not turning.
    if rate.value().is_nan() || rate.value() < STEERS {
        return None;
    }
    let up = T::constant(if twist.w.z.value() < 0.0 { -1.0 } else { 1.0 });
    let point = corner.wheel_centre + twist.w.cross(&twist.v) * (T::one() / (rate * rate));
    Some((point, twist.w * (up / rate)))
}

fn or_absent<T: Real>(value: Option<T>) -> T {
    value.unwrap_or_else(absent)
}

readings! {
    scope Wheel; group SteeringAxis;
    values(corner: CornerMotion, wheel: OnGround) {
        let k = corner.steering_axis();
        let at_ground = wheel.meets_ground(&corner.lower_ball, &k);
        let at_centre = wheel.meets_level(&corner.lower_ball, &k, &corner.wheel_centre);
        let to_contact = wheel.contact - at_ground;
        let to_centre = corner.wheel_centre - at_centre;
        let side = corner.sign();
        let ahead = forward_on(&wheel.normal);
        let (k_ahead, k_up) = (k.dot(&ahead), k.dot(&wheel.normal));
        let k_left = k.dot(&wheel.normal.cross(&ahead));
        let virtual_axis = virtual_axis(corner);
        let virtual_foot =
            virtual_axis.map(|(point, along)| wheel.contact - wheel.meets_ground(&point, &along));
    }

    "caster", "Caster angle", Degree,
    sign "+ top leans rearward",
    "Side-view angle of the steering axis (lower to upper ball joint) from the body's vertical.",
    formula "atan2(-k_x, k_z)",
    source "ISO 8855 term (from memory)",
    absent ""
    => (-k.x).atan2(k.z);

    "steering_axis_inclination", "Steering-axis inclination", Degree,
    sign "+ top leans inboard",
    "Front-view angle of the steering axis from the body's vertical; also called kingpin inclination.",
    formula "atan2(-side · k_y, k_z)",
    source "ISO 8855 term (from memory)",
    absent ""
    => (-side * k.y).atan2(k.z);

    "caster_to_road", "Caster angle to the road", Degree,
    sign "+ top leans rearward",
    "Side-view angle of the steering axis from the ground's normal: the body's pitch tells in it.",
    formula "atan2(-k · f, k · n), f the body's X laid on the ground",
    source "ISO 8855 term (from memory)",
    absent ""
    => (-k_ahead).atan2(k_up);

    "steering_axis_inclination_to_road", "Steering-axis inclination to the road", Degree,
    sign "+ top leans inboard",
    "Front-view angle of the steering axis from the ground's normal: the body's roll tells in it.",
    formula "atan2(-side · k · l, k · n), l the direction on the ground to the left of f",
    source "ISO 8855 term (from memory)",
    absent ""
    => (-side * k_left).atan2(k_up);

    "scrub_radius", "Scrub radius", Length,
    sign "+ contact outboard of the axis",
    "Steering-axis offset at ground: sideways distance, in the wheel's axes, from where the steering axis meets the ground to the contact point.",
    formula "(P - G) · o",
    source "ISO 8855 term (from memory)",
    absent ""
    => to_contact.dot(&wheel.outboard);

    "trail", "Trail", Length,
    sign "+ axis meets the ground ahead of the contact",
    "Caster offset at ground: distance along the wheel's heading from the contact point to where the steering axis meets the ground.",
    formula "(G - P) · t",
    source "ISO 8855 term (from memory)",
    absent ""
    => -to_contact.dot(&wheel.forward);

    "wheel_centre_offset_lateral", "Wheel-centre offset, lateral", Length,
    sign "+ wheel centre outboard of the axis",
    "Sideways distance, at wheel-centre height, from the steering axis to the wheel centre.",
    formula "(W - H) · o",
    source "ISO 8855 term (from memory)",
    absent ""
    => to_centre.dot(&wheel.outboard);

    "wheel_centre_offset_longitudinal", "Wheel-centre offset, longitudinal", Length,
    sign "+ axis ahead of the wheel centre",
    "Distance along the wheel's heading, at wheel-centre height, from the wheel centre to the steering axis.",
    formula "(H - W) · t",
    source "ISO 8855 term (from memory)",
    absent ""
    => -to_centre.dot(&wheel.forward);

    "virtual_caster", "Caster angle, virtual axis", Degree,
    sign "+ top leans rearward",
    "Caster of the axis the upright really turns about when the rack moves and the wheel centre's height is held. It is not the line through the ball joints.",
    formula "atan2(-k_x, k_z), k the instantaneous screw axis for rack travel",
    source "screw theory; common practice, no source",
    absent "the wheel is not steered, or the rack does not turn it here"
    => or_absent(virtual_axis.map(|(_, k)| (-k.x).atan2(k.z)));

    "virtual_steering_axis_inclination", "Steering-axis inclination, virtual axis", Degree,
    sign "+ top leans inboard",
    "Inclination of the axis the upright really turns about when the rack moves and the wheel centre's height is held.",
    formula "atan2(-side · k_y, k_z), k the instantaneous screw axis for rack travel",
    source "screw theory; common practice, no source",
    absent "the wheel is not steered, or the rack does not turn it here"
    => or_absent(virtual_axis.map(|(_, k)| (-side * k.y).atan2(k.z)));

    "virtual_scrub_radius", "Scrub radius, virtual axis", Length,
    sign "+ contact outboard of the axis",
    "Scrub radius to the axis the upright really turns about, wheel-centre height held.",
    formula "(P - G) · o, G on the instantaneous screw axis for rack travel",
    source "screw theory; common practice, no source",
    absent "the wheel is not steered, or the rack does not turn it here"
    => or_absent(virtual_foot.map(|foot| foot.dot(&wheel.outboard)));

    "virtual_trail", "Trail, virtual axis", Length,
    sign "+ axis meets the ground ahead of the contact",
    "Trail to the axis the upright really turns about, wheel-centre height held.",
    formula "(G - P) · t, G on the instantaneous screw axis for rack travel",
    source "screw theory; common practice, no source",
    absent "the wheel is not steered, or the rack does not turn it here"
    => or_absent(virtual_foot.map(|foot| -foot.dot(&wheel.forward)));
}
