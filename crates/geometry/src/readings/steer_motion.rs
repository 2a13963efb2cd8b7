//! What the rack does to a wheel.

use super::absent;
use crate::corner_motion::CornerMotion;
use crate::on_ground::OnGround;

readings! {
    scope Wheel; group SteerMotion;
    values(corner: CornerMotion, _wheel: OnGround) {}

    "steer_gain", "Steer gain", DegreePerRackTravel,
    sign "+ rack to the left steers to the left",
    "Change of steer angle per rack travel, the wheel centre's height held. 1000 °/m is 1° per millimetre. With a steering box it is per radian of the pitman arm.",
    formula "d(steer)/d(rack)",
    source "common practice, no source",
    absent "the wheel is not steered"
    => corner.steer_gain().unwrap_or_else(absent);
}
