//! Keeping the stage in step: only what changed is built anew.

use std::sync::Arc;

use bevy::light::NotShadowCaster;
use bevy::prelude::*;

use crate::flat::unfold::FloorPlace;
use crate::geom::P3;
use crate::model::Model;
use crate::solid::{built, floor_places, panel};
use crate::viewer::camera::{StageBox, View, hull_box, world_from_hull};
use crate::viewer::derive::Derived;
use crate::viewer::prefs::Prefs;
use crate::viewer::scene::floor::Floor;
use crate::viewer::scene::stance::{afloat_box, turned_box};
use crate::viewer::scene::water::level;
use crate::viewer::scene::wood::{Over, Wood, WoodLook, WoodMaterial};
use crate::viewer::scene::{Part, floor, mesh, spawn_floor, spawn_part};
use crate::viewer::state::{
    BonesPart, FrameId, Look, MemberId, PanelId, PartId, Question, UiState,
};
use crate::viewer::theme::{Finish, Theme, paint_colour, stage_ground, wood_colour};

/// What the meshes on the stage were last built from.
#[derive(Default)]
pub(crate) struct Built {
    model: Option<Arc<Model>>,
    opened: f32,
    woodwork: bool,
    turned: bool,
    case: Option<usize>,
    places: Vec<FloorPlace>,
}

/// Rebuilds meshes of the parts that changed; entities are kept as long as their piece
/// exists.
pub(crate) fn parts(
    derived: Res<Derived>,
    state: Res<UiState>,
    prefs: Res<Prefs>,
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut woods: ResMut<Assets<WoodMaterial>>,
    existing: Query<(Entity, &Part, &Mesh3d)>,
    mut stage_box: ResMut<StageBox>,
    mut view: Option<ResMut<View>>,
    mut built: Local<Built>,
) {
    let Some(model) = &derived.model else {
        return;
    };
    let same_model = built.model.as_ref().is_some_and(|m| Arc::ptr_eq(m, model));
    let opened = if state.unfolds() { state.display.opened } else { 0.0 };
    let (woodwork, turned) = (shows_woodwork(&state), state.turned());
    let afloat = model.afloat.as_deref().filter(|_| state.question == Question::Afloat);
    let case = afloat.map(|a| state.case_of(a));
    if same_model
        && built.opened == opened
        && built.woodwork == woodwork
        && built.turned == turned
        && built.case == case
    {
        return;
    }
    let places = floor_places(model, floor_height(model));
    let before = built.model.as_deref();
    let reopened = built.opened != opened;
    let wanted: Vec<PartId> = pieces(model, woodwork, turned);
    for piece in &wanted {
        let here = existing.iter().find(|(_, p, _)| p.0 == *piece);
        let stale = match piece {
            PartId::Panel(PanelId(i)) => {
                let moved = opened > 0.0 && built.places.get(*i) != places.get(*i);
                reopened || moved || before.is_none_or(|b| b.panels.get(*i) != model.panels.get(*i))
            }
            // A keelson ends where the line above it comes too near; an outside member lies on
            // the sheet.
            PartId::Member(MemberId(i)) => before.is_none_or(|b| {
                b.members.get(*i) != model.members.get(*i)
                    || b.hull.planking != model.hull.planking
                    || b.lines.lines.get(1) != model.lines.lines.get(1)
            }),
            PartId::Transom(_) => before.is_none_or(|b| {
                b.woodwork.transom != model.woodwork.transom
                    || b.woodwork.bow_transom != model.woodwork.bow_transom
                    || b.woodwork.knee != model.woodwork.knee
                    || b.hull.motor != model.hull.motor
            }),
            PartId::Frame(FrameId(i)) | PartId::Spall(FrameId(i)) => before.is_none_or(|b| {
                b.woodwork.frames.get(*i) != model.woodwork.frames.get(*i)
                    || b.hull.framing != model.hull.framing
            }),
            PartId::Stem(_) => before.is_none_or(|b| {
                b.woodwork.stem != model.woodwork.stem
                    || b.woodwork.sternpost != model.woodwork.sternpost
            }),
            PartId::Ladder | PartId::Legs => before.is_none_or(|b| {
                b.woodwork.strongback != model.woodwork.strongback
                    || b.hull.strongback != model.hull.strongback
            }),
            other => before.is_none_or(|b| b.parts.get(*other) != model.parts.get(*other)),
        };
        if !stale && here.is_some() {
            continue;
        }
        let mesh = build(model, *piece, opened, &places);
        match here {
            Some((_, _, handle)) => {
                if let Some(mut old) = meshes.get_mut(&handle.0) {
                    *old = mesh;
                }
            }
            None => {
                let part = mesh::PartMesh { piece: *piece, mesh };
                spawn_part(&mut commands, &mut meshes, &mut woods, part, prefs.theme());
            }
        }
    }
    for (entity, part, _) in &existing {
        if !wanted.contains(&part.0) {
            commands.entity(entity).despawn();
        }
    }
    let all = match case {
        Some(_) => afloat_box(&state, model),
        None if turned => turned_box(model),
        None => everything(model, opened, &places),
    };
    stage_box.set_if_neq(StageBox(Some(all)));
    if (reopened || turned != built.turned || case != built.case)
        && let Some(view) = &mut view
    {
        // All of it stays in sight while the sheets go down, she is turned over or she heels.
        view.fit = true;
    }
    *built = Built { model: Some(model.clone()), opened, woodwork, turned, case, places };
}

