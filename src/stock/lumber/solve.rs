//! From cuts and stock to boards: scarfs chosen, problems parted, each solved and put back
//! into words.

use std::collections::BTreeMap;

use super::check::faults;
use super::crosscut::Crosscut;
use super::problem::{BoardKind, Kind, Problem, Used, rips};
use super::scarf;
use super::search::{Found, least};
use super::{
    Board, ChosenBy, Cut, CutPiece, Effort, Lack, Length, LumberPlan, Missing, Proof, Rules, Strip,
};

/// Longest stick (mm) that is worked with: far beyond a boat of 20 m.
const LONGEST_MM: f64 = 30_000.0;
/// Widths are worked with in tenths of a mm.
const PER_MM: f64 = 10.0;

/// What to buy and how to cut it. Sticks that cannot be had are told with the reason, and the
/// rest is planned all the same.
pub fn plan(cuts: &[Cut], stock: &[Length], rules: &Rules) -> LumberPlan {
    plan_within(cuts, stock, rules, Effort::Thorough)
}

/// The same with so much effort. Scarfs lie where they lie with any other.
pub fn plan_within(cuts: &[Cut], stock: &[Length], rules: &Rules, effort: Effort) -> LumberPlan {
    let yard = Yard { cuts, stock, rules };
    let mut out = LumberPlan::default();
    let mut at: Vec<Option<Vec<f64>>> = vec![None; cuts.len()];
    let mut long = Vec::new();
    for (i, at) in at.iter_mut().enumerate() {
        match yard.whole(i) {
            Whole::Yes => *at = Some(Vec::new()),
            Whole::Scarfed(ways) => long.push((i, ways)),
            Whole::No(why) => out.missing.push(Missing { cut: i, why }),
        }
    }
    yard.place_scarfs(long, &mut at, &mut out);
    let parts = yard.parts(&at);
    for (problem, own) in yard.problems(&parts) {
        let (by, kinds) = (own.by, problem.kinds.len());
        // Boards that are cheaper while they are ripped may be dearer once blanks are crosscut.
        let efforts = match effort {
            Effort::Quick => [Effort::Quick].as_slice(),
            Effort::Thorough => &[Effort::Thorough, Effort::Quick],
        };
        let ways = efforts.iter().map(|e| {
            let found = least(&problem, *e);
            let (lower_bound, proved) = (found.lower, found.proved);
            let mut missing = out.missing.clone();
            let boards = yard.put_back(&problem, own.clone(), found, &mut missing, effort);
            let cost = boards.iter().map(|b| yard.cost(by, b.stock)).sum();
            (missing, boards, Proof { by, cost, lower_bound, proved, kinds })
        });
        let cheapest = ways.reduce(|a, b| {
            let (more, dearer) = (b.0.len() >= a.0.len(), b.2.cost >= a.2.cost);
            let better = if more && dearer || b.0.len() > a.0.len() { a.clone() } else { b };
            // The longer search knows the better bound.
            let Proof { lower_bound, proved, .. } = a.2;
            (better.0, better.1, Proof { lower_bound, proved, ..better.2 })
        });
        if let Some((missing, boards, proof)) = cheapest {
            out.missing = missing;
            out.proofs.push(proof);
            out.boards.extend(boards);
        }
    }
    out.boards.sort_by_key(|b| b.stock);
    let wrong = faults(&out, cuts, stock, rules);
    if wrong.is_empty() {
        return out;
    }
    // Not reached, as far as tests tell; no list is better than one that cannot be cut.
    let why = Lack::Wrong(wrong.join("; "));
    let missing = (0..cuts.len()).map(|cut| Missing { cut, why: why.clone() }).collect();
    LumberPlan { missing, ..LumberPlan::default() }
}

/// Whether a stick can be had in one piece.
enum Whole {
    Yes,
    Scarfed(Vec<Vec<f64>>),
    No(Lack),
}

/// A piece of a stick: which, which piece of it, how long.
pub(super) type Part = (usize, usize, f64);

/// What of the yard's own numbers belongs to a problem.
#[derive(Clone)]
pub(super) struct Own {
    by: ChosenBy,
    /// Kind by kind.
    parts: Vec<Vec<Part>>,
    /// Section by section: its cut's section, the lesser side first.
    sections: Vec<(f64, f64)>,
}

/// Sticks, what they are cut from, and by which rules.
pub(super) struct Yard<'a> {
    pub(super) cuts: &'a [Cut],
    pub(super) stock: &'a [Length],
    pub(super) rules: &'a Rules,
}

