//! Stock: what is bought and what it costs, how far the layouts are, and what is cut from what.

use bevy_egui::egui::{self, FontId, RichText, Sense, Ui};

use crate::model::Model;
use crate::model::stock::{SheetKind, StockList};
use crate::viewer::state::PartId;
use crate::viewer::stocktaking::Ask;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::cards::sections::{ruled_title, small};
use crate::viewer::ui::cards::{stock_plan, stock_rows, stock_swap, stock_yard};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::figure;
use crate::words::stock::{cost_words, joint, kind_words, rests_on, so_many, without_price};
use crate::words::{capital, cautions};

/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    search(ui, context);
    let Some((list, model)) = context.stock().zip(context.model) else {
        ui.label("Her sheets, lumber and stores are being counted …");
        return;
    };
    if context.old_stock {
        let words = "Of the shape before: she is being counted anew.";
        ui.label(RichText::new(words).size(size::SMALL).color(context.tokens.watch));
    }
    glance(ui, context, model, list);
    sheets(ui, context, list);
    joints(ui, context, list);
    stock_plan::show(ui, context, list);
    ruled_title(ui, "Another sheet, another wood");
    stock_swap::show(ui, context);
    ruled_title(ui, "Only what the yard has");
    stock_yard::show(ui, context);
    stock_rows::show(ui, context, list);
    for caution in [cautions::SAW, cautions::DUST] {
        small(ui, context, caution, true);
    }
    let layouts = "Layouts: our own search; each is checked part by part on the true outlines. The least number of sheets is a bound, not a promise.";
    widgets::sources(ui, context.tokens, &[layouts]);
}

/// How far the layouts are; stop, go on, take back.
fn search(ui: &mut Ui, context: &mut Context) {
    let taking = context.stocktaking;
    // The row stays where nothing is searched, so that nothing under the hand hops.
    let (share, words) = match &taking.search {
        None => (1.0, "laid as is told below"),
        Some(s) if s.first || s.sheet.is_empty() => (s.share, "laying the parts on sheets"),
        Some(s) => (s.share, "looking for a better layout"),
    };
    let bar = egui::ProgressBar::new(share).text(RichText::new(words).size(size::SMALL));
    let bar = ui.add(bar.desired_width(ui.available_width()));
    if let Some(s) = taking.search.as_ref().filter(|s| !s.sheet.is_empty()) {
        bar.on_hover_text(format!("Of {}: fewer sheets, then larger pieces left", s.sheet));
    }
    ui.horizontal_wrapped(|ui| {
        if taking.search.is_some() && !taking.at_rest() {
            let hint = "The best layout so far stays";
            if ui.small_button("Stop looking").on_hover_text(hint).clicked() {
                context.asks.push(Ask::Stop);
            }
        } else if taking.list.is_some() && taking.search.is_none() {
            let hint = "Search for a better layout from another beginning";
            if ui.small_button("Look further").on_hover_text(hint).clicked() {
                context.asks.push(Ask::SearchOn);
            }
        }
        if taking.by_hand() {
            let hint = "Back to where the part lay that was moved by hand last";
            if ui.small_button("Take back").on_hover_text(hint).clicked() {
                context.asks.push(Ask::TakeBack);
            }
        }
    });
}

