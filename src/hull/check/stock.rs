//! Faults of what can be bought, of joints, prices and waste.

use std::sync::OnceLock;

use super::{Fault, Place, StockFigure, fault, short};
use crate::geom::P2;
use crate::geom::polyline::{area, first_self_crossing};
use crate::hull::stock::{JointRule, LumberPrice, SheetStock, StockPlan};
use crate::material::{Figure, StoreRow, StoreTable};

/// More rows than this in a list of stock are no yard's but a list pasted twice.
const MOST_ROWS: usize = 200;
/// An offcut smaller than this (mm²) is a shaving.
const LEAST_OFFCUT_MM2: f64 = 1000.0;
/// A corner of an offcut lies in its box within this, mm.
const BOX_ROOM_MM: f64 = 0.5;

/// Adds the faults of the stock section, in the order of the file.
pub(super) fn stock(plan: &StockPlan, out: &mut Vec<Fault>) {
    figures(plan, out);
    let own = [StockFigure::JointSlope, StockFigure::BlockLength].map(Place::StockFigure);
    joint(own, "joint", &plan.joint, out);
    sheets(plan, out);
    lumber(plan, out);
    panels(plan, out);
    stores(plan, out);
}

fn bad(out: &mut Vec<Fault>, place: Place, what: &str, message: String, accepted: &str) {
    out.push(fault(place, what, message, accepted));
}

/// A value of a field that is outside its range.
fn range(
    out: &mut Vec<Fault>,
    (place, what): (Place, &str),
    (field, value): (&str, f64),
    (least, most, unit): (f64, f64, &str),
) {
    if !(least..=most).contains(&value) {
        let message = format!("{field} = {}", short(value));
        bad(out, place, what, message, &format!("{least} to {most} {unit}"));
    }
}

fn figures(plan: &StockPlan, out: &mut Vec<Fault>) {
    use StockFigure as At;
    for (at, field, value, least, most, unit) in [
        (At::Kerf, "kerf_mm", plan.kerf_mm, 0.0, 10.0, "mm"),
        (At::SheetMargin, "sheet_margin_mm", plan.sheet_margin_mm, 0.0, 100.0, "mm"),
        (At::EndTrim, "end_trim_mm", plan.end_trim_mm, 0.0, 300.0, "mm"),
        (At::StickTrim, "stick_trim_mm", plan.stick_trim_mm, 0.0, 300.0, "mm"),
        (At::LumberSlope, "lumber_slope", plan.lumber_slope, 4.0, 20.0, "in 1"),
    ] {
        range(out, (Place::StockFigure(at), "stock"), (field, value), (least, most, unit));
    }
    let glued = &plan.gluing;
    for (at, field, value, least, most, unit) in [
        (At::Gap, "gap_mm", glued.gap_mm, 0.0, 20.0, "mm"),
        (At::Shop, "shop_c", glued.shop_c, -10.0, 50.0, "°C"),
    ] {
        range(out, (Place::StockFigure(at), "stock.gluing"), (field, value), (least, most, unit));
    }
    names(plan, out);
    if plan.currency.chars().count() > 8 || plan.currency.chars().any(char::is_control) {
        let message = format!("currency {:?}", plan.currency);
        let place = Place::StockFigure(StockFigure::Currency);
        bad(out, place, "stock", message, "a word or sign of at most 8 letters");
    }
    for (list, count) in [
        ("sheets", plan.sheets.len()),
        ("lumber", plan.lumber.len()),
        ("panel_joints", plan.panel_joints.len()),
        ("prices", plan.prices.len()),
        ("waste", plan.waste.len()),
        ("stores", plan.stores.len()),
    ] {
        if count > MOST_ROWS {
            let message = format!("{list}: {count} rows");
            bad(out, Place::Stock, "stock", message, "at most 200");
        }
    }
}

/// Glue and fastenings are called by rows of the shipped table, or by the document's own.
fn names(plan: &StockPlan, out: &mut Vec<Fault>) {
    static SHIPPED: OnceLock<StoreTable> = OnceLock::new();
    let shipped = SHIPPED.get_or_init(StoreTable::shipped);
    let glues: Vec<&str> = shipped.glues.iter().map(|g| g.name.as_str()).collect();
    let rows = shipped.stores.iter().chain(&plan.stores);
    let fastenings: Vec<&str> =
        rows.filter(|s| s.figure == Figure::Pitch).map(|s| s.name.as_str()).collect();
    for (place, field, text, known) in [
        (Place::Glue, "glue", &plan.glue, glues),
        (Place::Fastening, "fastening", &plan.fastening, fastenings),
    ] {
        if !known.contains(&text.as_str()) {
            let accepted = format!("one of {}", known.join(", "));
            bad(out, place, "stock", format!("{field} {text:?}"), &accepted);
        }
    }
}

/// Adds the faults of a joint whose slope and block stand at these places.
fn joint([slope, block]: [Place; 2], what: &str, rule: &JointRule, out: &mut Vec<Fault>) {
    range(out, (slope, what), ("slope", rule.slope), (4.0, 20.0, "in 1"));
    if let Some(length) = rule.block_length_mm {
        range(out, (block, what), ("block_length_mm", length), (50.0, 1000.0, "mm"));
    }
}

fn price(out: &mut Vec<Fault>, place: Place, what: &str, value: f64) {
    range(out, (place, what), ("price", value), (0.0, 1e6, "in the document's currency"));
}

