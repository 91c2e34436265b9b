//! Will it stand true upside down? The strongback, where every frame stands on it, and how
//! far out one may be before the skin shows it.
//!
//! [`strongback`] makes the ladder: rails, rungs, legs, braces and their cut list, heights
//! above the shop floor; [`checks`] gives the diagonals to tape; [`sensitivity`] springs a
//! batten past a frame that is out; [`order`] says what is put up after what.
//!
//! Upside down a height z above the baseline is `datum − z` above the floor.

pub mod checks;
pub mod order;
pub mod sensitivity;
pub mod strongback;

pub use checks::Diagonals;
pub use order::{Item, Step, build_order};
pub use sensitivity::Sensitivity;
pub use strongback::{Corner, Cut, Stand, Strongback, level_line, strongback};

/// The first letter as a capital.
fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}
