//! The developable surface between two neighbouring lines.
//!
//! A panel of plywood bends along straight lines only, its rulings. Through the lower line
//! A(u) and the upper line B(v) a ruling from u to v lies in a developable surface where
//! the planes through it and the two tangents agree. [`pair`] measures how far they do
//! not (the warp), [`matching`] finds the whole run of rulings from bow to stern at once,
//! [`refine`] brings each ruling to zero warp, [`surface`] makes the panel of them, and
//! [`quality`] says what a sheet would have to put up with.
//!
//! Promised: rulings never run backwards. Not promised: that the warp is zero; where no
//! developable surface exists the least twisted one is returned and its warp tells.
//!
//! Sources: Frey, "Boundary triangulations approximating developable surfaces that
//! interpolate a closed space curve" (2002); Wang and Tang, "Optimal boundary
//! triangulations of an interpolating ruled surface", JCISE 5 (2005); Rose, Sheffer,
//! Wither, Cani and Thibert, "Developable surfaces from arbitrary sketched boundaries"
//! (SGP 2007).

pub mod deduct;
pub mod ends;
pub mod hull_mesh;
pub mod matching;
pub mod pair;
pub mod quality;
pub mod refine;
pub mod section;
pub mod surface;

pub use deduct::{Moved, deduct};
pub use ends::{Ends, choose_ends};
pub use matching::{Matching, match_lines};
pub use pair::{EndEdge, Pair};
pub use quality::{Quality, edge_stretch};
pub use section::section;
pub use surface::{EdgeKind, Ruling, Surface};