impl Yard<'_> {
    /// Width to which stock `s` is ripped for a section; `None` where it does not give it.
    fn rip_width(&self, s: usize, species: &str, (a, b): (f64, f64)) -> Option<f64> {
        let (from, room) = (&self.stock[s], self.rules.section_room);
        if !from.is_of(species) || self.usable(s) <= 0.0 {
            return None;
        }
        let gives = |t: f64, w: f64| (from.thickness - t).abs() <= room && from.width >= w - room;
        let ways = [gives(a, b).then_some(b), gives(b, a).then_some(a)];
        ways.into_iter().flatten().reduce(f64::min)
    }

    /// What is left of a length when both ends are trimmed, mm.
    fn usable(&self, s: usize) -> f64 {
        self.stock[s].length - 2.0 * self.rules.end_trim
    }

    fn section(&self, cut: usize) -> (f64, f64) {
        let (a, b) = self.cuts[cut].section;
        (a.min(b), a.max(b))
    }

    fn whole(&self, i: usize) -> Whole {
        let cut = &self.cuts[i];
        let (a, b) = self.section(i);
        if !(cut.length > 0.0 && cut.length <= LONGEST_MM && a > 0.0 && b.is_finite()) {
            return Whole::No(Lack::NoStick { length: cut.length, section: (a, b) });
        }
        let fit = |s: &usize| {
            self.stock[*s].count != Some(0) && self.rip_width(*s, &cut.species, (a, b)).is_some()
        };
        let mut lengths: Vec<f64> =
            (0..self.stock.len()).filter(fit).map(|s| self.usable(s)).collect();
        lengths.sort_by(|a, b| b.total_cmp(a));
        lengths.dedup();
        let Some(longest) = lengths.first().copied() else {
            return Whole::No(Lack::NotRipped { species: cut.species.clone(), section: (a, b) });
        };
        if cut.length <= longest {
            return Whole::Yes;
        }
        let over = cut.length - longest;
        let Some(scarfs) = &cut.scarfs else {
            return Whole::No(Lack::TooLong { over, longest });
        };
        lengths.iter_mut().for_each(|l| *l -= self.rules.joint_spare);
        let ways = scarf::ways(cut, scarfs, &lengths, self.rules);
        match ways.is_empty() {
            true => {
                let scarf = scarf::length(scarfs, self.rules);
                Whole::No(Lack::NoScarf { over, longest, scarf })
            }
            false => Whole::Scarfed(ways),
        }
    }

    pub(super) fn parts(&self, at: &[Option<Vec<f64>>]) -> Vec<Part> {
        let mut out = Vec::new();
        for (i, cut) in self.cuts.iter().enumerate() {
            let (Some(at), scarf) = (&at[i], cut.scarfs.as_ref()) else {
                continue;
            };
            let joint = scarf.map_or((0.0, 0.0), |s| (scarf::length(s, self.rules), s.cleat));
            let pieces = scarf::cut_for(cut.length, joint, at);
            out.extend(pieces.into_iter().enumerate().map(|(k, p)| (i, k, p)));
        }
        out
    }

    /// Parts sorted into problems that share no board.
    pub(super) fn problems(&self, parts: &[Part]) -> Vec<(Problem, Own)> {
        let mut sections: BTreeMap<(&str, u64, u64), Vec<Part>> = BTreeMap::new();
        for part in parts {
            let (a, b) = self.section(part.0);
            let tenths = |x: f64| (x * PER_MM).round() as u64;
            let key = (self.cuts[part.0].species.as_str(), tenths(a), tenths(b));
            sections.entry(key).or_default().push(*part);
        }
        let sections: Vec<Vec<Part>> = sections.into_values().collect();
        let gives = |s: usize, k: usize| {
            let cut = sections[k][0].0;
            self.rip_width(s, &self.cuts[cut].species, self.section(cut))
        };
        // Sections that a stock gives both of belong to one problem.
        let mut group: Vec<usize> = (0..sections.len()).collect();
        for s in 0..self.stock.len() {
            let of: Vec<usize> = (0..sections.len()).filter(|k| gives(s, *k).is_some()).collect();
            if let Some(least) = of.iter().map(|k| group[*k]).min() {
                let joined: Vec<usize> = of.iter().map(|k| group[*k]).collect();
                group.iter_mut().filter(|g| joined.contains(g)).for_each(|g| *g = least);
            }
        }
        let mut names = group.clone();
        names.sort_unstable();
        names.dedup();
        names
            .into_iter()
            .map(|name| {
                let own: Vec<usize> = (0..sections.len()).filter(|k| group[*k] == name).collect();
                self.problem(&sections, &own, &gives)
            })
            .collect()
    }

    fn problem(
        &self,
        sections: &[Vec<Part>],
        own: &[usize],
        gives: &dyn Fn(usize, usize) -> Option<f64>,
    ) -> (Problem, Own) {
        let kerf = self.rules.kerf.max(0.0);
        let mut kinds: BTreeMap<(std::cmp::Reverse<usize>, usize), Vec<Part>> = BTreeMap::new();
        for (section, k) in own.iter().enumerate() {
            for part in &sections[*k] {
                let size = (part.2 + kerf - ROUNDING_MM).ceil() as usize;
                kinds.entry((std::cmp::Reverse(size), section)).or_default().push(*part);
            }
        }
        let of = |s: &usize| own.iter().any(|k| gives(*s, *k).is_some());
        let stock: Vec<usize> = (0..self.stock.len()).filter(of).collect();
        let rates = stock.iter().filter_map(|s| Some(self.stock[*s].price? / self.wood(*s)));
        // Wood of no known price is taken to be as dear as the dearest that has one: our judgement.
        let by = match rates.reduce(f64::max) {
            Some(dearest) if dearest > 0.0 => ChosenBy::Price { unknown: dearest },
            // What lies there is free; what else is bought counts by its wood.
            Some(_) => ChosenBy::Price { unknown: 1.0 },
            None => ChosenBy::Wood,
        };
        let pieces: Vec<usize> = own.iter().map(|k| sections[*k].len()).collect();
        let boards = stock
            .into_iter()
            .map(|s| {
                let from = &self.stock[s];
                // A board that measures a hair less than the stick is not ripped.
                let width = |w: f64| ((w.min(from.width) + kerf) * PER_MM).round() as usize;
                let widths: Vec<Option<usize>> =
                    own.iter().map(|k| gives(s, *k).map(width)).collect();
                BoardKind {
                    stock: s,
                    capacity: (self.usable(s) + kerf + ROUNDING_MM).floor() as usize,
                    cost: self.cost(by, s),
                    count: from.count.map(|n| n as usize),
                    rips: rips(((from.width + kerf) * PER_MM).round() as usize, &widths, &pieces),
                }
            })
            .collect();
        let lots = kinds.iter().map(|((size, section), parts)| Kind {
            section: *section,
            size: size.0,
            count: parts.len(),
        });
        let problem = Problem { kinds: lots.collect(), sections: own.len(), boards };
        let sections = own.iter().map(|k| self.section(sections[*k][0].0)).collect();
        (problem, Own { by, parts: kinds.into_values().collect(), sections })
    }

    /// Price of one of stock `s`, or the wood in it, m³; what is not paid for takes no wood.
    fn cost(&self, by: ChosenBy, s: usize) -> f64 {
        match by {
            ChosenBy::Price { unknown } => {
                self.stock[s].price.unwrap_or_else(|| unknown * self.wood(s))
            }
            ChosenBy::Wood => self.wood(s),
        }
    }

    /// The wood in one of stock `s`, m³.
    fn wood(&self, s: usize) -> f64 {
        let from = &self.stock[s];
        from.thickness * from.width * from.length * 1e-9
    }

    /// Boards and strips with the pieces of sticks in them, crosscut first where that saves;
    /// what is left over is missing.
    fn put_back(
        &self,
        problem: &Problem,
        mut own: Own,
        found: Found,
        missing: &mut Vec<Missing>,
        effort: Effort,
    ) -> Vec<Board> {
        let mut boards = Vec::new();
        for Used { board, strips } in found.used {
            let stock = problem.boards[board].stock;
            let strips: Vec<Strip> = strips
                .into_iter()
                .filter(|(_, set)| !set.is_empty())
                .map(|(section, set)| {
                    let mut pieces: Vec<CutPiece> = set
                        .into_iter()
                        .flat_map(|(kind, n)| {
                            let at = own.parts[kind].len().saturating_sub(n);
                            own.parts[kind].split_off(at)
                        })
                        .map(|(cut, part, length)| CutPiece { cut, part, length })
                        .collect();
                    pieces.sort_by(|a, b| b.length.total_cmp(&a.length).then(a.cut.cmp(&b.cut)));
                    let cuts = pieces.len() as f64 * self.rules.kerf;
                    let taken: f64 = pieces.iter().map(|p| p.length).sum::<f64>() + cuts;
                    let offcut = (self.usable(stock) - taken).max(0.0);
                    let width = pieces
                        .first()
                        .map(|p| &self.cuts[p.cut].species)
                        .and_then(|s| self.rip_width(stock, s, own.sections[section]));
                    Strip { from: 0.0, width: width.unwrap_or(0.0), pieces, offcut }
                })
                .collect();
            if !strips.is_empty() {
                boards.push(Board { stock, strips });
            }
        }
        let by = own.by;
        for (cut, part, length) in own.parts.into_iter().flatten() {
            if !missing.iter().any(|m| m.cut == cut) {
                let why = Lack::UsedUp { part, length };
                missing.push(Missing { cut, why });
            }
        }
        if !self.rules.crosscut_first {
            return boards;
        }
        let of: Vec<usize> = problem.boards.iter().map(|b| b.stock).collect();
        let crosscut = Crosscut {
            stock: self.stock,
            rules: self.rules,
            cost: &|s| self.cost(by, s),
            width: &|s, cut| self.rip_width(s, &self.cuts[cut].species, self.section(cut)),
        };
        let at_once = match effort {
            Effort::Quick => 2,
            Effort::Thorough => 3,
        };
        crosscut.bettered(boards, &of, at_once)
    }
}

/// Lengths are rounded by less than this, mm.
const ROUNDING_MM: f64 = 1e-6;
