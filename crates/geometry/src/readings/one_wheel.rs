//! A beam axle's wheel as it alone travels, the other wheel held.

use super::beam::Rates;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;

readings! {
    scope Wheel; group BeamByOneWheel;
    values(corner: CornerMotion, wheel: OnGround) {
        let rates = Rates::of(corner.one_wheel().as_ref(), wheel);
    }

    "bump_steer_one_wheel", "Bump steer, by one wheel", DegreePerMetre in OneWheel,
    sign "+ toes in with bump",
    "Change of toe per travel of this wheel, the other wheel held.",
    formula "d(toe)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference"
    => rates.get("bump_steer");

    "camber_gain_one_wheel", "Camber gain, by one wheel", DegreePerMetre in OneWheel,
    sign "+ top goes outboard with bump",
    "Change of camber to the body per travel of this wheel, the other wheel held.",
    formula "d(camber to the body)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference"
    => rates.get("camber_gain");

    "half_track_gain_one_wheel", "Contact-patch lateral movement, by one wheel", PerTravel in OneWheel,
    sign "+ wider with bump",
    "Change of half track per travel of this wheel, the other wheel held.",
    formula "d(half track)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference"
    => rates.get("half_track_gain");

    "recession_gain_one_wheel", "Wheel-centre longitudinal movement, by one wheel", PerTravel in OneWheel,
    sign "+ wheel moves rearward with bump",
    "Rearward movement of the wheel centre per travel of this wheel, the other wheel held.",
    formula "-v_x, v velocity of the wheel centre for v_z = 1",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference"
    => rates.get("recession_gain");

    "motion_ratio_one_wheel", "Motion ratio, damper per wheel, by one wheel", Ratio in OneWheel,
    sign "+ bump compresses the damper",
    "Damper movement per travel of this wheel, the other wheel held.",
    formula "-d(damper length)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no damper"
    => rates.get("motion_ratio");

    "spring_motion_ratio_one_wheel", "Motion ratio, spring per wheel, by one wheel", Ratio in OneWheel,
    sign "+ bump compresses the spring",
    "Spring movement per travel of this wheel, the other wheel held.",
    formula "-d(spring length)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no spring with a length"
    => rates.get("spring_motion_ratio");

    "rocker_rate_one_wheel", "Rocker rate, by one wheel", DegreePerMetre in OneWheel,
    sign "+ turns with bump as in the design pose",
    "Turn of the rocker per travel of this wheel, the other wheel held.",
    formula "d(rocker angle)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no rocker"
    => rates.get("rocker_rate");

    "bar_arm_rate_one_wheel", "Anti-roll bar arm rate, by one wheel", DegreePerMetre in OneWheel,
    sign "+ turns with bump as in the design pose",
    "Turn of the bar's arm per travel of this wheel, the other wheel held.",
    formula "d(bar arm angle)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no anti-roll bar with arms"
    => rates.get("bar_arm_rate");

    "wheel_rate_one_wheel", "Wheel rate, by one wheel", SpringRate in OneWheel,
    sign "+ the load grows with bump",
    "Growth of the load on this wheel from the axle's springs per travel of this wheel, the other wheel held. Bars left out.",
    formula "d(F)/d(travel), F = sum of spring force · d(spring pressed)/d(travel of this wheel)",
    source "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 16, as recalled, by virtual work",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no spring with a known rate"
    => rates.get("wheel_rate");

    "wheel_rate_gain_one_wheel", "Wheel-rate gain, by one wheel", SpringRateGain in OneWheel,
    sign "+ stiffer with bump",
    "Change of the wheel rate per travel of this wheel, the other wheel held.",
    formula "d²(F)/d(travel)²",
    source "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 16, as recalled, by virtual work",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no spring with a known rate"
    => rates.get("wheel_rate_gain");
}
