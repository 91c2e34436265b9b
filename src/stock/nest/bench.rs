//! Everything that the search asks of a problem, worked out once.

use super::blanks::Blanks;
use super::form::{Blank, Form};
use super::layout::{Placed, Reason, SheetLayout, Unplaced};
use super::poles::Discs;
use super::problem::{Attitude, Hand, Part, Problem, Sheet, Supply, Turning, attitudes};
use crate::geom::polyline::{area, bounds};
use crate::geom::region::Region;
use crate::geom::ring::edges;
use crate::geom::{P2, V2};

/// A copy to be placed.
#[derive(Debug, Clone)]
pub(super) struct Item {
    pub(super) part: usize,
    pub(super) copy: usize,
    /// For each kind of sheet, the forms in which it fits there.
    pub(super) forms: Vec<Vec<usize>>,
    /// Area of its convex hull, by which the large ones come first.
    pub(super) size: f64,
    /// Its own area with half a saw cut around it, mm².
    pub(super) area: f64,
}

/// The room on a kind of sheet: a box from the origin, less what is fixed in it.
#[derive(Debug, Clone)]
pub(super) struct Board {
    /// Length and width of the box, mm.
    pub(super) size: V2,
    /// Where its least corner lies on the sheet.
    pub(super) origin: P2,
    /// What is missing of the box, and where.
    pub(super) missing: Vec<(Form, P2)>,
    /// Area of the box less what is missing, mm².
    pub(super) area: f64,
}

/// A problem made ready.
#[derive(Debug)]
pub(super) struct Bench<'a> {
    pub(super) problem: &'a Problem,
    pub(super) forms: Vec<Form>,
    pub(super) items: Vec<Item>,
    pub(super) boards: Vec<Board>,
    /// What fits on no sheet.
    pub(super) unplaced: Vec<Unplaced>,
}

/// A form may be this much (mm) larger than the board's box and still fits: what it was grown by
/// for safety.
const FITS_MM: f64 = 0.05;

impl<'a> Bench<'a> {
    /// Makes a problem without faults ready, of outlines that are ready as far as there are any.
    pub(super) fn new(problem: &'a Problem, blanks: &mut Blanks, discs: Discs) -> Bench<'a> {
        let boards: Vec<Board> = problem.sheets.iter().map(|s| board(s, problem.kerf)).collect();
        let mut bench =
            Bench { problem, forms: Vec::new(), items: Vec::new(), boards, unplaced: Vec::new() };
        for index in 0..problem.parts.len() {
            bench.add(index, blanks, discs);
        }
        bench
    }

    fn add(&mut self, index: usize, blanks: &mut Blanks, discs: Discs) {
        let problem = self.problem;
        let part = &problem.parts[index];
        let ready = blanks.ready(&part.outline, 0.5 * self.problem.kerf, discs);
        let hands = hands(part);
        let mut made: Vec<(bool, Vec<Vec<usize>>)> = Vec::new();
        for mirrored in [false, true] {
            if hands.iter().any(|h| h.contains(&mirrored)) {
                made.push((mirrored, self.forms_of(part, &ready.blank, mirrored)));
            }
        }
        for (copy, allowed) in hands.iter().enumerate() {
            let mut forms: Vec<Vec<usize>> = vec![Vec::new(); self.boards.len()];
            for (_, by_sheet) in made.iter().filter(|(mirrored, _)| allowed.contains(mirrored)) {
                for (all, some) in forms.iter_mut().zip(by_sheet) {
                    all.extend(some);
                }
            }
            if forms.iter().all(Vec::is_empty) {
                let reason = self.reason(part);
                self.unplaced.push(Unplaced { part: index, copy, reason });
                continue;
            }
            let size = forms.iter().flatten().next().map_or(0.0, |f| self.forms[*f].convex_area);
            self.items.push(Item { part: index, copy, forms, size, area: ready.area });
        }
    }

    /// The forms of one hand that fit on each kind of sheet.
    fn forms_of(&mut self, part: &Part, blank: &Blank, mirrored: bool) -> Vec<Vec<usize>> {
        let mut by_grain: Vec<(Option<f64>, Vec<usize>)> = Vec::new();
        let mut out = Vec::new();
        for (sheet, board) in self.problem.sheets.iter().zip(&self.boards) {
            if sheet.supply == Supply::OnHand(0) {
                out.push(Vec::new());
                continue;
            }
            let grain = part.grain.and(sheet.grain);
            let known = by_grain.iter().position(|(g, _)| *g == grain).unwrap_or_else(|| {
                let first = self.forms.len();
                let turned = attitudes(part, grain, mirrored).into_iter().map(|a| blank.turned(a));
                self.forms.extend(turned);
                by_grain.push((grain, (first..self.forms.len()).collect()));
                by_grain.len() - 1
            });
            let fits = |f: &&usize| {
                let left = board.size - 2.0 * self.forms[**f].half;
                left.x >= -FITS_MM && left.y >= -FITS_MM
            };
            out.push(by_grain[known].1.iter().filter(fits).copied().collect());
        }
        out
    }

    /// Why a part fits nowhere.
    fn reason(&self, part: &Part) -> Reason {
        let over = |part: &Part| self.least_over(part);
        let Some((by, sheet)) = over(part) else { return Reason::NoSheet };
        if part.grain.is_some() {
            let any = Part { grain: None, turning: Turning::Quarters, ..part.clone() };
            if let Some((by, sheet)) = over(&any)
                && by.max() <= 0.0
            {
                return Reason::Grain { sheet: sheet.name.clone() };
            }
        }
        Reason::TooLarge { sheet: sheet.name.clone(), over_length: by.x, over_width: by.y }
    }

    /// By how much a part is too long and too wide for the sheet that it comes nearest to
    /// fitting on, mm.
    fn least_over(&self, part: &Part) -> Option<(V2, &Sheet)> {
        let mut least: Option<(V2, &Sheet)> = None;
        let there = self.problem.sheets.iter().filter(|s| s.supply != Supply::OnHand(0));
        for sheet in there {
            let room = sheet.extent().1.add_scalar(-2.0 * sheet.edge_margin);
            // Turned over, a part is as long and as wide.
            for attitude in attitudes(part, part.grain.and(sheet.grain), false) {
                let Some((low, high)) = bounds(part.outline.iter().map(|p| attitude.of(*p))) else {
                    continue;
                };
                let over = (high - low - room).sup(&V2::zeros());
                if least.is_none_or(|(by, _)| over.sum() < by.sum()) {
                    least = Some((over, sheet));
                }
            }
        }
        least
    }

    /// A form at a place of the board, as a placed part.
    pub(super) fn placed(&self, item: usize, sheet: usize, form: usize, at: P2) -> Placed {
        let (item, form) = (&self.items[item], &self.forms[form]);
        let shift = at.coords + self.boards[sheet].origin.coords - form.centre;
        Placed::new(self.problem, item.part, item.copy, form.attitude, shift)
    }

    /// The layout of one sheet.
    pub(super) fn sheet_layout(
        &self,
        sheet: usize,
        lying: impl Iterator<Item = (usize, usize, P2)>,
    ) -> SheetLayout {
        let placed = lying.map(|(item, form, at)| self.placed(item, sheet, form, at)).collect();
        SheetLayout { sheet, placed }
    }

    /// How many sheets of a kind can be had.
    pub(super) fn supply(&self, sheet: usize) -> usize {
        match self.problem.sheets[sheet].supply {
            Supply::OnHand(n) => n,
            Supply::Bought => self.items.len(),
        }
    }

    /// Kinds of sheets in the order in which they are opened: those on hand first, the smaller
    /// the sooner; then those bought, the cheaper for their area the sooner, without a price the
    /// larger.
    pub(super) fn order_of_sheets(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.boards.len()).collect();
        let key = |s: &usize| {
            let (sheet, area) = (&self.problem.sheets[*s], self.boards[*s].area);
            match (sheet.is_bought(), sheet.price) {
                (false, _) => (0, area),
                (true, Some(price)) => (1, price / area),
                (true, None) => (2, -area),
            }
        };
        order.sort_by(|a, b| {
            let (a, b) = (key(a), key(b));
            a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
        });
        order
    }
}

