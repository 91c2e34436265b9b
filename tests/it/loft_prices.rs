//! Prices and what lies in the shop, typed in the rows of lumber and stores; what the lists have,
//! in the choices of sheet and wood; what a change made of her, in one word.

use std::sync::Arc;

use bevy_egui::egui::{Key, Modifiers, accesskit::Role};
use chinewright::hull::edit::Edit;
use chinewright::hull::starters::demonstration;
use chinewright::hull::stock::{LumberPrice, SoldBy};
use chinewright::hull::stock_edits::Timber;
use chinewright::hull::{Hull, PanelPlanking};
use chinewright::model::stock::{Asked, StockList};
use chinewright::units::Units;
use chinewright::viewer::session::Command;
use chinewright::viewer::state::Question;
use chinewright::words::capital;
use chinewright::words::stock::wood_name;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

use super::loft::{Loft, field, type_into, window_of};
use super::yard::sheet;

fn asked(hull: Hull) -> Harness<'static, Loft> {
    let mut w = window_of(Loft::new(hull, None));
    w.key_press_modifiers(Modifiers::ALT, Key::Num6);
    w.run_steps(4);
    w
}

fn list<'a>(w: &'a Harness<'static, Loft>) -> &'a Arc<StockList> {
    w.state().taking.list.as_ref().expect("it was counted")
}

/// The wood, section and length of the first board of a wood that the boat asks for.
fn first_board(w: &Harness<'static, Loft>) -> Timber {
    let lumber = &list(w).lumber;
    let lengths = lumber.plan.boards.iter().map(|b| &lumber.lengths[b.stock]);
    let l = lengths.clone().find(|l| !l.species.is_empty()).expect("a board");
    Timber {
        species: l.species.clone(),
        thickness_mm: l.thickness,
        width_mm: l.width,
        length_mm: l.length,
    }
}

/// Opens the first row of that name; there may be one for each length.
fn open(w: &mut Harness<'static, Loft>, name: &str) {
    let named = |n: &egui_kittest::Node| n.accesskit_node().label().as_deref() == Some(name);
    let row = w.query_all_by_role(Role::Button).find(named);
    row.expect("its row").click_accesskit();
    w.run_steps(3);
}

fn row_of(w: &Harness<'static, Loft>, of: &Timber) -> String {
    let section = w.state().session.hull().units.section(of.thickness_mm, of.width_mm);
    format!("{} {section}", capital(wood_name(&of.species)))
}

/// What the boards of a wood and section cost, as the plan says.
fn paid(w: &Harness<'static, Loft>, of: &Timber) -> (f64, f64) {
    let lumber = &list(w).lumber;
    let own = lumber.plan.boards.iter().map(|b| &lumber.lengths[b.stock]).filter(|l| {
        (l.species.as_str(), l.thickness, l.width)
            == (of.species.as_str(), of.thickness_mm, of.width_mm)
    });
    own.fold((0.0, 0.0), |(price, metres), l| {
        (price + l.price.unwrap_or(f64::NAN), metres + l.length / 1000.0)
    })
}

#[test]
fn a_price_by_the_metre_is_typed_in_the_row_of_a_board_that_no_list_has() {
    let mut w = asked(demonstration());
    let fields = w.query_all_by_role(Role::TextInput).count();
    assert!(w.state().session.hull().stock.lumber.is_empty());
    let of = first_board(&w);
    let had = |w: &Harness<'static, Loft>| {
        let all = list(w).lumber.lengths.iter();
        all.filter(|l| l.species == of.species).count()
    };
    let lengths = had(&w);
    let name = row_of(&w, &of);
    open(&mut w, &name);
    assert_eq!(w.query_all_by_role(Role::TextInput).count(), fields + 2, "one row is open");
    type_into(&mut w, "price a metre", "2.5");
    let stock = &w.state().session.hull().stock;
    assert_eq!(stock.lumber_price(&of), Some(LumberPrice::PerMetre(2.5)));
    let own = stock.lumber.iter().find(|r| r.species == of.species && r.width_mm == of.width_mm);
    assert!(own.is_some_and(|r| r.lengths_mm.len() > 3), "the yard's lengths");
    assert_eq!(had(&w), lengths, "what can be had is what it was");
    let (price, metres) = paid(&w, &of);
    assert!((price - 2.5 * metres).abs() < 1e-9, "{price} for {metres} m");
    assert!((list(&w).cost.lumber - price).abs() < 1e-9);
    // The row stays open, its field shows what was typed, and it is one step back.
    assert_eq!(field(&w, "price a metre").value().as_deref(), Some("2.50 a metre"));
    w.key_press(Key::Escape);
    w.run_steps(2);
    let her = w.state().session.hull().clone();
    assert_eq!(w.state().session.undo_names().count(), 1);
    w.state_mut().asked.clear();
    type_into(&mut w, "price a metre", "dear");
    assert_eq!(w.state().session.hull(), &her, "what is no price is refused");
}

