//! How far the links carry pitching under braking and driving.

use super::absent;
use crate::axle::axle_motion::AxleMotion;
use crate::car::TorqueReaction;
use crate::car::position::End;

readings! {
    scope Axle; group Pitch;
    values(axle: AxleMotion) {
        let c = T::constant;
        let slope = |reacted: TorqueReaction| axle.pitch_slope(reacted);
        let context = &axle.context;
        let base_over_height = context.centre_of_gravity_height.map(|h| context.wheelbase / h);
        let braking = match (base_over_height, context.brake_share) {
            (Some(lever), Some(share)) => slope(context.brakes) * c(lever * share),
            _ => absent(),
        };
        let driving = match (base_over_height, context.drive) {
            (Some(lever), Some(reacted)) if context.drives_alone => slope(reacted) * c(lever),
            _ => absent(),
        };
        let front = context.end == End::Front;
    }

    "anti_dive", "Anti-dive", Percent in Heave,
    sign "+ braking load carried by the front links",
    "Share of the front's load transfer in braking that the links carry. Stands on the brake split, wheelbase and centre-of-gravity height of the car file.",
    formula "slope · brake share front · L / h, slope = mean of both wheels' contact slope in side view (outboard brakes), or of minus their wheelbase gain on level ground (inboard)",
    source "this program's definition",
    absent "needs a front axle, brake share and centre-of-gravity height"
    => if front { braking } else { absent() };

    "anti_lift", "Anti-lift", Percent in Heave,
    sign "+ braking load carried by the rear links",
    "Share of the rear's load transfer in braking that the links carry. Stands on the brake split, wheelbase and centre-of-gravity height of the car file.",
    formula "-slope · brake share rear · L / h, slope = mean of both wheels' contact slope in side view (outboard brakes), or of minus their wheelbase gain on level ground (inboard)",
    source "this program's definition",
    absent "needs a rear axle, brake share and centre-of-gravity height"
    => if front { absent() } else { -braking };

    "anti_squat", "Anti-squat", Percent in Heave,
    sign "+ driving load carried by the links",
    "Share of the load transfer in driving that the rear links carry, all drive at this axle.",
    formula "-slope · L / h, slope = mean of both wheels' contact slope in side view (unsprung final drive), or of minus their wheelbase gain on level ground (sprung)",
    source "this program's definition",
    absent "needs a rear axle that alone is driven and a centre-of-gravity height"
    => if front { absent() } else { -driving };
}
