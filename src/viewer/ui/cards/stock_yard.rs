//! Only what the yard has: the cheapest boat of the sheets and the lumber on the lists, beside
//! the boat as she is.

use bevy_egui::egui::{RichText, Ui};

use crate::hull::edit::Edit;
use crate::model::Model;
use crate::model::stock::StockList;
use crate::model::stock::yard::{Answer, Found};
use crate::viewer::session::Command;
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::figure;
use crate::viewer::yard::AskYard;
use crate::words::capital;
use crate::words::stock::{cost_words, so_many};
use crate::words::yard::{as_she_is, besides, change, ended, family, not_listed, progress, why};

/// Reasons that are told at most; the rest are counted.
const MOST_TOLD: usize = 6;

/// Shows it.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let yard = context.yard;
    let soft = |words: String, colour| RichText::new(words).size(size::SMALL).color(colour);
    let tokens = context.tokens;
    ui.label(soft(
        "Of the sheets and lumber in the document's lists, with their prices and how many there are, the cheapest boat that still holds.".into(),
        tokens.soft,
    ));
    if let Some(p) = &yard.search {
        ui.label(soft(capital(&progress(p)), tokens.ink));
        if ui.small_button("Stop there").on_hover_text("The cheapest so far stays").clicked() {
            context.asks_yard.push(AskYard::Stop);
        }
        return;
    }
    let hint =
        "Looks through every sheet, wood, glue and joint that the lists give; it can be stopped";
    if ui.small_button("Find the cheapest that holds").on_hover_text(hint).clicked() {
        context.asks_yard.push(AskYard::Choose);
    }
    let Some(outcome) = yard.outcome.clone() else {
        return;
    };
    if context.old_yard {
        let words = "She has changed since it was looked for.";
        ui.label(soft(words.into(), tokens.watch));
        return;
    }
    match outcome.as_ref() {
        Err(lack) => {
            ui.label(soft(capital(&not_listed(lack, context.units())), tokens.watch));
        }
        Ok(found) => told(ui, context, found),
    }
}

fn told(ui: &mut Ui, context: &mut Context, found: &Found) {
    let (tokens, units) = (context.tokens, context.units());
    let line = |ui: &mut Ui, words: &str, colour| {
        ui.label(RichText::new(words).size(size::SMALL).color(colour));
    };
    line(ui, &(ended(found) + "."), tokens.soft);
    let falls = found.as_she_is.is_some();
    let colour = if falls { tokens.watch } else { tokens.soft };
    line(ui, &(as_she_is(found, units) + "."), colour);
    if let Some(answer) = &found.answer {
        beside(ui, context, &found.before, answer);
    }
    let reasons: Vec<String> = found
        .fallen
        .iter()
        .map(|f| {
            let boats = usize::try_from(f.boats).unwrap_or(usize::MAX);
            let of = family(&f.family, units).unwrap_or(so_many(boats, "boat", "boats"));
            capital(&format!("{of}: {}", why(&f.why, units)))
        })
        .collect();
    if !reasons.is_empty() {
        line(ui, "Ruled out, and why:", tokens.ink);
    }
    for words in reasons.iter().take(MOST_TOLD) {
        line(ui, words, tokens.soft);
    }
    if reasons.len() > MOST_TOLD {
        let rest = reasons[MOST_TOLD..].join("\n");
        let words = format!("and {} more reasons", reasons.len() - MOST_TOLD);
        ui.label(RichText::new(words).size(size::SMALL).color(tokens.soft)).on_hover_text(rest);
    }
}

/// What changes, and what it does to cost, weight and freeboard.
fn beside(ui: &mut Ui, context: &mut Context, before: &(Model, StockList), answer: &Answer) {
    let (tokens, units) = (context.tokens, context.units());
    if answer.changes.is_empty() {
        let words = "She is the cheapest that holds as she is.";
        ui.label(RichText::new(words).size(size::SMALL));
    }
    for c in &answer.changes {
        ui.label(RichText::new(capital(&change(c, units))).size(size::SMALL));
    }
    let full = |m: &Model| m.afloat.as_deref()?.full()?.freeboard.map(|f| units.show(f.0));
    let of = |m: &Model, l: &StockList| {
        [
            ("cost", Some(cost_words(&l.cost, &m.hull.stock.currency))),
            ("she weighs", Some(units.mass(l.mass))),
            ("least freeboard, full crew", full(m)),
        ]
    };
    let both = of(&before.0, &before.1).into_iter().zip(of(&answer.model, &answer.list));
    for ((name, was), (_, now)) in both {
        if let (Some(was), Some(now)) = (was, now) {
            let words = if was == now { now } else { format!("{now}, was {was}") };
            figure(ui, tokens, name, words);
        }
    }
    for b in &answer.besides {
        let words = format!("Bought besides: {}", besides(b, units));
        ui.label(RichText::new(words).size(size::SMALL).color(tokens.soft));
    }
    let hint = "One step, which undo takes back";
    if !answer.changes.is_empty() && ui.small_button("Make her so").on_hover_text(hint).clicked() {
        let her = &answer.model.hull;
        let stock = (her.planking.clone(), her.members.clone(), her.stock.clone());
        context.ask(Command::Edit(Edit::OfOtherStock(Box::new(stock))));
    }
}
