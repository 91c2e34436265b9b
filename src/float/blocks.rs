//! Butt blocks behind the joints of panels, as scales know them.

use crate::geom::{P3, V3};
use crate::material::Materials;
use crate::part::{CutFrom, Part, PartId};

/// Butt blocks of a panel, all of them together.
#[derive(Debug, Clone, PartialEq)]
pub struct Blocks {
    /// The panel.
    pub panel: PartId,
    /// How many, both sides together.
    pub count: usize,
    /// Their area, mm².
    pub area: f64,
}

/// All blocks together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Together {
    /// How many.
    pub(super) count: usize,
    /// Their area, mm².
    pub(super) area: f64,
    /// kg.
    pub(super) mass: f64,
    /// Wood in them, mm³.
    pub(super) solid: f64,
    /// Their centre, as if each lay at its panel's middle, mm.
    pub(super) centre: P3,
    /// Where their density is from.
    pub(super) source: String,
}

impl Together {
    /// Blocks of these parts' sheets; `None` where they weigh nothing.
    pub(super) fn of(blocks: &[Blocks], parts: &[Part], materials: &Materials) -> Option<Together> {
        let mut out = Together {
            count: 0,
            area: 0.0,
            mass: 0.0,
            solid: 0.0,
            centre: P3::origin(),
            source: String::new(),
        };
        let mut moment = V3::zeros();
        for b in blocks {
            let panel = parts.iter().find(|p| p.id == b.panel);
            let Some((p, &CutFrom::Sheet { thickness, .. })) = panel.map(|p| (p, &p.cut_from))
            else {
                continue;
            };
            let (density, source) = materials.density_of(&p.cut_from).unwrap_or((0.0, ""));
            let own = b.area * thickness * density * 1e-9;
            out.count += b.count;
            out.area += b.area;
            out.solid += b.area * thickness;
            out.mass += own;
            out.source = source.into();
            moment += own * p.middle().coords;
        }
        out.centre = P3::from(moment / if out.mass > 0.0 { out.mass } else { return None });
        Some(out)
    }
}