#[test]
fn a_board_at_hand_is_cut_before_any_is_bought() {
    let mut w = asked(demonstration());
    let of = first_board(&w);
    let name = row_of(&w, &of);
    let before = list(&w).lumber.plan.boards.len();
    open(&mut w, &name);
    type_into(&mut w, "at hand already", "1");
    let stock = &w.state().session.hull().stock;
    assert_eq!((stock.lumber_at_hand(&of), stock.sells(&of)), (1, true));
    let lumber = &list(&w).lumber;
    let free = lumber.plan.boards.iter().filter(|b| lumber.lengths[b.stock].price == Some(0.0));
    assert_eq!(free.count(), 1, "without a price of the others, too");
    assert!(lumber.plan.missing.is_empty());
    // In the list for the yard it is told apart from those that are asked for there.
    let asked = list(&w).asked_for();
    let counted = asked.iter().filter(|a| matches!(a.what, Asked::Board { on_hand: true, .. }));
    assert_eq!(counted.map(|a| a.count).sum::<usize>(), 1);
    assert!(lumber.plan.boards.len() <= before + 1);
    assert!(w.query_all_by_label_contains("1 at hand").count() > 0);
}

#[test]
fn one_length_has_a_price_of_its_own_and_feet_are_priced_by_the_foot() {
    let mut hull = demonstration();
    hull.units = Units::FeetInchesEighths;
    hull.stock.sold_by = SoldBy::Feet;
    let mut w = asked(hull);
    let of = first_board(&w);
    let name = row_of(&w, &of);
    open(&mut w, &name);
    type_into(&mut w, "price a foot", "1.5");
    // The international foot.
    let metre = 1.5 / 0.3048;
    let of = first_board(&w);
    let price = w.state().session.hull().stock.lumber_price(&of);
    assert!(
        matches!(price, Some(LumberPrice::PerMetre(p)) if (p - metre).abs() < 1e-9),
        "{price:?}"
    );
    assert_eq!(field(&w, "price a foot").value().as_deref(), Some("1.50 a foot"));
    type_into(&mut w, "price a foot", "11 each");
    let rows = &w.state().session.hull().stock.lumber;
    let each = rows.iter().filter(|r| r.price == Some(LumberPrice::Each(11.0)));
    assert_eq!(each.map(|r| r.lengths_mm.len()).collect::<Vec<_>>(), [1]);
}

#[test]
fn a_pack_is_priced_in_its_row() {
    let mut w = asked(demonstration());
    let b = list(&w).stores.bought[0].clone();
    assert_eq!(b.price, None);
    let unpriced = list(&w).cost.unpriced;
    open(&mut w, &b.product);
    let label = w
        .query_all_by_role(Role::TextInput)
        .filter_map(|n| n.accesskit_node().labelled_by().next().and_then(|l| l.value()))
        .find(|l| l.starts_with("price of ") && !l.contains("sheet"))
        .expect("a field for it");
    type_into(&mut w, &label, "12.5");
    let now = list(&w).stores.bought.iter().find(|n| n.product == b.product).expect("bought");
    assert_eq!(now.price, Some(12.5 * f64::from(now.packs)));
    assert_eq!(list(&w).cost.unpriced + 1, unpriced);
    type_into(&mut w, &label, "not known");
    assert!(w.state().session.hull().stock.prices.is_empty());
}

