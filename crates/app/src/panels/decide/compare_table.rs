//! Before and after in one table: what was, what is, the change, the limit and its verdict.

use crate::panels::decide::decide_state::Decide;
use crate::panels::decide::outcome::word;
use crate::panels::readings::definition_ui;
use crate::panels::widgets::notices::{capital, sentence};
use crate::panels::widgets::theme::{colour, scrolled};
use bevy_egui::egui::{
    Align, Button, Frame, Label, Layout, Margin, Panel, RichText, ScrollArea, Sense, TextStyle, Ui, vec2,
};
use wheelpath_geometry::{CarPose, LengthUnit, Limited, Quantity, Reading, Requirement};
use wheelpath_session::derived::verdicts::Judged;
use wheelpath_session::{Edit, Moved, Session};
use wheelpath_stage::theme::Palette;
use wheelpath_studies::{Outcome, Verdict};

const HEADS: [&str; 6] = ["Reading", "Before", "After", "Change", "Limit", "Verdict"];

/// A row of the table.
struct Row {
    name: String,
    /// Before, after, change.
    numbers: [String; 3],
    limit: String,
    verdict: Option<(&'static str, &'static str)>,
    is_broken: bool,
    is_old: bool,
    /// Where a click leads.
    pose: Option<CarPose>,
    hints: Vec<String>,
    reading: Option<&'static Reading>,
}

/// Whose the rows are: limits over their poses, or readings in the pose shown.
enum Line {
    Heading(&'static str),
    Row(Box<Row>),
}

/// The table below the stage, where it is wanted.
pub(in crate::panels) fn compare_table_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Decide<'_>,
    edits: &mut Vec<Edit>,
) {
    if !state.own.table {
        return;
    }
    let palette = state.palette();
    let height = 0.46 * ui.available_height();
    let frame = Frame::NONE.fill(colour(palette.panel)).inner_margin(Margin::symmetric(8, 6));
    Panel::bottom("before and after").resizable(false).exact_size(height).frame(frame).show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.label(RichText::new(title(session)).strong());
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let close = ui.add(Button::new("×").frame(false)).on_hover_text("Close the table");
                ui.ctx().accesskit_node_builder(close.id, |node| node.set_label("Close the table"));
                if close.clicked() {
                    state.own.table = false;
                }
            });
        });
        if !session.differs() {
            let text = "Nothing differs yet: change something, open a proposal, or compare with another car.";
            ui.label(RichText::new(text).small().weak());
            return;
        }
        let lines = lines(ui, session, state);
        lines_ui(ui, &lines, &palette, edits);
    });
}

/// The switch for the table.
pub(in crate::panels) fn compare_switch_ui(ui: &mut Ui, state: &mut Decide<'_>) {
    let hint = "Readings and limits: before, after, change, limit, verdict";
    let switch = ui.add(Button::new("Before and after in a table").selected(state.own.table));
    if switch.on_hover_text(hint).clicked() {
        state.own.table = !state.own.table;
    }
}

fn title(session: &Session) -> String {
    let stands = session.title();
    format!("{}: before. {}: after", capital(session.baseline_name()), capital(&stands))
}

fn lines(ui: &Ui, session: &Session, state: &mut Decide<'_>) -> Vec<Line> {
    let wake = || {
        let context = ui.ctx().clone();
        move || context.request_repaint()
    };
    let after = state.derived.verdicts.now(session, wake());
    let before = state.derived.verdicts.before(session, wake());
    let judged: Vec<(&Requirement, &Judged, &Judged)> =
        session.limits().iter().zip(&after).zip(&before).map(|((l, a), b)| (l, a, b)).collect();
    let mut lines = Vec::new();
    if !judged.is_empty() {
        lines.push(Line::Heading("Limits, worst over their poses"));
        lines.extend(
            judged.iter().map(|(limit, after, before)| limit_row(limit, (after, before), state.lengths)),
        );
    }
    lines.push(Line::Heading("Readings that moved, in the pose shown, most first"));
    let moved = session.moved_most(usize::MAX);
    lines.extend(moved.iter().map(|moved| reading_row(moved, &judged, state.lengths)));
    lines
}

fn worst(limit: &Requirement, verdict: &Verdict, lengths: LengthUnit) -> String {
    verdict.worst.map_or_else(|| "—".to_owned(), |worst| limit.write(worst.value, lengths))
}

