//! Why each change of the answer is there: the boat that was found, with that one taken back.

use super::bound::Paid;
use super::choices::{Choices, Pick};
use super::verdict::{Suffered, Why};
use super::{Answer, Besides, How, besides};
use crate::hull::CheckedHull;
use crate::material::Materials;
use crate::model::derive_after;
use crate::model::stock::stock;

/// Why a change is there.
#[derive(Debug, Clone, PartialEq)]
pub enum Because {
    /// What she has now is on no list.
    NotListed,
    /// Without it she does not hold.
    Falls(Why),
    /// Without it she holds and is no cheaper.
    Dearer {
        /// What she would cost more, as far as prices are known; in the document's currency.
        more: f64,
        /// Of so many sheets and boards more there would be no price.
        unpriced: usize,
        /// What would be bought besides the list that the answer does not take.
        besides: Vec<Besides>,
    },
}

/// What a pick is taken back to, change by change as [`Choices::changes`] tells them; `None` where
/// the present one is on no list.
fn taken_back(choices: &Choices, hull: &CheckedHull, pick: &Pick) -> Vec<Option<Pick>> {
    let mut out = Vec::new();
    let mut back = |now: Option<usize>, put: &dyn Fn(&mut Pick, usize)| {
        out.push(now.map(|at| {
            let mut next = pick.clone();
            put(&mut next, at);
            next
        }));
    };
    for (k, (p, i)) in choices.panels.iter().zip(&pick.panels).enumerate() {
        if p.of[*i] != p.now {
            back(p.of.iter().position(|s| *s == p.now), &|next, at| next.panels[k] = at);
        }
    }
    for (k, (m, i)) in choices.members.iter().zip(&pick.members).enumerate() {
        if m.of[*i] != m.now {
            back(m.of.iter().position(|s| *s == m.now), &|next, at| next.members[k] = at);
        }
    }
    let plan = &hull.hull().stock;
    if choices.glues[pick.glue] != plan.glue {
        back(choices.glues.iter().position(|g| *g == plan.glue), &|next, at| next.glue = at);
    }
    if choices.joints[pick.joint] != plan.joint.kind {
        let now = choices.joints.iter().position(|j| *j == plan.joint.kind);
        back(now, &|next, at| next.joint = at);
    }
    out
}

/// Why each change of the answer is there, in their order; `None` where `tell` stopped it before
/// it was known.
pub(super) fn reasons(
    (hull, materials): (&CheckedHull, &Materials),
    (choices, pick): (&Choices, &Pick),
    (suffered, on_list): (&Suffered, &Suffered),
    answer: &Answer,
    how: How,
    tell: &mut dyn FnMut() -> bool,
) -> Vec<Option<Because>> {
    let paid = Paid::of(&answer.list, &answer.model.hull.stock);
    let mut one = |back: Option<Pick>| -> Option<Because> {
        let Some(back) = back else {
            return Some(Because::NotListed);
        };
        if !tell() {
            return None;
        }
        let next = match hull.changed(choices.applied(hull.hull(), &back)) {
            Ok(next) => next,
            Err(faults) => {
                let f = super::refused(faults.into_iter().next()?);
                return Some(Because::Falls(Why::finding(&f)));
            }
        };
        let (model, _) = derive_after(Some(&answer.model), &next, materials);
        if let Some(f) = suffered.not_borne(&model.findings) {
            return Some(Because::Falls(Why::finding(f)));
        }
        let mut stopped = false;
        let list = stock(&model, how.effort, how.seed, &mut |_, _| {
            stopped |= !tell();
            !stopped
        });
        if stopped {
            return None;
        }
        if let Some(f) = on_list.not_borne(&list.findings) {
            return Some(Because::Falls(Why::finding(f)));
        }
        let then = Paid::of(&list, &model.hull.stock);
        let besides =
            besides(&model, &list).into_iter().filter(|b| !answer.besides.contains(b)).collect();
        Some(Because::Dearer {
            more: then.known - paid.known,
            unpriced: then.unpriced.saturating_sub(paid.unpriced),
            besides,
        })
    };
    taken_back(choices, hull, pick).into_iter().map(&mut one).collect()
}
