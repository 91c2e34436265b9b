//! Wood and sheets: tables under `assets/` with a source beside each figure, and the
//! builder's own rows on top.

mod air;
mod coverage;
mod density;
mod ply;
mod sheet;
mod stores;
mod wood;

pub use air::equilibrium_moisture;
pub use coverage::{Coverage, Covering};
pub use ply::Stiffness;
pub use sheet::{Bendable, ClearRow, Quality, RadiusRow, Sheet, SheetTable};
pub use stores::{FastenerSize, Figure, Glue, Immersion, Measure, StoreRow, StoreTable};
pub use wood::{MPA_PER_PSI, SHEAR_IN_SAG, STIFFNESS_OVER_SHEAR, Strength, Wood, WoodKind};

/// The tables that a derivation reads.
#[derive(Debug, Clone, PartialEq)]
pub struct Materials {
    /// Species of lumber.
    pub woods: Vec<Wood>,
    /// Sheets and their least bending radii.
    pub sheets: SheetTable,
    /// Coverage and densities; every [`Covering`] has a row.
    coverage: Vec<Coverage>,
    /// What is bought that is not wood.
    pub stores: StoreTable,
}

impl Materials {
    /// The shipped tables.
    ///
    /// # Panics
    /// Never: a test reads the shipped tables.
    pub fn shipped() -> Materials {
        let woods = ron::from_str(include_str!("../../assets/woods.ron"));
        let sheets = ron::from_str(include_str!("../../assets/sheets.ron"));
        let coverage = ron::from_str(include_str!("../../assets/coverage.ron"));
        match (woods, sheets, coverage) {
            (Ok(woods), Ok(sheets), Ok(coverage)) => {
                Materials { woods, sheets, coverage, stores: StoreTable::shipped() }
            }
            (Err(e), ..) => panic!("assets/woods.ron: {e}"),
            (_, Err(e), _) => panic!("assets/sheets.ron: {e}"),
            (.., Err(e)) => panic!("assets/coverage.ron: {e}"),
        }
    }

    /// These tables with a document's own rows, which replace shipped rows of their name.
    pub fn with_own_rows(
        &self,
        woods: &[Wood],
        sheets: &[Sheet],
        coverage: &[Coverage],
    ) -> Materials {
        let mut all = self.clone();
        for own in woods {
            all.woods.retain(|w| w.name != own.name);
            all.woods.push(own.clone());
        }
        for own in sheets {
            all.sheets.sheets.retain(|s| s.name != own.name);
            all.sheets.sheets.push(own.clone());
        }
        for own in coverage {
            all.coverage.retain(|c| c.what != own.what);
            all.coverage.push(own.clone());
        }
        all
    }

    /// The row about this.
    ///
    /// # Panics
    /// Never: a test finds every row in the shipped table, and rows are only replaced.
    pub fn coverage(&self, what: Covering) -> &Coverage {
        self.coverage.iter().find(|c| c.what == what).expect("a row for every covering")
    }

    /// The species of that name.
    pub fn wood(&self, name: &str) -> Option<&Wood> {
        self.woods.iter().find(|w| w.name == name)
    }

    /// The sheet of that name.
    pub fn sheet(&self, name: &str) -> Option<&Sheet> {
        self.sheets.get(name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_covering_has_a_row_in_its_range_with_a_source() {
        let shipped = Materials::shipped();
        for what in Covering::ALL {
            let row = shipped.coverage(what);
            assert!(what.range().contains(&row.value), "{row:?}");
            assert!(!row.source.is_empty(), "{row:?}");
        }
        let own = Coverage {
            value: 0.1,
            source: "my can".into(),
            ..shipped.coverage(Covering::CoatOfPaint).clone()
        };
        let with = shipped.with_own_rows(&[], &[], std::slice::from_ref(&own));
        assert_eq!(with.coverage(Covering::CoatOfPaint), &own);
    }
}
