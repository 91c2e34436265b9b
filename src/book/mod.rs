//! The build book: all of a boat on paper, in the order of the work.
//!
//! Each chapter is a function from what was computed to blocks ([`crate::typeset`]), in a file of
//! its own; here stands their order. Nothing is computed here but counts and sums of what is told.

mod afloat;
mod bending;
mod cutting;
mod drawings;
mod front;
mod glossary;
mod jig;
mod launch;
mod order;
mod particulars;
mod pictures;
mod schedules;
mod shopping;
mod sources;

use crate::drawing::compose::OnPaper;
use crate::drawing::export::ExportError;
use crate::hull::Hull;
use crate::model::Model;
use crate::model::stock::{Counted, StockList};
use crate::report::mark_words;
use crate::typeset::{Block, Book, Table};
use crate::units::Units;

/// What chapters are made from.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Of<'a> {
    pub(crate) model: &'a Model,
    pub(crate) list: Option<&'a StockList>,
    pub(crate) document: &'a Hull,
    pub(crate) sheets: OnPaper,
}

impl<'a> Of<'a> {
    fn units(&self) -> Units {
        self.sheets.units
    }

    fn boat(&self) -> Counted<'a> {
        Counted { model: self.model, list: self.list }
    }
}

/// The book of a boat, computed from `document`; of sheets, lumber and stores only where stock
/// was counted.
pub fn book<'a>(boat: impl Into<Counted<'a>>, document: &'a Hull, sheets: OnPaper) -> Book {
    let Counted { model, list } = boat.into();
    let of = Of { model, list, document, sheets };
    let chapters: [fn(&Of) -> Vec<Block>; 15] = [
        front::front,
        particulars::particulars,
        drawings::lines,
        shopping::shopping,
        cutting::sheets,
        cutting::lumber,
        drawings::cards,
        drawings::frames,
        drawings::ends,
        jig::jig,
        bending::bending,
        order::order,
        schedules::schedules,
        afloat::afloat,
        launch::launch,
    ];
    let mut blocks: Vec<Block> = chapters.iter().flat_map(|c| c(&of)).collect();
    blocks.extend(glossary::glossary(&of));
    blocks.extend(sources::sources(&of));
    blocks.push(Block::heading(1, "Index of pieces"));
    blocks.push(Block::Index);
    let mut index: Vec<String> = model.parts.all().iter().map(|p| p.name.clone()).collect();
    index.sort();
    index.dedup();
    Book {
        title: model.hull.name.clone(),
        about: "The build book: drawings, lists and the order of the work".into(),
        mark: mark_words(document),
        blocks,
        index,
        page: sheets.paper.sheet(),
    }
}

/// The book as a PDF file.
///
/// # Errors
/// A drawing that cannot be put on paper; what the PDF library says.
pub fn pdf<'a>(
    boat: impl Into<Counted<'a>>,
    document: &'a Hull,
    sheets: OnPaper,
) -> Result<Vec<u8>, ExportError> {
    book(boat, document, sheets).pdf()
}

/// A table of names with a figure each.
fn figures(rows: Vec<(String, String)>) -> Block {
    let mut t = Table::of(&["", ""]);
    for (name, figure) in rows {
        t.row([name, figure]);
    }
    Block::Table(t)
}
