//! A beam axle's wheel in roll.

use super::beam::Rates;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;

readings! {
    scope Wheel; group BeamInRoll;
    values(corner: CornerMotion, wheel: OnGround) {
        let rates = Rates::of(corner.in_roll().as_ref(), wheel);
    }

    "bump_steer_in_roll", "Bump steer, in roll", DegreePerMetre in Roll,
    sign "+ toes in with bump",
    "Change of toe per travel of this wheel, the other wheel travelling as far the other way.",
    formula "d(toe)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference"
    => rates.get("bump_steer");

    "camber_gain_in_roll", "Camber gain, in roll", DegreePerMetre in Roll,
    sign "+ top goes outboard with bump",
    "Change of camber to the body per travel of this wheel, the other wheel travelling as far the other way.",
    formula "d(camber to the body)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference"
    => rates.get("camber_gain");

    "half_track_gain_in_roll", "Contact-patch lateral movement, in roll", PerTravel in Roll,
    sign "+ wider with bump",
    "Change of half track per travel of this wheel, the other wheel travelling as far the other way.",
    formula "d(half track)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference"
    => rates.get("half_track_gain");

    "recession_gain_in_roll", "Wheel-centre longitudinal movement, in roll", PerTravel in Roll,
    sign "+ wheel moves rearward with bump",
    "Rearward movement of the wheel centre per travel of this wheel, the other wheel travelling as far the other way.",
    formula "-v_x, v velocity of the wheel centre for v_z = 1",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference"
    => rates.get("recession_gain");

    "motion_ratio_in_roll", "Motion ratio, damper per wheel, in roll", Ratio in Roll,
    sign "+ bump compresses the damper",
    "Damper movement per travel of this wheel, the other wheel travelling as far the other way.",
    formula "-d(damper length)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no damper"
    => rates.get("motion_ratio");

    "spring_motion_ratio_in_roll", "Motion ratio, spring per wheel, in roll", Ratio in Roll,
    sign "+ bump compresses the spring",
    "Spring movement per travel of this wheel, the other wheel travelling as far the other way.",
    formula "-d(spring length)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no spring with a length"
    => rates.get("spring_motion_ratio");

    "rocker_rate_in_roll", "Rocker rate, in roll", DegreePerMetre in Roll,
    sign "+ turns with bump as in the design pose",
    "Turn of the rocker per travel of this wheel, the other wheel travelling as far the other way.",
    formula "d(rocker angle)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no rocker"
    => rates.get("rocker_rate");

    "bar_arm_rate_in_roll", "Anti-roll bar arm rate, in roll", DegreePerMetre in Roll,
    sign "+ turns with bump as in the design pose",
    "Turn of the bar's arm per travel of this wheel, the other wheel travelling as far the other way.",
    formula "d(bar arm angle)/d(travel)",
    source "this program's definition",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no anti-roll bar with arms"
    => rates.get("bar_arm_rate");

    "wheel_rate_in_roll", "Wheel rate, in roll", SpringRate in Roll,
    sign "+ the load grows with bump",
    "Growth of the load on this wheel from the axle's springs per travel of this wheel, the other wheel travelling as far the other way. Bars left out.",
    formula "d(F)/d(travel), F = sum of spring force · d(spring pressed)/d(travel of this wheel)",
    source "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 16, as recalled, by virtual work",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no spring with a known rate"
    => rates.get("wheel_rate");

    "wheel_rate_gain_in_roll", "Wheel-rate gain, in roll", SpringRateGain in Roll,
    sign "+ stiffer with bump",
    "Change of the wheel rate per travel of this wheel, the other wheel travelling as far the other way.",
    formula "d²(F)/d(travel)²",
    source "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 16, as recalled, by virtual work",
    absent "each wheel of this axle moves on its own, so the other makes no difference; or the corner has no spring with a known rate"
    => rates.get("wheel_rate_gain");
}
