//! Lumber and stores, a row for each: pressed, it opens for its price and what lies in the shop.

use bevy_egui::egui::{self, Sense, Ui};

use crate::hull::edit::Edit;
use crate::hull::stock::{LumberStock, SoldBy, StockPlan};
use crate::hull::stock_edits::Timber;
use crate::material::Measure;
use crate::model::stock::{LumberList, StockList};
use crate::stock::lumber::{Board, Length, Rules};
use crate::stock::stores::Bought;
use crate::viewer::session::Command;
use crate::viewer::state::stock::StockRow;
use crate::viewer::ui::cards::sections::{ruled_title, small};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::fields::typed;
use crate::viewer::ui::widgets::typed::{
    lumber_price_shown, parse_count, parse_lumber_price, parse_price, price_shown,
};
use crate::viewer::ui::widgets::{self, figure};
use crate::words::stock::{so_many, wood_name};
use crate::words::stores::{how_much, pack_of, with_loss};
use crate::words::{capital, cautions};

/// Shows both lists. What is typed in one row is one step of undo.
pub fn show(ui: &mut Ui, context: &mut Context, list: &StockList) {
    let mut plan = context.session.hull().stock.clone();
    let before = plan.clone();
    if !list.lumber.plan.boards.is_empty() {
        lumber(ui, context, &list.lumber, &mut plan);
    }
    if !list.stores.lines.is_empty() {
        stores(ui, context, list, &mut plan);
    }
    if plan != before {
        let what = "prices, and what lies in the shop";
        context.ask(Command::Edit(Edit::SetStock(Box::new(plan), what)));
    }
}

/// A row of a list, which opens where it is pressed and shuts where it is open; whether it is
/// open, and what it says when it is pointed at.
fn row(
    ui: &mut Ui,
    context: &mut Context,
    row: StockRow,
    (name, value): (&str, String),
    hint: &str,
) -> bool {
    let tokens = context.tokens;
    let open = context.state.stock.row.as_ref() == Some(&row);
    let fill = if open { tokens.lit } else { egui::Color32::TRANSPARENT };
    // Its ground reaches beyond its words, which stand in line with all others.
    let beyond = egui::Margin::symmetric(-4, 0);
    let frame = egui::Frame::new().fill(fill).corner_radius(8).outer_margin(beyond);
    let shown = frame.inner_margin(egui::Margin::symmetric(4, 1)).show(ui, |ui| {
        figure(ui, tokens, name, value);
    });
    let response = shown.response.interact(Sense::click()).on_hover_text(hint);
    widgets::row(ui, tokens, &response, name, open);
    if response.clicked() {
        context.state.stock.row = (!open).then_some(row);
    }
    open
}

/// What a length is called in the plan's rows.
fn timber(l: &Length) -> Timber {
    Timber {
        species: l.species.clone(),
        thickness_mm: l.thickness,
        width_mm: l.width,
        length_mm: l.length,
    }
}

/// Lengths to buy, of each wood and section.
fn lumber(ui: &mut Ui, context: &mut Context, list: &LumberList, plan: &mut StockPlan) {
    ruled_title(ui, "Lumber");
    small(
        ui,
        context,
        "A row that is pressed opens for its price and what lies in the shop.",
        true,
    );
    let units = context.units();
    let all: Vec<Timber> = list.lengths.iter().map(timber).collect();
    keep_open(context, &all, list);
    for (k, of) in all.iter().enumerate() {
        let boards: Vec<&Board> = list.plan.boards.iter().filter(|b| all[b.stock] == *of).collect();
        // What is bought and what lies in the shop is one row.
        if boards.is_empty() || all[..k].contains(of) {
            continue;
        }
        let wood = capital(wood_name(&of.species));
        let name = format!("{wood} {}", units.section(of.thickness_mm, of.width_mm));
        let free = |b: &&&Board| {
            let l = &list.lengths[b.stock];
            l.price == Some(0.0) && l.count.is_some()
        };
        let mut many = format!("{} of {}", boards.len(), units.show(of.length_mm));
        match boards.iter().filter(free).count() {
            0 => {}
            n => many += &format!(", {n} at hand"),
        }
        let pieces: Vec<String> =
            boards.iter().enumerate().map(|(n, b)| cut_from(list, n, b, context)).collect();
        let own = StockRow::Lumber(of.clone());
        if row(ui, context, own, (&name, many), &pieces.join("\n")) {
            timber_fields(ui, context, (list, of), plan);
        }
    }
    for proof in &list.plan.proofs {
        let short = proof.cost - proof.lower_bound;
        if !proof.proved && short > 1e-6 * proof.cost {
            let words = format!(
                "Of {} pieces this is within {:.1} % of the least that can do.",
                so_many(proof.kinds, "kind of", "kinds of"),
                100.0 * short / proof.cost
            );
            small(ui, context, &words, true);
        }
    }
}

/// A price may choose other lengths: the row that is open is then the first of its section.
fn keep_open(context: &mut Context, all: &[Timber], list: &LumberList) {
    let bought = |of: &Timber| list.plan.boards.iter().any(|b| all[b.stock] == *of);
    let row = &mut context.state.stock.row;
    if let Some(StockRow::Lumber(open)) = row
        && !bought(open)
    {
        let beside = all.iter().find(|of| open.is_beside(of) && bought(of)).cloned();
        *row = beside.map(StockRow::Lumber);
    }
}

