//! Only what the yard has: of the sheets and the lumber that the document lists, with their
//! prices and how many there are, the cheapest boat that still holds.
//!
//! What may change is each panel's sheet (grain and everything else as it lies), each member's
//! species, the glue and the joint of her panels. A boat holds if nothing of her is at stop, on
//! her list neither, and she has no warning but those that she has as she is and that no choice
//! by itself takes away, told apart by what is the matter and with which thing
//! ([`Finding::alike`]): so a change makes her no worse in words, though a figure may be worse.
//! Everything must come out of what is on the list; what is no panel and no member (frames,
//! transom, jig) and of which the list has nothing is bought besides, and told.
//!
//! Two choices are ruled out by themselves: a sheet by its own panel's bend, a species by its own
//! stick's ([`verdict`] says why that is safe). Whatever else is said of a boat is said by the
//! whole pass of that boat, and what she costs by her own list of stock.

mod bound;
mod choices;
mod costs;
mod probe;
mod reasons;
mod search;
mod skin;
mod verdict;

pub use bound::Paid;
pub use choices::{Change, Choices, GlueOut, MemberChoice, NotListed, PanelChoice, Pick, Sheet};
pub use reasons::Because;
pub use verdict::{Fallen, Family, Suffered, Why};

use super::{SEED, StockList, stock};
use crate::finding::{Finding, Place};
use crate::hull::CheckedHull;
use crate::hull::check::Fault;
use crate::material::Materials;
use crate::model::{Model, derive_checked};

use crate::stock::nest::{self, Effort};

/// How thoroughly sheets are laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct How {
    /// For each layout.
    pub effort: Effort,
    /// Of its search.
    pub seed: u64,
}

impl Default for How {
    /// Layouts made at once: many are asked for.
    fn default() -> Self {
        How { effort: Effort::NONE, seed: SEED }
    }
}

/// What is being done.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Doing {
    /// Her own list, as she is.
    #[default]
    AsSheIs,
    /// Boats are judged, and their lumber is cut.
    Judging,
    /// Sheets are laid.
    Laying {
        /// Of this kind.
        sheet: String,
        /// Parts moved.
        moves: usize,
        /// At most.
        of: usize,
    },
}

/// How far a search is.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Progress {
    /// What is being done.
    pub doing: Doing,
    /// Boats that were looked at.
    pub looked_at: u64,
    /// Boats that the lists make.
    pub possible: u128,
    /// No boat that is left costs less, as far as prices are known.
    pub at_least: f64,
    /// The cheapest that holds so far.
    pub best: Option<Paid>,
}

/// That it was stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Stopped;

/// How a search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Nothing is cheaper, as its sheets are laid; or nothing holds at all.
    Proved,
    /// It was stopped: there may be a cheaper one.
    Stopped,
}

/// The boat that was found.
#[derive(Debug, Clone)]
pub struct Answer {
    /// What differs from the boat as she is.
    pub changes: Vec<Change>,
    /// Why each of them is there; `None` where the search was stopped before that was known.
    pub because: Vec<Option<Because>>,
    /// The boat; her document is `model.hull`.
    pub model: Model,
    /// What she is cut from.
    pub list: StockList,
    /// What is bought besides the list.
    pub besides: Vec<Besides>,
}

/// Something that is bought though it is not on the list.
#[derive(Debug, Clone, PartialEq)]
pub enum Besides {
    /// Sheets.
    Sheets {
        /// Their kind.
        sheet: String,
        /// mm.
        thickness: f64,
        /// How many.
        count: usize,
    },
    /// Lumber.
    Lumber {
        /// Empty for whatever lies about.
        species: String,
        /// Thickness and width, mm.
        section: (f64, f64),
        /// How many lengths.
        count: usize,
    },
}

/// What came out.
#[derive(Debug, Clone)]
pub struct Found {
    /// The boat as she is, and her list.
    pub before: (Model, StockList),
    /// The cheapest that holds; `None` if none does, or none was met before it was stopped.
    pub answer: Option<Answer>,
    /// Whether there may be a cheaper one.
    pub end: End,
    /// Boats that were looked at.
    pub looked_at: u64,
    /// Boats that the lists make.
    pub possible: u128,
    /// What fell, and why: choices that are ruled out by themselves first, then boats that might
    /// have been cheaper than the answer.
    pub fallen: Vec<Fallen>,
    /// Warnings that she has as she is and that no choice takes away.
    pub suffered: Vec<Finding>,
    /// What stops her as she is, whatever is chosen.
    pub stop: Option<Finding>,
    /// Why she herself is no answer as she is, whatever her own sheets and lumber are; `None` if
    /// she holds.
    pub as_she_is: Option<Why>,
    /// What she takes as she is that is not on the lists: with it, what she costs cannot be
    /// compared.
    pub as_she_is_besides: Vec<Besides>,
    /// What there was to choose from.
    pub choices: Choices,
}

