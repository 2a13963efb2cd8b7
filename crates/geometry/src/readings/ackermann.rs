//! The two front wheels against the ideal of a slow turn.

use super::absent;
use crate::axle::axle_motion::AxleMotion;
use crate::number::real::{Real, up};

/// Inner angle below which percentages are 0/0 in practice, radians (half a degree).
const STRAIGHT: f64 = 0.008_726_646_259_971_648;

/// The outer angle that belongs to an inner one: `cot outer - cot inner = ratio`.
fn ideal_outer<T: Real>(inner: T, ratio: T) -> T {
    let (s, c) = inner.sin_cos();
    s.atan2(c + ratio * s)
}

/// The inner angle that belongs to an outer one.
fn ideal_inner<T: Real>(outer: T, ratio: T) -> T {
    let (s, c) = outer.sin_cos();
    s.atan2(c - ratio * s)
}

/// The difference inner - outer of the ideal pair with this mean angle. From
/// `sin e / (sin(m - e/2) sin(m + e/2)) = ratio`.
fn ideal_difference<T: Real>(mean: T, ratio: T) -> T {
    let two = T::constant(2.0);
    let (_, cos) = (mean * two).sin_cos();
    ratio.atan2(two) - (ratio * cos / (ratio * ratio + two * two).sqrt()).asin()
}

