//! Blocks broken into pieces: what is never parted over two pages, a line, a row, a figure.

use std::collections::{BTreeMap, BTreeSet};

use super::Book;
use super::block::{Block, Check, Figure};
use super::figure::{CLEAR, fitted};
use super::line::{PageOf, Run, broken};
use super::page::{Child, Ink, Kind, Shape, Tone, Tree};
use super::table::{APART, Align, CELL, CELL_LEAD, CELL_ROOM, Laid, Table, depth};
use super::text::Text;
use crate::drawing::face;

/// Heights of capitals, mm: running words are type of nine and a half points.
pub(super) const BODY: f64 = 2.25;
const SMALL: f64 = 1.8;
const HEADINGS: [f64; 3] = [4.6, 3.1, 2.5];
/// From baseline to baseline over the height of capitals, and between paragraphs, mm.
pub(super) const LEAD: f64 = 1.85;
const BETWEEN: f64 = 2.6;
/// How far items and what stands under a box are moved in, mm.
pub(super) const INDENT: f64 = 6.0;
/// A box to tick, mm.
const TICK: f64 = 3.4;
/// Lines to write on are so far apart, mm.
const WRITING: f64 = 9.0;
/// How far a paragraph's baseline stands under the piece's top, over its height of capitals.
pub(super) const RISE: f64 = 1.25;
/// How many lines of a paragraph stay together at either end.
const TWO: usize = 2;

/// What is never parted over two pages.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    /// Room above, unless it stands at the top of a page, mm.
    pub(super) before: f64,
    /// mm.
    pub(super) height: f64,
    /// From its upper left corner, mm right and down.
    pub(super) inks: Vec<Ink>,
    /// The next piece stands on the same page.
    pub(super) keep: bool,
    /// It begins a page.
    pub(super) turns: bool,
    /// What is said again above it where it begins a page: a table's heads, and their height.
    pub(super) head: Option<(Vec<Ink>, f64)>,
    /// Level, name and words of the heading that it is.
    pub(super) heading: Option<(u8, String, String)>,
    /// What it speaks of, for the index.
    pub(super) said: Vec<String>,
    /// The drawing of that number, which takes pages of its own.
    pub(super) sheet: Option<usize>,
}

impl Piece {
    pub(super) fn of(before: f64, height: f64, inks: Vec<Ink>) -> Piece {
        Piece {
            before,
            height,
            inks,
            keep: false,
            turns: false,
            head: None,
            heading: None,
            said: Vec::new(),
            sheet: None,
        }
    }
}

/// Makes pieces of blocks, and the structure that they are read aloud by.
pub(super) struct Maker<'a> {
    pub(super) book: &'a Book,
    pub(super) known: &'a PageOf,
    pub(super) index: &'a BTreeMap<String, BTreeSet<usize>>,
    pub(super) room: f64,
    inks: usize,
    sheets: usize,
    pub(super) tree: Tree,
    pub(super) pieces: Vec<Piece>,
}

