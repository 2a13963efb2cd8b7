//! The drawer in which proposals are weighed: which there are, what they do to the limits, which to keep.
//!
//! What is clicked stands first and keeps its height whatever is done; what grows and shrinks (limits,
//! distances, sheets) stands below it. So a second click meets what the first one met.

use crate::panels::decide::compare_table::{both_near, compare_switch_ui, said_worst};
use crate::panels::decide::decide_state::Decide;
use crate::panels::decide::fit::fit_ui;
use crate::panels::decide::fit_limit::new_fit_limit_ui;
use crate::panels::decide::limit_rows::{bounds_ui, new_limit_ui, save_limits_ui};
use crate::panels::decide::other_files::other_files_ui;
use crate::panels::decide::outcome::word;
use crate::panels::decide::sheets::sheets_ui;
use crate::panels::files::save::{one_line, replace_ui};
use crate::panels::widgets::notices::{notices_ui, sentence};
use crate::panels::widgets::scroll_anchor::Anchor;
use crate::panels::widgets::theme::{colour, scrolled};
use bevy_egui::egui::{
    Align, Button, Label, Layout, Rect, RichText, ScrollArea, Sense, TextEdit, Ui, pos2, vec2,
};
use wheelpath_geometry::{LengthUnit, Proposal, Requirement};
use wheelpath_session::derived::verdicts::Judged;
use wheelpath_session::{About, CarEdit, Edit, FileCommand, Listed, Session};
use wheelpath_stage::theme::Palette;
use wheelpath_studies::{Outcome, Verdict};

pub(in crate::panels) fn decide_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Decide<'_>,
    edits: &mut Vec<Edit>,
) {
    let palette = state.palette();
    let area = ScrollArea::vertical().id_salt("decide").auto_shrink([false, false]);
    scrolled(ui, &palette, area, |ui| {
        compare_switch_ui(ui, state);
        ui.add_space(4.0);
        proposals_ui(ui, session, state, edits);
        ui.add_space(6.0);
        other_files_ui(ui, session, state, edits);
        ui.add_space(10.0);
        limits_ui(ui, session, state, edits);
        ui.add_space(6.0);
        fit_ui(ui, session, state, edits);
        sheets_ui(ui, session, state, edits);
    });
}

/// Each limit with its worst value; a click goes to the pose where it is worst.
fn limits_ui(ui: &mut Ui, session: &Session, state: &mut Decide<'_>, edits: &mut Vec<Edit>) {
    let palette = state.palette();
    ui.label(RichText::new("Limits").strong());
    if let Some(fault) = &session.beside().limits_fault {
        ui.label(RichText::new(sentence(fault)).color(colour(palette.fault)));
    }
    let limits = session.limits();
    if limits.is_empty() {
        let text = "None yet. Add one here, or write limits.ron in the folder beside the car.";
        ui.label(RichText::new(text).small().weak());
    } else {
        verdicts_ui(ui, session, state, edits);
    }
    new_limit_ui(ui, session, state, edits);
    new_fit_limit_ui(ui, state, edits);
    save_limits_ui(ui, session, state, edits);
    notices_ui(ui, session, &palette, |about| about == About::Limits);
}

fn verdicts_ui(ui: &mut Ui, session: &Session, state: &mut Decide<'_>, edits: &mut Vec<Edit>) {
    let palette = state.palette();
    let wake = || {
        let context = ui.ctx().clone();
        move || context.request_repaint()
    };
    let now = state.derived.verdicts.now(session, wake());
    let before = session.differs().then(|| state.derived.verdicts.before(session, wake()));
    let mut text = "A click goes to the worst pose.".to_owned();
    if before.is_some() {
        text = format!("In brackets: {}. {text}", session.baseline_name());
    }
    ui.add(Label::new(RichText::new(text).small().weak()).truncate());
    let mut anchor = Anchor::begin(ui);
    for (place, (limit, judged)) in session.limits().iter().zip(&now).enumerate() {
        let was = before.as_ref().and_then(|all| all.get(place)).map(|was| &was.verdict);
        let top = ui.cursor().min;
        limit_ui(ui, limit, judged, was, (&palette, state.lengths), edits);
        bounds_ui(ui, (place, limit), state, edits);
        let bottom = pos2(ui.max_rect().right(), ui.cursor().top());
        anchor.row(ui, ui.id().with(("limit", place)), Rect::from_min_max(top, bottom));
    }
    anchor.end(ui);
}

