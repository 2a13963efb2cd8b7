//! Rack, steering box and column.

use super::Measured;
use crate::car::Axle;
use crate::car::hardpoint::Hardpoint;
use crate::car::position::{End, Side};
use crate::car::steering::Steering;
use crate::check::Subject;
use crate::check::usual::{self, Usual};
use nalgebra::Vector3;
use std::f64::consts::TAU;

pub(super) fn measure(axle: &Axle, end: End, all: &mut Vec<Measured>) {
    let size = axle.left.wheel.tyre_radius;
    let mut add = |usual: Usual, value: f64, key: &'static str| {
        let (end, subject) = (Some(end), Subject::Steering(key));
        all.push(Measured { usual, value, tyre_radius: size, end, side: None, subject, points: vec![] });
    };
    match &axle.steering {
        Steering::Fixed => {}
        Steering::Rack(rack) => {
            add(usual::RACK_AXIS, super::between(&rack.axis, &Vector3::y()), "axis");
            add(usual::RACK_PER_TURN, rack.travel_per_turn.abs(), "travel_per_turn");
            add(usual::RACK_STOP, rack.stop_left, "stop_left");
            add(usual::RACK_STOP, rack.stop_right, "stop_right");
            add(usual::STOPS_ALIKE, rack.stop_left / rack.stop_right, "stop_left");
        }
        Steering::Box(own) => {
            add(usual::BOX_RATIO, own.ratio.abs(), "ratio");
            add(usual::BOX_STOP, own.stop_left, "stop_left_deg");
            add(usual::BOX_STOP, own.stop_right, "stop_right_deg");
            add(usual::STOPS_ALIKE, own.stop_left / own.stop_right, "stop_left_deg");
            let mirror = |v: Vector3<f64>| Vector3::new(v.x, -v.y, v.z);
            let keys =
                [["pitman_pivot", "pitman_axis", "pitman_ball"], ["idler_pivot", "idler_axis", "idler_ball"]];
            for (arm, [pivot, axis, ball]) in [&own.pitman, &own.idler].into_iter().zip(keys) {
                let out = arm.ball - arm.pivot;
                let off = out - arm.axis * out.dot(&arm.axis);
                add(usual::PITMAN_ARM, off.norm(), ball);
                add(usual::PITMAN_DROP, out.dot(&arm.axis), pivot);
                add(usual::PITMAN_AXIS, super::between(&arm.axis, &Vector3::z()), axis);
                add(usual::PITMAN_ALONG, super::between(&off, &Vector3::x()), ball);
            }
            let twin = |a: Vector3<f64>, b: Vector3<f64>| a - mirror(b);
            let pivots = twin(own.pitman.pivot, own.idler.pivot);
            let balls = twin(own.pitman.ball, own.idler.ball);
            for i in 0..3 {
                add(usual::IDLER_TWIN, pivots[i], "idler_pivot");
                add(usual::IDLER_TWIN, balls[i], "idler_ball");
            }
            for side in Side::BOTH {
                let Some(inner) = axle.corner(side).hardpoints.get(Hardpoint::TieRodInner) else { continue };
                let ball = if side == Side::Left { own.pitman.ball } else { own.idler.ball };
                let link = own.idler.ball - own.pitman.ball;
                let share = (inner - own.pitman.ball).dot(&link) / link.norm_squared();
                let off = inner - (own.pitman.ball + link * share);
                let (end, side, points) = (Some(end), Some(side), vec![Hardpoint::TieRodInner]);
                let subject = Subject::Hardpoint(Hardpoint::TieRodInner);
                for (usual, value) in
                    [(usual::OFF_CENTRE_LINK, off.norm()), (usual::FROM_BALL, (inner.y - ball.y).abs())]
                {
                    let points = points.clone();
                    all.push(Measured { usual, value, tyre_radius: size, end, side, subject, points });
                }
            }
        }
    }
    let joints: Vec<_> = axle.column.joints.iter().flatten().collect();
    if axle.steering.steers() && !joints.is_empty() {
        let ratios = || (0..48).map(|i| axle.column.ratio_at(f64::from(i) * TAU / 48.0));
        let (low, high) =
            ratios().fold((f64::INFINITY, 0.0), |(l, h): (f64, f64), r: f64| (l.min(r), h.max(r)));
        let mut add = |usual: Usual, value: f64| {
            let (end, subject) = (Some(end), Subject::Axle("column"));
            all.push(Measured { usual, value, tyre_radius: size, end, side: None, subject, points: vec![] });
        };
        add(usual::COLUMN_UNEVEN, high / low - 1.0);
        for joint in joints {
            add(usual::COLUMN_BEND, joint.bend.abs());
        }
    }
}