/// Height of the floor, mm.
fn floor_height(model: &Model) -> f64 {
    model.lines.extent(|p| p.z).0 - 1000.0 * f64::from(floor::GAP)
}

/// Whether frames and stem are on the stage: where they are asked about, or under no skin.
fn shows_woodwork(state: &UiState) -> bool {
    matches!(state.question, Question::Bones | Question::Setup) || state.look() == Look::Framed
}

/// Every piece of a hull; frames, stem and jig where they are on the stage.
fn pieces(model: &Model, woodwork: bool, turned: bool) -> Vec<PartId> {
    let on_stage = |id: &PartId| match id {
        PartId::Panel(_) | PartId::Member(_) | PartId::Transom(_) => true,
        PartId::Frame(_) | PartId::Stem(_) => woodwork,
        PartId::Spall(_) | PartId::Ladder | PartId::Legs => turned,
        _ => false,
    };
    model.parts.all().iter().map(|p| p.id).filter(on_stage).collect()
}

fn build(model: &Model, piece: PartId, opened: f32, places: &[FloorPlace]) -> Mesh {
    mesh::mesh(&match piece {
        PartId::Panel(PanelId(i)) => {
            panel(&model.panels[i], f64::from(opened), places.get(i).copied())
        }
        _ => built(model, piece).unwrap_or_default(),
    })
}

/// The box of the hull and of the sheets on their way to the floor.
fn everything(model: &Model, opened: f32, places: &[FloorPlace]) -> (Vec3, Vec3) {
    let (mut low, mut high) = hull_box(model);
    if opened > 0.0 {
        let share = opened.min(1.0);
        for (p, place) in model.panels.iter().zip(places) {
            for r in &p.flat.rulings {
                for q in [r.flat_lower, r.flat_upper] {
                    for side in [1.0, -1.0] {
                        let on_floor = P3::new(place.x + q.x, side * (place.y + q.y), place.z);
                        let w = world_from_hull(on_floor);
                        low = low.lerp(low.min(w), share);
                        high = high.lerp(high.max(w), share);
                    }
                }
            }
        }
    }
    (low, high)
}

/// The floor follows the hull's shape and the theme; there is none where there is water.
pub(crate) fn ground(
    derived: Res<Derived>,
    state: Res<UiState>,
    prefs: Res<Prefs>,
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut standard: ResMut<Assets<StandardMaterial>>,
    mut floors: Query<(&Mesh3d, &mut Visibility), With<Floor>>,
    mut laid: Local<Option<(u64, Theme, floor::Stands)>>,
) {
    let Some(model) = derived.model.as_deref() else {
        return;
    };
    let hidden = level(&state, model).is_some() || state.look() == Look::Lines;
    for (_, mut visibility) in &mut floors {
        visibility.set_if_neq(if hidden { Visibility::Hidden } else { Visibility::Visible });
    }
    let whole = state.unfolds() && state.display.opened > 0.0;
    let stands = floor::Stands {
        cut: state.display.section.filter(|_| !whole).map(|x| (x / 1000.0) as f32),
        half: state.display.half && !state.turned(),
    };
    let key = (derived.count, prefs.theme(), stands);
    if *laid == Some(key) {
        return;
    }
    *laid = Some(key);
    match floors.iter().next() {
        Some((handle, _)) => {
            if let Some(mut mesh) = meshes.get_mut(&handle.0) {
                *mesh = floor::floor(model, prefs.theme(), stands);
            }
        }
        None => {
            spawn_floor(&mut commands, &mut meshes, &mut standard, model, prefs.theme());
            // Laid for the whole boat; what is cut away is seen to in the next frame.
            *laid = Some((derived.count, prefs.theme(), floor::Stands::default()));
        }
    }
}

