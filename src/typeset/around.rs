//! What stands around the chapters: the cover, the contents, the index.

use std::collections::BTreeSet;

use super::block::{Block, Figure};
use super::line::broken;
use super::page::{BOTTOM, Ink, Kind, Shape, TOP, Tone};
use super::pieces::{BODY, INDENT, LEAD, Maker, Piece, RISE};
use super::table::Table;
use super::text::{Span, Text};
use crate::drawing::face;

/// Height of capitals of the cover's title, mm.
const TITLE: f64 = 9.0;

impl Maker<'_> {
    pub(super) fn cover(
        &mut self,
        title: &str,
        under: &[Text],
        picture: Option<&Figure>,
        foot: &[Text],
    ) {
        let begun = self.pieces.len();
        self.pieces.push(Piece { turns: true, ..Piece::of(0.0, 30.0, Vec::new()) });
        let node = self.tree.node(Kind::Paragraph, None);
        self.set(&Text::bold(title), TITLE, 0.0, node, 0.0);
        self.pieces.push(Piece::of(0.0, 4.0, Vec::new()));
        for t in under {
            self.paragraph(t, 1.25 * BODY);
        }
        let used = |all: &[Piece]| all.iter().map(|p| p.before + p.height).sum::<f64>();
        let before = used(&self.pieces[begun..]);
        // The foot is made apart to know what it leaves to the picture.
        let mark = self.pieces.len();
        for t in foot {
            self.paragraph(t, BODY);
        }
        let feet = self.pieces.split_off(mark);
        let low = self.book.page.height - TOP - BOTTOM;
        let left = low - before - used(&feet);
        let mark = self.pieces.len();
        if let Some(f) = picture {
            self.figure(f, Some((left - 24.0).clamp(20.0, f.height)));
        }
        let taken = used(&self.pieces[mark..]);
        self.pieces.push(Piece::of(0.0, (left - taken - 1.0).max(0.0), Vec::new()));
        self.pieces.extend(feet);
    }

    pub(super) fn contents(&mut self) {
        let node = self.tree.node(Kind::Contents, None);
        let headings = headings(&self.book.blocks);
        for (level, words, name) in headings.into_iter().filter(|h| h.0 <= 2) {
            let item = self.tree.node(Kind::ContentsItem, Some(node));
            let indent = if level == 1 { 0.0 } else { INDENT };
            let height = if level == 1 { BODY } else { 0.93 * BODY };
            let number = self.known.get(&name).map_or("00".to_string(), usize::to_string);
            let wide = face::width(&number, height, level == 1);
            let of = Span { words, bold: level == 1, to: Some(name.clone()), paged: false };
            let lines =
                broken(&Text(vec![of]), height, self.room - indent - wide - 8.0, self.known);
            let mut inks = Vec::new();
            let mut y = RISE * height;
            let mut end = indent;
            for line in &lines {
                self.runs(line, (indent, y), (height, Tone::Ink), item, &mut inks);
                end = indent + line.last().map_or(0.0, |r| r.x + r.width);
                y += LEAD * height;
            }
            let last = y - LEAD * height;
            let at = self.room - wide;
            let dots = Shape::Line { by: (at - end - 4.0, 0.0), width: 0.25, dotted: true };
            inks.push(Ink::mute((end + 2.0, last), dots));
            let shape = Shape::Words { text: number, height, bold: level == 1, tone: Tone::Ink };
            let ink = self.ink((at, last), shape, item);
            inks.push(ink);
            let before = if level == 1 { 1.6 } else { 0.0 };
            let high = lines.len() as f64 * LEAD * height;
            let piece = Piece { keep: level == 1, ..Piece::of(before, high, inks) };
            self.pieces.push(piece);
        }
        // What follows need not stand beside the last chapter.
        if let Some(last) = self.pieces.last_mut() {
            last.keep = false;
        }
    }

    pub(super) fn index(&mut self) {
        let mut table = Table::of(&["piece", "pages"]);
        for name in &self.book.index {
            if let Some(pages) = self.index.get(name) {
                table.row([name.clone(), spans(pages)]);
            }
        }
        let begun = self.pieces.len();
        self.table(&table);
        self.pieces[begun..].iter_mut().for_each(|p| p.said.clear());
    }
}

/// Pages in words: runs of them from first to last.
fn spans(pages: &BTreeSet<usize>) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for p in pages {
        match runs.last_mut() {
            Some((_, end)) if *end + 1 == *p => *end = *p,
            _ => runs.push((*p, *p)),
        }
    }
    let words = runs.into_iter().map(|(a, b)| match b - a {
        0 => a.to_string(),
        _ => format!("{a} to {b}"),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// All headings, in order: level, words, name.
pub(super) fn headings(blocks: &[Block]) -> Vec<(u8, String, String)> {
    let mut out = Vec::new();
    for b in blocks {
        match b {
            Block::Heading { level, words, name } => {
                out.push((*level, words.clone(), name.clone()));
            }
            Block::Together(all) => out.extend(headings(all)),
            _ => {}
        }
    }
    out
}
