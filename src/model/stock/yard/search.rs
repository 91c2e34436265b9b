//! The cheapest boat, found by looking at the one that could be cheapest first.
//!
//! Every boat begins with a bound that it cannot cost less than: its sheets by area, its sticks
//! by their share of the boards that cost least for them, its stores without those for joints
//! of panels. The one with the least bound is looked at next, and what was learnt raises its
//! bound: it is judged by the whole pass, its lumber is cut, its sheets are laid. One whose cost
//! is known and no more than every bound that is left is the cheapest.

use std::cmp::Ordering;
use std::collections::{BinaryHeap, HashMap};

use super::bound::Paid;
use super::choices::{Choices, Pick};
use super::costs::Costs;
use super::skin::{Skin, ranked, sticks};
use super::verdict::{Fallen, Family, Suffered, Why};
use super::{Doing, How, Progress, Stopped};
use crate::hull::CheckedHull;
use crate::material::Materials;
use crate::model::stock::StockList;
use crate::model::{Model, derive_after};
use crate::stock::nest;

/// How far a boat is worked out; of two that are bound alike the further one goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Known {
    Bound,
    Lumber,
    Cost,
}

/// A boat with what it costs at least.
#[derive(Debug, Clone, PartialEq)]
struct Node {
    paid: Paid,
    known: Known,
    changes: usize,
    /// Which of the skins.
    skin: usize,
    pick: Pick,
    /// What her lumber costs, once it was cut.
    lumber: Paid,
    /// The last member whose species was taken further down its list: those before it stay, so
    /// that each set of species is met once.
    from: usize,
}

impl Eq for Node {}

impl Ord for Node {
    /// The greatest is looked at next.
    fn cmp(&self, other: &Node) -> Ordering {
        let paid = other.paid.order(&self.paid).then(self.known.cmp(&other.known));
        paid.then(other.changes.cmp(&self.changes)).then_with(|| other.pick.cmp(&self.pick))
    }
}

impl PartialOrd for Node {
    fn partial_cmp(&self, other: &Node) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// A boat that holds, with all that is known of her.
#[derive(Debug, Clone)]
pub(super) struct Best {
    pub(super) pick: Pick,
    pub(super) model: Model,
    /// By what her sheets are found again.
    key: (usize, usize),
    paid: Paid,
}

/// What came out.
pub(super) struct Searched {
    pub(super) best: Option<(Best, StockList)>,
    /// No boat that was not looked at costs less.
    pub(super) proved: bool,
    pub(super) looked_at: u64,
    pub(super) fallen: Vec<Fallen>,
}

/// A search.
pub(super) struct Search<'a> {
    pub(super) base: &'a Model,
    pub(super) hull: &'a CheckedHull,
    pub(super) materials: &'a Materials,
    pub(super) choices: &'a Choices,
    pub(super) suffered: &'a Suffered,
    /// Warnings of its list that a boat may have.
    pub(super) on_list: &'a Suffered,
    pub(super) how: How,
    pub(super) tell: &'a mut dyn FnMut(&Progress) -> bool,
    pub(super) progress: Progress,
    costs: Costs,
    skins: Vec<Skin>,
    /// Of each member and each of its species what its sticks cost at least.
    sticks: Vec<Vec<Paid>>,
    /// By skin and species: why not.
    judged: HashMap<(usize, Vec<usize>), Option<Why>>,
    last: Option<(Pick, Model)>,
    fallen: Vec<Fallen>,
    best: Option<Best>,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        (base, hull, materials): (&'a Model, &'a CheckedHull, &'a Materials),
        (choices, suffered, on_list): (&'a Choices, &'a Suffered, &'a Suffered),
        how: How,
        tell: &'a mut dyn FnMut(&Progress) -> bool,
        progress: Progress,
    ) -> Search<'a> {
        Search {
            base,
            hull,
            materials,
            choices,
            suffered,
            on_list,
            how,
            tell,
            progress,
            costs: Costs::default(),
            skins: Vec::new(),
            sticks: Vec::new(),
            judged: HashMap::new(),
            last: None,
            fallen: Vec::new(),
            best: None,
        }
    }

    pub(super) fn run(mut self) -> Searched {
        let proved = self.searched().is_ok();
        if let Some(best) = &self.best {
            self.fallen.retain(|f| f.at_least.is_none_or(|least| least <= best.paid.known));
        }
        let least = |f: &Fallen| f.at_least.unwrap_or(0.0);
        self.fallen.sort_by(|a, b| least(a).total_cmp(&least(b)));
        let costs = &self.costs;
        let whole = |b: Best| costs.whole(&b.model, b.key).map(|list| (b, list));
        Searched {
            best: self.best.and_then(whole),
            proved,
            looked_at: self.progress.looked_at,
            fallen: self.fallen,
        }
    }

