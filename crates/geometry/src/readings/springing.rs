//! Damper, spring, rocker and anti-roll bar at one wheel.

use super::absent;
use crate::car::springing::Spring;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;
use std::hint::select_unpredictable as choose;

readings! {
    scope Wheel; group Springing;
    values(corner: CornerMotion, _wheel: OnGround) {
        let or_none = |value: Option<T>| value.unwrap_or_else(absent);
        let spring = corner.spring_length();
        let twists = matches!(corner.spring_kind, Some(Spring::TorsionBar { .. }));
    }

    "damper_length", "Damper length", Length,
    sign "+",
    "Distance between the damper's eyes.",
    formula "|moving eye - body eye|",
    source "this program's definition",
    absent "the corner has no damper"
    => or_none(corner.damper.map(|d| d.value));

    "motion_ratio", "Motion ratio, damper per wheel", Ratio in Heave,
    sign "+ bump compresses the damper",
    "Damper movement per wheel movement.",
    formula "-d(damper length)/d(travel)",
    source "this program's definition",
    absent "the corner has no damper"
    => or_none(corner.damper.map(|d| -d.per_travel));

    "motion_ratio_inverse", "Motion ratio, wheel per damper", Ratio in Heave,
    sign "+ bump compresses the damper",
    "Wheel movement per damper movement: the reciprocal, also in common use.",
    formula "-d(travel)/d(damper length)",
    source "this program's definition",
    absent "the corner has no damper, or it does not move here"
    => or_none(corner.damper.map(|d| {
        choose(d.per_travel.value() == 0.0, absent(), -T::one() / d.per_travel)
    }));

    "spring_length", "Spring length", Length,
    sign "+",
    "Distance between the eyes of a spring that stands apart, or of the damper that carries it.",
    formula "|moving eye - body eye|",
    source "this program's definition",
    absent "the corner has no spring, or a torsion bar"
    => or_none(spring.map(|s| s.value));

    "spring_motion_ratio", "Motion ratio, spring per wheel", Ratio in Heave,
    sign "+ bump compresses the spring",
    "Spring movement per wheel movement.",
    formula "-d(spring length)/d(travel)",
    source "this program's definition",
    absent "the corner has no spring, or a torsion bar"
    => or_none(spring.map(|s| -s.per_travel));

    "rocker_angle", "Rocker angle", Degree,
    sign "+ turned the way bump turns it in the design pose",
    "Turn of the rocker about its axis from the design pose.",
    formula "turn that keeps the pushrod's length",
    source "this program's definition",
    absent "the corner has no rocker"
    => or_none(corner.rocker.map(|r| r.value));

    "rocker_rate", "Rocker rate", DegreePerMetre in Heave,
    sign "+ turns with bump as in the design pose",
    "Turn of the rocker per wheel travel.",
    formula "d(rocker angle)/d(travel)",
    source "this program's definition",
    absent "the corner has no rocker"
    => or_none(corner.rocker.map(|r| r.per_travel));

    "torsion_bar_twist_rate", "Torsion bar twist rate", DegreePerMetre in Heave,
    sign "+ bump twists it further",
    "Twist of the torsion bar at the rocker per wheel travel.",
    formula "d(rocker angle)/d(travel)",
    source "this program's definition",
    absent "the corner has no torsion bar"
    => or_none(corner.rocker.filter(|_| twists).map(|r| r.per_travel));

    "bar_arm_angle", "Anti-roll bar arm angle", Degree,
    sign "+ turned the way bump turns it in the design pose",
    "Turn of the bar's arm about the bar from the design pose.",
    formula "turn that keeps the drop link's length",
    source "this program's definition",
    absent "the corner hangs on no anti-roll bar with arms"
    => or_none(corner.bar.map(|b| b.value));

    "bar_arm_rate", "Anti-roll bar arm rate", DegreePerMetre in Heave,
    sign "+ turns with bump as in the design pose",
    "Turn of the bar's arm per wheel travel.",
    formula "d(bar arm angle)/d(travel)",
    source "this program's definition",
    absent "the corner hangs on no anti-roll bar with arms"
    => or_none(corner.bar.map(|b| b.per_travel));
}
