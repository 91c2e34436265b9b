//! Reading a hull document from RON text, with the place of every fault.

use serde::Deserialize;

use super::check::{Place, StockFigure};
use super::checked::CheckedHull;
use super::document::{FORMAT_VERSION, Hull};
use super::stock::SoldBy;
use super::syntax::explain;
use crate::units::Units;

/// Why a text is no hull document. Line and column count from 1.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{file}:{line}:{column}: {message}")]
pub struct ReadError {
    /// The file's name as the builder gave it.
    pub file: String,
    /// Line of the fault.
    pub line: usize,
    /// Column of the fault.
    pub column: usize,
    /// What is wrong, the value, and what would be accepted.
    pub message: String,
}

/// Only the version, whatever else the text holds.
#[derive(Deserialize)]
#[serde(rename = "Hull")]
struct VersionOnly {
    version: u32,
}

/// Only the units and where she is bought, to tell what was left unsaid from what was said.
#[derive(Deserialize)]
#[serde(rename = "Hull")]
struct UnitsOnly {
    #[serde(default)]
    units: Units,
    #[serde(default)]
    stock: SoldByOnly,
}

#[derive(Deserialize, Default)]
#[serde(rename = "StockPlan")]
struct SoldByOnly {
    #[serde(default)]
    sold_by: Option<SoldBy>,
}

/// The lines as raw text, to find where a duck stands in the file.
#[derive(Deserialize)]
#[serde(rename = "Hull")]
struct Skeleton<'a> {
    #[serde(borrow)]
    lines: Vec<SkeletonLine<'a>>,
    #[serde(borrow, default)]
    members: Vec<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    planking: Option<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    framing: Option<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    transom: Option<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    stem: Option<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    motor: Option<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    strongback: Option<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    as_built: Vec<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    afloat: Option<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    stock: Option<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    woods: Vec<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    sheets: Vec<&'a ron::value::RawValue>,
    #[serde(borrow, default)]
    coverage: Vec<&'a ron::value::RawValue>,
}

/// What lies in the part about the boat afloat.
#[derive(Deserialize, Default)]
#[serde(rename = "AfloatPlan", default)]
struct SkeletonAfloat<'a> {
    #[serde(borrow)]
    loads: Vec<&'a ron::value::RawValue>,
    #[serde(borrow)]
    weighed: Vec<&'a ron::value::RawValue>,
    #[serde(borrow)]
    foam: Vec<&'a ron::value::RawValue>,
}

/// What lies in the part about what is bought.
#[derive(Deserialize, Default)]
#[serde(rename = "StockPlan", default)]
struct SkeletonStock<'a> {
    #[serde(borrow)]
    glue: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    fastening: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    sheets: Vec<&'a ron::value::RawValue>,
    #[serde(borrow)]
    lumber: Vec<&'a ron::value::RawValue>,
    #[serde(borrow)]
    panel_joints: Vec<&'a ron::value::RawValue>,
    #[serde(borrow)]
    prices: Vec<&'a ron::value::RawValue>,
    #[serde(borrow)]
    waste: Vec<&'a ron::value::RawValue>,
    #[serde(borrow)]
    stores: Vec<&'a ron::value::RawValue>,
    #[serde(borrow)]
    joint: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    gluing: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    kerf_mm: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    sheet_margin_mm: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    end_trim_mm: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    stick_trim_mm: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    lumber_slope: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    currency: Option<&'a ron::value::RawValue>,
}

/// What lies in the joint of panels and in what is asked of the glue.
#[derive(Deserialize, Default)]
#[serde(default)]
struct SkeletonFigures<'a> {
    #[serde(borrow)]
    slope: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    block_length_mm: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    gap_mm: Option<&'a ron::value::RawValue>,
    #[serde(borrow)]
    shop_c: Option<&'a ron::value::RawValue>,
}

impl<'a> SkeletonStock<'a> {
    /// Where a figure stands; where what it lies in does, if it cannot be found in that.
    fn figure(&self, of: StockFigure) -> Option<&'a ron::value::RawValue> {
        let within = |raw: Option<&'a ron::value::RawValue>| -> SkeletonFigures<'a> {
            raw.and_then(|r| options().from_str(r.get_ron()).ok()).unwrap_or_default()
        };
        match of {
            StockFigure::Kerf => self.kerf_mm,
            StockFigure::SheetMargin => self.sheet_margin_mm,
            StockFigure::EndTrim => self.end_trim_mm,
            StockFigure::StickTrim => self.stick_trim_mm,
            StockFigure::LumberSlope => self.lumber_slope,
            StockFigure::JointSlope => within(self.joint).slope.or(self.joint),
            StockFigure::BlockLength => within(self.joint).block_length_mm.or(self.joint),
            StockFigure::Gap => within(self.gluing).gap_mm.or(self.gluing),
            StockFigure::Shop => within(self.gluing).shop_c.or(self.gluing),
            StockFigure::Currency => self.currency,
        }
    }
}

