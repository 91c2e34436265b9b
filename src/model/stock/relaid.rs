//! A list with its parts laid otherwise: found by a longer search, or moved by hand.

use super::{LumberList, SheetKind, StockList, cost, told};
use crate::geom::V2;
use crate::stock::nest::{Attitude, Clash, InHand, Layout, SheetLayout};

/// A part in the hand: taken from one sheet and held over one of its kind. Kinds, sheets and
/// parts by their places in the list.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ByHand {
    /// The kind of sheet.
    pub kind: usize,
    /// The sheet that it was taken from.
    pub from: usize,
    /// Its place among the parts of that sheet.
    pub placed: usize,
    /// The sheet that it is held over.
    pub to: usize,
    /// How it is held.
    pub attitude: Attitude,
    /// Where its origin is held, mm in that sheet's axes.
    pub shift: V2,
}

/// What a place would mean for a part in the hand.
#[derive(Debug, Clone, PartialEq)]
pub struct HeldOver {
    /// What it clashes with there; nothing if it may be laid down.
    pub clashes: Vec<Clash>,
    /// The nearest place where it may be laid down; `None` if there is none on that sheet.
    pub free: Option<V2>,
}

/// Whether two layouts of a kind buy and cut the same, and the largest piece left of the second
/// is smaller: a longer free end is no gain then.
fn leaves_less(own: &SheetKind, found: &SheetKind) -> bool {
    let alike = |k: &SheetKind| {
        let l = &k.layout;
        (l.unplaced.len(), l.bought(&k.problem), l.sheets.len(), l.cost(&k.problem))
    };
    alike(own) == alike(found) && largest_left(found) < largest_left(own)
}

/// The largest piece that is left of any of its sheets, mm².
fn largest_left(kind: &SheetKind) -> f64 {
    let left = kind.layout.sheets.iter().filter_map(|s| kind.left_over(s).into_iter().next());
    left.map(|o| o.area).fold(0.0, f64::max)
}

impl StockList {
    /// With this layout of a kind, by its place; what it costs and what is noticed follow.
    pub fn relaid(&self, kind: usize, layout: Layout) -> StockList {
        let mut next = self.clone();
        if let Some(of) = next.sheets.get_mut(kind) {
            of.layout = layout;
        }
        next.boxes = next.boxes.iter().map(|b| b.beside(&next.sheets)).collect();
        next.cost = cost(&next.asked_for(), &next.stores);
        next.findings.retain(|f| !told::is_of_a_layout(f));
        told::boxes(&next.boxes, &mut next.findings);
        told::layouts(&next.sheets, &mut next.findings);
        next
    }

    /// With these boards; what they cost and what is noticed follow.
    fn sawn(&self, lumber: &LumberList) -> StockList {
        let mut next = self.clone();
        next.lumber = lumber.clone();
        next.cost = cost(&next.asked_for(), &next.stores);
        next.findings.retain(|f| !told::is_of_a_stick(f));
        told::sticks(&next.lumber, &mut next.findings);
        next
    }

    /// The better layout of each kind and the better boards, of this list and one that was
    /// searched for longer.
    pub fn bettered_by(&self, other: &StockList) -> StockList {
        let mut best = self.clone();
        for (k, (own, found)) in self.sheets.iter().zip(&other.sheets).enumerate() {
            let same = own.problem == found.problem;
            let better = found.layout.is_better_than(&own.layout, &own.problem);
            if same && better && !leaves_less(own, found) {
                best = best.relaid(k, found.layout.clone());
            }
        }
        let (own, found) = (&self.lumber, &other.lumber);
        let same = own.cuts == found.cuts && own.lengths == found.lengths;
        if same && found.plan.is_better_than(&own.plan) { best.sawn(found) } else { best }
    }

    /// The sheet that a part is held over with the part on it, and the part's place there.
    fn with_it(&self, held: &ByHand) -> Option<(SheetLayout, usize)> {
        let sheets = &self.sheets.get(held.kind)?.layout.sheets;
        let part = sheets.get(held.from)?.placed.get(held.placed)?;
        let mut over = sheets.get(held.to)?.clone();
        if held.to == held.from {
            return Some((over, held.placed));
        }
        over.placed.push(part.clone());
        let last = over.placed.len() - 1;
        Some((over, last))
    }

    /// What the place that a part is held over means; `free` is looked for only if `nearest`.
    /// `None` where there is no such part or sheet.
    pub fn held_over(&self, held: &ByHand, nearest: bool) -> Option<HeldOver> {
        let problem = &self.sheets.get(held.kind)?.problem;
        let (sheet, part) = self.with_it(held)?;
        let hand = InHand::new(problem, &sheet, part);
        let clashes = hand.clashes(held.attitude, held.shift);
        let free = nearest.then(|| hand.nearest_free(held.attitude, held.shift)).flatten();
        Some(HeldOver { clashes, free })
    }

