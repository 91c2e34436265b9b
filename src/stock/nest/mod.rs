//! Parts laid on sheets: as few sheets as can be, then as cheap, then with the largest piece
//! left over.
//!
//! [`first_layout`] gives a layout at once, [`nest`] goes on from there for as long as it is let:
//!
//! 1. Large parts first, each as near to the sheet's near end as it goes, in hollows of others
//!    too (`first`); boxes on shelves where those do better (`shelf`).
//! 2. Better sets of sheets (`fewer`): the parts of a sheet that is to go are thrown among the
//!    others, and what overlaps is separated (`separate`).
//! 3. The sheet with most left is made shorter, and what overlaps is separated (`compress`).
//!
//! The search grows each part by half a saw cut, smooths and simplifies it on the safe side
//! (`form`), and judges overlaps by discs (`poles`). None of that decides: a layout is given out
//! only if [`wrongs`] finds nothing in it, which works on the true outlines.
//!
//! One [`Problem`] is one kind and thickness of sheet in whatever sizes; several are several
//! problems. Same problem, seed and effort, same layout: nothing runs beside anything else, and
//! no clock is read. A caller that has seen enough says so through the callback, which is called
//! every few tens of milliseconds with the best so far.
//!
//! Lengths mm, areas mm², angles radians anticlockwise; a sheet's x runs along its length.
//!
//! ```
//! use chinewright::geom::P2;
//! use chinewright::stock::nest::{Effort, Hand, Part, Problem, Sheet, Supply, Turning, nest};
//!
//! let knee = Part {
//!     name: "knee".into(),
//!     outline: vec![P2::new(0.0, 0.0), P2::new(300.0, 0.0), P2::new(0.0, 200.0)],
//!     count: 4,
//!     hand: Hand::Either,
//!     turning: Turning::Quarters,
//!     grain: None,
//! };
//! let problem = Problem {
//!     parts: vec![knee],
//!     sheets: vec![Sheet::rectangle("offcut", 700.0, 420.0, Supply::OnHand(1))],
//!     kerf: 3.0,
//! };
//! let layout = nest(&problem, Effort::QUICK, 1, &mut |_| true).expect("a sound problem");
//! assert!(layout.unplaced.is_empty() && layout.sheets[0].placed.len() == 4);
//! ```

mod bench;
mod blanks;
mod bound;
mod by_hand;
mod chance;
mod check;
mod compress;
mod cuts;
mod fewer;
mod first;
mod form;
mod layout;
mod offcuts;
mod poles;
mod problem;
mod search;
mod separate;
mod shelf;
mod state;

pub use blanks::Blanks;
pub use bound::{Bound, Excess, RestsOn};
pub use by_hand::{Clash, InHand, Other};
pub use check::{Wrong, wrongs};
pub use cuts::{Cut, CutKind, cuts};
pub use layout::{Layout, Placed, Reason, SheetLayout, Unplaced};
pub use offcuts::{Keep, Offcut, offcuts};
pub use problem::{
    Attitude, BadProblem, Hand, MOST_COPIES, Part, Problem, Sheet, Supply, Turning, WIDEST_KERF_MM,
};
pub use search::{Progress, Stage};

use bench::{Bench, Item};
use chance::Chance;
use poles::Discs;
use search::{Search, layout_of, without_empty};
use state::State;

/// How long to search.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Parts moved at most. A move takes a millisecond or two for parts of some tens of corners.
    pub moves: usize,
}

impl Effort {
    /// The layout made at once and nothing more.
    pub const NONE: Effort = Effort { moves: 0 };
    /// Some seconds.
    pub const QUICK: Effort = Effort { moves: 2_000 };
    /// Half a minute or so, for a layout that will be cut.
    pub const THOROUGH: Effort = Effort { moves: 30_000 };
}

/// A layout at once: for the 60 parts of a skiff well under a second.
///
/// # Errors
/// Whatever [`Problem::faults`] finds. Parts that do not fit are no error: they are in
/// [`Layout::unplaced`] with the reason.
pub fn first_layout(problem: &Problem, seed: u64) -> Result<Layout, Vec<BadProblem>> {
    nest(problem, Effort::NONE, seed, &mut |_| true)
}

/// The best layout found. `tell` is called after every round of moves with how far it is and the
/// best so far, and stops the search by returning `false`.
///
/// # Errors
/// As [`first_layout`].
pub fn nest(
    problem: &Problem,
    effort: Effort,
    seed: u64,
    tell: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Layout, Vec<BadProblem>> {
    nest_with(problem, effort, seed, &mut Blanks::default(), tell)
}

/// The same with outlines that are ready from other problems.
///
/// # Errors
/// As [`first_layout`].
pub fn nest_with(
    problem: &Problem,
    effort: Effort,
    seed: u64,
    blanks: &mut Blanks,
    tell: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Layout, Vec<BadProblem>> {
    let faults = problem.faults();
    if !faults.is_empty() {
        return Err(faults);
    }
    // How deep parts overlap is asked by the search alone.
    let discs = if effort.moves == 0 { Discs::Few } else { Discs::All };
    let bench = Bench::new(problem, blanks, discs);
    let mut chance = Chance::new(seed);
    let bound = bound::bound(&bench);
    let (layout, state) = begin(&bench, &mut chance, bound);
    let mut search = Search::new(&bench, chance, layout, state, effort.moves, tell);
    let mut round = 1;
    while !search.is_over() {
        let before = search.moves;
        search.fewer_sheets(round);
        search.larger_offcut(LARGER_FAILURES * round);
        round += 1;
        if search.moves == before {
            break; // nothing left to try
        }
    }
    Ok(search.best)
}

/// Failures in a row, at the smallest cut, after which a round is over.
const LARGER_FAILURES: usize = 4;

/// The better one of the two layouts made at once. A part that does not pass the check is lifted
/// again and counts as unplaced, so that the search can find it a place.
fn begin(bench: &Bench, chance: &mut Chance, bound: Bound) -> (Layout, State) {
    let checked = |mut state: State| {
        loop {
            state = without_empty(bench, state);
            let layout = layout_of(bench, &state, bound.clone());
            let found = wrongs(bench.problem, &layout);
            let faulty = found.iter().find_map(|w| w.placed(&layout));
            let Some(placed) = faulty else { return found.is_empty().then_some((layout, state)) };
            let of = |i: &Item| (i.part, i.copy) == (placed.part, placed.copy);
            state.lift(bench.items.iter().position(of)?);
        }
    };
    let made = [first::first(bench, chance), shelf::shelves(bench)].into_iter().filter_map(checked);
    let best = made.reduce(|a, b| {
        let better = b.0.score(bench.problem).beats(&a.0.score(bench.problem));
        if better { b } else { a }
    });
    best.unwrap_or_else(|| {
        let state = State::empty(bench, &[]);
        (layout_of(bench, &state, bound.clone()), state)
    })
}
