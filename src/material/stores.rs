//! Stores: what is bought that is not wood. How far a pack goes, which size of fastening a
//! thickness asks, what a glue bears.

use serde::{Deserialize, Serialize};

/// What a row of stores is counted and packed by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Litres of what comes in cans and tubs.
    Litres,
    /// Litres of what is cut from boards.
    Bulk,
    /// Kilograms.
    Kilograms,
    /// Metres off a roll.
    Metres,
    /// Pieces.
    Pieces,
}

impl Measure {
    /// Its unit.
    pub fn word(self) -> &'static str {
        match self {
            Measure::Litres | Measure::Bulk => "l",
            Measure::Kilograms => "kg",
            Measure::Metres => "m",
            Measure::Pieces => "pieces",
        }
    }
}

/// What the figure of a row of stores says, and so in which unit the row is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Figure {
    /// Section of the bead along a joint, mm²; counted in litres.
    Bead,
    /// Spread on one face of a joint, kg/m²; counted in kilograms.
    Spread,
    /// Litres of mixed resin that wet out a kilogram of cloth.
    InCloth,
    /// Litres that a square metre takes: a coat, or a filling of the weave.
    Coat,
    /// Square metres that a litre covers in one coat.
    Coverage,
    /// Distance between neighbours, mm; counted by the piece.
    Pitch,
    /// Width of a roll of cloth or tape, mm; counted in metres.
    Roll,
    /// Square metres of one coat that one of them lasts for; counted by the piece.
    PerArea,
    /// Litres of mixed resin, glue or paint that one of them lasts for; counted by the piece.
    PerLitre,
    /// Litres that a litre of it fills; counted in litres.
    Bulk,
    /// Litres of it that are stirred into a litre of mixed resin or glue; counted in litres.
    Stirred,
    /// Pieces for each place; counted by the piece.
    Each,
}

impl Figure {
    /// The unit of the figure.
    pub fn unit(self) -> &'static str {
        match self {
            Figure::Bead => "mm² of bead",
            Figure::Spread => "kg/m²",
            Figure::InCloth => "litres a kg of cloth",
            Figure::Coat => "litres a m²",
            Figure::Coverage => "m² a litre",
            Figure::Pitch => "mm apart",
            Figure::Roll => "mm wide",
            Figure::PerArea => "m² of a coat for each",
            Figure::PerLitre => "litres for each",
            Figure::Bulk => "litres a litre",
            Figure::Stirred => "litres in a litre mixed",
            Figure::Each => "for each place",
        }
    }

    /// By what such a row is counted and packed.
    pub fn counted_in(self) -> Measure {
        match self {
            Figure::Bead | Figure::InCloth | Figure::Coat | Figure::Coverage | Figure::Stirred => {
                Measure::Litres
            }
            Figure::Bulk => Measure::Bulk,
            Figure::Spread => Measure::Kilograms,
            Figure::Roll => Measure::Metres,
            Figure::Pitch | Figure::PerArea | Figure::PerLitre | Figure::Each => Measure::Pieces,
        }
    }
}

/// A row of the table of stores.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StoreRow {
    /// What a list calls it.
    pub name: String,
    /// What `value` says.
    pub figure: Figure,
    /// The figure, in its unit.
    pub value: f64,
    /// How much is in a pack, in the unit that the row is counted in.
    pub pack: f64,
    /// The product that it comes out of, where several rows share its packs.
    #[serde(default)]
    pub bought_as: Option<String>,
    /// Lost in cups, brushes and offcuts, percent of what the work takes up.
    #[serde(default)]
    pub waste_pct: f64,
    /// Coldest at which it sets or dries as it should, °C; `None` for what does not care.
    #[serde(default)]
    pub least_c: Option<f64>,
    /// Where the figures are from.
    pub source: String,
}

/// A size of fastening for sheets up to a thickness.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FastenerSize {
    /// Thickest sheet that it holds, mm.
    pub up_to_mm: f64,
    /// How a shop calls it, without its length.
    pub gauge: String,
    /// Of its shank, mm.
    pub diameter_mm: f64,
    /// From the face of the sheet to the point, mm.
    pub length_mm: f64,
}

/// How much water a joint may see.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Immersion {
    /// Indoors only.
    Dry,
    /// Rain and spray, and dries again.
    Damp,
    /// Wet for days and dries again: a boat that is kept on a trailer.
    Wet,
    /// Under water all season.
    Always,
}

