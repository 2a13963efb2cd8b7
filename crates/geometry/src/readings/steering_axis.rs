//! The line through the ball joints, and the virtual one the wheel really turns about.

use super::absent;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;
use crate::corner::on_ground::forward_on;
use crate::corner::wheel_model::screw_axis;
use crate::number::real::Real;

#[inline(always)]
fn or_absent<T: Real>(value: Option<T>) -> T {
    value.unwrap_or_else(absent)
}

readings! {
    scope Wheel; group SteeringAxis;
    values(corner: CornerMotion, wheel: OnGround) {
        let axis = corner.steering_axis;
        let k = axis.map(|axis| axis.along);
        let to_contact = axis.map(|axis| wheel.contact - wheel.meets_ground(&axis.point, &axis.along));
        let to_centre = axis.map(|axis| {
            corner.wheel_centre - wheel.meets_level(&axis.point, &axis.along, &corner.wheel_centre)
        });
        let side = corner.sign();
        let ahead = forward_on(&wheel.normal);
        let in_road = k.map(|k| {
            let left = wheel.normal.cross(&ahead);
            [k.dot(&ahead), k.dot(&left), k.dot(&wheel.normal)]
        });
        let virtual_axis = corner.by_steer.map(|twist| screw_axis(&twist, &corner.wheel_centre));
        let virtual_foot =
            virtual_axis.map(|(point, along)| wheel.contact - wheel.meets_ground(&point, &along));
    }

    "caster", "Caster angle", Degree,
    sign "+ top leans rearward",
    "Side-view angle of the steering axis from the body's vertical. The axis is the line from lower to upper ball joint, of the king pin, or to a strut's top mount; for separate links the screw axis the upright turns about as the tie rod's inner end moves.",
    formula "atan2(-k_x, k_z)",
    source "ISO 8855, as recalled",
    absent "the wheel does not steer on its own"
    => or_absent(k.map(|k| (-k.x).atan2(k.z)));

    "steering_axis_inclination", "Steering-axis inclination", Degree,
    sign "+ top leans inboard",
    "Front-view angle of the steering axis from the body's vertical; also called kingpin inclination.",
    formula "atan2(-side · k_y, k_z)",
    source "ISO 8855, as recalled",
    absent "the wheel does not steer on its own"
    => or_absent(k.map(|k| (-side * k.y).atan2(k.z)));

    "caster_to_road", "Caster angle to the road", Degree,
    sign "+ top leans rearward",
    "Side-view angle of the steering axis from the ground's normal: the body's pitch tells in it.",
    formula "atan2(-k · f, k · n), f the body's X laid on the ground",
    source "ISO 8855, as recalled",
    absent "the wheel does not steer on its own"
    => or_absent(in_road.map(|[ahead, _, up]| (-ahead).atan2(up)));

    "steering_axis_inclination_to_road", "Steering-axis inclination to the road", Degree,
    sign "+ top leans inboard",
    "Front-view angle of the steering axis from the ground's normal: the body's roll tells in it.",
    formula "atan2(-side · k · l, k · n), l the direction on the ground to the left of f",
    source "ISO 8855, as recalled",
    absent "the wheel does not steer on its own"
    => or_absent(in_road.map(|[_, left, up]| (-side * left).atan2(up)));

    "scrub_radius", "Scrub radius", Length,
    sign "+ contact outboard of the axis",
    "Steering-axis offset at ground: sideways distance, in the wheel's axes, from where the steering axis meets the ground to the contact point.",
    formula "(P - G) · o",
    source "ISO 8855, as recalled",
    absent "the wheel does not steer on its own, or about an axis within 5° of horizontal"
    => or_absent(to_contact.map(|to| to.dot(&wheel.outboard)));

    "trail", "Trail", Length,
    sign "+ axis meets the ground ahead of the contact",
    "Caster offset at ground: distance along the wheel's heading from the contact point to where the steering axis meets the ground.",
    formula "(G - P) · t",
    source "ISO 8855, as recalled",
    absent "the wheel does not steer on its own, or about an axis within 5° of horizontal"
    => or_absent(to_contact.map(|to| -to.dot(&wheel.forward)));

    "wheel_centre_offset_lateral", "Wheel-centre offset, lateral", Length,
    sign "+ wheel centre outboard of the axis",
    "Sideways distance, at wheel-centre height, from the steering axis to the wheel centre.",
    formula "(W - H) · o",
    source "ISO 8855, as recalled",
    absent "the wheel does not steer on its own, or about an axis within 5° of horizontal"
    => or_absent(to_centre.map(|to| to.dot(&wheel.outboard)));

    "wheel_centre_offset_longitudinal", "Wheel-centre offset, longitudinal", Length,
    sign "+ axis ahead of the wheel centre",
    "Distance along the wheel's heading, at wheel-centre height, from the wheel centre to the steering axis.",
    formula "(H - W) · t",
    source "ISO 8855, as recalled",
    absent "the wheel does not steer on its own, or about an axis within 5° of horizontal"
    => or_absent(to_centre.map(|to| -to.dot(&wheel.forward)));

    "virtual_caster", "Caster angle, virtual axis", Degree,
    sign "+ top leans rearward",
    "Caster of the axis the upright really turns about when the tie rod's (toe link's, drag link's) inner end moves and the wheel centre's height is held. It is not the line through the ball joints.",
    formula "atan2(-k_x, k_z), k the instantaneous screw axis for movement of the tie rod's inner end",
    source "screw theory; this program's definition",
    absent "no tie rod, toe link or drag link, or moving it does not turn the wheel here"
    => or_absent(virtual_axis.map(|(_, k)| (-k.x).atan2(k.z)));

    "virtual_steering_axis_inclination", "Steering-axis inclination, virtual axis", Degree,
    sign "+ top leans inboard",
    "Inclination of the axis the upright really turns about when the tie rod's (toe link's, drag link's) inner end moves and the wheel centre's height is held.",
    formula "atan2(-side · k_y, k_z), k the instantaneous screw axis for movement of the tie rod's inner end",
    source "screw theory; this program's definition",
    absent "no tie rod, toe link or drag link, or moving it does not turn the wheel here"
    => or_absent(virtual_axis.map(|(_, k)| (-side * k.y).atan2(k.z)));

    "virtual_scrub_radius", "Scrub radius, virtual axis", Length,
    sign "+ contact outboard of the axis",
    "Scrub radius to the axis the upright really turns about, wheel-centre height held.",
    formula "(P - G) · o, G on the instantaneous screw axis for movement of the tie rod's inner end",
    source "screw theory; this program's definition",
    absent "no tie rod, toe link or drag link, or moving it does not turn the wheel here, or about an axis within 5° of horizontal"
    => or_absent(virtual_foot.map(|foot| foot.dot(&wheel.outboard)));

    "virtual_trail", "Trail, virtual axis", Length,
    sign "+ axis meets the ground ahead of the contact",
    "Trail to the axis the upright really turns about, wheel-centre height held.",
    formula "(G - P) · t, G on the instantaneous screw axis for movement of the tie rod's inner end",
    source "screw theory; this program's definition",
    absent "no tie rod, toe link or drag link, or moving it does not turn the wheel here, or about an axis within 5° of horizontal"
    => or_absent(virtual_foot.map(|foot| -foot.dot(&wheel.forward)));
}