    fn searched(&mut self) -> Result<(), Stopped> {
        let mut open = self.begin()?;
        while let Some(mut node) = open.pop() {
            self.progress.at_least = node.paid.known;
            self.go_on(Doing::Judging)?;
            match node.known {
                Known::Bound => {
                    self.further(&node, &mut open);
                    self.progress.looked_at += 1;
                    let found = self.cut(&node);
                    match found {
                        Err(why) => self.fell(&node, why, 1),
                        Ok(lumber) => {
                            let skin = &self.skins[node.skin];
                            let stores = skin.stores[node.pick.glue];
                            let rest = Paid { unpriced: 0, known: stores };
                            node.paid = skin.sheets.plus(lumber).plus(rest);
                            (node.known, node.lumber) = (Known::Lumber, lumber);
                            open.push(node);
                        }
                    }
                }
                Known::Lumber => match self.list(&node)? {
                    Err(why) => self.fell(&node, why, 1),
                    Ok(paid) => {
                        (node.paid, node.known) = (paid, Known::Cost);
                        open.push(node);
                    }
                },
                // No bound that is left is less.
                Known::Cost => return Ok(()),
            }
        }
        Ok(())
    }

    fn go_on(&mut self, doing: Doing) -> Result<(), Stopped> {
        self.progress.doing = doing;
        if (self.tell)(&self.progress) { Ok(()) } else { Err(Stopped) }
    }

    /// Every set of sheets, glue and joint with the species that cost least.
    fn begin(&mut self) -> Result<BinaryHeap<Node>, Stopped> {
        let mut open = BinaryHeap::new();
        let choices = self.choices;
        let lists: Vec<usize> = choices.panels.iter().map(|p| p.of.len()).collect();
        let members = vec![0; choices.members.len()];
        for panels in every(&lists) {
            self.go_on(Doing::Judging)?;
            let pick = Pick { panels, members: members.clone(), glue: 0, joint: 0 };
            let model = self.model(&pick);
            if self.sticks.is_empty() {
                self.sticks = sticks(&model, choices);
            }
            let (skin, falls) = Skin::of(&model, choices, self.suffered);
            self.last = Some((pick.clone(), model));
            let at = self.skins.len();
            self.skins.push(skin);
            let mut node = Node {
                paid: Paid::default(),
                known: Known::Bound,
                changes: 0,
                skin: at,
                pick: Pick { members: self.cheapest(), ..pick },
                lumber: Paid::default(),
                from: 0,
            };
            if let Some(why) = falls {
                node.paid = self.bound(&node);
                let sets = choices.members.iter().map(|m| m.of.len() as u128).product::<u128>();
                let rest = choices.glues.len() * choices.joints.len();
                self.fell(&node, why, sets * rest as u128);
                continue;
            }
            for glue in 0..choices.glues.len() {
                for joint in 0..choices.joints.len() {
                    let mut node = node.clone();
                    (node.pick.glue, node.pick.joint) = (glue, joint);
                    self.put(node, &mut open);
                }
            }
        }
        Ok(open)
    }

    fn put(&self, mut node: Node, open: &mut BinaryHeap<Node>) {
        node.paid = self.bound(&node);
        node.changes = self.choices.changes(self.hull, &node.pick).len();
        open.push(node);
    }

    /// The species that cost least, member by member.
    fn cheapest(&self) -> Vec<usize> {
        self.sticks.iter().map(|s| ranked(s)[0]).collect()
    }

    /// The sets of species that follow on this one: one member's next dearer species.
    fn further(&self, node: &Node, open: &mut BinaryHeap<Node>) {
        for m in node.from..self.sticks.len() {
            let order = ranked(&self.sticks[m]);
            let at = order.iter().position(|s| *s == node.pick.members[m]);
            let Some(next) = at.and_then(|at| order.get(at + 1)) else {
                continue;
            };
            let mut next_node = Node { from: m, known: Known::Bound, ..node.clone() };
            next_node.pick.members[m] = *next;
            self.put(next_node, open);
        }
    }

