//! A fault of a document: its place, value and remedy.

/// Where in a document a fault is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// The document as a whole.
    Document,
    /// A line, by index.
    Line(usize),
    /// A duck of a line, by indices.
    Duck(usize, usize),
    /// The planking.
    Planking,
    /// The framing.
    Framing,
    /// The transom.
    Transom,
    /// The stem.
    Stem,
    /// The motor.
    Motor,
    /// The strongback.
    Strongback,
    /// Something measured on the jig, by index.
    Measured(usize),
    /// The boat afloat.
    Afloat,
    /// Something aboard, by index.
    Load(usize),
    /// An item that was weighed, by index.
    Weighed(usize),
    /// A block of foam, by index.
    Foam(usize),
    /// The document's own row of the table of wood, by index.
    Wood(usize),
    /// Of the table of sheets.
    Sheet(usize),
    /// Of the table of coverage.
    Coverage(usize),
    /// A member, by index.
    Member(usize),
    /// What is bought.
    Stock,
    /// A figure of what is bought that stands by itself.
    StockFigure(StockFigure),
    /// The glue of what is bought.
    Glue,
    /// Its fastenings.
    Fastening,
    /// A size of sheet that can be had, by index.
    StockSheet(usize),
    /// Lumber of one section that can be had, by index.
    StockLumber(usize),
    /// A panel that is joined otherwise, by index.
    PanelJoint(usize),
    /// A price of one of the stores, by index.
    StorePrice(usize),
    /// How much of one of the stores is lost, by index.
    Waste(usize),
    /// The document's own row of the table of stores, by index.
    StoreRow(usize),
}

/// A figure, or a word, of what is bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StockFigure {
    /// `kerf_mm`.
    Kerf,
    /// `sheet_margin_mm`.
    SheetMargin,
    /// `end_trim_mm`.
    EndTrim,
    /// `stick_trim_mm`.
    StickTrim,
    /// `lumber_slope`.
    LumberSlope,
    /// `joint: slope`.
    JointSlope,
    /// `joint: block_length_mm`.
    BlockLength,
    /// `gluing: gap_mm`.
    Gap,
    /// `gluing: shop_c`.
    Shop,
    /// `currency`.
    Currency,
}

/// Something in a document that keeps it from being computed.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// Where.
    pub place: Place,
    /// The thing in words: `duck 3 of the sheer`.
    pub what: String,
    /// The field whose figure it is, as the file calls it (`crown_mm`, `knee: arm_mm`); `None`
    /// where it is no one figure's.
    pub field: Option<String>,
    /// The value found and why it will not do: `crown_mm = 400`.
    pub message: String,
    /// What would be accepted.
    pub accepted: String,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}; accepted: {}", self.what, self.message, self.accepted)
    }
}