#[test]
fn what_a_bent_stick_is_left_long_is_typed() {
    let mut w = asked(demonstration());
    let bent = |w: &Harness<'static, Loft>| {
        let all = list(w).lumber.cuts.iter().filter(|c| c.0.trim > 0.0);
        all.map(|c| c.0.length).sum::<f64>()
    };
    let (before, many) =
        (bent(&w), list(&w).lumber.cuts.iter().filter(|c| c.0.trim > 0.0).count() as f64);
    type_into(&mut w, "left long at a bent stick's ends", "40");
    assert_eq!(w.state().session.hull().stock.stick_trim_mm, 40.0);
    assert!((bent(&w) - before - many * 2.0 * 15.0).abs() < 1e-6, "15 mm more at each end");
}

/// What is chosen on one card is what is chosen on the other, and what the lists have says so.
#[test]
fn sheets_and_woods_of_the_lists_are_told_in_the_choices_and_swapped_alike() {
    let mut hull = demonstration();
    hull.stock.sheets = vec![sheet("yard ply 1/4", None, Some(60.0))];
    let panel = asked(hull.clone()).state().model.as_ref().expect("a model").panels[0].name.clone();
    let member = hull.members[0].name.clone();
    let mut made = Vec::new();
    for (question, key, of_sheet) in [
        (Question::Stock, format!("sheet of the {panel}"), true),
        (Question::Skin, "sheet".into(), true),
        (Question::Stock, format!("wood of the {member}"), false),
        (Question::Bones, "species".into(), false),
    ] {
        let mut w = asked(hull.clone());
        let state = &mut w.state_mut().state;
        state.ask(question);
        (state.selection.panel, state.selection.member) = (Some(0), Some(0));
        w.run_steps(4);
        w.get_by_role_and_label(Role::ComboBox, &key).click_accesskit();
        w.run_steps(4);
        let other = match of_sheet {
            true => "yard ply 1/4, on your list".to_string(),
            false => {
                let woods = &w.state().model.as_ref().expect("a model").materials.woods;
                woods.iter().find(|o| o.name != hull.members[0].species).expect("one").name.clone()
            }
        };
        if of_sheet {
            assert_eq!(w.query_all_by_label_contains(", on your list").count(), 1);
        }
        w.get_by_label(&other).click_accesskit();
        w.run_steps(4);
        assert_ne!(w.state().session.hull(), &hull, "{key}");
        made.push(w.state().session.hull().clone());
    }
    assert_eq!(made[0], made[1], "a sheet from Stock and from Skin");
    assert_eq!(made[2], made[3], "a wood from Stock and from Bones");
}

/// A sheet as thick again changes cost, freeboard and bend: beside each stands what it was.
#[test]
fn what_she_was_is_told_in_one_word() {
    let mut w = asked(demonstration());
    let planking = w.state().session.hull().planking.clone();
    let panel = w.state().model.as_ref().expect("a model").panels[0].name.clone();
    let (sheet, thickness_mm) = planking.of_panel(&panel);
    let other = if sheet == "marine ply 9" { "marine ply 6" } else { "marine ply 9" };
    let thickness_mm = if other == "marine ply 9" { 9.0 } else { thickness_mm.min(6.0) };
    let planking = PanelPlanking { panel, sheet: other.into(), thickness_mm, grain_across: false };
    let edit = Command::Edit(Edit::SetPanelSheet { planking });
    let session = &mut w.state_mut().session;
    session.apply(&edit);
    w.run_steps(6);
    assert!(w.query_all_by_label_contains(", was ").count() >= 3);
    assert_eq!(w.query_all_by_label_contains(", saved ").count(), 0);
    let was = w.state().taking.was.clone().expect("what she was");
    let full = |m: &chinewright::model::Model| {
        m.afloat.as_deref()?.full()?.freeboard.map(|f| m.hull.units.show(f.0))
    };
    let freeboard = full(&was.model).expect("she floats");
    assert!(w.query_all_by_label_contains(&format!(", was {freeboard}")).count() > 0);
}