/// What it comes to: bought, paid, weighed, and what changes with it.
fn glance(ui: &mut Ui, context: &Context, model: &Model, list: &StockList) {
    let (tokens, units) = (context.tokens, context.units());
    let was = context.stocktaking.was.as_ref().filter(|_| !context.old_stock);
    let bought = |l: &StockList| -> usize {
        let boxes = l.boxes.iter().flat_map(|b| &b.sheets).filter(|s| !s.on_hand);
        let laid = l.sheets.iter().map(|k| k.layout.bought(&k.problem));
        laid.sum::<usize>() + boxes.map(|s| s.count).sum::<usize>()
    };
    let row = |ui: &mut Ui, name: &str, of: &dyn Fn(&Model, &StockList) -> Option<String>| {
        if let Some(now) = of(model, list) {
            let was = was.and_then(|w| of(&w.model, &w.list)).filter(|w| *w != now);
            let words = was.map_or(now.clone(), |was| format!("{now}, was {was}"));
            figure(ui, tokens, name, words);
        }
    };
    row(ui, "sheets to buy", &|_, l| Some(bought(l).to_string()));
    row(ui, "lengths of lumber", &|_, l| Some(l.lumber.plan.boards.len().to_string()));
    let unpriced = list.without_price();
    let cost = |m: &Model, l: &StockList| Some(cost_words(&l.cost, &m.hull.stock.currency));
    let cost = ui.scope(|ui| row(ui, "cost", &cost)).response;
    if !unpriced.is_empty() {
        let names = unpriced.iter().map(|u| without_price(u, units)).collect::<Vec<_>>();
        let hint = "Prices are typed below; those of lumber and stores once their row is pressed";
        cost.on_hover_text(format!("Without a price:\n{}\n{hint}", names.join("\n")));
    }
    row(ui, "she weighs", &|_, l| Some(units.mass(l.mass)));
    row(ui, "least freeboard, full crew", &|m, _| {
        m.afloat.as_deref()?.full()?.freeboard.map(|f| units.show(f.0))
    });
    row(ui, "bend, of what her sheets take", &|m, _| {
        let panels = m.panels.iter().map(|p| p.bend.least_radius / p.bend.radius);
        Some(format!("{:.0} %", 100.0 * panels.fold(0.0, f64::max)))
    });
}

/// The kinds of sheet, how many of each, and why not fewer.
fn sheets(ui: &mut Ui, context: &mut Context, list: &StockList) {
    ruled_title(ui, "Sheets");
    let (tokens, units) = (context.tokens, context.units());
    for (k, kind) in list.sheets.iter().enumerate() {
        let first = list.sheet_number(k, 0) - 1;
        let mine = first..first + kind.layout.sheets.len();
        let chosen = mine.contains(&context.state.selection.sheet);
        let name = kind_words(&kind.sheet, kind.thickness, units);
        let fill = if chosen { tokens.lit } else { egui::Color32::TRANSPARENT };
        let frame = egui::Frame::new().fill(fill).corner_radius(8).inner_margin(8);
        let shown = frame.show(ui, |ui| {
            ui.label(RichText::new(capital(&name)).font(FontId::new(size::BODY, semibold())));
            kind_figures(ui, context, k, kind);
        });
        let response = shown.response.interact(Sense::click());
        widgets::row(ui, tokens, &response, &name, chosen);
        if response.clicked() {
            context.state.lay_sheet(mine.start);
        }
    }
}

fn kind_figures(ui: &mut Ui, context: &Context, k: usize, kind: &SheetKind) {
    let (tokens, units) = (context.tokens, context.units());
    let (layout, problem) = (&kind.layout, &kind.problem);
    let bought = layout.bought(problem);
    let on_hand = layout.sheets.len() - bought;
    let mut words = so_many(bought, "sheet", "sheets");
    if on_hand > 0 {
        words += &format!(", {on_hand} on hand");
    }
    figure(ui, tokens, "to buy", words);
    let least = match layout.bound.sheets {
        0 => "all of it counted on your list".to_string(),
        n => format!("fewer than {n} cannot do"),
    };
    ui.label(RichText::new(least).size(size::SMALL).color(tokens.soft))
        .on_hover_text(rests_on(&layout.bound));
    if let Some(left) = context.stocktaking.told.largest.get(k).copied().flatten() {
        figure(ui, tokens, "largest piece left", units.area(left));
    }
}

/// Where panels are joined, and what that does to their bend.
fn joints(ui: &mut Ui, context: &mut Context, list: &StockList) {
    ruled_title(ui, "Joints of panels");
    let units = context.units();
    for p in &list.panels {
        let response =
            ui.label(RichText::new(capital(&p.name)).font(FontId::new(size::SMALL, semibold())));
        if response.hovered() {
            context.state.point_at(PartId::Panel(p.panel));
        }
        if p.split.joints.is_empty() {
            small(ui, context, "whole, from one sheet", true);
        }
        for j in &p.split.joints {
            small(ui, context, &capital(&joint(j, units)), false);
        }
    }
}
