//! Drawings to files. Each exporter sees a drawing and nothing else, and gives the same
//! bytes for the same drawing.

mod block;
pub mod dxf;
mod labels;
pub mod pdf;
pub mod svg;
pub mod tiling;

pub use block::room_below;

use super::{Drawing, Shape};
use tiling::Pages;

/// A format of files.
#[derive(Debug, Clone, Copy)]
pub struct Format {
    /// Ending of its files.
    pub ending: &'static str,
    /// Whether it is cut up into pages, for which a drawing may be laid out of its own.
    pub paged: bool,
    /// Writes a drawing on such pages; one that is not paged takes no notice of them.
    pub write: fn(&Drawing, Pages) -> Result<Vec<u8>, ExportError>,
}

/// Every format, in the order in which a drawing's files are written.
pub const FORMATS: [Format; 3] = [
    Format { ending: "dxf", paged: false, write: |d, _| dxf::write(d) },
    Format { ending: "svg", paged: false, write: |d, _| svg::write(d).map(String::into_bytes) },
    Format { ending: "pdf", paged: true, write: pdf::write },
];

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

/// No coordinate of a drawing is larger (mm): the whole boat at full size takes a hundred
/// thousandth of it, and every format writes it exactly.
const FARTHEST_MM: f64 = 1e9;

/// That every shape is somewhere: what is no number, or lies past [`FARTHEST_MM`], no reader
/// takes.
///
/// # Errors
/// Names the drawing, the layer and the place.
fn somewhere(drawing: &Drawing, format: &'static str) -> Result<(), ExportError> {
    let good = |all: &[f64]| all.iter().all(|c| c.abs() <= FARTHEST_MM);
    for item in &drawing.items {
        let lost = match &item.shape {
            Shape::Polyline { points, .. } => points.iter().find(|p| !good(&[p.x, p.y])),
            Shape::Text { at, height, angle, .. } => {
                (!good(&[at.x, at.y, *height, *angle])).then_some(at)
            }
        };
        if let Some(p) = lost {
            return Err(ExportError {
                format,
                title: drawing.title.clone(),
                cause: format!(
                    "its lines run off to nowhere ({:e}, {:e}) on the layer {}: see the findings",
                    p.x,
                    p.y,
                    drawing.layer(item.layer).name
                ),
            });
        }
    }
    Ok(())
}
