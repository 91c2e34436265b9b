//! What the builder decides about stock: joints, glue, the saw, sheets on hand and prices.

use bevy_egui::egui::{RichText, Ui};

use crate::hull::edit::Edit;
use crate::hull::stock::{JointKind, SheetStock, SoldBy, StockPlan};
use crate::material::Immersion;
use crate::model::stock::{SheetKind, StockList};
use crate::stock::glue::against;
use crate::stock::nest::Supply;
use crate::viewer::session::Command;
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::fields::{typed, typed_length, typed_thickness};
use crate::viewer::ui::widgets::typed::{
    parse_count, parse_number, parse_price, parse_temperature, price_shown,
};
use crate::words::stock::kind_words;
use crate::words::stores::glue_words;

/// Shows all of it.
pub fn show(ui: &mut Ui, context: &mut Context, list: &StockList) {
    ui.add_space(size::GAP);
    let mut plan = context.session.hull().stock.clone();
    let before = plan.clone();
    let mut what = "how she is cut";
    if joint(ui, context, &mut plan) {
        what = "joints";
    }
    glue(ui, context, &mut plan);
    saw(ui, context, &mut plan);
    if sizes(ui, context, &mut plan) {
        what = "how the yard sells";
    }
    for (k, kind) in list.sheets.iter().enumerate() {
        if on_hand(ui, context, &mut plan, k, kind) {
            what = "sheets on hand and their price";
        }
    }
    if plan != before {
        context.ask(Command::Edit(Edit::SetStock(Box::new(plan), what)));
    }
}

/// Scarf or butt block, and how long. Whether something was changed.
fn joint(ui: &mut Ui, context: &mut Context, plan: &mut StockPlan) -> bool {
    let before = plan.joint;
    ui.horizontal_wrapped(|ui| {
        for kind in JointKind::ALL {
            if widgets::chip(ui, plan.joint.kind == kind, kind.word()).clicked() {
                plan.joint.kind = kind;
            }
        }
    });
    let units = context.units();
    match plan.joint.kind {
        JointKind::Scarf => {
            let shown = format!("{} in 1", plan.joint.slope);
            let read = |t: &str| parse_number(t.trim_end_matches("in 1"), "", 4.0..=20.0);
            if let Some(slope) = typed(ui, context, "scarf-slope", "slope of a scarf", &shown, read)
            {
                plan.joint.slope = slope;
            }
        }
        JointKind::ButtBlock => {
            let shown = plan.joint.block_length_mm;
            let words = shown.map_or("by its sheet".to_string(), |mm| units.show(mm));
            let read = |t: &str| match t.trim() {
                "" | "by its sheet" => Ok(None),
                t => crate::units::parse_length(t, units).map(Some),
            };
            let label = "length of a block";
            if let Some(mm) = typed(ui, context, "block-length", label, &words, read) {
                plan.joint.block_length_mm = mm;
            }
        }
    }
    plan.joint != before
}

/// Which glue, and what is asked of it.
fn glue(ui: &mut Ui, context: &mut Context, plan: &mut StockPlan) {
    let Some(model) = context.model else {
        return;
    };
    let (units, soft) = (context.units(), context.tokens.soft);
    let name =
        |ui: &mut Ui, words: &str| ui.label(RichText::new(words).size(size::SMALL).color(soft));
    name(ui, "glue");
    let own = plan.glue.clone();
    widgets::choice(ui, "glue", 200.0, &own, |ui| {
        let moisture: Vec<f64> = model.hull.members.iter().map(|m| m.moisture()).collect();
        for g in &model.materials.stores.glues {
            let lacks = against(g, &plan.gluing, moisture.iter().copied());
            let hint = glue_words(g, &lacks, units);
            let row = match lacks.is_empty() {
                true => g.name.clone(),
                false => format!("{}, not for this", g.name),
            };
            if ui.selectable_label(g.name == own, row).on_hover_text(hint).clicked() {
                plan.glue = g.name.clone();
            }
        }
    });
    name(ui, "what its joints see");
    widgets::choice(ui, "water", 200.0, plan.gluing.water.word(), |ui| {
        for water in Immersion::ALL {
            if ui.selectable_label(water == plan.gluing.water, water.word()).clicked() {
                plan.gluing.water = water;
            }
        }
    });
    let gap = typed_thickness(ui, context, "glue-gap", "widest gap in a joint", plan.gluing.gap_mm);
    if let Some(mm) = gap {
        plan.gluing.gap_mm = mm;
    }
    let shown = units.temperature(plan.gluing.shop_c);
    let read = |t: &str| parse_temperature(t, units, -10.0..=50.0);
    if let Some(c) = typed(ui, context, "shop-warmth", "warmth of the shop", &shown, read) {
        plan.gluing.shop_c = c;
    }
}

