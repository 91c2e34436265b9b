//! Layout cards: one page a part, with the figures to plot it at full size by tape, square
//! and batten.
//!
//! [`cards`] makes them from a model, [`page`] sets one on paper, [`csv`] writes its figures
//! for other programs.

pub mod csv;
mod ends;
mod frame;
mod labels;
pub mod page;
mod panel;
mod picture;

use super::Line;
use crate::flat::ordinates::{ALLOWED_MM, Edge, Mark, Mirror, Plotted};
use crate::geom::polyline::length2;
use crate::geom::{P2, V2};
use crate::model::stock::Counted;
use crate::part::PanelId;
use crate::units::Units;

/// How bevels are said on a card.
const BEVELS: &str = "Saw square to the line, just outside it; then plane the bevel (degrees, and its run over the thickness) off the face that is named: \"this\" is the face drawn, \"far\" the other.";

/// Figures of one part: places that are plotted besides its outline.
#[derive(Debug, Clone, PartialEq)]
pub struct List {
    /// What they are.
    pub head: String,
    /// Name of each place, and the place.
    pub rows: Vec<(String, Mark)>,
}

/// A length to tape on the plotted part before it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// From which corner to which, and along what: "A to C", "A to B, chine".
    pub name: String,
    /// mm.
    pub length: f64,
}

/// One part of a card.
#[derive(Debug, Clone, PartialEq)]
pub struct CardPart {
    /// What the builder calls it.
    pub name: String,
    /// On its base line, with its marks.
    pub plotted: Plotted,
    /// The letter of each corner.
    pub letters: Vec<String>,
    /// The name of each edge; empty where its letters are enough.
    pub edge_names: Vec<String>,
    /// Short sentences beside the picture.
    pub words: Vec<String>,
    /// Stations and the like.
    pub lists: Vec<List>,
    /// Lengths to tape.
    pub checks: Vec<Check>,
    /// Lines of the pattern that the picture shows too, mm on the pattern.
    pub lines: Vec<(Line, Vec<P2>)>,
    /// Names in the picture: stations and the like, each beside its place on the pattern (mm).
    pub named: Vec<(String, P2)>,
    /// Fastenings, mm on the pattern.
    pub crosses: Vec<P2>,
    /// Those of the far face, where one like it lies there, mm on the pattern.
    pub rings: Vec<P2>,
    /// Ways to show with an arrow: (word, direction on the pattern).
    pub ways: Vec<(&'static str, V2)>,
    /// Its bevelled edges: what each lies along, and the bevels along it, radians and run in
    /// mm, positive where wood comes off the far face.
    pub bevels: Vec<(String, Vec<(f64, f64)>)>,
    /// The picture stands with its base line upright.
    pub upright: bool,
}

/// The layout card of a panel, a frame or an end.
#[derive(Debug, Clone, PartialEq)]
pub struct Card {
    /// Name of its files.
    pub file: String,
    /// Heading.
    pub title: String,
    /// The line under it.
    pub subtitle: String,
    /// Its parts.
    pub parts: Vec<CardPart>,
    /// Sentences for the whole page.
    pub notes: Vec<String>,
}

/// Parts that one page shows at a size to read at the bench.
const MOST_PARTS: usize = 4;

impl Card {
    /// The card, or several of as many parts as a page shows.
    fn on_pages(self) -> Vec<Card> {
        let several = self.parts.len() > MOST_PARTS;
        self.parts
            .chunks(MOST_PARTS)
            .enumerate()
            .map(|(k, some)| Card {
                file: if k == 0 { self.file.clone() } else { format!("{}-{}", self.file, k + 1) },
                title: if several {
                    format!("{}, card {}", self.title, k + 1)
                } else {
                    self.title.clone()
                },
                subtitle: self.subtitle.clone(),
                parts: some.to_vec(),
                notes: self.notes.clone(),
            })
            .collect()
    }
}

/// Every card of the boat. Panels are those of the boat as she stands, once measured.
pub fn cards<'a>(boat: impl Into<Counted<'a>>, units: Units) -> Vec<Card> {
    let boat = boat.into();
    let model = boat.model;
    let stands = model.stands();
    let work = &model.woodwork;
    let mut out: Vec<Card> = stands
        .panels
        .iter()
        .enumerate()
        .filter(|(_, p)| p.unsound().is_none())
        .filter_map(|(i, p)| panel_card(stands, p, boat.joints(PanelId(i)), units))
        .collect();
    for f in &work.frames {
        out.extend(frame_cards(model, f, units));
    }
    for t in [&work.transom, &work.bow_transom].into_iter().flatten() {
        out.extend(transom_cards(model, t, units));
    }
    for s in [&work.stem, &work.sternpost].into_iter().flatten() {
        out.extend(stem_card(model, s, units));
    }
    out
}

