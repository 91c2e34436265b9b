//! A drawing in the text: how large it is, and what is painted of it.

use super::block::Figure;

/// Over which a figure stands free of the text, mm.
pub(super) const CLEAR: f64 = 3.0;

/// A figure's share of its drawing's size and the box it takes (mm), no wider than `room`; a
/// drawing that is smaller than its room is not made larger than twice itself.
pub(super) fn fitted(figure: &Figure, room: f64) -> Option<(f64, (f64, f64))> {
    let (low, high) = figure.drawing.bounds()?;
    let (w, h) = (high.x - low.x, high.y - low.y);
    if w <= 0.0 && h <= 0.0 {
        return None;
    }
    let scale = (room / w.max(1e-9)).min(figure.height / h.max(1e-9)).min(2.0);
    Some((scale, (w * scale, h * scale)))
}
