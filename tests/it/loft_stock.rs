//! Stock in the window: counted when it is asked, parts moved by hand, prices and joints typed,
//! and the search behind it.

use std::sync::Arc;

use bevy_egui::egui::{Key, Modifiers, Pos2, Rect, vec2};
use chinewright::hull::starters::{demonstration, find};
use chinewright::hull::stock::JointKind;
use chinewright::material::Materials;
use chinewright::model::derive;
use chinewright::model::stock::{ByHand, SEED, StockList, stock};
use chinewright::stock::nest::{Effort, wrongs};
use chinewright::viewer::state::Question;
use chinewright::viewer::stocktaking::{Ask, Stocktaking};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

use super::loft::{Loft, drag, type_into, window, window_of};
use super::yard::{found, pram, sheet};

fn asked() -> Harness<'static, Loft> {
    let mut w = window();
    w.key_press_modifiers(Modifiers::ALT, Key::Num6);
    w.run_steps(4);
    assert_eq!(w.state().state.question, Question::Stock);
    w
}

fn list<'a>(w: &'a Harness<'static, Loft>) -> &'a StockList {
    w.state().taking.list.as_deref().expect("it was counted")
}

/// What the first kind of sheet is called.
fn kind_of(w: &Harness<'static, Loft>) -> String {
    let kind = &list(w).sheets[0];
    chinewright::words::stock::kind_words(
        &kind.sheet,
        kind.thickness,
        w.state().session.hull().units,
    )
}

fn sound(list: &StockList) -> bool {
    list.sheets.iter().all(|k| wrongs(&k.problem, &k.layout).is_empty())
}

#[test]
fn asked_for_the_first_time_she_is_counted_and_the_list_is_read() {
    let w = asked();
    let kinds = list(&w).sheets.len();
    assert!(kinds >= 2, "bottom and sides are of two sheets");
    w.get_by_label("All of her can be cut and bought.");
    w.get_by_label_contains("Joints of panels");
    assert_eq!(w.query_all_by_label_contains("cannot do").count(), kinds);
    // Everything that is bought is named with its packs.
    for b in &list(&w).stores.bought {
        assert!(w.query_all_by_label(&b.product).count() > 0, "{}", b.product);
    }
}

/// A place on the strip that lies on a part, well inside.
fn on_strip(w: &Harness<'static, Loft>, share: (f32, f32)) -> Pos2 {
    let strip: Rect = w.get_by_label("sheets and the parts on them").rect();
    strip.min + vec2(share.0 * strip.width(), share.1 * strip.height())
}

#[test]
fn a_part_that_is_dragged_lies_elsewhere_and_is_taken_back() {
    let mut w = asked();
    let before = list(&w).clone();
    let her = w.state().session.hull().clone();
    // One that has room beside it: tried from the after end of the sheets.
    let (mut moved, mut grip) = (false, Pos2::ZERO);
    'found: for x in (1..40).rev() {
        for y in 2..12 {
            let at = on_strip(&w, (x as f32 / 40.0, y as f32 / 12.0));
            w.hover_at(at);
            w.run_steps(2);
            if w.state().state.selection.hover.is_none() {
                continue;
            }
            drag(&mut w, at, at + vec2(-12.0, 8.0));
            moved = list(&w).sheets != before.sheets;
            if moved {
                grip = at;
                break 'found;
            }
        }
    }
    assert!(moved);
    assert!(sound(list(&w)), "nothing lies on anything else");
    assert!(w.state().taking.at_rest(), "what was laid by hand is not laid anew");
    w.get_by_label("Take back").click_accesskit();
    w.run_steps(3);
    assert!(list(&w).sheets == before.sheets);
    assert_eq!(w.query_all_by_label("Take back").count(), 0);
    // The key for undo takes it back too: nothing of the boat was changed since.
    drag(&mut w, grip, grip + vec2(-12.0, 8.0));
    assert!(list(&w).sheets != before.sheets);
    w.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    w.run_steps(3);
    assert!(list(&w).sheets == before.sheets && w.state().session.hull() == &her);
}

#[test]
fn keys_move_and_turn_the_part_that_was_pressed() {
    let mut w = asked();
    let before = list(&w).clone();
    let kind = 0;
    let own = &before.sheets[kind].layout.sheets[0].placed[0];
    w.state_mut().state.stock.chosen = Some([kind, 0, 0]);
    w.get_by_label("sheets and the parts on them").focus();
    w.run_steps(2);
    w.key_press(Key::R);
    w.run_steps(3);
    let now = &list(&w).sheets[kind].layout.sheets[0].placed[0];
    assert!(sound(list(&w)));
    let turned = !now.attitude.is_near(own.attitude);
    assert!(turned || w.state().state.stock.no_room, "turned, or told that there is no room");
    let shift = now.shift;
    w.key_press(Key::ArrowRight);
    w.run_steps(3);
    let later = &list(&w).sheets[kind].layout.sheets[0].placed[0];
    assert!(sound(list(&w)));
    assert!(later.shift != shift || w.state().state.stock.no_room);
}

