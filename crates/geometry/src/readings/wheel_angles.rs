//! Camber, inclination, steer and toe.

use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;

readings! {
    scope Wheel; group WheelAngles;
    values(corner: CornerMotion, wheel: OnGround) {
        let to_body = -corner.spin_axis.z.asin();
        let to_road = wheel.camber();
        let forward = corner.spin_axis_left().cross(&crate::number::real::up());
        let steer = forward.y.atan2(forward.x);
        let steer_to_road = wheel.steer();
    }

    "camber_to_road", "Camber to the road", Degree,
    sign "+ top outboard, - top toward the car",
    "Angle of the wheel's plane from the ground's normal. The ground is the one both tyres of the axle touch, or the car's one plane where it stands on a road.",
    formula "-asin(a · n), a spin axis outboard, n ground normal",
    source "ISO 8855, as recalled",
    absent ""
    => to_road;

    "camber_to_body", "Camber to the body", Degree,
    sign "+ top outboard, - top toward the car",
    "Angle of the wheel's plane from the body's vertical: what the linkage alone does.",
    formula "-asin(a_z), a spin axis outboard",
    source "this program's definition",
    absent ""
    => to_body;

    "inclination_angle", "Inclination angle", Degree,
    sign "+ top to the right, on either side",
    "Camber to the road, signed right-handed about the wheel's forward axis on both sides.",
    formula "-side · camber",
    source "ISO 8855, as recalled",
    absent ""
    => -corner.sign() * to_road;

    "steer_angle", "Steer angle", Degree,
    sign "+ to the left",
    "Angle of the wheel's forward direction from the body's X axis, seen from above.",
    formula "atan2(t_y, t_x), t = a_left × Z, a_left the spin axis toward +Y",
    source "ISO 8855",
    absent ""
    => steer;

    "toe", "Toe", Degree,
    sign "+ toe-in on both sides",
    "Steer angle counted inward on either side.",
    formula "-side · steer angle",
    source "ISO 8855 static toe",
    absent ""
    => -corner.sign() * steer;

    "steer_to_road", "Steer angle to the road", Degree,
    sign "+ to the left",
    "Angle, seen along the ground's normal, of the direction in which the wheel rolls on the ground from the body's forward direction laid on it.",
    formula "angle from f to t about n, t = a_left × n, f the body's X laid on the ground",
    source "ISO 8855",
    absent ""
    => steer_to_road;

    "toe_to_road", "Toe to the road", Degree,
    sign "+ toe-in on both sides",
    "Steer angle to the road counted inward on either side.",
    formula "-side · steer angle to the road",
    source "ISO 8855 static toe",
    absent ""
    => -corner.sign() * steer_to_road;
}
