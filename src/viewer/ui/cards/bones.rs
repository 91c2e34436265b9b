//! Bones: each member's strain and the ladder of advice.

use bevy_egui::egui::{self, FontId, RichText, Sense, Ui};

use crate::bend::{BentMember, Method};
use crate::hull::edit::Edit;
use crate::hull::{Member, MemberSide};
use crate::model::Model;
use crate::report::text::chance;
use crate::units::Units;
use crate::viewer::session::Command;
use crate::viewer::state::PartId;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::cards::stick;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::{figure, trade_words};
use crate::words;
use crate::words::capital;

/// A card narrower than this (points) has room for short words only.
const NARROW: f32 = 240.0;

/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        ui.label("Nothing is computed yet.");
        return;
    };
    let tokens = context.tokens;
    for (i, bent) in model.members.iter().enumerate() {
        let selected =
            context.state.member_of(model) == i || context.state.lit() == Some(PartId::member(i));
        let frame = egui::Frame::new()
            .fill(if selected { tokens.lit } else { egui::Color32::TRANSPARENT })
            .corner_radius(8)
            .inner_margin(8);
        let response = frame
            .show(ui, |ui| {
                ui.horizontal_wrapped(|ui| {
                    let name = RichText::new(capital(&bent.member.name));
                    trade_words::taught(ui, name.font(FontId::new(size::BODY, semibold())));
                    let way = bent.advice.recommended.map_or("will not bend", words::bend::method);
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
        widgets::row(ui, context.tokens, &response, &bent.member.name, selected);
        if response.hovered() || response.has_focus() {
            context.state.point_at(PartId::member(i));
        }
        if response.clicked() {
            context.state.selection.held = Some(PartId::member(i));
            context.state.selection.member = Some(i);
        }
    }
    more(ui, context, model);
    let Some(bent) = model.members.get(context.state.member_of(model)) else {
        return;
    };
    ui.add_space(size::GAP);
    ui.separator();
    ladder(ui, context, bent);
    stick::show(ui, context, bent);
}

/// Members added along a line, and the one in hand taken away.
fn more(ui: &mut Ui, context: &mut Context, model: &Model) {
    let hull = context.session.hull();
    let in_hand =
        context.state.selection.member.and_then(|i| model.members.get(i)).map(|m| &m.member);
    let placed = in_hand.and_then(|m| hull.members.iter().position(|own| own == m));
    let mut asked = None;
    ui.horizontal_wrapped(|ui| {
        let words = RichText::new("add a member …").size(size::SMALL);
        ui.menu_button(words, |ui| {
            for line in model.lines.lines.iter().map(|l| l.id) {
                for side in [MemberSide::Inside, MemberSide::Outside] {
                    let member = Member::along(line, side, hull);
                    let where_ = if side == MemberSide::Inside { "inside" } else { "outside" };
                    if ui.button(format!("{}: {where_} along the {line}", member.name)).clicked() {
                        asked = Some(Edit::AddMember(Box::new(member)));
                    }
                }
            }
        });
        if let Some(i) = placed {
            let words = format!("take the {} away", hull.members[i].name);
            if ui.small_button(words).clicked() {
                asked = Some(Edit::RemoveMember(i));
            }
        }
    });
    if let Some(edit) = asked {
        if matches!(edit, Edit::RemoveMember(_)) {
            (context.state.selection.member, context.state.selection.held) = (None, None);
        }
        context.ask(Command::Edit(edit));
    }
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
    figure(ui, tokens, "mostly by", words::bend::governs(bent.governs()));
    figure(ui, tokens, "chance that a stick breaks dry", chance(bent.break_chance));
    if bent.member.sticks() > 1 {
        figure(ui, tokens, "that one of the two does", chance(bent.pair_break_chance));
    }
    let judged = format!("For {}.", words::bend::stock(bent.member.stock));
    ui.label(RichText::new(judged).size(size::SMALL).color(tokens.soft));
    let near = |a: &crate::bend::Along| (a.at - bent.peak_at).abs();
    let worst = bent.along.iter().min_by(|a, b| near(a).total_cmp(&near(b)));
    if let Some(a) = worst
        && widgets::link(ui, tokens, "look at it").clicked()
    {
        let index = context.model.map(|m| context.state.member_of(m));
        context.look_at(a.point, a.outward);
        context.state.selection.held = index.map(PartId::member);
    }
    for rung in &bent.advice.rungs {
        let best = Some(rung.method) == bent.advice.recommended;
        let title = format!(
            "{} — {}",
            capital(words::bend::method(rung.method)),
            match rung.holds {
                true => "holds",
                false if ui.available_width() < NARROW => "fails",
                false => "does not hold",
            }
        );
        let text = RichText::new(title).size(size::SMALL).color(if best {
            tokens.chalk
        } else {
            tokens.ink
        });
        egui::CollapsingHeader::new(text)
            .id_salt((bent.member.name.as_str(), words::bend::method(rung.method)))
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
                    let label = words::bend::label(rung.method, f.quantity);
                    figure(ui, tokens, label, number(units, f.quantity.key(), f.value));
                }
                ui.label(RichText::new(words::bend::how(&rung.how, units)).size(size::SMALL));
                let caution = words::bend::caution(rung.method);
                ui.label(
                    RichText::new(format!("Caution: {caution}"))
                        .size(size::SMALL)
                        .color(tokens.watch),
                );
                ui.label(
                    RichText::new(format!("Source: {}", words::bend::source(rung.method)))
                        .size(size::SMALL)
                        .color(tokens.soft),
                );
            });
    }
}

/// A figure with the unit that its key names, to the precision of the shop.
fn number(units: Units, key: &str, value: f64) -> String {
    match key {
        "break_chance" | "pair_break_chance" => chance(value),
        "remaining_strength" => format!("{:.0} %", 100.0 * value),
        "strain_with_strap" => format!("{:.1} %", 100.0 * value),
        "tightest_radius_mm" => units.radius(value),
        k if k.ends_with("_pct") => format!("{value:.0} %"),
        k if k.ends_with("_mm") => {
            if value > 30.0 {
                units.show(value)
            } else {
                units.fine(value)
            }
        }
        k if k.ends_with("_min") => format!("{value:.0} min"),
        k if k.ends_with("_n") => units.force(value),
        k if k.ends_with("_c") => units.temperature(value),
        "springback" => format!("{value:.2}"),
        _ => format!("{value:.0}"),
    }
}
