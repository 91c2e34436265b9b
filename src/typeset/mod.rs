//! Words, tables and drawings set on pages: a book of them, whatever it is about.
//!
//! A book is a list of [`Block`]s. They are broken to the page's width ([`line`], [`table`]), put
//! on pages ([`flow`]) until every number of a page that is named in them is true, and written
//! ([`write`]) with bookmarks, links and the structure that a reading aloud needs (PDF/UA-1,
//! ISO 14289-1, as far as the PDF library checks it).

mod around;
pub mod block;
mod figure;
mod flow;
mod line;
mod page;
mod pieces;
mod table;
mod text;
mod write;

pub use block::{Block, Check, Figure};
pub use page::{Page, faults};
pub use table::{Align, Column, Row, Table};
pub use text::{Span, Text};

use crate::drawing::export::ExportError;
use crate::drawing::export::tiling::PageSize;

/// What is set.
#[derive(Debug, Clone, PartialEq)]
pub struct Book {
    /// Its title, which stands at the foot of every page.
    pub title: String,
    /// What it is, for the file.
    pub about: String,
    /// Stands at the right of the foot: which document it was made from.
    pub mark: String,
    /// Its blocks, in the order of reading.
    pub blocks: Vec<Block>,
    /// Names that the index lists with the pages that speak of them.
    pub index: Vec<String>,
    /// Size of its upright pages, mm.
    pub page: PageSize,
}

impl Book {
    /// Its pages, laid out.
    ///
    /// # Errors
    /// A drawing that cannot be put on paper.
    pub fn pages(&self) -> Result<Vec<Page>, ExportError> {
        Ok(flow::pages(self, &flow::sheets(self)?).0)
    }

    /// The book as a PDF file: the same bytes for the same book.
    ///
    /// # Errors
    /// A drawing that cannot be put on paper; what the PDF library says, what it finds against
    /// PDF/UA-1 included.
    pub fn pdf(&self) -> Result<Vec<u8>, ExportError> {
        write::pdf(self)
    }
}
