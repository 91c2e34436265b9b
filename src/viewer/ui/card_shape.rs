//! Shape: the hull's size, its lines, and the duck in hand with figures to type.

use bevy_egui::egui::{self, FontId, RichText, Ui};

use super::Context;
use super::parts::figure;
use super::state::DuckId;
use super::style::{semibold, size};
use crate::hull::edit::Edit;
use crate::units::parse_length;
use crate::viewer::session::Command;

/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    if let Some(model) = context.model {
        figure(ui, tokens, "length", units.show(model.lines.length_overall()));
        figure(ui, tokens, "beam", units.show(model.lines.beam_overall()));
        figure(ui, tokens, "depth", units.show(model.lines.depth()));
        ui.add_space(size::GAP);
        ui.label(RichText::new("Lines").font(FontId::new(size::BODY, semibold())));
        for (line, fair) in model.lines.lines.iter().zip(&model.fairness) {
            if line.derived {
                continue;
            }
            let reverses = fair.plan.inflections_x.len() + fair.profile.inflections_x.len();
            let note = match reverses {
                0 => String::new(),
                1 => "  1 reverse".into(),
                n => format!("  {n} reverses"),
            };
            figure(ui, tokens, &line.name, format!("{}{note}", units.show(line.arc.length())));
        }
    }
    ui.add_space(size::GAP);
    ui.checkbox(&mut context.state.combs, "curvature combs");
    ui.separator();
    match context.state.duck {
        Some(id) => duck(ui, context, id),
        None => {
            let hint = "Drag a duck in the strip below to reshape her. Click one to type its place; double-click a line to set another.";
            ui.label(RichText::new(hint).size(size::SMALL).color(tokens.soft));
        }
    }
}

/// The duck in hand.
fn duck(ui: &mut Ui, context: &mut Context, id: DuckId) {
    let hull = context.session.hull();
    let Some((line, duck)) =
        hull.lines.get(id.line).and_then(|l| Some((l, *l.ducks.get(id.duck)?)))
    else {
        context.state.duck = None;
        return;
    };
    let units = hull.units;
    let (name, count) = (line.name.clone(), line.ducks.len());
    ui.label(
        RichText::new(format!("Duck {} of the {name}", id.duck + 1))
            .font(FontId::new(size::BODY, semibold())),
    );
    for (axis, label, value) in
        [(0, "aft", duck.x), (1, "half-breadth", duck.y), (2, "height", duck.z)]
    {
        let key = format!("{}-{}-{axis}", id.line, id.duck);
        let taken = typed_length(ui, context, &key, label, value, units);
        if let Some(mm) = taken {
            let mut to = duck;
            match axis {
                0 => to.x = mm,
                1 => to.y = mm,
                _ => to.z = mm,
            }
            context.ask(Command::Edit(Edit::MoveDuck { line: id.line, duck: id.duck, to }));
        }
    }
    let mut knuckle = duck.knuckle;
    let inner = id.duck > 0 && id.duck + 1 < count;
    if ui
        .add_enabled(
            inner,
            egui::Checkbox::new(&mut knuckle, "knuckle: the line bends sharply here"),
        )
        .changed()
    {
        context.ask(Command::Edit(Edit::SetKnuckle { line: id.line, duck: id.duck, knuckle }));
    }
    if ui.add_enabled(count > 2, egui::Button::new("Take this duck away")).clicked() {
        context.state.duck = None;
        context.ask(Command::Edit(Edit::RemoveDuck { line: id.line, duck: id.duck }));
    }
}

/// A field for a length in any accepted unit; the length in mm once it is entered.
pub fn typed_length(
    ui: &mut Ui,
    context: &mut Context,
    key: &str,
    label: &str,
    value: f64,
    units: crate::units::Units,
) -> Option<f64> {
    let tokens = context.tokens;
    let mut out = None;
    ui.horizontal(|ui| {
        ui.add_sized(
            [104.0, 24.0],
            egui::Label::new(RichText::new(label).size(size::SMALL).color(tokens.soft)),
        );
        let shown = match &context.state.typed {
            Some((k, text)) if k == key => text.clone(),
            _ => units.show(value),
        };
        let mut text = shown.clone();
        let field = ui.add(
            egui::TextEdit::singleline(&mut text)
                .desired_width(150.0)
                .font(FontId::monospace(size::SMALL)),
        );
        if field.changed() {
            context.state.typed = Some((key.to_string(), text.clone()));
        }
        if field.lost_focus() {
            if text != units.show(value) {
                match parse_length(&text, units) {
                    Ok(mm) => out = Some(mm),
                    Err(why) => {
                        ui.label(RichText::new("?").color(tokens.stop)).on_hover_text(why);
                    }
                }
            }
            context.state.typed = None;
        }
        let wrong = parse_length(&text, units).err();
        if let Some(why) = wrong {
            ui.label(RichText::new("not a length").size(size::SMALL).color(tokens.stop))
                .on_hover_text(why);
        }
    });
    out
}