/// Looks for it. `tell` is called every few tens of milliseconds, and stops the search by
/// returning `false`: the best so far is the answer then. Same document, same answer.
///
/// # Errors
/// What the document's lists lack.
pub fn choose(
    hull: &CheckedHull,
    materials: &Materials,
    how: How,
    tell: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Found, NotListed> {
    let model = derive_checked(hull, materials);
    let choices = Choices::of(&model)?;
    let mut progress = Progress { possible: choices.possible(), ..Progress::default() };
    let mut stopped = false;
    let list = stock(&model, how.effort, how.seed, &mut |_, _: &nest::Progress| {
        stopped |= !tell(&progress);
        !stopped
    });
    let mut found = Found {
        before: (model, list),
        answer: None,
        end: End::Stopped,
        looked_at: 0,
        possible: progress.possible,
        fallen: Vec::new(),
        suffered: Vec::new(),
        stop: None,
        as_she_is: None,
        as_she_is_besides: Vec::new(),
        choices,
    };
    found.as_she_is_besides = besides(&found.before.0, &found.before.1);
    progress.doing = Doing::Judging;
    let as_she_is = (&found.before.0, hull);
    let probed = match stopped {
        true => Err(Stopped),
        false => probe::probe(as_she_is, materials, &found.choices, &mut || tell(&progress)),
    };
    let Ok(probed) = probed else {
        return Ok(found);
    };
    let on_list = of_the_list(&found.before, &found.choices);
    let (model, list) = &found.before;
    let fails = probed.suffered.not_borne(&model.findings);
    found.as_she_is = fails.or(on_list.not_borne(&list.findings)).map(Why::finding);
    found.suffered = [probed.suffered.0.clone(), on_list.0.clone()].concat();
    let ruled_out = probed.out.into_iter().map(|(family, why)| {
        let boats = boats_of(&found.choices, &family);
        Fallen { family, why, at_least: None, boats }
    });
    found.fallen = ruled_out.collect();
    found.stop = probed.stop;
    if found.stop.is_some() || probed.left.possible() == 0 {
        found.end = End::Proved;
        return Ok(found);
    }
    let searched = search::Search::new(
        (&found.before.0, hull, materials),
        (&probed.left, &probed.suffered, &on_list),
        how,
        tell,
        progress,
    )
    .run();
    found.looked_at = searched.looked_at;
    found.fallen.extend(searched.fallen);
    found.end = if searched.proved { End::Proved } else { End::Stopped };
    let Some((best, list)) = searched.best else {
        return Ok(found);
    };
    let mut answer = Answer {
        changes: probed.left.changes(hull, &best.pick),
        because: Vec::new(),
        besides: besides(&best.model, &list),
        model: best.model,
        list,
    };
    // What was ruled out by itself is on the lists and not among what is left to choose.
    let pick = found.choices.pick_of(&probed.left, &best.pick);
    let last = Progress {
        doing: Doing::Judging,
        looked_at: found.looked_at,
        possible: found.possible,
        ..Progress::default()
    };
    answer.because = reasons::reasons(
        (hull, materials),
        (&found.choices, &pick),
        (&probed.suffered, &on_list),
        &answer,
        how,
        &mut || found.end == End::Proved && tell(&last),
    );
    found.answer = Some(answer);
    Ok(found)
}

/// Warnings of her list that no choice takes away: those of the shop, and those of the glue where
/// there is no other to choose.
fn of_the_list((model, list): &(Model, StockList), choices: &Choices) -> Suffered {
    let one_glue = choices.glues == [model.hull.stock.glue.clone()];
    let stays = |f: &&Finding| {
        verdict::is_grave(f) && (verdict::of_the_shop(f) || one_glue && verdict::of_glue(f))
    };
    Suffered(list.findings.iter().filter(stays).cloned().collect())
}

/// How many boats have such a choice.
fn boats_of(choices: &Choices, family: &Family) -> u128 {
    let of = match family {
        Family::Sheet { panel, .. } => {
            choices.panels.iter().find(|p| p.panel == *panel).map(|p| p.of.len())
        }
        Family::Species { member, .. } => {
            choices.members.iter().find(|m| m.name == *member).map(|m| m.of.len())
        }
        Family::Boats => None,
    };
    of.map_or(0, |n| choices.possible() / n.max(1) as u128)
}

/// A document's fault as a finding.
fn refused(fault: Fault) -> Finding {
    Finding::stop(Place::Document(fault.what.clone()), fault)
}

/// What a list has that the document does not list.
fn besides(model: &Model, list: &StockList) -> Vec<Besides> {
    let plan = &model.hull.stock;
    let mut out: Vec<Besides> = list
        .sheets
        .iter()
        .filter(|k| !plan.sheets.iter().any(|s| s.sheet == k.sheet))
        .map(|k| Besides::Sheets {
            sheet: k.sheet.clone(),
            thickness: k.thickness,
            count: k.layout.sheets.len(),
        })
        .collect();
    let own = bound::listed(plan);
    for b in list.lumber.plan.boards.iter().filter(|b| b.stock >= own) {
        let of = &list.lumber.lengths[b.stock];
        let now = (of.species.clone(), (of.thickness, of.width));
        let same = |b: &&mut Besides| matches!(b, Besides::Lumber { species, section, .. } if (species.clone(), *section) == now);
        match out.iter_mut().find(same) {
            Some(Besides::Lumber { count, .. }) => *count += 1,
            _ => out.push(Besides::Lumber { species: now.0, section: now.1, count: 1 }),
        }
    }
    out
}
