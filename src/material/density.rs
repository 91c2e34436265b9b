//! How heavy what a piece is cut from is, and where that is from.

use super::{Covering, Materials};
use crate::part::CutFrom;

/// Said where the document gives the density.
const FOAM: &str = "the foam's own density in the document";

impl Materials {
    /// Density (kg/m³) and its source: a sheet's or a wood's of the tables, or that of other
    /// plywood or lumber; lumber is its dry mass with the water in it. `None` for what is put
    /// together from several.
    pub fn density_of(&self, stock: &CutFrom) -> Option<(f64, &str)> {
        let other = |of| {
            let row = self.coverage(of);
            (row.value, row.source.as_str())
        };
        Some(match stock {
            CutFrom::Sheet { sheet, .. } => self
                .sheet(sheet)
                .map_or(other(Covering::OtherPlywood), |s| (s.density_kg_m3, &s.source)),
            CutFrom::Ply { .. } => other(Covering::OtherPlywood),
            CutFrom::Lumber { species, moisture_pct, .. } => {
                let (dry, source) = self.wood(species).map_or(other(Covering::OtherLumber), |w| {
                    (1000.0 * w.specific_gravity, &w.source)
                });
                (dry * (1.0 + moisture_pct / 100.0), source)
            }
            CutFrom::Foam { density } => (*density, FOAM),
            CutFrom::Pieces => return None,
        })
    }
}
