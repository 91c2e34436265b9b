//! What is left of a sheet once its straight cuts are made and its parts sawn out.

use super::SheetKind;
use crate::geom::P2;
use crate::stock::nest::{CutKind, Keep, Offcut, SheetLayout, cuts, offcuts};

impl SheetKind {
    /// The pieces of a sheet that are worth keeping, the largest first: what no part takes,
    /// parted where a straight cut runs through it, each of them one piece.
    pub fn left_over(&self, laid: &SheetLayout) -> Vec<Offcut> {
        let keep = Keep::default();
        let straight: Vec<Vec<P2>> = cuts(&self.problem, laid, keep)
            .into_iter()
            .filter(|c| c.kind != CutKind::Outline)
            .map(|c| c.path)
            .collect();
        offcuts(&self.problem, laid, keep, &straight)
    }
}
