//! Skin: each panel's twist, bend and edges, and what it is planked with.

use bevy_egui::egui::{self, FontId, RichText, Sense, Ui};

use super::Context;
use super::fields::typed_length;
use super::parts::figure;
use super::state::Piece;
use super::style::{semibold, size};
use crate::hull::PatternSurface;
use crate::hull::edit::Edit;
use crate::viewer::session::Command;

/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        ui.label("Nothing is computed yet.");
        return;
    };
    let tokens = context.tokens;
    let units = context.session.hull().units;
    for (i, p) in model.panels.iter().enumerate() {
        let lit = context.state.lit() == Some(Piece::Panel(i));
        let frame = egui::Frame::new()
            .fill(if lit { tokens.floor } else { tokens.paper })
            .corner_radius(8)
            .inner_margin(8);
        let response = frame
            .show(ui, |ui| {
                let whole = if p.full_width { "one piece" } else { "one a side" };
                ui.horizontal(|ui| {
                    ui.label(
                        RichText::new(super::parts::capital(&p.name))
                            .font(FontId::new(size::BODY, semibold())),
                    );
                    ui.label(
                        RichText::new(format!("{} · {whole}", p.sheet))
                            .size(size::SMALL)
                            .color(tokens.soft),
                    );
                });
                figure(
                    ui,
                    tokens,
                    "twist at most",
                    format!("{:.1}°", p.quality.greatest_warp.to_degrees()),
                );
                let radius = if p.bend.radius.is_finite() {
                    units.show(p.bend.radius)
                } else {
                    "flat".into()
                };
                figure(ui, tokens, "tightest radius", radius);
                figure(ui, tokens, "the sheet takes there", units.show(p.bend.least_radius));
                figure(
                    ui,
                    tokens,
                    &format!("edge at the {}", model.lower_line_name(p)),
                    units.show(p.edges.lower),
                );
                figure(
                    ui,
                    tokens,
                    &format!("edge at the {}", model.upper_line_name(p)),
                    units.show(p.edges.upper),
                );
                figure(
                    ui,
                    tokens,
                    "pattern within",
                    format!("{:.2} mm", p.pattern_error.max(0.01)),
                );
                if p.bend.radius < p.bend.least_radius {
                    for o in &p.bend.options {
                        let word = if o.holds { "holds" } else { "does not hold" };
                        ui.label(RichText::new(format!("{}: {word}", o.what)).size(size::SMALL));
                    }
                }
            })
            .response
            .interact(Sense::click());
        if response.hovered() {
            context.state.point_at(Piece::Panel(i));
        }
        if response.clicked() {
            context.state.panel = (context.state.panel != Some(i)).then_some(i);
            context.state.held = context.state.panel.map(Piece::Panel);
        }
    }
    ui.add_space(size::GAP);
    ui.separator();
    planking(ui, context);
}

/// The main sheet, its measured thickness, and which surface is developed.
fn planking(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        return;
    };
    let planking = &context.session.hull().planking;
    let (sheet, thickness, surface) =
        (planking.sheet.clone(), planking.thickness_mm, planking.pattern_surface);
    ui.label(RichText::new("Planked with").font(FontId::new(size::BODY, semibold())));
    let mut chosen = None;
    egui::ComboBox::from_id_salt("sheet").width(220.0).selected_text(&sheet).show_ui(ui, |ui| {
        for s in &model.materials.sheets.sheets {
            if ui.selectable_label(s.name == sheet, &s.name).clicked() {
                chosen = Some((s.name.clone(), s.thickness_mm));
            }
        }
    });
    if let Some((sheet, thickness_mm)) = chosen {
        context.ask(Command::Edit(Edit::SetSheet { sheet, thickness_mm }));
    }
    if let Some(t) =
        typed_length(ui, context, "thickness", "measured", thickness, crate::units::Units::Mm)
    {
        context.ask(Command::Edit(Edit::SetSheet { sheet, thickness_mm: t }));
    }
    ui.horizontal(|ui| {
        ui.label(RichText::new("patterns of the").size(size::SMALL).color(context.tokens.soft));
        for s in [PatternSurface::Inside, PatternSurface::Middle, PatternSurface::Outside] {
            if ui.selectable_label(s == surface, s.word()).clicked() {
                context.ask(Command::Edit(Edit::SetPatternSurface(s)));
            }
        }
    });
}
