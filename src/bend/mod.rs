//! Will the wood take its bend? Curvature to strain to advice, for members and sheets.
//!
//! [`darboux`] splits a line's bending into what bends a member's moulded depth, its sided
//! width, and what twists it; [`strain`] turns these into the strain of the worst fibre;
//! [`limit`] says what a stick of that species, stock, size and moisture bears, [`member`]
//! compares the two; [`advice`] is the ladder from dry to laminated, with numbers on every
//! rung ([`pull`] the force it takes, [`heat`] what soaking and steaming change); [`sheet`]
//! does the same for plywood, and [`stick`] lets a builder test their own stick. [`lie`] says
//! where a stick's section lies, for all who cut, weigh, float or draw it, `edges` how long its
//! edges are there.

pub mod advice;
pub mod darboux;
mod edges;
mod glued;
pub mod heat;
pub mod ladder;
pub mod lie;
pub mod limit;
pub mod member;
pub mod pull;
pub mod sheet;
pub mod stick;
pub mod strain;

pub use advice::{Advice, Figure, How, Method, Quantity, Rung};
pub use lie::Lie;
pub use limit::Limit;
pub use member::{Along, BentMember, Governs};
pub use sheet::{SheetBend, SheetOption, SheetWay};