#[test]
fn a_price_that_is_typed_is_paid_and_a_joint_that_is_pressed_is_made() {
    let mut w = asked();
    let unpriced = list(&w).cost.unpriced;
    let name = format!("price of a sheet of {}", kind_of(&w));
    type_into(&mut w, &name, "40");
    let now = list(&w).clone();
    let bought = now.sheets[0].layout.bought(&now.sheets[0].problem);
    // The boxes round the foam are of the same sheets.
    let boxes = now.boxes.iter().flat_map(|b| &b.sheets).filter(|s| s.sheet == now.sheets[0].sheet);
    let bought = bought + boxes.map(|s| s.count).sum::<usize>();
    assert!((now.cost.sheets - 40.0 * bought as f64).abs() < 1e-9, "{:?}", now.cost);
    let priced = now.asked_for().iter().filter(|a| a.price.is_some()).count();
    assert!(priced > 0 && now.cost.unpriced + priced == unpriced, "kind by kind");
    assert!(w.query_all_by_label_contains(", was ").count() > 0, "what it was before is said");
    w.get_by_label("scarf").click_accesskit();
    w.run_steps(4);
    assert_eq!(w.state().session.hull().stock.joint.kind, JointKind::Scarf);
    let scarfed = list(&w).panels.iter().flat_map(|p| &p.split.joints);
    assert!(scarfed.clone().count() > 0 && scarfed.clone().all(|j| j.slope == Some(8.0)));
}

#[test]
fn sheets_in_the_shop_are_taken_first() {
    let mut w = asked();
    let bought = list(&w).sheets[0].layout.bought(&list(&w).sheets[0].problem);
    let name = format!("{}: at hand already", kind_of(&w));
    type_into(&mut w, &name, "1");
    let kind = &list(&w).sheets[0];
    assert_eq!(kind.layout.bought(&kind.problem) + 1, bought);
    assert!(kind.layout.unplaced.is_empty());
    type_into(&mut w, &name, "0");
    let kind = &list(&w).sheets[0];
    assert_eq!(kind.layout.bought(&kind.problem), bought, "as before");
}

#[test]
fn what_a_longer_search_finds_is_taken_only_where_it_is_better() {
    let hull = find("sluice-pram").expect("a starter").hull();
    let model = Arc::new(derive(&hull, &Materials::shipped()).expect("a boat"));
    let first = stock(&model, Effort::NONE, SEED, &mut |_, _| true);
    let mut taking = Stocktaking::of_passes(3);
    taking.take(first.clone(), &model, 7);
    assert_eq!((taking.of_model(7).is_some(), taking.of_model(8).is_some()), (true, false));
    let changes = taking.changes;
    taking.take(first.clone(), &model, 7);
    assert_eq!(taking.changes, changes, "the same list is no change");
    // One part moved by hand: it can be taken back once, and ends the search.
    let part = &first.sheets[0].layout.sheets[0].placed[0];
    let (attitude, shift) = (part.attitude, part.shift);
    let by_hand = ByHand { kind: 0, from: 0, placed: 0, to: 0, attitude, shift };
    taking.answer(&Ask::Lay(by_hand));
    assert!(!taking.by_hand(), "where it lay already");
    let turned = ByHand { attitude: first.turned(&by_hand), ..by_hand };
    let free = first.held_over(&turned, true).and_then(|o| o.free);
    if let Some(shift) = free {
        taking.answer(&Ask::Lay(ByHand { shift, ..turned }));
        assert!(taking.by_hand() && taking.at_rest());
        taking.answer(&Ask::TakeBack);
        assert!(taking.list.as_deref() == Some(&first));
    }
    assert!(!taking.by_hand());
    taking.answer(&Ask::SearchOn);
    assert!(!taking.at_rest());
    taking.answer(&Ask::Stop);
    assert!(taking.at_rest());
    // Another shape: what was before is kept beside it.
    let other = Arc::new(derive(&demonstration(), &Materials::shipped()).expect("a boat"));
    taking.take(stock(&other, Effort::NONE, SEED, &mut |_, _| true), &other, 8);
    let was = taking.was.expect("what was before");
    assert!(*was.list == first && was.model.hull == model.hull);
    // Another boat is not told to be what this one was.
    taking.was = Some(was);
    taking.take_in_hand(1);
    taking.take(first, &model, 9);
    assert!(taking.was.is_none());
}

/// What was found stands beside what she is, with what it comes to, and one step that undo names
/// makes her so.
#[test]
fn the_cheapest_boat_of_the_yard_is_offered_and_one_step_makes_it() {
    let hull = pram(vec![
        sheet("marine ply 6", None, Some(95.0)),
        sheet("yard ply 1/4", None, Some(60.0)),
    ]);
    let found = found(&hull).expect("lists");
    let answer = found.answer.clone().expect("one that holds");
    assert!(!answer.changes.is_empty());
    let mut w = window_of(Loft::new(hull.clone(), None));
    w.key_press_modifiers(Modifiers::ALT, Key::Num6);
    w.run_steps(4);
    w.get_by_label("Find the cheapest that holds");
    w.state_mut().yard.outcome = Some(Arc::new(Ok(found)));
    w.run_steps(2);
    for change in &answer.changes {
        let words = chinewright::words::yard::change(change, hull.units);
        w.get_by_label(&chinewright::words::capital(&words));
    }
    w.get_by_label("Make her so").click_accesskit();
    w.run_steps(4);
    let session = &w.state().session;
    assert_eq!(session.hull().planking, answer.model.hull.planking);
    assert_eq!(session.hull().members, answer.model.hull.members);
    assert_eq!(session.undo_names().next(), Some("of what the yard has"));
}
