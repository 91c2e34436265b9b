//! Will it stand true upside down? The strongback, where every frame stands on it, and how
//! far out one may be before the skin shows it.
//!
//! [`strongback`] makes the ladder: rails, rungs, legs, braces and their cut list, heights
//! above the shop floor; [`checks`] gives the diagonals to tape; [`sensitivity`] springs a
//! batten past a frame that is out.
//!
//! Upside down a height z above the baseline is `datum − z` above the floor.

pub mod checks;
pub mod sensitivity;
pub mod strongback;

pub use checks::Diagonals;
pub use sensitivity::Sensitivity;
pub use strongback::{Corner, Cut, Stand, Strongback, level_line, strongback};
