//! A finding on the stage: its place can be pressed, and then its piece lights up and is looked
//! at from outside.

use bevy_egui::egui::{self, FontId, RichText, Ui, WidgetInfo, WidgetType};

use crate::finding::Finding;
use crate::geom::{P3, V3};
use crate::model::Model;
use crate::viewer::scene::stance::stance;
use crate::viewer::state::{Look, PartId};
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::words;
use crate::words::capital;

/// Out and a little up: from where a piece is looked at that lies on no skin.
const FROM_ASIDE: V3 = V3::new(0.0, 1.0, 0.4);

/// Where a finding is, as words; they can be pressed where the piece or its place is known.
pub fn place(ui: &mut Ui, context: &mut Context, f: &Finding) {
    let place = words::finding::place(&f.place, context.units());
    let text = RichText::new(capital(&place)).font(FontId::new(size::SMALL, semibold()));
    if f.at.is_none() && f.part.is_none() {
        ui.label(text);
        return;
    }
    let response = ui.add(egui::Label::new(text).sense(egui::Sense::click()));
    let told = format!("look at it: {place}");
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Link, true, &told));
    if response.on_hover_cursor(egui::CursorIcon::PointingHand).clicked() {
        look(context, f);
    }
}

/// Lights its piece and brings its place to the middle of the stage.
fn look(context: &mut Context, f: &Finding) {
    let Some(model) = context.model else {
        return;
    };
    if let Some(part) = f.part.map(PartId::assembly) {
        // A panel is not seen where the skin is taken off.
        if matches!(part, PartId::Panel(_)) && context.state.look() != Look::Planked {
            context.state.set_look(Look::Planked);
        }
        context.state.take_in_hand(part);
    }
    let Some(at) = f.at.or_else(|| Some(model.parts.get(f.part?)?.centre)) else {
        return;
    };
    let turn = match f.part {
        // The jig is drawn as it stands, whatever way up the hull is.
        Some(part) if part.stands_on_floor() => nalgebra::Isometry3::identity(),
        _ => stance(context.state, model),
    };
    context.look_at(turn * at, turn.rotation * outward(model, at));
}

/// Away from the skin at the ruling that is nearest to a place.
fn outward(model: &Model, at: P3) -> V3 {
    let rulings = model.panels.iter().flat_map(|p| &p.surface.rulings);
    let off = |r: &&crate::panel::Ruling| {
        let middle = r.lower + 0.5 * (r.upper - r.lower);
        [r.lower, middle, r.upper]
            .map(|p| (p - at).norm())
            .into_iter()
            .fold(f64::INFINITY, f64::min)
    };
    rulings.min_by(|a, b| off(a).total_cmp(&off(b))).map_or(FROM_ASIDE, |r| r.normal_lower)
}
