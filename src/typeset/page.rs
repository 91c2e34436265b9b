//! A page laid out: what is painted where, and what each piece is for who hears it read.

use crate::drawing::Drawing;
use crate::drawing::export::tiling::PageSize;
use crate::drawing::face::{self, TextBox};
use crate::geom::P2;

/// The left margin takes the holes of a binding; the others are what a hand holds, mm.
pub(super) const LEFT: f64 = 22.0;
pub(super) const RIGHT: f64 = 15.0;
pub(super) const TOP: f64 = 16.0;
/// With the foot that stands in it, mm.
pub(super) const BOTTOM: f64 = 19.0;
/// The foot's baseline from the page's lower edge, and its height of capitals, mm.
pub(super) const FOOT_UP: f64 = 10.5;
pub(super) const FOOT: f64 = 1.75;

/// What a piece of a page is, for who hears it read.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Kind {
    Heading { level: u8, words: String },
    Paragraph,
    List,
    Item,
    Label,
    Body,
    Table,
    Row,
    Head,
    Cell,
    Figure { seen: String },
    Caption,
    Link,
    Contents,
    ContentsItem,
}

/// What lies in a node, in the order of reading: other nodes, and what is painted, by number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Child {
    Node(usize),
    Ink(usize),
}

/// The structure of a book.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Tree {
    pub(super) nodes: Vec<(Kind, Vec<Child>)>,
    pub(super) roots: Vec<usize>,
}

impl Tree {
    /// A new node in another, or at the root.
    pub(super) fn node(&mut self, kind: Kind, within: Option<usize>) -> usize {
        let id = self.nodes.len();
        self.nodes.push((kind, Vec::new()));
        match within {
            Some(p) => self.nodes[p].1.push(Child::Node(id)),
            None => self.roots.push(id),
        }
        id
    }
}

/// Colours of words and lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Tone {
    #[default]
    Ink,
    Soft,
}

/// What is painted.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Shape {
    /// Words on a baseline whose left end is the place.
    Words { text: String, height: f64, bold: bool, tone: Tone },
    /// A straight line, its other end so far off.
    Line { by: (f64, f64), width: f64, dotted: bool },
    /// A box to tick, its upper left corner the place.
    Square { side: f64 },
    /// A drawing, the upper left corner of its box the place.
    Drawing { drawing: Box<Drawing>, scale: f64 },
}

/// Something painted.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ink {
    /// mm from the page's upper left corner.
    pub(super) at: (f64, f64),
    pub(super) shape: Shape,
    /// Its number in the book's structure; what has none is there for the eye alone.
    pub(super) number: Option<usize>,
    /// Which heading it leads to, and in which node that is said.
    pub(super) link: Option<(String, usize)>,
}

impl Ink {
    /// For the eye alone.
    pub(super) fn mute(at: (f64, f64), shape: Shape) -> Ink {
        Ink { at, shape, number: None, link: None }
    }

    /// The boxes of its words, y down.
    fn boxes(&self) -> Vec<(String, TextBox)> {
        let (x, y) = self.at;
        match &self.shape {
            Shape::Words { text, height, bold, .. } => {
                let left = P2::new(x, -y);
                let own = TextBox::of(left, *height, 0.0, face::width(text, *height, *bold));
                vec![(text.clone(), own)]
            }
            Shape::Drawing { drawing, scale } => {
                let Some((low, high)) = drawing.bounds() else {
                    return Vec::new();
                };
                let place = |p: P2| P2::new(x + (p.x - low.x) * scale, -y + (p.y - high.y) * scale);
                let boxes = drawing.items.iter().filter_map(|i| {
                    let b = i.shape.text_box()?;
                    let crate::drawing::Shape::Text { text, .. } = &i.shape else {
                        return None;
                    };
                    let moved =
                        TextBox { low: place(b.low), along: b.along * *scale, up: b.up * *scale };
                    Some((text.clone(), moved))
                });
                boxes.collect()
            }
            Shape::Line { .. } | Shape::Square { .. } => Vec::new(),
        }
    }
}

/// A page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// mm.
    pub size: PageSize,
    pub(super) inks: Vec<Ink>,
    /// A drawing's own page: which of the book's drawings, and which page of it.
    pub(super) sheet: Option<(usize, usize)>,
    /// A chapter begins on it.
    pub(super) begins: bool,
    /// The chapter that it belongs to.
    pub(super) chapter: String,
    /// What it speaks of, phrase by phrase: headings, cells, titles.
    pub(super) said: Vec<String>,
}

impl Page {
    pub(super) fn blank(size: PageSize) -> Page {
        Page {
            size,
            inks: Vec::new(),
            sheet: None,
            begins: false,
            chapter: String::new(),
            said: Vec::new(),
        }
    }

    /// Every line of words on it, from the top, as they stand.
    pub fn words(&self) -> Vec<&str> {
        let words = self.inks.iter().filter_map(|i| match &i.shape {
            Shape::Words { text, .. } => Some(text.as_str()),
            _ => None,
        });
        words.collect()
    }

    /// Whether the page is a drawing's own.
    pub fn is_sheet(&self) -> bool {
        self.sheet.is_some()
    }

    /// Whether a chapter begins on it.
    pub fn begins_chapter(&self) -> bool {
        self.begins
    }

    /// How deep what is on it reaches, over the room that it has: 0 to 1.
    pub fn filled(&self) -> f64 {
        if self.sheet.is_some() {
            return 1.0;
        }
        let (top, low) = (TOP, self.size.height - BOTTOM);
        let lowest = self.inks.iter().filter(|i| i.at.1 <= low).map(|i| i.at.1);
        ((lowest.fold(top, f64::max) - top) / (low - top)).clamp(0.0, 1.0)
    }
}

/// What is wrong with pages: words off the page's room, words over words. Each says on which
/// page, and what.
pub fn faults(pages: &[Page]) -> Vec<String> {
    let mut out = Vec::new();
    for (k, page) in pages.iter().enumerate() {
        let (w, h) = (page.size.width, page.size.height);
        // The foot stands in the lower margin.
        let low = P2::new(LEFT - 0.1, -(h - FOOT_UP + 1.0));
        let high = P2::new(w - RIGHT + 0.1, -(TOP - 6.0));
        let boxes: Vec<(String, TextBox)> = page.inks.iter().flat_map(Ink::boxes).collect();
        for (i, (words, b)) in boxes.iter().enumerate() {
            if !b.within(low, high) {
                out.push(format!("page {}: {words:?} stands off its room", k + 1));
            }
            let over = boxes[..i].iter().find(|(_, o)| o.meets(b, 0.25));
            out.extend(over.map(|(o, _)| format!("page {}: {words:?} over {o:?}", k + 1)));
        }
    }
    out
}
