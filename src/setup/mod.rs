//! Will it stand true upside down? The strongback, where every frame stands on it, and how
//! far out one may be before the skin shows it.
//!
//! [`strongback`] makes the ladder and says how high everything stands above the shop floor;
//! [`ends`] stands up stem and transoms and [`supports`] what holds them; [`sticks`] has
//! every piece of the jig in its place and the list to cut; [`checks`] gives the diagonals to tape; [`sensitivity`] springs a
//! batten past a frame that is out; [`order`] says what is put up after what.
//!
//! Upside down a height z above the baseline is `datum − z` above the floor.

pub mod checks;
pub mod ends;
pub mod order;
pub mod sensitivity;
pub mod sticks;
pub mod strongback;
pub mod supports;

pub use checks::Diagonals;
pub use ends::{End, EndCorner, EndPlace, EndStand};
pub use order::steps;
pub use sensitivity::Sensitivity;
pub use sticks::{Cut, Stick};
pub use strongback::{Corner, Stand, Strongback, level_line, strongback};
pub use supports::{Crosspiece, EndPost, Support};
