//! Will it fit: the smallest distances, the joints and the stops, each with its worst pose to go to.

use crate::panels::decide::decide_state::Decide;
use crate::panels::decide::fit_choice::Gap;
use crate::panels::widgets::notices::capital;
use crate::panels::widgets::theme::colour;
use bevy_egui::egui::{Button, Color32, Label, RichText, Sense, Ui};
use std::sync::Arc;
use wheelpath_geometry::{AxlePose, CarPose, End, LengthUnit, Unit};
use wheelpath_session::derived::fit::FitFound;
use wheelpath_session::{Edit, Session};
use wheelpath_studies::clearance::{Clearance, JointAngle, StopOf};

/// Rows of each kind that are shown.
const FEW: usize = 8;
/// Less than this between two parts is marked, metres: common practice, no source.
const NEAR: f64 = 0.005;

pub(in crate::panels) fn fit_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Decide<'_>,
    edits: &mut Vec<Edit>,
) {
    let head = ui.add(Button::new(RichText::new("Will it fit").strong()).selected(state.own.fit.open));
    let hint = "Distances of parts, angles of joints and what is left to stops, over travel and steer";
    if head.on_hover_text(hint).clicked() {
        state.own.fit.open = !state.own.fit.open;
    }
    if !state.own.fit.open {
        return;
    }
    let (context, lengths) = (ui.ctx().clone(), state.lengths);
    let travel = lengths.usual_travel();
    let found = state.derived.fit.of(session, travel, move || context.request_repaint());
    let Some(found) = found else {
        ui.label(RichText::new("Computing…").small().weak());
        return;
    };
    let stale = found.revision != session.revision();
    let over = format!(
        "Over {} to {} of travel and all of the steer; ✔ is {} or more between parts. Limits keep to ranges \
         of their own. A click goes to the worst pose.{}",
        Unit::Length.write_number(-travel, lengths),
        Unit::Length.write(travel, lengths),
        Unit::Length.write(NEAR, lengths),
        if stale { " Computing anew…" } else { "" }
    );
    ui.label(RichText::new(over).small().weak());
    found_ui(ui, session, state, &found, edits);
}

fn found_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Decide<'_>,
    found: &Arc<FitFound>,
    edits: &mut Vec<Edit>,
) {
    let palette = state.palette();
    let (plain, fault) = (ui.visuals().text_color(), colour(palette.fault));
    let mut pairs: Vec<&Clearance> = found.axles.iter().flat_map(|axle| &axle.pairs).collect();
    pairs.sort_by(|a, b| a.distance.total_cmp(&b.distance));
    for pair in pairs.into_iter().take(FEW) {
        let text = pair_in_words(pair, state.lengths);
        let tint = if pair.distance < NEAR { fault } else { plain };
        if row_ui(ui, mark(pair.distance, NEAR), &text, tint) {
            let pose = car_pose(pair.of[0].end, &pair.pose);
            state.own.fit.gap = Some(Gap { at: pair.at, text, pose, revision: found.revision });
            edits.push(Edit::SetPose(pose));
        }
    }
    let mut joints: Vec<(&JointAngle, f64)> = found
        .axles
        .iter()
        .flat_map(|axle| &axle.joints)
        .filter_map(|joint| Some((joint, joint.margin()?)))
        .collect();
    joints.sort_by(|a, b| a.1.total_cmp(&b.1));
    if joints.is_empty() {
        ui.label(RichText::new("No joint has a limit in the car's file.").small().weak());
    }
    for (joint, margin) in joints.into_iter().take(FEW / 2) {
        let write = |angle| Unit::Degree.write(angle, state.lengths);
        let limit = joint.limit.map_or_else(String::new, write);
        let text = format!("{}, {}: turns {} of {limit}", joint.wheel, joint.joint, write(joint.angle));
        let tint = if margin < 0.0 { fault } else { plain };
        if row_ui(ui, mark(margin, 0.0), &text, tint) {
            edits.push(Edit::SetPose(car_pose(joint.wheel.end, &joint.pose)));
        }
    }
    for (axle, stop) in found.axles.iter().flat_map(|axle| axle.stops.iter().map(move |stop| (axle, stop))) {
        let turned = session.solver_car().axle(axle.end).steering.input();
        let unit = match stop.stop {
            StopOf::Steering { .. } if turned != wheelpath_geometry::SteerInput::RackTravel => Unit::Degree,
            _ => Unit::Length,
        };
        // A stop that the range runs to on purpose says nothing.
        if matches!(stop.stop, StopOf::Steering { .. }) || stop.margin > 2.0 * NEAR {
            continue;
        }
        let text = format!("{}: {} left", stop.stop, unit.write(stop.margin, state.lengths));
        let tint = if stop.margin < 0.0 { fault } else { plain };
        if row_ui(ui, mark(stop.margin, 0.0), &text, tint) {
            edits.push(Edit::SetPose(car_pose(axle.end, &stop.pose)));
        }
    }
    for (axle, soft) in
        found.axles.iter().flat_map(|axle| axle.near_dead_points.iter().map(move |s| (axle, s)))
    {
        if row_ui(ui, "✖", &soft.near.to_string(), fault) {
            edits.push(Edit::SetPose(car_pose(axle.end, &soft.pose)));
        }
    }
    let left_out: usize = found.axles.iter().map(|axle| axle.unreachable.len()).sum();
    if left_out > 0 {
        ui.label(
            RichText::new(format!("{left_out} poses cannot be reached and are left out.")).small().weak(),
        );
    }
    let assumed: usize = found.axles.iter().map(|axle| axle.assumed_radii.len()).sum();
    if assumed > 0 {
        let text =
            format!("{assumed} radii are not in the car's file and are guessed: this program's own figures.");
        ui.label(RichText::new(text).small().weak());
    }
}

fn mark(margin: f64, wanted: f64) -> &'static str {
    if margin < 0.0 {
        "✖"
    } else if margin < wanted {
        "!"
    } else {
        "✔"
    }
}

fn row_ui(ui: &mut Ui, mark: &str, text: &str, tint: Color32) -> bool {
    let text = RichText::new(format!("{mark} {}", capital(text))).small().color(tint);
    ui.add(Label::new(text).sense(Sense::click()).wrap()).clicked()
}

fn pair_in_words(pair: &Clearance, lengths: LengthUnit) -> String {
    let [a, b] = pair.of;
    let second = if (a.end, a.side) == (b.end, b.side) { b.what.to_string() } else { b.to_string() };
    if pair.distance < 0.0 {
        format!("{a} and {second} overlap by {}", Unit::Length.write(-pair.distance, lengths))
    } else {
        format!("{a} to {second}: {}", Unit::Length.write(pair.distance, lengths))
    }
}

fn car_pose(end: End, pose: &AxlePose) -> CarPose {
    let [left, right] = pose.travel;
    match end {
        End::Front => CarPose { travel: [left, right, 0.0, 0.0], steer: pose.steer },
        End::Rear => CarPose { travel: [0.0, 0.0, left, right], steer: 0.0 },
    }
}