/// What is cut from the `n`th of several boards.
fn cut_from(list: &LumberList, n: usize, board: &Board, context: &Context) -> String {
    let pieces = board.strips.iter().flat_map(|s| &s.pieces);
    let cut = pieces
        .map(|p| format!("{} {}", list.cuts[p.cut].0.name, context.units().show(p.length)))
        .collect::<Vec<_>>();
    format!("{}: {}", n + 1, cut.join("; "))
}

/// Price and number at hand of a wood, section and length.
fn timber_fields(
    ui: &mut Ui,
    context: &mut Context,
    (list, of): (&LumberList, &Timber),
    plan: &mut StockPlan,
) {
    // As the yard reckons, whatever the reader measures in.
    let sizes = plan.sold_by;
    let currency = plan.currency.clone();
    let key = |what: &str| {
        format!("{what} {} {} {} {}", of.species, of.thickness_mm, of.width_mm, of.length_mm)
    };
    let shown = lumber_price_shown(plan.lumber_price(of), sizes);
    let read = |t: &str| parse_lumber_price(t, &currency, sizes);
    let label = match sizes {
        SoldBy::Metres => "price a metre",
        SoldBy::Feet => "price a foot",
    };
    if let Some(price) = typed(ui, context, &key("price"), label, &shown, read) {
        plan.set_lumber_price(of, price, &offered(list, of, plan));
    }
    small(ui, context, "Sold by the piece: its price, and each behind it.", true);
    let shown = plan.lumber_at_hand(of).to_string();
    if let Some(n) = typed(ui, context, &key("at hand"), "at hand already", &shown, parse_count) {
        plan.set_lumber_at_hand(of, n, &offered(list, of, plan));
    }
}

/// The yard's rows that a wood and section stand among while the document has none of it: those
/// of all sections that could be ripped from it too, or they would not be had any more as they
/// were.
fn offered(list: &LumberList, of: &Timber, plan: &StockPlan) -> Vec<LumberStock> {
    let room = Rules::default().section_room;
    let mut out: Vec<LumberStock> = Vec::new();
    for l in &list.lengths {
        let alike = l.species == of.species && (l.thickness - of.thickness_mm).abs() < room;
        if !alike || plan.sells(&timber(l)) || l.price.is_some() || l.count.is_some() {
            continue;
        }
        match out.iter_mut().find(|r| (r.thickness_mm, r.width_mm) == (l.thickness, l.width)) {
            Some(row) => row.lengths_mm.push(l.length),
            None => out.push(LumberStock {
                species: l.species.clone(),
                thickness_mm: l.thickness,
                width_mm: l.width,
                lengths_mm: vec![l.length],
                price: None,
                count: None,
            }),
        }
    }
    out
}

/// What is bought that is no wood.
fn stores(ui: &mut Ui, context: &mut Context, list: &StockList, plan: &mut StockPlan) {
    ruled_title(ui, "Stores");
    let units = context.units();
    for b in &list.stores.bought {
        let price = b.price.map_or("no price is known".into(), |p| {
            format!("{p:.2} {}", plan.currency).trim().to_string()
        });
        let sums = b
            .lines
            .iter()
            .map(|i| &list.stores.lines[*i])
            .map(|l| format!("{}: {}. Source: {}", l.name, with_loss(l, units), l.source));
        let sums = sums.collect::<Vec<_>>().join("\n");
        let hint = format!("A pack holds {}; {price}.\n{sums}", pack_of(b, units));
        let own = StockRow::Store(b.product.clone());
        if row(ui, context, own, (&b.product, how_much(b, units)), &hint) {
            pack_field(ui, context, (list, b), plan);
        }
    }
    small(ui, context, cautions::beside_glue(&plan.glue), true);
    if !plan.glue.contains("epoxy") && list.stores.lines.iter().any(|l| l.name.contains("epoxy")) {
        small(ui, context, cautions::EPOXY, true);
    }
    for words in cautions::beside_stores(list.stores.lines.iter().map(|l| l.name.as_str())) {
        small(ui, context, words, true);
    }
}

/// Price of a pack of one of the stores.
fn pack_field(
    ui: &mut Ui,
    context: &mut Context,
    (list, b): (&StockList, &Bought),
    plan: &mut StockPlan,
) {
    let Some(model) = context.model else {
        return;
    };
    // Where the document has a price already, it may stand under the row of the table.
    let table = model.materials.stores.with_own_rows(&plan.stores);
    let lines = b.lines.iter().map(|i| list.stores.lines[*i].name.as_str());
    let of_product =
        table.stores.iter().filter(|s| s.bought_as.as_deref() == Some(b.product.as_str()));
    let names: Vec<&str> = std::iter::once(b.product.as_str())
        .chain(lines)
        .chain(of_product.map(|s| s.name.as_str()))
        .collect();
    let price = names.iter().find_map(|n| plan.price_of(n)).map(|p| p.price);
    let label = match (b.unit, b.pack) {
        (Measure::Pieces, 1.0) => "price of one".into(),
        _ => format!("price of {}", pack_of(b, context.units())),
    };
    let currency = plan.currency.clone();
    let key = format!("price of {}", b.product);
    let read = |t: &str| parse_price(t, &currency);
    if let Some(price) = typed(ui, context, &key, &label, &price_shown(price), read) {
        plan.set_store_price(&names, price);
    }
}