readings! {
    scope Axle; group Ackermann;
    values(axle: AxleMotion) {
        let half = T::constant(0.5);
        let steer = |side| {
            let t = axle.corner(side).spin_axis_left().cross(&up());
            t.y.atan2(t.x)
        };
        let (left, right) = (steer(crate::car::position::Side::Left), steer(crate::car::position::Side::Right));
        let mean_steer = (left + right) * half;
        let to_left = mean_steer.value() >= 0.0;
        let (inner, outer) = if to_left { (left, right) } else { (-right, -left) };
        let base = T::constant(axle.context.wheelbase);
        let by_axis = axle.reference.pivot_distance / base;
        let by_contact = axle.reference.contact_distance / base;
        let steered = axle.left.steered;
        let turned = steered && inner.value() > STRAIGHT && outer.value() > STRAIGHT;
        let if_turned = |value: T| if turned { value } else { absent() };
        let if_steered = |value: T| if steered { value } else { absent() };
        let outer_ideal = ideal_outer(inner, by_axis);
        let outer_ideal_contact = ideal_outer(inner, by_contact);
        // Plan view: the wheel axes cross where W + s a is the same for both.
        let (wl, wr) = (axle.left.wheel_centre, axle.right.wheel_centre);
        let (al, ar) = (axle.left.spin_axis_left(), axle.right.spin_axis_left());
        let cross = al.x * ar.y - al.y * ar.x;
        let along = ((wr.x - wl.x) * ar.y - (wr.y - wl.y) * ar.x) / cross;
        // From the axle as it stands straight ahead, as the wheelbase is: steered wheel centres wander.
        let behind = axle.reference.axle_x - (wl.x + al.x * along);
    }

    "inner_steer", "Inner wheel angle", Degree,
    sign "+ into the turn",
    "Steer angle of the wheel on the inside of the turn.",
    formula "steer angle of the left wheel in a left turn, minus that of the right wheel in a right turn",
    source "ISO 8855, as recalled",
    absent "the axle is not steered"
    => if_steered(inner);

    "outer_steer", "Outer wheel angle", Degree,
    sign "+ into the turn",
    "Steer angle of the wheel on the outside of the turn.",
    formula "steer angle of the other wheel, counted into the turn",
    source "ISO 8855, as recalled",
    absent "the axle is not steered"
    => if_steered(outer);

    "mean_steer", "Mean steer angle", Degree,
    sign "+ to the left",
    "Mean of the two wheels' steer angles.",
    formula "(left + right) / 2",
    source "ISO 8855",
    absent ""
    => mean_steer;

    "total_toe", "Total toe", Degree,
    sign "+ toe-in",
    "Sum of both wheels' toe.",
    formula "right steer - left steer",
    source "ISO 8855",
    absent ""
    => right - left;

    "outer_ideal", "Outer wheel angle, ideal", Degree,
    sign "+ into the turn",
    "Outer angle at which both front wheels' axes would meet on the rear axle's line, for the inner angle as it is; distance between the steering axes at the ground.",
    formula "cot(outer) - cot(inner) = w / L, w between steering axes at the ground at design, L wheelbase",
    source "ISO 8855 Ackermann geometry",
    absent "the axle is not steered, or about an axis within 5° of horizontal"
    => if_steered(outer_ideal);

    "outer_ideal_contact", "Outer wheel angle, ideal by contacts", Degree,
    sign "+ into the turn",
    "The same with the distance between the contact points, also common.",
    formula "cot(outer) - cot(inner) = w / L, w between contact points at design, L wheelbase",
    source "this program's definition",
    absent "the axle is not steered"
    => if_steered(outer_ideal_contact);

    "ackermann_error", "Ackermann error", Degree,
    sign "+ outer wheel turns more than the ideal",
    "Outer wheel angle minus the ideal one.",
    formula "outer - outer ideal",
    source "this program's definition",
    absent "the axle is not steered, or about an axis within 5° of horizontal"
    => if_steered(outer - outer_ideal);

    "ackermann_inner", "Ackermann, inside wheel as reference", Percent,
    sign "100 % = ideal, 0 = parallel, - = anti-Ackermann",
    "Difference between the wheels over the ideal difference, both for the inner angle as it is.",
    formula "(inner - outer) / (inner - outer ideal)",
    source "this program's definition",
    absent "the wheels are too near straight ahead: 0/0; or they steer about an axis within 5° of horizontal"
    => if_turned((inner - outer) / (inner - outer_ideal));

    "ackermann_contact", "Ackermann, inside wheel as reference, by contacts", Percent,
    sign "100 % = ideal, 0 = parallel, - = anti-Ackermann",
    "The same with the ideal from the distance between the contact points.",
    formula "(inner - outer) / (inner - outer ideal by contacts)",
    source "this program's definition",
    absent "the wheels are too near straight ahead: 0/0"
    => if_turned((inner - outer) / (inner - outer_ideal_contact));

    "ackermann_outer", "Ackermann, outer base", Percent,
    sign "100 % = ideal, 0 = parallel, - = anti-Ackermann",
    "Difference between the wheels over the ideal difference, both for the outer angle as it is.",
    formula "(inner - outer) / (inner ideal - outer)",
    source "this program's definition",
    absent "the wheels are too near straight ahead: 0/0; or they steer about an axis within 5° of horizontal"
    => if_turned((inner - outer) / (ideal_inner(outer, by_axis) - outer));

    "ackermann_mean", "Ackermann, mean base", Percent,
    sign "100 % = ideal, 0 = parallel, - = anti-Ackermann",
    "Difference between the wheels over that of the ideal pair with the same mean angle.",
    formula "(inner - outer) / (inner ideal - outer ideal), same mean",
    source "this program's definition",
    absent "the wheels are too near straight ahead: 0/0; or they steer about an axis within 5° of horizontal"
    => if_turned((inner - outer) / ideal_difference((inner + outer) * half, by_axis));

    "ackermann_crossing", "Ackermann, crossing distance", Percent,
    sign "100 % = ideal, 0 = parallel, - = anti-Ackermann (axes cross ahead of the axle)",
    "Wheelbase over the distance behind the front axle at which the front wheels' axes cross in plan.",
    formula "L / x, L wheelbase",
    source "this program's definition",
    absent "the wheels are too near straight ahead, or parallel"
    => if_turned(base / behind);

    "ackermann_arm_line", "Ackermann, arm lines at design", Percent,
    sign "100 % = arm lines meet on the rear axle, - = ahead of the front axle",
    "Wheelbase over the distance behind the front axle at which the lines from steering axis to tie rod's (track rod's) outer end meet the centre plane, in the design pose. A drawing-board rule, not what the wheels do.",
    formula "L / x of the arm lines, L wheelbase",
    source "this program's definition",
    absent "the axle is not steered, or about an axis within 5° of horizontal"
    => if_steered(base * axle.reference.arm_line_inverse);
}
