//! The order of work in a frame.

use bevy::prelude::SystemSet;

/// The order of work in a frame.
#[derive(SystemSet, Debug, Clone, PartialEq, Eq, Hash)]
pub enum Stage {
    /// Commands change the document.
    Apply,
    /// The model is computed behind the window.
    Derive,
    /// Meshes follow the model.
    Sync,
    /// Camera and gizmos.
    View,
}
