//! Blocks put on pages.

use std::collections::{BTreeMap, BTreeSet};

use super::Book;
use super::block::Block;
use super::line::PageOf;
use super::page::{BOTTOM, FOOT, FOOT_UP, Ink, LEFT, Page, RIGHT, Shape, TOP, Tone, Tree};
use super::pieces::{Maker, Piece};
use crate::drawing::Drawing;
use crate::drawing::export::ExportError;
use crate::drawing::export::pdf::Laid as Sheet;
use crate::drawing::export::tiling::Pages;
use crate::drawing::face;

/// Numbers of pages that are named are true after so many settings at most: a longer number may
/// break a line, which may move a page once.
const SETTINGS: usize = 5;

/// Where a heading stands: its page (from 0) and how far down, mm.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Anchor {
    pub(super) level: u8,
    pub(super) words: String,
    pub(super) page: usize,
    pub(super) down: f64,
}

/// A book set: its structure and where its headings stand, by their names.
pub(super) struct Set {
    pub(super) tree: Tree,
    pub(super) anchors: Vec<(String, Anchor)>,
}

/// The drawings that take pages of their own, in order.
pub(super) fn sheets(book: &Book) -> Result<Vec<Sheet<'_>>, ExportError> {
    fn all<'a>(blocks: &'a [Block], out: &mut Vec<&'a Drawing>) {
        for b in blocks {
            match b {
                Block::Sheet(d) => out.push(d),
                Block::Together(inner) => all(inner, out),
                _ => {}
            }
        }
    }
    let mut drawings = Vec::new();
    all(&book.blocks, &mut drawings);
    drawings.into_iter().map(|d| Sheet::of(d, Pages::Sheets(book.page))).collect()
}

/// The pages of a book, as they are once every number that is named is true.
///
/// # Errors
/// A drawing that cannot be put on paper.
pub(super) fn pages(book: &Book, sheets: &[Sheet]) -> (Vec<Page>, Set) {
    let mut known = PageOf::new();
    let mut index: BTreeMap<String, BTreeSet<usize>> = BTreeMap::new();
    let mut last = None;
    for _ in 0..SETTINGS {
        let (pages, set) = once(book, sheets, &known, &index);
        let found = set.anchors.iter().map(|(name, a)| (name.clone(), a.page + 1)).collect();
        let spoken = spoken_of(book, &pages);
        let same = found == known && spoken == index;
        last = Some((pages, set));
        if same {
            break;
        }
        (known, index) = (found, spoken);
    }
    last.unwrap_or_else(|| (Vec::new(), Set { tree: Tree::default(), anchors: Vec::new() }))
}

/// The pages (from 1) that speak of each name of the index.
fn spoken_of(book: &Book, pages: &[Page]) -> BTreeMap<String, BTreeSet<usize>> {
    let mut out: BTreeMap<String, BTreeSet<usize>> = BTreeMap::new();
    for (k, page) in pages.iter().enumerate() {
        for name in &book.index {
            if page.said.iter().any(|s| speaks_of(s, name)) {
                out.entry(name.clone()).or_default().insert(k + 1);
            }
        }
    }
    out
}

/// Whether a phrase is about a piece: one of its parts, between semicolons and colons, is the
/// name or begins with it, whatever stands behind a comma.
fn speaks_of(phrase: &str, name: &str) -> bool {
    let lower = phrase.to_lowercase();
    let name = name.to_lowercase();
    lower.split([';', ':']).any(|part| {
        part.trim()
            .strip_prefix(name.as_str())
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(',') || rest.starts_with(" ("))
    })
}

fn once(
    book: &Book,
    sheets: &[Sheet],
    known: &PageOf,
    index: &BTreeMap<String, BTreeSet<usize>>,
) -> (Vec<Page>, Set) {
    let room = book.page.width - LEFT - RIGHT;
    let mut maker = Maker::new(book, known, index, room);
    for block in &book.blocks {
        maker.block(block);
    }
    let Maker { pieces, tree, .. } = maker;
    let mut placer = Placer { book, sheets, pages: Vec::new(), anchors: Vec::new(), y: 0.0 };
    let mut rest = pieces.as_slice();
    while !rest.is_empty() {
        let chain = 1 + rest.iter().take_while(|p| p.keep).count();
        let (now, later) = rest.split_at(chain.min(rest.len()));
        placer.chain(now);
        rest = later;
    }
    placer.feet();
    (placer.pages, Set { tree, anchors: placer.anchors })
}

