//! The steering wheel and what it turns.

use super::absent;
use crate::axle::axle_motion::AxleMotion;

readings! {
    scope Axle; group SteerMotion;
    values(axle: AxleMotion) {
        let c = T::constant;
        // A steering wheel that does not move the rack has no angle.
        let gear = axle.context.steered_by.filter(|gear| gear.shaft_per_input.is_finite());
        let turned = gear.map(|gear| gear.column.wheel_at(gear.shaft_per_input * axle.steer));
        let column = gear.zip(turned).map(|(gear, turned)| gear.column.ratio_at(turned));
        let gains = axle.left.steer_gain().zip(axle.right.steer_gain());
        let mean = gains.map(|(left, right)| (left + right) * c(0.5)).filter(|mean| mean.value() != 0.0);
        let per_input = gear.zip(column).map(|(gear, column)| gear.shaft_per_input / column);
    }

    "steering_wheel_angle", "Steering-wheel angle", Degree,
    sign "+ left turn",
    "Angle of the steering wheel from straight ahead that gives this steering input, through rack or box and the column's joints.",
    formula "column backward from the shaft's turn",
    source "ISO 8855 term (read)",
    absent "nothing steers, or the steering wheel does not move the rack"
    => turned.map_or_else(absent, c);

    "column_ratio", "Column ratio", Ratio,
    sign "+",
    "Turn of the shaft that enters rack or box per turn of the steering wheel: 1 without Cardan joints, uneven with one, even again with two that undo each other.",
    formula "product of cos b / (1 - sin² b cos² yoke angle) of the joints",
    source "Khurmi & Gupta, Theory of Machines, Hooke's joint, as recalled",
    absent "nothing steers, or the steering wheel does not move the rack"
    => column.map_or_else(absent, c);

    "overall_steering_ratio", "Overall steering ratio", Ratio,
    sign "+ a left turn of the steering wheel steers to the left",
    "Turn of the steering wheel per steer of the wheels, mean of both, the wheel centres' heights held.",
    formula "d(steering wheel)/d(mean steer)",
    source "ISO 8855, as recalled",
    absent "no steered wheels, or the steering wheel does not move them"
    => per_input.zip(mean).map_or_else(absent, |(per_input, mean)| c(per_input) / mean);
}
