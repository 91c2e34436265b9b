//! The cheapest boat of what the yard has, looked for behind the window when it is asked for.

use std::sync::Arc;

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy::winit::EventLoopProxyWrapper;

use crate::hull::CheckedHull;
use crate::material::Materials;
use crate::model::stock::yard::{Found, How, NotListed, Progress, choose};
use crate::viewer::derive::Derived;
use crate::viewer::frame_order::Stage;
use crate::viewer::search::{Search, Told};

/// What is asked of the search.
#[derive(Message, Debug, Clone, Copy, PartialEq, Eq)]
pub enum AskYard {
    /// Look for the cheapest boat of what the yard has.
    Choose,
    /// End the search: the cheapest so far stays.
    Stop,
}

/// What a search came to: the boats, or what the lists lack.
type Outcome = Result<Found, NotListed>;

/// The last search, and how far one is that goes on.
#[derive(Resource, Debug, Default)]
pub struct Yard {
    /// What was found.
    pub outcome: Option<Arc<Outcome>>,
    /// Which model it was found for, as [`Derived::count`] counts them.
    pub of: u64,
    /// How far the search is that goes on.
    pub search: Option<Progress>,
}

impl Told for Progress {
    fn found_since(&self, shown: &Self) -> bool {
        self.best != shown.best
    }
}

#[derive(Resource, Default)]
struct Running(Option<Search<Progress, Outcome>>);

/// Looks for it.
#[derive(Debug)]
pub struct YardPlugin;

impl Plugin for YardPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Yard>()
            .init_resource::<Running>()
            .add_message::<AskYard>()
            .add_systems(Update, (begin_or_stop, follow).chain().after(Stage::Derive));
    }
}

fn begin_or_stop(
    mut asks: MessageReader<AskYard>,
    derived: Res<Derived>,
    mut yard: ResMut<Yard>,
    mut running: ResMut<Running>,
    mut redraw: MessageWriter<RequestRedraw>,
    wake: Option<Res<EventLoopProxyWrapper>>,
) {
    for ask in asks.read() {
        match (ask, &running.0) {
            (AskYard::Stop, Some(search)) => search.stop(),
            (AskYard::Choose, None) => {
                let hull =
                    derived.model.as_ref().and_then(|m| CheckedHull::of(m.hull.clone()).ok());
                if let Some(hull) = hull {
                    yard.search = Some(Progress::default());
                    running.0 = Some(begin(hull, derived.count, wake.as_deref()));
                    redraw.write(RequestRedraw);
                }
            }
            _ => {}
        }
    }
}

fn begin(
    hull: CheckedHull,
    count: u64,
    wake: Option<&EventLoopProxyWrapper>,
) -> Search<Progress, Outcome> {
    let work = move |tell: &mut dyn FnMut(Progress) -> bool| {
        choose(&hull, &Materials::shipped(), How::default(), &mut |p| tell(p.clone()))
    };
    Search::begin(count, Progress::default(), wake, work)
}

/// Tells how far it is, and takes what it found. A search for a boat that has changed since is
/// stopped.
fn follow(derived: Res<Derived>, mut yard: ResMut<Yard>, mut running: ResMut<Running>) {
    let Some(search) = &running.0 else {
        return;
    };
    let stale = search.count != derived.count;
    if stale {
        search.stop();
    }
    let told = search.told();
    // Drawn in this frame: nothing settles after it that would ask for more of them.
    if told.is_some() && yard.search != told {
        yard.bypass_change_detection().search = told;
    }
    let Some(outcome) = search.ended() else {
        return;
    };
    if !stale {
        yard.of = search.count;
        yard.outcome = Some(Arc::new(outcome));
    }
    yard.search = None;
    running.0 = None;
}
