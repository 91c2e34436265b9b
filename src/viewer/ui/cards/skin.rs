//! Skin: each panel's twist, bend and edges, and what it is planked with.

use bevy_egui::egui::{self, FontId, RichText, Sense, Ui};

use crate::hull::edit::Edit;
use crate::hull::{PanelPlanking, PatternSurface, StockPlan};
use crate::material::SheetTable;
use crate::model::{Model, PanelModel};
use crate::units::{MM_PER_INCH, Units};
use crate::viewer::session::Command;
use crate::viewer::state::PartId;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::fields::{typed_gauge, typed_thickness};
use crate::viewer::ui::widgets::figure;
use crate::words;
use crate::words::capital;

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
        let lit = context.state.lit() == Some(PartId::panel(i));
        let frame = egui::Frame::new()
            .fill(if lit { tokens.lit } else { egui::Color32::TRANSPARENT })
            .corner_radius(8)
            .inner_margin(8);
        let response = frame
            .show(ui, |ui| {
                let whole = if p.full_width { "one piece" } else { "one a side" };
                ui.horizontal_wrapped(|ui| {
                    ui.label(
                        RichText::new(capital(&p.name)).font(FontId::new(size::BODY, semibold())),
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
                    &format!("edge at the {}", model.line_below(p)),
                    units.show(p.edges.lower),
                );
                figure(
                    ui,
                    tokens,
                    &format!("edge at the {}", model.line_above(p)),
                    units.show(p.edges.upper),
                );
                figure(ui, tokens, "pattern is true to", true_to(units, p.pattern_error));
                if p.bend.radius < p.bend.least_radius {
                    for o in &p.bend.options {
                        let word = if o.holds { "holds" } else { "does not hold" };
                        ui.label(
                            RichText::new(format!("{}: {word}", words::bend::sheet_way(&o.way)))
                                .size(size::SMALL),
                        );
                    }
                }
            })
            .response
            .interact(Sense::click());
        widgets::row(
            ui,
            context.tokens,
            &response,
            &p.name,
            context.state.selection.panel == Some(i),
        );
        if response.hovered() || response.has_focus() {
            context.state.point_at(PartId::panel(i));
        }
        if response.clicked() {
            context.state.lay((context.state.selection.panel != Some(i)).then_some(i));
            context.state.selection.held = context.state.selection.panel.map(PartId::panel);
        }
    }
    ui.add_space(size::GAP);
    ui.separator();
    planking(ui, context);
    let sheets = &model.materials.sheets;
    let radii = format!(
        "Least radii: ordinary sheets by {}, clear marine ones by {}",
        sheets.radii_source, sheets.clear_radii_source
    );
    let sheet = model.materials.sheets.sheets.iter().find(|s| {
        let panel = context.state.selection.panel.and_then(|i| model.panels.get(i));
        let planking = &context.session.hull().planking;
        s.name == panel.map_or(planking.sheet.as_str(), |p| planking.of_panel(&p.name).0)
    });
    let sheet = sheet.map_or(String::new(), |s| format!("{}: {}", s.name, s.source));
    let twist = "Panels: rulings where the tangent planes at both ends agree (Frey 2002; Wang and Tang 2005; Rose et al. 2007). Thresholds of twist are our judgement; no source.";
    let error =
        "Pattern error: a third of the difference to half as many strips, after Richardson.";
    widgets::sources(ui, tokens, &[&radii, &sheet, twist, error]);
}

/// How true a pattern is, no finer than it is shown.
fn true_to(units: Units, error: f64) -> String {
    let finest = if units.imperial() { 0.001 * MM_PER_INCH } else { 0.01 };
    units.accuracy(error.max(finest))
}

/// The three numbers behind the verdict, and where it is worst.
fn worst(ui: &mut Ui, context: &mut Context, model: &Model) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    let share = |p: &PanelModel| p.bend.least_radius / p.bend.radius;
    let tightest = model.panels.iter().enumerate().max_by(|a, b| share(a.1).total_cmp(&share(b.1)));
    let twist = model.panels.iter().map(|p| p.quality.greatest_warp).fold(0.0, f64::max);
    figure(ui, tokens, "most twist along a ruling", format!("{:.1}°", twist.to_degrees()));
    let error = model.panels.iter().map(|p| p.pattern_error).fold(0.0, f64::max);
    figure(ui, tokens, "patterns are true to", true_to(units, error));
    let Some((i, p)) = tightest else {
        return;
    };
    figure(ui, tokens, "bend, of what the sheet takes", format!("{:.0} %", 100.0 * share(p)));
    let place = units.show(p.bend.at.x);
    let words = format!("look at it: the {} {place} aft", p.name);
    if widgets::link(ui, tokens, words).clicked() {
        let rulings = &p.surface.rulings;
        let off = |r: &crate::panel::Ruling| {
            (r.lower - p.bend.at).norm().min((r.upper - p.bend.at).norm())
        };
        let normal = rulings
            .iter()
            .min_by(|a, b| off(a).total_cmp(&off(b)))
            .map_or_else(crate::geom::V3::y, |r| r.normal_lower);
        context.look_at(p.bend.at, normal);
        context.state.selection.held = Some(PartId::panel(i));
    }
    ui.add_space(size::GAP);
}

