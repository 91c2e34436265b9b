//! Bones: each member's strain and the ladder of advice.

use bevy_egui::egui::{self, FontId, RichText, Sense, Ui};

use super::Context;
use super::fields::typed_thickness;
use super::parts::{capital, figure};
use super::state::Piece;
use super::style::{semibold, size};
use crate::bend::{BentMember, Method};
use crate::cli::report_text::chance;
use crate::hull::edit::Edit;
use crate::hull::{Member, StickTest};
use crate::viewer::session::Command;

/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        ui.label("Nothing is computed yet.");
        return;
    };
    let tokens = context.tokens;
    for (i, bent) in model.members.iter().enumerate() {
        let selected =
            context.state.member_of(model) == i || context.state.lit() == Some(Piece::Member(i));
        let frame = egui::Frame::new()
            .fill(if selected { tokens.floor } else { egui::Color32::TRANSPARENT })
            .corner_radius(8)
            .inner_margin(8);
        let response = frame
            .show(ui, |ui| {
                ui.horizontal(|ui| {
                    let name = RichText::new(capital(&bent.member.name));
                    super::words::taught(ui, name.font(FontId::new(size::BODY, semibold())));
                    let way = bent.advice.recommended.map_or("will not bend", Method::word);
                    let colour = match bent.advice.recommended {
                        Some(Method::Dry) => tokens.holds,
                        Some(_) => tokens.watch,
                        None => tokens.stop,
                    };
                    ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                        ui.label(RichText::new(way).size(size::SMALL).color(colour));
                    });
                });
                let text = format!(
                    "{:.2} % of {:.2} %",
                    100.0 * bent.peak_strain,
                    100.0 * bent.limit.breaking
                );
                figure(ui, tokens, "strain, of breaking", text);
            })
            .response
            .interact(Sense::click());
        super::parts::row(ui, context.tokens, &response, &bent.member.name, selected);
        if response.hovered() || response.has_focus() {
            context.state.point_at(Piece::Member(i));
        }
        if response.clicked() {
            context.state.held = Some(Piece::Member(i));
            context.state.member = Some(i);
        }
    }
    let Some(bent) = model.members.get(context.state.member_of(model)) else {
        return;
    };
    ui.add_space(size::GAP);
    ui.separator();
    ladder(ui, context, bent);
    stock(ui, context, bent);
    stick(ui, context, bent);
}

/// Every rung with its numbers, the recommended one opened.
fn ladder(ui: &mut Ui, context: &mut Context, bent: &BentMember) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    ui.label(
        RichText::new(format!("Bending the {}", bent.member.name))
            .font(FontId::new(size::BODY, semibold())),
    );
    figure(ui, tokens, "strain, of what breaks it", format!("{:.0} %", 100.0 * bent.utilisation));
    figure(ui, tokens, "worst place, along from the bow", units.show(bent.peak_at));
    figure(ui, tokens, "chance of breaking dry", chance(bent.break_chance));
    let near = |a: &crate::bend::Along| (a.at - bent.peak_at).abs();
    let worst = bent.along.iter().min_by(|a, b| near(a).total_cmp(&near(b)));
    if let Some(a) = worst
        && super::parts::link(ui, tokens, "look at it").clicked()
    {
        let index = context.model.map(|m| context.state.member_of(m));
        context.look_at(a.point, a.outward);
        context.state.held = index.map(Piece::Member);
    }
    for rung in &bent.advice.rungs {
        let best = Some(rung.method) == bent.advice.recommended;
        let title = format!(
            "{} — {}",
            capital(rung.method.word()),
            if rung.holds { "holds" } else { "does not hold" }
        );
        let text = RichText::new(title).size(size::SMALL).color(if best {
            tokens.chalk
        } else {
            tokens.ink
        });
        egui::CollapsingHeader::new(text)
            .id_salt((bent.member.name.as_str(), rung.method.word()))
            .default_open(best)
            .show(ui, |ui| {
                let verdict = if rung.holds { "holds" } else { "does not hold" };
                figure(
                    ui,
                    tokens,
                    verdict,
                    format!(
                        "{:.2} % asked, {:.2} % allowed",
                        100.0 * rung.strain,
                        100.0 * rung.allowed
                    ),
                );
                for f in &rung.figures {
                    figure(ui, tokens, f.label, number(f.key, f.value));
                }
                ui.label(RichText::new(&rung.how).size(size::SMALL));
                if let Some(caution) = rung.caution {
                    ui.label(
                        RichText::new(format!("Caution: {caution}"))
                            .size(size::SMALL)
                            .color(tokens.watch),
                    );
                }
                ui.label(
                    RichText::new(format!("Source: {}", rung.source))
                        .size(size::SMALL)
                        .color(tokens.soft),
                );
            });
    }
}

/// A figure with the unit that its key names, to the precision of the shop.
fn number(key: &str, value: f64) -> String {
    match key {
        "break_chance" => chance(value),
        "remaining_strength" => format!("{:.0} %", 100.0 * value),
        "strain_with_strap" => format!("{:.1} %", 100.0 * value),
        k if k.ends_with("_pct") => format!("{value:.0} %"),
        k if k.ends_with("_mm") => {
            if value > 30.0 {
                format!("{value:.0} mm")
            } else {
                format!("{value:.1} mm")
            }
        }
        k if k.ends_with("_min") => format!("{value:.0} min"),
        k if k.ends_with("_n") => format!("{value:.0} N"),
        "springback" => format!("{value:.2}"),
        _ => format!("{value:.0}"),
    }
}