fn limit_row(limit: &Requirement, (after, before): (&Judged, &Judged), lengths: LengthUnit) -> Line {
    let (now, was) = (&after.verdict, &before.verdict);
    let both = now.worst.zip(was.worst);
    // Two values that are worst toward different bounds have no difference that says anything.
    let is_alike = both_near(limit, now, was);
    let change =
        both.filter(|_| is_alike).map(|(now, was)| limit.write_change(was.value, now.value, lengths));
    let mut hints = vec![format!("Before: {}", word(&was.outcome).1)];
    if !is_alike {
        hints.push("Before and after come nearest to different bounds: no change is given.".to_owned());
    }
    hints.extend(now.worst.map(|at| said_worst(limit, &at, lengths)));
    hints.extend(now.why(lengths).map(|why| sentence(&why)));
    hints.extend(limit.about.clone());
    Line::Row(Box::new(Row {
        name: limit.name.clone(),
        numbers: [
            worst(limit, was, lengths),
            worst(limit, now, lengths),
            match change {
                Some(by) => by,
                None if is_alike => "—".to_owned(),
                None => "other end".to_owned(),
            },
        ],
        limit: limit.bounds_in_words(lengths),
        verdict: Some(word(&now.outcome)),
        is_broken: now.outcome == Outcome::Fail,
        is_old: after.is_old || before.is_old,
        pose: now.worst.map(|worst| worst.pose),
        hints,
        reading: None,
    }))
}

/// Whether two verdicts are worst toward the same bound.
pub(in crate::panels) fn both_near(limit: &Requirement, now: &Verdict, was: &Verdict) -> bool {
    let both = now.worst.zip(was.worst);
    both.is_none_or(|(now, was)| nears_most(limit, now.value) == nears_most(limit, was.value))
}

/// Whether a value is nearer to the upper bound than to the lower one.
fn nears_most(limit: &Requirement, value: f64) -> bool {
    let above = limit.least.map_or(f64::INFINITY, |least| value - least);
    let below = limit.most.map_or(f64::INFINITY, |most| most - value);
    below < above
}

/// Where a limit is worst, and by how much it is kept or broken.
pub(in crate::panels) fn said_worst(
    limit: &Requirement,
    at: &wheelpath_studies::Worst,
    lengths: LengthUnit,
) -> String {
    let place = match (at.place, at.wheel) {
        (Some(place), _) => format!(", {place}"),
        (None, Some(wheel)) => format!(", {wheel}"),
        (None, None) => String::new(),
    };
    format!("Margin {}{place}", limit.write_margin(at.value, lengths))
}

fn reading_row(moved: &Moved, judged: &[(&Requirement, &Judged, &Judged)], lengths: LengthUnit) -> Line {
    let concerns = |limit: &Requirement| match limit.of {
        Limited::Reading { reading, end, side, taken: Quantity::Value, .. } => {
            reading.key == moved.reading.key
                && end == moved.end
                && (side.is_none() || moved.side.is_none() || side == moved.side)
        }
        _ => false,
    };
    let limited = judged.iter().find(|(limit, ..)| concerns(limit));
    let write = |value| moved.reading.unit.write(value, lengths);
    let change = moved.reading.unit.write_change(moved.from, moved.to, lengths);
    Line::Row(Box::new(Row {
        name: moved.title(),
        numbers: [write(moved.from), write(moved.to), change],
        limit: limited.map_or_else(String::new, |(limit, ..)| limit.bounds_in_words(lengths)),
        verdict: limited.map(|(_, after, _)| word(&after.verdict.outcome)),
        is_broken: limited.is_some_and(|(_, after, _)| after.verdict.outcome == Outcome::Fail),
        is_old: limited.is_some_and(|(_, after, _)| after.is_old),
        pose: None,
        hints: limited.map(|(limit, ..)| format!("Limit: {}", limit.name)).into_iter().collect(),
        reading: Some(moved.reading),
    }))
}

fn lines_ui(ui: &mut Ui, lines: &[Line], palette: &Palette, edits: &mut Vec<Edit>) {
    let small = TextStyle::Small.resolve(ui.style()).size;
    let height = small * 1.6;
    let room = ui.available_width() - 14.0;
    // As wide as "−0.123 1/m", as "−0.050 to 0.050°", as "✖ broken".
    let (number, limit, verdict) = (small * 5.6, small * 9.4, small * 4.8);
    let name = (room - 3.0 * number - limit - verdict).max(small * 9.0);
    let widths = [name, number, number, number, limit, verdict];
    cells_ui(ui, height, |ui| {
        for (i, head) in HEADS.into_iter().enumerate() {
            cell_ui(ui, (widths[i], height), i > 0, RichText::new(head).small().weak());
        }
    });
    let area = ScrollArea::vertical().auto_shrink([false, false]);
    scrolled(ui, palette, area, |ui| {
        // Only the lines that are seen are laid out.
        let top = ui.cursor().top();
        let seen = ui.clip_rect().y_range();
        for (i, line) in lines.iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "a few hundred lines")]
            let y = top + i as f32 * (height + ui.spacing().item_spacing.y);
            if y + height < seen.min || y > seen.max {
                ui.allocate_space(vec2(room, height));
                continue;
            }
            match line {
                Line::Heading(text) => {
                    cells_ui(ui, height, |ui| {
                        cell_ui(ui, (room, height), false, RichText::new(*text).small().strong());
                    });
                }
                Line::Row(row) => row_ui(ui, row, &widths, height, palette, edits),
            }
        }
    });
}

