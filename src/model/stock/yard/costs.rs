//! What boats cost, worked out once for each set of sheets and each list of sticks.

use std::collections::HashMap;

use super::bound::Paid;
use super::verdict::{Suffered, Why, is_grave};
use crate::finding::{Finding, Place, StockFact};
use crate::model::Model;
use crate::model::stock::lumber::Wanted;
use crate::model::stock::sheets::{Sheets, sheets};
use crate::model::stock::{LumberList, StockList, put_together};
use crate::part::{CutFrom, MemberId, Part, PartId};
use crate::stock::lumber::Effort as Sawing;
use crate::stock::nest::{Effort, Progress};

/// Panels and boards as they were laid, and of what boat.
struct LaidOut {
    /// What was laid besides her panels.
    boards: Vec<Part>,
    /// Nothing if they cannot all be had.
    found: Result<(Sheets, Vec<Finding>), Why>,
}

/// Everything that was worked out.
#[derive(Default)]
pub(super) struct Costs {
    /// By the sheets of her panels and their joint.
    laid: HashMap<(usize, usize), LaidOut>,
    /// By the sticks of species that share boards.
    cut: Vec<(Wanted, Result<Paid, Why>)>,
}

impl Costs {
    /// What her lumber costs, by sets of species that share no boards.
    ///
    /// # Errors
    /// The first stick that the list does not give.
    pub(super) fn lumber(&mut self, model: &Model) -> Result<Paid, Why> {
        let all = Wanted::of(model);
        let mut sum = Paid::default();
        for species in all.sharing() {
            let own = all.of_species(&species);
            let known = self.cut.iter().find(|(wanted, _)| *wanted == own);
            let paid = match known {
                Some((_, paid)) => paid.clone(),
                None => {
                    let paid = paid_for(model, own.clone().planned(Sawing::Quick), own.listed);
                    self.cut.push((own, paid.clone()));
                    paid
                }
            };
            sum = sum.plus(paid?);
        }
        Ok(sum)
    }

    /// Her list but for her lumber, whose cost is known by then; `key` tells her panels' sheets and their joint from others. `None` where
    /// `tell` stopped it: what was laid by then is no answer.
    ///
    /// # Errors
    /// The first thing that cannot be had, or is not borne.
    pub(super) fn list(
        &mut self,
        model: &Model,
        key: (usize, usize),
        (effort, seed): (Effort, u64),
        suffered: &Suffered,
        tell: &mut dyn FnMut(&str, &Progress) -> bool,
    ) -> Option<Result<StockList, Why>> {
        let boards: Vec<Part> =
            model.parts.all().iter().filter(|p| of_ply(p)).cloned().map(unweighed).collect();
        // Species weigh, they do not change what is cut of plywood; that is asked all the same.
        if self.laid.get(&key).is_none_or(|l| l.boards != boards) {
            let (mut findings, mut stopped) = (Vec::new(), false);
            let mut on = |sheet: &str, p: &Progress| {
                stopped |= !tell(sheet, p);
                !stopped
            };
            let laid = sheets(model, effort, seed, &mut on, &mut findings);
            if stopped {
                return None;
            }
            let unplaced = laid.kinds.iter().find_map(|k| Some((k, k.layout.unplaced.first()?)));
            let lacks = unplaced.map(|(k, u)| {
                let name = k.problem.parts[u.part].name.clone();
                let (reason, parts) = (u.reason.clone(), vec![(name.clone(), 1)]);
                Finding::stop(Place::Stock(name), StockFact::OnNoSheet { reason, parts })
            });
            let lacks = lacks.or_else(|| findings.iter().find(|f| is_grave(f)).cloned());
            let found = lacks.map_or(Ok((laid, findings)), |f| Err(Why::finding(&f)));
            self.laid.insert(key, LaidOut { boards, found });
        }
        let (laid, findings) = match &self.laid[&key].found {
            Ok(found) => found.clone(),
            Err(why) => return Some(Err(why.clone())),
        };
        let list = put_together(model, laid, LumberList::none(), findings);
        Some(match suffered.not_borne(&list.findings) {
            Some(why) => Err(Why::finding(why)),
            None => Ok(list),
        })
    }

    /// The whole list of a boat whose sheets were laid.
    pub(super) fn whole(&self, model: &Model, key: (usize, usize)) -> Option<StockList> {
        let (laid, findings) = self.laid.get(&key)?.found.clone().ok()?;
        Some(put_together(model, laid, Wanted::of(model).planned(Sawing::Quick), findings))
    }
}

/// Whether it lies on sheets besides the panels.
fn of_ply(p: &Part) -> bool {
    matches!(p.cut_from, CutFrom::Ply { .. })
}

/// A part whose weight is nobody's business here.
fn unweighed(p: Part) -> Part {
    Part { mass: 0.0, source: String::new(), ..p }
}

/// What a list of one species costs.
fn paid_for(model: &Model, list: LumberList, listed: usize) -> Result<Paid, Why> {
    if let Some(m) = list.plan.missing.first() {
        let place = Place::Stock(list.cuts[m.cut].0.name.clone());
        return Err(Why::finding(&Finding::stop(place, StockFact::NoLumber(m.why.clone()))));
    }
    let mut sum = Paid::default();
    for b in &list.plan.boards {
        let of = b.strips.iter().flat_map(|s| &s.pieces).map(|p| &list.cuts[p.cut]);
        if b.stock < listed {
            let price = list.lengths[b.stock].price;
            sum.unpriced += usize::from(price.is_none());
            sum.known += price.unwrap_or(0.0);
        } else if let Some((cut, _)) = of.into_iter().find(|c| is_chosen(model, c.1)) {
            return Err(Why::OffList(cut.name.clone()));
        }
    }
    Ok(sum)
}

/// Whether a stick is of a member whose species is chosen: one along a line of hers.
pub(super) fn is_chosen(model: &Model, id: PartId) -> bool {
    matches!(id, PartId::Member(MemberId(i)) if model.members[i].path.is_none())
}
