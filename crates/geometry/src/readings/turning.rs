//! The slow turn: where its centre is and how wide it is.

use super::absent;
use crate::axle_motion::AxleMotion;
use crate::side::{End, Side};

/// Mean steer below which the turn centre is too far to tell, radians (a twentieth of a degree).
const STRAIGHT: f64 = 8.7e-4;

readings! {
    scope Axle; group Turning;
    values(axle: AxleMotion) {
        let half = T::constant(0.5);
        let c = T::constant;
        let rear_line = axle.reference.axle_x - c(axle.context.wheelbase);
        let crossing = |side| {
            let corner = axle.corner(side);
            let a = corner.spin_axis_left();
            corner.wheel_centre.y + (rear_line - corner.wheel_centre.x) * a.y / a.x
        };
        let a = axle.left.spin_axis_left() + axle.right.spin_axis_left();
        let turns = axle.context.end == End::Front
            && axle.left.steered
            && (a.x / a.y).value().abs() > STRAIGHT;
        let (yl, yr) = (crossing(Side::Left), crossing(Side::Right));
        let centre = (yl + yr) * half;
        let outside = if (-a.x).value() > 0.0 { Side::Right } else { Side::Left };
        let wheel = axle.wheel(outside);
        let from = |p: nalgebra::Vector3<T>, y: T| {
            let (dx, dy) = (p.x - rear_line, p.y - y);
            (dx * dx + dy * dy).sqrt()
        };
        let own = if outside == Side::Left { yl } else { yr };
        let edge = wheel.contact + wheel.outboard * c(axle.context.half_tyre[usize::from(outside == Side::Right)]);
        let if_turns = |value: T| if turns { value } else { absent() };
    }

    "turn_centre_y", "Turn centre, Y", Metre,
    sign "+ to the left",
    "Where the front wheels' axes cross the rear axle's line in plan, mean of both: the centre of a slow turn.",
    formula "mean of both axes' y at the rear axle's x",
    source "common practice, no source",
    absent "no steered wheels, or too near straight ahead"
    => if_turns(centre);

    "turn_radius", "Turn radius at the rear axle", Metre,
    sign "+",
    "Distance of the turn centre from the car's centre plane.",
    formula "|turn centre y|",
    source "common practice, no source",
    absent "no steered wheels, or too near straight ahead"
    => if_turns(centre * c(if centre.value() < 0.0 { -1.0 } else { 1.0 }));

    "turning_circle", "Turning circle, outer contact", Metre,
    sign "+",
    "Diameter of the circle of the outer front contact point about the turn centre.",
    formula "2 |P_outer - turn centre| in plan",
    source "common practice, no source",
    absent "no steered wheels, or too near straight ahead"
    => if_turns(from(wheel.contact, centre) * c(2.0));

    "turning_circle_tyre_edge", "Turning circle, outer tyre edge", Metre,
    sign "+",
    "Diameter of the circle of the outer front tyre's outer edge beside the contact.",
    formula "2 |P_outer + half tyre width outboard - turn centre| in plan",
    source "common practice, no source",
    absent "no steered wheels, or too near straight ahead"
    => if_turns(from(edge, centre) * c(2.0));

    "turning_circle_outer_axis", "Turning circle, outer wheel's own axis", Metre,
    sign "+",
    "The same about the point where the outer wheel's own axis crosses the rear axle's line.",
    formula "2 |P_outer - crossing of its own axis| in plan",
    source "common practice, no source",
    absent "no steered wheels, or too near straight ahead"
    => if_turns(from(wheel.contact, own) * c(2.0));
}