/// How each piece looks: the question's map, what is pointed at, paint, cuts, the theme.
pub(crate) fn looks(
    state: Res<UiState>,
    prefs: Res<Prefs>,
    mut commands: Commands,
    derived: Res<Derived>,
    mut parts: Query<(Entity, &Part, &MeshMaterial3d<WoodMaterial>, &mut Visibility)>,
    mut woods: ResMut<Assets<WoodMaterial>>,
    mut clear: ResMut<ClearColor>,
    mut shown: Local<Vec<(Entity, WoodLook, Theme)>>,
) {
    let theme = prefs.theme();
    let ground = stage_ground(theme);
    if clear.0 != ground {
        clear.0 = ground;
    }
    shown.retain(|k| parts.contains(k.0));
    let up = derived.model.as_deref().and_then(|m| put_up(&state, m));
    let water = derived.model.as_deref().and_then(|m| level(&state, m));
    for (entity, part, material, mut visibility) in &mut parts {
        let there = is_shown(&state, part.0) && up.as_ref().is_none_or(|u| u.contains(&part.0));
        let seen = if there { Visibility::Visible } else { Visibility::Hidden };
        visibility.set_if_neq(seen);
        let look = WoodLook {
            water: water.map(|z| (z / 1000.0) as f32),
            ..look_of(&state, prefs.now.finish, theme, part.0)
        };
        let key = (entity, look, theme);
        if shown.contains(&key) {
            continue;
        }
        if let Some(mut material) = woods.get_mut(&material.0) {
            material.base.base_color = wood_colour(part.0, theme);
            // The hollow between two faces is seen only where something is cut away.
            material.base.cull_mode = if look.opened() { None } else { Some(wgpu::Face::Back) };
            material.extension = Wood::new(look);
        }
        // What is cut away casts no shadow either.
        if look.opened() {
            commands.entity(entity).insert(NotShadowCaster);
        } else {
            commands.entity(entity).remove::<NotShadowCaster>();
        }
        shown.retain(|k| k.0 != entity);
        shown.push(key);
    }
}

/// What is put up so far of a boat on her jig; `None` if all of it is.
pub fn put_up(state: &UiState, model: &Model) -> Option<Vec<PartId>> {
    let done = state.display.built.filter(|_| state.turned())?;
    let up = model.parts.all().iter().filter(|p| p.step.is_some_and(|step| step < done));
    Some(up.map(|p| p.id.assembly()).collect())
}

/// Whether a piece is on the stage at all.
pub fn is_shown(state: &UiState, piece: PartId) -> bool {
    match state.look() {
        Look::Planked => true,
        Look::Framed => !matches!(piece, PartId::Panel(_)),
        Look::Lines => false,
    }
}

/// How a piece looks while a question is in hand, out of the water.
pub fn look_of(state: &UiState, finish: Finish, theme: Theme, piece: PartId) -> WoodLook {
    let mapped = match (state.question, piece) {
        (Question::Skin, PartId::Panel(_)) => state.display.map,
        (Question::Bones, PartId::Member(_)) => {
            state.display.map && state.selection.bones == BonesPart::Lumber
        }
        _ => false,
    };
    let skin = matches!(piece, PartId::Panel(_) | PartId::Transom(_));
    let upright = !state.turned();
    let over = match piece {
        _ if mapped => Over::Map,
        PartId::Panel(_) if state.display.stripes => Over::Stripes,
        _ => Over::Plain,
    };
    let whole = state.unfolds() && state.display.opened > 0.0;
    WoodLook {
        over,
        grain: 1.0,
        lit: state.lit() == Some(piece),
        dark: theme == Theme::Dark,
        paint: paint_colour(finish, theme).filter(|_| skin),
        cut: state.display.section.filter(|_| !whole).map(|x| (x / 1000.0) as f32),
        half: state.display.half && upright,
        water: None,
    }
}
