//! Skin: each panel's twist, bend and edges, and what it is planked with.

use bevy_egui::egui::{self, FontId, RichText, Sense, Ui};

use super::Context;
use super::fields::typed_thickness;
use super::parts::figure;
use super::state::Piece;
use super::style::{semibold, size};
use crate::hull::PatternSurface;
use crate::hull::edit::Edit;
use crate::model::{Model, PanelModel};
use crate::viewer::session::Command;

/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        ui.label("Nothing is computed yet.");
        return;
    };
    let tokens = context.tokens;
    let units = context.session.hull().units;
    worst(ui, context, model);
    for (i, p) in model.panels.iter().enumerate() {
        let lit = context.state.lit() == Some(Piece::Panel(i));
        let frame = egui::Frame::new()
            .fill(if lit { tokens.floor } else { egui::Color32::TRANSPARENT })
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
                figure(ui, tokens, "pattern is true to", units.accuracy(p.pattern_error.max(0.01)));
                if p.bend.radius < p.bend.least_radius {
                    for o in &p.bend.options {
                        let word = if o.holds { "holds" } else { "does not hold" };
                        ui.label(RichText::new(format!("{}: {word}", o.what)).size(size::SMALL));
                    }
                }
            })
            .response
            .interact(Sense::click());
        super::parts::row(ui, context.tokens, &response, &p.name, context.state.panel == Some(i));
        if response.hovered() || response.has_focus() {
            context.state.point_at(Piece::Panel(i));
        }
        if response.clicked() {
            context.state.lay((context.state.panel != Some(i)).then_some(i));
            context.state.held = context.state.panel.map(Piece::Panel);
        }
    }
    ui.add_space(size::GAP);
    ui.separator();
    planking(ui, context);
    let sheets = &model.materials.sheets;
    let radii = format!(
        "Least radii: mill-run sheets by {}, clear marine ones by {}",
        sheets.radii_source, sheets.clear_radii_source
    );
    let sheet = model
        .materials
        .sheets
        .sheets
        .iter()
        .find(|s| s.name == context.session.hull().planking.sheet);
    let sheet = sheet.map_or(String::new(), |s| format!("{}: {}", s.name, s.source));
    let twist = "Panels: rulings where the tangent planes at both ends agree (Frey 2002; Wang and Tang 2005; Rose et al. 2007). Thresholds of twist are our judgement; no source.";
    let error =
        "Pattern error: a third of the difference to half as many strips, after Richardson.";
    super::parts::sources(ui, tokens, &[&radii, &sheet, twist, error]);
}

/// The three numbers behind the verdict, and where it is worst.
fn worst(ui: &mut Ui, context: &mut Context, model: &Model) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    let share = |p: &PanelModel| p.bend.least_radius / p.bend.radius;
    let tightest = model.panels.iter().enumerate().max_by(|a, b| share(a.1).total_cmp(&share(b.1)));
    let twist = model.panels.iter().map(|p| p.quality.greatest_warp).fold(0.0, f64::max);
    figure(ui, tokens, "most twist along a ruling", format!("{:.1}°", twist.to_degrees()));
    let error = model.panels.iter().map(|p| p.pattern_error).fold(0.01, f64::max);
    figure(ui, tokens, "patterns are true to", units.accuracy(error));
    let Some((i, p)) = tightest else {
        return;
    };
    figure(ui, tokens, "bend, of what the sheet takes", format!("{:.0} %", 100.0 * share(p)));
    let place = units.show(p.bend.at.x);
    let words = format!("look at it: the {} {place} aft", p.name);
    if super::parts::link(ui, tokens, words).clicked() {
        let rulings = &p.surface.rulings;
        let off = |r: &crate::panel::Ruling| {
            (r.lower - p.bend.at).norm().min((r.upper - p.bend.at).norm())
        };
        let normal = rulings
            .iter()
            .min_by(|a, b| off(a).total_cmp(&off(b)))
            .map_or_else(crate::geom::V3::y, |r| r.normal_lower);
        context.look_at(p.bend.at, normal);
        context.state.held = Some(Piece::Panel(i));
    }
    ui.add_space(size::GAP);
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
    super::parts::choice(ui, "sheet", 220.0, &sheet, |ui| {
        for s in &model.materials.sheets.sheets {
            if ui.selectable_label(s.name == sheet, &s.name).on_hover_text(&s.source).clicked() {
                chosen = Some((s.name.clone(), s.thickness_mm));
            }
        }
    });
    if let Some((sheet, thickness_mm)) = chosen {
        context.ask(Command::Edit(Edit::SetSheet { sheet, thickness_mm }));
    }
    if let Some(t) = typed_thickness(ui, context, "thickness", "measured", thickness) {
        context.ask(Command::Edit(Edit::SetSheet { sheet, thickness_mm: t }));
    }
    ui.horizontal(|ui| {
        ui.set_min_height(28.0);
        ui.label(RichText::new("patterns of the").size(size::SMALL).color(context.tokens.soft));
        for s in [PatternSurface::Inside, PatternSurface::Middle, PatternSurface::Outside] {
            if ui.selectable_label(s == surface, s.word()).clicked() {
                context.ask(Command::Edit(Edit::SetPatternSurface(s)));
            }
        }
    });
}
