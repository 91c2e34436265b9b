//! The window without a screen: document, preferences and model, and the order of a frame.

use bevy::prelude::*;

use crate::viewer::frame_order::Stage;
use crate::viewer::{derive, prefs, session};

/// Everything of the window that needs no renderer: what tests run.
#[derive(Debug)]
pub struct CorePlugin;

impl Plugin for CorePlugin {
    fn build(&self, app: &mut App) {
        app.configure_sets(Update, (Stage::Apply, Stage::Derive, Stage::Sync, Stage::View).chain());
        app.add_plugins((session::SessionPlugin, prefs::PrefsPlugin, derive::DerivePlugin));
    }
}
