//! Where things stand that others keep clear of or point at, as of the last frame.

use bevy_egui::egui::{Context, Id, Rect};

/// Something that others ask for the place of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// The controls at the head of the stage.
    StageHead,
    /// The button that writes the pack.
    PackButton,
}

impl Place {
    fn id(self) -> Id {
        Id::new(("where it stands", self))
    }

    /// It stands here in this frame, points.
    pub fn keep(self, ctx: &Context, rect: Rect) {
        ctx.data_mut(|d| d.insert_temp(self.id(), rect));
    }

    /// Where it stood last, points; nowhere before it was shown.
    pub fn last(self, ctx: &Context) -> Rect {
        ctx.data(|d| d.get_temp(self.id())).unwrap_or(Rect::ZERO)
    }
}
