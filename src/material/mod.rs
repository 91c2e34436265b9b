//! Wood and sheets: tables under `assets/` with a source beside each figure, and the
//! builder's own rows on top.

mod sheet;
mod wood;

pub use sheet::{RadiusRow, Sheet, SheetTable};
pub use wood::{MPA_PER_PSI, Strength, Wood, WoodKind};

/// The tables that a derivation reads.
#[derive(Debug, Clone, PartialEq)]
pub struct Materials {
    /// Species of lumber.
    pub woods: Vec<Wood>,
    /// Sheets and their least bending radii.
    pub sheets: SheetTable,
}

impl Materials {
    /// The shipped tables.
    ///
    /// # Panics
    /// Never: a test reads the shipped tables.
    pub fn shipped() -> Materials {
        let woods = ron::from_str(include_str!("../../assets/woods.ron"));
        let sheets = ron::from_str(include_str!("../../assets/sheets.ron"));
        match (woods, sheets) {
            (Ok(woods), Ok(sheets)) => Materials { woods, sheets },
            (Err(e), _) => panic!("assets/woods.ron: {e}"),
            (_, Err(e)) => panic!("assets/sheets.ron: {e}"),
        }
    }

    /// These tables with a document's own rows, which replace shipped rows of their name.
    pub fn with_own_rows(&self, woods: &[Wood], sheets: &[Sheet]) -> Materials {
        let mut all = self.clone();
        for own in woods {
            all.woods.retain(|w| w.name != own.name);
            all.woods.push(own.clone());
        }
        for own in sheets {
            all.sheets.sheets.retain(|s| s.name != own.name);
            all.sheets.sheets.push(own.clone());
        }
        all
    }

    /// The species of that name.
    pub fn wood(&self, name: &str) -> Option<&Wood> {
        self.woods.iter().find(|w| w.name == name)
    }

    /// The sheet of that name.
    pub fn sheet(&self, name: &str) -> Option<&Sheet> {
        self.sheets.sheets.iter().find(|s| s.name == name)
    }
}
