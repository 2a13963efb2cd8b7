//! What the spring makes of a wheel.

use super::absent;
use crate::corner_motion::CornerMotion;
use crate::on_ground::OnGround;

readings! {
    scope Wheel; group Springing;
    values(corner: CornerMotion, _wheel: OnGround) {
        let rate = corner.wheel_rate;
    }

    "wheel_rate", "Wheel rate", SpringRate,
    sign "+ the load grows with bump",
    "Load on the wheel from its spring, per wheel travel, the other wheel held and bars left out. The spring's load in the design pose follows from mass and weight share; without them it is taken as none there.",
    formula "k r² + F dr/d(travel), r motion ratio, F load on the spring",
    source "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 16 (from memory)",
    absent "the corner has no spring with a known rate"
    => rate.map_or_else(absent, |rate| rate.value);

    "wheel_rate_gain", "Wheel-rate gain", SpringRateGain,
    sign "+ stiffer with bump",
    "Change of the wheel rate per wheel travel.",
    formula "3 k r dr/d(travel) + F d²r/d(travel)²",
    source "derivative of the wheel rate; common practice, no source",
    absent "the corner has no spring with a known rate"
    => rate.map_or_else(absent, |rate| rate.per_travel);
}
