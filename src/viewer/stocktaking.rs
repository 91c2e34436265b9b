//! What she is cut from, counted behind the window while one looks: a first layout at once,
//! then better ones, until it is stopped, a part is moved by hand, or she changes.

use std::sync::Arc;

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy::winit::EventLoopProxyWrapper;

use crate::model::Model;
use crate::model::stock::{ByHand, SEED, SheetKind, StockList, stock};
use crate::stock::nest::{Effort, Progress};
use crate::viewer::derive::Derived;
use crate::viewer::frame_order::Stage;
use crate::viewer::search::{self, Search};
use crate::viewer::state::{Question, UiState};
use crate::words::stock::part_name;

/// How thoroughly it is searched, one after the other.
const PASSES: [Effort; 3] = [Effort::NONE, Effort::QUICK, Effort::THOROUGH];

/// What is asked of the layouts.
#[derive(Message, Debug, Clone, PartialEq)]
pub enum Ask {
    /// No further search: the best so far stays.
    Stop,
    /// Search once more, from another beginning.
    SearchOn,
    /// Lay a part down.
    Lay(ByHand),
    /// Take the last part that was laid by hand back to where it was.
    TakeBack,
}

/// What is told of a list again and again, found once.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Told {
    /// Names of the parts: by kind, by sheet, in the order in which they are placed.
    pub names: Vec<Vec<Vec<String>>>,
    /// The largest piece that is left of any sheet of a kind, mm².
    pub largest: Vec<Option<f64>>,
}

impl Told {
    fn of(list: &StockList) -> Told {
        let names_on = |kind: &SheetKind, sheet: usize| -> Vec<String> {
            let placed = &kind.layout.sheets[sheet].placed;
            let lying = list.lying(kind, sheet);
            placed.iter().zip(&lying).map(|(p, l)| part_name(list, kind, p.part, l)).collect()
        };
        let names = |kind: &SheetKind| {
            (0..kind.layout.sheets.len()).map(|sheet| names_on(kind, sheet)).collect()
        };
        let largest = |kind: &SheetKind| {
            let left =
                kind.layout.sheets.iter().filter_map(|s| kind.left_over(s).into_iter().next());
            left.map(|o| o.area).reduce(f64::max)
        };
        Told {
            names: list.sheets.iter().map(names).collect(),
            largest: list.sheets.iter().map(largest).collect(),
        }
    }
}

/// How far a search is.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Searched {
    /// The kind of sheet in hand.
    pub sheet: String,
    /// Of this pass over that kind, 0 to 1.
    pub share: f32,
    /// It is the pass that gives the first layout.
    pub first: bool,
}

impl search::Told for Searched {
    /// Better layouts come with the end of a pass, which wakes the window by itself.
    fn found_since(&self, _: &Self) -> bool {
        false
    }
}

/// A boat and what she is cut from, as she was counted.
#[derive(Debug, Clone)]
pub struct Before {
    /// The boat.
    pub model: Arc<Model>,
    /// Her list.
    pub list: Arc<StockList>,
}

/// The newest list, and what is known of the search for a better one.
#[derive(Resource, Debug)]
pub struct Stocktaking {
    /// The newest list.
    pub list: Option<Arc<StockList>>,
    /// Which model it was counted for, as [`Derived::count`] counts them.
    pub of: u64,
    /// Her as she was counted before she was changed: shown beside what she is now.
    pub was: Option<Before>,
    /// The model that the newest list is of.
    model: Option<Arc<Model>>,
    /// Which boat that is, as [`UiState::boat`] counts them.
    boat: u64,
    /// What is told of it.
    pub told: Told,
    /// Counts lists, for those who follow them.
    pub changes: u64,
    /// How far the search is that goes on.
    pub search: Option<Searched>,
    /// Lists before parts were moved by hand, the last one last.
    before: Vec<Arc<StockList>>,
    /// Passes that are done.
    done: usize,
    /// Passes that there are to be.
    of_passes: usize,
    seed: u64,
    stopped: bool,
}

impl Default for Stocktaking {
    fn default() -> Self {
        Stocktaking::of_passes(PASSES.len())
    }
}

impl Stocktaking {
    /// With so many passes at most: with one it rests at the first layout.
    pub fn of_passes(of_passes: usize) -> Stocktaking {
        Stocktaking {
            list: None,
            of: 0,
            was: None,
            model: None,
            boat: 0,
            told: Told::default(),
            changes: 0,
            search: None,
            before: Vec::new(),
            done: 0,
            of_passes,
            seed: SEED,
            stopped: false,
        }
    }

    /// The list of this model; `None` while it is not counted yet.
    pub fn of_model(&self, count: u64) -> Option<&Arc<StockList>> {
        self.list.as_ref().filter(|_| self.of == count)
    }

    /// Whether a part that was moved by hand can be taken back.
    pub fn by_hand(&self) -> bool {
        !self.before.is_empty()
    }

    /// Whether there is nothing left to search for unless it is asked for.
    pub fn at_rest(&self) -> bool {
        self.stopped || self.done >= self.of_passes
    }

