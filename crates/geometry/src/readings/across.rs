//! What reaches across an axle: T-bar, third spring.

use super::absent;
use crate::axle::axle_motion::AxleMotion;
use crate::axle::cross_axle::Between;

readings! {
    scope Axle; group Springing;
    values(axle: AxleMotion) {
        let of = |between: Option<Between<T>>, value: fn(&Between<T>) -> T| {
            between.map_or_else(absent, |between| value(&between))
        };
        let (twist, third) = (axle.bar_twist, axle.third_spring);
        let swing = axle.t_bar.map(|bar| bar.swing);
    }

    "anti_roll_bar_twist", "Anti-roll bar twist", Degree,
    sign "+ left wheel further toward bump",
    "Twist of the anti-roll bar from the design pose: of a U-bar the left arm's angle minus the right one's, of a T-bar the turn of its crossbar about its stem.",
    formula "bar arm angle left - right; turn about the stem beyond what the swing gives it",
    source "this program's definition",
    absent "the axle has no anti-roll bar with a drop link on both sides"
    => of(twist, |twist| twist.value);

    "anti_roll_bar_twist_rate", "Anti-roll bar twist per roll", DegreePerMetre in Roll,
    sign "+ turns as left bump does in the design pose",
    "Change of the anti-roll bar's twist per travel of the left wheel up and the right wheel down by as much.",
    formula "d(twist)/d(travel left) - d(twist)/d(travel right)",
    source "this program's definition",
    absent "the axle has no anti-roll bar with a drop link on both sides"
    => of(twist, Between::per_roll);

    "t_bar_swing", "T-bar swing", Degree,
    sign "+ swung the way bump of both wheels swings it in the design pose",
    "Swing of the T-bar's stem about its foot's line from the design pose.",
    formula "turn that, with the twist, keeps both drop links' lengths",
    source "this program's definition",
    absent "the axle has no T-bar"
    => of(swing, |swing| swing.value);

    "t_bar_swing_rate", "T-bar swing per heave", DegreePerMetre in Heave,
    sign "+ swings with bump as in the design pose",
    "Change of the T-bar's swing per travel of both wheels together.",
    formula "d(swing)/d(travel left) + d(swing)/d(travel right)",
    source "this program's definition",
    absent "the axle has no T-bar"
    => of(swing, Between::per_heave);

    "third_spring_length", "Third spring length", Length,
    sign "+",
    "Distance between the ends of the spring across the axle.",
    formula "|left end - right end|",
    source "this program's definition",
    absent "the axle has no third spring"
    => of(third, |third| third.value);

    "third_spring_heave_ratio", "Third spring movement per heave", Ratio in Heave,
    sign "+ bump of both wheels shortens it",
    "Shortening of the third spring per travel of both wheels together.",
    formula "-d(length)/d(travel left) - d(length)/d(travel right)",
    source "this program's definition",
    absent "the axle has no third spring"
    => of(third, |third| -third.per_heave());

    "third_spring_roll_ratio", "Third spring movement per roll", Ratio in Roll,
    sign "+ left bump with right droop shortens it",
    "Shortening of the third spring per travel of the left wheel up and the right wheel down by as much: nought on a like pair that stands level.",
    formula "-d(length)/d(travel left) + d(length)/d(travel right)",
    source "this program's definition",
    absent "the axle has no third spring"
    => of(third, |third| -third.per_roll());
}