fn sheets(plan: &StockPlan, out: &mut Vec<Fault>) {
    for (i, s) in plan.sheets.iter().enumerate() {
        let (place, what) = (Place::StockSheet(i), format!("stock of {:?}", s.sheet));
        range(out, (place, &what), ("length_mm", s.length_mm), (100.0, 20_000.0, "mm"));
        range(out, (place, &what), ("width_mm", s.width_mm), (100.0, 20_000.0, "mm"));
        if let Some(p) = s.price {
            price(out, place, &what, p);
        }
        if !s.outline_mm.is_empty() {
            offcut(place, &what, s, out);
        }
    }
}

fn offcut(place: Place, what: &str, s: &SheetStock, out: &mut Vec<Fault>) {
    let ring: Vec<P2> = s.outline_mm.iter().map(|&(x, y)| P2::new(x, y)).collect();
    let in_box = |p: &P2| {
        (-BOX_ROOM_MM..=s.length_mm + BOX_ROOM_MM).contains(&p.x)
            && (-BOX_ROOM_MM..=s.width_mm + BOX_ROOM_MM).contains(&p.y)
    };
    if let Some(p) = ring.iter().find(|p| !in_box(p)) {
        let message = format!("a corner at {}, {}", short(p.x), short(p.y));
        bad(out, place, what, message, "corners from 0 to its length and width, mm");
    } else if ring.len() < 3 || area(&ring).abs() < LEAST_OFFCUT_MM2 {
        let message = format!("an outline of {} corners without room", ring.len());
        bad(out, place, what, message, "3 corners or more around its wood");
    } else if let Some((i, k)) = first_self_crossing(&ring) {
        let message = format!("its outline crosses itself after corners {} and {}", i + 1, k + 1);
        bad(out, place, what, message, "corners in their order around it");
    }
}

fn lumber(plan: &StockPlan, out: &mut Vec<Fault>) {
    for (i, l) in plan.lumber.iter().enumerate() {
        let (place, what) = (Place::StockLumber(i), format!("stock of {:?}", l.species));
        range(out, (place, &what), ("thickness_mm", l.thickness_mm), (3.0, 300.0, "mm"));
        range(out, (place, &what), ("width_mm", l.width_mm), (3.0, 600.0, "mm"));
        if l.width_mm < l.thickness_mm {
            let message = format!("{} by {}", short(l.thickness_mm), short(l.width_mm));
            bad(out, place, &what, message, "the thickness first, and a width of no less");
        }
        if l.lengths_mm.is_empty() || l.lengths_mm.len() > 40 {
            let message = format!("{} lengths", l.lengths_mm.len());
            bad(out, place, &what, message, "1 to 40 lengths, mm");
        }
        for length in &l.lengths_mm {
            range(out, (place, &what), ("lengths_mm", *length), (100.0, 20_000.0, "mm"));
        }
        match l.price {
            Some(LumberPrice::PerMetre(p) | LumberPrice::Each(p)) => price(out, place, &what, p),
            None => {}
        }
    }
}

fn panels(plan: &StockPlan, out: &mut Vec<Fault>) {
    for (i, p) in plan.panel_joints.iter().enumerate() {
        let (place, what) = (Place::PanelJoint(i), format!("joint of {:?}", p.panel));
        joint([place, place], &what, &p.rule, out);
        if plan.panel_joints[..i].iter().any(|o| o.panel == p.panel) {
            let message = format!("{:?} stands there twice", p.panel);
            bad(out, place, &what, message, "one row for each panel");
        }
        for at in &p.at_mm {
            range(out, (place, &what), ("at_mm", *at), (-20_000.0, 20_000.0, "mm"));
        }
    }
}

fn stores(plan: &StockPlan, out: &mut Vec<Fault>) {
    for (i, p) in plan.prices.iter().enumerate() {
        let (place, what) = (Place::StorePrice(i), format!("price of {:?}", p.store));
        price(out, place, &what, p.price);
        if let Some(pack) = p.pack {
            range(out, (place, &what), ("pack", pack), (0.001, 1e6, "in the unit of the list"));
        }
        if plan.prices[..i].iter().any(|o| o.store == p.store) {
            let message = format!("{:?} stands there twice", p.store);
            bad(out, place, &what, message, "one price for each of the stores");
        }
    }
    for (i, w) in plan.waste.iter().enumerate() {
        let (place, what) = (Place::Waste(i), format!("waste of {:?}", w.store));
        range(out, (place, &what), ("pct", w.pct), (0.0, 200.0, "percent"));
        if plan.waste[..i].iter().any(|o| o.store == w.store) {
            let message = format!("{:?} stands there twice", w.store);
            bad(out, place, &what, message, "one row for each of the stores");
        }
    }
    for (i, s) in plan.stores.iter().enumerate() {
        let place = Place::StoreRow(i);
        let twice = plan.stores[..i].iter().any(|o| o.name == s.name);
        row(place, s, twice, out);
    }
}

fn row(place: Place, s: &StoreRow, twice: bool, out: &mut Vec<Fault>) {
    let what = format!("store {:?}", s.name);
    if s.name.trim().is_empty() {
        bad(out, place, &what, "it has no name".into(), "a name for each row");
    }
    if twice {
        bad(out, place, &what, format!("{:?} stands there twice", s.name), "one row for each name");
    }
    range(out, (place, &what), ("value", s.value), (1e-6, 1e6, s.figure.unit()));
    range(out, (place, &what), ("pack", s.pack), (1e-6, 1e6, "in the row's unit"));
    range(out, (place, &what), ("waste_pct", s.waste_pct), (0.0, 200.0, "percent"));
}
