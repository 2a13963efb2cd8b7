//! What is wrong or doubtful about an axle as a whole.

use super::{BEYOND_A_CAR, Finding, Found, RATES, SAME, SHORTEST_ARM, Severity, Subject, is_size};
use crate::axle::beam::BeamAxle;
use crate::axle::beam_solver::beam_of;
use crate::axle::cross_axle::{CrossAxle, DEAD};
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::point_set::PointSet;
use crate::car::position::{End, Side};
use crate::car::springing::BarKind;
use crate::car::{Axle, Component};
use crate::linkage::locating_rods;
use crate::mechanism::stop::StopKind;
use nalgebra::Vector3;

struct AxleCheck<'a> {
    axle: &'a Axle,
    end: End,
    found: &'a mut Found,
}

/// Looks over an axle; `sound` says that its corners had no fault.
pub(super) fn check(axle: &Axle, end: End, sound: bool, found: &mut Found) {
    let before = found.all.len();
    let mut check = AxleCheck { axle, end, found };
    check.points();
    check.rates();
    check.kinds();
    check.between();
    check.across();
    if axle.left.linkage.spec().has_track_rod {
        check.knuckles();
    }
    let whole = !found.has_fault_since(before);
    if axle.is_beam() && whole {
        let mut check = AxleCheck { axle, end, found };
        if check.freedoms() && sound {
            check.solves();
        }
    }
}