/// Which hands each copy of a part may have.
pub(super) fn hands(part: &Part) -> Vec<Vec<bool>> {
    let of = |copy: usize| match part.hand {
        Hand::AsDrawn => vec![false],
        Hand::Mirrored => vec![true],
        Hand::Either => vec![false, true],
        Hand::Pairs => vec![copy >= part.count.div_ceil(2)],
    };
    (0..part.count).map(of).collect()
}

/// The room on a sheet for forms that are grown by half a kerf: its edge moved in by the margin
/// less that half.
pub(super) fn board(sheet: &Sheet, kerf: f64) -> Board {
    let by = 0.5 * kerf - sheet.edge_margin;
    let (low, size) = sheet.extent();
    if sheet.is_rectangle() {
        let size = size.add_scalar(2.0 * by);
        let area = size.x.max(0.0) * size.y.max(0.0);
        return Board { size, origin: low.map(|c| c - by), missing: Vec::new(), area };
    }
    let room = Region::of(&sheet.outline).grown(by);
    let Some((low, high)) = bounds(room.rings().into_iter().flatten()) else {
        return Board { size: V2::zeros(), origin: low, missing: Vec::new(), area: 0.0 };
    };
    let size = high - low;
    let missing = in_halves(low, high)
        .into_iter()
        .flat_map(|half| Region::of(&half).minus(&room).rings())
        .filter(|ring| area(ring).abs() > 1.0)
        .map(|ring| {
            let as_it_lies = Attitude { mirrored: false, angle: 0.0 };
            let form = Blank::of(ring, Discs::All).turned(as_it_lies);
            let at = P2::from(form.centre - low.coords);
            (form, at)
        })
        .collect();
    Board { size, origin: low, missing, area: room.area() }
}

/// The left and right half of a box: what is missing around a sheet is no ring around it then.
fn in_halves(low: P2, high: P2) -> [Vec<P2>; 2] {
    let middle = 0.5 * (low.x + high.x);
    let of = |a: f64, b: f64| {
        vec![P2::new(a, low.y), P2::new(b, low.y), P2::new(b, high.y), P2::new(a, high.y)]
    };
    [of(low.x, middle), of(middle, high.x)]
}

/// The length of a ring's edges, mm.
pub(super) fn girth(ring: &[P2]) -> f64 {
    edges(ring).map(|(a, b)| (b - a).norm()).sum()
}