    /// This boat is in hand: with another one she is not compared.
    pub fn take_in_hand(&mut self, boat: u64) {
        if self.boat != boat {
            (self.boat, self.model, self.was) = (boat, None, None);
        }
    }

    /// Takes a list of a model: the first, or one that a longer search found.
    pub fn take(&mut self, list: StockList, model: &Arc<Model>, count: u64) {
        let better = match self.of_model(count) {
            Some(own) => own.bettered_by(&list),
            None => {
                self.before.clear();
                let before = self.model.take().zip(self.list.take());
                self.was = before.map(|(model, list)| Before { model, list });
                list
            }
        };
        if self.list.as_deref() != Some(&better) || self.of != count {
            self.put(Arc::new(better));
        }
        self.of = count;
        self.model = Some(model.clone());
    }

    /// Does what is asked.
    pub fn answer(&mut self, ask: &Ask) {
        match ask {
            Ask::Stop => self.stopped = true,
            Ask::SearchOn => {
                self.seed += 1;
                self.done = self.of_passes - 1;
                self.stopped = false;
            }
            Ask::Lay(by_hand) => {
                let laid = self.list.as_ref().and_then(|l| l.laid_down(by_hand));
                // Pushed back to where it lay, nothing was done.
                if let Some((laid, own)) = laid.zip(self.list.clone())
                    && laid.sheets != own.sheets
                {
                    self.before.push(own);
                    self.put(Arc::new(laid));
                    // What was laid by hand is not laid anew.
                    self.stopped = true;
                }
            }
            Ask::TakeBack => {
                if let Some(list) = self.before.pop() {
                    self.put(list);
                }
            }
        }
    }

    fn put(&mut self, list: Arc<StockList>) {
        self.told = Told::of(&list);
        self.list = Some(list);
        self.changes += 1;
    }

    /// Begins anew for another model.
    fn begin(&mut self) {
        (self.done, self.seed, self.stopped) = (0, SEED, false);
    }
}

#[derive(Resource, Default)]
struct Running(Option<Search<Searched, StockList>>);

/// Counts while Stock is asked.
#[derive(Debug)]
pub struct StocktakingPlugin;

impl Plugin for StocktakingPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Stocktaking>()
            .init_resource::<Running>()
            .add_message::<Ask>()
            .add_systems(Update, (answer, follow).chain().after(Stage::Derive));
    }
}

fn answer(mut asks: MessageReader<Ask>, mut taking: ResMut<Stocktaking>) {
    for ask in asks.read() {
        taking.answer(ask);
    }
}

/// Starts, takes and ends searches. One that is no longer looked at is stopped, and what it
/// found is kept.
fn follow(
    state: Res<UiState>,
    derived: Res<Derived>,
    mut taking: ResMut<Stocktaking>,
    mut running: ResMut<Running>,
    mut redraw: MessageWriter<RequestRedraw>,
    wake: Option<Res<EventLoopProxyWrapper>>,
) {
    if taking.boat != state.boat {
        taking.take_in_hand(state.boat);
    }
    let looked_at = state.question == Question::Stock && !state.dialogs.first_page;
    if let Some(search) = &running.0 {
        let stale = search.count != derived.count;
        // The first layout is waited for: it takes no longer than stopping it.
        if stale || taking.stopped || !looked_at && taking.done > 0 {
            search.stop();
        }
        let told = search.told();
        // Drawn in this frame: nothing settles after it that would ask for more of them.
        if told.is_some() && taking.search != told {
            taking.bypass_change_detection().search = told;
        }
        let Some(list) = search.ended() else {
            return;
        };
        // The next one begins in the next frame.
        redraw.write(RequestRedraw);
        let (count, by_hand) = (search.count, taking.by_hand());
        let mine = by_hand && taking.of == count;
        if let Some(model) = derived.model.as_ref().filter(|_| !stale && !mine) {
            taking.take(list, model, count);
        }
        taking.done += 1;
        taking.search = None;
        running.0 = None;
        return;
    }
    let Some(model) = derived.model.as_ref().filter(|_| looked_at) else {
        return;
    };
    if taking.of != derived.count || taking.list.is_none() {
        if taking.done > 0 {
            taking.begin();
        }
    } else if taking.at_rest() {
        return;
    }
    let effort = PASSES[taking.done.min(PASSES.len() - 1)];
    let first = Searched { first: taking.done == 0, ..default() };
    let (model, seed, begun) = (model.clone(), taking.seed, first.clone());
    let work = move |tell: &mut dyn FnMut(Searched) -> bool| {
        let mut on = |sheet: &str, p: &Progress| {
            let share = p.moves as f32 / p.of.max(1) as f32;
            tell(Searched { sheet: sheet.into(), share, ..first.clone() })
        };
        stock(&model, effort, seed, &mut on)
    };
    running.0 = Some(Search::begin(derived.count, begun, wake.as_deref(), work));
    redraw.write(RequestRedraw);
}
