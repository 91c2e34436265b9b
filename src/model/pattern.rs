//! A panel's pattern: its finished outline, and whether anything may be cut by it.

use super::PanelModel;
use crate::flat::outline::{self, Past};
use crate::flat::sound::{Unsound, unsound};
use crate::geom::P2;

impl PanelModel {
    /// The edge that the panel has on the boat (mm, anticlockwise): with what its laps and
    /// posts add past its lines.
    pub fn finished_outline(&self) -> Vec<P2> {
        let past = Past {
            lower: &self.laps.lower.added,
            upper: &self.laps.upper.added,
            bow: &self.past_posts[0],
            stern: &self.past_posts[1],
        };
        outline::with_laps(&self.flat, self.full_width, past)
    }

    /// The edge that it is sawn along (mm): the finished one with `allowance` mm all round.
    pub fn cut_outline(&self, allowance: f64) -> Vec<P2> {
        outline::grown(&self.finished_outline(), allowance)
    }

    /// Why nothing may be cut by its pattern; `None` if it is sound.
    pub fn unsound(&self) -> Option<Unsound> {
        let on_lines = outline::of_flat(&self.flat, self.full_width);
        unsound(&self.flat, &[&on_lines, &self.finished_outline()])
    }
}
