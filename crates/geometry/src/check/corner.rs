//! What is wrong or doubtful about one corner.

use super::{Finding, Severity, Subject};
use crate::car::{Axle, Carrier, Corner, Springing};
use crate::corner_solver::CornerSolver;
use crate::linkage::double_wishbone;
use crate::pickup::{Link, Pickup};
use crate::side::WheelAt;
use crate::stop::StopKind;
use nalgebra::Vector3;

// Verdicts do not hang on rounding: none is at nothing, and none at a round number of millimetres, or a car
// that loads could, written in other units, load no more.

/// Points nearer than this are the same point, metres.
const SAME: f64 = 0.999e-4;
/// Less than this is no size, metres.
pub(super) const NO_SIZE: f64 = 0.999e-6;
/// No car reaches so far, metres.
pub(super) const BEYOND_A_CAR: f64 = 50.001;
/// A steering arm shorter than this cannot steer, metres.
const SHORTEST_ARM: f64 = 5e-3;

/// The check of one corner under way.
pub(super) struct CornerCheck<'a> {
    at: WheelAt,
    axle: &'a Axle,
    found: Vec<Finding>,
}

impl CornerCheck<'_> {
    /// What is found in one corner of an axle.
    pub(super) fn of(axle: &Axle, at: WheelAt) -> Vec<Finding> {
        let mut check = CornerCheck { at, axle, found: Vec::new() };
        check.run();
        check.found
    }

    fn add(&mut self, severity: Severity, subject: Subject, message: String, hint: impl Into<String>) {
        self.found.push(Finding {
            severity,
            end: Some(self.at.end),
            side: Some(self.at.side),
            subject,
            message,
            hint: hint.into(),
        });
    }

    fn fault(&mut self, subject: Subject, message: String, hint: impl Into<String>) {
        self.add(Severity::Fault, subject, message, hint);
    }

    fn warn(&mut self, subject: Subject, message: String, hint: impl Into<String>) {
        self.add(Severity::Warning, subject, message, hint);
    }

    fn faulty(&self) -> bool {
        self.found.iter().any(|finding| finding.severity == Severity::Fault)
    }

    fn corner(&self) -> &Corner {
        self.axle.corner(self.at.side)
    }

    fn run(&mut self) {
        self.finite();
        if self.faulty() {
            return;
        }
        self.complete();
        self.wheel();
        if self.faulty() {
            return;
        }
        self.apart();
        self.sides();
        self.damper();
        if !self.faulty() {
            self.solves();
        }
    }

    fn finite(&mut self) {
        let corner = self.corner().clone();
        let finite = |v: &Vector3<f64>| v.iter().all(|x| x.is_finite());
        for (pickup, at) in corner.pickups.iter() {
            if !finite(&at) {
                self.fault(
                    Subject::Pickup(pickup),
                    format!("{pickup}: a coordinate is not a finite number"),
                    "write three plain numbers",
                );
            } else if at.amax() > BEYOND_A_CAR {
                self.fault(
                    Subject::Pickup(pickup),
                    format!("{pickup}: stands {:.0} m from the origin", at.amax()),
                    "the file's units are probably not the ones it declares",
                );
            }
        }
        let wheel = &corner.wheel;
        for (name, ok) in [("centre", finite(&wheel.centre)), ("spin_axis", finite(&wheel.spin_axis))] {
            if !ok {
                self.fault(
                    Subject::Wheel(name),
                    format!("wheel {}: not a finite number", name.replace('_', " ")),
                    "write plain numbers",
                );
            }
        }
        if wheel.centre.amax() > BEYOND_A_CAR {
            self.fault(
                Subject::Wheel("centre"),
                format!("the wheel centre stands {:.0} m from the origin", wheel.centre.amax()),
                "the file's units are probably not the ones it declares",
            );
        }
        for (name, size) in [
            ("tyre_radius", wheel.tyre_radius),
            ("tyre_width", wheel.tyre_width),
            ("rim_radius", wheel.rim_radius),
        ] {
            if !(NO_SIZE..=BEYOND_A_CAR).contains(&size) {
                self.fault(
                    Subject::Wheel(name),
                    format!("wheel {}: {:.1} mm is no size", name.replace('_', " "), size * 1e3),
                    "give a positive number",
                );
            }
        }
        for &(link, length) in &corner.lengths {
            if !(NO_SIZE..=BEYOND_A_CAR).contains(&length) {
                self.fault(
                    Subject::Link(link),
                    format!("{link}: a length of {:.1} mm is none", length * 1e3),
                    "give a positive length, or leave it out to take it from the points",
                );
            }
        }
    }

    fn complete(&mut self) {
        use Pickup as P;
        let corner = self.corner().clone();
        let steered = self.axle.steering.rack().is_some();
        let mut needed: Vec<(Pickup, &str)> =
            double_wishbone::required(steered).iter().map(|&p| (p, "the double wishbone")).collect();
        if let Some(springing) = corner.springing {
            needed.extend([(P::DamperRocker, "the damper"), (P::DamperBody, "the damper")]);
            if let Springing::Rocker { .. } = springing {
                let rocker = [P::PushrodOuter, P::PushrodInner, P::RockerPivot, P::RockerAxis];
                needed.extend(rocker.map(|p| (p, "the rocker")));
            }
        }
        if corner.drop_link_on.is_some() {
            let bar = [P::DropLinkOuter, P::DropLinkBar, P::BarPivot, P::BarAxis];
            needed.extend(bar.map(|p| (p, "the anti-roll bar")));
        }
        for &(pickup, owner) in &needed {
            if corner.pickups.get(pickup).is_none() {
                self.fault(
                    Subject::Pickup(pickup),
                    format!("{pickup}: missing, {owner} needs it"),
                    format!("add `{}`", pickup.key()),
                );
            }
        }
        for (pickup, _) in corner.pickups.iter() {
            if !needed.iter().any(|(p, _)| *p == pickup) {
                self.warn(
                    Subject::Pickup(pickup),
                    format!("{pickup}: given, but nothing uses it"),
                    "remove it, or add the part it belongs to",
                );
            }
        }
        for &(link, _) in &corner.lengths {
            let (inner, outer) = link.ends();
            if corner.pickups.get(inner).is_none() || corner.pickups.get(outer).is_none() {
                self.fault(
                    Subject::Link(link),
                    format!("{link}: has a length, but this corner has no such link"),
                    "remove the length",
                );
            }
        }
        let rocker = matches!(corner.springing, Some(Springing::Rocker { .. }));
        if corner.drop_link_on == Some(Carrier::Rocker) && !rocker {
            self.fault(
                Subject::Pickup(P::DropLinkOuter),
                "the drop link hangs on a rocker that this corner has not".into(),
                "hang it on a wishbone or the upright, or give the corner a rocker",
            );
        }
        let on_itself = |c| c == Carrier::Rocker;
        if let Some(Springing::Rocker { pushrod_on: c } | Springing::Direct { on: c }) = corner.springing
            && on_itself(c)
        {
            self.fault(
                Subject::Pickup(P::DamperRocker),
                "the pushrod or damper cannot stand on the rocker it works".into(),
                "put it on a wishbone or the upright",
            );
        }
    }

    fn wheel(&mut self) {
        let side = self.at.side;
        let wheel = self.corner().wheel.clone();
        let out = side.sign() * wheel.centre.y;
        if out < SAME {
            self.fault(
                Subject::Wheel("centre"),
                format!("the {side} wheel's centre stands {:.1} mm on the other side of the car", -out * 1e3),
                "left is y > 0: look at the sign, or at the file's axes",
            );
        }
        if (wheel.spin_axis.norm() - 1.0).abs() > 1e-6 || side.sign() * wheel.spin_axis.y < 0.5 {
            self.fault(
                Subject::Wheel("spin_axis"),
                "the wheel's spin axis does not point outboard".into(),
                "give a point outboard of the wheel centre, or camber and toe",
            );
        }
        if !(0.099_99..=0.800_01).contains(&wheel.tyre_radius) {
            self.fault(
                Subject::Wheel("tyre_radius"),
                format!("the tyre's radius comes to {:.1} mm", wheel.tyre_radius * 1e3),
                "the file's units are probably not the ones it declares",
            );
        }
    }

    /// Points that must stand apart do.
    fn apart(&mut self) {
        use Pickup as P;
        let corner = self.corner().clone();
        let at = |p: Pickup| corner.pickups.get(p);
        for &link in Link::ALL {
            let (inner, outer) = link.ends();
            if let (Some(a), Some(b)) = (at(inner), at(outer))
                && (a - b).norm() < SAME
            {
                self.fault(
                    Subject::Link(link),
                    format!("{link}: its ends stand {:.3} mm apart: no length", (a - b).norm() * 1e3),
                    format!("look at `{}` and `{}`", inner.key(), outer.key()),
                );
            }
        }
        let pairs = [
            (
                P::UpperWishboneFront,
                P::UpperWishboneRear,
                "the upper wishbone's two inner points coincide: it has no hinge line",
            ),
            (
                P::LowerWishboneFront,
                P::LowerWishboneRear,
                "the lower wishbone's two inner points coincide: it has no hinge line",
            ),
            (P::UpperBallJoint, P::LowerBallJoint, "the ball joints coincide: there is no steering axis"),
            (P::RockerPivot, P::RockerAxis, "the rocker's two axis points coincide: it has no axis"),
            (P::BarPivot, P::BarAxis, "the anti-roll bar's two axis points coincide: it has no axis"),
            (P::DamperRocker, P::DamperBody, "the damper's two eyes coincide: it has no length"),
        ];
        for (a, b, what) in pairs {
            if let (Some(pa), Some(pb)) = (at(a), at(b))
                && (pa - pb).norm() < SAME
            {
                self.fault(
                    Subject::Pickup(a),
                    what.to_owned(),
                    format!("look at `{}` and `{}`", a.key(), b.key()),
                );
            }
        }
        // Distance of a point from the line through two others.
        let off = |p: Pickup, a: Pickup, b: Pickup| {
            let (p, a, b) = (at(p)?, at(a)?, at(b)?);
            let along = (b - a).try_normalize(SAME)?;
            Some((p - a).cross(&along).norm())
        };
        let levers = [
            (
                P::UpperBallJoint,
                P::UpperWishboneFront,
                P::UpperWishboneRear,
                SAME,
                "stands on the wishbone's own hinge line",
            ),
            (
                P::LowerBallJoint,
                P::LowerWishboneFront,
                P::LowerWishboneRear,
                SAME,
                "stands on the wishbone's own hinge line",
            ),
            (
                P::TieRodOuter,
                P::LowerBallJoint,
                P::UpperBallJoint,
                SHORTEST_ARM,
                "stands on the steering axis: the steering arm has no length",
            ),
            (
                P::ToeLinkOuter,
                P::LowerBallJoint,
                P::UpperBallJoint,
                SHORTEST_ARM,
                "stands on the line through the ball joints: it cannot hold the wheel's toe",
            ),
            (
                P::PushrodInner,
                P::RockerPivot,
                P::RockerAxis,
                SAME,
                "stands on the rocker's own axis: it cannot turn it",
            ),
            (
                P::DamperRocker,
                P::RockerPivot,
                P::RockerAxis,
                SAME,
                "stands on the rocker's own axis: the rocker cannot move it",
            ),
            (
                P::DropLinkBar,
                P::BarPivot,
                P::BarAxis,
                SAME,
                "stands on the anti-roll bar's own axis: it cannot twist it",
            ),
        ];
        for (p, a, b, least, what) in levers {
            if let Some(distance) = off(p, a, b)
                && distance < least
            {
                self.fault(
                    Subject::Pickup(p),
                    format!("{p}: {what} ({:.2} mm off it)", distance * 1e3),
                    format!("look at `{}`, `{}` and `{}`", p.key(), a.key(), b.key()),
                );
            }
        }
    }

    /// No sign of a y is wrong: the links would still close, so only this can tell.
    fn sides(&mut self) {
        use Pickup as P;
        let corner = self.corner().clone();
        let side = self.at.side;
        let outer = [P::UpperBallJoint, P::LowerBallJoint, P::TieRodOuter, P::ToeLinkOuter, P::PushrodOuter];
        let half = side.sign() * corner.wheel.centre.y;
        for (pickup, at) in corner.pickups.iter() {
            let out = side.sign() * at.y;
            if outer.contains(&pickup) && out < SAME {
                self.fault(
                    Subject::Pickup(pickup),
                    format!(
                        "{pickup}: y = {:.1} mm stands on the other side of the car's centre plane",
                        at.y * 1e3
                    ),
                    "look at the sign of y",
                );
            } else if out < -0.5 * half {
                self.warn(
                    Subject::Pickup(pickup),
                    format!("{pickup}: y = {:.1} mm stands far across the car's centre plane", at.y * 1e3),
                    "look at the sign of y",
                );
            }
        }
        for link in double_wishbone::links(self.axle.steering.rack().is_some()) {
            let (inner, outer) = link.ends();
            let (Some(a), Some(b)) = (corner.pickups.get(inner), corner.pickups.get(outer)) else { continue };
            let (a, b) = (side.sign() * a.y, side.sign() * b.y);
            if b > 0.0 && b < a {
                self.warn(
                    Subject::Link(link),
                    format!("{link}: its outer end stands {:.1} mm inboard of its inner end", (a - b) * 1e3),
                    "look at the two y coordinates",
                );
            }
        }
    }

    fn damper(&mut self) {
        let corner = self.corner().clone();
        let Some(stops) = corner.damper else { return };
        let lengths = NO_SIZE..=BEYOND_A_CAR;
        if !(lengths.contains(&stops.shortest) && lengths.contains(&stops.longest))
            || stops.shortest >= stops.longest
        {
            self.fault(
                Subject::Damper,
                format!(
                    "the damper's stops are {:.1} and {:.1} mm",
                    stops.shortest * 1e3,
                    stops.longest * 1e3
                ),
                "give the shortest length, then a longer longest",
            );
            return;
        }
        if let (Some(a), Some(b)) =
            (corner.pickups.get(Pickup::DamperRocker), corner.pickups.get(Pickup::DamperBody))
        {
            let length = (a - b).norm();
            if !(stops.shortest..=stops.longest).contains(&length) {
                self.warn(Subject::Damper, format!("the damper is {:.1} mm long in the design pose, outside its stops of {:.1} to {:.1} mm", length * 1e3, stops.shortest * 1e3, stops.longest * 1e3), "look at its eyes and its stops");
            }
        }
    }

    fn solves(&mut self) {
        let rack_axis = self.axle.steering.rack().map(|rack| rack.axis);
        let corner = self.corner().clone();
        let solver = match CornerSolver::new(&corner, self.at.side, rack_axis) {
            Ok(solver) => solver,
            Err(stop) => {
                let named = Link::ALL.iter().copied().find(|link| stop.links.contains(&link.label()));
                let subject = match (stop.kind, named) {
                    (StopKind::CannotAlign, _) | (_, None) => Subject::Alignment,
                    (_, Some(link)) => Subject::Link(link),
                };
                let hint = match stop.kind {
                    StopKind::DeadPoint => {
                        "the design pose is a dead point: move one of these links out of line"
                    }
                    StopKind::CannotAssemble => {
                        "correct the length, or leave it out to take it from the points"
                    }
                    StopKind::CannotAlign => "ask for an angle nearer to what the points give",
                    _ => "look at the points of these links",
                };
                let message = if stop.kind == StopKind::DeadPoint {
                    format!(
                        "the linkage is at a dead point in its design pose; in line: {}",
                        stop.links.join("; ")
                    )
                } else {
                    stop.to_string()
                };
                self.fault(subject, message, hint);
                return;
            }
        };
        let motion = &solver.start().motion;
        let camber = -motion.spin_axis.z.asin().to_degrees();
        if camber.abs() > 8.0 {
            self.warn(
                Subject::Wheel("spin_axis"),
                format!("static camber is {camber:.1}°"),
                "race cars run about −4° to +2° (common practice)",
            );
        }
        let k = motion.steering_axis();
        let caster = (-k.x).atan2(k.z).to_degrees();
        if solver.steered() && !(-1.0..=15.0).contains(&caster) {
            self.warn(
                Subject::Pickup(Pickup::UpperBallJoint),
                format!("caster is {caster:.1}°"),
                "steered wheels run about 3° to 12° (common practice): look at the ball joints' x",
            );
        }
    }
}
