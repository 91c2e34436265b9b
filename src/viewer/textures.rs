//! The panels' letters reach the renderer in the frame that shows them.
//!
//! A letter that is shown for the first time changes the panels' texture. The engine tells the
//! renderer of a changed image in the frame after, and forgets to tell it where frames were
//! computed and not drawn: the words stood with letters missing until something else happened.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use bevy::asset::AssetEventSystems;
use bevy::prelude::*;
use bevy::render::{ExtractSchedule, RenderApp};
use bevy_egui::{EguiManagedTextures, EguiPostUpdateSet, EguiRenderOutput};

/// Frames that the renderer has taken over, counted by it.
#[derive(Resource, Debug, Clone, Default)]
struct TakenOver(Arc<AtomicU64>);

/// The textures were last changed after this many frames had been taken over.
#[derive(Resource, Debug, Default)]
struct Changed(Option<u64>);

/// Brings changed textures to the renderer.
#[derive(Debug)]
pub struct TexturesPlugin;

impl Plugin for TexturesPlugin {
    fn build(&self, app: &mut App) {
        let taken_over = TakenOver::default();
        app.insert_resource(taken_over.clone()).init_resource::<Changed>();
        app.configure_sets(
            PostUpdate,
            EguiPostUpdateSet::PostProcessOutput.before(AssetEventSystems),
        );
        app.add_systems(
            PostUpdate,
            (
                notice
                    .after(EguiPostUpdateSet::ProcessOutput)
                    .before(EguiPostUpdateSet::PostProcessOutput),
                tell_again.after(EguiPostUpdateSet::PostProcessOutput).before(AssetEventSystems),
            ),
        );
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            render.insert_resource(taken_over).add_systems(ExtractSchedule, count);
        }
    }
}

fn count(taken_over: Res<TakenOver>) {
    taken_over.0.fetch_add(1, Ordering::Relaxed);
}

fn notice(
    outputs: Query<&EguiRenderOutput>,
    taken_over: Res<TakenOver>,
    mut changed: ResMut<Changed>,
) {
    if outputs.iter().any(|o| !o.textures_delta.set.is_empty()) {
        changed.0 = Some(taken_over.0.load(Ordering::Relaxed));
    }
}

/// Says once more in every frame that the textures changed, until the renderer has taken one
/// over.
fn tell_again(
    textures: Res<EguiManagedTextures>,
    taken_over: Res<TakenOver>,
    mut changed: ResMut<Changed>,
    mut images: ResMut<Assets<Image>>,
) {
    let Some(then) = changed.0 else {
        return;
    };
    if taken_over.0.load(Ordering::Relaxed) > then {
        changed.0 = None;
        return;
    }
    for texture in textures.values() {
        if let Some(image) = images.get_mut(&texture.handle) {
            // Taking it as changed is what tells.
            image.into_inner();
        }
    }
}
