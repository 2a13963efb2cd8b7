//! What the spring makes of a wheel.

use super::absent;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;

readings! {
    scope Wheel; group Springing;
    values(corner: CornerMotion, _wheel: OnGround) {
        let rate = corner.wheel_rate;
    }

    "wheel_rate", "Wheel rate", SpringRate in Heave,
    sign "+ the load grows with bump",
    "Growth of the load on the wheel from the springs, per wheel travel, bars left out. The springs' loads in the design pose follow from mass and weight share; without them they are taken as none there.",
    formula "k r² + F dr/d(travel), r motion ratio, F load on the spring; on a beam axle the derivative of the sum of spring force · d(spring pressed)/d(travel of this wheel)",
    source "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 16, as recalled",
    absent "the corner has no spring with a known rate"
    => rate.map_or_else(absent, |rate| rate.value);

    "wheel_rate_gain", "Wheel-rate gain", SpringRateGain in Heave,
    sign "+ stiffer with bump",
    "Change of the wheel rate per wheel travel.",
    formula "3 k r dr/d(travel) + F d²r/d(travel)²; on a beam axle the second derivative of the load",
    source "derivative of the wheel rate; this program's definition",
    absent "the corner has no spring with a known rate"
    => rate.map_or_else(absent, |rate| rate.per_travel);
}
