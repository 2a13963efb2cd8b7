//! The body over the road: typed, and read back from the travels of the wheels.

use crate::panels::frame::ui_state::UiState;
use crate::panels::widgets::number_field::NumberField;
use bevy_egui::egui::{Label, RichText, Ui};
use wheelpath_geometry::{BodyPose, Unit};
use wheelpath_session::{About, Edit, Session};

/// Width of what stands here at the designed size of text, points.
pub(in crate::panels) const WIDTH: f32 = 480.0;

const HELD: &str = "Against the design pose, on a flat road. Type it, and the wheels go to the road.";

pub(in crate::panels) fn body_bar_ui(ui: &mut Ui, session: &Session, state: &UiState, edits: &mut Vec<Edit>) {
    ui.spacing_mut().item_spacing.x = 4.0;
    let (now, pitch, why) = match session.body() {
        Ok(body) => (Some(body.pose), body.pitch, body.off.clone()),
        Err(reason) => (None, 0.0, Some(reason.to_owned())),
    };
    let base = now.unwrap_or_default();
    let hint = match &why {
        Some(reason) => format!("— because {reason}. {HELD}"),
        None => HELD.to_owned(),
    };
    ui.add(Label::new(RichText::new("Body").small().weak())).on_hover_text(&hint);
    let at_fault = session.notices().iter().any(|notice| notice.about == About::Body);
    let mut field = |handle: &str, name: &str, value: f64, unit: Unit| {
        let shown = if why.is_some() { f64::NAN } else { value };
        let width = 52.0 * state.text_scale;
        let lengths = state.lengths;
        NumberField { name, handle, value: shown, unit, lengths, width, decimals: 2, at_fault, hint: &hint }
            .show(ui, &state.palette())
            .set
    };
    let symbol = Unit::Length.symbol(state.lengths);
    let name = |axle: &str| format!("Ride height {axle} in {symbol}, + body higher");
    let front = field("front", &name("front"), base.front, Unit::Length);
    let rear = field("rear", &name("rear"), base.rear, Unit::Length);
    let roll = field(&format!("{symbol}, roll"), "Roll in degrees, + left side up", base.roll, Unit::Degree);
    let turned = field("pitch", "Pitch in degrees, + nose down", pitch, Unit::Degree);
    ui.add(Label::new(RichText::new("°").weak()));
    edits.extend(front.map(|front| Edit::Stand(BodyPose { front, ..base })));
    edits.extend(rear.map(|rear| Edit::Stand(BodyPose { rear, ..base })));
    edits.extend(roll.map(|roll| Edit::Stand(BodyPose { roll, ..base })));
    edits.extend(turned.and_then(|pitch| session.pitched(&base, pitch)));
}
