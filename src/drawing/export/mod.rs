//! Drawings to files. Each exporter sees a drawing and nothing else, and gives the same
//! bytes for the same drawing.

mod block;
pub mod dxf;
mod labels;
pub mod pdf;
pub mod svg;
pub mod tiling;

pub use block::room_below;

/// Why a drawing could not be written.
#[derive(Debug, thiserror::Error)]
#[error("cannot write the {format} of {title:?}: {cause}")]
pub struct ExportError {
    /// The format.
    pub format: &'static str,
    /// The drawing.
    pub title: String,
    /// What the library says.
    pub cause: String,
}
