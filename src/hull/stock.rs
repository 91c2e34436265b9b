//! What the builder decides about what is bought: the sheets and the lumber that can be had,
//! how panels are joined, glue, fastenings, prices and waste.
//!
//! Everything may be left out. Without sheets the sheet table's own sizes are taken, as many
//! as it needs; without a price the list is made and says that the price is missing. Sheets and
//! lumber with their counts and prices are also what the yard has where the cheapest boat is
//! looked for (`model::stock::yard`): then nothing else is taken for panels and members.

use serde::{Deserialize, Serialize};

use crate::material::{Immersion, StoreRow};
use crate::units::Units;

/// A size of sheet that can be had, or an offcut that lies in the shop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetStock {
    /// Which sheet of the sheet table it is.
    pub sheet: String,
    /// Along the face grain, mm; of an offcut, of the box that it fills.
    pub length_mm: f64,
    /// Across the face grain, mm.
    pub width_mm: f64,
    /// How many there are; `None` for as many as are wanted. A boat that takes more is not to be
    /// had from the list.
    #[serde(default)]
    pub count: Option<u32>,
    /// Price of one; nothing is paid for what lies in the shop, which is 0. `None` where it
    /// is not known: a boat that takes such a sheet is never the cheaper one.
    #[serde(default)]
    pub price: Option<f64>,
    /// Only one of its faces may be seen.
    #[serde(default)]
    pub one_good_face: bool,
    /// Corners of an offcut (along and across the face grain, mm), without the closing one;
    /// empty for a whole sheet.
    #[serde(default)]
    pub outline_mm: Vec<(f64, f64)>,
}

/// What lumber of one section costs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum LumberPrice {
    /// By its length: for a metre.
    PerMetre(f64),
    /// For a length of it, whatever it measures.
    Each(f64),
}

/// Lumber of one section that can be had.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LumberStock {
    /// Species by its name in the wood table; `any` for wood of none, for the jig.
    pub species: String,
    /// The lesser side of its section, measured, mm.
    pub thickness_mm: f64,
    /// The greater side, measured, mm.
    pub width_mm: f64,
    /// The lengths it comes in, mm.
    pub lengths_mm: Vec<f64>,
    /// What it costs; `None` where it is not known.
    #[serde(default)]
    pub price: Option<LumberPrice>,
    /// How many of each length there are; `None` for as many as are wanted.
    #[serde(default)]
    pub count: Option<u32>,
}

/// As what wood is listed and told that is of no species: a jig's sticks may be of any.
pub const ANY_WOOD: &str = "any straight wood (jig)";

impl LumberStock {
    /// Its species by its name in the wood table; empty for wood of none, which is listed as
    /// `any` or as [`ANY_WOOD`] and serves what may be of any.
    pub fn wood(&self) -> &str {
        match self.species.trim() {
            "any" | ANY_WOOD => "",
            name => name,
        }
    }
}

/// How a panel that is longer than its sheet is put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum JointKind {
    /// Ends squared, a block of plywood glued behind.
    #[default]
    ButtBlock,
    /// Ends planed to a long slope and glued on each other.
    Scarf,
}

impl JointKind {
    /// All of them.
    pub const ALL: [JointKind; 2] = [JointKind::ButtBlock, JointKind::Scarf];

    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            JointKind::ButtBlock => "butt block",
            JointKind::Scarf => "scarf",
        }
    }
}

/// How panels are joined.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct JointRule {
    /// Scarf or butt block.
    pub kind: JointKind,
    /// Length of a scarf over the sheet's thickness.
    pub slope: f64,
    /// Length of a butt block along the boat, mm; `None` takes the rule for its sheet.
    pub block_length_mm: Option<f64>,
}

impl Default for JointRule {
    /// A butt block, which asks no planing; 8 in 1 for a scarf. Common practice, no source.
    fn default() -> Self {
        JointRule { kind: JointKind::ButtBlock, slope: 8.0, block_length_mm: None }
    }
}

/// A panel that is joined otherwise.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PanelJoint {
    /// `bottom`, `side`, `strake-1` …
    pub panel: String,
    /// How.
    pub rule: JointRule,
    /// Where, along the pattern, mm; empty leaves it to the program.
    #[serde(default)]
    pub at_mm: Vec<f64>,
}

/// What one of the stores costs at the builder's shop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StorePrice {
    /// Its name in the list of stores.
    pub store: String,
    /// How much is in a pack, in the unit of the list; `None` takes the table's.
    #[serde(default)]
    pub pack: Option<f64>,
    /// Price of a pack.
    pub price: f64,
}

/// More of one of the stores than what was worked out, because some is always lost.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Waste {
    /// Its name in the list of stores.
    pub store: String,
    /// Percent of what was worked out.
    pub pct: f64,
}

