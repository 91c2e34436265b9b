//! The model, computed behind the window: newest wins, the last good one stays.

use std::sync::Arc;
use std::time::{Duration, Instant};

use bevy::prelude::*;
use bevy::tasks::futures::check_ready;
use bevy::tasks::{AsyncComputeTaskPool, Task};
use bevy::window::RequestRedraw;

use crate::hull::CheckedHull;
use crate::material::Materials;
use crate::model::{Model, derive_after, derive_checked};
use crate::viewer::frame_order::Stage;
use crate::viewer::session::Session;

/// The last good model and what is known of the document since.
#[derive(Resource, Default, Debug)]
pub struct Derived {
    /// The last good model.
    pub model: Option<Arc<Model>>,
    /// Revision of the document that it was computed from.
    pub revision: u64,
    /// Counts models, for those who follow it.
    pub count: u64,
    /// The model of the shape to compare with, once it is known.
    pub ghost: Option<Arc<Model>>,
}

impl Derived {
    /// Whether the document has moved on since.
    pub fn old(&self, session: &Session) -> bool {
        self.revision != session.revision()
    }
}

#[derive(Resource, Default)]
struct Running(Option<(u64, Task<Model>, Instant)>);

/// The hull that the ghost's model is of, and its computation.
#[derive(Resource, Default)]
struct Ghost {
    of: Option<CheckedHull>,
    task: Option<Task<Model>>,
}

#[derive(Resource)]
struct Tables(Arc<Materials>);

/// Starts a computation when the document changes and takes its result.
#[derive(Debug)]
pub struct DerivePlugin;

impl Plugin for DerivePlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Derived>()
            .init_resource::<Running>()
            .init_resource::<Ghost>()
            .insert_resource(Tables(Arc::new(Materials::shipped())))
            .add_message::<RequestRedraw>()
            .add_systems(Update, (start, take, ghost).chain().in_set(Stage::Derive));
    }
}

/// How long a frame waits for a model that it began: most are there by then, and are drawn
/// in the frame in which the document changed. What takes longer runs on behind.
const WAITED: Duration = Duration::from_millis(12);

/// Starts on the newest document as soon as nothing is running; what changed meanwhile is
/// computed next, in its newest state only.
fn start(
    session: Res<Session>,
    derived: Res<Derived>,
    tables: Res<Tables>,
    mut running: ResMut<Running>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if running.0.is_some() {
        redraw.write(RequestRedraw);
        return;
    }
    if derived.revision == session.revision() {
        return;
    }
    let (hull, tables, revision) = (session.hull().clone(), tables.0.clone(), session.revision());
    let before = derived.model.clone();
    let task = AsyncComputeTaskPool::get()
        .spawn(async move { derive_after(before.as_deref(), &hull, &tables).0 });
    running.0 = Some((revision, task, Instant::now()));
    redraw.write(RequestRedraw);
}

/// Computes the shape to compare with, when it is another; not while the hull itself is
/// being computed.
fn ghost(
    session: Res<Session>,
    tables: Res<Tables>,
    running: Res<Running>,
    mut ghost: ResMut<Ghost>,
    mut derived: ResMut<Derived>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if let Some(task) = &mut ghost.task {
        redraw.write(RequestRedraw);
        if let Some(result) = check_ready(task) {
            derived.ghost = Some(Arc::new(result));
            ghost.task = None;
        }
        return;
    }
    let wanted = session.ghost();
    if running.0.is_some() || ghost.of.as_ref() == Some(wanted) {
        return;
    }
    ghost.of = Some(wanted.clone());
    // What is in hand is often what it is compared with.
    if let Some(model) = derived.model.as_ref().filter(|m| *wanted == m.hull) {
        let model = model.clone();
        derived.ghost = Some(model);
        return;
    }
    let (hull, tables) = (wanted.clone(), tables.0.clone());
    ghost.task =
        Some(AsyncComputeTaskPool::get().spawn(async move { derive_checked(&hull, &tables) }));
    redraw.write(RequestRedraw);
}

fn take(mut running: ResMut<Running>, mut derived: ResMut<Derived>) {
    let Some((revision, task, begun)) = running.bypass_change_detection().0.as_mut() else {
        return;
    };
    let model = loop {
        match check_ready(task) {
            Some(model) => break model,
            None if begun.elapsed() >= WAITED => return,
            None => std::thread::yield_now(),
        }
    };
    derived.revision = *revision;
    derived.model = Some(Arc::new(model));
    derived.count += 1;
    running.0 = None;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::edit::Edit;
    use crate::hull::starters::STARTERS;
    use crate::viewer::core::CorePlugin;
    use crate::viewer::session::Command;

    fn settle(app: &mut App) {
        for _ in 0..2000 {
            app.update();
            let world = app.world();
            if !world.resource::<Derived>().old(world.resource::<Session>()) {
                return;
            }
            std::thread::sleep(std::time::Duration::from_millis(1));
        }
        panic!("the model was never computed");
    }

    #[test]
    fn a_command_changes_the_document_and_the_model_follows() {
        let mut app = App::new();
        app.add_plugins(MinimalPlugins)
            .insert_resource(Session::new(STARTERS[0].checked(), None))
            .add_plugins(CorePlugin);
        settle(&mut app);
        let first = app.world().resource::<Derived>().model.clone().expect("a model");
        app.world_mut().write_message(Command::Edit(Edit::SetSheet {
            sheet: "marine ply 12".into(),
            thickness_mm: 11.8,
        }));
        app.update();
        settle(&mut app);
        let derived = app.world().resource::<Derived>();
        let second = derived.model.clone().expect("a model");
        assert_eq!(derived.count, 2, "computed once for one change");
        assert_ne!(first.panels[0].thickness, second.panels[0].thickness);
        assert_eq!(second.panels[0].thickness, 11.8);
    }
}