/// The sheets that can be had, `now` shown: the name and usual thickness (mm) of the one that is
/// chosen. Those on the document's list of sheets say so.
fn sheet_choice(
    ui: &mut Ui,
    key: &str,
    (sheets, plan): (&SheetTable, &StockPlan),
    now: &str,
) -> Option<(String, f64)> {
    let mut chosen = None;
    widgets::choice(ui, key, 220.0, now, |ui| {
        for s in &sheets.sheets {
            let words = widgets::listed(&s.name, plan.sheets.iter().any(|row| row.sheet == s.name));
            if ui.selectable_label(s.name == now, words).on_hover_text(&s.source).clicked() {
                chosen = Some((s.name.clone(), s.thickness_mm));
            }
        }
    });
    chosen
}

/// A panel of another sheet, thickness (mm) or grain.
fn planked(panel: &str, sheet: String, thickness_mm: f64, grain_across: bool) -> Command {
    let planking = PanelPlanking { panel: panel.into(), sheet, thickness_mm, grain_across };
    Command::Edit(Edit::SetPanelSheet { planking })
}

/// The sheets that can be had for a panel, its own shown; another that is chosen is asked for.
pub(super) fn other_sheet(ui: &mut Ui, context: &mut Context, key: &str, panel: &str) {
    let Some(model) = context.model else {
        return;
    };
    let hull = context.session.hull();
    let (sheet, _) = hull.planking.of_panel(panel);
    let chosen = sheet_choice(ui, key, (&model.materials.sheets, &hull.stock), sheet);
    if let Some((sheet, thickness)) = chosen.filter(|c| c.0 != sheet) {
        context.ask(planked(panel, sheet, thickness, hull.planking.grain_across(panel)));
    }
}

/// The sheet, measured thickness and grain of the panel in hand, or of all where none is; and
/// which surface is developed.
fn planking(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        return;
    };
    let planking = context.session.hull().planking.clone();
    let surface = planking.pattern_surface;
    let panel =
        context.state.selection.panel.and_then(|i| model.panels.get(i)).map(|p| p.name.clone());
    let first = model.panels.first().map_or("", |p| p.name.as_str());
    let (sheet, thickness) = planking.of_panel(panel.as_deref().unwrap_or(first));
    let sheet = sheet.to_string();
    // With none in hand and several sheets there is no one thickness to show.
    let same = panel.is_some()
        || model.panels.iter().all(|p| planking.of_panel(&p.name) == (sheet.as_str(), thickness));
    let across = panel.as_deref().is_some_and(|p| planking.grain_across(p));
    let head = match &panel {
        Some(p) => format!("{} planked with", capital(p)),
        None => "All panels planked with".into(),
    };
    ui.label(RichText::new(head).font(FontId::new(size::BODY, semibold())));
    let set = |sheet: String, thickness_mm: f64, grain_across: bool| match &panel {
        Some(panel) => planked(panel, sheet, thickness_mm, grain_across),
        None => Command::Edit(Edit::SetSheet { sheet, thickness_mm }),
    };
    match &panel {
        Some(panel) => other_sheet(ui, context, "sheet", panel),
        None => {
            let shown = if same { sheet.as_str() } else { "differs by panel" };
            let tables = (&model.materials.sheets, &context.session.hull().stock);
            if let Some((sheet, thickness)) = sheet_choice(ui, "sheet", tables, shown) {
                context.ask(set(sheet, thickness, across));
            }
        }
    }
    // A field of its own for each panel: what is typed for one is not another's.
    let key = format!("thickness of {}", panel.as_deref().unwrap_or("all"));
    if same && let Some(t) = typed_gauge(ui, context, &key, "measured", thickness) {
        context.ask(set(sheet.clone(), t, across));
    }
    let mut turned = across;
    if panel.is_some() && ui.checkbox(&mut turned, "face grain across the panel").changed() {
        context.ask(set(sheet, thickness, turned));
    }
    let hint = match panel {
        Some(_) => "Only this panel. Press it in the list above once more for all.",
        None => "Press a panel in the list above to choose its own.",
    };
    ui.label(RichText::new(hint).size(size::SMALL).color(context.tokens.soft));
    let allowance = planking.trim_allowance_mm;
    ui.add_space(size::GAP);
    ui.label(RichText::new("All patterns").font(FontId::new(size::BODY, semibold())));
    let trim = typed_thickness(ui, context, "trim allowance", "trim allowance", allowance);
    if let Some(mm) = trim {
        context.ask(Command::Edit(Edit::SetTrimAllowance(mm)));
    }
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("patterns of the").size(size::SMALL).color(context.tokens.soft));
        for s in [PatternSurface::Inside, PatternSurface::Middle, PatternSurface::Outside] {
            if widgets::chip(ui, s == surface, s.word()).clicked() {
                context.ask(Command::Edit(Edit::SetPatternSurface(s)));
            }
        }
    });
}