fn limit_ui(
    ui: &mut Ui,
    limit: &Requirement,
    Judged { verdict, is_old }: &Judged,
    was: Option<&Verdict>,
    (palette, lengths): (&Palette, LengthUnit),
    edits: &mut Vec<Edit>,
) {
    let write = |verdict: &Verdict| {
        verdict.worst.map_or_else(|| "—".to_owned(), |worst| limit.write(worst.value, lengths))
    };
    let (mark, said) = word(&verdict.outcome);
    let tint = match verdict.outcome {
        _ if *is_old => ui.visuals().weak_text_color(),
        Outcome::Fail => colour(palette.fault),
        _ => ui.visuals().text_color(),
    };
    let mut text = format!("{mark} {}: {}", limit.name, write(verdict));
    if let Some(was) = was.filter(|was| write(was) != write(verdict) || was.outcome != verdict.outcome) {
        let said = word(&was.outcome).1;
        // Two values that come nearest to different bounds say nothing side by side.
        let is_alike = both_near(limit, verdict, was);
        text += &if is_alike { format!(" ({}, {said})", write(was)) } else { format!(" ({said})") };
    }
    let shown = ui.add(Label::new(RichText::new(text).color(tint)).sense(Sense::click()).wrap());
    let shown = shown.on_hover_ui(|ui| {
        ui.label(format!("{said}; wanted: {}", limit.bounds_in_words(lengths)));
        if let Some(worst) = verdict.worst {
            ui.label(said_worst(limit, &worst, lengths));
        }
        if *is_old {
            ui.label("Being computed anew");
        }
        if let Some(why) = verdict.why(lengths) {
            ui.label(sentence(&why));
        }
        if let Some(about) = &limit.about {
            ui.label(RichText::new(about).small().weak());
        }
    });
    if let Some(worst) = verdict.worst.filter(|_| shown.clicked()) {
        edits.push(Edit::SetPose(worst.pose));
    }
}

fn proposals_ui(ui: &mut Ui, session: &Session, state: &mut Decide<'_>, edits: &mut Vec<Edit>) {
    ui.label(RichText::new("Proposals").strong());
    keep_ui(ui, session, state, edits);
    one_line(ui, |ui| {
        let is_other = session.baseline_name() != "original";
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let again = Button::new("Compare with the original again").small();
            if is_other && ui.add(again).clicked() {
                edits.push(Edit::CompareWith(None));
            }
            let text = RichText::new(format!("Compared with {}", session.baseline_name())).small().weak();
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| ui.add(Label::new(text).truncate()));
        });
    });
    let all = &session.beside().proposals;
    if all.is_empty() {
        ui.label(RichText::new("None yet. Change something, and save it above under a name.").small().weak());
    }
    for listed in all {
        match &listed.proposal {
            Ok(proposal) => proposal_ui(ui, session, (listed, proposal), state, edits),
            Err(fault) => {
                let text = format!("{}: cannot be read", listed.file);
                ui.add(Label::new(text).truncate()).on_hover_text(fault);
            }
        }
    }
}