    /// With the part laid down where it is held; a sheet left bare is not cut. `None` where it
    /// would clash.
    pub fn laid_down(&self, held: &ByHand) -> Option<StockList> {
        let kind = self.sheets.get(held.kind)?;
        let (sheet, part) = self.with_it(held)?;
        let hand = InHand::new(&kind.problem, &sheet, part);
        if !hand.clashes(held.attitude, held.shift).is_empty() {
            return None;
        }
        let placed = hand.placed(held.attitude, held.shift);
        let mut layout = kind.layout.clone();
        if held.to == held.from {
            layout.sheets[held.from].placed[held.placed] = placed;
        } else {
            layout.sheets[held.from].placed.remove(held.placed);
            layout.sheets[held.to].placed.push(placed);
            layout.sheets.retain(|s| !s.placed.is_empty());
        }
        Some(self.relaid(held.kind, layout))
    }

    /// The next way in which the part may lie on the sheet that it is held over; the one that
    /// it is held in where there is no other.
    pub fn turned(&self, held: &ByHand) -> Attitude {
        let next = || {
            let kind = self.sheets.get(held.kind)?;
            let sheets = &kind.layout.sheets;
            let part = sheets.get(held.from)?.placed.get(held.placed)?.part;
            let sheet = sheets.get(held.to)?.sheet;
            let all = kind.problem.attitudes(part, sheet, held.attitude);
            let at = all.iter().position(|a| a.is_near(held.attitude))?;
            Some(all[(at + 1) % all.len()])
        };
        next().unwrap_or(held.attitude)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::demonstration;
    use crate::material::Materials;
    use crate::model::derive;
    use crate::model::stock::{SEED, stock};
    use crate::stock::nest::{Effort, wrongs};

    fn list() -> StockList {
        let model = derive(&demonstration(), &Materials::shipped()).expect("a boat");
        stock(&model, Effort::NONE, SEED, &mut |_, _| true)
    }

    fn held(list: &StockList) -> ByHand {
        let part = &list.sheets[0].layout.sheets[0].placed[0];
        let (attitude, shift) = (part.attitude, part.shift);
        ByHand { kind: 0, from: 0, placed: 0, to: 0, attitude, shift }
    }

    #[test]
    fn a_part_is_laid_down_where_it_is_free_and_nowhere_else() {
        let list = list();
        let own = held(&list);
        let there = list.laid_down(&own).expect("where it lies it lies well");
        assert_eq!(there.sheets[0].layout, list.sheets[0].layout);
        // Off the sheet by half its breadth.
        let off = ByHand { shift: own.shift - V2::new(0.0, 400.0), ..own };
        assert!(list.laid_down(&off).is_none());
        let over = list.held_over(&off, true).expect("a part");
        assert!(!over.clashes.is_empty());
        let back = ByHand { shift: over.free.expect("there is room"), ..own };
        let laid = list.laid_down(&back).expect("the nearest free place is free");
        assert!(wrongs(&laid.sheets[0].problem, &laid.sheets[0].layout).is_empty());
    }

    #[test]
    fn a_sheet_left_bare_is_not_cut() {
        let list = list();
        let kind = 0;
        let layout = &list.sheets[kind].layout;
        let count = |l: &Layout| l.sheets.iter().map(|s| s.placed.len()).sum::<usize>();
        // One part alone on a sheet of its own, where it lay on the first one.
        let mut spread = layout.clone();
        let part = spread.sheets[0].placed.pop().expect("a part");
        let (attitude, shift) = (part.attitude, part.shift);
        spread.sheets.push(SheetLayout { sheet: spread.sheets[0].sheet, placed: vec![part] });
        let from = spread.sheets.len() - 1;
        let more = list.relaid(kind, spread);
        assert_eq!(more.sheet_count(), list.sheet_count() + 1, "one sheet more to buy");
        // What is left of it serves the boxes round the foam.
        let left = |l: &StockList| l.boxes.iter().map(|b| b.left).sum::<f64>();
        assert!(more.boxes.is_empty() || left(&more) > left(&list));
        let held = ByHand { kind, from, placed: 0, to: 0, attitude, shift };
        let back = more.laid_down(&held).expect("where it lay");
        assert_eq!(back.sheets[kind].layout.sheets.len(), layout.sheets.len());
        assert_eq!(count(&back.sheets[kind].layout), count(layout));
        assert!(wrongs(&back.sheets[kind].problem, &back.sheets[kind].layout).is_empty());
        assert_eq!(back.cost, list.cost);
    }

    #[test]
    fn turned_as_often_as_it_may_a_part_lies_as_before() {
        let list = list();
        let mut own = held(&list);
        let begun = own.attitude;
        let mut turns = 0;
        loop {
            own.attitude = list.turned(&own);
            turns += 1;
            if own.attitude.is_near(begun) || turns > 60 {
                break;
            }
        }
        assert!((2..=60).contains(&turns) && own.attitude.is_near(begun), "{turns}");
    }

    #[test]
    fn a_longer_search_never_makes_a_layout_worse() {
        let list = list();
        let model = derive(&demonstration(), &Materials::shipped()).expect("a boat");
        let longer = stock(&model, Effort { moves: 300 }, SEED, &mut |_, _| true);
        let best = list.bettered_by(&longer);
        for (b, own) in best.sheets.iter().zip(&list.sheets) {
            assert!(!own.layout.is_better_than(&b.layout, &own.problem));
        }
        assert_eq!(best.bettered_by(&list), best, "the other way round nothing is gained");
    }
}
