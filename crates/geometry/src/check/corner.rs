//! What is wrong or doubtful about one corner.

use super::{BEYOND_A_CAR, Finding, NO_SIZE, RATES, SAME, Severity, Subject, is_size};
use crate::car::hardpoint::Hardpoint;
use crate::car::position::WheelPosition;
use crate::car::springing::{Spring, Springing};
use crate::car::{Axle, Corner};
use crate::number::unit::LengthUnit;
use nalgebra::Vector3;
use std::f64::consts::TAU;

/// The check of one corner under way.
pub(super) struct CornerCheck<'a> {
    pub(super) at: WheelPosition,
    pub(super) axle: &'a Axle,
    pub(super) lengths: LengthUnit,
    found: Vec<Finding>,
}

impl CornerCheck<'_> {
    /// What is found in one corner of an axle.
    pub(super) fn of(axle: &Axle, at: WheelPosition, lengths: LengthUnit) -> Vec<Finding> {
        let mut check = CornerCheck { at, axle, lengths, found: Vec::new() };
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
            out: 0.0,
            likeliest: None,
        });
    }

    pub(super) fn fault(&mut self, subject: Subject, message: String, hint: impl Into<String>) {
        self.add(Severity::Fault, subject, message, hint);
    }

    pub(super) fn warn(&mut self, subject: Subject, message: String, hint: impl Into<String>) {
        self.add(Severity::Warning, subject, message, hint);
    }

    pub(super) fn faulty(&self) -> bool {
        self.found.iter().any(|finding| finding.severity == Severity::Fault)
    }

    pub(super) fn corner(&self) -> &Corner {
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
        // An axle is solved as a whole.
        if !self.faulty() && !self.corner().linkage.spec().is_beam() {
            self.solves();
        }
    }

    fn finite(&mut self) {
        let corner = self.corner().clone();
        let finite = |v: &Vector3<f64>| v.iter().all(|x| x.is_finite());
        for (hardpoint, at) in corner.hardpoints.iter() {
            if !finite(&at) {
                self.fault(
                    Subject::Hardpoint(hardpoint),
                    format!("{hardpoint}: a coordinate is not a finite number"),
                    "write three plain numbers",
                );
            } else if at.amax() > BEYOND_A_CAR {
                self.fault(
                    Subject::Hardpoint(hardpoint),
                    format!("{hardpoint}: stands {:.0} m from the origin", at.amax()),
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
            if !is_size(size) {
                self.fault(
                    Subject::Wheel(name),
                    format!(
                        "the wheel's {} is {} and must lie between 0 and 50 m",
                        name.replace('_', " "),
                        self.lengths.say(size, 1)
                    ),
                    "give a positive number",
                );
            }
        }
        let shoulder = wheel.tyre_shoulder_radius;
        if !(-NO_SIZE..=wheel.tyre_radius + NO_SIZE).contains(&shoulder) {
            self.fault(
                Subject::Wheel("tyre_shoulder_radius"),
                format!("the tyre's shoulder radius is {}", self.lengths.say(shoulder, 1)),
                "give a radius from 0 (a disc) to the tyre's own",
            );
        }
        for (name, size) in [("rim_width", wheel.rim_width), ("rim_inner_radius", wheel.rim_inner_radius)] {
            if size.is_some_and(|size| !is_size(size) || size > BEYOND_A_CAR) {
                self.fault(
                    Subject::Wheel(name),
                    format!(
                        "the wheel's {} is {} and must lie between 0 and 50 m",
                        name.replace('_', " "),
                        self.lengths.say(size.unwrap_or(0.0), 1)
                    ),
                    "give a positive number, or leave it out",
                );
            }
        }
        if let Some(inner) = wheel.rim_inner_radius.filter(|inner| *inner > wheel.rim_radius + NO_SIZE) {
            self.fault(
                Subject::Wheel("rim_inner_radius"),
                format!(
                    "the rim is {} in radius, and its inside {}",
                    self.lengths.say(wheel.rim_radius, 1),
                    self.lengths.say(inner, 1)
                ),
                "the inner radius is that of the clear space inside the barrel",
            );
        }
        for &(joint, axis) in &corner.joint_axes {
            // Not-a-number is no direction either.
            let is_direction = (axis.norm() - 1.0).abs() < 1e-6;
            if !is_direction || corner.hardpoints.get(joint).is_none() {
                self.fault(
                    Subject::Hardpoint(joint),
                    format!("{joint}: its bolt has no direction, or there is no such joint"),
                    "give a direction at a point where a link ends",
                );
            }
        }
        for &(joint, limit) in &corner.joint_limits {
            if !(NO_SIZE..=TAU).contains(&limit) || corner.hardpoints.get(joint).is_none() {
                self.fault(
                    Subject::Hardpoint(joint),
                    format!(
                        "{joint}: its joint limit is {:.1}° and must lie between 0° and 360°",
                        limit.to_degrees()
                    ),
                    "give a positive angle at a point where a link ends",
                );
            }
        }
        for &(link, length) in &corner.lengths {
            if !is_size(length) {
                self.fault(
                    Subject::Link(link),
                    format!(
                        "{link}: its length is {} and must lie between 0 and 50 m",
                        self.lengths.say(length, 1)
                    ),
                    "give a positive length, or leave it out to take it from the points",
                );
            }
        }
    }

    fn wheel(&mut self) {
        let side = self.at.side;
        let wheel = self.corner().wheel.clone();
        let out = side.sign() * wheel.centre.y;
        if out < SAME {
            self.fault(
                Subject::Wheel("centre"),
                format!(
                    "the {side} wheel's centre stands {} on the other side of the car",
                    self.lengths.say(-out, 1)
                ),
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
                format!("the tyre's radius comes to {}", self.lengths.say(wheel.tyre_radius, 1)),
                "the file's units are probably not the ones it declares",
            );
        }
    }

    fn damper(&mut self) {
        let corner = self.corner().clone();
        let rate = match corner.spring {
            Some(Spring::OnDamper { rate } | Spring::Separate { rate, .. }) => {
                Some((rate, format!("{} N/mm", rate * 1e-3)))
            }
            Some(Spring::TorsionBar { rate }) => Some((rate, format!("{} N·m/°", rate.to_radians()))),
            None => None,
        };
        if let Some((_, written)) = rate.filter(|(rate, _)| !RATES.contains(rate)) {
            self.fault(
                Subject::Spring,
                format!("the spring rate is {written} and must be positive"),
                "give a positive rate",
            );
        }
        let Some(stops) = corner.damper else { return };
        if !(is_size(stops.shortest) && is_size(stops.longest)) || stops.shortest >= stops.longest {
            self.fault(
                Subject::Damper,
                format!(
                    "the damper's stops are {} and {}",
                    self.lengths.say_number(stops.shortest, 1),
                    self.lengths.say(stops.longest, 1)
                ),
                "give the shortest length, then a longer longest",
            );
            return;
        }
        let eyes = match corner.springing {
            Some(Springing::Strut) => (Hardpoint::StrutBottom, Hardpoint::StrutTop),
            _ => (Hardpoint::DamperRocker, Hardpoint::DamperBody),
        };
        if let (Some(a), Some(b)) = (corner.hardpoints.get(eyes.0), corner.hardpoints.get(eyes.1)) {
            let length = (a - b).norm();
            if !(stops.shortest..=stops.longest).contains(&length) {
                self.warn(
                    Subject::Damper,
                    format!(
                        "the damper is {} long in the design pose, outside its stops of {} to {}",
                        self.lengths.say(length, 1),
                        self.lengths.say_number(stops.shortest, 1),
                        self.lengths.say(stops.longest, 1)
                    ),
                    "look at its eyes and its stops",
                );
            }
        }
    }
}
