//! What boats with the same sheets have in common, whatever wood their members are of: what
//! they cost at least, and what is the matter with all of them.

use super::bound::{self, Paid, listed};
use super::choices::Choices;
use super::costs::is_chosen;
use super::verdict::{Suffered, Why, of_skin};
use crate::finding::Finding;
use crate::geom::polyline::area;
use crate::model::Model;
use crate::model::stock::lumber::Wanted;
use crate::model::stock::sheets::gathered;
use crate::model::stock::stores;
use crate::part::{Copies, MemberId, PartId};
use crate::stock::lumber::Cut;
use crate::stock::stores::{Bought, Stores};

/// What boats with the same sheets cost at least.
pub(super) struct Skin {
    /// Their sheets.
    pub(super) sheets: Paid,
    /// Stores with each of the glues, those for joints of panels aside.
    pub(super) stores: Vec<f64>,
    /// Lumber that is no member's.
    pub(super) fixed: f64,
}

impl Skin {
    /// That of one of them, and why all of them fall, if they do.
    pub(super) fn of(model: &Model, choices: &Choices, suffered: &Suffered) -> (Skin, Option<Why>) {
        let own: Vec<Finding> = model.findings.iter().filter(|f| of_skin(f)).cloned().collect();
        let mut falls = suffered.not_borne(&own).map(Why::finding);
        let plan = &model.hull.stock;
        let mut sheets = Paid::default();
        for (sheet, asks) in by_area(model) {
            match bound::sheets(plan, &sheet, asks) {
                Ok(paid) => sheets = sheets.plus(paid),
                Err(why) => falls = falls.or(Some(why)),
            }
        }
        let mut glued = model.clone();
        let stores = choices.glues.iter().map(|glue| {
            glued.hull.stock.glue.clone_from(glue);
            // What joints of panels take up comes on top.
            whatever_she_weighs(&stores::stores(&glued, &[], &[]))
        });
        let stores = stores.collect();
        let wanted = Wanted::of(model);
        let fixed = wanted.cuts.iter().filter(|c| !is_chosen(model, c.1)).map(|(cut, _)| {
            let by = (cut, cut.species.as_str());
            bound::stick(&wanted.lengths, plan.end_trim_mm, by).known
        });
        (Skin { sheets, stores, fixed: fixed.sum() }, falls)
    }
}

/// Price of stores but for those that go by how deep she floats, which her members' wood changes:
/// what is painted above the water and below it.
fn whatever_she_weighs(stores: &Stores) -> f64 {
    const BY_THE_WATER: [&str; 4] = ["topside paint", "antifouling", "roller covers", "brushes"];
    let fouled = stores.lines.iter().any(|l| l.name == "antifouling");
    let by_the_water = |b: &&Bought| {
        fouled && b.lines.iter().any(|l| BY_THE_WATER.contains(&stores.lines[*l].name.as_str()))
    };
    stores.bought.iter().filter(|b| !by_the_water(b)).filter_map(|b| b.price).sum()
}

/// Area of what is cut of each kind of sheet on the list, layers of other kinds' boards aside.
fn by_area(model: &Model) -> Vec<(String, f64)> {
    let stands = &model.stands().panels;
    let listed = |name: &str| model.hull.stock.sheets.iter().any(|s| s.sheet == name);
    let mut out: Vec<(String, f64)> = Vec::new();
    let mut add = |name: &str, square: f64| match out.iter_mut().find(|o| o.0 == name) {
        _ if !listed(name) => {}
        Some(o) => o.1 += square,
        None => out.push((name.into(), square)),
    };
    for kind in gathered(model, stands.iter()) {
        let parts = kind.parts.iter().map(|(p, _)| p.count as f64 * area(&p.outline).abs());
        add(&kind.sheet, parts.sum());
    }
    for p in stands {
        let outline = p.cut_outline(model.hull.planking.trim_allowance_mm);
        add(&p.sheet, Copies::of(p.full_width).count() as f64 * area(&outline).abs());
    }
    out
}

/// Share of a stick's length that it has whatever her sheets are: one outside lies on her
/// planking, and is shorter over thinner sheets by a few millimetres times the angle it turns.
const WHATEVER_SHEETS: f64 = 0.98;

/// What each member's sticks cost at least of each of its species, whatever her sheets are.
pub(super) fn sticks(model: &Model, choices: &Choices) -> Vec<Vec<Paid>> {
    let wanted = Wanted::of(model);
    let own = &wanted.lengths[..listed(&model.hull.stock)];
    let trim = model.hull.stock.end_trim_mm;
    let named = |id: PartId, name: &str| match id {
        PartId::Member(MemberId(i)) => {
            model.members[i].path.is_none() && model.members[i].member.name == name
        }
        _ => false,
    };
    let of = |name: &str, species: &str| {
        let cuts = wanted.cuts.iter().filter(|c| named(c.1, name));
        cuts.fold(Paid::default(), |sum, (cut, _)| {
            let least = Cut { length: WHATEVER_SHEETS * cut.length, ..cut.clone() };
            let paid = bound::stick(own, trim, (&least, species));
            // One board may give both sticks of a pair.
            Paid { unpriced: sum.unpriced.max(paid.unpriced), known: sum.known + paid.known }
        })
    };
    choices.members.iter().map(|m| m.of.iter().map(|s| of(&m.name, s)).collect()).collect()
}

/// Places from the least to the greatest; of equal ones the first on the list.
pub(super) fn ranked(of: &[Paid]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..of.len()).collect();
    order.sort_by(|a, b| of[*a].order(&of[*b]));
    order
}