fn saw(ui: &mut Ui, context: &mut Context, plan: &mut StockPlan) {
    let fields: [(&str, &str, &mut f64); 2] = [
        ("kerf", "width of a saw cut", &mut plan.kerf_mm),
        ("sheet-margin", "left round a sheet", &mut plan.sheet_margin_mm),
    ];
    for (key, label, value) in fields {
        if let Some(mm) = typed_thickness(ui, context, key, label, *value) {
            *value = mm;
        }
    }
    let units = context.units();
    let fields: [(&str, &str, &mut f64); 2] = [
        ("end-trim", "sawn off lumber's ends", &mut plan.end_trim_mm),
        ("stick-trim", "left long at a bent stick's ends", &mut plan.stick_trim_mm),
    ];
    for (key, label, value) in fields {
        if let Some(mm) = typed_length(ui, context, key, label, *value, units) {
            *value = mm;
        }
    }
}

/// Which lengths the yard keeps of what is in no row of the document. Whether it was changed.
fn sizes(ui: &mut Ui, context: &Context, plan: &mut StockPlan) -> bool {
    let before = plan.sold_by;
    let words = RichText::new("lumber and bolts are sold").size(size::SMALL);
    ui.label(words.color(context.tokens.soft));
    ui.horizontal_wrapped(|ui| {
        for sizes in SoldBy::ALL {
            if widgets::chip(ui, plan.sold_by == sizes, sizes.word()).clicked() {
                plan.sold_by = sizes;
            }
        }
    });
    plan.sold_by != before
}

/// How many whole sheets of a kind lie in the shop, and what a bought one costs. Whether
/// something was changed.
fn on_hand(
    ui: &mut Ui,
    context: &mut Context,
    plan: &mut StockPlan,
    k: usize,
    kind: &SheetKind,
) -> bool {
    let name = kind_words(&kind.sheet, kind.thickness, context.units());
    let whole = |s: &&mut SheetStock| s.sheet == kind.sheet && s.outline_mm.is_empty();
    let bought = |s: &SheetStock| s.count.is_none();
    let own = |plan: &StockPlan, wanted: bool| {
        let mut all = plan.sheets.iter().filter(|s| s.sheet == kind.sheet);
        all.find(|s| s.outline_mm.is_empty() && bought(s) == wanted).cloned()
    };
    let row = |count: Option<u32>| {
        let problem = &kind.problem.sheets;
        let size = problem.iter().find(|s| s.supply == Supply::Bought).or(problem.first());
        let (_, extent) = size?.extent();
        Some(SheetStock {
            sheet: kind.sheet.clone(),
            length_mm: extent.x,
            width_mm: extent.y,
            count,
            price: None,
            one_good_face: false,
            outline_mm: Vec::new(),
        })
    };
    let mut changed = false;
    let mut put = |plan: &mut StockPlan, new: SheetStock| {
        let same = |s: &&mut SheetStock| whole(s) && s.count.is_none() == new.count.is_none();
        match plan.sheets.iter_mut().find(same) {
            Some(own) => *own = new,
            None => plan.sheets.push(new),
        }
        changed = true;
    };
    let label = format!("price of a sheet of {name}");
    let currency = plan.currency.clone();
    let price = own(plan, true).and_then(|s| s.price);
    let shown = price_shown(price);
    let read = |t: &str| parse_price(t, &currency);
    if let Some(price) = typed(ui, context, &format!("price-{k}"), &label, &shown, read)
        && let Some(new) = own(plan, true).or_else(|| row(None))
    {
        put(plan, SheetStock { price, ..new });
    }
    let lying = own(plan, false).and_then(|s| s.count).unwrap_or(0);
    let (key, label) = (format!("on-hand-{k}"), format!("{name}: at hand already"));
    if let Some(n) = typed(ui, context, &key, &label, &lying.to_string(), parse_count)
        && let Some(new) = own(plan, false).or_else(|| row(Some(n)))
    {
        // As many as are wanted can still be bought beside them.
        if own(plan, true).is_none()
            && let Some(bought) = row(None)
        {
            put(plan, bought);
        }
        put(plan, SheetStock { count: Some(n), price: Some(0.0), ..new });
        plan.sheets.retain(|s| s.count != Some(0));
    }
    changed
}