impl AxleCheck<'_> {
    fn add(&mut self, severity: Severity, subject: Subject, message: String, hint: impl Into<String>) {
        let (end, hint) = (Some(self.end), hint.into());
        self.found.push(Finding {
            severity,
            end,
            side: None,
            subject,
            message,
            hint,
            out: 0.0,
            likeliest: None,
        });
    }

    fn fault(&mut self, subject: Subject, message: String, hint: impl Into<String>) {
        self.add(Severity::Fault, subject, message, hint);
    }

    fn points(&mut self) {
        let axle = self.axle;
        for (hardpoint, at) in axle.hardpoints.iter() {
            if !at.iter().all(|x| x.is_finite() && x.abs() <= BEYOND_A_CAR) {
                self.fault(
                    Subject::Hardpoint(hardpoint),
                    format!("{hardpoint}: no place on a car"),
                    "write three plain numbers, in the units the file declares",
                );
            }
        }
        let needs = axle.own_needs();
        for need in needs.iter().filter(|need| need.must) {
            if axle.hardpoints.get(need.hardpoint).is_none() {
                self.fault(
                    Subject::Hardpoint(need.hardpoint),
                    format!("{}: missing, {} needs it", need.hardpoint, need.user),
                    format!("add `{}`", need.hardpoint.key()),
                );
            }
        }
        for (hardpoint, _) in axle.hardpoints.iter() {
            if !needs.iter().any(|need| need.hardpoint == hardpoint) {
                self.add(
                    Severity::Warning,
                    Subject::Hardpoint(hardpoint),
                    format!("{hardpoint}: given, but nothing uses it"),
                    "remove it, or add the part it belongs to",
                );
            }
        }
        for link in Link::ALL.iter().copied().filter(|link| link.is_of_axle()) {
            let (inner, outer) = link.ends();
            let ends = axle.hardpoints.get(inner).zip(axle.hardpoints.get(outer));
            if let Some((a, b)) = ends
                && (a - b).norm() < SAME
            {
                self.fault(
                    Subject::Link(link),
                    format!(
                        "{link}: its ends stand {} apart: no length",
                        self.found.lengths.say((a - b).norm(), 3)
                    ),
                    format!("look at `{}` and `{}`", inner.key(), outer.key()),
                );
            }
        }
        for &(link, length) in &axle.lengths {
            let (inner, outer) = link.ends();
            let absent = axle.hardpoints.get(inner).is_none() || axle.hardpoints.get(outer).is_none();
            if absent || !is_size(length) {
                self.fault(
                    Subject::Link(link),
                    format!(
                        "{link}: a length of {} is given for {}",
                        self.found.lengths.say(length, 1),
                        if absent {
                            "a link that is not there"
                        } else {
                            "it, and must lie between 0 and 50 m"
                        }
                    ),
                    "give a positive length of a link that the axle has, or leave it out",
                );
            }
        }
    }

    fn rates(&mut self) {
        let bar = self.axle.anti_roll_bar.and_then(|bar| bar.rate).map(|rate| (rate, "anti_roll_bar"));
        let third = self.axle.third_spring.and_then(|third| third.rate).map(|rate| (rate, "third_spring"));
        for (rate, what) in bar.into_iter().chain(third).filter(|(rate, _)| !RATES.contains(rate)) {
            // As the file has it: a bar's in newton metres a degree, a spring's in newtons a millimetre.
            let written = match what {
                "anti_roll_bar" => format!("{} N·m/°", rate.to_radians()),
                _ => format!("{} N/mm", rate * 1e-3),
            };
            let message =
                format!("the rate of the {} is {written} and must be positive", what.replace('_', " "));
            self.fault(Subject::Axle(what), message, "give a positive rate, or leave it out");
        }
    }

    fn kinds(&mut self) {
        let [left, right] = [&self.axle.left, &self.axle.right].map(|corner| corner.linkage);
        let beams = [left, right].iter().filter(|kind| kind.spec().is_beam()).count();
        if beams == 1 {
            let message = "one side is a beam axle, the other is not".into();
            self.fault(Subject::Axle("linkage"), message, "an axle has one linkage");
        } else if beams == 2 && left != right {
            let message = format!("one side is a {}, the other a {}", left.label(), right.label());
            self.fault(Subject::Axle("linkage"), message, "an axle has one linkage");
        }
        match self.axle.watt_lever_on {
            None | Some(Component::Body | Component::Upright) => {}
            Some(other) => {
                let message = format!("the Watt lever cannot turn on the {}", other.label());
                self.fault(Subject::Axle("watt_lever_on"), message, "put it on the body or on the axle");
            }
        }
        if self.axle.watt_lever_on.is_some() && beams == 0 {
            let message = "a Watt linkage locates a beam axle, and this axle has independent wheels".into();
            self.add(Severity::Warning, Subject::Axle("watt_lever_on"), message, "remove it");
        }
    }

    /// Axes that need two points have them.
    fn between(&mut self) {
        let at = |hardpoint| self.axle.hardpoints.get(hardpoint);
        let apart = |a, b| at(a).zip(at(b)).is_some_and(|(a, b)| (a - b).norm() < SAME);
        let mut faults = Vec::new();
        if apart(Hardpoint::WattPivot, Hardpoint::WattAxis) {
            faults.push((Hardpoint::WattPivot, "the Watt lever's two axis points coincide: it has no axis"));
        }
        if apart(Hardpoint::TBarPivot, Hardpoint::TBarAxis) {
            faults.push((Hardpoint::TBarPivot, "the T-bar's two axis points coincide: it has no axis"));
        }
        if apart(Hardpoint::TBarPivot, Hardpoint::TBarHead) {
            faults.push((Hardpoint::TBarHead, "the T-bar's stem has no length"));
        }
        for (hardpoint, what) in faults {
            self.fault(
                Subject::Hardpoint(hardpoint),
                what.to_owned(),
                format!("look at `{}`", hardpoint.key()),
            );
        }
        self.drop_links();
    }

    /// A bar works between two drop links; a T-bar that hangs on one stands nowhere.
    fn drop_links(&mut self) {
        let Some(kind) = self.axle.bar_kind() else { return };
        let lacking = Side::BOTH.into_iter().filter(|side| self.axle.corner(*side).drop_link_on.is_none());
        let lacking: Vec<Side> = lacking.collect();
        let hint = "add `drop_link_on` to that side, or remove the bar";
        for side in &lacking {
            if kind == BarKind::T && lacking.len() == 1 {
                let message = format!("the T-bar has no drop link on the {side}: one alone does not hold it");
                self.fault(Subject::Axle("anti_roll_bar"), message, hint);
                continue;
            }
            let kind = if kind == BarKind::T { "T-bar" } else { "anti-roll bar" };
            let message = format!("the {kind} has no drop link on the {side}");
            self.add(Severity::Warning, Subject::Axle("anti_roll_bar"), message, hint);
        }
    }

    /// Third spring and T-bar: lengths, and levers that work.
    fn across(&mut self) {
        let axle = self.axle;
        let end = |side: Side, hardpoint| axle.corner(side).hardpoints.get(hardpoint);
        let ends = |hardpoint| end(Side::Left, hardpoint).zip(end(Side::Right, hardpoint));
        if let Some((left, right)) = ends(Hardpoint::ThirdSpringEnd).filter(|_| axle.third_spring.is_some())
            && (left - right).norm() < SAME
        {
            let hint = "look at `third_spring_end` on both sides";
            let message = "the third spring's two ends coincide: it has no length".into();
            self.fault(Subject::Axle("third_spring"), message, hint);
        }
        if axle.bar_kind() == Some(BarKind::T) {
            self.t_bar();
        }
    }

    /// A T-bar whose stem swings, whose crossbar twists it, and whose drop links hold both.
    fn t_bar(&mut self) {
        let axle = self.axle;
        let at = |hardpoint| axle.hardpoints.get(hardpoint);
        let points = at(Hardpoint::TBarPivot).zip(at(Hardpoint::TBarAxis)).zip(at(Hardpoint::TBarHead));
        let Some(((pivot, axis), head)) = points else { return };
        let off = |point: Vector3<f64>, to: Vector3<f64>| {
            (to - pivot).try_normalize(SAME).map(|along| (point - pivot).cross(&along).norm())
        };
        if let Some(off) = off(head, axis).filter(|off| *off < SHORTEST_ARM) {
            let message = format!(
                "the T-bar's stem lies along the line it swings about ({} off it at its head)",
                self.found.lengths.say(off, 2)
            );
            self.fault(
                Subject::Hardpoint(Hardpoint::TBarHead),
                message,
                "look at `t_bar_axis` and `t_bar_head`",
            );
            return;
        }
        let mut sound = true;
        for side in Side::BOTH {
            let bar_end = axle.corner(side).hardpoints.get(Hardpoint::DropLinkBar);
            if let Some(off) =
                bar_end.and_then(|bar_end| off(bar_end, head)).filter(|off| *off < SHORTEST_ARM)
            {
                let message = format!(
                    "the {side} end of the T-bar's crossbar stands on the stem's line: it cannot twist it \
                     ({} off it)",
                    self.found.lengths.say(off, 2)
                );
                let hint = "look at `drop_link_bar` and `t_bar_head`";
                self.fault(Subject::Hardpoint(Hardpoint::DropLinkBar), message, hint);
                sound = false;
            }
        }
        let across = CrossAxle::<f64>::of(axle, &PointSet::of(&axle.hardpoints, &axle.lengths), [1.0; 2]);
        // Not-a-number, of a link without length, has its own words.
        if sound && across.leverage(axle).is_some_and(|leverage| leverage < DEAD) {
            self.fault(
                Subject::Axle("anti_roll_bar"),
                "the drop links cannot hold the T-bar's swing and twist: it is at a dead point".into(),
                "let them stand across the crossbar's ways, not along the stem",
            );
        }
    }

    /// King pins that are lines, one drag link, and a track rod that ends on both sides.
    fn knuckles(&mut self) {
        let axle = self.axle;
        for side in Side::BOTH {
            let at = |hardpoint| axle.corner(side).hardpoints.get(hardpoint);
            let pin = at(Hardpoint::KingPinUpper).zip(at(Hardpoint::KingPinLower));
            if pin.is_some_and(|(upper, lower)| (upper - lower).norm() < SAME) {
                self.fault(
                    Subject::Hardpoint(Hardpoint::KingPinUpper),
                    format!("the {side} king pin's two points coincide: it has no axis"),
                    "look at `king_pin_upper` and `king_pin_lower`",
                );
            } else if pin.is_some_and(|(upper, lower)| upper.z < lower.z) {
                self.fault(
                    Subject::Hardpoint(Hardpoint::KingPinUpper),
                    format!("the {side} king pin's upper point stands below its lower one"),
                    "exchange `king_pin_upper` and `king_pin_lower`",
                );
            }
        }
        let ends = [Hardpoint::DragLinkLeft, Hardpoint::DragLinkRight];
        let there: Vec<Hardpoint> =
            ends.into_iter().filter(|&end| axle.hardpoints.get(end).is_some()).collect();
        match there.len() {
            0 => self.fault(
                Subject::Hardpoint(Hardpoint::DragLinkLeft),
                "the drag link has no outer end: nothing steers the knuckles".into(),
                "add `drag_link_left` or `drag_link_right`, on the steering arm that it moves",
            ),
            1 => {}
            _ => self.fault(
                Subject::Hardpoint(Hardpoint::DragLinkRight),
                "the drag link ends on both knuckles: with the track rod beside it the steering binds".into(),
                "keep `drag_link_left` or `drag_link_right`, on the steering arm that it moves",
            ),
        }
        use Hardpoint as P;
        for (end, side) in [
            (P::TrackRodLeft, Side::Left),
            (P::TrackRodRight, Side::Right),
            (P::DragLinkLeft, Side::Left),
            (P::DragLinkRight, Side::Right),
        ] {
            let Some(at) = axle.hardpoints.get(end).filter(|at| side.sign() * at.y < SAME) else { continue };
            let message = format!(
                "{end}: y = {} stands on the other side of the car's centre plane",
                self.found.lengths.say(at.y, 1)
            );
            self.fault(Subject::Hardpoint(end), message, "look at the sign of y");
        }
    }

    /// Whether the links hold just four of the axle's six freedoms.
    fn freedoms(&mut self) -> bool {
        let held = locating_rods(&beam_of::<f64>(self.axle));
        if held == 4 {
            return true;
        }
        let (message, hint) = if held < 4 {
            (
                format!(
                    "the axle is held by {held} links where it needs 4: it can still move in {} more ways",
                    4 - held
                ),
                "add links: two lower links, a top link and a Panhard rod make four",
            )
        } else {
            (
                format!("the axle is held by {held} links where 4 do: {} too many, it binds", held - 4),
                "four trailing links want no Panhard rod unless two of them are splayed in its place; take one away",
            )
        };
        self.fault(Subject::Axle("linkage"), message, hint);
        false
    }

    fn solves(&mut self) {
        if let Err(stop) = BeamAxle::new(self.axle) {
            let named = Link::ALL.iter().copied().find(|link| stop.links.contains(&link.label()));
            let subject = named.map_or(Subject::Axle("linkage"), Subject::Link);
            let message = match stop.kind {
                StopKind::DeadPoint => {
                    format!(
                        "the axle is at a dead point in its design pose; in line: {}",
                        stop.links.join("; ")
                    )
                }
                _ => stop.in_words(self.found.lengths),
            };
            self.fault(subject, message, "look at the points and lengths of these links");
        }
    }
}
