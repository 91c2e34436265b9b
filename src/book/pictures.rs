//! Pictures for the book: which pieces are shown, and from where.

use super::Of;
use crate::drawing::compose::Line;
use crate::drawing::picture::{Eye, Shown, Stance, picture};
use crate::part::PartId;
use crate::typeset::Figure;

/// What of the hull is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seen {
    /// The planking, the outside members, the ends.
    Planked,
    /// Frames, members and ends without the skin.
    Framed,
}

/// From ahead of her, to starboard and above.
const ABOVE: (f64, f64) = (0.75, 0.42);

/// The eye of pictures of the hull.
pub(super) fn eye() -> Eye {
    Eye::at(ABOVE.0, ABOVE.1)
}

/// The pieces that a picture of the hull shows.
pub(super) fn pieces(of: &Of, seen: Seen) -> Shown {
    let shown = |id: &PartId| match id {
        PartId::Panel(_) => seen == Seen::Planked,
        PartId::Member(_) | PartId::Transom(_) | PartId::Frame(_) | PartId::Stem(_) => true,
        _ => false,
    };
    let all = of.model.parts.all().iter().map(|p| p.id);
    all.filter(shown).map(|id| (id, Line::Outline)).collect()
}

/// The hull as she floats; `None` where nothing of her is a solid.
pub(super) fn hull(of: &Of, seen: Seen, caption: &str) -> Option<Figure> {
    let drawing = picture(of.model, &pieces(of, seen), Stance::Upright, &eye());
    figure(drawing, 90.0, caption)
}

/// What stands on the jig once `done` is up, the last of it drawn stronger.
pub(super) fn on_jig(of: &Of, done: &[PartId], now: &[PartId], caption: &str) -> Option<Figure> {
    let before = done.iter().filter(|id| !now.contains(id)).map(|id| (*id, Line::Check));
    let shown: Shown = before.chain(now.iter().map(|id| (*id, Line::Outline))).collect();
    let eye = Eye::at(ABOVE.0, 0.5);
    figure(picture(of.model, &shown, Stance::OnJig, &eye), 62.0, caption)
}

fn figure(drawing: crate::drawing::Drawing, height: f64, caption: &str) -> Option<Figure> {
    drawing.bounds()?;
    Some(Figure {
        drawing,
        height,
        caption: caption.into(),
        seen: format!("Picture: {caption}, lines only."),
    })
}