/// What the boat and the shop ask of a glue.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Gluing {
    /// Water that the joints see.
    pub water: Immersion,
    /// Widest gap that the builder's joints leave, mm.
    pub gap_mm: f64,
    /// Temperature of the shop while glue sets, °C.
    pub shop_c: f64,
}

impl Default for Gluing {
    /// A skiff on a trailer, joints planed with a jack plane, a warm shop: our judgement.
    fn default() -> Self {
        Gluing { water: Immersion::Wet, gap_mm: 1.0, shop_c: 20.0 }
    }
}

/// What sizes the yard and the chandler keep.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum SoldBy {
    /// Lengths in steps of 600 mm, bolts of 8 mm.
    #[default]
    Metres,
    /// Lengths in steps of two feet, bolts of 5/16 in.
    Feet,
}

impl SoldBy {
    /// Both.
    pub const ALL: [SoldBy; 2] = [SoldBy::Metres, SoldBy::Feet];

    /// What a builder most likely finds who reckons in these units.
    pub fn of(units: Units) -> SoldBy {
        if units.imperial() { SoldBy::Feet } else { SoldBy::Metres }
    }

    /// Units in which sizes are named there.
    pub fn units(self) -> Units {
        match self {
            SoldBy::Metres => Units::Mm,
            SoldBy::Feet => Units::Inch,
        }
    }

    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            SoldBy::Metres => "by the metre",
            SoldBy::Feet => "by the foot",
        }
    }
}

/// What is bought, and how it is put together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct StockPlan {
    /// Sheets that can be had; a kind that is not named comes in its table's size.
    pub sheets: Vec<SheetStock>,
    /// Lumber that can be had.
    pub lumber: Vec<LumberStock>,
    /// Sizes of lumber that is in no row, and of bolts and screws. A document that does not say
    /// is read as its units say; showing her in other units leaves it.
    pub sold_by: SoldBy,
    /// How panels are joined.
    pub joint: JointRule,
    /// Panels that differ.
    pub panel_joints: Vec<PanelJoint>,
    /// Width that a saw cut takes, mm.
    pub kerf_mm: f64,
    /// Left around the edge of a sheet, mm: factory edges are bruised.
    pub sheet_margin_mm: f64,
    /// Sawn off each end of a length of lumber, mm: ends are split and out of square.
    pub end_trim_mm: f64,
    /// Left long at each end of a member that is bent in place, mm: it is trimmed when it lies
    /// fair and its bevels are planed. Sticks of the jig and what is sawn by a pattern are cut as
    /// long as they are.
    pub stick_trim_mm: f64,
    /// Length of a scarf in lumber over the stick's depth.
    pub lumber_slope: f64,
    /// Glue by its name in the table of glues.
    pub glue: String,
    /// What is asked of it.
    pub gluing: Gluing,
    /// Fastenings of planking by their name in the table of stores.
    pub fastening: String,
    /// What the stores cost.
    pub prices: Vec<StorePrice>,
    /// Where more or less is lost than the table says.
    pub waste: Vec<Waste>,
    /// Rows of the builder's own for the table of stores; a row of a known name replaces it.
    pub stores: Vec<StoreRow>,
    /// What stands behind a price.
    pub currency: String,
}

impl Default for StockPlan {
    /// A hand saw's or a jigsaw's cut, a finger's breadth off lumber's ends, an inch of a bent
    /// stick to trim at each end. Common practice, no source.
    fn default() -> Self {
        StockPlan {
            sheets: Vec::new(),
            lumber: Vec::new(),
            sold_by: SoldBy::default(),
            joint: JointRule::default(),
            panel_joints: Vec::new(),
            kerf_mm: 3.0,
            sheet_margin_mm: 5.0,
            end_trim_mm: 15.0,
            stick_trim_mm: 25.0,
            lumber_slope: 8.0,
            glue: "epoxy".into(),
            gluing: Gluing::default(),
            fastening: "silicon bronze screw".into(),
            prices: Vec::new(),
            waste: Vec::new(),
            stores: Vec::new(),
            currency: String::new(),
        }
    }
}

impl StockPlan {
    /// How the panel of that name is joined.
    pub fn joint_of(&self, panel: &str) -> JointRule {
        self.panel_joints.iter().find(|p| p.panel == panel).map_or(self.joint, |p| p.rule)
    }

    /// What the store of that name costs, if the builder said so.
    pub fn price_of(&self, store: &str) -> Option<&StorePrice> {
        self.prices.iter().find(|p| p.store == store)
    }
}

impl LumberStock {
    /// Price of one of `length` mm, in the document's currency.
    pub fn price_of(&self, length: f64) -> Option<f64> {
        Some(match self.price? {
            LumberPrice::PerMetre(p) => p * length / 1000.0,
            LumberPrice::Each(p) => p,
        })
    }
}
