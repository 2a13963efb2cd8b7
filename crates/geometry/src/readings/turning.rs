//! The slow turn: where its centre is and how wide it is.

use super::absent;
use crate::axle::axle_motion::AxleMotion;
use crate::car::position::Side;
use nalgebra::{Vector2, Vector3};

readings! {
    scope Axle; group Turning;
    values(axle: AxleMotion) {
        let c = T::constant;
        let turn = axle.slow_turn().ok();
        let or_none = |value: Option<T>| value.unwrap_or_else(absent);
        let centre = turn.map(|turn| turn.centre());
        let outside = turn.map_or(Side::Left, |turn| turn.toward().other());
        let wheel = axle.wheel(outside);
        let circle = |p: &Vector3<T>, about: Vector2<T>| {
            let from = axle.plan(p) - about;
            from.dot(&from).sqrt() * c(2.0)
        };
        let place = usize::from(outside == Side::Right);
        let edge = wheel.contact + wheel.outboard * c(axle.context.half_tyre[place]);
        // An outer wheel that points straight on or against the turn has no circle of its own.
        let own = turn.filter(|turn| turn.asked_by_outer().is_some());
        let own = own.map(|turn| turn.about(turn.asked[place]));
    }

    "turn_centre_y", "Turn centre, Y", Metre,
    sign "+ to the left",
    "Place of the centre of a slow turn, to the left of the foot of the body's origin along the ground. It lies on the rear wheels' line, at the mean curvature of what the two front wheels ask for.",
    formula "y of M + l / κ, κ = (κ_left + κ_right) / 2, κ_i = 1 / s_i, M + s_i l the crossing in plan of the front wheel's axis with the rear wheels' line; M middle between the rear contacts, l mean axis of the rear wheels, to the left",
    source "this program's definition",
    absent "no steered wheels, the steer is too small, or one front wheel asks for a turn the other way and a sharper one than the mean of both"
    => or_none(centre.map(|centre| centre.y));

    "turn_radius", "Turn radius at the rear axle", Metre,
    sign "+",
    "Distance of the turn centre from the middle between the rear contacts.",
    formula "|1 / κ|, κ mean curvature of what the two front wheels ask for, as for the turn centre",
    source "this program's definition",
    absent "no steered wheels, the steer is too small, or one front wheel asks for a turn the other way and a sharper one than the mean of both"
    => or_none(turn.map(|turn| {
        T::one() / turn.curvature() * c(turn.toward().sign())
    }));

    "turning_circle", "Turning circle, outer contact", Metre,
    sign "+",
    "Diameter of the circle of the outer front contact point about the turn centre.",
    formula "2 |P_outer - turn centre| in plan",
    source "this program's definition",
    absent "no steered wheels, the steer is too small, or one front wheel asks for a turn the other way and a sharper one than the mean of both"
    => or_none(centre.map(|centre| circle(&wheel.contact, centre)));

    "turning_circle_tyre_edge", "Turning circle, outer tyre edge", Metre,
    sign "+",
    "Diameter of the circle of the outer front tyre's outer edge beside the contact.",
    formula "2 |P_outer + half tyre width outboard - turn centre| in plan",
    source "this program's definition",
    absent "no steered wheels, the steer is too small, or one front wheel asks for a turn the other way and a sharper one than the mean of both"
    => or_none(centre.map(|centre| circle(&edge, centre)));

    "turning_circle_outer_axis", "Turning circle, outer wheel's own axis", Metre,
    sign "+",
    "Diameter of the circle of the outer front contact about the point where the outer wheel's own axis crosses the rear wheels' line.",
    formula "2 |P_outer - crossing of its own axis| in plan",
    source "this program's definition",
    absent "there is no turn centre, or the outer wheel points straight on or against the turn"
    => or_none(own.map(|own| circle(&wheel.contact, own)));
}