pub use ends::{stem_card, transom_cards};
pub use frame::frame_cards;
pub use panel::panel_card;

/// The letter of corner `i`: A to Z, then AA …
pub(super) fn letter(i: usize) -> String {
    let one = |k: usize| char::from(b'A' + (k % 26) as u8);
    if i < 26 { one(i).to_string() } else { format!("{}{}", one(i / 26 - 1), one(i)) }
}

impl CardPart {
    /// A part whose corners are lettered in order round it, with nothing else on it yet.
    fn new(name: impl Into<String>, plotted: Plotted) -> CardPart {
        CardPart {
            name: name.into(),
            letters: (0..plotted.corners.len()).map(letter).collect(),
            edge_names: vec![String::new(); plotted.edges.len()],
            plotted,
            words: Vec::new(),
            lists: Vec::new(),
            checks: Vec::new(),
            lines: Vec::new(),
            named: Vec::new(),
            crosses: Vec::new(),
            rings: Vec::new(),
            ways: Vec::new(),
            bevels: Vec::new(),
            upright: false,
        }
    }

    /// "A to B", with its name where it has one.
    fn edge_words(&self, i: usize) -> String {
        let e = &self.plotted.edges[i];
        let name = &self.edge_names[i];
        let comma = if name.is_empty() { "" } else { ", " };
        format!("{} to {}{comma}{name}", self.letters[e.from], self.letters[e.to])
    }

    /// A length between two corners to tape; nothing where they are one.
    fn check_across(&mut self, a: usize, b: usize) {
        let d = self.plotted.corners[b].exact - self.plotted.corners[a].exact;
        if a != b {
            let name = format!("{} to {}", self.letters[a], self.letters[b]);
            self.checks.push(Check { name, length: d.norm() });
        }
    }

    /// The two diagonals of a part by its outermost corners.
    fn check_diagonals(&mut self) {
        let corner = |x: f64, y: f64| self.plotted.corner_towards(V2::new(x, y));
        let pairs =
            [(corner(-1.0, -1.0), corner(1.0, 1.0)), (corner(-1.0, 1.0), corner(1.0, -1.0))];
        for (a, b) in pairs {
            if let (Some(a), Some(b)) = (a, b) {
                self.check_across(a, b);
            }
        }
    }

    /// Every curved edge's length.
    fn check_curved_edges(&mut self) {
        let curved = |e: &Edge| e.round.is_none() && !e.marks.is_empty();
        for i in 0..self.plotted.edges.len() {
            if curved(&self.plotted.edges[i]) {
                let length = length2(&self.plotted.edges[i].points);
                self.checks.push(Check { name: self.edge_words(i), length });
            }
        }
    }

    /// What the batten does: where it strays too far, and how far.
    fn batten_words(&self, units: Units) -> Vec<String> {
        let mut out = Vec::new();
        for (i, e) in self.plotted.edges.iter().enumerate() {
            if e.error > ALLOWED_MM {
                out.push(format!(
                    "{}: a batten through these figures strays {} from the true edge; use the full-size pattern there",
                    self.edge_words(i),
                    units.fine(e.error)
                ));
            }
        }
        out
    }

    /// What the base line is, in words.
    fn base_words(&self) -> &'static str {
        match (self.plotted.mirror, self.plotted.on_edge) {
            (Mirror::Base, _) => {
                "base line: strike the centreline; plot every figure on both sides of it"
            }
            (Mirror::Zero, _) => {
                "base line: the board's straight edge; 0 is the centreline, plot every figure both ways"
            }
            (Mirror::None, true) => "base line: the board's (or a sawn) straight edge",
            (Mirror::None, false) => {
                "base line: the sheet's own straight edge, or a line struck on it"
            }
        }
    }
}
