//! A piece as the one who buys wood, weighs her and builds her knows it.

use super::PartId;
use crate::geom::{P2, P3};

/// How many of a piece are cut, and by which hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Copies {
    /// One, which lies in the centreplane or across it, or on one side only.
    One,
    /// One to starboard and its mirror image to port.
    Mirrored,
}

impl Copies {
    /// One that is whole, or a pair.
    pub fn of(whole: bool) -> Copies {
        if whole { Copies::One } else { Copies::Mirrored }
    }

    /// How many.
    pub fn count(self) -> usize {
        match self {
            Copies::One => 1,
            Copies::Mirrored => 2,
        }
    }
}

/// What a piece is cut from.
#[derive(Debug, Clone, PartialEq)]
pub enum CutFrom {
    /// A sheet of the table, as thick (mm) as it was measured.
    Sheet {
        /// Its row.
        sheet: String,
        /// mm.
        thickness: f64,
    },
    /// Plywood of no row: gussets, transoms, pads, boxes of foam.
    Ply {
        /// mm.
        thickness: f64,
    },
    /// Lumber.
    Lumber {
        /// Its row in the table of woods; empty for whatever lies about.
        species: String,
        /// Percent.
        moisture_pct: f64,
        /// Depth and width (moulded and sided; thickness and width of a board), mm.
        section: [f64; 2],
    },
    /// A block of foam.
    Foam {
        /// kg/m³.
        density: f64,
    },
    /// Nothing: it is put together from pieces that lie in it.
    Pieces,
}

/// How much of its stock a piece takes, off-cuts aside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// Area of all copies, mm².
    Area(f64),
    /// Length of one copy, mm.
    Length(f64),
    /// Volume of all copies, mm³.
    Volume(f64),
}

/// What a piece looks like before it is bent.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// The outline that it is cut by, in its own plane, mm, anticlockwise.
    Flat(Vec<P2>),
    /// A stick, a block, or a piece put together: no outline alone says what it is.
    Solid,
}

/// How a piece displaces water, as bodies of its own volume and height at its own place.
#[derive(Debug, Clone, PartialEq)]
pub enum Bulk {
    /// A board across the boat.
    Board {
        /// Its outline: (to starboard, up), mm.
        outline: Vec<P2>,
        /// Its middle, mm aft.
        x: f64,
        /// mm fore and aft.
        thick: f64,
        /// There is another to port.
        both: bool,
    },
    /// A block with its edges along the axes, between two corners.
    Block(P3, P3),
    /// A bent stick: rings of four corners, bow to stern, anticlockwise seen from astern.
    Bent {
        /// mm.
        rings: Vec<[P3; 4]>,
        /// There is another to port.
        both: bool,
    },
}

/// A piece of the boat or of her jig.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name among the pieces.
    pub id: PartId,
    /// What the builder calls it.
    pub name: String,
    /// How many are cut, and by which hand.
    pub copies: Copies,
    /// What it is cut from.
    pub cut_from: CutFrom,
    /// How much of that it takes.
    pub amount: Amount,
    /// What it looks like before it is bent.
    pub shape: Shape,
    /// Its centre, of the starboard one of a pair, mm: in the hull's axes; of a piece that
    /// stands on the shop floor with heights above that ([`PartId::stands_on_floor`]).
    pub centre: P3,
    /// How it displaces water; nothing for what lies over the skin (the planking is between
    /// the hull's own two meshes) and for the jig.
    pub bulk: Vec<Bulk>,
    /// All copies together, kg, as computed.
    pub mass: f64,
    /// What all copies displace, mm³.
    pub solid: f64,
    /// Where its density is from.
    pub source: String,
    /// The piece that it is put together and weighed with.
    pub within: Option<PartId>,
    /// In which step of the build order it is put up, from 0; `None` for what has no step.
    pub step: Option<usize>,
}

impl Part {
    /// The centre of all copies together, mm.
    pub fn middle(&self) -> P3 {
        match self.copies {
            Copies::One => self.centre,
            Copies::Mirrored => P3::new(self.centre.x, 0.0, self.centre.z),
        }
    }
}
