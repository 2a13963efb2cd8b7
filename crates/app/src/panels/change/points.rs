//! The points of a corner and of its axle: typed, stepped, on both sides or on one.

use crate::panels::change::change_state::ChangePanel;
use crate::panels::change::pull::pull_ui;
use crate::panels::widgets::lazy_layout::where_seen;
use crate::panels::widgets::notices::{capital, notices_ui};
use crate::panels::widgets::number_field::NumberField;
use crate::panels::widgets::scroll_anchor::Anchor;
use crate::panels::widgets::theme::{colour, scrolled};
use bevy_egui::egui::{Button, Label, RichText, ScrollArea, Ui};
use wheelpath_geometry::{Assembly, Axis, End, Hardpoint, Parameter, Side, Unit};
use wheelpath_session::{About, CarEdit, Edit, Session};

/// Which corner, and whether changes are made on both sides.
pub(in crate::panels) fn corner_choice_ui(ui: &mut Ui, state: &mut ChangePanel<'_>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        for end in End::BOTH {
            let name = if end == End::Front { "Front" } else { "Rear" };
            ui.selectable_value(&mut state.corner.end, end, name);
        }
        ui.add_space(8.0);
        for side in Side::BOTH {
            let name = if side == Side::Left { "Left" } else { "Right" };
            ui.selectable_value(&mut state.corner.side, side, name);
        }
        ui.add_space(8.0);
        let mut both = state.mirrored;
        let hint = if state.sides_are_alike() {
            "Changes are mirrored to the other side of the axle"
        } else {
            "The sides of this axle are unlike, so that a change is made on one of them. Where this is ticked, the \
             other side's point moves by the mirrored amount too."
        };
        if ui.checkbox(&mut both, "Both sides").on_hover_text(hint).changed() {
            state.set_both_sides(both);
        }
    });
    let said = match (state.mirrored, state.corner.side, state.sides_are_alike()) {
        (true, _, true) => "Changes go to both sides, mirrored",
        (true, _, false) => "Changes move both unlike sides, mirrored",
        (false, Side::Left, _) => "Changes go to the left side only",
        (false, Side::Right, _) => "Changes go to the right side only",
    };
    ui.add(Label::new(RichText::new(said).small().weak()).truncate());
}

pub(in crate::panels) fn points_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut ChangePanel<'_>,
    edits: &mut Vec<Edit>,
) {
    let (palette, area) =
        (state.palette(), ScrollArea::vertical().id_salt("points").auto_shrink([false, false]));
    let symbol = Unit::Length.symbol(state.lengths);
    scrolled(ui, &palette, area, |ui| {
        ui.label(
            RichText::new(format!("Points as designed, {symbol}: X forward, Y left, Z up")).small().weak(),
        );
        let corner = state.corner;
        let mut anchor = Anchor::begin(ui);
        for assembly in [Assembly::Corner(corner), Assembly::Axle(corner.end)] {
            let mut own = assembly.hardpoints(session.car()).iter().peekable();
            if matches!(assembly, Assembly::Axle(_)) && own.peek().is_some() {
                ui.label(RichText::new(format!("{} as a whole", capital(&assembly.to_string()))).strong());
            }
            for (hardpoint, _) in own {
                let is_selected = state.selected == Some((assembly, hardpoint));
                let id = ui.id().with((assembly.key(), hardpoint.key()));
                where_seen(ui, id, is_selected, |ui| {
                    let block =
                        ui.vertical(|ui| point_ui(ui, session, state, edits, (assembly, hardpoint))).response;
                    anchor.row(ui, id, block.rect);
                    if is_selected && state.reveal {
                        block.scroll_to_me(None);
                    }
                });
            }
        }
        anchor.end(ui);
        // A fault in it is to be seen.
        let is_troubled = session.notices().iter().any(|notice| notice.severe);
        where_seen(ui, ui.id().with("wheel and links"), is_troubled, |ui| {
            crate::panels::change::parameter_rows::parameter_rows_ui(ui, session, state, edits);
        });
    });
    state.reveal = false;
}

fn point_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut ChangePanel<'_>,
    edits: &mut Vec<Edit>,
    (assembly, hardpoint): (Assembly, Hardpoint),
) {
    let place = |car: &wheelpath_geometry::Car| assembly.hardpoints(car).get(hardpoint);
    let (Some(at), original) = (place(session.car()), place(session.original())) else { return };
    let palette = state.palette();
    let changed = original != Some(at);
    let selected = state.selected == Some((assembly, hardpoint));
    let at_fault = session.notices().iter().any(|n| n.severe && concerns(n.about, assembly, hardpoint));
    ui.horizontal(|ui| {
        let mut text = RichText::new(capital(hardpoint.label()));
        if selected {
            text = text.strong();
        }
        if at_fault {
            text = text.color(colour(palette.fault));
        } else if changed {
            text = text.color(colour(palette.accent));
        }
        let name = ui.add(Button::new(text).frame(false)).on_hover_text("Show this point on the car");
        if name.clicked() {
            state.choose((!selected).then_some((assembly, hardpoint)));
        }
        if changed {
            let reset = ui.small_button("Reset").on_hover_text("Back to where the original car has it");
            ui.ctx().accesskit_node_builder(reset.id, |node| {
                node.set_label(format!("Reset {assembly} {hardpoint}"))
            });
            if reset.clicked() {
                edits.push(Edit::Change(CarEdit::Reset {
                    assembly,
                    parameter: Parameter::Point(hardpoint),
                    mirrored: state.mirrored,
                }));
                edits.push(Edit::Settle);
            }
        }
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let width = (ui.available_width() / 3.0 - 26.0).min(86.0 * state.text_scale);
        for axis in Axis::ALL {
            let symbol = Unit::Length.symbol(state.lengths);
            let name = format!("{assembly}, {hardpoint}, {} in {symbol}", axis.letter());
            let entered = NumberField {
                name: &name,
                handle: axis.letter(),
                value: at[axis.index()],
                unit: Unit::Length,
                lengths: state.lengths,
                width,
                decimals: 3,
                at_fault,
                hint: "",
            }
            .show(ui, &palette);
            // What is typed is seen on the car, as what is clicked.
            if entered.touched && !selected {
                state.choose(Some((assembly, hardpoint)));
            }
            if let Some(value) = entered.set {
                let mut to = at;
                to[axis.index()] = value;
                edits.push(Edit::Change(CarEdit::move_point(assembly, hardpoint, to, state.mirrored)));
            }
            if entered.settled {
                edits.push(Edit::Settle);
            }
        }
    });
    if selected {
        pull_ui(ui, session, state, edits, (assembly, hardpoint));
    }
    notices_ui(ui, session, &palette, |about| concerns(about, assembly, hardpoint));
    ui.add_space(3.0);
}

/// A notice stands beside its point, and one about a link beside the link's outer end.
fn concerns(about: About, assembly: Assembly, hardpoint: Hardpoint) -> bool {
    about == About::Hardpoint(assembly, hardpoint)
}
