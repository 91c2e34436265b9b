//! How each part lies on its sheet: in which order it is sawn out, which of a pair it becomes,
//! and which of its faces is up.

use super::{Laid, SheetKind, StockList};
use crate::part::{Copies, PanelId};
use crate::stock::joints::SheetFace;
use crate::stock::nest::{Keep, SheetLayout, cuts};

/// A side of the boat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// To the right, looking forward.
    Starboard,
    /// To the left.
    Port,
}

impl Side {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Side::Starboard => "starboard",
            Side::Port => "port",
        }
    }
}

/// How a part lies on its sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lying {
    /// Its number on the sheet, from 1: the order in which the parts are sawn out.
    pub number: usize,
    /// What it is.
    pub of: Laid,
    /// Which of a pair of panels it belongs to.
    pub side: Option<Side>,
    /// The face that is up, of a piece of a panel; either will do for the rest.
    pub face_up: Option<SheetFace>,
    /// It is the mirror image of its drawing.
    pub turned_over: bool,
}

impl StockList {
    /// How the parts of a sheet lie, in the order of [`SheetLayout::placed`]. A panel is drawn
    /// with its inner face up, to starboard where there are two.
    pub fn lying(&self, kind: &SheetKind, sheet: usize) -> Vec<Lying> {
        let Some(laid) = kind.layout.sheets.get(sheet) else {
            return Vec::new();
        };
        let numbers = order(kind, laid);
        laid.placed
            .iter()
            .zip(numbers)
            .map(|(p, number)| {
                let of = kind.of[p.part];
                let turned_over = p.attitude.mirrored;
                let side = match of {
                    Laid::Piece(panel, _) if self.copies(panel) == Copies::Mirrored => {
                        Some(side(kind, p.part, p.copy, turned_over))
                    }
                    _ => None,
                };
                let inside_up = turned_over == (side == Some(Side::Port));
                let face = if inside_up { SheetFace::Inside } else { SheetFace::Outside };
                let face_up = matches!(of, Laid::Piece(..)).then_some(face);
                Lying { number, of, side, face_up, turned_over }
            })
            .collect()
    }

    fn copies(&self, panel: PanelId) -> Copies {
        self.panels.iter().find(|p| p.panel == panel).map_or(Copies::One, |p| p.copies)
    }
}

/// The number of each part of a sheet: its place among the outlines in their order of sawing.
fn order(kind: &SheetKind, laid: &SheetLayout) -> Vec<usize> {
    let mut numbers = vec![0; laid.placed.len()];
    let sawn = cuts(&kind.problem, laid, Keep::default());
    for (k, index) in sawn.iter().filter_map(|c| c.part).enumerate() {
        numbers[index] = k + 1;
    }
    numbers
}

/// Which of a pair a copy becomes: the one that lies as drawn is the starboard one, with its
/// inner face up; of two that lie alike the first.
fn side(kind: &SheetKind, part: usize, copy: usize, turned_over: bool) -> Side {
    let all = kind.layout.sheets.iter().flat_map(|s| &s.placed).filter(|p| p.part == part);
    let twin = all.filter(|p| p.copy != copy).find(|p| p.attitude.mirrored == turned_over);
    let starboard = twin.map_or(!turned_over, |t| copy < t.copy);
    if starboard { Side::Starboard } else { Side::Port }
}
