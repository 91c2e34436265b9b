//! The desk, tested without a window.

use crate::hull::{CheckedHull, Hull};
use crate::viewer::core::CorePlugin;
use crate::viewer::system::*;

/// The window's systems without a window.
fn desk(hull: CheckedHull, file: Option<PathBuf>) -> App {
    let mut app = App::new();
    app.add_plugins(MinimalPlugins)
        .insert_resource(Session::new(hull, file))
        .add_plugins((CorePlugin, SystemPlugin));
    app.update();
    app
}

fn turn(app: &mut App, times: usize) {
    (0..times).for_each(|_| app.update());
}

fn narrower() -> Command {
    use crate::hull::Dimension;
    let edit = crate::hull::edit::Edit::SetDimension { dimension: Dimension::Beam, value: 1300.0 };
    Command::Edit(edit)
}

#[test]
fn a_dropped_file_is_opened_unless_work_is_unsaved() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("dropped.ron");
    let other = crate::hull::starters::STARTERS[2].hull();
    crate::files::save_hull(&path, &other).expect("a file");
    let drop = |app: &mut App| {
        app.world_mut().write_message(FileDragAndDrop::DroppedFile {
            window: Entity::PLACEHOLDER,
            path_buf: path.clone(),
        });
        turn(app, 3);
    };
    let mut app = desk(crate::hull::starters::STARTERS[0].checked(), None);
    drop(&mut app);
    assert_eq!(app.world().resource::<Session>().hull(), &other);
    let mut app = desk(crate::hull::starters::STARTERS[0].checked(), None);
    app.world_mut().write_message(narrower());
    turn(&mut app, 2);
    drop(&mut app);
    let (session, state) = (app.world().resource::<Session>(), app.world().resource::<UiState>());
    assert_eq!(session.hull().name, crate::hull::starters::demonstration().name);
    assert_eq!(state.dialogs.guard, Some(Next::Open(path.clone())), "asked about first");
}

#[test]
fn the_window_s_own_button_closes_only_what_is_saved() {
    let close = |app: &mut App| {
        app.world_mut().write_message(WindowCloseRequested { window: Entity::PLACEHOLDER });
        turn(app, 3);
        !app.world().resource::<Messages<AppExit>>().is_empty()
    };
    let mut app = desk(crate::hull::starters::STARTERS[0].checked(), None);
    assert!(close(&mut app));
    let mut app = desk(crate::hull::starters::STARTERS[0].checked(), None);
    app.world_mut().write_message(narrower());
    turn(&mut app, 2);
    assert!(!close(&mut app));
    assert_eq!(app.world().resource::<UiState>().dialogs.guard, Some(Next::Close));
}

#[test]
fn what_was_to_follow_a_save_follows_it_and_not_a_failed_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut app = desk(crate::hull::starters::STARTERS[0].checked(), None);
    app.world_mut().write_message(narrower());
    turn(&mut app, 2);
    app.world_mut().resource_mut::<UiState>().dialogs.then = Some(Next::Close);
    let nowhere = folder.path().join("no/such/folder/boat.ron");
    app.world_mut().write_message(Command::Save(Some(nowhere)));
    turn(&mut app, 3);
    assert_eq!(app.world().resource::<UiState>().dialogs.then, None, "it failed");
    assert!(app.world().resource::<Messages<AppExit>>().is_empty());
    app.world_mut().resource_mut::<UiState>().dialogs.then = Some(Next::Close);
    app.world_mut().write_message(Command::Save(Some(folder.path().join("boat.ron"))));
    turn(&mut app, 3);
    assert!(!app.world().resource::<Messages<AppExit>>().is_empty());
}

#[test]
fn the_pack_is_written_behind_the_window_and_told_of() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut app = desk(crate::hull::starters::STARTERS[0].checked(), None);
    let pack = Command::Pack(folder.path().to_path_buf(), Paper::Letter);
    app.world_mut().write_message(pack);
    app.update();
    let share = app.world().resource::<Busy>().job.as_ref().expect("it goes on").share();
    assert!((0.0..=1.0).contains(&share));
    for _ in 0..15_000 {
        app.update();
        if app.world().resource::<Busy>().job.is_none() {
            break;
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    let session = app.world().resource::<Session>();
    let told = session.notices().last().expect("it says so");
    assert!(!told.wrong && told.text.contains("files written"), "{told:?}");
    assert!(folder.path().join("patterns/side-letter.pdf").is_file());
}

#[test]
fn a_boat_s_file_is_named_after_her() {
    let named =
        |name: &str| stem(&Hull { name: name.into(), ..crate::hull::starters::demonstration() });
    assert_eq!(named("Reed Warden 2"), "reed-warden-2");
    assert_eq!(named("../etc"), "etc");
    assert_eq!(named("///"), "boat");
}