fn proposal_ui(
    ui: &mut Ui,
    session: &Session,
    (listed, proposal): (&Listed, &Proposal),
    state: &Decide<'_>,
    edits: &mut Vec<Edit>,
) {
    let is_open = session.open_proposal_listed().is_some_and(|open| open.file == listed.file);
    let is_changed = is_open && !session.is_as_proposed();
    let mut text = RichText::new(match (is_open, is_changed) {
        (false, _) => proposal.name.clone(),
        (true, false) => format!("{} (open)", proposal.name),
        (true, true) => format!("{} (open, changed)", proposal.name),
    });
    if is_open {
        text = text.strong().color(colour(state.palette().accent));
    }
    let name = ui.add(Label::new(text).truncate().sense(Sense::hover()));
    name.on_hover_ui(|ui| {
        if let Some(about) = &proposal.about {
            ui.label(about);
        }
        for change in &proposal.changes {
            ui.label(RichText::new(change.said(state.lengths)).small());
        }
    });
    let named = |ui: &mut Ui, text: &str, what: String| {
        let button = ui.small_button(text);
        ui.ctx()
            .accesskit_node_builder(button.id, |node| node.set_label(format!("{text}: {}", proposal.name)));
        button.on_hover_text(what).clicked()
    };
    ui.horizontal(|ui| {
        let what =
            "The original with this proposal alone; what is changed then can be saved to it. Undo goes back.";
        if named(ui, "Open", what.into()) {
            edits.push(Edit::File(FileCommand::OpenProposal(listed.file.clone())));
        }
        let touched = Proposal::between("", session.original(), session.car());
        let twice = touched.overlap(proposal);
        let what = match twice.first() {
            None => "On top of what is changed already.".to_owned(),
            Some((assembly, item)) => {
                format!("On top of what is changed already. Both move {item}, {assembly}: the moves add up.")
            }
        };
        if named(ui, "Add", what) {
            let change = CarEdit::Propose { proposal: Box::new(proposal.clone()), on_top: true };
            edits.extend([Edit::Change(change), Edit::Settle]);
        }
        if named(ui, "Compare", "Ghost, dashed curves and changes are against this one.".into()) {
            edits.push(Edit::CompareWith(Some(Box::new(proposal.clone()))));
        }
        if is_changed && listed.path.is_some() {
            let what = "Writes what is changed to its file, in one step or not at all; comments stay";
            if named(ui, "Save", what.into()) {
                edits.push(Edit::File(FileCommand::SaveOpen));
            }
        }
    });
}

/// Keeping what is changed under a name.
fn keep_ui(ui: &mut Ui, session: &Session, state: &mut Decide<'_>, edits: &mut Vec<Edit>) {
    ui.label(RichText::new("Save what is changed as a new proposal").small());
    let mut name = state.own.proposal_name.clone().unwrap_or_default();
    let path = session.proposal_path(&name);
    let exists = !name.trim().is_empty() && path.exists();
    let row = vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
        let can = session.is_changed() && !name.trim().is_empty() && !exists;
        let save = ui.add_enabled(can, Button::new("Save as"));
        let save = save.on_hover_text("Writes the changes, not the car, to a file beside the car");
        if save.on_disabled_hover_text("Change something, and type a name that is free").clicked() {
            edits.push(Edit::File(FileCommand::SaveProposal {
                name: name.clone(),
                path: path.clone(),
                replace: false,
            }));
            state.own.proposal_name = None;
        }
        let field = ui.add(TextEdit::singleline(&mut name).desired_width(ui.available_width()));
        ui.ctx().accesskit_node_builder(field.id, |node| node.set_label("Name of the proposal"));
        if field.changed() {
            state.own.proposal_name = Some(name.clone());
        }
    });
    // One line always: what stands below keeps its place while a name is typed.
    one_line(ui, |ui| {
        if !(exists && session.is_changed()) {
            let text = "Writes the changes, not the car, to a file beside the car";
            ui.add(Label::new(RichText::new(text).small().weak()).truncate());
            return;
        }
        let listed = session.beside().proposals.iter().find(|one| one.path.as_deref() == Some(&*path));
        let there = listed.and_then(|listed| listed.proposal.as_ref().ok());
        let there =
            there.map_or("a file that is no proposal".to_owned(), |one| format!("the proposal {}", one.name));
        if replace_ui(ui, &path.display().to_string(), &there) {
            edits.push(Edit::File(FileCommand::SaveProposal { name, path, replace: true }));
            state.own.proposal_name = None;
        }
    });
}