/// Section, species and moisture of the member in hand.
fn stock(ui: &mut Ui, context: &mut Context, bent: &BentMember) {
    let Some(model) = context.model else {
        return;
    };
    let Some(index) = context.session.hull().members.iter().position(|m| *m == bent.member) else {
        return;
    };
    let m: Member = context.session.hull().members[index].clone();
    ui.add_space(size::GAP);
    ui.label(RichText::new("Its stick").font(FontId::new(size::BODY, semibold())));
    let set = |moulded_mm: f64, sided_mm: f64, species: &str, moisture_pct: f64| {
        Command::Edit(Edit::SetMember {
            member: index,
            moulded_mm,
            sided_mm,
            species: species.into(),
            moisture_pct,
        })
    };
    if let Some(v) = typed_thickness(ui, context, "moulded", "moulded", m.moulded_mm) {
        context.ask(set(v, m.sided_mm, &m.species, m.moisture_pct));
    }
    if let Some(v) = typed_thickness(ui, context, "sided", "sided", m.sided_mm) {
        context.ask(set(m.moulded_mm, v, &m.species, m.moisture_pct));
    }
    let mut species = None;
    super::parts::choice(ui, "species", 220.0, &m.species, |ui| {
        for w in &model.materials.woods {
            let row = ui.selectable_label(w.name == m.species, &w.name).on_hover_text(&w.source);
            if row.clicked() {
                species = Some(w.name.clone());
            }
        }
    });
    if let Some(s) = species {
        context.ask(set(m.moulded_mm, m.sided_mm, &s, m.moisture_pct));
    }
    let mut moisture = m.moisture_pct;
    let slider = egui::Slider::new(&mut moisture, 6.0..=40.0)
        .clamping(egui::SliderClamping::Never)
        .max_decimals(1)
        .suffix(" %")
        .text("moisture");
    let slider = ui.add(slider);
    if slider.changed() {
        let edit = Edit::SetMember {
            member: index,
            moulded_mm: m.moulded_mm,
            sided_mm: m.sided_mm,
            species: m.species.clone(),
            moisture_pct: moisture,
        };
        // Typed or by keys it is a change of its own.
        context.ask(if slider.dragged() { Command::Drag(edit) } else { Command::Edit(edit) });
    }
    if slider.drag_stopped() {
        context.ask(Command::DragEnd);
    }
}

/// The builder's own bend test.
fn stick(ui: &mut Ui, context: &mut Context, bent: &BentMember) {
    let tokens = context.tokens;
    let Some(index) = context.session.hull().members.iter().position(|m| *m == bent.member) else {
        return;
    };
    egui::CollapsingHeader::new(RichText::new("Test your own stick").size(size::SMALL)).show(ui, |ui| {
        let how = "Lay the stick on two supports, hang a weight at the middle, and read how far it sags.";
        ui.label(RichText::new(how).size(size::SMALL).color(tokens.soft));
        let labels = ["between supports, mm", "width, mm", "depth, mm", "weight, kg", "sag, mm"];
        for (label, text) in labels.iter().zip(&mut context.state.stick) {
            ui.horizontal(|ui| {
                let words = RichText::new(*label).size(size::SMALL).color(tokens.soft);
                let name = super::parts::cell(ui, 150.0, words);
                ui.add(egui::TextEdit::singleline(text).desired_width(90.0)).labelled_by(name.id);
            });
        }
        let values: Vec<f64> = context.state.stick.iter().filter_map(|t| t.trim().parse().ok()).filter(|v| *v > 0.0).collect();
        let test = (values.len() == 5).then(|| StickTest {
            span_mm: values[0],
            width_mm: values[1],
            depth_mm: values[2],
            weight_kg: values[3],
            sag_mm: values[4],
        });
        if let Some(test) = test {
            let e = crate::bend::stick::stiffness(&test);
            figure(ui, tokens, "stiffness", format!("{e:.0} N/mm²"));
            for doubt in crate::bend::stick::doubts(&test) {
                ui.label(RichText::new(capital(doubt)).size(size::SMALL).color(tokens.watch));
            }
        } else {
            ui.label(RichText::new("Five numbers above nought give the stiffness.").size(size::SMALL).color(tokens.soft));
        }
        ui.horizontal(|ui| {
            if ui.add_enabled(test.is_some(), egui::Button::new("Use it")).clicked() {
                context.ask(Command::Edit(Edit::SetStickTest { member: index, test }));
            }
            let used = bent.member.stick_test.is_some();
            if ui.add_enabled(used, egui::Button::new("Back to the handbook")).clicked() {
                context.ask(Command::Edit(Edit::SetStickTest { member: index, test: None }));
            }
        });
        figure(ui, tokens, "used now", format!("{:.0} N/mm² ({})", bent.limit.stiffness, if bent.member.stick_test.is_some() { "tested" } else { "handbook" }));
    });
}
