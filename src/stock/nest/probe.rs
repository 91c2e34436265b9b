//! Scratch: a way in to the overlap test, for measuring it. Never committed.
#![allow(missing_docs, clippy::unwrap_used)]

use std::cell::{Cell, RefCell};
use std::time::Instant;

use super::bench::Bench;
use super::blanks::Blanks;
use super::check::{gap, inside};
use super::form::Blank;
use super::layout::Layout;
use super::poles::Discs;
use super::problem::Problem;
use super::separate::Separator;
use super::state::{Place, State};
use crate::geom::{P2, V2};

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    pub table: usize,
    pub form: usize,
    pub x: f64,
    pub y: f64,
}

impl From<Place> for Spot {
    fn from(p: Place) -> Spot {
        Spot { table: p.table, form: p.form, x: p.at.x, y: p.at.y }
    }
}

impl From<Spot> for Place {
    fn from(p: Spot) -> Place {
        Place { table: p.table, form: p.form, at: P2::new(p.x, p.y) }
    }
}

#[derive(Debug, Clone)]
pub enum Event {
    Begin(Vec<usize>, Vec<Vec<(usize, Spot)>>),
    Open(usize),
    Close,
    Put(usize, Spot),
    Free(usize, Spot, bool),
    /// Item, where, most, answer, pairs asked, pairs met.
    Cost(usize, Spot, f64, Option<f64>, usize, usize),
    Overlaps,
    Weights(Vec<f64>),
}

/// Calls, nanoseconds.
#[derive(Debug, Clone, Copy, Default)]
pub struct Spent {
    pub free: (u64, u64),
    pub cost: (u64, u64),
    pub overlaps: (u64, u64),
}

thread_local! {
    static MODE: Cell<u8> = const { Cell::new(0) };
    static SPENT: Cell<Spent> = const { Cell::new(Spent { free: (0, 0), cost: (0, 0), overlaps: (0, 0) }) };
    static LOG: RefCell<Vec<Event>> = const { RefCell::new(Vec::new()) };
}

/// 0 as always, 1 with timers, 2 with a log.
pub fn mode(m: u8) {
    MODE.set(m);
    SPENT.set(Spent::default());
    LOG.with_borrow_mut(Vec::clear);
}

pub fn spent() -> Spent {
    SPENT.get()
}

pub fn log() -> Vec<Event> {
    LOG.take()
}

pub(super) fn is_on(m: u8) -> bool {
    MODE.get() == m
}

pub(super) fn add(which: u8, from: Instant) {
    let ns = from.elapsed().as_nanos() as u64;
    let mut s = SPENT.get();
    let t = match which {
        0 => &mut s.free,
        1 => &mut s.cost,
        _ => &mut s.overlaps,
    };
    t.0 += 1;
    t.1 += ns;
    SPENT.set(s);
}

pub(super) fn note(event: impl FnOnce() -> Event) {
    if is_on(2) {
        LOG.with_borrow_mut(|l| l.push(event()));
    }
}

pub(super) fn begun(state: &State) -> Event {
    let sheets = state.tables.iter().map(|t| t.sheet).collect();
    let on = state.on.iter().map(|o| {
        o.iter().map(|i| (*i, Spot::from(state.places[*i].unwrap()))).collect()
    });
    Event::Begin(sheets, on.collect())
}

use crate::processor;

pub struct Probe<'a> {
    bench: &'a Bench<'a>,
    work: Separator<'a, 'a>,
}

#[derive(Debug, Clone, Copy, Default)]
pub struct Replayed {
    pub seconds: f64,
    pub differ: usize,
}