impl Immersion {
    /// All of them, the driest first.
    pub const ALL: [Immersion; 4] =
        [Immersion::Dry, Immersion::Damp, Immersion::Wet, Immersion::Always];

    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Immersion::Dry => "indoors only",
            Immersion::Damp => "rain and spray",
            Immersion::Wet => "wet for days, then dry",
            Immersion::Always => "always under water",
        }
    }
}

/// A row of the table of glues.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Glue {
    /// What a document calls it.
    pub name: String,
    /// The row of the table of stores by which it is bought.
    pub store: String,
    /// Water that it stands.
    pub immersion: Immersion,
    /// Widest gap that it still bridges, mm.
    pub gap_mm: f64,
    /// Coldest at which it sets, °C.
    pub least_c: f64,
    /// Hottest at which there is still time to work, °C.
    pub most_c: f64,
    /// Moisture of the wood, percent: the driest and the wettest that it takes.
    pub moisture_pct: (f64, f64),
    /// Time from spreading to closing the joint at 20 °C, minutes.
    pub open_min: f64,
    /// Time in clamps at 20 °C, hours.
    pub clamp_h: f64,
    /// It wants hard clamping and joints planed to fit.
    #[serde(default)]
    pub wants_pressure: bool,
    /// What else a builder should know.
    #[serde(default)]
    pub note: String,
    /// Where the figures are from.
    pub source: String,
}

/// The table of stores.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StoreTable {
    /// What is bought.
    pub stores: Vec<StoreRow>,
    /// Sizes of fastenings, thin sheets first.
    pub sizes: Vec<FastenerSize>,
    /// Where those are from.
    pub sizes_source: String,
    /// Glues.
    pub glues: Vec<Glue>,
}

impl StoreTable {
    /// The shipped table.
    ///
    /// # Panics
    /// Never: a test reads it.
    pub fn shipped() -> StoreTable {
        match ron::from_str(include_str!("../../assets/stores.ron")) {
            Ok(table) => table,
            Err(e) => panic!("assets/stores.ron: {e}"),
        }
    }

    /// This table with a document's own rows, which replace shipped rows of their name.
    pub fn with_own_rows(&self, own: &[StoreRow]) -> StoreTable {
        let mut all = self.clone();
        for row in own {
            all.stores.retain(|s| s.name != row.name);
            all.stores.push(row.clone());
        }
        all
    }

    /// The row of that name.
    pub fn store(&self, name: &str) -> Option<&StoreRow> {
        self.stores.iter().find(|s| s.name == name)
    }

    /// The glue of that name.
    pub fn glue(&self, name: &str) -> Option<&Glue> {
        self.glues.iter().find(|g| g.name == name)
    }

    /// The fastening for a sheet of this thickness, mm: the size for the next thickness of the
    /// table, or the largest for what is thicker than all of it.
    pub fn size_for(&self, thickness: f64) -> Option<&FastenerSize> {
        self.sizes.iter().find(|s| thickness <= s.up_to_mm).or(self.sizes.last())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_has_a_source_and_every_glue_is_bought_by_a_row() {
        let table = StoreTable::shipped();
        for s in &table.stores {
            assert!(s.value > 0.0 && s.pack > 0.0 && s.waste_pct >= 0.0, "{s:?}");
            assert!(!s.source.is_empty(), "{s:?}");
        }
        for g in &table.glues {
            let row = table.store(&g.store).expect(&g.store);
            assert!(matches!(row.figure, Figure::Bead | Figure::Spread), "{row:?}");
            assert!(g.least_c < g.most_c && g.moisture_pct.0 < g.moisture_pct.1, "{g:?}");
            assert!(g.open_min > 0.0 && g.clamp_h > 0.0 && !g.source.is_empty(), "{g:?}");
        }
        let thin_to_thick = table
            .sizes
            .windows(2)
            .all(|w| w[0].up_to_mm < w[1].up_to_mm && w[0].length_mm < w[1].length_mm);
        assert!(thin_to_thick && table.sizes.len() > 3);
        let mut names: Vec<&str> = table.stores.iter().map(|s| s.name.as_str()).collect();
        names.sort_unstable();
        let count = names.len();
        names.dedup();
        assert_eq!(names.len(), count);
    }

    #[test]
    fn a_row_of_ones_own_replaces_one_and_adds_one() {
        let table = StoreTable::shipped();
        let mut own = table.stores[0].clone();
        own.value *= 2.0;
        let new = StoreRow { name: "bedding".into(), ..own.clone() };
        let with = table.with_own_rows(&[own.clone(), new.clone()]);
        assert_eq!(with.store(&own.name), Some(&own));
        assert_eq!(with.store("bedding"), Some(&new));
        assert_eq!(with.stores.len(), table.stores.len() + 1);
    }
}