fn cells_ui(ui: &mut Ui, height: f32, add: impl FnOnce(&mut Ui)) {
    let size = vec2(ui.available_width(), height);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        add(ui);
    });
}

fn cell_ui(
    ui: &mut Ui,
    (width, height): (f32, f32),
    to_right: bool,
    text: RichText,
) -> bevy_egui::egui::Response {
    let layout =
        if to_right { Layout::right_to_left(Align::Center) } else { Layout::left_to_right(Align::Center) };
    ui.allocate_ui_with_layout(vec2(width, height), layout, |ui| {
        ui.set_min_size(vec2(width, height));
        ui.add(Label::new(text).truncate().sense(Sense::click()))
    })
    .inner
}

fn row_ui(ui: &mut Ui, row: &Row, widths: &[f32; 6], height: f32, palette: &Palette, edits: &mut Vec<Edit>) {
    let plain = if row.is_old { ui.visuals().weak_text_color() } else { ui.visuals().text_color() };
    let tint = if row.is_broken { colour(palette.fault) } else { plain };
    let verdict = row.verdict.map_or_else(String::new, |(mark, said)| format!("{mark} {said}"));
    let [before, after, change] = &row.numbers;
    let mut clicked = false;
    cells_ui(ui, height, |ui| {
        let texts = [&row.name, before, after, change, &row.limit, &verdict];
        for (i, text) in texts.into_iter().enumerate() {
            let tint = match i {
                3 => colour(palette.accent),
                5 => tint,
                _ => plain,
            };
            let shown = cell_ui(ui, (widths[i], height), i > 0, RichText::new(text).small().color(tint));
            let shown = shown.on_hover_ui(|ui| {
                ui.label(&row.name);
                for hint in &row.hints {
                    ui.label(RichText::new(hint).small());
                }
                if row.pose.is_some() {
                    ui.label(RichText::new("A click goes to the worst pose.").small().weak());
                }
                if let Some(reading) = row.reading.filter(|_| i == 0) {
                    definition_ui(ui, reading);
                }
            });
            clicked |= shown.clicked();
        }
    });
    if let Some(pose) = row.pose.filter(|_| clicked) {
        edits.push(Edit::SetPose(pose));
    }
}

#[cfg(test)]
mod tests {
    use super::{Line, limit_row};
    use wheelpath_geometry::{CarPose, LengthUnit, Limited, Requirement};
    use wheelpath_session::derived::verdicts::Judged;
    use wheelpath_studies::{Outcome, Verdict, Worst};

    #[test]
    fn worst_values_toward_different_bounds_have_no_change() {
        let degrees = |value: f64| value.to_radians();
        let limit = Requirement {
            name: "Lock".into(),
            about: None,
            of: Limited::Lock,
            least: Some(degrees(20.0)),
            most: Some(degrees(30.0)),
        };
        let judged = |value: f64| {
            let (value, pose) = (degrees(value), CarPose::REFERENCE);
            let worst = Worst { value, margin: limit.margin(value), pose, wheel: None, place: None };
            Judged {
                verdict: Verdict { outcome: Outcome::Pass, worst: Some(worst), stop: None },
                is_old: false,
            }
        };
        let change = |before: f64, after: f64| match limit_row(
            &limit,
            (&judged(after), &judged(before)),
            LengthUnit::Millimetre,
        ) {
            Line::Row(row) => {
                (row.numbers[2].clone(), row.hints.iter().any(|hint| hint.contains("different bounds")))
            }
            Line::Heading(_) => (String::new(), false),
        };
        assert_eq!(change(21.0, 22.5), ("+1.50°".to_owned(), false));
        assert_eq!(change(29.0, 28.75), ("−0.25°".to_owned(), false));
        assert_eq!(change(21.0, 29.0), ("other end".to_owned(), true));
    }
}