impl<'a> Probe<'a> {
    pub fn new(problem: &'a Problem, layout: &Layout) -> Probe<'a> {
        let mut blanks = Blanks::default();
        let bench: &'a Bench<'a> =
            Box::leak(Box::new(Bench::new(problem, &mut blanks, Discs::All)));
        let sheets: Vec<usize> = layout.sheets.iter().map(|s| s.sheet).collect();
        let mut state = State::empty(bench, &sheets);
        for (table, sheet) in layout.sheets.iter().enumerate() {
            for p in &sheet.placed {
                let same = |i: &super::bench::Item| i.part == p.part && i.copy == p.copy;
                let item = bench.items.iter().position(same).unwrap();
                let near = |f: &&usize| bench.forms[**f].attitude.is_near(p.attitude);
                let form = *bench.items[item].forms[sheet.sheet].iter().find(near).unwrap();
                let at = P2::from(
                    p.shift + bench.forms[form].centre - bench.boards[sheet.sheet].origin.coords,
                );
                state.put(item, Place { table, form, at });
            }
        }
        Probe { bench, work: Separator::new(bench, state) }
    }

    pub fn items(&self) -> usize {
        self.bench.items.len()
    }

    pub fn forms(&self) -> usize {
        self.bench.forms.len()
    }

    pub fn part_of(&self, item: usize) -> usize {
        self.bench.items[item].part
    }

    pub fn forms_of(&self, item: usize, table: usize) -> &[usize] {
        &self.bench.items[item].forms[self.work.state.tables[table].sheet]
    }

    pub fn tables(&self) -> Vec<usize> {
        self.work.state.tables.iter().map(|t| t.sheet).collect()
    }

    pub fn board(&self, sheet: usize) -> (f64, f64) {
        assert!(self.bench.boards[sheet].missing.is_empty());
        (self.bench.boards[sheet].size.x, self.bench.boards[sheet].size.y)
    }

    pub fn origin(&self, sheet: usize) -> (f64, f64) {
        (self.bench.boards[sheet].origin.x, self.bench.boards[sheet].origin.y)
    }

    pub fn spot(&self, item: usize) -> Option<Spot> {
        self.work.state.places[item].map(Spot::from)
    }

    pub fn ring(&self, form: usize) -> Vec<(f64, f64)> {
        self.bench.forms[form].ring().iter().map(|p| (p.x, p.y)).collect()
    }

    pub fn discs(&self, form: usize) -> usize {
        self.bench.forms[form].discs()
    }

    pub fn half(&self, form: usize) -> (f64, f64) {
        let h = self.bench.forms[form].half;
        (h.x, h.y)
    }

    pub fn attitude(&self, form: usize) -> (bool, f64) {
        let a = self.bench.forms[form].attitude;
        (a.mirrored, a.angle)
    }

    /// What is added to a form's place to get the part's origin on its sheet.
    pub fn shift(&self, sheet: usize, s: Spot) -> (f64, f64) {
        let c = self.bench.boards[sheet].origin.coords - self.bench.forms[s.form].centre;
        (s.x + c.x, s.y + c.y)
    }

    pub fn span(&self, s: Spot) -> ((f64, f64), (f64, f64)) {
        let (a, b) = self.work.state.span(self.bench, s.table, s.form);
        ((a.x, a.y), (b.x, b.y))
    }

    pub fn over_edge(&self, s: Spot) -> bool {
        let (a, b) = self.work.state.span(self.bench, s.table, s.form);
        let hair = 1e-9;
        s.x < a.x - hair || s.x > b.x + hair || s.y < a.y - hair || s.y > b.y + hair
    }

    /// The first layout's yes or no, the edge as well.
    pub fn collides(&mut self, item: usize, s: Spot) -> bool {
        self.over_edge(s) || !self.work.is_free_inner(item, s.into())
    }

    /// The search's depth, and whether it is over the edge.
    pub fn depth(&mut self, item: usize, s: Spot) -> (bool, f64) {
        let over = self.over_edge(s);
        (over, self.work.cost_inner(item, s.into(), f64::INFINITY).0.unwrap())
    }

    /// How many it meets, the edge as one more.
    pub fn met(&mut self, item: usize, s: Spot) -> usize {
        usize::from(self.over_edge(s)) + self.work.meets_only(item, s.into(), usize::MAX)
    }

    pub fn depth_of(&self, a: usize, b: usize, d: (f64, f64)) -> f64 {
        self.bench.forms[a].depth(&self.bench.forms[b], V2::new(d.0, d.1))
    }

    /// By the true outlines, as layouts are checked; the least of what is spare, mm.
    pub fn truly_collides(&self, item: usize, s: Spot) -> bool {
        let (bench, state) = (self.bench, &self.work.state);
        let sheet = state.tables[s.table].sheet;
        let own = bench.placed(item, sheet, s.form, P2::new(s.x, s.y));
        let stock = &bench.problem.sheets[sheet];
        assert!(stock.is_rectangle());
        let kerf = bench.problem.kerf;
        let ((low, size), (a, b)) = (stock.extent(), own.extent());
        let spare = (a - low).inf(&(low + size - b)).min();
        if spare < stock.edge_margin - 1e-6 {
            return true;
        }
        debug_assert!(inside(bench.problem, sheet, &own) >= 0.0);
        state.on[s.table].iter().filter(|o| **o != item).any(|o| {
            let there = state.places[*o].unwrap();
            let other = bench.placed(*o, sheet, there.form, there.at);
            gap(&own, &other, kerf).is_some_and(|g| g < kerf - 1e-6)
        })
    }

    /// By the true outlines: how much it has to spare of kerf and margin, at most 5, mm.
    pub fn spare(&self, item: usize, s: Spot) -> f64 {
        let (bench, state) = (self.bench, &self.work.state);
        let sheet = state.tables[s.table].sheet;
        let own = bench.placed(item, sheet, s.form, P2::new(s.x, s.y));
        let stock = &bench.problem.sheets[sheet];
        let kerf = bench.problem.kerf;
        let ((low, size), (a, b)) = (stock.extent(), own.extent());
        let edge = (a - low).inf(&(low + size - b)).min() - stock.edge_margin;
        let others = state.on[s.table].iter().filter(|o| **o != item).filter_map(|o| {
            let there = state.places[*o].unwrap();
            let other = bench.placed(*o, sheet, there.form, there.at);
            gap(&own, &other, kerf + 5.0).map(|g| g - kerf)
        });
        others.fold(edge.min(5.0), f64::min)
    }

    /// By the grown rings in full precision: with others, and over the box of the board.
    pub fn rings_collide(&self, item: usize, s: Spot) -> (bool, bool) {
        use geo::Intersects;
        let (bench, state) = (self.bench, &self.work.state);
        let size = bench.boards[state.tables[s.table].sheet].size;
        let at = |p: &Place| -> geo::Polygon<f64> {
            let ring: Vec<P2> =
                bench.forms[p.form].ring().iter().map(|q| q + p.at.coords).collect();
            super::check::polygon(&ring)
        };
        let own = at(&s.into());
        let over = own.exterior().0.iter().any(|c| {
            c.x < 0.0 || c.y < 0.0 || c.x > size.x || c.y > size.y
        });
        let met = state.on[s.table].iter().filter(|o| **o != item).any(|o| {
            let p = state.places[*o].unwrap();
            let reach = bench.forms[s.form].half + bench.forms[p.form].half;
            let d = (p.at - P2::new(s.x, s.y)).abs();
            d.x < reach.x + 3.0 && d.y < reach.y + 3.0 && own.intersects(&at(&p))
        });
        (met, over)
    }

    /// Makes a part ready as the search does: seconds for growing and discs, seconds for one form.
    pub fn ready(&self, part: usize) -> (f64, f64, usize) {
        let p = &self.bench.problem.parts[part];
        let from = processor();
        let blank = Blank::grown(&p.outline, 0.5 * self.bench.problem.kerf, Discs::All);
        let grown = processor() - from;
        let from = processor();
        let form = blank.turned(super::problem::Attitude { mirrored: true, angle: 0.3 });
        (grown, processor() - from, form.ring().len())
    }

    /// The same questions again, by ours: 0 all, 1 without depths.
    pub fn replay(&self, events: &[Event], how: u8) -> Replayed {
        let mut out = Replayed::default();
        let mut work = Separator::new(self.bench, State::empty(self.bench, &[]));
        let from = processor();
        for e in events {
            match e {
                Event::Begin(sheets, on) => {
                    let mut state = State::empty(self.bench, sheets);
                    for (item, spot) in on.iter().flatten() {
                        state.put(*item, (*spot).into());
                    }
                    work = Separator::new(self.bench, state);
                }
                Event::Open(sheet) => {
                    let fresh = State::empty(self.bench, &[*sheet]);
                    work.state.tables.extend(fresh.tables);
                    work.state.on.push(Vec::new());
                }
                Event::Close => {
                    work.state.tables.pop();
                    work.state.on.pop();
                }
                Event::Put(item, spot) => work.state.put(*item, (*spot).into()),
                Event::Free(item, spot, was) => {
                    out.differ += usize::from(work.is_free_inner(*item, (*spot).into()) != *was);
                }
                Event::Cost(item, spot, most, was, asked, met) => {
                    if how == 0 {
                        let now = work.cost_inner(*item, (*spot).into(), *most).0;
                        out.differ += usize::from(now != *was);
                    } else {
                        let now = work.meets_only(*item, (*spot).into(), *asked);
                        out.differ += usize::from(now != *met);
                    }
                }
                Event::Overlaps => {
                    if how == 0 {
                        out.differ += usize::from(work.overlaps_inner().len() > 1_000_000);
                    } else {
                        out.differ += usize::from(work.overlaps_only() > 1_000_000);
                    }
                }
                Event::Weights(w) => work.weights.clone_from(w),
            }
        }
        out.seconds = processor() - from;
        out
    }
}
