//! What a book is made of.

use super::table::Table;
use super::text::Text;
use crate::drawing::Drawing;

/// A piece of a book, set from margin to margin.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// The title on a page of its own, with what stands under it and its picture.
    Cover {
        /// The boat's name or the like.
        title: String,
        /// What stands under it.
        under: Vec<Text>,
        /// What is shown.
        picture: Option<Figure>,
        /// What stands at the page's foot.
        foot: Vec<Text>,
    },
    /// The list of headings with their pages.
    Contents,
    /// A heading: 1 begins a page, 2 and 3 stand in the text.
    Heading {
        /// 1 to 3.
        level: u8,
        /// What it says.
        words: String,
        /// The name that links know it by; a book has no two of a name.
        name: String,
    },
    /// A paragraph.
    Paragraph(Text),
    /// A paragraph in small letters: sources, what was left out.
    Small(Text),
    /// Items, each behind a dot.
    List(Vec<Text>),
    /// What can go wrong for the reader: ruled at its left, its first word stressed.
    Caution(Text),
    /// Something to be ticked off.
    Check(Check),
    /// Rows and columns.
    Table(Table),
    /// A drawing in the text.
    Figure(Figure),
    /// A drawing on a page of its own, laid out as the drawing itself is printed; on several
    /// where it needs them.
    Sheet(Box<Drawing>),
    /// Blocks that are not parted over two pages where one holds them.
    Together(Vec<Block>),
    /// Lines to write on, so many.
    Lines(usize),
    /// The book's index.
    Index,
}

/// A thing to do, with a box before it.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// What.
    pub title: Text,
    /// How; paragraphs under it.
    pub body: Vec<Text>,
    /// What is written at the right of its title: hours, who helps.
    pub beside: String,
}

/// A drawing with what is said of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What is shown; its own words are set as large as they stand in it, reduced with it.
    pub drawing: Drawing,
    /// No higher than this, mm.
    pub height: f64,
    /// What stands under it.
    pub caption: Text,
    /// What it shows, for who cannot see it.
    pub seen: String,
}

impl Block {
    /// A heading of that level, its words its name.
    pub fn heading(level: u8, words: impl Into<String>) -> Block {
        let words = words.into();
        Block::Heading { level, name: words.clone(), words }
    }

    /// A heading that links know by another name.
    pub fn named(level: u8, words: impl Into<String>, name: impl Into<String>) -> Block {
        Block::Heading { level, words: words.into(), name: name.into() }
    }

    /// A paragraph.
    pub fn words(text: impl Into<Text>) -> Block {
        Block::Paragraph(text.into())
    }

    /// A paragraph in small letters.
    pub fn small(text: impl Into<Text>) -> Block {
        Block::Small(text.into())
    }

    /// A caution; `words` begin with what it is about and a colon.
    pub fn caution(words: &str) -> Block {
        Block::Caution(match words.split_once(": ") {
            Some((head, rest)) => Text::bold(format!("{head}: ")).and(rest),
            None => words.into(),
        })
    }
}
