//! Where the strip's views lie: profile above plan on one x axis, the body plan beside them.

use bevy_egui::egui::{Pos2, Rect, vec2};

use crate::geom::P2;
use crate::hull::Duck;
use crate::viewer::paint2d::Placement;
use crate::viewer::state::StripView;

/// Room at the left for the views' names, points.
const LABELS: f32 = 56.0;
/// Room round the body plan, points.
const BESIDE: f32 = 24.0;

/// Both views on the screen.
#[derive(Debug, Clone, Copy)]
pub struct Layout {
    /// Where heights are drawn.
    pub profile: Placement,
    /// Where half-breadths are drawn.
    pub plan: Placement,
    /// The line between them, points.
    pub split: f32,
    /// Where her sections are drawn, seen from aft and from ahead, if there is room beside.
    pub body: Option<Placement>,
}

/// Lays out both views in `rect` for a hull of this length, height and half-breadth (mm).
pub fn layout(rect: Rect, length: f64, height: (f64, f64), half_breadth: f64) -> Layout {
    let room = rect.shrink2(vec2(8.0, 10.0));
    let tall = (height.1 - height.0 + half_breadth) as f32;
    let scale = ((room.width() - LABELS - 24.0) / length as f32)
        .min((room.height() - 36.0) / tall.max(1.0));
    // What is left beside is used for the body plan, if it goes in; or shared out.
    let spare = room.width() - LABELS - 24.0 - length as f32 * scale;
    let across = 2.0 * half_breadth as f32 * scale + BESIDE;
    let beside = spare >= across;
    let left = room.min.x + LABELS + if beside { 0.0 } else { 0.5 * (spare + 24.0) };
    let (h, b) = ((height.1 - height.0) as f32 * scale, half_breadth as f32 * scale);
    let spare = (room.height() - h - b - 12.0).max(0.0);
    let profile_base = room.min.y + 0.35 * spare + h;
    let split = profile_base + 0.15 * spare + 6.0;
    let plan_base = split + 0.15 * spare + 6.0 + b;
    let keel = room.center().y + 0.5 * h;
    let body = beside.then(|| Placement {
        origin: Pos2::new(room.max.x - 0.5 * across, keel + height.0 as f32 * scale),
        scale,
    });
    Layout {
        profile: Placement {
            origin: Pos2::new(left, profile_base + height.0 as f32 * scale),
            scale,
        },
        plan: Placement { origin: Pos2::new(left, plan_base), scale },
        split,
        body,
    }
}

impl Layout {
    /// The placement of a view.
    pub fn of(&self, view: StripView) -> Placement {
        match view {
            StripView::Profile => self.profile,
            StripView::Plan => self.plan,
        }
    }

    /// A duck in a view.
    pub fn duck(&self, view: StripView, d: &Duck) -> Pos2 {
        let p = match view {
            StripView::Profile => P2::new(d.x, d.z),
            StripView::Plan => P2::new(d.x, d.y),
        };
        self.of(view).place(p)
    }

    /// A duck brought to where the pointer is, in a view.
    pub fn brought(&self, view: StripView, duck: &Duck, at: Pos2) -> Duck {
        let p = self.of(view).point(at);
        match view {
            StripView::Profile => Duck { x: p.x, z: p.y, ..*duck },
            StripView::Plan => Duck { x: p.x, y: p.y, ..*duck },
        }
    }
}