impl<'a> Maker<'a> {
    pub(super) fn new(
        book: &'a Book,
        known: &'a PageOf,
        index: &'a BTreeMap<String, BTreeSet<usize>>,
        room: f64,
    ) -> Maker<'a> {
        let (tree, pieces) = (Tree::default(), Vec::new());
        Maker { book, known, index, room, inks: 0, sheets: 0, tree, pieces }
    }

    pub(super) fn block(&mut self, block: &Block) {
        match block {
            Block::Cover { title, under, picture, foot } => {
                self.cover(title, under, picture.as_ref(), foot);
            }
            Block::Contents => self.contents(),
            Block::Heading { level, words, name } => self.heading(*level, words, name),
            Block::Paragraph(t) => self.paragraph(t, BODY),
            Block::Small(t) => self.paragraph(t, SMALL),
            Block::List(items) => self.list(items),
            Block::Caution(t) => self.caution(t),
            Block::Check(c) => self.check(c),
            Block::Table(t) => self.table(t),
            Block::Figure(f) => self.figure(f, None),
            Block::Sheet(d) => self.sheet(&d.title, &d.subtitle),
            Block::Together(all) => {
                let begun = self.pieces.len();
                for b in all {
                    self.block(b);
                }
                let end = self.pieces.len().saturating_sub(1);
                self.pieces[begun.min(end)..end].iter_mut().for_each(|p| p.keep = true);
            }
            Block::Lines(n) => self.lines_to_write(*n),
            Block::Index => self.index(),
        }
    }

    /// Words painted in a node.
    pub(super) fn ink(&mut self, at: (f64, f64), shape: Shape, node: usize) -> Ink {
        let number = self.inks;
        self.inks += 1;
        self.tree.nodes[node].1.push(Child::Ink(number));
        Ink { at, shape, number: Some(number), link: None }
    }

    /// A line of words in a node, from `x` on, its baseline at `y`; what leads somewhere is a
    /// node of its own.
    pub(super) fn runs(
        &mut self,
        runs: &[Run],
        (x, y): (f64, f64),
        (height, tone): (f64, Tone),
        node: usize,
        out: &mut Vec<Ink>,
    ) {
        for run in runs {
            let shape = Shape::Words { text: run.text.clone(), height, bold: run.bold, tone };
            let at = (x + run.x, y);
            let ink = match &run.to {
                Some(to) if self.known.is_empty() || self.known.contains_key(to) => {
                    let link = self.tree.node(Kind::Link, Some(node));
                    Ink { link: Some((to.clone(), link)), ..self.ink(at, shape, link) }
                }
                _ => self.ink(at, shape, node),
            };
            out.push(ink);
        }
    }

    /// A paragraph in a node: a piece for each line.
    pub(super) fn set(&mut self, text: &Text, height: f64, indent: f64, node: usize, between: f64) {
        let lines = broken(text, height, self.room - indent, self.known);
        let count = lines.len();
        for (k, line) in lines.iter().enumerate() {
            let mut inks = Vec::new();
            let tone = if height < BODY { Tone::Soft } else { Tone::Ink };
            self.runs(line, (indent, RISE * height), (height, tone), node, &mut inks);
            let before = if k == 0 { between } else { 0.0 };
            let mut piece = Piece::of(before, LEAD * height, inks);
            // No line of a paragraph stands alone.
            piece.keep = k + 1 < count && (k + 1 < TWO || k + TWO >= count);
            self.pieces.push(piece);
        }
    }

    pub(super) fn paragraph(&mut self, text: &Text, height: f64) {
        let node = self.tree.node(Kind::Paragraph, None);
        let between = if height < BODY { 0.6 * BETWEEN } else { BETWEEN };
        self.set(text, height, 0.0, node, between);
    }

    fn heading(&mut self, level: u8, words: &str, name: &str) {
        let height = HEADINGS[usize::from(level.clamp(1, 3)) - 1];
        let node = self.tree.node(Kind::Heading { level, words: words.into() }, None);
        let begun = self.pieces.len();
        let before = if level == 1 { 0.0 } else { 2.4 * height };
        self.set(&Text::bold(words), height, 0.0, node, before);
        let Some(first) = self.pieces.get_mut(begun) else {
            return;
        };
        first.turns = level == 1;
        first.heading = Some((level, name.into(), words.into()));
        first.said.push(words.into());
        let room = if level == 1 { 1.5 * height } else { 0.3 * height };
        self.pieces[begun..].iter_mut().for_each(|p| p.keep = true);
        // Something follows it on the same page: a heading's last piece keeps its room.
        if let Some(last) = self.pieces.last_mut() {
            last.height += room;
        }
    }

    fn list(&mut self, items: &[Text]) {
        let list = self.tree.node(Kind::List, None);
        for item in items {
            let node = self.tree.node(Kind::Item, Some(list));
            let label = self.tree.node(Kind::Label, Some(node));
            let body = self.tree.node(Kind::Body, Some(node));
            let begun = self.pieces.len();
            self.set(item, BODY, INDENT, body, 0.5 * BETWEEN);
            let dot =
                Shape::Words { text: "•".into(), height: BODY, bold: false, tone: Tone::Ink };
            let dot = self.ink((INDENT - 3.4, RISE * BODY), dot, label);
            if let Some(first) = self.pieces.get_mut(begun) {
                first.inks.insert(0, dot);
            }
        }
    }

    /// Its lines stay on one page, ruled at the left from top to end.
    fn caution(&mut self, text: &Text) {
        let node = self.tree.node(Kind::Paragraph, None);
        let begun = self.pieces.len();
        self.set(text, BODY, INDENT, node, BETWEEN);
        let end = self.pieces.len().saturating_sub(1);
        for (k, p) in self.pieces[begun..].iter_mut().enumerate() {
            p.keep = begun + k < end;
            let by = (0.0, p.height);
            p.inks.push(Ink::mute((2.2, 0.0), Shape::Line { by, width: 0.9, dotted: false }));
        }
    }

    fn check(&mut self, c: &Check) {
        let list = self.tree.node(Kind::List, None);
        let node = self.tree.node(Kind::Item, Some(list));
        let body = self.tree.node(Kind::Body, Some(node));
        let begun = self.pieces.len();
        let beside = face::width(&c.beside, BODY, false);
        let whole = self.room;
        self.room -= if c.beside.is_empty() { 0.0 } else { beside + APART };
        let first = self.tree.node(Kind::Paragraph, Some(body));
        self.set(&c.title, BODY, INDENT, first, 1.4 * BETWEEN);
        self.room = whole;
        if let Some(at) = self.pieces.get(begun).map(|_| begun) {
            let square = Ink::mute((0.0, RISE * BODY - TICK + 0.5), Shape::Square { side: TICK });
            self.pieces[at].inks.push(square);
            if !c.beside.is_empty() {
                let shape = Shape::Words {
                    text: c.beside.clone(),
                    height: BODY,
                    bold: false,
                    tone: Tone::Ink,
                };
                let ink = self.ink((whole - beside, RISE * BODY), shape, first);
                self.pieces[at].inks.push(ink);
            }
            self.pieces[at].said.push(c.title.plain());
        }
        if !c.body.is_empty() {
            self.pieces[begun..].iter_mut().for_each(|p| p.keep = true);
        }
        for text in &c.body {
            let node = self.tree.node(Kind::Paragraph, Some(body));
            self.set(text, BODY, INDENT, node, 0.3 * BETWEEN);
        }
    }

    pub(super) fn table(&mut self, table: &Table) {
        let laid = Laid::of(table, self.room, self.known);
        let node = self.tree.node(Kind::Table, None);
        let row = self.tree.node(Kind::Row, Some(node));
        let mut head = Vec::new();
        for (k, lines) in laid.head.iter().enumerate() {
            let cell = self.tree.node(Kind::Head, Some(row));
            self.cell(lines, laid.columns[k], table.columns[k].align, cell, &mut head);
        }
        let high = depth(&laid.head) as f64 * CELL_LEAD + 2.0 * CELL_ROOM;
        let wide = laid.columns.last().map_or(self.room, |(x, w)| x + w);
        let under = Shape::Line { by: (wide, 0.0), width: 0.3, dotted: false };
        head.push(Ink::mute((0.0, high), under));
        let first = Piece { keep: true, ..Piece::of(BETWEEN, high + 0.4, head.clone()) };
        self.pieces.push(first);
        let count = table.rows.len();
        for (k, (row, lines)) in table.rows.iter().zip(&laid.rows).enumerate() {
            let mut inks = Vec::new();
            let of_row = self.tree.node(Kind::Row, Some(node));
            for (c, cell_lines) in lines.iter().enumerate() {
                let cell = self.tree.node(Kind::Cell, Some(of_row));
                let column = if row.over { (0.0, self.room) } else { laid.columns[c] };
                let align = if row.over { Align::Left } else { table.columns[c].align };
                self.cell(cell_lines, column, align, cell, &mut inks);
            }
            let high = depth(lines) as f64 * CELL_LEAD + 2.0 * CELL_ROOM;
            let rule = Shape::Line { by: (wide, 0.0), width: 0.08, dotted: false };
            inks.push(Ink::mute((0.0, high), rule));
            let mut piece = Piece::of(0.0, high, inks);
            piece.head = Some((head.clone(), high_of(&head)));
            // The last row does not stand alone on a page, nor a row over others at its foot.
            piece.keep = row.over && k + 1 < count || k + 2 == count;
            piece.said = row.cells.iter().map(Text::plain).collect();
            self.pieces.push(piece);
        }
    }

    fn cell(
        &mut self,
        lines: &[Vec<Run>],
        (x, w): (f64, f64),
        align: Align,
        node: usize,
        out: &mut Vec<Ink>,
    ) {
        for (k, line) in lines.iter().enumerate() {
            let wide = line.last().map_or(0.0, |r| r.x + r.width);
            let left = if align == Align::Right { x + w - wide } else { x };
            let y = CELL_ROOM + 1.3 * CELL + k as f64 * CELL_LEAD;
            self.runs(line, (left, y), (CELL, Tone::Ink), node, out);
        }
    }

    pub(super) fn figure(&mut self, f: &Figure, height: Option<f64>) {
        let wanted = Figure { height: height.unwrap_or(f.height), ..f.clone() };
        let Some((scale, (w, h))) = fitted(&wanted, self.room) else {
            return;
        };
        let node = self.tree.node(Kind::Figure { seen: f.seen.clone() }, None);
        let shape = Shape::Drawing { drawing: Box::new(f.drawing.clone()), scale };
        let at = (0.5 * (self.room - w), 0.0);
        let ink = self.ink(at, shape, node);
        let piece = Piece { keep: true, ..Piece::of(BETWEEN + CLEAR, h + CLEAR, vec![ink]) };
        self.pieces.push(piece);
        let under = self.tree.node(Kind::Caption, Some(node));
        let begun = self.pieces.len();
        self.set(&f.caption, SMALL, 0.0, under, 0.0);
        match self.pieces.len() > begun {
            true => {
                let end = self.pieces.len() - 1;
                self.pieces[begun..end].iter_mut().for_each(|p| p.keep = true);
            }
            false => {
                if let Some(p) = self.pieces.last_mut() {
                    p.keep = false;
                }
            }
        }
    }

    fn sheet(&mut self, title: &str, subtitle: &str) {
        let seen = format!("Drawing: {title}. {subtitle}");
        let node = self.tree.node(Kind::Figure { seen }, None);
        let shape = Shape::Line { by: (0.0, 0.0), width: 0.0, dotted: false };
        let ink = self.ink((0.0, 0.0), shape, node);
        let mut piece = Piece::of(0.0, 0.0, vec![ink]);
        piece.sheet = Some(self.sheets);
        piece.said.push(title.into());
        self.sheets += 1;
        self.pieces.push(piece);
    }

    fn lines_to_write(&mut self, n: usize) {
        for _ in 0..n {
            let by = (self.room, 0.0);
            let rule = Ink::mute((0.0, WRITING), Shape::Line { by, width: 0.12, dotted: false });
            self.pieces.push(Piece::of(0.0, WRITING, vec![rule]));
        }
    }
}

/// Height of a table's heads that are said again.
fn high_of(head: &[Ink]) -> f64 {
    let rules = head.iter().filter(|i| matches!(i.shape, Shape::Line { .. }));
    rules.map(|i| i.at.1).fold(0.0, f64::max) + 0.4
}