#[derive(Deserialize)]
#[serde(rename = "Line")]
struct SkeletonLine<'a> {
    #[serde(borrow)]
    name: &'a ron::value::RawValue,
    #[serde(borrow)]
    ducks: Vec<&'a ron::value::RawValue>,
}

/// Reads a hull document; `file` only names it in errors.
///
/// # Errors
/// The first fault with file, line and column: text that is no RON, unknown fields, wrong
/// types, a version that this program does not know, or values that no boat can have.
pub fn read(text: &str, file: &str) -> Result<CheckedHull, ReadError> {
    let at = |line: usize, column: usize, message: String| ReadError {
        file: file.into(),
        line,
        column,
        message,
    };
    // A byte-order mark is no part of the document.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    // The version first: a newer file's unknown fields are not the builder's mistake.
    if let Ok(VersionOnly { version }) = options().from_str::<VersionOnly>(text)
        && version != FORMAT_VERSION
    {
        let (line, column) = position(text, text.find("version").unwrap_or(0));
        return Err(at(
            line,
            column,
            format!(
                "version {version} of the hull document; accepted: {FORMAT_VERSION}, the only one so far. \
                 A file of a later version needs a later chinewright"
            ),
        ));
    }
    let mut hull: Hull = options()
        .from_str(text)
        .map_err(|e| at(e.span.start.line, e.span.start.col, explain(text, &e)))?;
    if let Ok(UnitsOnly { units, stock: SoldByOnly { sold_by: None } }) = options().from_str(text) {
        hull.stock.sold_by = SoldBy::of(units);
    }
    CheckedHull::of(hull).map_err(|faults| {
        let (line, column) = locate(text, &faults[0].place);
        at(line, column, faults[0].to_string())
    })
}

/// RON as this program reads it: an optional value is written with or without `Some`.
pub(crate) fn options() -> ron::Options {
    ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
}

/// Line and column (from 1) of a byte offset.
fn position(text: &str, offset: usize) -> (usize, usize) {
    let before = &text[..offset.min(text.len())];
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1;
    (line, column)
}

/// Where in the text the faulty thing stands; the start if it cannot be found.
fn locate(text: &str, place: &Place) -> (usize, usize) {
    let Ok(skeleton) = options().from_str::<Skeleton>(text) else {
        return (1, 1);
    };
    let afloat = || -> SkeletonAfloat {
        let raw = skeleton.afloat.map(|r| r.get_ron());
        raw.and_then(|r| options().from_str(r).ok()).unwrap_or_default()
    };
    let stock = || -> SkeletonStock {
        let raw = skeleton.stock.map(|r| r.get_ron());
        raw.and_then(|r| options().from_str(r).ok()).unwrap_or_default()
    };
    let raw = match place {
        Place::Document => None,
        Place::Line(i) => skeleton.lines.get(*i).map(|l| l.name),
        Place::Duck(i, k) => skeleton.lines.get(*i).and_then(|l| l.ducks.get(*k)).copied(),
        Place::Planking => skeleton.planking,
        Place::Framing => skeleton.framing,
        Place::Transom => skeleton.transom,
        Place::Stem => skeleton.stem,
        Place::Motor => skeleton.motor,
        Place::Strongback => skeleton.strongback,
        Place::Afloat => skeleton.afloat,
        Place::Load(i) => afloat().loads.get(*i).copied(),
        Place::Weighed(i) => afloat().weighed.get(*i).copied(),
        Place::Foam(i) => afloat().foam.get(*i).copied(),
        Place::Wood(i) => skeleton.woods.get(*i).copied(),
        Place::Sheet(i) => skeleton.sheets.get(*i).copied(),
        Place::Coverage(i) => skeleton.coverage.get(*i).copied(),
        Place::Measured(i) => skeleton.as_built.get(*i).copied(),
        Place::Member(i) => skeleton.members.get(*i).copied(),
        Place::Stock => skeleton.stock,
        Place::StockFigure(of) => stock().figure(*of),
        Place::Glue => stock().glue,
        Place::Fastening => stock().fastening,
        Place::StockSheet(i) => stock().sheets.get(*i).copied(),
        Place::StockLumber(i) => stock().lumber.get(*i).copied(),
        Place::PanelJoint(i) => stock().panel_joints.get(*i).copied(),
        Place::StorePrice(i) => stock().prices.get(*i).copied(),
        Place::Waste(i) => stock().waste.get(*i).copied(),
        Place::StoreRow(i) => stock().stores.get(*i).copied(),
    };
    let Some(raw) = raw else {
        return (1, 1);
    };
    let raw = raw.get_ron();
    // The raw value is a slice of `text`, so its address tells its offset.
    let offset = (raw.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
    let blank = raw.len() - raw.trim_start().len();
    position(text, offset + blank)
}
