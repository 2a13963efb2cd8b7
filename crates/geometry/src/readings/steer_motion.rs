//! What rack or pitman arm does to a wheel.

use super::absent;
use crate::car::steering::SteerInput;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;

readings! {
    scope Wheel; group SteerMotion;
    values(corner: CornerMotion, _wheel: OnGround) {
        let gain = corner.steer_gain();
        let by = |input: SteerInput| gain.filter(|_| corner.steer_input == input).unwrap_or_else(absent);
    }

    "steer_gain", "Road-wheel angle per rack travel", DegreePerRackTravel,
    sign "+ rack to the left steers to the left",
    "Change of steer angle per rack travel, the wheel centre's height held. 1000 °/m is 1° per millimetre.",
    formula "d(steer)/d(rack)",
    source "this program's definition",
    absent "the wheel is not steered, or a steering box steers it"
    => by(SteerInput::RackTravel);

    "steer_gain_pitman", "Road-wheel angle per pitman-arm turn", DegreePerDegree,
    sign "+ pitman arm anticlockwise, seen from above, steers to the left",
    "Change of steer angle per turn of the steering box's pitman arm, the wheel centre's height held.",
    formula "d(steer)/d(pitman arm)",
    source "this program's definition",
    absent "the wheel is not steered, or a rack steers it"
    => by(SteerInput::PitmanAngle);
}
