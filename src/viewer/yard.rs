//! The cheapest boat of what the yard has, looked for behind the window when it is asked for.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use bevy::prelude::*;
use bevy::tasks::futures::check_ready;
use bevy::tasks::{IoTaskPool, Task};
use bevy::window::RequestRedraw;

use crate::hull::CheckedHull;
use crate::material::Materials;
use crate::model::stock::yard::{Found, How, NotListed, Progress, choose};
use crate::viewer::derive::Derived;
use crate::viewer::frame_order::Stage;
use crate::viewer::stocktaking::Ask;

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

/// A search that goes on.
struct Search {
    task: Task<Outcome>,
    stop: Arc<AtomicBool>,
    told: Arc<Mutex<Progress>>,
    count: u64,
}

#[derive(Resource, Default)]
struct Running(Option<Search>);

/// Looks for it.
#[derive(Debug)]
pub struct YardPlugin;

impl Plugin for YardPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Yard>()
            .init_resource::<Running>()
            .add_message::<Ask>()
            .add_systems(Update, (begin_or_stop, follow).chain().after(Stage::Derive));
    }
}

fn begin_or_stop(
    mut asks: MessageReader<Ask>,
    derived: Res<Derived>,
    mut yard: ResMut<Yard>,
    mut running: ResMut<Running>,
) {
    for ask in asks.read() {
        match (ask, &running.0) {
            (Ask::StopChoosing, Some(search)) => search.stop.store(true, Ordering::Relaxed),
            (Ask::Choose, None) => {
                let hull =
                    derived.model.as_ref().and_then(|m| CheckedHull::of(m.hull.clone()).ok());
                if let Some(hull) = hull {
                    yard.search = Some(Progress::default());
                    running.0 = Some(begin(hull, derived.count));
                }
            }
            _ => {}
        }
    }
}

fn begin(hull: CheckedHull, count: u64) -> Search {
    let told = Arc::new(Mutex::new(Progress::default()));
    let stop = Arc::new(AtomicBool::new(false));
    let (tell, halt) = (told.clone(), stop.clone());
    let task = IoTaskPool::get().spawn(async move {
        choose(&hull, &Materials::shipped(), How::default(), &mut |p| {
            if let Ok(mut told) = tell.lock() {
                told.clone_from(p);
            }
            !halt.load(Ordering::Relaxed)
        })
    });
    Search { task, stop, told, count }
}

/// Tells how far it is, and takes what it found. A search for a boat that has changed since is
/// stopped.
fn follow(
    derived: Res<Derived>,
    mut yard: ResMut<Yard>,
    mut running: ResMut<Running>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let Some(search) = &mut running.bypass_change_detection().0 else {
        return;
    };
    redraw.write(RequestRedraw);
    let stale = search.count != derived.count;
    if stale {
        search.stop.store(true, Ordering::Relaxed);
    }
    let told = search.told.lock().map(|t| t.clone()).unwrap_or_default();
    if yard.search.as_ref() != Some(&told) {
        yard.search = Some(told);
    }
    let Some(outcome) = check_ready(&mut search.task) else {
        return;
    };
    if !stale {
        yard.of = search.count;
        yard.outcome = Some(Arc::new(outcome));
    }
    yard.search = None;
    running.0 = None;
}