/// Puts pieces on pages.
struct Placer<'a> {
    book: &'a Book,
    sheets: &'a [Sheet<'a>],
    pages: Vec<Page>,
    anchors: Vec<(String, Anchor)>,
    /// How far down the page is taken, mm.
    y: f64,
}

impl Placer<'_> {
    fn low(&self) -> f64 {
        self.book.page.height - BOTTOM
    }

    /// Pieces that stand together where a page holds them.
    fn chain(&mut self, chain: &[Piece]) {
        let high: f64 = chain.iter().map(|p| p.before + p.height).sum();
        let fits = self.y + high <= self.low() + 1e-9;
        let one_page = high - chain[0].before <= self.low() - TOP;
        if !fits && one_page {
            self.turn();
        }
        for p in chain {
            self.piece(p);
        }
    }

    fn piece(&mut self, p: &Piece) {
        if let Some(k) = p.sheet {
            return self.sheet(k, p);
        }
        let new = self.pages.last().is_none_or(|page| page.sheet.is_some());
        let over = self.y + p.before + p.height > self.low() + 1e-9 && self.y > TOP;
        if new || over || (p.turns && self.y > TOP) {
            self.turn();
            if let Some(head) = &p.head {
                self.put(&head.0, self.y, false);
                self.y += head.1;
            }
        } else if self.y > TOP {
            self.y += p.before;
        }
        let top = self.y;
        self.put(&p.inks, top, true);
        self.y += p.height;
        self.note(p, top);
    }

    /// Where a piece leads from, and what it speaks of.
    fn note(&mut self, p: &Piece, top: f64) {
        let at = self.pages.len().saturating_sub(1);
        if let Some((level, name, words)) = &p.heading {
            let anchor = Anchor { level: *level, words: words.clone(), page: at, down: top };
            self.anchors.push((name.clone(), anchor));
        }
        if let Some(page) = self.pages.last_mut() {
            page.said.extend(p.said.iter().cloned());
            if let Some((1, _, words)) = &p.heading {
                page.chapter.clone_from(words);
                page.begins = true;
            }
        }
    }

    fn put(&mut self, inks: &[Ink], top: f64, first: bool) {
        if let Some(page) = self.pages.last_mut() {
            page.inks.extend(inks.iter().map(|i| Ink {
                at: (i.at.0 + LEFT, i.at.1 + top),
                number: i.number.filter(|_| first),
                ..i.clone()
            }));
        }
    }

    fn turn(&mut self) {
        let chapter = self.pages.last().map_or(String::new(), |p| p.chapter.clone());
        self.pages.push(Page { chapter, ..Page::blank(self.book.page) });
        self.y = TOP;
    }

    /// The pages of a drawing.
    fn sheet(&mut self, k: usize, p: &Piece) {
        let chapter = self.pages.last().map_or(String::new(), |p| p.chapter.clone());
        for (part, size) in self.sheets[k].sizes().into_iter().enumerate() {
            let sheet = Some((k, part));
            // What is painted of it is one thing for who hears it read.
            let inks = if part == 0 { p.inks.clone() } else { Vec::new() };
            let page = Page { sheet, chapter: chapter.clone(), inks, ..Page::blank(size) };
            self.pages.push(page);
            if part == 0 {
                self.note(p, TOP);
            }
        }
        self.y = self.low();
    }

    /// The foot of every page but the first and those of drawings, which have their own.
    fn feet(&mut self) {
        for (k, page) in self.pages.iter_mut().enumerate().skip(1) {
            if page.sheet.is_some() {
                continue;
            }
            let y = page.size.height - FOOT_UP;
            let words = |text: String, x: f64, bold: bool| {
                let tone = Tone::Soft;
                Ink::mute((x, y), Shape::Words { text, height: FOOT, bold, tone })
            };
            let number = (k + 1).to_string();
            let right = page.size.width - RIGHT;
            let wide = |t: &str, bold: bool| face::width(t, FOOT, bold);
            let of = match page.chapter.as_str() {
                "" => self.book.title.clone(),
                chapter => format!("{} · {chapter}", self.book.title),
            };
            let mark = self.book.mark.clone();
            let at = right - wide(&number, true);
            let mark_at = at - 6.0 - wide(&mark, false);
            page.inks.push(words(number, at, true));
            if LEFT + wide(&of, false) + 4.0 < mark_at {
                page.inks.push(words(mark, mark_at, false));
            }
            page.inks.push(words(of, LEFT, false));
        }
    }
}