    fn bound(&self, node: &Node) -> Paid {
        let skin = &self.skins[node.skin];
        let sticks = self.sticks.iter().zip(&node.pick.members).map(|(s, i)| s[*i]);
        let known = skin.stores[node.pick.glue] + skin.fixed;
        let (mut sum, mut any) = (skin.sheets.plus(Paid { unpriced: 0, known }), 0);
        for s in sticks {
            // One board may give several sticks.
            any = any.max(s.unpriced);
            sum.known += s.known;
        }
        sum.unpriced += any;
        sum
    }

    /// The boat of a pick; the one before is taken over from as far as it goes.
    fn model(&mut self, pick: &Pick) -> Model {
        if let Some((_, model)) = self.last.take_if(|(last, _)| last == pick) {
            return model;
        }
        let next = self.choices.applied(self.hull, pick);
        let before = self.last.as_ref().map_or(self.base, |(_, model)| model);
        match self.hull.changed(next) {
            Ok(next) => derive_after(Some(before), &next, self.materials).0,
            // A row of the tables is within what a document may have; should one not be, the
            // boat is told for what she is.
            Err(faults) => {
                let mut model = self.base.clone();
                model.findings = faults.into_iter().map(super::refused).collect();
                model
            }
        }
    }

    /// Why a boat does not hold; `None` if she does.
    fn judge(&mut self, node: &Node) -> Option<Why> {
        let key = (node.skin, node.pick.members.clone());
        if let Some(known) = self.judged.get(&key) {
            return known.clone();
        }
        let model = self.model(&node.pick);
        let why = self.suffered.not_borne(&model.findings).map(Why::finding);
        self.last = Some((node.pick.clone(), model));
        self.judged.insert(key, why.clone());
        why
    }

    /// What her lumber costs, if she holds.
    fn cut(&mut self, node: &Node) -> Result<Paid, Why> {
        if let Some(why) = self.judge(node) {
            return Err(why);
        }
        let model = self.model(&node.pick);
        let paid = self.costs.lumber(&model);
        self.last = Some((node.pick.clone(), model));
        paid
    }

    /// Her whole list and what it costs; the best so far is kept.
    fn list(&mut self, node: &Node) -> Result<Result<Paid, Why>, Stopped> {
        let model = self.model(&node.pick);
        let (how, key) = ((self.how.effort, self.how.seed), (node.skin, node.pick.joint));
        let (tell, progress) = (&mut self.tell, &mut self.progress);
        let mut on = |sheet: &str, p: &nest::Progress| {
            progress.doing = Doing::Laying { sheet: sheet.into(), moves: p.moves, of: p.of };
            tell(progress)
        };
        let found = self.costs.list(&model, key, how, self.on_list, &mut on);
        let paid = match found.ok_or(Stopped)? {
            Err(why) => Err(why),
            Ok(list) => {
                let paid = Paid::of(&list, &model.hull.stock).plus(node.lumber);
                if self.best.as_ref().is_none_or(|b| paid.order(&b.paid).is_lt()) {
                    self.progress.best = Some(paid);
                    let (pick, model) = (node.pick.clone(), model.clone());
                    self.best = Some(Best { pick, model, key, paid });
                }
                Ok(paid)
            }
        };
        self.last = Some((node.pick.clone(), model));
        Ok(paid)
    }

    fn fell(&mut self, node: &Node, why: Why, boats: u128) {
        match self.fallen.iter_mut().find(|f| f.why.alike(&why)) {
            Some(f) => {
                f.boats += boats;
                f.at_least = f.at_least.map(|least| least.min(node.paid.known));
            }
            None => {
                let at_least = Some(node.paid.known);
                self.fallen.push(Fallen { family: Family::Boats, why, at_least, boats });
            }
        }
    }
}

/// Every set of places in lists of these lengths, one after the other, the first list fastest.
fn every(lists: &[usize]) -> impl Iterator<Item = Vec<usize>> + '_ {
    let all = lists.iter().fold(1, |n: u64, of| n.saturating_mul(*of as u64));
    (0..all).map(|set| {
        let mut left = set;
        let place = |of: &usize| {
            let at = left % *of as u64;
            left /= *of as u64;
            at as usize
        };
        lists.iter().map(place).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::every;

    #[test]
    fn every_set_of_places_is_met_once() {
        let sets: Vec<Vec<usize>> = every(&[2, 1, 3]).collect();
        let by_hand = [[0, 0, 0], [1, 0, 0], [0, 0, 1], [1, 0, 1], [0, 0, 2], [1, 0, 2]];
        assert_eq!(sets, by_hand.map(|s| s.to_vec()));
        assert_eq!(every(&[]).count(), 1);
        assert_eq!(every(&[2, 0]).count(), 0);
    }
}
